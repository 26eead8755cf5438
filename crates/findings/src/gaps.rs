//! What is missing or open, each with what would close it.

use inspection::{Inspection, Outcome};
use jiff::civil::Date;
use limit::Verdict;
use plan::Point;

use crate::index::Index;
use crate::values::{at_position, words};
use crate::{Finding, Gap, Missing, PointResult, uses};

/// Every gap, in walking order; those of instruments and findings last.
pub(crate) fn gaps(
    plan: &Index<'_>,
    inspection: &Inspection,
    points: &[(&Point, PointResult)],
    findings: &[Finding],
) -> Vec<Missing> {
    let mut gaps = Vec::new();
    for (point, result) in points {
        gaps_of(point, result, &mut gaps);
    }
    for wait in inspection.waits.values().filter(|wait| wait.ended.is_none()) {
        let title =
            plan.point(wait.point.as_str()).map_or(wait.point.as_str(), |point| &point.title);
        gaps.push(Missing {
            what: Gap::WaitRunning,
            point: Some(wait.point.clone()),
            sentence: format!("{title}: the wait still runs; go back and end it"),
        });
    }
    for finding in findings {
        if finding.readings.is_empty() && finding.photos.is_empty() {
            gaps.push(Missing {
                what: Gap::NoEvidence,
                point: finding.point.clone(),
                sentence: format!(
                    "finding {} ({}) has neither reading nor photo; add one, or say in words what was seen",
                    finding.number, finding.title
                ),
            });
        }
    }
    gaps.extend(calibration(inspection));
    gaps
}

fn gaps_of(point: &Point, result: &PointResult, gaps: &mut Vec<Missing>) {
    let mut push =
        |what, sentence| gaps.push(Missing { what, point: Some(result.point.clone()), sentence });
    match &result.outcome {
        None => push(
            Gap::NotSettled,
            format!("{}: nothing is entered; examine it, or say why not", point.title),
        ),
        Some(Outcome::NotExamined { reason }) if reason.trim().is_empty() => push(
            Gap::NoReason,
            format!("{}: not examined, and no reason is given; add the reason", point.title),
        ),
        Some(Outcome::Examined) => {
            for title in uses::missing_readings(point, result) {
                push(
                    Gap::NoReading,
                    format!("{}: {title} was not read; read it, or say why not", point.title),
                );
            }
            if !point.photo.is_empty() && result.photos.is_empty() {
                push(Gap::NoPhoto, format!("{}: no photo; wanted: {}", point.title, point.photo));
            }
        }
        Some(Outcome::NotExamined { .. } | Outcome::NotFitted) => {}
    }
    for value in &result.values {
        for judged in &value.judgements {
            if judged.judgement.verdict == Verdict::Undecided {
                push(
                    Gap::Undecided,
                    format!(
                        "{}: {}{} is undecided; measure again, or with a better instrument",
                        point.title,
                        value.title,
                        at_position(&value.position)
                    ),
                );
            }
        }
    }
}

fn calibration(inspection: &Inspection) -> Vec<Missing> {
    let visited: Option<Date> = inspection.job.visits.last().copied();
    let mut gaps = Vec::new();
    for (id, instrument) in &inspection.instruments {
        let used = inspection
            .readings
            .values()
            .any(|reading| reading.struck_out.is_none() && reading.instrument.as_ref() == Some(id));
        if !used {
            continue;
        }
        let name =
            if instrument.name.is_empty() { words(id.as_str()) } else { instrument.name.clone() };
        let sentence = match (instrument.calibration_due, visited) {
            (Some(due), Some(day)) if due < day => {
                format!(
                    "{name}: its calibration ran out on {due}, before the visit; readings with it say so"
                )
            }
            (None, _) if instrument.calibrated.is_none() => {
                format!("{name}: no calibration is recorded; add its date, or say that it has none")
            }
            _ => continue,
        };
        gaps.push(Missing { what: Gap::Calibration, point: None, sentence });
    }
    gaps
}
