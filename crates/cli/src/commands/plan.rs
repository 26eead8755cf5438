//! `nearside plan`: the plans, their points, and what is wrong in data files.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};
use plan::{Files, Library, Plan, Point};
use serde_json::{Value as Json, json};

use crate::commands::near_hint;
use crate::data_folder::read_text;
use crate::failure::Failure;

/// Lists plans, shows one, and reports every problem in data files.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside plan list\n  nearside plan show purchase\n  nearside plan lint --points my-points"
)]
pub(crate) struct PlanArguments {
    #[command(subcommand)]
    command: PlanCommand,
}

#[derive(Subcommand, Debug)]
enum PlanCommand {
    /// Lists the plans
    #[command(after_help = "Examples:\n  nearside plan list --json")]
    List {
        /// Print a JSON array
        #[arg(long)]
        json: bool,
    },
    /// Shows a plan with all its points, in walking order
    #[command(
        after_help = "Examples:\n  nearside plan show purchase\n  nearside plan show purchase --json"
    )]
    Show {
        /// The plan's id
        plan: String,
        /// Print one JSON object
        #[arg(long)]
        json: bool,
    },
    /// Reports every problem in the data, and runs the worked examples
    #[command(
        after_help = "Examples:\n  nearside plan lint\n  nearside plan lint --points my-points"
    )]
    Lint {
        /// A folder with points of your own, `SYSTEM/ID.toml`; one with a shipped id replaces it
        #[arg(long, value_name = "DIR")]
        points: Option<PathBuf>,
        /// Print a JSON array of the problems
        #[arg(long)]
        json: bool,
    },
}

pub(crate) fn run(arguments: &PlanArguments) -> Result<(), Failure> {
    match &arguments.command {
        PlanCommand::List { json } => list(*json),
        PlanCommand::Show { plan, json } => show(plan, *json),
        PlanCommand::Lint { points, json } => lint(points.as_deref(), *json),
    }
}

/// The data that ships with the program.
pub(crate) fn shipped() -> Result<Library, Failure> {
    plan::load(&Files::embedded()).map_err(|problems| {
        let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
        Failure::failed(format!("the program's own data has problems:\n{}", lines.join("\n")))
    })
}

fn list(json: bool) -> Result<(), Failure> {
    let library = shipped()?;
    let plans: Vec<Plan> = library.plans().filter_map(|(id, _)| library.plan(id)).collect();
    let mut out = std::io::stdout().lock();
    if json {
        let all: Vec<Json> = plans
            .iter()
            .map(|plan| json!({"plan": plan.id, "title": plan.title, "purpose": plan.purpose, "points": plan.points.len()}))
            .collect();
        writeln!(out, "{}", Json::from(all))?;
        return Ok(());
    }
    for plan in plans {
        writeln!(out, "{}  {}, {} points", plan.id, plan.title, plan.points.len())?;
        writeln!(out, "    {}", plan.purpose)?;
    }
    Ok(())
}

