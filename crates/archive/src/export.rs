//! The tables for other people's programs: CSV, what their columns mean, and the same as a description programs read.

use std::io::Write;

use serde_json::{Value as Json, json};

use crate::rows::{JobRow, PointRow};
use crate::tables::{Column, JOB_COLUMNS, Kind, POINT_COLUMNS};

/// Both tables as CSV (RFC 4180), written a job at a time.
///
/// A spreadsheet takes a cell that begins with `=`, `+`, `-` or `@` for a formula, so such a word gets an apostrophe
/// before it; the Parquet files have every word as it was entered.
pub struct Sheets<W: Write> {
    jobs: W,
    points: W,
}

impl<W: Write> Sheets<W> {
    /// Begins both with their headings.
    ///
    /// # Errors
    /// If they cannot be written.
    pub fn new(mut jobs: W, mut points: W) -> std::io::Result<Self> {
        let names = |columns: &[Column]| columns.iter().map(|it| it.name).collect::<Vec<_>>();
        write_line(&mut jobs, &names(&JOB_COLUMNS))?;
        write_line(&mut points, &names(&POINT_COLUMNS))?;
        Ok(Self { jobs, points })
    }

    /// Adds a job with its points.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn push(&mut self, job: &JobRow, points: &[PointRow]) -> std::io::Result<()> {
        let optional = |value: Option<String>| value.unwrap_or_default();
        write_line(
            &mut self.jobs,
            &[
                &job.job,
                job.kind.word(),
                &job.maker,
                &job.model,
                &optional(job.model_year.map(|it| it.to_string())),
                &optional(job.built.map(|it| it.to_string())),
                &optional(job.visited.map(|it| it.to_string())),
                &optional(job.age.map(|it| it.to_string())),
                job.age_band().word(),
                &job.region,
                &job.purpose,
                &job.points.to_string(),
                &job.examined.to_string(),
                &job.findings.to_string(),
            ],
        )?;
        for row in points {
            let held = row.held.words();
            let words = [row.outcome.word(), row.verdict.word(), row.finding.word(), &held];
            write_line(&mut self.points, &[&[job.job.as_str(), &row.point], &words[..]].concat())?;
        }
        Ok(())
    }

    /// Ends both and gives them back: jobs, points.
    ///
    /// # Errors
    /// If they cannot be written.
    pub fn finish(mut self) -> std::io::Result<(W, W)> {
        self.jobs.flush()?;
        self.points.flush()?;
        Ok((self.jobs, self.points))
    }
}

pub(crate) fn write_line(into: &mut impl Write, cells: &[&str]) -> std::io::Result<()> {
    let mut line = String::new();
    for (at, cell) in cells.iter().enumerate() {
        if at > 0 {
            line.push(',');
        }
        let formula =
            cell.starts_with(['=', '+', '-', '@', '\t', '\r']) && cell.parse::<f64>().is_err();
        let guarded = if formula { format!("'{cell}") } else { (*cell).to_owned() };
        if guarded.contains(['"', ',', '\n', '\r']) {
            line.push('"');
            line.push_str(&guarded.replace('"', "\"\""));
            line.push('"');
        } else {
            line.push_str(&guarded);
        }
    }
    line.push_str("\r\n");
    into.write_all(line.as_bytes())
}

/// What the tables hold, for people.
#[must_use]
pub fn readme(jobs: usize, points: usize, written: &str) -> String {
    format!(
        "# Figures of the archive\n\n\
         Written by Nearside on {written}: {jobs} jobs with {points} points.\n\n\
         These are the jobs of one inspector or firm. They say how often something was found in the units that\n\
         these people were asked to inspect, and nothing about other units. Rows are inspections: a unit inspected\n\
         twice stands here twice.\n\n\
         Neither clients' names nor addresses nor identification numbers are in these files. Maker and model together\n\
         with a day and a region may still tell who was meant: think before you pass them on.\n\n\
         The same two tables stand here as Apache Parquet and as CSV (RFC 4180, UTF-8); `datapackage.json` describes\n\
         the CSV files for programs (Data Package, Table Schema). In CSV a word that a spreadsheet would take for a\n\
         formula has an apostrophe before it.\n\n\
         To find how often a point was found wrong, count the rows of `points` with the outcome `examined`, and those\n\
         of them with the finding `confirmed`.\n\n\
         ## jobs\n\n{}\n## points\n\n{}",
        described(&JOB_COLUMNS),
        described(&POINT_COLUMNS)
    )
}

fn described(columns: &[Column]) -> String {
    let mut table = "| column | values | what it says |\n| --- | --- | --- |\n".to_owned();
    for column in columns {
        let kind = match column.kind {
            Kind::Words => "words",
            Kind::Number => "whole number",
            Kind::Day => "day, as 2026-06-12",
            Kind::Share => "from 0 to 1",
        };
        let missing = if column.optional { "; may be missing" } else { "" };
        table.push_str(&format!("| `{}` | {kind}{missing} | {} |\n", column.name, column.what));
    }
    table
}

/// The CSV files as a Data Package describes them (Frictionless Standards, Data Package and Table Schema, version 1).
#[must_use]
pub fn data_package() -> Json {
    let resource = |name: &str, columns: &[Column], keys: Json| {
        json!({
            "name": name,
            "path": format!("{name}.csv"),
            "profile": "tabular-data-resource",
            "format": "csv",
            "mediatype": "text/csv",
            "encoding": "utf-8",
            "schema": {
                "fields": columns.iter().map(field).collect::<Vec<_>>(),
                "missingValues": [""],
                "primaryKey": keys,
            },
        })
    };
    let mut points = resource("points", &POINT_COLUMNS, json!(["job", "point"]));
    points["schema"]["foreignKeys"] =
        json!([{"fields": "job", "reference": {"resource": "jobs", "fields": "job"}}]);
    json!({
        "profile": "tabular-data-package",
        "name": "archive",
        "title": "Figures of the archive",
        "resources": [resource("jobs", &JOB_COLUMNS, json!("job")), points],
    })
}

fn field(column: &Column) -> Json {
    let kind = match column.kind {
        Kind::Words => "string",
        Kind::Number => "integer",
        Kind::Day => "date",
        Kind::Share => "number",
    };
    // An empty word is a missing value to such programs: only what always says something is required.
    let required =
        !column.optional && !["maker", "model", "purpose", "held"].contains(&column.name);
    let mut field = json!({"name": column.name, "type": kind, "description": column.what});
    if required {
        field["constraints"] = json!({"required": true});
    }
    field
}
