//! An assessment as JSON, which `docs/assess-json.md` describes, and the record beside it.

use findings::{
    Assessment, CarriedResult, Content, Finding, Ground, LimitResult, Origin, ValueResult,
};
use inspection::{Inspection, Outcome};
use plan::Plan;
use record::TrailEntry;
use serde_json::{Value as Json, json};

use crate::commands::formula::quantity_json;

/// The record as a bag holds it in a file and the report's PDF as an attachment: the same bytes in both.
pub(crate) fn record(inspection: &Inspection, trail: &[TrailEntry]) -> String {
    format!("{:#}\n", bag::record_json(inspection, trail))
}

/// The whole assessment.
pub(crate) fn assessment(plan: &Plan, inspection: &Inspection, assessment: &Assessment) -> Json {
    let dwelling = &inspection.dwelling;
    json!({
        "job": inspection.job.number,
        "unit": {
            "kind": dwelling.kind.word(),
            "maker": dwelling.maker,
            "model": dwelling.model,
            "model_year": dwelling.model_year,
            "built": dwelling.built.map(|day| day.to_string()),
            "identification": dwelling.identification,
            "equipment": dwelling.equipment,
        },
        "uses": uses(assessment),
        "findings": assessment.findings.iter().map(finding).collect::<Vec<_>>(),
        "carried": assessment.carried.iter().map(carried).collect::<Vec<_>>(),
        "values": values(plan, assessment),
        "not_examined": not_examined(plan, assessment),
        "missing": assessment.missing.iter().map(|gap| json!({
            "what": gap.what.word(),
            "point": gap.point.as_ref().map(|point| point.as_str()),
            "sentence": gap.sentence,
        })).collect::<Vec<_>>(),
        "problems": assessment.problems,
        "data_revision": plan.data_revision,
        "version": env!("CARGO_PKG_VERSION"),
    })
}

/// The five uses.
pub(crate) fn uses(assessment: &Assessment) -> Json {
    assessment
        .uses
        .iter()
        .map(|one| {
            json!({
                "use": one.which.word(),
                "state": one.state.word(),
                "findings": one.held_by,
                "open_for": one.open_for.iter().map(|point| point.as_str()).collect::<Vec<_>>(),
            })
        })
        .collect()
}

pub(crate) fn finding(finding: &Finding) -> Json {
    json!({
        "number": finding.number,
        "key": finding.key,
        "point": finding.point.as_ref().map(|point| point.as_str()),
        "position": finding.position,
        "title": finding.title,
        "statement": finding.statement,
        "stops": finding.stops.iter().map(|one| one.word()).collect::<Vec<_>>(),
        "when": finding.when.words(),
        "who": finding.who,
        "stop_work": finding.stop_work,
        "ground": ground_word(finding.ground),
        "confirmed": finding.confirmed,
        "readings": finding.readings.iter().map(|id| id.as_str()).collect::<Vec<_>>(),
        "photos": finding.photos.iter().map(|id| id.as_str()).collect::<Vec<_>>(),
        "merged": finding.merged,
        "carried": finding.carried.map(findings::CarriedState::words),
    })
}

/// What became of a finding that was carried from an earlier job.
fn carried(one: &CarriedResult) -> Json {
    json!({
        "finding": one.finding.as_str(),
        "number_then": one.number_then,
        "number": one.number,
        "title": one.title,
        "statement": one.statement,
        "state": one.state.words(),
        "reason": one.reason,
        "by": one.by,
        "photos_then": one.photos_then.iter().map(|id| id.as_str()).collect::<Vec<_>>(),
        "photos_now": one.photos_now.iter().map(|id| id.as_str()).collect::<Vec<_>>(),
    })
}

fn values(plan: &Plan, assessment: &Assessment) -> Vec<Json> {
    assessment
        .points
        .iter()
        .flat_map(|result| {
            result.values.iter().map(|value| value_json(plan, result.point.as_str(), value))
        })
        .collect()
}

/// One value with its judgements.
pub(crate) fn value_json(plan: &Plan, point: &str, value: &ValueResult) -> Json {
    let (formula, readings) = match &value.origin {
        Origin::Read(id) => (None, vec![id.as_str()]),
        Origin::Computed { formula, readings } => {
            (Some(formula.as_str()), readings.iter().map(|id| id.as_str()).collect())
        }
    };
    let content = match &value.content {
        Content::Quantity(quantity) => quantity_json(*quantity, value.unit),
        Content::Words(words) => {
            json!({"value": words, "unit": null, "expanded_uncertainty": null, "coverage_factor": null})
        }
        Content::None(why) => {
            json!({"value": null, "unit": null, "expanded_uncertainty": null, "coverage_factor": null, "why": why})
        }
    };
    let mut object = json!({
        "point": point,
        "name": value.name,
        "title": value.title,
        "position": value.position,
        "formula": formula,
        "readings": readings,
        "judgements": value.judgements.iter().map(|judged| judgement(plan, value, judged)).collect::<Vec<_>>(),
        "notes": value.notes,
    });
    if let (Json::Object(object), Json::Object(content)) = (&mut object, content) {
        object.extend(content);
    }
    object
}

fn judgement(plan: &Plan, value: &ValueResult, judged: &LimitResult) -> Json {
    let limit = &judged.limit;
    let source = plan.source(&limit.source.key);
    let edition = if limit.source.edition.is_empty() {
        source.map_or("", |source| source.edition.as_str())
    } else {
        limit.source.edition.as_str()
    };
    json!({
        "limit": limit.id,
        "bound": limit.bound.words(value.unit),
        "verdict": judged.judgement.verdict.words(Some(limit.basis)),
        "rule": judged.judgement.rule.words(),
        "conformity": judged.judgement.conformity,
        "instrument_unfit": judged.judgement.instrument_unfit,
        "source": limit.source.key,
        "document": source.map(|source| source.title.as_str()),
        "section": limit.source.section,
        "edition": edition,
        "basis": limit.basis.word(),
        "footing": limit.footing.word(),
        "read": read_words(limit.read),
    })
}

/// When the section was read, as data files write it.
pub(crate) fn read_words(read: limit::SectionRead) -> String {
    match read {
        limit::SectionRead::On(day) => day.to_string(),
        limit::SectionRead::Quoted(day) => format!("quoted {day}"),
        limit::SectionRead::No => "no".to_owned(),
    }
}

fn not_examined(plan: &Plan, assessment: &Assessment) -> Vec<Json> {
    assessment
        .points
        .iter()
        .filter_map(|result| match &result.outcome {
            Some(Outcome::NotExamined { reason }) => {
                let title = plan.point(result.point.as_str()).map(|point| point.title.as_str());
                Some(json!({"point": result.point.as_str(), "title": title, "reason": reason}))
            }
            Some(Outcome::Examined | Outcome::NotFitted) | None => None,
        })
        .collect()
}

fn ground_word(ground: Ground) -> &'static str {
    match ground {
        Ground::Limit => "limit",
        Ground::Seen => "seen",
        Ground::Guidance => "guidance",
        Ground::Undecided => "undecided",
    }
}
