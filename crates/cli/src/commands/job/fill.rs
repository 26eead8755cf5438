//! `nearside job fill`: takes a filled sheet and its photos in, or nothing at all.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use findings::Assessment;
use inspection::Inspection;
use plan::Problem;
use record::Record;
use serde_json::json;

use super::fill_photos::{self, Placed};
use crate::commands::near_hint;
use crate::data_folder::{Place, read_text};
use crate::failure::Failure;
use crate::open_job::{self, OpenJob};
use crate::sheet::read::{Against, one_line, read};
use crate::sheet::{Filled, PhotoShelf, apply};
use crate::{photos, today};

/// Takes a filled sheet in: readings, defects, what was not examined, findings, and the photos.
///
/// If anything in the sheet is wrong, every problem is listed with its line and nothing is changed.
/// Filling the same sheet twice adds nothing; a changed reading is added and the last one counts; what
/// was emptied stays in the record.
///
/// Photos go to the point whose sheet names them, else to the point whose time is nearest (within 15
/// minutes), else they stay unplaced. A file that is no picture is reported and stops no other.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside job fill 2026-001 sheet.toml --photos photos\n  \
        nearside job fill 2026-001 sheet.toml --json")]
pub(crate) struct FillArguments {
    /// The job's number
    job: String,
    /// The filled sheet
    sheet: PathBuf,
    /// Folder of the photos: all JPEG and PNG files in it are taken in
    #[arg(long, value_name = "DIR")]
    photos: Option<PathBuf>,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

/// What filling did.
#[derive(Debug, Default)]
pub(crate) struct Done {
    points: Vec<String>,
    readings: usize,
    facts: Vec<&'static str>,
    findings: usize,
    decisions: usize,
    photos: Vec<Placed>,
    left_alone: Vec<String>,
}

pub(crate) fn run(place: &Place, arguments: &FillArguments) -> Result<(), Failure> {
    let mut job = OpenJob::open(place, &arguments.job)?;
    let text = read_text(&arguments.sheet)?;
    let files = arguments.photos.as_deref().map(photos::files_in).transpose()?.unwrap_or_default();
    let done = fill(&mut job, &arguments.sheet.display().to_string(), &text, &files)?;
    if arguments.json { print_json(&job, &done) } else { print(&job, &done) }
}

/// Takes a sheet's text and the photos in, or nothing at all.
pub(crate) fn fill(
    job: &mut OpenJob,
    sheet_name: &str,
    text: &str,
    files: &[PathBuf],
) -> Result<Done, Failure> {
    let inspection = job.inspection();
    let names = files.iter().map(|path| photos::name_of(path)).collect();
    let shelf = PhotoShelf::new(&inspection, names);
    let against = Against { plan: &job.plan, inspection: &inspection, photos: &shelf };
    let filled =
        read(sheet_name, text, &against).map_err(|problems| refused(sheet_name, &problems))?;
    let assessment = tried(job, &filled, &inspection)?;
    check_decisions(sheet_name, &filled, &inspection, &assessment)?;

    let taken = photos::take(&job.store, &job.id, &inspection, files)?;
    let mut done = Done { left_alone: apply::left_alone(&filled, &inspection), ..Done::default() };
    acts(job, &filled, &inspection, &mut done)?;
    done.photos = fill_photos::place(job, &filled, &taken, &shelf)?;
    findings_and_decisions(job, &filled, &taken, &shelf, &assessment, &mut done)?;
    let now = job.inspection();
    job.store.set_summary(&job.id, &open_job::summary(&now.job, &now.dwelling))?;
    Ok(done)
}

/// All problems at once, and that nothing was changed.
fn refused(sheet: &str, problems: &[Problem]) -> Failure {
    let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
    let count = match problems.len() {
        1 => "1 problem".to_owned(),
        many => format!("{many} problems"),
    };
    Failure::input(format!("{sheet}: {count}; nothing was changed\n{}", lines.join("\n")))
}

/// Makes all edits on a copy of the record first, so that what the record refuses is refused before
/// anything is changed; gives what would follow from them.
fn tried(job: &OpenJob, filled: &Filled, inspection: &Inspection) -> Result<Assessment, Failure> {
    let mut trial: Record = job.record.clone();
    for act in apply::acts(filled) {
        let edits = act.edits(filled, inspection, &trial, &job.author);
        if !edits.is_empty() {
            trial.edit_together(&job.author, today::unix_seconds(), edits).map_err(|error| {
                Failure::input(format!(
                    "the record refuses this sheet, nothing was changed: {error}"
                ))
            })?;
        }
    }
    Ok(findings::assess(&job.plan, &trial.inspection().0))
}

fn check_decisions(
    sheet: &str,
    filled: &Filled,
    inspection: &Inspection,
    assessment: &Assessment,
) -> Result<(), Failure> {
    let keys = || assessment.findings.iter().map(|finding| finding.key.as_str());
    let problems: Vec<Problem> = filled
        .decisions
        .iter()
        .filter(|decision| {
            let key = decision.key.value.as_str();
            !keys().any(|known| known == key) && apply::decided(inspection, key).is_none()
        })
        .map(|decision| Problem {
            file: sheet.to_owned(),
            line: decision.key.spot.line,
            column: decision.key.spot.column,
            message: format!("no finding is drafted under the key `{}`", decision.key.value),
            hint: near_hint(&decision.key.value, keys()),
        })
        .collect();
    if problems.is_empty() { Ok(()) } else { Err(refused(sheet, &problems)) }
}

fn acts(
    job: &mut OpenJob,
    filled: &Filled,
    inspection: &Inspection,
    done: &mut Done,
) -> Result<(), Failure> {
    for act in apply::acts(filled) {
        // Most points say what the record says: those cost no change and no look at the disk.
        if act.edits(filled, inspection, &job.record, &job.author).is_empty() {
            continue;
        }
        let mut readings = 0;
        let made = job.edit(|record, author| {
            let edits = act.edits(filled, &record.inspection().0, record, author);
            readings =
                edits.iter().filter(|edit| matches!(edit, record::Edit::AddReading { .. })).count();
            edits
        })?;
        if !made {
            continue;
        }
        match act {
            apply::Act::Job => done.facts.push("the job"),
            apply::Act::Dwelling => done.facts.push("the unit"),
            apply::Act::Instruments => done.facts.push("the instruments"),
            apply::Act::Point(point) => {
                done.points.push(point.id.to_string());
                done.readings += readings;
            }
        }
    }
    Ok(())
}

fn findings_and_decisions(
    job: &mut OpenJob,
    filled: &Filled,
    taken: &[photos::Taken],
    shelf: &PhotoShelf,
    assessment: &Assessment,
    done: &mut Done,
) -> Result<(), Failure> {
    let now = today::now();
    for finding in &filled.findings {
        let ids = fill_photos::ids(&finding.photos, taken, shelf);
        let made = job.edit(|record, author| {
            let inspection = record.inspection().0;
            apply::finding_edit(finding, &ids, &inspection, record, author, now)
                .into_iter()
                .collect()
        })?;
        done.findings += usize::from(made);
    }
    for decision in &filled.decisions {
        let draft = assessment.findings.iter().find(|one| one.key == decision.key.value);
        let withdraw = decision.withdraw.as_deref();
        let made = job.edit(|record, author| {
            let inspection = record.inspection().0;
            let key = &decision.key.value;
            apply::decision_edit(key, withdraw, draft, &inspection, record, author, now)
                .into_iter()
                .collect()
        })?;
        done.decisions += usize::from(made);
    }
    Ok(())
}

fn print(job: &OpenJob, done: &Done) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    if !done.facts.is_empty() {
        writeln!(out, "changed {}", done.facts.join(", "))?;
    }
    let (points, readings) = (done.points.len(), done.readings);
    writeln!(
        out,
        "points changed {points}, readings added {readings}, findings {}, decisions {}",
        done.findings, done.decisions
    )?;
    fill_photos::print(&mut out, &done.photos)?;
    for sentence in &done.left_alone {
        writeln!(out, "left alone: {}", one_line(sentence))?;
    }
    writeln!(out, "next: nearside assess {}", job.id)?;
    Ok(())
}

fn print_json(job: &OpenJob, done: &Done) -> Result<(), Failure> {
    let object = json!({
        "job": job.id.as_str(),
        "facts_changed": done.facts,
        "points_changed": done.points,
        "readings_added": done.readings,
        "findings_changed": done.findings,
        "decisions_changed": done.decisions,
        "photos": done.photos.iter().map(Placed::to_json).collect::<Vec<_>>(),
        "left_alone": done.left_alone,
    });
    writeln!(std::io::stdout().lock(), "{object}")?;
    Ok(())
}
