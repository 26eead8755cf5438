//! Words in the jobs of this device, found without a server: each job's texts are taken out once and searched as often as
//! is typed. What is found, and how, is as the server finds it over all jobs.

use std::ops::Range;

use inspection::{Engagement, Mark, Outcome};
use quantity::UnitSystem;
use record::Author;

use crate::view::FindingStanding;
use crate::view::search::plain;
use crate::{Said, Visit};

/// Places of a job that are shown; the others are counted.
const PLACES: usize = 3;
/// A shorter word is found whole, not as the beginning of others: too many words begin with it.
const SHORTEST_BEGINNING: usize = 3;
/// Words shown before and from the first that was found.
const AROUND: (usize, usize) = (8, 22);

/// A job's texts, for searching.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct JobTexts {
    /// The job in one line.
    line: String,
    texts: Vec<Text>,
}

/// One text and where it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Text {
    kind: &'static str,
    point: String,
    title: String,
    reference: String,
    text: String,
}

/// A job in which every word stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FoundJob {
    /// The job in one line.
    pub line: String,
    /// Where in it, the best places first.
    pub places: Vec<FoundPlace>,
    /// How many more places there are.
    pub more: usize,
}

/// A place where some of the words stand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FoundPlace {
    /// In which kind of text: `finding`, `unit`, `client`, `site`, `note`, `photo`, `job`, `agreement`, `terms` or `point`; of
    /// the server's also `invoice`.
    pub kind: String,
    /// The point it belongs to; empty for none.
    pub point: String,
    /// The point's title; empty for none.
    pub title: String,
    /// A finding's key, a photo's SHA-256, an invoice's number; empty elsewhere.
    pub reference: String,
    /// The text in parts: what was found, and what stands around.
    pub parts: Vec<(String, bool)>,
}

/// What is looked for: the beginning of a word, or whole words one behind the other.
enum Term {
    Beginning(String),
    Phrase(Vec<String>),
}

impl JobTexts {
    /// The texts of a job as it is kept on the device, with another language's texts laid over its plan if there are any.
    ///
    /// # Errors
    /// A sentence, if the changes hold no record or its plan cannot be read.
    pub fn read(
        changes: &[Vec<u8>],
        author: Author,
        spoken: Option<&plan::Texts>,
        units: UnitSystem,
    ) -> Result<Self, Said> {
        let mut visit = Visit::open(changes, author)?;
        visit.speak(spoken);
        Ok(Self::of(&visit, units))
    }

    /// The texts of a job.
    #[must_use]
    pub fn of(visit: &Visit, units: UnitSystem) -> Self {
        let inspection = visit.inspection();
        let (job, dwelling) = (&inspection.job, &inspection.dwelling);
        let mut texts = Vec::new();
        let title = |point: &str| visit.title_of(Some(&point.into()));
        let mut add = |kind, point: &str, reference: &str, text: String| {
            if !text.trim().is_empty() {
                let (point, reference) = (point.to_owned(), reference.to_owned());
                texts.push(Text { kind, title: title(&point), point, reference, text });
            }
        };
        for row in visit.findings(units) {
            let point = row.point.as_ref().map_or("", |point| point.as_str());
            let reason = match &row.standing {
                FindingStanding::Withdrawn(reason) => reason.as_str(),
                _ => "",
            };
            let text = joined(". ", &[&row.title, &row.statement, &row.who, reason]);
            add("finding", point, &row.key, text);
        }
        let year = dwelling.model_year.map(|year| year.to_string()).unwrap_or_default();
        let (kind, number) = (dwelling.kind.title(), &dwelling.identification);
        let unit = [year.as_str(), kind, &dwelling.maker, &dwelling.model, number];
        add("unit", "", "", joined(", ", &unit));
        let client = &job.client;
        add("client", "", "", joined(", ", &[&client.name, &client.role, &client.contact]));
        add("site", "", "", job.site.address.clone());
        for (point, entry) in &inspection.points {
            add("note", point.as_str(), "", entry.notes.clone());
            if let Outcome::NotExamined { reason } = &entry.outcome {
                add("note", point.as_str(), "", reason.clone());
            }
        }
        let readings = inspection.readings.values().map(|it| (&it.point, &it.struck_out));
        let memos = inspection.memos.values().map(|it| (&it.point, &it.struck_out));
        for (point, struck_out) in readings.chain(memos) {
            if let Some(struck_out) = struck_out {
                add("note", point.as_str(), "", struck_out.reason.clone());
            }
        }
        for (id, photo) in &inspection.photos {
            let point = photo.point.as_ref().map_or("", |point| point.as_str());
            add("photo", point, id.as_str(), photo.caption.clone());
            for mark in &photo.marks {
                if let Mark::Words { at: _, text } = mark {
                    add("photo", point, id.as_str(), text.clone());
                }
            }
        }
        add("job", "", "", joined(", ", &[&job.number, &job.purpose, &job.inspector]));
        for text in [&job.engagement.scope, &job.engagement.limits, &job.weather] {
            add("job", "", "", text.clone());
        }
        for (kind, text) in agreed(&job.engagement) {
            add(kind, "", "", text);
        }
        for point in inspection.points.keys() {
            add("point", point.as_str(), "", title(point.as_str()));
        }
        Self { line: visit.title(), texts }
    }

