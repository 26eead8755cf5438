//! Search by any word, over points, readings, notes and findings.

use inspection::PointId;
use quantity::UnitSystem;

use crate::Visit;

/// How many hits are given.
const MOST: usize = 60;

/// One hit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hit {
    /// Where to go.
    pub point: Option<PointId>,
    /// What was found.
    pub kind: HitKind,
    /// Heading: the point's, or the finding's.
    pub title: String,
    /// The text in which the words stand; empty where they stand in the heading.
    pub excerpt: String,
    /// The finding's key, where it is one.
    pub finding: Option<String>,
}

/// What was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HitKind {
    /// A point by its heading.
    Point,
    /// A finding.
    Finding,
    /// A reading, by its name, place or entry.
    Reading,
    /// A note.
    Note,
    /// What a point says to do.
    Act,
}

impl Visit {
    /// Everything in which all these words stand, each as the beginning of a word; headings first.
    #[must_use]
    pub fn search(&self, text: &str, units: UnitSystem) -> Vec<Hit> {
        let wanted: Vec<String> = text.split_whitespace().map(plain).collect();
        if wanted.is_empty() {
            return Vec::new();
        }
        let mut hits = Vec::new();
        for finding in self.findings(units) {
            let all = format!("{} {} {}", finding.title, finding.statement, finding.point_title);
            if matches(&all, &wanted) {
                hits.push(Hit {
                    point: finding.point,
                    kind: HitKind::Finding,
                    title: finding.title,
                    excerpt: finding.statement,
                    finding: Some(finding.key),
                });
            }
        }
        let inspection = self.inspection();
        for point in self.points() {
            let id = PointId::from(point.id.as_str());
            let mut push = |kind, excerpt: String| {
                hits.push(Hit {
                    point: Some(id.clone()),
                    kind,
                    title: point.title.clone(),
                    excerpt,
                    finding: None,
                });
            };
            let heading = format!("{} {} {}", point.title, point.id, point.system);
            if matches(&heading, &wanted) {
                push(HitKind::Point, String::new());
            }
            let with_heading = |text: &str| matches(&format!("{} {text}", point.title), &wanted);
            let beyond = |text: &str| with_heading(text) && !matches(&heading, &wanted);
            if let Some(reading) = point.readings.iter().find(|reading| beyond(&reading.title)) {
                push(HitKind::Reading, reading.title.clone());
            }
            let acts = point.look.iter().chain(&point.operate).chain(&point.measure);
            if let Some(act) = acts.chain([&point.caution]).find(|act| beyond(act)) {
                push(HitKind::Act, act.clone());
            }
            if let Some(entry) = inspection.points.get(&id)
                && beyond(&entry.notes)
            {
                push(HitKind::Note, entry.notes.clone());
            }
        }
        for reading in inspection.readings.values().filter(|one| one.struck_out.is_none()) {
            let Some(point) = self.plan().point(reading.point.as_str()) else { continue };
            let what = format!("{} {}", self.place_read(&reading.position), reading.entry);
            let own = matches(&format!("{} {what}", point.title), &wanted);
            if own && !matches(&point.title, &wanted) {
                hits.push(Hit {
                    point: Some(reading.point.clone()),
                    kind: HitKind::Reading,
                    title: point.title.clone(),
                    excerpt: what.trim().to_owned(),
                    finding: None,
                });
            }
        }
        hits.sort_by_key(|hit| hit.kind);
        hits.truncate(MOST);
        hits
    }
}

/// Whether each wanted word begins a word of the text.
pub(crate) fn matches(text: &str, wanted: &[String]) -> bool {
    let text = plain(text);
    wanted.iter().all(|word| {
        text.match_indices(word.as_str())
            .any(|(at, _)| !text[..at].ends_with(|letter: char| letter.is_alphanumeric()))
    })
}

/// Lower case, without accents and underscores.
pub(crate) fn plain(text: &str) -> String {
    text.chars()
        .flat_map(char::to_lowercase)
        .map(|letter| match letter {
            'á' | 'à' | 'ä' | 'â' => 'a',
            'é' | 'è' | 'ë' | 'ê' => 'e',
            'í' | 'ì' | 'ï' => 'i',
            'ó' | 'ò' | 'ö' | 'ô' => 'o',
            'ú' | 'ù' | 'ü' => 'u',
            'ñ' => 'n',
            '_' => ' ',
            other => other,
        })
        .collect()
}
