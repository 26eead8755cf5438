//! Inspecting a unit again, as a device at the desk asks for it: what a new job would carry, and that job made.
//!
//! What is carried and how the job begins is decided by the [`AgainOffice`] that the server was started with. A new job is a
//! matter of the whole business, so a device that was let in for one job neither asks nor makes.

use axum::{
    Extension,
    body::Body,
    extract::Path,
    http::{HeaderMap, StatusCode},
    response::Response,
};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value, json};
use store::{JobId, Store};
use sync::Refusal;

use crate::{
    changes::json as answer_json,
    engagement::OfficeRefused,
    openapi::{list, object},
    problem::Problem,
    shared::{Device, State, store_id},
};

/// Most bytes of what is asked: a day and some names, with room.
const MOST_BYTES: usize = 16 << 10;

/// Says what a new job would carry.
type Offer = fn(&Store, &JobId, &str) -> Result<AgainOffered, OfficeRefused>;
/// Makes it.
type Make = fn(&Store, &JobId, &str, &AgainWanted) -> Result<AgainMade, OfficeRefused>;

/// Who makes a job that inspects a unit again. Both are told the old job and who asks, and may wait for the disk.
#[derive(Debug, Clone, Copy)]
pub struct AgainOffice {
    /// What a new job would carry.
    pub offer: Offer,
    /// Makes it; what is answered is on disk.
    pub make: Make,
}

/// What a job that inspects a unit again would begin with.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct AgainOffered {
    /// The next free number of this year.
    pub number: String,
    /// The old job's inspector.
    pub inspector: String,
    /// How many findings would be carried.
    pub findings: usize,
}

/// A job that inspects a unit again is wanted. What is empty is as the old job has it, the number the next free one, the day
/// today.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AgainWanted {
    /// The new job's number. A request that was sent twice makes no second job of that number.
    #[serde(default)]
    pub number: String,
    /// The day of the visit, `2026-08-03`.
    #[serde(default)]
    pub visit: String,
    /// The inspector who signs.
    #[serde(default)]
    pub inspector: String,
    /// The licence, certificate or membership of an inspector who is not the old job's.
    #[serde(default)]
    pub credentials: String,
}

/// A job that inspects a unit again.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct AgainMade {
    /// Its number.
    pub job: String,
    /// The old job's.
    pub earlier: String,
    /// The plan it follows.
    pub plan: String,
    /// How many findings it carries.
    pub carried: usize,
    /// The day of the visit.
    pub visit: String,
    /// Photos of then whose originals are not here.
    pub absent_photos: Vec<String>,
}

/// `GET /v1/jobs/{job}/again`
pub(crate) async fn offer(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
) -> Result<Response, Problem> {
    let (office, job) = asked(&shared, &device, &job).await?;
    let offered = shared
        .pool
        .with(move |store| (office.offer)(store, &job, &device.person).map_err(Problem::from))
        .await?;
    written(&offered)
}

/// `POST /v1/jobs/{job}/again`
pub(crate) async fn make(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
    headers: HeaderMap,
    body: Body,
) -> Result<Response, Problem> {
    let (office, job) = asked(&shared, &device, &job).await?;
    let wanted: AgainWanted = shared.message(&headers, body, MOST_BYTES).await?;
    let id = device.id.clone();
    let made = shared
        .pool
        .with(move |store| {
            (office.make)(store, &job, &device.person, &wanted).map_err(Problem::from)
        })
        .await?;
    tracing::info!(device = id, "a job was made that inspects a unit again");
    written(&made)
}

/// The office and the job, if the device may see all jobs and it is there.
async fn asked(
    shared: &State,
    device: &Device,
    job: &str,
) -> Result<(AgainOffice, JobId), Problem> {
    let id = store_id(&device.may_see(job)?)?;
    if device.job.is_some() {
        let detail = "this device was let in for one job, and may not make another";
        return Err(Problem::new(StatusCode::FORBIDDEN, "one_job", detail));
    }
    let wanted = id.clone();
    let there = shared.pool.with(move |store| Ok(store.job_exists(&wanted)?)).await?;
    if !there {
        return Err(Refusal::NoSuchJob.into());
    }
    let none = || {
        let detail = "this server was started without an office: it makes no jobs";
        Problem::new(StatusCode::NOT_FOUND, "no_office", detail)
    };
    Ok((shared.office.ok_or_else(none)?.again, id))
}

fn written(answer: &impl Serialize) -> Result<Response, Problem> {
    Ok(answer_json(serde_json::to_vec(answer).map_err(|_| Problem::from(Refusal::Other))?))
}

/// The messages as the description of the server has them.
pub(crate) fn schemas() -> Map<String, Value> {
    let text = || json!({ "type": "string" });
    let count = || json!({ "type": "integer", "minimum": 0 });
    let mut wanted = object(&[
        ("number", text()),
        ("visit", json!({ "type": "string", "pattern": "^([0-9]{4}-[0-9]{2}-[0-9]{2})?$" })),
        ("inspector", text()),
        ("credentials", text()),
    ]);
    wanted["required"] = json!([]);
    wanted["additionalProperties"] = json!(false);
    Map::from_iter([
        (
            "AgainOffered".to_owned(),
            object(&[("number", text()), ("inspector", text()), ("findings", count())]),
        ),
        ("AgainWanted".to_owned(), wanted),
        (
            "AgainMade".to_owned(),
            object(&[
                ("job", text()),
                ("earlier", text()),
                ("plan", text()),
                ("carried", count()),
                ("visit", json!({ "type": "string", "format": "date" })),
                ("absent_photos", list(&text())),
            ]),
        ),
    ])
}
