//! Names and facts of other jobs in a job's own texts: what is left over when somebody starts from an old sentence.
//!
//! Only what tells one job from another is looked for: the client's name and ways to reach them, the site's address, the
//! unit's identification number, maker and model. What this job has too is none of another, and neither is a word that
//! the plan itself uses.

use std::collections::BTreeSet;

use inspection::Inspection;
use plan::Plan;

use crate::own_texts::{OwnText, TextPlace, own_texts};

/// What of another job is looked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OtherJob {
    /// The job's number.
    pub number: String,
    facts: Vec<(FactKind, String)>,
}

/// Kinds of facts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FactKind {
    /// The client's name, or a part of it.
    Client,
    /// How to reach the client.
    Contact,
    /// The site's address, or a part of it.
    Site,
    /// The unit's identification number, or its end.
    Identification,
    /// The unit's maker.
    Maker,
    /// The unit's model.
    Model,
}

impl FactKind {
    /// The kind in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Client => "the client",
            Self::Contact => "how to reach the client",
            Self::Site => "the site",
            Self::Identification => "the identification number",
            Self::Maker => "the maker",
            Self::Model => "the model",
        }
    }
}

/// A fact of another job in a text of this one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftOver<'a> {
    /// Where it stands.
    pub place: TextPlace<'a>,
    /// What stands there, as it is written.
    pub word: String,
    /// What it is in the other job.
    pub kind: FactKind,
    /// The other job's number; the first of several.
    pub job: String,
    /// How many further jobs it is a fact of.
    pub more: usize,
}

impl LeftOver<'_> {
    /// The remark in a sentence.
    #[must_use]
    pub fn sentence(&self, plan: &Plan, inspection: &Inspection) -> String {
        let more = match self.more {
            0 => String::new(),
            1 => " and of one more job".to_owned(),
            many => format!(" and of {many} more jobs"),
        };
        format!(
            "{}: “{}” is {} of job {}{more}; is it left over?",
            self.place.words(plan, inspection),
            self.word,
            self.kind.words(),
            self.job
        )
    }
}

impl OtherJob {
    /// What of a job is looked for in the texts of others.
    #[must_use]
    pub fn of(inspection: &Inspection) -> Self {
        let (job, unit) = (&inspection.job, &inspection.dwelling);
        let facts = [
            (FactKind::Client, &job.client.name),
            (FactKind::Contact, &job.client.contact),
            (FactKind::Site, &job.site.address),
            (FactKind::Identification, &unit.identification),
            (FactKind::Maker, &unit.maker),
            (FactKind::Model, &unit.model),
        ];
        let facts = facts.into_iter().filter(|(_, text)| !text.trim().is_empty());
        Self {
            number: job.number.clone(),
            facts: facts.map(|(kind, text)| (kind, text.clone())).collect(),
        }
    }
}

/// Everything of other jobs in the texts of this one. A job is not compared with itself.
#[must_use]
pub fn left_over<'a>(
    plan: &Plan,
    inspection: &'a Inspection,
    others: &[OtherJob],
) -> Vec<LeftOver<'a>> {
    let own = OtherJob::of(inspection);
    let own: BTreeSet<String> =
        own.facts.iter().flat_map(|(_, text)| words_of(text)).map(|word| word.small).collect();
    let mut wanted: Vec<Wanted<'_>> = Vec::new();
    for other in others.iter().filter(|other| other.number != inspection.job.number) {
        for (kind, text) in &other.facts {
            for words in sought(*kind, text) {
                let here = words.iter().all(|word| own.contains(word));
                if !here && !words.is_empty() {
                    wanted.push(Wanted { kind: *kind, job: &other.number, words });
                }
            }
        }
    }
    if wanted.is_empty() {
        return Vec::new();
    }
    let common = common_words(plan);
    let mut found: Vec<LeftOver<'a>> = Vec::new();
    for text in own_texts(inspection) {
        look(&text, &wanted, &common, &mut found);
    }
    found
}

