//! From an act to the record's edits; what cannot be is refused with a sentence.

use findings::counts_over;
use inspection::{
    FindingState, InstrumentId, Outcome, PointEntry, PointId, Reading, ReadingId, SiteStateChange,
    Wait, WaitId,
};
use plan::{Point, ReadingPlan};
use record::Edit;

use crate::act::{Answer, Entering};
use crate::{Act, Now, Said, Visit, engagement, entry, finding, instruments, memo, photos, states};

/// The edits that an act needs; none if the record says it already.
pub(crate) fn of(visit: &Visit, act: Act, now: Now) -> Result<Vec<Edit>, Said> {
    let inspection = visit.inspection();
    match act {
        Act::Answer { point, answer } => answered(visit, &point, answer, now),
        Act::TakeBackAnswer { point } => {
            let entry = inspection.points.get(&point).cloned();
            Ok(entry.map(|before| Edit::ClearPoint { point, before }).into_iter().collect())
        }
        Act::See { point, defect, position } => seen(visit, &point, &defect, &position, now),
        Act::Unsee { point, defect, position } => {
            Ok(unseen(visit, &point, &defect, &position, now))
        }
        Act::Note { point, text } => {
            visit.point_here(&point)?;
            let (before, mut after) = entry_of(visit, &point, now);
            text.trim().clone_into(&mut after.notes);
            Ok(set_point(point, before, after))
        }
        Act::Enter(entering) => entered(visit, &entering, now),
        Act::Correct { reading, text, unit, instrument } => {
            corrected(visit, &reading, (&text, &unit), instrument.as_ref(), now)
        }
        Act::Strike { reading, reason } => {
            standing(visit, &reading)?;
            let reason = given(&reason, "refusal-no-reason")?;
            Ok(vec![Edit::StrikeOutReading { id: reading, reason }])
        }
        Act::TakePhoto(taken) => photos::taken(visit, taken, now),
        Act::PlacePhoto { photo, point, position, caption } => {
            photos::placed_and_said(visit, photo, point, position, caption)
        }
        Act::PlacePhotos(placed) => placed
            .into_iter()
            .map(|one| photos::placed(visit, one))
            .filter_map(Result::transpose)
            .collect(),
        Act::MarkPhoto { photo, mark_id, mark } => photos::marked(visit, photo, mark_id, mark),
        Act::EraseMark { photo, mark_id } => photos::erased(visit, photo, mark_id),
        Act::CropPhoto { photo, crop } => photos::cropped(visit, photo, crop),
        Act::CorrectPhotoTimes { photos, add_seconds } => {
            photos::corrected(visit, photos, add_seconds)
        }
        Act::AddMemo(spoken) => memo::added(visit, spoken, now),
        Act::StrikeMemo { memo, reason } => {
            memo::struck(visit, memo, given(&reason, "refusal-no-reason")?)
        }
        Act::WriteFinding(written) => finding::written(visit, written, now),
        Act::ChangeFinding { finding, after } => {
            let Some(before) = inspection.findings.get(&finding) else {
                return Err(Said::new("refusal-no-finding"));
            };
            if *before == *after {
                return Ok(Vec::new());
            }
            given(&after.title, "refusal-no-title")?;
            Ok(vec![Edit::ChangeFinding { id: finding, before: Box::new(before.clone()), after }])
        }
        Act::Confirm { key } => finding::decided(visit, &key, FindingState::Confirmed, now),
        Act::Withdraw { key, reason } => {
            let reason = given(&reason, "refusal-no-reason")?;
            finding::decided(visit, &key, FindingState::Withdrawn { reason }, now)
        }
        Act::EditFinding { key, change } => finding::edited(visit, &key, change, now),
        Act::Attach { key, evidence } => finding::attached(visit, &key, evidence, now),
        Act::Detach { key, evidence } => finding::detached(visit, &key, &evidence, now),
        Act::Merge { key, into } => finding::merged(visit, &key, &into, now),
        Act::Unmerge { key } => finding::unmerged(visit, &key),
        Act::Recheck { key, recheck, note } => {
            finding::rechecked(visit, &key, recheck, note.trim(), now)
        }
        Act::Fit { equipment } => fitted(visit, equipment, true),
        Act::Unfit { equipment } => fitted(visit, equipment, false),
        Act::StartWait { point } => started(visit, point, now),
        Act::EndWait { wait } => match inspection.waits.get(&wait) {
            Some(known) if known.ended.is_none() => {
                Ok(vec![Edit::EndWait { id: wait, ended: now.moment }])
            }
            _ => Err(Said::new("refusal-wait-over")),
        },
        Act::SetState { state } => switched(visit, &state, true, now),
        Act::UnsetState { state } => switched(visit, &state, false, now),
        Act::SetInstrument { id, after } => {
            let before = inspection.instruments.get(&id).cloned();
            given(&after.name, "refusal-no-instrument-name")?;
            if before.as_ref() == Some(&after) {
                return Ok(Vec::new());
            }
            Ok(vec![Edit::SetInstrument { id, before, after }])
        }
        Act::TakeOutInstrument { id } => instruments::taken_out(visit, id),
        Act::TakeOverInstruments(all) => Ok(instruments::taken_over(visit, all)),
        Act::ChangeUnit { after } if *after == inspection.dwelling => Ok(Vec::new()),
        Act::ChangeUnit { after } => {
            Ok(vec![Edit::ChangeDwelling { before: Box::new(inspection.dwelling.clone()), after }])
        }
        Act::PutAgreement { language, terms } => engagement::put(visit, &language, &terms),
        Act::ChangeEngagement(change) => engagement::changed(visit, change),
        Act::ChangeJob { after } if *after == inspection.job => Ok(Vec::new()),
        Act::ChangeJob { after } => {
            Ok(vec![Edit::ChangeJob { before: Box::new(inspection.job.clone()), after }])
        }
    }
}