fn show(id: &str, json: bool) -> Result<(), Failure> {
    let library = shipped()?;
    let plan = library.plan(id).ok_or_else(|| {
        Failure::input(format!("no plan is called `{id}`"))
            .hint(near_hint(id, library.plans().map(|(id, _)| id)))
    })?;
    let mut out = std::io::stdout().lock();
    if json {
        let points: Vec<Json> = plan.points.iter().map(point_json).collect();
        let object = json!({
            "plan": plan.id,
            "title": plan.title,
            "purpose": plan.purpose,
            "terms": plan.terms,
            "cautions": plan.cautions,
            "points": points,
            "data_revision": plan.data_revision,
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    writeln!(out, "{}\n{}", plan.title, plan.purpose)?;
    let mut stop = "";
    for point in &plan.points {
        if point.stop != stop {
            stop = &point.stop;
            writeln!(out, "\n{}", plan.stop(stop).map_or(stop, |stop| &stop.title))?;
        }
        let fitted: Vec<&str> = point.fitted.iter().map(String::as_str).collect();
        let condition = if fitted.is_empty() {
            String::new()
        } else {
            format!(" (where fitted: {})", fitted.join(", "))
        };
        writeln!(out, "  {:<32} {}, {} min{condition}", point.id, point.title, point.minutes)?;
    }
    writeln!(out, "\ndata revision {}", plan.data_revision)?;
    Ok(())
}

fn point_json(point: &Point) -> Json {
    let limits: Vec<Json> = point
        .limits
        .iter()
        .map(|planned| {
            json!({
                "limit": planned.limit.id,
                "on": planned.limit.on,
                "bound": planned.limit.bound.words(point.unit_of(&planned.limit.on)),
                "source": planned.limit.source.key,
                "section": planned.limit.source.section,
                "basis": planned.limit.basis.word(),
                "footing": planned.limit.footing.word(),
            })
        })
        .collect();
    json!({
        "point": point.id,
        "system": point.system,
        "title": point.title,
        "stop": point.stop,
        "minutes": point.minutes.to_minutes(),
        "caution": point.caution,
        "look": point.look,
        "operate": point.operate,
        "measure": point.measure,
        "after": point.after,
        "needs": point.needs,
        "essential": point.essential.iter().map(|one| one.word()).collect::<Vec<_>>(),
        "fitted": point.fitted,
        "readings": point.readings.iter().map(|reading| json!({"reading": reading.id, "title": reading.title})).collect::<Vec<_>>(),
        "limits": limits,
        "defects": point.defects.iter().map(|defect| json!({"defect": defect.id, "title": defect.title})).collect::<Vec<_>>(),
    })
}

fn lint(points: Option<&Path>, json: bool) -> Result<(), Failure> {
    let mut files = Files::embedded();
    let mut replaced = Vec::new();
    if let Some(folder) = points {
        for (path, text) in own_points(folder)? {
            if let Some(other) = files.add_point(&path, text) {
                replaced.push(format!("{path} replaces {other}"));
            }
        }
    }
    let mut problems: Vec<Json> = Vec::new();
    let mut lines: Vec<String> = Vec::new();
    let mut checked = (0, 0);
    match plan::load(&files) {
        Err(found) => {
            for problem in found {
                lines.push(problem.to_string());
                problems.push(json!({
                    "file": problem.file,
                    "line": problem.line,
                    "column": problem.column,
                    "message": problem.message,
                    "hint": problem.hint,
                }));
            }
        }
        Ok(library) => {
            for plan in library.plans().filter_map(|(id, _)| library.plan(id)) {
                for point in &plan.points {
                    checked = (checked.0 + 1, checked.1 + point.examples.len());
                    for (at, example) in point.examples.iter().enumerate() {
                        for wrong in findings::check_example(&plan, point, example) {
                            let message =
                                format!("example {} ({}): {wrong}", at + 1, example.title);
                            lines.push(format!("{}: {message}", point.file));
                            problems.push(json!({"file": point.file, "line": null, "column": null, "message": message, "hint": ""}));
                        }
                    }
                }
            }
        }
    }
    let mut out = std::io::stdout().lock();
    if json {
        writeln!(out, "{}", Json::from(problems))?;
    } else {
        for line in replaced.iter().chain(&lines) {
            writeln!(out, "{line}")?;
        }
        if lines.is_empty() {
            writeln!(out, "{} points and {} examples: no problem", checked.0, checked.1)?;
        }
    }
    match lines.len() {
        0 => Ok(()),
        1 => Err(Failure::input("one problem in the data")),
        many => Err(Failure::input(format!("{many} problems in the data"))),
    }
}

/// A firm's own points, as paths of the data folder.
fn own_points(folder: &Path) -> Result<Vec<(String, String)>, Failure> {
    let refuse = |path: &Path, error: &std::io::Error| {
        Failure::input(format!("{}: {error}", path.display()))
    };
    let mut points = Vec::new();
    let mut waiting = vec![folder.to_owned()];
    while let Some(next) = waiting.pop() {
        for entry in std::fs::read_dir(&next).map_err(|error| refuse(&next, &error))? {
            let path = entry.map_err(|error| refuse(&next, &error))?.path();
            if path.is_dir() {
                waiting.push(path);
            } else if path.extension().is_some_and(|end| end == "toml") {
                let inside =
                    path.strip_prefix(folder).unwrap_or(&path).to_string_lossy().replace('\\', "/");
                let inside = inside.strip_prefix("points/").unwrap_or(&inside);
                let inside =
                    if inside.contains('/') { inside.to_owned() } else { format!("own/{inside}") };
                points.push((format!("points/{inside}"), read_text(&path)?));
            }
        }
    }
    points.sort();
    Ok(points)
}
