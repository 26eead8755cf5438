//! What the server says of the desk's words: stock sentences, and what is left over from other jobs.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

use field::{OtherJob, Sentences, Visit};
use record::Author;
use serde_json::{Value, json};
use server::DeskWords;
use store::{JobId, Store};

use crate::data_folder::{Place, device};
use crate::failure::Failure;
use crate::{open_job, other_jobs, sentences};

/// What the server asks for.
pub(crate) fn words() -> DeskWords {
    DeskWords { sentences: all, keep_sentence, left_over }
}

fn place(store: &Store) -> Place {
    Place { data: Some(store.folder().to_owned()), by: None }
}

#[allow(clippy::needless_pass_by_value, reason = "handed to `map_err`")]
fn said(failure: Failure) -> String {
    failure.message().to_owned()
}

fn all(store: &Store) -> Result<Value, String> {
    Ok(message(&sentences::load(&place(store)).map_err(said)?))
}

fn message(list: &Sentences) -> Value {
    let all: Vec<Value> =
        list.all().iter().map(|one| json!({"name": one.name, "text": one.text})).collect();
    json!({"sentences": all})
}

fn keep_sentence(store: &Store, name: &str, text: &str) -> Result<Result<Value, String>, String> {
    /// Two devices at once would forget one another's.
    static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());
    let _held = ONE_AT_A_TIME.lock().unwrap_or_else(PoisonError::into_inner);
    let place = place(store);
    let mut list = sentences::load(&place).map_err(said)?;
    if let Err(refused) = list.add(name, text) {
        return Ok(Err(refused.to_string()));
    }
    sentences::save(&place, &list).map_err(said)?;
    Ok(Ok(message(&list)))
}

fn left_over(store: &Store, job: &JobId) -> Result<Value, String> {
    let record = open_job::record_of(store, job).map_err(said)?;
    let author = Author::new(device(store).map_err(said)?, String::new());
    let visit = Visit::of(record, author).map_err(|refused| refused.to_string())?;
    let remarks = visit.left_over(&others(store, job).map_err(said)?);
    Ok(remarks.iter().filter_map(field::view::Remark::left_over_to_json).collect())
}

/// Facts of the other jobs. Each job is read again only when its log has grown: the desk asks after every entry.
fn others(store: &Store, own: &JobId) -> Result<Vec<OtherJob>, Failure> {
    static KNOWN: Mutex<BTreeMap<String, (u64, Option<OtherJob>)>> = Mutex::new(BTreeMap::new());
    let mut known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
    let mut facts = Vec::new();
    for job in other_jobs::newest(store, own)? {
        let id = job.id.as_str();
        let head = job.head_seq;
        if known.get(id).is_none_or(|(at, _)| *at != head) {
            known.insert(id.to_owned(), (head, other_jobs::facts_of(store, &job.id)));
        }
        facts.extend(known.get(id).and_then(|(_, facts)| facts.clone()));
    }
    Ok(facts)
}