/// A text that must not be empty.
pub(crate) fn given(text: &str, refusal: &'static str) -> Result<String, Said> {
    let text = text.trim();
    if text.is_empty() { Err(Said::new(refusal)) } else { Ok(text.to_owned()) }
}

/// A point's entry as it stands, and the same with the author and the time of now. Without an answer the point
/// stays open: not examined, no reason yet.
fn entry_of(visit: &Visit, point: &PointId, now: Now) -> (Option<PointEntry>, PointEntry) {
    let before = visit.inspection().points.get(point).cloned();
    let mut after = before.clone().unwrap_or(PointEntry {
        outcome: Outcome::NotExamined { reason: String::new() },
        defects: Vec::new(),
        notes: String::new(),
        by: String::new(),
        at: None,
    });
    after.by.clone_from(&visit.author().person);
    after.at = Some(now.moment);
    (before, after)
}

/// The edit, unless it would only change who and when.
fn set_point(point: PointId, before: Option<PointEntry>, after: PointEntry) -> Vec<Edit> {
    let same = before.as_ref().is_some_and(|before| {
        (&before.outcome, &before.defects, &before.notes)
            == (&after.outcome, &after.defects, &after.notes)
    });
    if same { Vec::new() } else { vec![Edit::SetPoint { point, before, after }] }
}

fn answered(visit: &Visit, point: &PointId, answer: Answer, now: Now) -> Result<Vec<Edit>, Said> {
    let planned = visit.point_here(point)?;
    let (before, mut after) = entry_of(visit, point, now);
    after.outcome = match answer {
        Answer::Examined => Outcome::Examined,
        Answer::NotExamined { reason } => {
            Outcome::NotExamined { reason: given(&reason, "refusal-no-reason")? }
        }
        Answer::NotFitted => {
            let read = visit
                .inspection()
                .readings
                .values()
                .any(|reading| reading.point == *point && reading.struck_out.is_none());
            if read || !after.defects.is_empty() {
                return Err(Said::new("refusal-fitted-after-all").with("point", &planned.title));
            }
            Outcome::NotFitted
        }
    };
    Ok(set_point(point.clone(), before, after))
}

