//! Every text of the data that people read, each by its name: the one list that reading, checking and laying over share.

use std::collections::BTreeMap;

use limit::Bound;

use super::{MissingText, TextName};
use crate::read::TomlFile;
use crate::{Files, Named, Picture, Plan, Point, Positions, ReadingForm, SourceDocument, Stop};

/// The file of texts that many files share: whom to call, choices, positions, words that formulas give.
pub(crate) const SHARED: &str = "words";

/// What words that formulas give begin with in the file of shared texts.
const RESULT: &str = "result.";

/// The file of phrases that the report and the client's page say.
pub(crate) const PHRASES: &str = "report";

/// The file of sentences that come from below the report, known by their shape.
pub(crate) const SENTENCES: &str = "sentences";

/// The file of what stands in drawings: short words, some of which mean something else in a sentence.
pub(crate) const DRAWINGS: &str = "drawings";

/// A text's place, while it is visited.
pub(crate) struct Spoken<'a> {
    /// The file without its ending.
    pub file: &'a str,
    /// Its name there.
    pub name: String,
    /// Its name among the shared texts, which serve where the file itself says nothing.
    pub shared: Option<String>,
    /// Whether English will do: citations as they were published.
    pub optional: bool,
}

impl<'a> Spoken<'a> {
    fn of(file: &'a str, name: impl Into<String>) -> Self {
        Self { file, name: name.into(), shared: None, optional: false }
    }

    fn shared(self, shared: String) -> Self {
        Self { shared: Some(shared), ..self }
    }

    fn optional(self) -> Self {
        Self { optional: true, ..self }
    }

    /// Whether another language needs a text of its own: numbers and letters of sizes read the same.
    pub(crate) fn wanted(&self, english: &str) -> bool {
        let mut run = 0;
        let word = english.chars().any(|c| {
            run = if c.is_alphabetic() { run + 1 } else { 0 };
            run == 3
        });
        word && !self.optional
    }

    /// The entry of a list of what is missing: a shared text is missed where it is shared.
    pub(crate) fn missing(&self, english: &str) -> MissingText {
        let (file, name) = match &self.shared {
            Some(shared) => (SHARED, shared.clone()),
            None => (self.file, self.name.clone()),
        };
        MissingText { at: TextName { file: file.to_owned(), name }, english: english.to_owned() }
    }
}

/// What is done with each text.
pub(crate) type Visit<'v> = dyn FnMut(&Spoken<'_>, &mut String) + 'v;

/// All texts of a plan.
pub(crate) fn text_of_plan(plan: &mut Plan, visit: &mut Visit<'_>) {
    let file = format!("plans/{}", plan.id);
    text_of_head(
        &file,
        (&mut plan.title, &mut plan.purpose),
        (&mut plan.terms, &mut plan.cautions),
        visit,
    );
    text_of_words(&mut plan.stops, &mut plan.equipment, &mut plan.site_states, visit);
    text_of_sources(&mut plan.sources, visit);
    for picture in &mut plan.pictures {
        text_of_picture(picture, visit);
    }
    for point in &mut plan.points {
        text_of_point(point, &mut plan.words.exact, visit);
    }
}

/// What the program itself says. Its English stands in the files of that language, by the same names.
pub(crate) fn text_of_program(visit: &mut Visit<'_>) {
    let files = Files::of_language("en").unwrap_or_default();
    for file in [PHRASES, SENTENCES, DRAWINGS] {
        let path = format!("{file}.toml");
        let text = files.text(&path).unwrap_or("");
        // The program's own file; a test reads it without a problem.
        let Some(toml) = TomlFile::open(&path, text, &mut Vec::new()) else { continue };
        for (name, at) in toml.flat() {
            visit(&Spoken::of(file, name), &mut at.value.clone());
        }
    }
}

/// Title and purpose, terms and cautions of a plan's file.
pub(crate) fn text_of_head(
    file: &str,
    (title, purpose): (&mut String, &mut String),
    (terms, cautions): (&mut [String], &mut [String]),
    visit: &mut Visit<'_>,
) {
    visit(&Spoken::of(file, "title"), title);
    visit(&Spoken::of(file, "purpose"), purpose);
    list(file, "terms", terms, visit);
    list(file, "cautions", cautions, visit);
}

/// Stops, equipment and site states.
pub(crate) fn text_of_words(
    stops: &mut [Stop],
    equipment: &mut [Named],
    site_states: &mut [Named],
    visit: &mut Visit<'_>,
) {
    for stop in stops {
        visit(&Spoken::of("stops", format!("stop.{}", stop.id)), &mut stop.title);
    }
    for word in equipment {
        visit(&Spoken::of("equipment", format!("equipment.{}", word.id)), &mut word.title);
    }
    for word in site_states {
        visit(&Spoken::of("site_states", format!("site_state.{}", word.id)), &mut word.title);
    }
}

