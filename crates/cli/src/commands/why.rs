//! `nearside why`: one verdict, from what was typed to the sentence in the report.

use std::io::Write;

use clap::Args;
use findings::{
    Accuracy, Budget, Came, Content, Explanation, Fate, How, LimitStep, NoExplanation, Standing,
    explanation_in_words,
};
use quantity::UnitSystem;
use serde_json::{Value as Json, json};

use super::formula::quantity_json;
use super::near_hint;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::json::read_words;
use crate::open_job::OpenJob;

/// Says why a value got its verdict: every step from what was typed to the sentence, with its numbers.
///
/// What was typed, what the instrument is worth, the formula with its inputs and their share of the uncertainty,
/// which limits apply and why others do not, the rule that decided, and what follows for the report.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside why DEMO-2026 tyres age --position right_rear\n  \
        nearside why 2026-001 regulator_lockup lockup --json")]
pub(crate) struct WhyArguments {
    /// The job's number
    job: String,
    /// The point's id
    point: String,
    /// Name of the reading or computed value
    value: String,
    /// Which of several places
    #[arg(long)]
    position: Option<String>,
    /// Metric units
    #[arg(long)]
    si: bool,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &WhyArguments) -> Result<(), Failure> {
    let job = OpenJob::open(place, &arguments.job)?;
    let units = if arguments.si { UnitSystem::Si } else { UnitSystem::Us };
    let position = arguments.position.as_deref();
    let inspection = job.inspection();
    let explanation = findings::explain(
        &job.plan,
        &inspection,
        &arguments.point,
        &arguments.value,
        position,
        units,
    )
    .map_err(|none| refused(&none, arguments))?;
    let mut out = std::io::stdout().lock();
    if arguments.json {
        writeln!(out, "{}", explanation_json(&explanation))?;
    } else {
        write!(out, "{}", explanation_in_words(&job.plan, &explanation, units))?;
    }
    Ok(())
}

fn refused(none: &NoExplanation, arguments: &WhyArguments) -> Failure {
    let WhyArguments { point, value, position, .. } = arguments;
    let near = |name: &str, known: &[String]| near_hint(name, known.iter().map(String::as_str));
    match none {
        NoExplanation::Point { known } => {
            Failure::input(format!("the plan has no point `{point}`")).hint(near(point, known))
        }
        NoExplanation::NotOnUnit { title } => Failure::input(format!(
            "{title} does not belong to this unit by its kind and equipment"
        ))
        .hint("correct kind and equipment on the job's sheet"),
        NoExplanation::Value { known } => {
            Failure::input(format!("{point} has no reading or computed value `{value}`"))
                .hint(near(value, known))
        }
        NoExplanation::NotRead { title, problems } if problems.is_empty() => {
            Failure::input(format!("{title}: nothing was entered, so there is nothing to explain"))
                .hint(format!("enter it with `nearside read JOB {point} {value} …`"))
        }
        NoExplanation::NotRead { title, problems } => {
            Failure::input(format!("{title}: {}", problems.join("; ")))
        }
        NoExplanation::Position { known } => match position {
            Some(position) => Failure::input(format!("{value} was not read at `{position}`"))
                .hint(near(position, known)),
            None => Failure::input(format!("{value} was read in several places"))
                .hint(format!("name one with --position: {}", known.join(", "))),
        },
    }
}

fn explanation_json(explanation: &Explanation) -> Json {
    json!({
        "point": explanation.point.as_str(),
        "title": explanation.point_title,
        "value": came(&explanation.value),
        "limits": explanation.limits.iter().map(|step| limit(step, &explanation.value)).collect::<Vec<_>>(),
    })
}

