//! Taking back one's own acts: by new edits, so that nothing is deleted.

use inspection::{FindingState, Inspection, Mark, Photo, PhotoId, Wait};
use record::{Author, Edit, Record};

use crate::states::holds;
use crate::{Now, Said, instruments};

/// Why a reading was struck out, or a finding withdrawn, that was taken back. In the report's language.
pub(crate) const TAKEN_BACK: &str = "entered by mistake and taken back";

/// One act that can be taken back.
#[derive(Clone, Debug)]
pub(crate) struct Step {
    /// The edits that take it back, last edit first; ids and times are filled in when they are made.
    pub inverse: Vec<Edit>,
    /// What it was.
    pub label: Said,
}

/// The edits that take these back, if the record stood like this before them; none if one of them stays.
pub(crate) fn inverse(edits: &[Edit], before: &Inspection, record: &Record) -> Option<Vec<Edit>> {
    edits.iter().rev().map(|edit| inverse_of(edit, before, record)).collect()
}

fn inverse_of(edit: &Edit, inspection: &Inspection, record: &Record) -> Option<Edit> {
    Some(match edit.clone() {
        Edit::ChangeJob { before, after } => Edit::ChangeJob { before: after, after: before },
        Edit::ChangeDwelling { before, after } => {
            Edit::ChangeDwelling { before: after, after: before }
        }
        Edit::SetPoint { point, before: Some(before), after } => {
            Edit::SetPoint { point, before: Some(after), after: before }
        }
        Edit::SetPoint { point, before: None, after } => Edit::ClearPoint { point, before: after },
        Edit::ClearPoint { point, before } => Edit::SetPoint { point, before: None, after: before },
        Edit::AddReading { id, .. } => Edit::StrikeOutReading { id, reason: TAKEN_BACK.to_owned() },
        Edit::StrikeOutReading { id, .. } => {
            let mut reading = inspection.readings.get(&id)?.clone();
            reading.struck_out = None;
            Edit::AddReading { id, reading }
        }
        // The draft stands again as before anybody decided on it.
        Edit::AddFinding { id, finding } if finding.draft.is_some() => {
            Edit::ClearFinding { id, before: finding }
        }
        Edit::AddFinding { id, finding } => {
            let mut after = finding.clone();
            after.state = FindingState::Withdrawn { reason: TAKEN_BACK.to_owned() };
            Edit::ChangeFinding { id, before: finding, after }
        }
        Edit::ClearFinding { id, before } => Edit::RestoreFinding { id, finding: before },
        Edit::RestoreFinding { id, finding } => Edit::ClearFinding { id, before: finding },
        Edit::ChangeFinding { id, before, after } => {
            Edit::ChangeFinding { id, before: after, after: before }
        }
        // The file stays and so does its entry, at no point.
        Edit::AddPhoto { id, .. } => {
            Edit::PlacePhoto { id, point: None, position: String::new(), caption: None }
        }
        Edit::PlacePhoto { id, caption, .. } => {
            let Photo { point, position, caption: old, .. } = inspection.photos.get(&id)?.clone();
            Edit::PlacePhoto { id, point, position, caption: caption.map(|_| old) }
        }
        Edit::ChangePhoto { id, before, after } => {
            Edit::ChangePhoto { id, before: after, after: before }
        }
        Edit::MarkPhoto { id, mark_id, .. } => match mark(inspection, record, &id, &mark_id) {
            Some(mark) => Edit::MarkPhoto { id, mark_id, mark },
            None => Edit::EraseMark { id, mark_id },
        },
        Edit::EraseMark { id, mark_id } => {
            let mark = mark(inspection, record, &id, &mark_id)?;
            Edit::MarkPhoto { id, mark_id, mark }
        }
        Edit::AddMemo { id, memo } => {
            Edit::StrikeOutMemo { point: memo.point, id, reason: TAKEN_BACK.to_owned() }
        }
        Edit::StrikeOutMemo { point, id, .. } => Edit::RestoreMemo { point, id },
        Edit::RestoreMemo { point, id } => {
            Edit::StrikeOutMemo { point, id, reason: TAKEN_BACK.to_owned() }
        }
        // Its time is filled in when it is made.
        Edit::StartWait { id, wait } => Edit::EndWait { id, ended: wait.started? },
        Edit::EndWait { id, .. } => {
            let wait = inspection.waits.get(&id)?.clone();
            Edit::StartWait { id, wait: Wait { ended: None, ..wait } }
        }
        Edit::ChangeSiteState { id: _, mut change } => {
            change.on = holds(inspection, &change.state) == Some(true);
            Edit::ChangeSiteState { id: String::new(), change }
        }
        Edit::SetInstrument { id, before: Some(before), after } => {
            Edit::SetInstrument { id, before: Some(after), after: before }
        }
        Edit::SetInstrument { id, before: None, after } => {
            Edit::ClearInstrument { id, before: after }
        }
        Edit::ClearInstrument { id, before } => {
            Edit::SetInstrument { id, before: None, after: before }
        }
        Edit::SetAgreement { before: Some(before), after } => {
            Edit::SetAgreement { before: Some(after), after: before }
        }
        Edit::SetAgreement { before: None, after } => Edit::ClearAgreement { before: after },
        Edit::ClearAgreement { before } => Edit::SetAgreement { before: None, after: before },
        Edit::AddConsent { .. }
        | Edit::WithdrawFinding { .. }
        | Edit::PlacePhotoOnUnit { .. }
        | Edit::Settle { .. } => return None,
    })
}

