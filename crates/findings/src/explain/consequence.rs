//! What a verdict drafted, and what people made of it.

use inspection::{FindingState, Inspection, TimeToAct, Use};
use plan::Point;

use crate::sentence::Voice;
use crate::{Assessment, Ground, LimitResult, PointResult, ValueResult, drafts};

/// The finding that one verdict drafted.
#[derive(Clone, Debug, PartialEq)]
pub struct Consequence {
    /// Its stable key.
    pub key: String,
    /// Short heading.
    pub title: String,
    /// The sentence, with this value's figures.
    pub statement: String,
    /// Uses that the draft stops.
    pub stops: Vec<Use>,
    /// How soon to act.
    pub when: TimeToAct,
    /// Whom to call.
    pub who: String,
    /// What to do at once; empty where it can wait.
    pub stop_work: String,
    /// What kind of ground it stands on.
    pub ground: Ground,
    /// Where it stands in the report.
    pub standing: Standing,
}

/// Where a drafted finding stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Standing {
    /// In the report.
    Stands {
        /// Its number there.
        number: usize,
        /// Whether a person has confirmed it.
        confirmed: bool,
        /// Uses that it stops there: a person may have decided otherwise than the draft.
        stops: Vec<Use>,
    },
    /// It is part of another finding, into which a person merged it.
    Part {
        /// The other's number there.
        number: usize,
    },
    /// A person withdrew it.
    Withdrawn {
        /// The reason in words.
        reason: String,
    },
}

pub(super) fn of(
    point: &Point,
    result: &PointResult,
    value: &ValueResult,
    judged: &LimitResult,
    inspection: &Inspection,
    assessment: &Assessment,
    voice: Voice<'_>,
) -> Option<Consequence> {
    let draft = drafts::drafted(point, result, value, judged, voice)?;
    let stands = assessment.findings.iter().find(|finding| finding.key == draft.key);
    let standing = match stands {
        Some(finding) => Standing::Stands {
            number: finding.number,
            confirmed: finding.confirmed,
            stops: finding.stops.clone(),
        },
        None => match assessment.findings.iter().find(|one| one.merged.contains(&draft.key)) {
            Some(whole) => Standing::Part { number: whole.number },
            None => Standing::Withdrawn { reason: withdrawn(inspection, &draft.key)? },
        },
    };
    Some(Consequence {
        key: draft.key,
        title: draft.title,
        statement: draft.statement,
        stops: draft.stops,
        when: draft.when,
        who: draft.who,
        stop_work: draft.stop_work,
        ground: draft.ground,
        standing,
    })
}

/// Why a person withdrew the draft with this key, or what it was merged into.
fn withdrawn(inspection: &Inspection, key: &str) -> Option<String> {
    let mut key = key;
    // Two findings that were merged into each other at once would lead round for ever.
    for _ in 0..=inspection.findings.len() {
        let mut recorded = inspection.findings.iter();
        let known = |(id, one): &(&inspection::FindingId, &inspection::RecordedFinding)| {
            one.draft.as_deref() == Some(key) || id.as_str() == key
        };
        match &recorded.find(known)?.1.state {
            FindingState::Withdrawn { reason } => return Some(reason.clone()),
            FindingState::Merged { into } => key = into,
            FindingState::Draft | FindingState::Confirmed => return None,
        }
    }
    None
}
