//! What is shown, for other people's programs: tables as CSV and Parquet, sent while they are written.

use std::io::Write;
use std::sync::Arc;

use archive::{Archive, ArchiveError, Form, Table};
use axum::{
    Extension,
    extract::{Path, Query, rejection::QueryRejection},
    http::StatusCode,
    response::Response,
};
use sync::Refusal;

use super::of_no_single_job;
use super::question::{Asked, asked, no_point};
use crate::{
    problem::Problem,
    shared::{Device, State},
    streamed::{NotSent, file, streamed},
};

const CSV: &str = "text/csv; charset=utf-8";
const PARQUET: &str = "application/vnd.apache.parquet";

/// Which table; none for the lines of figures.
fn named(name: &str) -> Option<(Option<Table>, Form, &'static str)> {
    let (table, ending) = name.split_once('.')?;
    let table = match table {
        "jobs" => Some(Table::Jobs),
        "points" => Some(Table::Points),
        "figures" => None,
        _ => return None,
    };
    match ending {
        "csv" => Some((table, Form::Csv, CSV)),
        "parquet" => Some((table, Form::Parquet, PARQUET)),
        _ => None,
    }
}

/// `GET /v1/archive/export/{file}?kind=…`
pub(crate) async fn table(
    shared: State,
    Extension(device): Extension<Device>,
    Path(name): Path<String>,
    query: Result<Query<Asked>, QueryRejection>,
) -> Result<Response, Problem> {
    of_no_single_job(&device)?;
    let Some((table, form, media_type)) = named(&name) else {
        let detail = "the archive has no such table";
        return Err(Problem::new(StatusCode::NOT_FOUND, "no_such_table", detail));
    };
    let asked = asked(query)?;
    let (question, counted) = (asked.question()?, asked.counted()?);
    let Ok(turn) = Arc::clone(&shared.exports).try_acquire_owned() else {
        let detail = "another table is being written; try again when it is done";
        return Err(Problem::new(StatusCode::CONFLICT, "under_way", detail));
    };
    let said = |error: ArchiveError| error.to_string();
    let sent = match table {
        Some(table) => {
            let filter = question.filter;
            let write = move |store: &store::Store, out: &mut (dyn Write + Send)| {
                let archive = Archive::open(store).map_err(said)?;
                archive.write_table(table, form, &filter, out).map_err(said)
            };
            streamed(&shared.pool, turn, write).await
        }
        None => {
            // The counts are in memory whole, so that a question that cannot be answered is refused before anything is sent.
            let answered = shared
                .pool
                .with(move |store| {
                    let mut answered =
                        Archive::open(store)?.answer(question, counted)?.ok_or_else(no_point)?;
                    answered.without_never_examined();
                    Ok(answered)
                })
                .await?;
            let write = move |_: &store::Store, out: &mut (dyn Write + Send)| match form {
                Form::Csv => answered.write_csv(out).map_err(|error| error.to_string()),
                Form::Parquet => answered.write_parquet(out).map(drop).map_err(said),
            };
            streamed(&shared.pool, turn, write).await
        }
    };
    match sent {
        Ok(response) => Ok(file(response, media_type)),
        Err(NotSent::Failed(why)) => {
            tracing::error!(why, "a table of the archive could not be written");
            Err(Refusal::Other.into())
        }
        Err(NotSent::Nothing | NotSent::Stopped) => Err(Refusal::Other.into()),
    }
}