/// The mark with this id, as it stood.
fn mark(inspection: &Inspection, record: &Record, photo: &PhotoId, mark_id: &str) -> Option<Mark> {
    let at = record.mark_ids(photo).iter().position(|id| id == mark_id)?;
    inspection.photos.get(photo)?.marks.get(at).cloned()
}

/// Edits as they can be made now.
#[derive(Debug, Default)]
pub(crate) struct Fresh {
    /// The edits.
    pub edits: Vec<Edit>,
    /// Things that were struck out or ended and come back under a new id: the old one, and the new.
    pub renamed: Vec<(String, String)>,
}

/// The edits as they can be made now: with new ids, the time, and only if nobody else changed the same.
pub(crate) fn fresh(
    edits: &[Edit],
    inspection: &Inspection,
    record: &Record,
    author: &Author,
    now: Now,
) -> Option<Fresh> {
    let mut nth = 0;
    let mut id = || {
        nth += 1;
        record.fresh_id(author, nth - 1)
    };
    let mut fresh = Fresh::default();
    for edit in edits {
        let mut edit = edit.clone();
        let unchanged = match &mut edit {
            Edit::ChangeJob { before, .. } => **before == inspection.job,
            Edit::ChangeDwelling { before, .. } => **before == inspection.dwelling,
            Edit::SetPoint { point, before, .. } => inspection.points.get(point) == before.as_ref(),
            Edit::ClearPoint { point, before } => inspection.points.get(point) == Some(before),
            Edit::AddReading { id: old, .. } => {
                let new = id();
                fresh.renamed.push((old.to_string(), new.clone()));
                *old = new.into();
                true
            }
            Edit::StrikeOutReading { id, .. } => {
                inspection.readings.get(id).is_some_and(|reading| reading.struck_out.is_none())
            }
            Edit::ChangeFinding { id, before, .. } | Edit::ClearFinding { id, before } => {
                inspection.findings.get(id) == Some(&**before)
            }
            Edit::RestoreFinding { id, .. } => !inspection.findings.contains_key(id),
            Edit::StrikeOutMemo { id, .. } => {
                inspection.memos.get(id).is_some_and(|memo| memo.struck_out.is_none())
            }
            Edit::RestoreMemo { id, .. } => {
                inspection.memos.get(id).is_some_and(|memo| memo.struck_out.is_some())
            }
            Edit::StartWait { id: old, .. } => {
                let new = id();
                fresh.renamed.push((old.to_string(), new.clone()));
                *old = new.into();
                true
            }
            Edit::EndWait { id, ended } => {
                *ended = now.moment;
                inspection.waits.get(id).is_some_and(|wait| wait.ended.is_none())
            }
            Edit::ChangeSiteState { id: new, change } => {
                *new = id();
                change.at = Some(now.moment);
                change.by.clone_from(&author.person);
                true
            }
            Edit::SetInstrument { id, before, .. } => {
                inspection.instruments.get(id) == before.as_ref()
            }
            Edit::ClearInstrument { id, before } => {
                inspection.instruments.get(id) == Some(before)
                    && instruments::uses(inspection, id) == 0
            }
            // Somebody else may have placed or marked it meanwhile, which stays: only its time and what is shown of it are
            // changed back.
            Edit::ChangePhoto { id, before, .. } => inspection
                .photos
                .get(id)
                .is_some_and(|photo| photo.taken == before.taken && photo.crop == before.crop),
            Edit::SetAgreement { before, .. } => {
                inspection.job.engagement.agreement.as_ref() == before.as_deref()
            }
            // Whoever agreed meanwhile agreed to something.
            Edit::ClearAgreement { before } => {
                let engagement = &inspection.job.engagement;
                engagement.agreement.as_ref() == Some(&**before) && engagement.consents.is_empty()
            }
            Edit::AddFinding { .. }
            | Edit::AddConsent { .. }
            | Edit::WithdrawFinding { .. }
            | Edit::AddPhoto { .. }
            | Edit::AddMemo { .. }
            | Edit::PlacePhoto { .. }
            | Edit::PlacePhotoOnUnit { .. }
            | Edit::MarkPhoto { .. }
            | Edit::EraseMark { .. }
            | Edit::Settle { .. } => true,
        };
        if !unchanged {
            return None;
        }
        fresh.edits.push(edit);
    }
    Some(fresh)
}

/// Lets a step speak of things by the ids under which they came back.
pub(crate) fn rename(step: &mut Step, renamed: &[(String, String)]) {
    let new = |id: &str| renamed.iter().find(|(old, _)| old == id).map(|(_, new)| new.clone());
    for edit in &mut step.inverse {
        match edit {
            Edit::AddReading { id, .. } | Edit::StrikeOutReading { id, .. } => {
                if let Some(new) = new(id.as_str()) {
                    *id = new.into();
                }
            }
            Edit::StartWait { id, .. } | Edit::EndWait { id, .. } => {
                if let Some(new) = new(id.as_str()) {
                    *id = new.into();
                }
            }
            _ => {}
        }
    }
}
