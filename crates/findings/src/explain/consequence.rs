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
        None => Standing::Withdrawn { reason: withdrawn(inspection, &draft.key)? },
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

/// Why a person withdrew the draft with this key.
fn withdrawn(inspection: &Inspection, key: &str) -> Option<String> {
    let recorded = inspection.findings.values().find(|one| one.draft.as_deref() == Some(key))?;
    match &recorded.state {
        FindingState::Withdrawn { reason } => Some(reason.clone()),
        FindingState::Draft | FindingState::Confirmed => None,
    }
}
