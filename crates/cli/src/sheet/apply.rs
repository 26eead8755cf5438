//! From a filled sheet to edits of the record: only what differs, each point one change.

use findings::{Finding, counts_over};
use inspection::{
    FindingId, FindingState, Inspection, Moment, Outcome, PhotoId, PointEntry, Reading, ReadingId,
    RecordedFinding, TimeToAct, Wait, WaitId,
};
use record::{Author, Edit, Record};

use super::{Filled, FilledFinding, FilledPoint, FilledReading, FilledWait};
use crate::counting::counting;

/// One act of the sheet: a group of edits that become one change.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Act<'a> {
    Job,
    Dwelling,
    Instruments,
    Point(&'a FilledPoint),
}

/// All acts of a sheet before photos, findings and decisions.
pub(crate) fn acts(filled: &Filled) -> Vec<Act<'_>> {
    let mut acts = vec![Act::Job, Act::Dwelling, Act::Instruments];
    acts.extend(filled.points.iter().map(Act::Point));
    acts
}

impl Act<'_> {
    /// The edits that this act still needs; none if the record says it already.
    pub(crate) fn edits(
        self,
        filled: &Filled,
        inspection: &Inspection,
        record: &Record,
        author: &Author,
    ) -> Vec<Edit> {
        match self {
            Self::Job if filled.job != inspection.job => vec![Edit::ChangeJob {
                before: Box::new(inspection.job.clone()),
                after: Box::new(filled.job.clone()),
            }],
            Self::Dwelling if filled.dwelling != inspection.dwelling => {
                vec![Edit::ChangeDwelling {
                    before: Box::new(inspection.dwelling.clone()),
                    after: Box::new(filled.dwelling.clone()),
                }]
            }
            Self::Job | Self::Dwelling => Vec::new(),
            Self::Instruments => filled
                .instruments
                .iter()
                .filter(|(id, after)| inspection.instruments.get(*id) != Some(*after))
                .map(|(id, after)| Edit::SetInstrument {
                    id: id.clone(),
                    before: inspection.instruments.get(id).cloned(),
                    after: after.clone(),
                })
                .collect(),
            Self::Point(point) => point_edits(point, inspection, record, author),
        }
    }
}

fn point_edits(
    filled: &FilledPoint,
    inspection: &Inspection,
    record: &Record,
    author: &Author,
) -> Vec<Edit> {
    let mut edits = Vec::new();
    let before = inspection.points.get(&filled.id);
    if let Some(after) = entry(filled, before, author)
        && before.is_none_or(|before| !same(before, &after))
    {
        edits.push(Edit::SetPoint { point: filled.id.clone(), before: before.cloned(), after });
    }
    let mut nth = 0;
    for reading in &filled.readings {
        edits.extend(reading_edits(filled, reading, inspection, record, author, &mut nth));
    }
    edits.extend(wait_edit(filled, inspection, record, author, nth));
    edits
}

/// What the record lacks of the point's wait: all of it, or its end.
fn wait_edit(
    filled: &FilledPoint,
    inspection: &Inspection,
    record: &Record,
    author: &Author,
    nth: u32,
) -> Option<Edit> {
    let FilledWait { started, ended } = filled.wait?;
    let known = inspection
        .waits
        .iter()
        .find(|(_, wait)| wait.point == filled.id && wait.started == Some(started));
    match known {
        Some((id, wait)) if wait.ended != ended => {
            Some(Edit::EndWait { id: id.clone(), ended: ended? })
        }
        Some(_) => None,
        None => Some(Edit::StartWait {
            id: WaitId::from(record.fresh_id(author, nth)),
            wait: Wait {
                point: filled.id.clone(),
                started: Some(started),
                ended,
                by: author.person.clone(),
            },
        }),
    }
}