/// What is looked for: words in small letters, one behind the other.
struct Wanted<'o> {
    kind: FactKind,
    job: &'o str,
    words: Vec<String>,
}

/// A word of a text.
struct Word<'t> {
    /// As it is written.
    written: &'t str,
    /// In small letters.
    small: String,
    /// Where it begins.
    at: usize,
    /// It begins a sentence.
    begins: bool,
}

/// Words for a place in a park, which every park has.
const KINDS_OF_PLACE: [&str; 12] = [
    "berth", "bloque", "lote", "number", "parcela", "pitch", "plaza", "plot", "site", "space",
    "stall", "unit",
];

/// What of a fact is looked for, in small letters: the whole of it, and the parts that stand for it.
fn sought(kind: FactKind, fact: &str) -> Vec<Vec<String>> {
    let whole = |text: &str| words_of(text).into_iter().map(|word| word.small).collect::<Vec<_>>();
    let mut sought = Vec::new();
    match kind {
        FactKind::Client => {
            let words = whole(fact);
            // People are called by one of their names; an initial calls nobody.
            let names = words.iter().filter(|word| letters(word) >= 4);
            sought.extend(names.map(|word| vec![word.clone()]));
            // Two short words stand beside each other by chance.
            if words.iter().map(|word| letters(word)).sum::<usize>() >= 6 {
                sought.push(words);
            }
        }
        FactKind::Contact => {
            for part in fact.split([',', ';', '\n']) {
                let digits = part.chars().filter(char::is_ascii_digit).count();
                if part.contains('@') || digits >= 7 {
                    sought.push(whole(part));
                }
            }
        }
        // A pitch's number alone says nothing: every park has a pitch 14.
        FactKind::Site => {
            for part in fact.split([',', ';', '\n']) {
                let words = whole(part);
                let names = words
                    .iter()
                    .filter(|word| letters(word) >= 4 && !KINDS_OF_PLACE.contains(&word.as_str()))
                    .count();
                if names >= 2 || (names == 1 && (words.len() == 1 || has_digits(&words))) {
                    sought.push(words);
                }
            }
        }
        FactKind::Identification => {
            let number: String = fact.chars().filter(char::is_ascii_alphanumeric).collect();
            let number = number.to_lowercase();
            if number.len() >= 6 && number.contains(|c: char| c.is_ascii_digit()) {
                sought.push(vec![number]);
            }
        }
        FactKind::Maker | FactKind::Model => {
            let words = whole(fact);
            let letters: usize = words.iter().map(|word| letters(word)).sum();
            let all: usize = words.iter().map(String::len).sum();
            if letters >= 4 || (letters > 0 && has_digits(&words) && all >= 4) {
                sought.push(words);
            }
        }
    }
    sought
}

fn has_digits(words: &[String]) -> bool {
    words.iter().any(|word| word.contains(|c: char| c.is_ascii_digit()))
}

fn letters(word: &str) -> usize {
    word.chars().filter(|c| c.is_alphabetic()).count()
}

/// The words of a text: letters, digits and what stands between them without a gap.
fn words_of(text: &str) -> Vec<Word<'_>> {
    let mut words: Vec<Word<'_>> = Vec::new();
    let mut begins = true;
    let mut start = None;
    let ends = text.char_indices().map(Some).chain([None]);
    for next in ends {
        let part = next.is_some_and(|(_, c)| c.is_alphanumeric());
        match (part, start) {
            (true, None) => start = next.map(|(at, _)| at),
            (false, Some(from)) => {
                let to = next.map_or(text.len(), |(at, _)| at);
                let written = &text[from..to];
                words.push(Word { written, small: written.to_lowercase(), at: from, begins });
                begins = false;
                start = None;
            }
            _ => {}
        }
        if next.is_some_and(|(_, c)| matches!(c, '.' | '!' | '?' | ':' | '\n')) {
            begins = true;
        }
    }
    words
}

