//! The two sides of a comparison: a release, a bag, or a job as it stands, each with what its report says.

use std::path::Path;

use bag::{Release, Standing, State, place};
use quantity::UnitSystem;
use record::Record;
use report::Options;
use report::content::Paper;
use serde_json::Value;

use super::ready::ready;
use crate::bags::{self, releases};
use crate::commands::assess;
use crate::commands::report::units_word;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::json;
use crate::open_job::{self, OpenJob, plan_of};
use crate::report_pages::{OfRelease, Pages, content};
use crate::speaking::Speaking;

/// One side.
pub(super) struct Side {
    pub(super) name: String,
    /// What its report says, as data.
    content: Value,
    /// Everything recorded.
    record: Value,
    /// What is missing or open, each in a sentence.
    pub(super) missing: Vec<String>,
    state: Option<State>,
    /// The system of units of its values, `us` or `si`.
    units: &'static str,
    pub(super) heads: Vec<String>,
    /// Whether the content was worked out anew, because a bag of then does not hold it.
    anew: bool,
}

impl Side {
    pub(super) fn release(&self) -> Option<&Release> {
        self.state.as_ref()?.release.as_ref()
    }

    /// The content made ready to be compared, with the units that it was asked for in and its language by name.
    pub(super) fn ready(&self) -> Value {
        let mut ready = ready(&self.content, &self.record);
        if let Some(fields) = ready.as_object_mut() {
            fields.insert("units".to_owned(), Value::from(self.units));
            fields.entry("language").or_insert_with(|| Value::from("en"));
        }
        ready
    }
}

/// The names of the sides whose content was worked out anew.
pub(super) fn anew<'s>(earlier: &'s Side, later: &'s Side) -> Vec<&'s str> {
    [earlier, later].into_iter().filter(|side| side.anew).map(|side| side.name.as_str()).collect()
}

/// Both sides by their names. A job as it stands is told like the other side: on its paper, in its units and its language.
pub(super) fn both(place: &Place, earlier: &str, later: &str) -> Result<(Side, Side), Failure> {
    if is_job(earlier) && !is_job(later) {
        let later = side(place, later)?;
        return Ok((of_job(place, earlier, later.state.as_ref())?, later));
    }
    let earlier = side(place, earlier)?;
    let later = match is_job(later) {
        true => of_job(place, later, earlier.state.as_ref())?,
        false => side(place, later)?,
    };
    Ok((earlier, later))
}

/// A release of a job, and a later one or the job as it stands now.
pub(super) fn since(
    place: &Place,
    job: &str,
    release: u32,
    until: Option<u32>,
) -> Result<(Side, Side), Failure> {
    let earlier = of_release(place, job, release)?;
    let later = match until {
        Some(until) => of_release(place, job, until)?,
        None => of_job(place, job, earlier.state.as_ref())?,
    };
    Ok((earlier, later))
}

fn is_job(words: &str) -> bool {
    !Path::new(words).exists() && !words.contains('@')
}

fn side(place: &Place, words: &str) -> Result<Side, Failure> {
    if Path::new(words).exists() {
        return of_bag(place, words);
    }
    let Some((number, release)) = words.rsplit_once('@') else {
        return of_job(place, words, None);
    };
    let release: u32 = release.parse().map_err(|_| {
        Failure::input(format!("`{release}` is no release's number; write it like {number}@1"))
    })?;
    of_release(place, number, release)
}

fn of_release(place: &Place, number: &str, release: u32) -> Result<Side, Failure> {
    let store = place.store()?;
    let id = open_job::job_id(number)?;
    let known = releases::list(&store, &id)?;
    let kept = known
        .iter()
        .find(|one| one.number == release)
        .ok_or_else(|| Failure::input(format!("job {number} has no release {release}")))?;
    let bag = releases::bag(&store, kept)?;
    let state = releases::state(&store, &bag)?;
    let has_content = bag.files.iter().any(|file| file.path == place::REPORT_JSON);
    let mut bytes = |path: &str| releases::content(&store, &bag, path);
    packed(place, format!("{number}@{release}"), Some(state), has_content, &mut bytes)
}