/// The point's entry as it should stand; none if nothing is said of it.
fn entry(filled: &FilledPoint, before: Option<&PointEntry>, author: &Author) -> Option<PointEntry> {
    let evidence = !filled.readings.is_empty() || !filled.found.is_empty();
    let outcome = if filled.not_fitted {
        Outcome::NotFitted
    } else if !filled.not_examined.is_empty() {
        Outcome::NotExamined { reason: filled.not_examined.clone() }
    } else if filled.examined || evidence {
        Outcome::Examined
    } else {
        before?.outcome.clone()
    };
    let mut defects = before.map_or_else(Vec::new, |before| before.defects.clone());
    for (id, positions) in &filled.found {
        super::read_points::add_defect(&mut defects, id, "");
        for position in positions {
            super::read_points::add_defect(&mut defects, id, position);
        }
    }
    let notes = if filled.notes.is_empty() {
        before.map_or_else(String::new, |before| before.notes.clone())
    } else {
        filled.notes.clone()
    };
    let at = filled.at.or_else(|| before.and_then(|before| before.at));
    Some(PointEntry { outcome, defects, notes, by: author.person.clone(), at })
}

/// Whether two entries say the same, whoever entered them.
fn same(one: &PointEntry, other: &PointEntry) -> bool {
    (&one.outcome, &one.defects, &one.notes, one.at)
        == (&other.outcome, &other.defects, &other.notes, other.at)
}

fn reading_edits(
    point: &FilledPoint,
    filled: &FilledReading,
    inspection: &Inspection,
    record: &Record,
    author: &Author,
    nth: &mut u32,
) -> Vec<Edit> {
    let counted = counting(inspection, point.id.as_str(), &filled.name);
    let current = counted.into_iter().find(|(_, one)| one.position == filled.position);
    let instrument = filled.instrument.clone();
    if let Some((_, current)) = current
        && current.entry == filled.entry
        && (instrument.is_none() || current.instrument == instrument)
    {
        return Vec::new();
    }
    let id = ReadingId::from(record.fresh_id(author, *nth));
    *nth += 1;
    let reading = Reading {
        point: point.id.clone(),
        name: filled.name.clone(),
        entry: filled.entry.clone(),
        position: filled.position.clone(),
        instrument: instrument.or_else(|| current.and_then(|(_, one)| one.instrument.clone())),
        // What is written last counts, so it is never given an earlier time than what it replaces.
        at: point.at.max(current.and_then(|(_, one)| one.at)),
        by: author.person.clone(),
        struck_out: None,
    };
    let mut edits = Vec::new();
    if let Some((old, current)) = current
        && !counts_over((&id, &reading), (old, current))
    {
        let reason = format!("entered again as {}", reading.entry);
        edits.push(Edit::StrikeOutReading { id: old.clone(), reason });
    }
    edits.push(Edit::AddReading { id, reading });
    edits
}

/// What the record has and the sheet no longer names, in sentences.
pub(crate) fn left_alone(filled: &Filled, inspection: &Inspection) -> Vec<String> {
    let mut left = filled.left_alone.clone();
    for point in &filled.points {
        let Some(entry) = inspection.points.get(&point.id) else {
            if point.at.is_some() && point.readings.is_empty() && entry_is_empty(point) {
                left.push(format!(
                    "{}: its time is kept only once it is examined or said not to be",
                    point.title
                ));
            }
            continue;
        };
        for (id, positions) in &entry.defects {
            let named = point.found.iter().find(|(found, _)| found == id);
            let all =
                named.is_some_and(|(_, found)| positions.iter().all(|one| found.contains(one)));
            if !all {
                left.push(format!(
                    "{}: the defect {id} is no longer in the sheet and stays in the record \
                     (`nearside point {} {} --not-found {id}` takes it back)",
                    point.title, inspection.job.number, point.id
                ));
            }
        }
        if point.notes.is_empty() && !entry.notes.is_empty() {
            left.push(format!("{}: the notes are empty in the sheet and stay", point.title));
        }
        let settled = point.examined
            || point.not_fitted
            || !point.not_examined.is_empty()
            || !point.readings.is_empty()
            || !point.found.is_empty();
        let unsaid = match &entry.outcome {
            Outcome::Examined | Outcome::NotFitted => true,
            Outcome::NotExamined { reason } => !reason.is_empty(),
        };
        if !settled && unsaid {
            left.push(format!(
                "{}: what became of it is empty in the sheet and stays",
                point.title
            ));
        }
    }
    left
}

