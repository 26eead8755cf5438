//! All data files together: loaded, checked against each other, and put into walking order.

use std::collections::{BTreeMap, BTreeSet};

use inspection::DwellingKind;

use crate::read::{
    PlanFile, Words, read_equipment, read_picture, read_plan, read_point, read_sources, read_stops,
    read_words,
};
use crate::texts::each;
use crate::{Files, Named, Phrases, Picture, Plan, Point, Problem, check, order};

/// The language of the data files.
const ENGLISH: &str = "en";

/// Everything the data files say.
#[derive(Debug)]
pub struct Library {
    plans: Vec<PlanFile>,
    points: BTreeMap<String, Point>,
    pictures: Vec<Picture>,
    words: Words,
    files: Files,
}

/// Loads data files.
///
/// # Errors
/// Every problem of every file, in the order of files, lines and columns.
pub fn load(files: &Files) -> Result<Library, Vec<Problem>> {
    let mut problems = Vec::new();
    let (equipment, typical) = read_equipment(files, &mut problems);
    let words = Words {
        stops: read_stops(files, &mut problems),
        equipment,
        typical,
        site_states: read_words(files, "site_states.toml", "site_state", &mut problems),
        sources: read_sources(files, &mut problems),
    };
    let mut placed = Vec::new();
    let mut plans = Vec::new();
    let mut pictures = Vec::new();
    for (path, text) in files.iter() {
        if path.starts_with("points/") {
            placed.extend(read_point(path, text, &words, &mut problems));
        } else if path.starts_with("plans/") {
            plans.extend(read_plan(path, text, &mut problems));
        } else if path.starts_with("pictures/") {
            pictures.extend(read_picture(path, text, &mut problems));
        }
    }
    check::whole(&placed, &plans, &pictures, &mut problems);
    if problems.is_empty() {
        let points = placed.into_iter().map(|placed| (placed.point.id.clone(), placed.point));
        let pictures = pictures.into_iter().map(|placed| placed.picture).collect();
        Ok(Library { plans, points: points.collect(), pictures, words, files: files.clone() })
    } else {
        problems.sort();
        problems.dedup();
        Err(problems)
    }
}

impl Library {
    /// Ids and titles of the plans.
    pub fn plans(&self) -> impl Iterator<Item = (&str, &str)> {
        self.plans.iter().map(|plan| (plan.id.as_str(), plan.title.as_str()))
    }

    /// All points by id.
    pub fn points(&self) -> impl Iterator<Item = &Point> {
        self.points.values()
    }

    /// What a unit of this kind usually has: a start for a new job's list, to be corrected at the unit.
    #[must_use]
    pub fn typical(&self, kind: DwellingKind) -> BTreeSet<String> {
        self.words.typical.get(&kind).cloned().unwrap_or_default()
    }

    /// Words for equipment that can be fitted.
    #[must_use]
    pub fn equipment(&self) -> &[Named] {
        &self.words.equipment
    }

    /// SHA-256 over all data files: the data revision.
    #[must_use]
    pub fn revision(&self) -> String {
        self.files.revision()
    }

    /// The plan with this id, with all that it refers to.
    #[must_use]
    pub fn plan(&self, id: &str) -> Option<Plan> {
        let file = self.plans.iter().find(|plan| plan.id == id)?;
        let mut points: Vec<Point> =
            self.points.values().filter(|point| includes(file, point)).cloned().collect();
        order::walking(&mut points, &self.words.stops, &file.systems);
        let used = |key: &str| {
            points
                .iter()
                .any(|point| point.limits.iter().any(|planned| planned.limit.source.key == key))
        };
        let sources =
            self.words.sources.iter().filter(|source| used(&source.key)).cloned().collect();
        Some(Plan {
            id: file.id.clone(),
            title: file.title.clone(),
            purpose: file.purpose.clone(),
            terms: file.terms.clone(),
            cautions: file.cautions.clone(),
            stops: self.words.stops.clone(),
            sources,
            equipment: self.words.equipment.clone(),
            site_states: self.words.site_states.clone(),
            language: ENGLISH.to_owned(),
            words: Phrases::default(),
            drawn: Phrases::default(),
            data_revision: self.files_of(file, &points).revision(),
            pictures: self.pictures_of(&points).cloned().collect(),
            points,
        })
    }

    /// A plan's whole text, to be frozen into a job: every file it uses, each behind a line with its path.
    #[must_use]
    pub fn frozen(&self, id: &str) -> Option<String> {
        let file = self.plans.iter().find(|plan| plan.id == id)?;
        let points: Vec<Point> =
            self.points.values().filter(|point| includes(file, point)).cloned().collect();
        Some(self.files_of(file, &points).to_text())
    }

    /// Every text that people read, with its name.
    pub(crate) fn each_text(&self, visit: &mut each::Visit<'_>) {
        for plan in &self.plans {
            let file = plan.path.strip_suffix(".toml").unwrap_or(&plan.path);
            let (mut title, mut purpose) = (plan.title.clone(), plan.purpose.clone());
            let (mut terms, mut cautions) = (plan.terms.clone(), plan.cautions.clone());
            let head = (&mut title, &mut purpose);
            each::text_of_head(file, head, (&mut terms, &mut cautions), visit);
        }
        each::text_of_program(visit);
        let words = &self.words;
        let (mut stops, mut sources) = (words.stops.clone(), words.sources.clone());
        let (mut equipment, mut site_states) = (words.equipment.clone(), words.site_states.clone());
        each::text_of_words(&mut stops, &mut equipment, &mut site_states, visit);
        each::text_of_sources(&mut sources, visit);
        for picture in &self.pictures {
            each::text_of_picture(&mut picture.clone(), visit);
        }
        for point in self.points.values() {
            each::text_of_point(&mut point.clone(), &mut BTreeMap::new(), visit);
        }
    }

    /// The pictures whose points are all among these.
    fn pictures_of<'a>(&'a self, points: &'a [Point]) -> impl Iterator<Item = &'a Picture> {
        self.pictures.iter().filter(|picture| {
            picture.from.values().all(|value| points.iter().any(|point| point.id == value.point))
        })
    }

    fn files_of(&self, plan: &PlanFile, points: &[Point]) -> Files {
        let mut files = Files::none();
        let paths = ["stops.toml", "equipment.toml", "site_states.toml", "sources.toml"]
            .into_iter()
            .chain([plan.path.as_str()])
            .chain(points.iter().map(|point| point.file.as_str()))
            .chain(self.pictures_of(points).map(|picture| picture.file.as_str()));
        for path in paths {
            if let Some(text) = self.files.text(path) {
                files.add(path, text);
            }
        }
        files
    }
}

/// The plan in a frozen text.
///
/// # Errors
/// Problems of its files, as [`load`] reports them, or that there is not exactly one plan in it.
pub fn thaw(text: &str) -> Result<Plan, Vec<Problem>> {
    let library = load(&Files::from_text(text))?;
    let id = library.plans().map(|(id, _)| id.to_owned()).next();
    id.and_then(|id| library.plan(&id)).ok_or_else(|| {
        vec![Problem {
            file: "plan".to_owned(),
            line: 1,
            column: 1,
            message: "the text holds no plan".to_owned(),
            hint: String::new(),
        }]
    })
}

fn includes(plan: &PlanFile, point: &Point) -> bool {
    let named =
        |list: &[(String, crate::read::Spot)], name: &str| list.iter().any(|(one, _)| one == name);
    (named(&plan.systems, &point.system) || named(&plan.points, &point.id))
        && !named(&plan.without, &point.id)
}