fn look<'a>(
    text: &OwnText<'a>,
    wanted: &[Wanted<'_>],
    common: &BTreeSet<String>,
    found: &mut Vec<LeftOver<'a>>,
) {
    let words = words_of(text.text);
    let first = found.len();
    for one in wanted {
        let here = if one.kind == FactKind::Identification {
            identification(&words, one)
        } else {
            (0..words.len()).find_map(|at| named(text.text, &words, at, one, common))
        };
        let Some(written) = here else { continue };
        let known = found.iter_mut().skip(first).find(|other| {
            // The surname inside the whole name is not said again.
            other.word.contains(&written) || written.contains(&other.word)
        });
        match known {
            Some(other) if other.job == one.job => {
                if written.len() > other.word.len() {
                    other.word = written;
                }
            }
            Some(other) if other.kind == one.kind && other.word == written => other.more += 1,
            _ => found.push(LeftOver {
                place: text.place,
                word: written,
                kind: one.kind,
                job: one.job.to_owned(),
                more: 0,
            }),
        }
    }
}

/// Where the words stand one behind the other. A single word must be a name: with a capital, no word that the plan or
/// everybody uses.
fn named(
    text: &str,
    words: &[Word<'_>],
    at: usize,
    wanted: &Wanted<'_>,
    common: &BTreeSet<String>,
) -> Option<String> {
    let here = words.get(at..at + wanted.words.len())?;
    if here.iter().zip(&wanted.words).any(|(word, wanted)| word.small != *wanted) {
        return None;
    }
    let (first, last) = (here.first()?, here.last()?);
    let written = text.get(first.at..last.at + last.written.len())?;
    let name = |word: &Word<'_>| {
        let capital = word.written.starts_with(char::is_uppercase);
        let digits = word.written.contains(|c: char| c.is_ascii_digit());
        let usual = common.contains(&word.small);
        (capital && !usual) || (digits && letters(&word.small) > 0)
    };
    let telling = match (wanted.kind, here) {
        // What is made of digits and an address is telling by itself.
        (FactKind::Contact, _) => true,
        (_, [one]) => name(one),
        // Of several words, one must be a name; in a text in capitals or small letters all of them together are.
        (_, several) => {
            several.iter().any(name) || several.iter().any(|word| !common.contains(&word.small))
        }
    };
    telling.then(|| written.to_owned())
}

/// The number itself, or an end of it of six characters or more, as people quote it.
fn identification(words: &[Word<'_>], wanted: &Wanted<'_>) -> Option<String> {
    let number = wanted.words.first()?;
    let word = words.iter().find(|word| {
        word.small.len() >= 6
            && word.small.contains(|c: char| c.is_ascii_digit())
            && number.ends_with(&word.small)
    })?;
    Some(word.written.to_owned())
}

/// Words that name nobody: those of the plan's own sentences, and some that are also people's names.
fn common_words(plan: &Plan) -> BTreeSet<String> {
    const ALSO: [&str; 30] = [
        "april",
        "august",
        "autumn",
        "black",
        "blue",
        "brown",
        "december",
        "east",
        "february",
        "friday",
        "gray",
        "green",
        "grey",
        "hill",
        "january",
        "july",
        "june",
        "lake",
        "march",
        "monday",
        "north",
        "november",
        "october",
        "park",
        "september",
        "south",
        "summer",
        "west",
        "white",
        "winter",
    ];
    let mut common: BTreeSet<String> = ALSO.into_iter().map(str::to_owned).collect();
    let mut add = |text: &str| {
        for word in words_of(text) {
            // A name in the plan's sentences, that of a publisher, is still a name.
            if word.begins || word.written.starts_with(char::is_lowercase) {
                common.insert(word.small);
            }
        }
    };
    for point in &plan.points {
        add(&point.title);
        for text in point.look.iter().chain(&point.operate).chain(&point.measure) {
            add(text);
        }
        for defect in &point.defects {
            for text in [&defect.title, &defect.statement, &defect.who] {
                add(text);
            }
        }
    }
    common
}
