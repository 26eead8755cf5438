//! Finding words in any job: which jobs, best first, where in each, and the words around.

mod query;
mod snippet;
pub(crate) mod texts;

pub use snippet::Snippet;
pub(crate) use texts::Wording;

use serde_json::{Value as Json, json};
use store::JobId;
use store::index::{COLUMNS, Index, Term};

use crate::error::ArchiveError;
use crate::fold::{Word, words};
use crate::listed::ListedJob;
use texts::{Text, Texts};

/// How much a word counts in each column: what was found before who and where; the plan's own words and the terms, which
/// nearly every job has, least.
const WEIGHTS: [f64; COLUMNS] = [8.0, 6.0, 6.0, 4.0, 4.0, 3.0, 0.5];

/// Places of a job that are shown; the others are counted.
const PLACES: usize = 3;

/// In which kind of text something was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PlaceKind {
    /// A finding's heading, statement, whom to call; why it was withdrawn, or not seen again.
    Finding,
    /// Year, kind, maker, model, identification number.
    Unit,
    /// Name, role, contact.
    Client,
    /// The address.
    Site,
    /// A point's note, why it was not examined, or why a reading or memo was struck out.
    Note,
    /// A photo's caption, or words on it.
    Photo,
    /// Number, purpose, inspector, scope, limits, weather.
    Job,
    /// What was agreed beside scope and limits: unit, fee, payment, who agreed.
    Agreement,
    /// What stands on an invoice or credit note, and how it was paid.
    Invoice,
    /// A point's title, or the name of a reading that was taken.
    Point,
    /// The agreement's terms: nearly every job has the same ones.
    Terms,
}

impl PlaceKind {
    /// All of them, in the order in which places are shown.
    pub const ALL: [Self; 11] = [
        Self::Finding,
        Self::Unit,
        Self::Client,
        Self::Site,
        Self::Note,
        Self::Photo,
        Self::Job,
        Self::Agreement,
        Self::Invoice,
        Self::Point,
        Self::Terms,
    ];

    /// The word in results.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Finding => "finding",
            Self::Unit => "unit",
            Self::Client => "client",
            Self::Site => "site",
            Self::Note => "note",
            Self::Photo => "photo",
            Self::Job => "job",
            Self::Agreement => "agreement",
            Self::Invoice => "invoice",
            Self::Point => "point",
            Self::Terms => "terms",
        }
    }

    pub(crate) fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.word() == word)
    }

    /// The column of the index that its words stand in.
    pub(crate) fn column(self) -> usize {
        match self {
            Self::Finding => 0,
            Self::Unit => 1,
            Self::Client => 2,
            Self::Site => 3,
            Self::Note | Self::Job | Self::Agreement | Self::Invoice => 4,
            Self::Photo => 5,
            Self::Point | Self::Terms => 6,
        }
    }
}

/// The answer to a search.
#[derive(Clone, Debug, PartialEq)]
pub struct Searched {
    /// How many jobs have all the words.
    pub jobs: usize,
    /// The best of them, best first.
    pub hits: Vec<Hit>,
}

/// A job that has all the words.
#[derive(Clone, Debug, PartialEq)]
pub struct Hit {
    /// The job.
    pub job: ListedJob,
    /// Where in it, the best places first.
    pub places: Vec<Place>,
    /// How many more places there are.
    pub more: usize,
}

/// A place where some of the words stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// In which kind of text.
    pub kind: PlaceKind,
    /// The point it belongs to; empty for none.
    pub point: String,
    /// The point's title; empty for none.
    pub title: String,
    /// A finding's key, a photo's SHA-256, an invoice's number; empty elsewhere.
    pub reference: String,
    /// The words, and some around them.
    pub snippet: Snippet,
}

