//! Two findings that are one: the one that stands takes in the other's evidence, places and uses.

use std::collections::BTreeMap;

use inspection::{FindingState, Inspection, PhotoId};

use crate::drafts::{add_place, extend};
use crate::sentence::Voice;
use crate::{Finding, sentence};

/// A finding that a person merged into another.
pub(crate) struct Part {
    pub finding: Finding,
    /// The other's key.
    pub into: String,
}

/// What becomes of a part.
enum Fate {
    /// It belongs to the standing finding with this key.
    In(String),
    /// A person withdrew what it belongs to, and it with it.
    Gone,
    /// What it belonged to is not there any more: it stands by itself again.
    Alone,
}

/// Adds each part to the finding it belongs to. No part gets lost: one whose finding is not brought up any more stands
/// again by itself, as a draft.
pub(crate) fn unite(
    standing: &mut Vec<Finding>,
    parts: Vec<Part>,
    inspection: &Inspection,
    voice: Voice<'_>,
) {
    if parts.is_empty() {
        return;
    }
    let into: BTreeMap<String, String> =
        parts.iter().map(|part| (part.finding.key.clone(), part.into.clone())).collect();
    let fates: Vec<Fate> =
        parts.iter().map(|part| fate(part, &into, standing, inspection)).collect();
    let mut alone = Vec::new();
    for (part, fate) in parts.into_iter().zip(fates) {
        match fate {
            Fate::In(key) => {
                if let Some(whole) = standing.iter_mut().find(|finding| finding.key == key) {
                    add(whole, part.finding, inspection, voice);
                }
            }
            Fate::Gone => {}
            Fate::Alone => alone.push(Finding { confirmed: false, ..part.finding }),
        }
    }
    standing.extend(alone);
}

fn fate(
    part: &Part,
    into: &BTreeMap<String, String>,
    standing: &[Finding],
    inspection: &Inspection,
) -> Fate {
    let mut key = &part.into;
    // Two people may have merged two findings into each other at once: a way that is longer than all parts is a circle.
    for _ in 0..=into.len() {
        if standing.iter().any(|finding| finding.key == *key) {
            return Fate::In(key.clone());
        }
        match into.get(key) {
            Some(next) => key = next,
            None if withdrawn(inspection, key) => return Fate::Gone,
            None => return Fate::Alone,
        }
    }
    Fate::Alone
}

fn withdrawn(inspection: &Inspection, key: &str) -> bool {
    inspection.findings.iter().any(|(id, recorded)| {
        (recorded.draft.as_deref() == Some(key) || id.as_str() == key)
            && matches!(recorded.state, FindingState::Withdrawn { .. })
    })
}

/// Evidence and places are always united. What a person has decided on the whole (its words, its uses, how soon) stays as
/// decided: whoever merges writes those of both into the record.
fn add(whole: &mut Finding, part: Finding, inspection: &Inspection, voice: Voice<'_>) {
    let recorded = whole.recorded.as_ref().and_then(|id| inspection.findings.get(id));
    let out: &[PhotoId] = recorded.map_or(&[], |recorded| &recorded.photos_out);
    let photos: Vec<PhotoId> =
        part.photos.into_iter().filter(|photo| !out.contains(photo)).collect();
    extend(&mut whole.photos, &photos);
    extend(&mut whole.readings, &part.readings);
    add_place(&mut whole.position, &part.position);
    whole.ground = whole.ground.min(part.ground);
    if whole.stop_work.is_empty() {
        whole.stop_work = part.stop_work;
    }
    if recorded.is_none() {
        extend(&mut whole.stops, &part.stops);
        whole.when = whole.when.min(part.when);
    }
    let not_recorded = voice.plan.words.say(sentence::NOT_RECORDED);
    let own_words = recorded.is_some_and(|recorded| !recorded.statement.is_empty());
    if !own_words && !part.statement.contains(&not_recorded) {
        whole.statement = sentence::together(&whole.statement, &part.statement);
    }
    whole.merged.push(part.key);
    whole.merged.extend(part.merged);
}