fn seen(
    visit: &Visit,
    point: &PointId,
    defect: &str,
    position: &str,
    now: Now,
) -> Result<Vec<Edit>, Said> {
    let planned = visit.point_fitted(point)?;
    if planned.defect(defect).is_none() {
        return Err(Said::new("refusal-no-defect").with("point", &planned.title));
    }
    let (before, mut after) = entry_of(visit, point, now);
    // Who saw a defect has looked.
    if open(&after.outcome) {
        after.outcome = Outcome::Examined;
    }
    let at = after.defects.iter().position(|(id, _)| id == defect).unwrap_or_else(|| {
        after.defects.push((defect.to_owned(), Vec::new()));
        after.defects.len() - 1
    });
    let positions = &mut after.defects[at].1;
    if !position.is_empty() && !positions.iter().any(|one| one == position) {
        positions.push(position.to_owned());
    }
    Ok(set_point(point.clone(), before, after))
}

fn unseen(visit: &Visit, point: &PointId, defect: &str, position: &str, now: Now) -> Vec<Edit> {
    let (before, mut after) = entry_of(visit, point, now);
    if before.is_none() {
        return Vec::new();
    }
    for (id, positions) in &mut after.defects {
        if id == defect {
            positions.retain(|one| one != position);
        }
    }
    after
        .defects
        .retain(|(id, positions)| id != defect || (!position.is_empty() && !positions.is_empty()));
    set_point(point.clone(), before, after)
}

/// Nothing was said of the point yet.
pub(crate) fn open(outcome: &Outcome) -> bool {
    matches!(outcome, Outcome::NotExamined { reason } if reason.trim().is_empty())
}

/// A reading as it would be entered, under the id it would get.
pub(crate) fn reading(
    visit: &Visit,
    entering: &Entering,
    now: Now,
) -> Result<(ReadingId, Reading), Said> {
    let (_, plan) = planned(visit, &entering.point, &entering.reading)?;
    let position = entry::place(plan, &entering.position)?;
    let text = entry::complete(plan, &entering.text, &entering.unit)?;
    let id = ReadingId::from(visit.record().fresh_id(visit.author(), 0));
    let before = visit.counting(&entering.point, &entering.reading, &position);
    let reading = Reading {
        point: entering.point.clone(),
        name: entering.reading.clone(),
        entry: text,
        position,
        instrument: instrument(visit, plan, entering.instrument.as_ref())?,
        // What is entered last counts, so it never gets an earlier time than what it replaces.
        at: Some(now.moment).max(before.and_then(|(_, one)| one.at)),
        by: visit.author().person.clone(),
        struck_out: None,
    };
    Ok((id, reading))
}

fn planned<'v>(
    visit: &'v Visit,
    point: &PointId,
    name: &str,
) -> Result<(&'v Point, &'v ReadingPlan), Said> {
    let planned = visit.point_fitted(point)?;
    let reading = planned.reading(name);
    let reading = reading
        .ok_or_else(|| Said::new("refusal-no-such-reading").with("point", &planned.title))?;
    Ok((planned, reading))
}

/// An instrument bears on quantities only, not on what a plate or a person says.
fn instrument(
    visit: &Visit,
    plan: &ReadingPlan,
    instrument: Option<&InstrumentId>,
) -> Result<Option<InstrumentId>, Said> {
    let Some(id) = instrument else { return Ok(None) };
    if !visit.inspection().instruments.contains_key(id) {
        return Err(Said::new("refusal-no-instrument").with("instrument", id.as_str()));
    }
    let measured = matches!(plan.form, plan::ReadingForm::Quantity { .. });
    Ok(measured.then(|| id.clone()))
}