    /// Where in the job the words stand; none unless every one of them does. A word finds what begins with it, from three
    /// letters on; words in quotation marks are found as they stand, one after the other.
    #[must_use]
    pub fn find(&self, typed: &str) -> Option<FoundJob> {
        let terms = terms(typed);
        let mut there = vec![false; terms.len()];
        let mut found = Vec::new();
        for text in &self.texts {
            let words = words(&text.text);
            let mut marked = vec![false; words.len()];
            let mut count = 0;
            for (term, there) in terms.iter().zip(&mut there) {
                if mark(&words, term, &mut marked) {
                    *there = true;
                    count += 1;
                }
            }
            if count > 0 {
                found.push((count, text, around(&text.text, &words, &marked)));
            }
        }
        if terms.is_empty() || there.contains(&false) {
            return None;
        }
        // Most of the words first; among as many, as they stand in the job.
        found.sort_by_key(|(count, ..)| std::cmp::Reverse(*count));
        let more = found.len().saturating_sub(PLACES);
        let places = found.into_iter().take(PLACES).map(|(_, text, parts)| FoundPlace {
            kind: text.kind.to_owned(),
            point: text.point.clone(),
            title: text.title.clone(),
            reference: text.reference.clone(),
            parts,
        });
        Some(FoundJob { line: self.line.clone(), places: places.collect(), more })
    }
}

/// What was agreed: the unit as it was spoken of, fee, payment and who agreed, and the terms a paragraph each.
fn agreed(engagement: &Engagement) -> Vec<(&'static str, String)> {
    let mut texts = vec![engagement.fee.clone(), engagement.consent.clone()];
    texts.extend(engagement.consents.values().map(|consent| consent.name.clone()));
    let mut terms = Vec::new();
    if let Some(agreement) = &engagement.agreement {
        texts.extend([agreement.unit.clone(), agreement.payment.clone()]);
        let currency = agreement.charges.currency;
        for line in &agreement.charges.lines {
            texts.push(joined(", ", &[&line.text, &currency.write_with_code(line.amount)]));
        }
        for tax in &agreement.charges.taxes {
            texts.push(joined(", ", &[&tax.name, &tax.rate.to_string()]));
        }
        terms.clone_from(&agreement.terms);
    }
    let texts = texts.into_iter().map(|text| ("agreement", text));
    texts.chain(terms.into_iter().map(|text| ("terms", text))).collect()
}

fn joined(between: &str, parts: &[&str]) -> String {
    let parts: Vec<&str> =
        parts.iter().map(|part| part.trim()).filter(|part| !part.is_empty()).collect();
    parts.join(between)
}

fn terms(typed: &str) -> Vec<Term> {
    let mut terms = Vec::new();
    for (at, part) in typed.split(['"', '“', '”', '„', '«', '»']).enumerate() {
        let words: Vec<String> = words(part).into_iter().map(|(_, word)| word).collect();
        if at % 2 == 1 {
            terms.extend((!words.is_empty()).then_some(Term::Phrase(words)));
            continue;
        }
        terms.extend(words.into_iter().map(|word| {
            if word.chars().count() < SHORTEST_BEGINNING {
                Term::Phrase(vec![word])
            } else {
                Term::Beginning(word)
            }
        }));
    }
    terms
}

/// The words of a text with where they stand, as they are compared.
fn words(text: &str) -> Vec<(Range<usize>, String)> {
    let mut words = Vec::new();
    let mut start = None;
    for next in text.char_indices().map(Some).chain([None]) {
        let inside = next.is_some_and(|(_, letter)| letter.is_alphanumeric());
        match (inside, start) {
            (true, None) => start = next.map(|(at, _)| at),
            (false, Some(from)) => {
                let to = next.map_or(text.len(), |(at, _)| at);
                words.push((from..to, plain(&text[from..to])));
                start = None;
            }
            _ => {}
        }
    }
    words
}

