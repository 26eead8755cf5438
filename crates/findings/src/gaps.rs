//! What is missing or open, each with what would close it.

use inspection::{Inspection, Outcome, PhotoId};
use jiff::civil::Date;
use limit::Verdict;
use plan::Point;

use crate::agreement;
use crate::index::Index;
use crate::values::{at_position, words};
use crate::{About, CarriedResult, CarriedState, Finding, Gap, Missing, PointResult, uses};

/// Every gap, in walking order; those of findings, instruments and the agreement last.
pub(crate) fn gaps(
    plan: &Index<'_>,
    inspection: &Inspection,
    points: &[(&Point, PointResult)],
    findings: &[Finding],
    carried: &[CarriedResult],
) -> Vec<Missing> {
    let mut gaps = Vec::new();
    for (point, result) in points {
        gaps_of(point, result, &mut gaps);
    }
    for (id, wait) in inspection.waits.iter().filter(|(_, wait)| wait.ended.is_none()) {
        let title =
            plan.point(wait.point.as_str()).map_or(wait.point.as_str(), |point| &point.title);
        gaps.push(Missing {
            what: Gap::WaitRunning,
            point: Some(wait.point.clone()),
            about: About::Wait(id.clone()),
            sentence: format!("{title}: the wait still runs; go back and end it"),
        });
    }
    rechecks(inspection, findings, carried, &mut gaps);
    for finding in findings {
        // What nobody has seen again today needs no evidence of today.
        let unseen = matches!(finding.carried, Some(CarriedState::Open | CarriedState::NotSeen));
        if finding.readings.is_empty() && finding.photos.is_empty() && !unseen {
            gaps.push(Missing {
                what: Gap::NoEvidence,
                point: finding.point.clone(),
                about: About::Finding(finding.key.clone()),
                sentence: format!(
                    "finding {} ({}) has neither reading nor photo; add one, or say in words what was seen",
                    finding.number, finding.title
                ),
            });
        }
    }
    gaps.extend(photos(inspection));
    gaps.extend(calibration(inspection));
    gaps.extend(agreement::gaps(inspection));
    gaps
}

fn gaps_of(point: &Point, result: &PointResult, gaps: &mut Vec<Missing>) {
    let mut push = |what, about, sentence| {
        gaps.push(Missing { what, point: Some(result.point.clone()), about, sentence });
    };
    match &result.outcome {
        None => push(
            Gap::NotSettled,
            About::Point,
            format!("{}: nothing is entered; examine it, or say why not", point.title),
        ),
        Some(Outcome::NotExamined { reason }) if reason.trim().is_empty() => push(
            Gap::NoReason,
            About::Point,
            format!("{}: not examined, and no reason is given; add the reason", point.title),
        ),
        Some(Outcome::Examined) => {
            for reading in uses::missing_readings(point, result) {
                push(
                    Gap::NoReading,
                    value(&reading.id, "", ""),
                    format!(
                        "{}: {} was not read; read it, or say why not",
                        point.title, reading.title
                    ),
                );
            }
            if !point.photo.is_empty() && result.photos.is_empty() {
                push(
                    Gap::NoPhoto,
                    About::Point,
                    format!("{}: no photo; wanted: {}", point.title, point.photo),
                );
            }
        }
        Some(Outcome::NotExamined { .. } | Outcome::NotFitted) => {}
    }
    for read in &result.values {
        for judged in &read.judgements {
            if judged.judgement.verdict == Verdict::Undecided {
                push(
                    Gap::Undecided,
                    value(&read.name, &read.position, &judged.limit.id),
                    format!(
                        "{}: {}{} is undecided; measure again, or with a better instrument",
                        point.title,
                        read.title,
                        at_position(&read.position)
                    ),
                );
            }
        }
    }
}

/// Carried findings of which nobody said what became of them, and those that are said to be corrected and are not.
fn rechecks(
    inspection: &Inspection,
    findings: &[Finding],
    carried: &[CarriedResult],
    gaps: &mut Vec<Missing>,
) {
    let earlier = inspection.job.earlier.as_ref().map_or("", |earlier| earlier.number.as_str());
    for one in carried {
        let mut push = |what, finding: &str, sentence| {
            gaps.push(Missing {
                what,
                point: one.point.clone(),
                about: About::Finding(finding.to_owned()),
                sentence,
            });
        };
        let (number, title) = (one.number_then, &one.title);
        if one.state == CarriedState::Open {
            push(
                Gap::NotRechecked,
                one.finding.as_str(),
                format!(
                    "finding {number} of job {earlier} ({title}): say whether it is corrected, not corrected or not seen"
                ),
            );
        }
        let key = inspection.findings.get(&one.finding).and_then(|it| it.carried.as_ref());
        let again = findings.iter().find(|it| key.is_some_and(|then| then.key == it.key));
        if let (CarriedState::Corrected, Some(again)) = (one.state, again) {
            push(
                Gap::CorrectedButFound,
                again.key.as_str(),
                format!(
                    "finding {number} of job {earlier} ({title}) is said to be corrected, and finding {} of today is the same; say that it is not corrected, or withdraw today's",
                    again.number
                ),
            );
        }
    }
}

fn value(name: &str, position: &str, limit: &str) -> About {
    About::Value { name: name.to_owned(), position: position.to_owned(), limit: limit.to_owned() }
}

/// Photos of no point, no finding and no place on the unit: nobody would ever see them.
fn photos(inspection: &Inspection) -> Vec<Missing> {
    let shown = |id: &PhotoId| inspection.findings.values().any(|one| one.photos.contains(id));
    let mut photos: Vec<_> = inspection
        .photos
        .iter()
        .filter(|(id, photo)| {
            photo.earlier.is_empty() && photo.point.is_none() && photo.place.is_none() && !shown(id)
        })
        .collect();
    photos.sort_by_key(|(id, photo)| (photo.taken, &photo.file_name, *id));
    photos
        .into_iter()
        .map(|(id, photo)| {
            let name =
                if photo.file_name.is_empty() { id.as_str() } else { photo.file_name.as_str() };
            Missing {
                what: Gap::PhotoNotPlaced,
                point: None,
                about: About::Photo(id.clone()),
                sentence: format!("photo {name} belongs to no point; say what it shows"),
            }
        })
        .collect()
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
        gaps.push(Missing {
            what: Gap::Calibration,
            point: None,
            about: About::Instrument(id.clone()),
            sentence,
        });
    }
    gaps
}
