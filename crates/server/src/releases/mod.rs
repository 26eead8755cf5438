//! Releasing a job from the desk: what is open, freezing and signing, and what was released.
//!
//! The server knows who asks; what is open, what a release is and how it is signed is said by the [`ReleaseOffice`] that it
//! was started with. The passphrase of a key comes only over TLS or from this machine, is tried a few times at most, and is
//! kept nowhere.

mod bag_file;
mod office;
mod schemas;
pub(crate) mod shares;
mod under_way;

use std::time::Instant;

use axum::{
    Extension,
    extract::{Path, Request},
    http::StatusCode,
    response::{IntoResponse, Response},
};
use serde::{Serialize, de::DeserializeOwned};
use serde_json::json;
use sync::Refusal;

use crate::{
    changes, gate,
    problem::Problem,
    shared::{Device, State, store_id},
    streamed::file,
};

pub(crate) use bag_file::bag;
pub use office::{
    AcceptedMatter, Differing, KnownKey, NotReleased, OpenMatter, Passphrase, ReleaseKept,
    ReleaseOffice, ReleaseStanding, ReleaseStep, ReleaseWanted, ShareMade, ShareWanted, Since,
};
pub(crate) use schemas::schemas;
pub(crate) use under_way::UnderWay;

/// Most bytes of the terms of a release: hundreds of matters with their words.
const MOST_BYTES: usize = 512 << 10;

/// `GET /v1/jobs/{job}/releases`
pub(crate) async fn standing(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
) -> Result<Response, Problem> {
    let (office, job) = asked(&shared, &device, &job).await?;
    let found = shared.pool.with(move |store| Ok((office.standing)(store, &job))).await?;
    answer(&found.map_err(failed)?)
}

/// `GET /v1/jobs/{job}/releasing`
pub(crate) async fn progress(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
) -> Result<Response, Problem> {
    let (_, job) = asked(&shared, &device, &job).await?;
    answer(&json!({ "step": shared.releasing.step_of(&job) }))
}

/// `POST /v1/jobs/{job}/releases`
pub(crate) async fn release(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
    request: Request,
) -> Result<Response, Problem> {
    let private = shared.secure || gate::peer(&request).is_loopback();
    let (office, job) = asked(&shared, &device, &job).await?;
    let wanted: ReleaseWanted = body(&shared, request).await?;
    if !private {
        let detail = "a passphrase is taken over TLS, or on the server's own machine, alone";
        return Err(Problem::new(StatusCode::FORBIDDEN, "not_private", detail));
    }
    let now = Instant::now();
    shared
        .passphrase_rates
        .take(device.id.clone(), now)
        .and_then(|()| shared.passphrase_overall.take((), now))
        .map_err(|wait| {
            let detail = format!(
                "the release was asked for too often; nothing was released. Try again in {} s",
                wait.as_secs().saturating_add(1)
            );
            Problem::patience(wait, detail)
        })?;
    let Some(turn) = shared.releasing.begin(&job) else { return Err(busy()) };
    let released = shared
        .pool
        .with(move |store| Ok((office.release)(store, &job, &wanted, &|step| turn.at(step))))
        .await?;
    let kept = released.map_err(not_released)?;
    tracing::info!(device = device.id, number = kept.number, "a job was released");
    answer(&kept)
}

/// `GET /v1/jobs/{job}/releases/{number}/report.pdf`
pub(crate) async fn report(
    shared: State,
    Extension(device): Extension<Device>,
    Path((job, number)): Path<(String, String)>,
) -> Result<Response, Problem> {
    let (office, job) = asked(&shared, &device, &job).await?;
    let number = numbered(&number)?;
    let found = shared.pool.with(move |store| Ok((office.report)(store, &job, number))).await?;
    let pdf = found.map_err(failed)?.ok_or_else(no_release)?;
    Ok(file(pdf.into_response(), "application/pdf"))
}

/// `GET /v1/jobs/{job}/releases/{number}/since`
pub(crate) async fn since(
    shared: State,
    Extension(device): Extension<Device>,
    Path((job, number)): Path<(String, String)>,
) -> Result<Response, Problem> {
    let (office, job) = asked(&shared, &device, &job).await?;
    let number = numbered(&number)?;
    let found = shared.pool.with(move |store| Ok((office.since)(store, &job, number))).await?;
    answer(&found.map_err(failed)?.ok_or_else(no_release)?)
}

/// The office and the job, if the device may see it and it is there.
async fn asked(
    shared: &State,
    device: &Device,
    job: &str,
) -> Result<(ReleaseOffice, store::JobId), Problem> {
    let id = store_id(&device.may_see(job)?)?;
    let wanted = id.clone();
    let there = shared.pool.with(move |store| Ok(store.job_exists(&wanted)?)).await?;
    if !there {
        return Err(Refusal::NoSuchJob.into());
    }
    match shared.office {
        Some(office) => Ok((office.releases, id)),
        None => {
            let detail = "this server releases no jobs";
            Err(Problem::new(StatusCode::NOT_FOUND, "no_releases", detail))
        }
    }
}

/// What a request says.
async fn body<T: DeserializeOwned>(shared: &State, request: Request) -> Result<T, Problem> {
    let (parts, body) = request.into_parts();
    changes::takes_json(&parts.headers)?;
    let body = shared.body(&parts.headers, body, MOST_BYTES).await?;
    // Where it cannot be read is said, and nothing of what was sent: a passphrase may be in it.
    serde_json::from_slice(&body).map_err(|error| {
        let why =
            format!("line {}, column {}: not what is taken here", error.line(), error.column());
        Refusal::Unreadable { why }.into()
    })
}

fn numbered(number: &str) -> Result<u32, Problem> {
    number.parse().map_err(|_| no_release())
}

fn no_release() -> Problem {
    Problem::new(StatusCode::NOT_FOUND, "no_such_release", "the job has no such release")
}

fn busy() -> Problem {
    let detail = "another release or page is being made; try again when it is done";
    Problem::new(StatusCode::CONFLICT, "under_way", detail)
}

fn failed(why: String) -> Problem {
    tracing::warn!(why, "a release could not be looked at");
    Problem::new(StatusCode::UNPROCESSABLE_ENTITY, "not_released", why)
}

fn not_released(why: NotReleased) -> Problem {
    match why {
        NotReleased::Open(matters) => {
            let detail = match matters.len() {
                1 => "one matter is open and was not accepted".to_owned(),
                many => format!("{many} matters are open and were not accepted"),
            };
            Problem::new(StatusCode::CONFLICT, "open_matters", detail)
                .with("matters", json!(matters))
        }
        NotReleased::Changed(why) => Problem::new(StatusCode::CONFLICT, "changed", why),
        NotReleased::Passphrase(why) => {
            Problem::new(StatusCode::UNPROCESSABLE_ENTITY, "wrong_passphrase", why)
        }
        NotReleased::Refused(why) => {
            Problem::new(StatusCode::UNPROCESSABLE_ENTITY, "not_released", why)
        }
    }
}

fn answer(value: &impl Serialize) -> Result<Response, Problem> {
    let body = serde_json::to_vec(value).map_err(|_| Problem::from(Refusal::Other))?;
    Ok(changes::json(body))
}