/// Marks the words that belong to a term; whether there are any.
fn mark(words: &[(Range<usize>, String)], term: &Term, marked: &mut [bool]) -> bool {
    let mut stands = false;
    match term {
        Term::Beginning(beginning) => {
            for (mark, (_, word)) in marked.iter_mut().zip(words) {
                if word.starts_with(beginning.as_str()) {
                    (*mark, stands) = (true, true);
                }
            }
        }
        Term::Phrase(phrase) => {
            for (at, window) in words.windows(phrase.len()).enumerate() {
                if window.iter().zip(phrase).all(|((_, word), wanted)| word == wanted) {
                    stands = true;
                    marked.iter_mut().skip(at).take(phrase.len()).for_each(|mark| *mark = true);
                }
            }
        }
    }
    stands
}

/// The stretch around the first word that was found, in parts.
fn around(text: &str, words: &[(Range<usize>, String)], marked: &[bool]) -> Vec<(String, bool)> {
    let first = marked.iter().position(|mark| *mark).unwrap_or(0);
    let from = first.saturating_sub(AROUND.0);
    let to = (first + AROUND.1).min(words.len());
    let start = if from == 0 { 0 } else { words.get(from).map_or(0, |(at, _)| at.start) };
    let end = match words.get(to.saturating_sub(1)) {
        Some((at, _)) if to < words.len() => at.end,
        _ => text.len(),
    };
    let mut parts = Vec::new();
    let mut add = |piece: &str, found: bool| {
        if !piece.is_empty() {
            let one_line = |letter: char| if letter.is_control() { ' ' } else { letter };
            parts.push((piece.chars().map(one_line).collect(), found));
        }
    };
    add(if start > 0 { "… " } else { "" }, false);
    let mut at = start;
    for ((word, _), mark) in words.iter().zip(marked).take(to).skip(from) {
        if *mark {
            add(&text[at..word.start], false);
            add(&text[word.clone()], true);
            at = word.end;
        }
    }
    add(&text[at..end], false);
    add(if end < text.len() { " …" } else { "" }, false);
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    fn job(texts: &[&str]) -> JobTexts {
        let text = |text: &&str| Text {
            kind: "note",
            point: String::new(),
            title: String::new(),
            reference: String::new(),
            text: (*text).to_owned(),
        };
        JobTexts { line: "2026-001".into(), texts: texts.iter().map(text).collect() }
    }

    fn shown(found: &FoundJob) -> Vec<String> {
        let part = |(text, found): &(String, bool)| {
            if *found { format!("[{text}]") } else { text.clone() }
        };
        found.places.iter().map(|place| place.parts.iter().map(part).collect()).collect()
    }

    #[test]
    fn every_word_must_stand_somewhere_and_the_best_place_comes_first() {
        let job = job(&["The Régulator is old.", "The regulator does not lock up.", "A 12 V pump"]);
        let found = job.find("REGUL lock").unwrap();
        assert_eq!(
            shown(&found),
            ["The [regulator] does not [lock] up.", "The [Régulator] is old."]
        );
        assert_eq!(job.find("regul pressure"), None);
        assert_eq!(shown(&job.find("\"lock up\"").unwrap()).len(), 1);
        assert_eq!(job.find("\"up lock\""), None);
        // A short word is found whole alone.
        assert_eq!(shown(&job.find("12 v").unwrap()), ["A [12] [V] pump"]);
        assert_eq!(job.find("pu v"), None);
        for nothing in ["", " ", "\"\"", "…"] {
            assert_eq!(job.find(nothing), None, "{nothing:?}");
        }
    }

    #[test]
    fn a_long_text_is_cut_and_further_places_are_counted() {
        let long = format!("{}leak {}", "before ".repeat(50), "behind ".repeat(50));
        let found = job(&[&long, "leak", "leak", "leak", "leak"]).find("leak").unwrap();
        assert_eq!((found.places.len(), found.more), (3, 2));
        let first = &shown(&found)[0];
        assert!(first.starts_with("… before ") && first.ends_with("behind …"), "{first}");
    }

    #[test]
    fn hostile_texts_are_shown_as_they_are() {
        for text in testkit::HOSTILE {
            let word = words(text).remove(0).1;
            let found = job(&[text]).find(&format!("\"{word}\"")).unwrap();
            let parts = found.places[0].parts.iter();
            assert_eq!(parts.map(|(part, _)| part.as_str()).collect::<String>(), text);
        }
    }
}