fn of_bag(place: &Place, words: &str) -> Result<Side, Failure> {
    let mut opened = bags::open(Path::new(words))?;
    if opened.verification.standing() == Standing::Differs {
        return Err(Failure::differs(format!("{words} is not what was packed"))
            .hint("`nearside verify` names what differs"));
    }
    let state = opened.verification.state.clone();
    let has_content = opened.paths()?.iter().any(|path| path == place::REPORT_JSON);
    packed(place, words.to_owned(), state, has_content, &mut |path| opened.bytes(path))
}

/// A side from the files of a bag.
fn packed(
    place: &Place,
    name: String,
    state: Option<State>,
    has_content: bool,
    bytes: &mut dyn FnMut(&str) -> Result<Vec<u8>, Failure>,
) -> Result<Side, Failure> {
    let content = match (has_content, &state) {
        (false, Some(state)) => worked_out(place, &bytes(place::RECORD)?, state)?,
        (true, _) | (false, None) => parsed(&bytes(place::REPORT_JSON)?)?,
    };
    Ok(Side {
        name,
        content,
        record: parsed(&bytes(place::RECORD_JSON)?)?,
        missing: missing(&parsed(&bytes(place::ASSESSMENT)?)?),
        heads: state.as_ref().map(|state| state.record_heads.clone()).unwrap_or_default(),
        units: units_word(options(state.as_ref()).units),
        state,
        anew: !has_content,
    })
}

/// What the report of a bag says that does not hold it as data, by this version of the program.
fn worked_out(place: &Place, record: &[u8], state: &State) -> Result<Value, Failure> {
    let record = Record::load([record])?;
    let plan = plan_of(&record)?;
    let spoken = speaking(Some(state)).of(place, &plan)?;
    let of_release = state.release.as_ref().map(|it| OfRelease::new(it, String::new()));
    let said = content(
        &record.inspection().0,
        &record.trail(),
        &spoken,
        options(Some(state)),
        of_release.unwrap_or_default(),
    );
    serde_json::to_value(said).map_err(Failure::failed)
}

fn of_job(place: &Place, words: &str, like: Option<&State>) -> Result<Side, Failure> {
    let job = OpenJob::open(place, words)?;
    let inspection = job.inspection();
    let spoken = speaking(like).of(place, &job.plan)?;
    let pages = Pages::of(&job, &spoken, options(like), OfRelease::default());
    let assessment = json::assessment(&job.plan, &inspection, &assess::assessed(&job, &inspection));
    let mut heads: Vec<String> = job.record.heads().iter().map(ToString::to_string).collect();
    heads.sort();
    Ok(Side {
        name: format!("{words} as it stands now"),
        content: serde_json::to_value(pages.content).map_err(Failure::failed)?,
        record: bag::record_json(&inspection, &[]),
        missing: missing(&assessment),
        state: None,
        units: units_word(options(like).units),
        heads,
        anew: false,
    })
}

fn speaking(state: Option<&State>) -> Speaking {
    let language = state.and_then(|state| state.report.language.as_deref());
    Speaking::in_language(language.unwrap_or("en"))
}

fn options(state: Option<&State>) -> Options {
    let said = |word: fn(&State) -> &str, is: &str| state.is_some_and(|state| word(state) == is);
    Options {
        paper: if said(|state| state.report.paper.as_str(), "a4") {
            Paper::A4
        } else {
            Paper::Letter
        },
        units: if said(|state| state.report.units.as_str(), "si") {
            UnitSystem::Si
        } else {
            UnitSystem::Us
        },
        ..Options::default()
    }
}

fn parsed(bytes: &[u8]) -> Result<Value, Failure> {
    serde_json::from_slice(bytes)
        .map_err(|error| Failure::failed(format!("a file of the bag is no JSON: {error}")))
}

fn missing(assessment: &Value) -> Vec<String> {
    let listed = assessment["missing"].as_array().into_iter().flatten();
    listed.filter_map(|gap| gap["sentence"].as_str()).map(str::to_owned).collect()
}