fn entered(visit: &Visit, entering: &Entering, now: Now) -> Result<Vec<Edit>, Said> {
    let (id, reading) = reading(visit, entering, now)?;
    let mut edits = Vec::new();
    if let Some((old, before)) = visit.counting(&reading.point, &reading.name, &reading.position) {
        let same = before.entry == reading.entry
            && before.at == reading.at
            && before.instrument == reading.instrument;
        if same {
            return Ok(Vec::new());
        }
        if !counts_over((&id, &reading), (old, before)) {
            let reason = format!("entered again as {}", reading.entry);
            edits.push(Edit::StrikeOutReading { id: old.clone(), reason });
        }
    }
    edits.push(Edit::AddReading { id, reading });
    Ok(edits)
}

fn standing<'v>(visit: &'v Visit, id: &ReadingId) -> Result<&'v Reading, Said> {
    match visit.inspection().readings.get(id) {
        Some(reading) if reading.struck_out.is_none() => Ok(reading),
        Some(_) => Err(Said::new("refusal-struck-already")),
        None => Err(Said::new("refusal-no-reading")),
    }
}

fn corrected(
    visit: &Visit,
    old: &ReadingId,
    (text, unit): (&str, &str),
    with: Option<&InstrumentId>,
    now: Now,
) -> Result<Vec<Edit>, Said> {
    let before = standing(visit, old)?;
    let (_, plan) = planned(visit, &before.point, &before.name)?;
    let after = Reading {
        entry: entry::complete(plan, text, unit)?,
        instrument: instrument(visit, plan, with)?,
        at: Some(now.moment).max(before.at),
        by: visit.author().person.clone(),
        ..before.clone()
    };
    if after.entry == before.entry && after.instrument == before.instrument {
        return Ok(Vec::new());
    }
    let reason = format!("typed wrongly; corrected to {}", after.entry);
    let id = ReadingId::from(visit.record().fresh_id(visit.author(), 0));
    Ok(vec![
        Edit::StrikeOutReading { id: old.clone(), reason },
        Edit::AddReading { id, reading: after },
    ])
}

fn fitted(visit: &Visit, equipment: String, fitted: bool) -> Result<Vec<Edit>, Said> {
    if !visit.plan().equipment.iter().any(|known| known.id == equipment) {
        return Err(Said::new("refusal-no-equipment").with("equipment", equipment));
    }
    let before = visit.inspection().dwelling.clone();
    let mut after = before.clone();
    let changed =
        if fitted { after.equipment.insert(equipment) } else { after.equipment.remove(&equipment) };
    let edit = Edit::ChangeDwelling { before: Box::new(before), after: Box::new(after) };
    Ok(if changed { vec![edit] } else { Vec::new() })
}

fn started(visit: &Visit, point: PointId, now: Now) -> Result<Vec<Edit>, Said> {
    let planned = visit.point_here(&point)?;
    if planned.wait.is_none() {
        return Err(Said::new("refusal-no-wait").with("point", &planned.title));
    }
    let mut waits = visit.inspection().waits.values();
    if waits.any(|wait| wait.point == point && wait.ended.is_none()) {
        return Err(Said::new("refusal-wait-runs").with("point", &planned.title));
    }
    let wait =
        Wait { point, started: Some(now.moment), ended: None, by: visit.author().person.clone() };
    let id = WaitId::from(visit.record().fresh_id(visit.author(), 0));
    Ok(vec![Edit::StartWait { id, wait }])
}

fn switched(visit: &Visit, state: &str, set: bool, now: Now) -> Result<Vec<Edit>, Said> {
    if !visit.plan().site_states.iter().any(|known| known.id == state) {
        return Err(Said::new("refusal-no-state").with("state", state));
    }
    if states::holds(visit.inspection(), state) == Some(set) {
        return Ok(Vec::new());
    }
    let (word, on) = states::recorded_as(visit.plan(), state);
    let change = SiteStateChange {
        state: word,
        on: on == set,
        at: Some(now.moment),
        by: visit.author().person.clone(),
    };
    let id = visit.record().fresh_id(visit.author(), 0);
    Ok(vec![Edit::ChangeSiteState { id, change }])
}
