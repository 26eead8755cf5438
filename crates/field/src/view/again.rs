//! A unit inspected again: the findings of then, what became of each, and photos of then and now.

use findings::{CarriedResult, CarriedState};
use inspection::{FindingState, Moment, PhotoId, PointId, Use};
use jiff::civil::Date;
use quantity::UnitSystem;

use super::PhotoEvidence;
use super::findings::words_of;
use crate::{Said, Visit};

/// The findings of the earlier job.
#[derive(Clone, Debug, PartialEq)]
pub struct AgainList {
    /// The earlier job's number.
    pub job: String,
    /// The day of its last visit, if it had one.
    pub visited: Option<Date>,
    /// Its findings, as they were numbered there.
    pub rows: Vec<AgainRow>,
    /// Of how many nobody has said what became of them.
    pub left: usize,
}

/// One of them.
#[derive(Clone, Debug, PartialEq)]
pub struct AgainRow {
    /// Its key, for [`crate::Act::Recheck`] and [`crate::Act::Attach`].
    pub key: String,
    /// Its number in the earlier report.
    pub number: u32,
    /// Its heading then.
    pub title: String,
    /// Where it was; empty where there was only one place.
    pub position: String,
    /// Its statement then.
    pub statement: String,
    /// The point it belongs to, where the unit has it still.
    pub point: Option<PointId>,
    /// That point's heading; empty for none.
    pub point_title: String,
    /// Uses that it stops, or stopped.
    pub stops: Vec<Use>,
    /// What became of it.
    pub state: CarriedState,
    /// The same in words.
    pub words: Said,
    /// Why it was not seen, or what was seen of it; may be empty.
    pub note: String,
    /// Who said so, and when; empty where nobody did.
    pub by: String,
    /// When.
    pub at: Option<Moment>,
    /// Photos that showed it then.
    pub then: Vec<PhotoId>,
    /// Photos of today: those that a person attached first.
    pub now: Vec<PhotoId>,
    /// Photos of its point, and of no point, that do not show it yet.
    pub further: Vec<PhotoEvidence>,
    /// Whether it can be said what became of it: one that was withdrawn, or became a part of another, stays so.
    pub open_to_marks: bool,
}

impl Visit {
    /// What became of the findings of the job that this one inspects again; none for a first inspection.
    #[must_use]
    pub fn again(&self, units: UnitSystem) -> Option<AgainList> {
        let earlier = self.inspection().job.earlier.as_ref()?;
        let assessment = self.assessment(units);
        let rows: Vec<AgainRow> =
            assessment.carried.iter().map(|one| self.again_row(one)).collect();
        let left = rows.iter().filter(|row| row.state == CarriedState::Open).count();
        Some(AgainList { job: earlier.number.clone(), visited: earlier.visited, rows, left })
    }

    fn again_row(&self, one: &CarriedResult) -> AgainRow {
        let recorded = self.inspection().findings.get(&one.finding);
        let state = recorded.map(|recorded| &recorded.state);
        let shown = |id: &PhotoId| one.photos_now.contains(id);
        let photos = self.inspection().photos.iter().filter(|(id, photo)| {
            let near = photo.point.is_none() || photo.point == one.point;
            photo.earlier.is_empty() && near && !shown(id)
        });
        let mut further: Vec<_> = photos.collect();
        further.sort_by_key(|(id, photo)| (photo.point.is_none(), photo.taken, *id));
        AgainRow {
            key: one.finding.to_string(),
            number: one.number_then,
            title: one.title.clone(),
            position: self.place_read(&one.position),
            statement: one.statement.clone(),
            point: one.point.clone(),
            point_title: self.title_of(one.point.as_ref()),
            stops: one.stops.clone(),
            state: one.state,
            words: words_of(one.state),
            note: one.reason.clone(),
            by: one.by.clone(),
            at: one.at,
            then: one.photos_then.clone(),
            now: one.photos_now.clone(),
            further: further
                .into_iter()
                .map(|(id, _)| self.photo_evidence(id, one.point.as_ref()))
                .collect(),
            open_to_marks: matches!(state, Some(FindingState::Draft | FindingState::Confirmed)),
        }
    }
}
