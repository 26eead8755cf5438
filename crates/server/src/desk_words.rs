//! Words at the desk: the inspector's own stock sentences, and what of other jobs is left over in a job's texts.
//!
//! Both are the whole business's, not one job's. A device that was let in for one job sees no stock sentence, since they may
//! name people; and it is told of no fact that is left over: an answer to "is this name another client's?" would be a way
//! to ask for names.

use std::fmt;

use axum::{
    Extension,
    body::Body,
    extract::Path,
    http::{HeaderMap, StatusCode},
    response::Response,
};
use serde::Deserialize;
use serde_json::{Value, json};
use store::{JobId, Store};
use sync::Refusal;

use crate::{
    changes::json as answer_json,
    problem::Problem,
    shared::{Device, State, store_id},
};

/// Most bytes of a stock sentence with its name.
const MOST_BYTES: usize = 16 << 10;

/// Who knows the desk's words: given with the [`crate::Office`] by whoever starts the server. All of it may wait for the disk;
/// an error is a sentence for the log.
#[derive(Clone, Copy)]
pub struct DeskWords {
    /// The stock sentences, as the message `StockSentences`.
    pub sentences: fn(&Store) -> Result<Value, String>,
    /// Keeps a stock sentence by its name, instead of one that has the name; then all of them, or why it is none.
    pub keep_sentence: KeepSentence,
    /// What of other jobs stands in a job's own texts, as a list of the message `LeftOver`.
    pub left_over: fn(&Store, &JobId) -> Result<Value, String>,
}

/// Store, name, text; the inner error is a sentence for a person.
pub type KeepSentence = fn(&Store, &str, &str) -> Result<Result<Value, String>, String>;

impl fmt::Debug for DeskWords {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("DeskWords")
    }
}

/// A stock sentence that is to be kept.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SentenceTyped {
    name: String,
    text: String,
}

/// `GET /v1/sentences`
pub(crate) async fn sentences(
    shared: State,
    Extension(device): Extension<Device>,
) -> Result<Response, Problem> {
    of_no_single_job(&device)?;
    let words = words(&shared)?;
    let found = shared.pool.with(move |store| (words.sentences)(store).map_err(failed)).await?;
    Ok(answer_json(found.to_string().into_bytes()))
}

/// `POST /v1/sentences`
pub(crate) async fn keep_sentence(
    shared: State,
    Extension(device): Extension<Device>,
    headers: HeaderMap,
    body: Body,
) -> Result<Response, Problem> {
    of_no_single_job(&device)?;
    let words = words(&shared)?;
    let typed: SentenceTyped = shared.message(&headers, body, MOST_BYTES).await?;
    let kept = shared
        .pool
        .with(move |store| (words.keep_sentence)(store, &typed.name, &typed.text).map_err(failed));
    match kept.await? {
        Ok(all) => Ok(answer_json(all.to_string().into_bytes())),
        Err(why) => Err(Problem::new(StatusCode::UNPROCESSABLE_ENTITY, "no_sentence", why)),
    }
}

/// `GET /v1/jobs/{job}/left-over`
pub(crate) async fn left_over(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
) -> Result<Response, Problem> {
    let job = store_id(&device.may_see(&job)?)?;
    let words = words(&shared)?;
    let told = device.job.is_none();
    let found = shared
        .pool
        .with(move |store| {
            if !store.job_exists(&job)? {
                return Err(Refusal::NoSuchJob.into());
            }
            if told { (words.left_over)(store, &job).map_err(failed) } else { Ok(json!([])) }
        })
        .await?;
    let answer = json!({"told": told, "left_over": found});
    Ok(answer_json(answer.to_string().into_bytes()))
}

fn of_no_single_job(device: &Device) -> Result<(), Problem> {
    if device.job.is_none() {
        return Ok(());
    }
    let detail = "this device was let in for one job; this belongs to all of them";
    Err(Problem::new(StatusCode::FORBIDDEN, "one_job", detail))
}

fn words(shared: &State) -> Result<DeskWords, Problem> {
    let detail = "this server knows no words of the desk";
    let none = || Problem::new(StatusCode::NOT_FOUND, "no_words", detail);
    shared.office.map(|office| office.words).ok_or_else(none)
}

#[allow(clippy::needless_pass_by_value, reason = "handed to `map_err`")]
fn failed(why: String) -> Problem {
    tracing::error!(why, "the desk's words could not be had");
    Refusal::Other.into()
}
