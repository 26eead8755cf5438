//! Findings: those that stand, as drafted or as people wrote them, and those that were withdrawn.

use findings::{Assessment, CarriedState, Finding};
use inspection::{Carried, FindingId, FindingState, PhotoId, PointId, TimeToAct, Use};
use quantity::UnitSystem;

use crate::{Said, Visit};

/// One finding.
#[derive(Clone, Debug, PartialEq)]
pub struct FindingRow {
    /// Its key, for [`crate::Act::Confirm`] and [`crate::Act::Withdraw`].
    pub key: String,
    /// The record's entry, where a person wrote or decided on it.
    pub recorded: Option<FindingId>,
    /// Its number; none where it was withdrawn.
    pub number: Option<usize>,
    /// The point it belongs to.
    pub point: Option<PointId>,
    /// The point's heading.
    pub point_title: String,
    /// Where, as people read it; empty where there is only one place.
    pub position: String,
    /// Heading.
    pub title: String,
    /// The statement for the report.
    pub statement: String,
    /// Uses it stops.
    pub stops: Vec<Use>,
    /// How soon to act.
    pub when: TimeToAct,
    /// Whom to call.
    pub who: String,
    /// What to do at once; empty where it can wait.
    pub stop_work: String,
    /// Photos that show it.
    pub photos: Vec<PhotoId>,
    /// Where it stands.
    pub standing: FindingStanding,
    /// What it was in the earlier job, where it was carried from there.
    pub carried: Option<CarriedRow>,
}

/// What a finding was in an earlier job, and what became of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CarriedRow {
    /// The earlier job's number.
    pub job: String,
    /// The finding's number there.
    pub number: u32,
    /// Its statement then.
    pub statement: String,
    /// What became of it.
    pub state: CarriedState,
    /// The key of that in the interface's texts.
    pub words: Said,
    /// Why it was not seen, or was withdrawn; what was seen of one that was looked at; may be empty.
    pub reason: String,
    /// What its statement ends with by itself; see [`FindingRow::own_words`].
    pub again: String,
    /// Photos that showed it then.
    pub photos_then: Vec<PhotoId>,
    /// Photos of today, those that a person attached first.
    pub photos_now: Vec<PhotoId>,
}

/// Where a finding stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FindingStanding {
    /// Brought up by a reading or an answer; nobody decided on it.
    Drafted,
    /// A person wrote or confirmed it.
    Confirmed,
    /// Withdrawn, and why.
    Withdrawn(String),
    /// A part of another finding, by that one's key.
    Merged(String),
    /// Carried from an earlier job, and there no more.
    Corrected,
}

impl FindingRow {
    /// The statement as a person may write it anew: without what is said by itself of the second look at a carried finding,
    /// which would else stand there twice.
    #[must_use]
    pub fn own_words(&self) -> &str {
        let again = self.carried.as_ref().map_or("", |carried| carried.again.as_str());
        self.statement.strip_suffix(again).unwrap_or(&self.statement).trim_end()
    }
}

impl Visit {
    /// All findings: those that stand, in the report's order, then those withdrawn or merged into others.
    #[must_use]
    pub fn findings(&self, units: UnitSystem) -> Vec<FindingRow> {
        let assessment = self.assessment(units);
        let mut rows: Vec<FindingRow> =
            assessment.findings.iter().map(|finding| self.finding_row(finding)).collect();
        for row in &mut rows {
            row.carried = row.recorded.as_ref().and_then(|id| self.carried_row(&assessment, id));
        }
        for (id, recorded) in &self.inspection().findings {
            let key = recorded.draft.clone().unwrap_or_else(|| id.to_string());
            let corrected = recorded.carried.as_ref().is_some_and(Carried::is_corrected);
            let standing = match &recorded.state {
                FindingState::Draft | FindingState::Confirmed | FindingState::Merged { .. }
                    if corrected =>
                {
                    FindingStanding::Corrected
                }
                FindingState::Draft | FindingState::Confirmed => continue,
                FindingState::Withdrawn { reason } => FindingStanding::Withdrawn(reason.clone()),
                // One that stands by itself again, because the other does not, is listed above.
                FindingState::Merged { .. } if rows.iter().any(|row| row.key == key) => continue,
                FindingState::Merged { into } => FindingStanding::Merged(into.clone()),
            };
            rows.push(FindingRow {
                key,
                recorded: Some(id.clone()),
                number: None,
                point: recorded.point.clone(),
                point_title: self.title_of(recorded.point.as_ref()),
                position: String::new(),
                // The heading of a draft was kept in the words that are recorded.
                title: self.plan().words.say_with(&recorded.title, &[]),
                statement: recorded.statement.clone(),
                stops: recorded.stops.clone(),
                when: recorded.when,
                who: recorded.who.clone(),
                stop_work: String::new(),
                photos: recorded.photos.clone(),
                standing,
                carried: self.carried_row(&assessment, id),
            });
        }
        rows
    }

    fn carried_row(&self, assessment: &Assessment, id: &FindingId) -> Option<CarriedRow> {
        let one = assessment.carried.iter().find(|one| one.finding == *id)?;
        let earlier = self.inspection().job.earlier.as_ref();
        Some(CarriedRow {
            job: earlier.map_or_else(String::new, |earlier| earlier.number.clone()),
            number: one.number_then,
            statement: one.statement.clone(),
            state: one.state,
            words: words_of(one.state),
            reason: one.reason.clone(),
            again: one.again.clone(),
            photos_then: one.photos_then.clone(),
            photos_now: one.photos_now.clone(),
        })
    }

    pub(crate) fn finding_row(&self, finding: &Finding) -> FindingRow {
        FindingRow {
            key: finding.key.clone(),
            recorded: finding.recorded.clone(),
            number: (finding.number > 0).then_some(finding.number),
            point: finding.point.clone(),
            point_title: self.title_of(finding.point.as_ref()),
            position: self.place_read(&finding.position),
            title: finding.title.clone(),
            statement: finding.statement.clone(),
            stops: finding.stops.clone(),
            when: finding.when,
            who: finding.who.clone(),
            stop_work: finding.stop_work.clone(),
            photos: finding.photos.clone(),
            standing: if finding.confirmed {
                FindingStanding::Confirmed
            } else {
                FindingStanding::Drafted
            },
            carried: None,
        }
    }

    pub(crate) fn title_of(&self, point: Option<&PointId>) -> String {
        let planned = point.and_then(|point| self.plan().point(point.as_str()));
        planned.map_or_else(String::new, |planned| planned.title.clone())
    }
}

/// What became of a carried finding, in words.
pub(super) fn words_of(state: CarriedState) -> Said {
    Said::new(match state {
        CarriedState::Corrected => "recheck-corrected",
        CarriedState::NotCorrected => "recheck-not-corrected",
        CarriedState::NotSeen => "recheck-not-seen",
        CarriedState::Open => "recheck-open",
        CarriedState::Withdrawn => "recheck-withdrawn",
    })
}