fn came(came: &Came) -> Json {
    let mut object = json!({
        "point": came.point.as_str(),
        "name": came.name,
        "title": came.title,
        "position": came.position,
    });
    let content = match &came.content {
        Content::Quantity(value) => quantity_json(*value, came.unit),
        Content::Words(words) => json!({ "value": words }),
        Content::None(why) => json!({ "value": null, "why": why }),
    };
    let how = match &came.how {
        How::Entered(entered) => json!({
            "typed": entered.entry,
            "reading": entered.id.as_str(),
            "by": entered.by,
            "at": entered.at.map(|at| at.to_string()),
            "instrument": entered.instrument.as_ref().map(|id| id.as_str()),
            "entries": entered.entries,
            "uncertainty_from": accuracy(&entered.accuracy),
        }),
        How::Computed(computation) => json!({
            "formula": computation.formula.name,
            "part": computation.part,
            "inputs": computation.inputs.iter().map(|input| json!({
                "name": input.name,
                "about": input.about,
                "from": input.from,
                "given": input.argument.is_some(),
                "values": input.sources.iter().map(self::came).collect::<Vec<_>>(),
            })).collect::<Vec<_>>(),
            "uncertainty": budget(&computation.budget),
        }),
        How::Unknown => json!({}),
    };
    if let Json::Object(object) = &mut object {
        for more in [content, how] {
            if let Json::Object(more) = more {
                object.extend(more);
            }
        }
        object.insert("notes".to_owned(), json!(came.notes));
    }
    object
}

fn accuracy(accuracy: &Accuracy) -> Json {
    match accuracy {
        Accuracy::Words => Json::Null,
        Accuracy::Typed => json!("typed"),
        Accuracy::Usual => json!("usual instrument"),
        Accuracy::Unknown => json!("unknown"),
        Accuracy::Sheet(sheet) => json!({
            "instrument": sheet.name,
            "percent_of_reading": sheet.percent,
            "counts": sheet.counts,
            "digit": sheet.digit,
            "unit": sheet.unit.spelling,
        }),
    }
}

/// Standard uncertainties in SI base units.
fn budget(budget: &Budget) -> Json {
    match budget {
        Budget::Nothing => json!({ "method": "none" }),
        Budget::Untold => json!({ "method": "not known" }),
        Budget::FirstOrder { parts, standard } => json!({
            "method": "first order",
            "standard": standard,
            "parts": parts.iter().map(|part| json!({
                "inputs": part.inputs,
                "shared_by": part.shared_by.as_ref().map(|id| id.as_str()),
                "standard": part.standard,
                "share": part.share,
            })).collect::<Vec<_>>(),
        }),
        Budget::Simulated { trials, seed, refused, simulated } => json!({
            "method": "simulation",
            "trials": trials,
            "seed": seed,
            "refused": refused,
            "standard": simulated.standard,
            "low": simulated.low,
            "high": simulated.high,
        }),
    }
}

fn limit(step: &LimitStep, value: &Came) -> Json {
    let limit = &step.limit;
    let mut object = json!({
        "limit": limit.id,
        "bound": limit.bound.words(value.unit),
        "bound_from_record": step.bound_from_record,
        "source": limit.source.key,
        "section": limit.source.section,
        "basis": limit.basis.word(),
        "footing": limit.footing.word(),
        "read": read_words(limit.read),
    });
    let fate = match &step.fate {
        Fate::Judged(judgement) => json!({
            "applies": true,
            "verdict": judgement.verdict.words(Some(limit.basis)),
            "rule": judgement.rule.words(),
            "conformity": judgement.conformity,
            "instrument_unfit": judgement.instrument_unfit,
        }),
        Fate::NotHeld(why) => json!({ "applies": false, "why_not": why }),
    };
    let follows = step.consequence.as_ref().map(|consequence| {
        json!({
            "key": consequence.key,
            "title": consequence.title,
            "statement": consequence.statement,
            "stops": consequence.stops.iter().map(|one| one.word()).collect::<Vec<_>>(),
            "stop_work": consequence.stop_work,
            "standing": match &consequence.standing {
                Standing::Stands { number, confirmed, .. } => json!({ "finding": number, "confirmed": confirmed }),
                Standing::Part { number } => json!({ "part_of_finding": number }),
                Standing::Withdrawn { reason } => json!({ "withdrawn": reason }),
            },
        })
    });
    if let (Json::Object(object), Json::Object(fate)) = (&mut object, fate) {
        object.extend(fate);
        object.insert("follows".to_owned(), json!(follows));
    }
    object
}
