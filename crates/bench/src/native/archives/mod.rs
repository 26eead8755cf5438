//! The archive: finding words in 10,000 jobs, and figures over many more beside DuckDB on the same files.

mod chance;
mod made_up;
mod searching;

use std::fs::File;
use std::hint::black_box;
use std::io::BufWriter;
use std::path::Path;

use archive::{By, Columns, Figure, Question, TableFile, figures_of};
use serde_json::Value as Json;

use super::results::{Goal, Measured, Results};
use super::{Outcome, times};

const RUNS: usize = 5;
/// Milliseconds that figures may take, however many jobs there are.
const MOST: f64 = 2_000.0;

/// The point whose figures are asked for in every group.
const POINT: &str = "tyres";

/// Writes the tables of an invented archive into a folder.
pub(super) fn make(folder: &Path, jobs: &str) -> Outcome {
    let jobs: u32 = jobs.parse().map_err(|_| format!("`{jobs}` is no number of jobs"))?;
    let said = |error: &dyn std::fmt::Display| format!("{}: {error}", folder.display());
    std::fs::create_dir_all(folder).map_err(|error| said(&error))?;
    let create = |name: &str| File::create(folder.join(name)).map(BufWriter::new);
    let files = (create("jobs.parquet"), create("points.parquet"));
    let (jobs_file, points_file) =
        (files.0.map_err(|error| said(&error))?, files.1.map_err(|error| said(&error))?);
    let mut columns = Columns::new(jobs_file, points_file).map_err(|error| said(&error))?;
    let mut rows = 0;
    let plan = made_up::MadeUp::new()?;
    for number in 0..jobs {
        let (job, points) = plan.rows(number);
        rows += points.len();
        columns.push(job, &points).map_err(|error| said(&error))?;
    }
    let (jobs_file, points_file) = columns.finish().map_err(|error| said(&error))?;
    for file in [jobs_file, points_file] {
        file.into_inner().map_err(|error| said(&error))?;
    }
    println!("{}: {jobs} jobs, {rows} points", folder.display());
    Ok(())
}

/// Measures both. `peers` is the answer of `archive_peers.py`, which names the folders too.
pub(super) fn measure(results: &mut Results, peers: Option<&Path>) -> Outcome {
    searching::measure(results)?;
    let Some(peers) = peers else {
        results.skip("figures over the archive: needs the answer of archive_peers.py");
        return Ok(());
    };
    let said = |error: &dyn std::fmt::Display| format!("{}: {error}", peers.display());
    let text = std::fs::read_to_string(peers).map_err(|error| said(&error))?;
    let peers: Json = serde_json::from_str(&text).map_err(|error| said(&error))?;
    for (folder, peer) in peers["folders"].as_object().into_iter().flatten() {
        for case in &CASES {
            figures(results, Path::new(folder), peer, case, &peers["version"])?;
        }
    }
    Ok(())
}

/// A question: its key in the peers' answer, its words, and itself.
struct Case {
    key: &'static str,
    what: &'static str,
    ids: [&'static str; 4],
    point: Option<&'static str>,
    by: &'static [By],
}

const CASES: [Case; 2] = [
    Case {
        key: "every_point",
        what: "every point",
        ids: [
            "figures_points",
            "figures_points_ratio",
            "figures_points_million",
            "figures_points_million_ratio",
        ],
        point: None,
        by: &[],
    },
    Case {
        key: "groups",
        what: "one point by kind, age and region",
        ids: [
            "figures_groups",
            "figures_groups_ratio",
            "figures_groups_million",
            "figures_groups_million_ratio",
        ],
        point: Some(POINT),
        by: &[By::Kind, By::Age, By::Region],
    },
];

fn figures(
    results: &mut Results,
    folder: &Path,
    peer: &Json,
    case: &Case,
    version: &Json,
) -> Outcome {
    let said = |error: &dyn std::fmt::Display| format!("{}: {error}", folder.display());
    let question = Question {
        point: case.point.map(str::to_owned),
        by: case.by.to_vec(),
        ..Question::default()
    };
    let mut answer = Vec::new();
    // From opening the files on, as the other side does.
    let (best, median) = times(RUNS, || {
        let open = |name: &str| File::open(folder.join(name)).map_err(|error| said(&error));
        let file = TableFile::new(open("jobs.parquet")?, open("points.parquet")?)
            .map_err(|error| said(&error))?;
        answer = figures_of([(&file, Vec::new())], black_box(&question))
            .map_err(|error| said(&error))?;
        Ok(())
    })?;
    same(&answer, &peer[case.key]["rows"], case.key)?;
    let jobs = peer["jobs"].as_u64().unwrap_or_default();
    let points = peer["points"].as_u64().unwrap_or_default();
    let at = if jobs < 1_000_000 { 0 } else { 2 };
    let millions = format!("{} million points", points / 1_000_000);
    results.push(Measured {
        id: case.ids[at],
        what: format!("figures, {}, {jobs} jobs", case.what),
        best: best * 1e3,
        median: median * 1e3,
        unit: "ms",
        goal: Some(Goal::Under(MOST)),
        note: format!("{millions}, {} lines, one thread, the files opened each time", answer.len()),
    });
    let theirs = peer[case.key]["seconds"].as_f64().unwrap_or(f64::NAN);
    results.push(Measured {
        id: case.ids[at + 1],
        what: format!("the same beside DuckDB, {jobs} jobs"),
        best: theirs / best,
        median: theirs / median,
        unit: "times as fast",
        goal: Some(Goal::AtLeast(1.0)),
        note: format!(
            "DuckDB {}: best {:.0} ms, one thread, the same files, the same answer",
            version.as_str().unwrap_or_default(),
            theirs * 1e3
        ),
    });
    Ok(())
}

/// An error if the two answers differ in anything.
fn same(answer: &[Figure], rows: &Json, key: &str) -> Outcome {
    let rows = rows.as_array().map(Vec::as_slice).unwrap_or_default();
    if rows.len() != answer.len() {
        return Err(format!("{key}: {} lines here, {} from DuckDB", answer.len(), rows.len()));
    }
    let mut ours: Vec<Json> = answer.iter().map(line).collect();
    let mut theirs = rows.to_vec();
    ours.sort_by_cached_key(Json::to_string);
    theirs.sort_by_cached_key(Json::to_string);
    match ours.iter().zip(&theirs).find(|(one, other)| one != other) {
        None => Ok(()),
        Some((one, other)) => Err(format!("{key}: {one} here, {other} from DuckDB")),
    }
}

fn line(figure: &Figure) -> Json {
    let (group, counts) = (&figure.group, &figure.counts);
    serde_json::json!([
        figure.point,
        group.kind.map(inspection::DwellingKind::word),
        group.age.map(archive::AgeBand::word),
        group.region,
        counts.nothing_entered,
        counts.examined,
        counts.not_examined,
        counts.not_fitted,
        counts.found,
        counts.draft,
        counts.not_conforming,
        counts.held,
    ])
}