/// Documents: title, publisher and edition stand as published; how much was read is said by us.
pub(crate) fn text_of_sources(sources: &mut [SourceDocument], visit: &mut Visit<'_>) {
    for source in sources {
        let at = |name: &str| Spoken::of("sources", format!("source.{}.{name}", source.key));
        let (title, publisher) = (at("title").optional(), at("publisher").optional());
        let (edition, read) = (at("edition").optional(), at("read"));
        visit(&title, &mut source.title);
        visit(&publisher, &mut source.publisher);
        visit(&edition, &mut source.edition);
        visit(&read, &mut source.read);
    }
}

/// Title and caption of a picture.
pub(crate) fn text_of_picture(picture: &mut Picture, visit: &mut Visit<'_>) {
    let file = format!("pictures/{}", picture.id);
    visit(&Spoken::of(&file, "title"), &mut picture.title);
    visit(&Spoken::of(&file, "caption"), &mut picture.caption);
}

/// All texts of a point. `words` takes what people read for its positions.
pub(crate) fn text_of_point(
    point: &mut Point,
    words: &mut BTreeMap<String, String>,
    visit: &mut Visit<'_>,
) {
    let file = format!("points/{}/{}", point.system, point.id);
    let file = file.as_str();
    visit(&Spoken::of(file, "title"), &mut point.title);
    if !point.caution.is_empty() {
        visit(&Spoken::of(file, "caution"), &mut point.caution);
    }
    list(file, "look", &mut point.look, visit);
    list(file, "operate", &mut point.operate, visit);
    list(file, "measure", &mut point.measure, visit);
    if !point.photo.is_empty() {
        visit(&Spoken::of(file, "photo"), &mut point.photo);
    }
    if let Some(wait) = &mut point.wait {
        visit(&Spoken::of(file, "wait.what"), &mut wait.what);
        list(file, "wait.untouched", &mut wait.untouched, visit);
    }
    for reading in &mut point.readings {
        let at = format!("reading.{}", reading.id);
        visit(&Spoken::of(file, format!("{at}.title")), &mut reading.title);
        if let ReadingForm::Choice(choices) = &reading.form {
            for choice in choices {
                let spoken = Spoken::of(file, format!("{at}.choices.{choice}"));
                shown(choice, &mut reading.shown, |text| {
                    visit(&spoken.shared(format!("choice.{choice}")), text);
                });
            }
        }
        if let Positions::Named(positions) = &reading.positions {
            for position in positions {
                let spoken = Spoken::of(SHARED, format!("position.{position}"));
                shown(&position.replace('_', " "), words, |text| visit(&spoken, text));
            }
        }
    }
    for derived in &mut point.derived {
        visit(&Spoken::of(file, format!("derive.{}.title", derived.id)), &mut derived.title);
    }
    for planned in &mut point.limits {
        // Words that are held to a list and were not chosen by a person come from a formula.
        let computed = point.derived.iter().any(|derived| derived.id == planned.limit.on);
        if let (Bound::OneOf(accepted), true) = (&planned.limit.bound, computed) {
            for word in accepted {
                let spoken = Spoken::of(SHARED, format!("{RESULT}{word}"));
                shown(word, words, |text| visit(&spoken, text));
            }
        }
        let name = format!("limit.{}.section", planned.limit.id);
        visit(&Spoken::of(file, name).optional(), &mut planned.limit.source.section);
    }
    for defect in &mut point.defects {
        let at = |name: &str| Spoken::of(file, format!("defect.{}.{name}", defect.id));
        let (title, statement, stop_work) = (at("title"), at("statement"), at("stop_work"));
        let who = at("who").shared(format!("who.{}", defect.who));
        visit(&title, &mut defect.title);
        visit(&statement, &mut defect.statement);
        visit(&who, &mut defect.who);
        if !defect.stop_work.is_empty() {
            visit(&stop_work, &mut defect.stop_work);
        }
    }
}

fn list(file: &str, name: &str, texts: &mut [String], visit: &mut Visit<'_>) {
    for (at, text) in texts.iter_mut().enumerate() {
        visit(&Spoken::of(file, format!("{name}[{at}]")), text);
    }
}

/// A word that is recorded as it is and shown in the other language.
fn shown(word: &str, shown: &mut BTreeMap<String, String>, visit: impl FnOnce(&mut String)) {
    let mut text = shown.get(word).cloned().unwrap_or_else(|| word.to_owned());
    visit(&mut text);
    if text != word {
        shown.insert(word.to_owned(), text);
    }
}
