//! What is missing, for the desk: by kind, each with what would close it and the place where that is done.

use findings::{About, Deciding, Gap, Missing, deciding};
use inspection::{InstrumentId, PhotoId, PointId, Use};
use limit::Verdict;
use quantity::UnitSystem;

use crate::entry::words;
use crate::{Said, Visit};

/// What is missing.
#[derive(Clone, Debug, PartialEq)]
pub struct MissingList {
    /// How many things are missing.
    pub count: usize,
    /// They, by kind; kinds of which nothing is missing are left out.
    pub groups: Vec<MissingGroup>,
}

/// All gaps of one kind.
#[derive(Clone, Debug, PartialEq)]
pub struct MissingGroup {
    /// The kind.
    pub gap: Gap,
    /// The kind in words.
    pub what: Said,
    /// Each of them.
    pub rows: Vec<MissingRow>,
}

/// One thing that is missing.
#[derive(Clone, Debug, PartialEq)]
pub struct MissingRow {
    /// What it is about.
    pub title: String,
    /// What is missing of it.
    pub what: Said,
    /// For an undecided verdict: what would decide it, in numbers.
    pub decides: Vec<Said>,
    /// Uses that it keeps open.
    pub keeps_open: Vec<Use>,
    /// Where a person closes it.
    pub target: Target,
    /// The gap in the core's own sentence, as a release names it.
    pub sentence: String,
}

/// A place to go with one press.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Target {
    /// A point.
    Point(PointId),
    /// A reading of a point.
    Reading {
        /// The point.
        point: PointId,
        /// The reading's or the value's name.
        name: String,
        /// Which of several; empty where there is only one.
        position: String,
    },
    /// A finding, by its key.
    Finding(String),
    /// A photo.
    Photo(PhotoId),
    /// An instrument.
    Instrument(InstrumentId),
    /// The job's facts.
    Job,
}

impl Visit {
    /// What is missing, by kind.
    #[must_use]
    pub fn missing(&self, units: UnitSystem) -> MissingList {
        let assessment = self.assessment(units);
        let decisions = deciding(self.plan(), self.inspection(), &assessment, units);
        let mut groups: Vec<MissingGroup> = Vec::new();
        for gap in Gap::ALL {
            let rows: Vec<MissingRow> = assessment
                .missing
                .iter()
                .filter(|missing| missing.what == gap)
                .map(|missing| {
                    let (title, what) = self.missing_in_words(missing, &assessment.findings);
                    let keeps_open = assessment.uses.iter().filter(|one| {
                        missing.point.as_ref().is_some_and(|id| one.open_for.contains(id))
                    });
                    MissingRow {
                        title,
                        what,
                        decides: decided_by(missing, &decisions),
                        keeps_open: keeps_open.map(|one| one.which).collect(),
                        target: target(missing),
                        sentence: missing.sentence.clone(),
                    }
                })
                .collect();
            if !rows.is_empty() {
                groups.push(MissingGroup { gap, what: Said::new(heading_of(gap)), rows });
            }
        }
        MissingList { count: assessment.missing.len(), groups }
    }
}

/// Where a gap is closed.
pub(super) fn target(missing: &Missing) -> Target {
    match (&missing.about, &missing.point) {
        (About::Value { name, position, .. }, Some(point)) => {
            Target::Reading { point: point.clone(), name: name.clone(), position: position.clone() }
        }
        (About::Finding(key), _) => Target::Finding(key.clone()),
        (About::Photo(id), _) => Target::Photo(id.clone()),
        (About::Instrument(id), _) => Target::Instrument(id.clone()),
        (About::Point | About::Wait(_), Some(point)) => Target::Point(point.clone()),
        (About::Agreement, _) | (About::Point | About::Value { .. } | About::Wait(_), None) => {
            Target::Job
        }
    }
}

/// What would decide an undecided verdict.
fn decided_by(missing: &Missing, decisions: &[Deciding]) -> Vec<Said> {
    let About::Value { name, position, limit } = &missing.about else { return Vec::new() };
    let own = |one: &&Deciding| {
        missing.point.as_ref() == Some(&one.point)
            && one.name == *name
            && one.position == *position
            && one.limit == *limit
    };
    if missing.what != Gap::Undecided {
        return Vec::new();
    }
    let Some(one) = decisions.iter().find(own) else { return Vec::new() };
    let at = Said::new("decides-now").with("value", &one.value).with("bound", &one.bound);
    let Some(needed) = one.needed_in_words() else {
        return vec![at, Said::new("decides-other-value")];
    };
    let verdict = match one.verdict {
        Verdict::Conforms => "decides-conforms",
        Verdict::DoesNotConform => "decides-does-not-conform",
        Verdict::BeyondGuidance => "decides-beyond",
        Verdict::Undecided | Verdict::WithinGuidance | Verdict::NoLimit => "decides-within",
    };
    let known = Said::new("decides-known-to")
        .with("needed", needed)
        .with_text("verdict", verdict)
        .with("now", one.now_in_words());
    let mut said = vec![at, known];
    if let Some(better) = &one.better {
        let what = match better.position.as_str() {
            "" => better.title.clone(),
            position => format!("{}, {}", better.title, words(position)),
        };
        said.push(
            Said::new("decides-reading")
                .with("what", what)
                .with("needed", better.needed_in_words())
                .with("now", better.now_in_words()),
        );
    }
    if !one.instruments.is_empty() {
        let names: Vec<&str> = one.instruments.iter().map(|id| id.as_str()).collect();
        said.push(Said::new("decides-instrument").with("which", names.join(", ")));
    }
    said
}

/// The heading of a group: many of a kind, where the row says the one.
fn heading_of(gap: Gap) -> &'static str {
    match gap {
        Gap::NotSettled => "gaps-not-settled",
        Gap::NoReason => "gaps-no-reason",
        Gap::NoReading => "gaps-no-reading",
        Gap::NoPhoto => "gaps-no-photo",
        Gap::Undecided => "gaps-undecided",
        Gap::NoEvidence => "gaps-no-evidence",
        Gap::Calibration => "gaps-calibration",
        Gap::WaitRunning => "gaps-wait-running",
        Gap::PhotoNotPlaced => "gaps-photo-not-placed",
        Gap::NotAgreed => "gaps-not-agreed",
        Gap::AgreedOtherwise => "gaps-agreed-otherwise",
        Gap::NotRechecked => "gaps-not-rechecked",
        Gap::CorrectedButFound => "gaps-corrected-but-found",
    }
}