fn entry_is_empty(point: &FilledPoint) -> bool {
    !point.examined && !point.not_fitted && point.not_examined.is_empty() && point.found.is_empty()
}

/// The edit that a finding of the sheet still needs.
pub(crate) fn finding_edit(
    filled: &FilledFinding,
    photos: &[PhotoId],
    inspection: &Inspection,
    record: &Record,
    author: &Author,
    now: Moment,
) -> Option<Edit> {
    let known = match &filled.id {
        Some(id) => inspection.findings.get_key_value(id),
        None => inspection.findings.iter().find(|(_, finding)| {
            finding.draft.is_none()
                && finding.title == filled.title
                && finding.point == filled.point
                && finding.statement == filled.statement
        }),
    };
    let finding = |kept: RecordedFinding| RecordedFinding {
        point: filled.point.clone(),
        title: filled.title.clone(),
        statement: filled.statement.clone(),
        photos: photos.to_vec(),
        stops: filled.stops.clone(),
        when: filled.when,
        who: filled.who.clone(),
        ..kept
    };
    match known {
        None => Some(Edit::AddFinding {
            id: FindingId::from(record.fresh_id(author, 0)),
            finding: Box::new(finding(RecordedFinding {
                state: FindingState::Confirmed,
                ..RecordedFinding::blank(&author.person, Some(now))
            })),
        }),
        Some((id, before)) => {
            let mut after = finding(before.clone());
            if photos.is_empty() {
                after.photos.clone_from(&before.photos);
            }
            (after != *before).then(|| Edit::ChangeFinding {
                id: id.clone(),
                before: Box::new(before.clone()),
                after: Box::new(after),
            })
        }
    }
}

/// The recorded decision on a drafted finding, by its key.
pub(crate) fn decided<'a>(
    inspection: &'a Inspection,
    key: &str,
) -> Option<(&'a FindingId, &'a RecordedFinding)> {
    inspection.findings.iter().find(|(_, finding)| finding.draft.as_deref() == Some(key))
}

/// The edit that records a decision on a draft, to confirm it or to withdraw it with a reason; none if
/// it stands already.
pub(crate) fn decision_edit(
    key: &str,
    withdraw: Option<&str>,
    draft: Option<&Finding>,
    inspection: &Inspection,
    record: &Record,
    author: &Author,
    now: Moment,
) -> Option<Edit> {
    let state = match withdraw {
        None => FindingState::Confirmed,
        Some(reason) => FindingState::Withdrawn { reason: reason.to_owned() },
    };
    if let Some((id, before)) = decided(inspection, key) {
        let after = RecordedFinding { state, ..before.clone() };
        return (after != *before).then(|| Edit::ChangeFinding {
            id: id.clone(),
            before: Box::new(before.clone()),
            after: Box::new(after),
        });
    }
    let finding = RecordedFinding {
        point: draft.and_then(|draft| draft.point.clone()),
        draft: Some(key.to_owned()),
        // The statement follows the readings, so it is not frozen here.
        title: draft.map_or_else(String::new, |draft| draft.title.clone()),
        stops: draft.map_or_else(Vec::new, |draft| draft.stops.clone()),
        when: draft.map_or(TimeToAct::Soon, |draft| draft.when),
        state,
        ..RecordedFinding::blank(&author.person, Some(now))
    };
    Some(Edit::AddFinding {
        id: FindingId::from(record.fresh_id(author, 0)),
        finding: Box::new(finding),
    })
}
