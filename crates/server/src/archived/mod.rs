//! All jobs together, as a device at the desk looks at them: the list, how often what was found, and tables for other programs.
//!
//! Nothing is counted here: the archive answers. It is the whole business's, so a device that was let in for one job is told
//! nothing of it. Every answer is bounded, or sent while it is written.

mod export;
mod question;
mod schemas;

use archive::{Archive, ListedJob};
use axum::{
    Extension,
    extract::{Query, rejection::QueryRejection},
    http::StatusCode,
    response::Response,
};
use serde_json::{Value, json};

use crate::{
    changes,
    problem::Problem,
    shared::{Device, State},
};

pub(crate) use export::table;
use question::{Asked, asked, no_point};
pub(crate) use schemas::{parameters, schemas};

/// Jobs of one answer: if the device does not say how many, and at most.
const JOBS: (usize, usize) = (50, 500);
/// Lines of figures, likewise.
const LINES: (usize, usize) = (20, 500);

/// `GET /v1/archive`
pub(crate) async fn choices(
    shared: State,
    Extension(device): Extension<Device>,
) -> Result<Response, Problem> {
    of_no_single_job(&device)?;
    let answer = shared
        .pool
        .with(move |store| {
            let archive = Archive::open(store)?;
            let jobs = archive.jobs()?;
            let read = || jobs.iter().filter(|job| job.trouble.is_empty());
            let once = |of: fn(&ListedJob) -> &String| -> Vec<&String> {
                let all: std::collections::BTreeSet<&String> = read().map(of).collect();
                all.into_iter().filter(|word| !word.is_empty()).collect()
            };
            let mut points: Vec<(String, String)> = archive.titles()?.into_iter().collect();
            points.sort_by(|one, other| one.1.cmp(&other.1));
            let points: Vec<Value> = points
                .into_iter()
                .map(|(point, title)| json!({"point": point, "title": title}))
                .collect();
            Ok(json!({
                "jobs": jobs.len(),
                "regions": once(|job| &job.row.region),
                "purposes": once(|job| &job.row.purpose),
                "points": points,
                "behind": archive.behind(store, None)?,
            }))
        })
        .await?;
    Ok(written(&answer))
}

/// `GET /v1/archive/jobs?kind=…`
pub(crate) async fn jobs(
    shared: State,
    Extension(device): Extension<Device>,
    query: Result<Query<Asked>, QueryRejection>,
) -> Result<Response, Problem> {
    of_no_single_job(&device)?;
    let asked = asked(query)?;
    let filter = asked.filter()?;
    let (after, most) = asked.part(JOBS);
    let answer = shared
        .pool
        .with(move |store| {
            let archive = Archive::open(store)?;
            let jobs = archive.jobs_like(&filter)?;
            let listed: Vec<Value> =
                jobs.iter().skip(after).take(most).map(ListedJob::json).collect();
            let behind = archive.behind(store, None)?;
            Ok(json!({"jobs": jobs.len(), "listed": listed, "behind": behind}))
        })
        .await?;
    Ok(written(&answer))
}

/// `GET /v1/archive/figures?point=…&per=kind,age&of=found&kind=…`
pub(crate) async fn figures(
    shared: State,
    Extension(device): Extension<Device>,
    query: Result<Query<Asked>, QueryRejection>,
) -> Result<Response, Problem> {
    of_no_single_job(&device)?;
    let asked = asked(query)?;
    let (question, counted) = (asked.question()?, asked.counted()?);
    let (after, most) = asked.part(LINES);
    let answer = shared
        .pool
        .with(move |store| {
            let archive = Archive::open(store)?;
            let mut answered = archive.answer(question, counted)?.ok_or_else(no_point)?;
            let never = answered.without_never_examined();
            let mut answer = answered.json(after, most);
            answer["lines"] = json!(answered.figures.len());
            answer["never_examined"] = json!(never);
            answer["behind"] = json!(archive.behind(store, None)?);
            Ok(answer)
        })
        .await?;
    Ok(written(&answer))
}

fn of_no_single_job(device: &Device) -> Result<(), Problem> {
    if device.job.is_none() {
        return Ok(());
    }
    let detail = "this device was let in for one job; the archive is of all of them";
    Err(Problem::new(StatusCode::FORBIDDEN, "one_job", detail))
}

fn written(answer: &Value) -> Response {
    changes::json(answer.to_string().into_bytes())
}
