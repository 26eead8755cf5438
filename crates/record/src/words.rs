//! An edit in words, for the trail.

use inspection::{Mark, Outcome, RecheckMark, RecordedFinding};

use crate::{Edit, Record};

impl Edit {
    /// The edit in words, as the trail shows it.
    pub(crate) fn in_words(&self, record: &Record) -> String {
        match self {
            Self::ChangeJob { .. } => "changed the job's facts".into(),
            Self::SetAgreement { .. } => "said what is put to the client for consent".into(),
            Self::ClearAgreement { .. } => "took back what was put to the client".into(),
            Self::AddConsent { consent, .. } => format!("{} agreed to the terms", consent.name),
            Self::ChangeDwelling { .. } => "changed the unit's facts".into(),
            Self::SetPoint { point, after, .. } => match &after.outcome {
                Outcome::Examined => format!("{point}: examined"),
                Outcome::NotExamined { reason } => format!("{point}: not examined, {reason}"),
                Outcome::NotFitted => format!("{point}: not fitted"),
            },
            Self::ClearPoint { point, .. } => format!("{point}: taken back"),
            Self::AddReading { reading, .. } => {
                let place = if reading.position.is_empty() {
                    String::new()
                } else {
                    format!(" at {}", reading.position)
                };
                format!("{}: read {}{place} as {}", reading.point, reading.name, reading.entry)
            }
            Self::StrikeOutReading { id, reason } => format!("struck out reading {id}: {reason}"),
            Self::AddFinding { finding, .. } => format!("added the finding “{}”", finding.title),
            Self::ChangeFinding { before, after, .. } if recheck(before) != recheck(after) => {
                match recheck(after) {
                    Some(mark) => {
                        format!("the finding “{}”: {}", after.title, mark.recheck.words())
                    }
                    None => {
                        format!("the finding “{}”: took back what became of it", after.title)
                    }
                }
            }
            Self::ChangeFinding { after, .. } => format!("changed the finding “{}”", after.title),
            Self::ClearFinding { before, .. } => {
                format!("took back the decision on the finding “{}”", before.title)
            }
            Self::RestoreFinding { finding, .. } => {
                format!("decided again on the finding “{}”", finding.title)
            }
            Self::WithdrawFinding { id, reason } => format!("withdrew finding {id}: {reason}"),
            Self::AddPhoto { photo, .. } => format!("added photo {}", photo.file_name),
            Self::ChangePhoto { before, after, .. } if before.crop != after.crop => {
                let what = if after.crop.is_some() { "cut or turned" } else { "shown whole" };
                format!("photo {}: {what}", after.file_name)
            }
            Self::ChangePhoto { after, .. } => format!("changed photo {}", after.file_name),
            Self::PlacePhoto { id, point: Some(point), .. } => {
                format!("placed photo {id} at {point}")
            }
            Self::PlacePhoto { id, point: None, .. } => format!("took photo {id} off its point"),
            Self::PlacePhotoOnUnit { id, .. } => format!("placed photo {id} on the unit"),
            Self::MarkPhoto { id, mark, .. } => {
                let kind = match mark {
                    Mark::Arrow { .. } => "an arrow",
                    Mark::Box { .. } => "a box",
                    Mark::Circle { .. } => "a circle",
                    Mark::Blur { .. } => "a blur",
                    Mark::Words { .. } => "words",
                };
                format!("drew {kind} on photo {id}")
            }
            Self::EraseMark { id, .. } => format!("took a mark off photo {id}"),
            Self::AddMemo { memo, .. } => {
                format!("{}: added a voice memo of {} s", memo.point, memo.seconds)
            }
            Self::StrikeOutMemo { point, reason, .. } => {
                format!("{point}: struck out a voice memo: {reason}")
            }
            Self::RestoreMemo { point, .. } => {
                format!("{point}: let a voice memo stand again")
            }
            Self::StartWait { wait, .. } => format!("{}: started a wait", wait.point),
            Self::EndWait { id, .. } => format!("ended wait {id}"),
            Self::ChangeSiteState { change, .. } => {
                format!("site: {} {}", change.state, if change.on { "on" } else { "off" })
            }
            Self::SetInstrument { after, .. } => format!("set instrument {}", after.name),
            Self::ClearInstrument { before, .. } => format!("took out instrument {}", before.name),
            Self::Settle { field, keep } => {
                let kept = record
                    .value_by(field, *keep)
                    .map_or_else(String::new, |fact| crate::schema::say_fact(&fact));
                format!("settled {field} as: {kept}")
            }
        }
    }
}

/// What a person said became of a carried finding.
fn recheck(finding: &RecordedFinding) -> Option<&RecheckMark> {
    finding.carried.as_ref().and_then(|carried| carried.mark.as_ref())
}