/// The jobs that have every word that was typed, at most `most` of them; only this one, if one is named.
///
/// # Errors
/// If there is nothing to search for, or the index does not answer.
pub(crate) fn search(
    index: &Index,
    typed: &str,
    most: usize,
    only: Option<&JobId>,
) -> Result<Searched, ArchiveError> {
    let terms = query::terms(typed)?;
    let mut found = index.find(&terms, WEIGHTS)?;
    if let Some(only) = only {
        let number = index.number_of(only)?;
        found.retain(|one| Some(one.number) == number);
    }
    let mut wordings = Wordings::default();
    let mut hits = Vec::new();
    for one in found.iter().take(most) {
        // Gone since, by somebody who brought the index up to date meanwhile.
        let Some(job) = index.indexed(one.number)? else { continue };
        let (texts, key) = Texts::from_json(&job.texts);
        let wording = wordings.of(index, &key)?;
        let (places, more) = places(&texts, wording, &terms);
        hits.push(Hit { job: ListedJob::from_json(job.job.as_str(), &job.row), places, more });
    }
    Ok(Searched { jobs: found.len(), hits })
}

/// The wordings that were read, by their keys.
#[derive(Default)]
struct Wordings(std::collections::BTreeMap<String, Wording>);

impl Wordings {
    fn of(&mut self, index: &Index, key: &str) -> Result<&Wording, ArchiveError> {
        if !self.0.contains_key(key) {
            let text = index.setting(&format!("wording {key}"))?.unwrap_or_default();
            self.0.insert(key.to_owned(), Wording::from_json(&text));
        }
        Ok(self.0.entry(key.to_owned()).or_default())
    }
}

fn places(texts: &Texts, wording: &Wording, terms: &[Term]) -> (Vec<Place>, usize) {
    let mut found: Vec<(usize, Text, Vec<Word>, Vec<bool>)> = Vec::new();
    for text in texts.places(wording) {
        let words = words(&text.text);
        let (marked, count) = matches(&words, terms);
        if count > 0 {
            found.push((count, text, words, marked));
        }
    }
    // Most of the words first, then by kind; within a kind as they stand in the job.
    found.sort_by(|one, other| other.0.cmp(&one.0).then(one.1.kind.cmp(&other.1.kind)));
    let more = found.len().saturating_sub(PLACES);
    let shown = found.into_iter().take(PLACES).map(|(_, text, words, marked)| Place {
        kind: text.kind,
        title: wording.title(&text.point).unwrap_or_default().to_owned(),
        snippet: snippet::around(&text.text, &words, &marked),
        point: text.point,
        reference: text.reference,
    });
    (shown.collect(), more)
}

/// Which words of a text belong to a term, and how many of the terms stand in it.
pub(crate) fn matches(words: &[Word], terms: &[Term]) -> (Vec<bool>, usize) {
    let mut marked = vec![false; words.len()];
    let mut count = 0;
    for term in terms {
        let mut stands = false;
        match term {
            Term::Beginning(beginning) => {
                for (mark, word) in marked.iter_mut().zip(words) {
                    if word.folded.starts_with(beginning.as_str()) {
                        (*mark, stands) = (true, true);
                    }
                }
            }
            Term::Phrase(phrase) => {
                for (at, window) in words.windows(phrase.len()).enumerate() {
                    if window.iter().zip(phrase).all(|(word, wanted)| word.folded == *wanted) {
                        stands = true;
                        marked.iter_mut().skip(at).take(phrase.len()).for_each(|mark| *mark = true);
                    }
                }
            }
        }
        count += usize::from(stands);
    }
    (marked, count)
}

impl Searched {
    /// The answer as JSON, as the command line and the server give it.
    #[must_use]
    pub fn json(&self) -> Json {
        let hits: Vec<Json> = self
            .hits
            .iter()
            .map(|hit| {
                let places: Vec<Json> = hit.places.iter().map(Place::json).collect();
                json!({
                    "job": hit.job.row.job,
                    "line": hit.job.line(),
                    "visited": hit.job.row.visited.map(|day| day.to_string()),
                    "places": places,
                    "more_places": hit.more,
                })
            })
            .collect();
        json!({"jobs": self.jobs, "hits": hits})
    }
}

impl Place {
    fn json(&self) -> Json {
        let snippet: Vec<Json> = self
            .snippet
            .parts
            .iter()
            .map(|(text, found)| json!({"text": text, "found": found}))
            .collect();
        json!({
            "kind": self.kind.word(),
            "point": self.point,
            "title": self.title,
            "reference": self.reference,
            "snippet": snippet,
        })
    }
}
