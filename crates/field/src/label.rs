//! An act in a few words, for the button that takes it back.

use inspection::{PointId, ReadingId};
use quantity::UnitSystem;

use crate::entry::words;
use crate::instruments::name_of;
use crate::{Act, EngagementChange, Said, Visit, finding};

pub(crate) fn of(visit: &Visit, act: &Act) -> Said {
    let title = |point: &PointId| {
        let point = visit.plan().point(point.as_str());
        point.map_or_else(String::new, |point| point.title.clone())
    };
    let about = |key, point: &PointId| Said::new(key).with("what", title(point));
    match act {
        Act::Answer { point, .. } | Act::TakeBackAnswer { point } => about("act-answer", point),
        Act::See { point, .. } | Act::Unsee { point, .. } => about("act-defect", point),
        Act::Note { point, .. } => about("act-note", point),
        Act::Enter(entering) => {
            reading(visit, &entering.point, &entering.reading, &entering.position)
        }
        Act::Correct { reading: id, .. } | Act::Strike { reading: id, .. } => known(visit, id),
        Act::TakePhoto(_) | Act::PlacePhoto { .. } => Said::new("act-photo"),
        Act::PlacePhotos(placed) => Said::new("act-photos").with("count", placed.len().to_string()),
        Act::CropPhoto { .. } => Said::new("act-crop"),
        Act::MarkPhoto { .. } | Act::EraseMark { .. } => Said::new("act-mark"),
        Act::CorrectPhotoTimes { .. } => Said::new("act-clock"),
        Act::AddMemo(spoken) => about("act-memo", &spoken.point),
        Act::StrikeMemo { memo, .. } => {
            let memo = visit.inspection().memos.get(memo);
            memo.map_or_else(
                || Said::new("act-memo").with("what", ""),
                |memo| about("act-memo", &memo.point),
            )
        }
        Act::WriteFinding(written) => Said::new("act-finding").with("what", &written.title),
        Act::ChangeFinding { after, .. } => Said::new("act-finding").with("what", &after.title),
        Act::Confirm { .. } | Act::Withdraw { .. } => Said::new("act-decision"),
        Act::EditFinding { key, .. } => named("act-finding", visit, key),
        Act::Attach { key, .. } | Act::Detach { key, .. } => named("act-evidence", visit, key),
        Act::Recheck { key, .. } => named("act-recheck", visit, key),
        Act::Merge { key, .. } | Act::Unmerge { key } => named("act-merge", visit, key),
        Act::Fit { equipment } | Act::Unfit { equipment } => {
            let known = visit.plan().equipment.iter().find(|known| known.id == *equipment);
            let title = known.map_or_else(|| words(equipment), |known| known.title.clone());
            Said::new("act-equipment").with("what", title)
        }
        Act::StartWait { point } => about("act-wait", point),
        Act::EndWait { wait } => {
            let wait = visit.inspection().waits.get(wait);
            wait.map_or_else(|| Said::new("act-wait"), |wait| about("act-wait", &wait.point))
        }
        Act::SetState { state } | Act::UnsetState { state } => {
            let known = visit.plan().site_states.iter().find(|known| known.id == *state);
            let title = known.map_or_else(|| words(state), |known| known.title.clone());
            Said::new("act-state").with("what", title)
        }
        Act::SetInstrument { after, .. } => Said::new("act-instrument").with("what", &after.name),
        Act::TakeOutInstrument { id } => {
            let known = visit.inspection().instruments.get(id);
            let name = known.map_or_else(|| words(id.as_str()), |known| name_of(id, known));
            Said::new("act-instrument").with("what", name)
        }
        Act::TakeOverInstruments(all) => Said::new("act-instruments").counting("count", all.len()),
        Act::ChangeUnit { .. } => Said::new("act-unit"),
        Act::PutAgreement { .. } => Said::new("act-agreement"),
        Act::ChangeEngagement(change) => Said::new(match change {
            EngagementChange::Fee(_) => "act-fee",
            EngagementChange::Client(_)
            | EngagementChange::Contact(_)
            | EngagementChange::Site(_)
            | EngagementChange::Purpose(_) => "act-job",
            EngagementChange::Scope(_)
            | EngagementChange::Limits(_)
            | EngagementChange::Unit(_)
            | EngagementChange::Day(_)
            | EngagementChange::Payment(_)
            | EngagementChange::Terms { .. } => "act-agreement",
        }),
        Act::ChangeJob { .. } => Said::new("act-job"),
    }
}

/// A sentence about the finding with this key.
fn named(said: &'static str, visit: &Visit, key: &str) -> Said {
    let assessment = visit.assessment(UnitSystem::Us);
    let standing = assessment.findings.iter().find(|finding| finding.key == key);
    let title = standing.map(|finding| finding.title.as_str());
    let recorded = || finding::recorded(visit, key).map(|(_, finding)| finding.title.as_str());
    Said::new(said).with("what", title.or_else(recorded).unwrap_or_default())
}

fn known(visit: &Visit, id: &ReadingId) -> Said {
    match visit.inspection().readings.get(id) {
        Some(known) => reading(visit, &known.point, &known.name, &known.position),
        None => Said::new("act-reading").with("what", ""),
    }
}

fn reading(visit: &Visit, point: &PointId, name: &str, position: &str) -> Said {
    let plan = visit.plan().point(point.as_str()).and_then(|point| point.reading(name));
    let title = plan.map_or(name, |plan| plan.title.as_str());
    let what = if position.is_empty() {
        title.to_owned()
    } else {
        format!("{title}, {}", visit.place_read(position))
    };
    Said::new("act-reading").with("what", what)
}
