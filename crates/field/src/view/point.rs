//! The point at hand: the caution first, what to do, pads for its readings, its findings, its photos.

use inspection::{InstrumentId, Outcome, PhotoId, PointId, ReadingId};
use plan::{HalfMinutes, PlannedWait, Point, Positions, ReadingForm, ReadingPlan};
use quantity::{Unit, UnitSystem};

use super::{FindingRow, MemoRow, PointState, StateNeed};
use crate::entry::unit_choices;
use crate::{Valued, Visit};

/// The point at hand.
#[derive(Clone, Debug, PartialEq)]
pub struct PointView {
    /// The point.
    pub id: PointId,
    /// Its heading.
    pub title: String,
    /// The stop it is examined at, by id and title.
    pub stop: (String, String),
    /// What can hurt, and what to do about it. Comes first.
    pub caution: String,
    /// States of the site that it needs and that are not so.
    pub needs: Vec<StateNeed>,
    /// Points that should come before it and are not done: id and heading.
    pub after: Vec<(PointId, String)>,
    /// What to look at.
    pub look: Vec<String>,
    /// What to operate.
    pub operate: Vec<String>,
    /// What to measure.
    pub measure: Vec<String>,
    /// Hands-on time.
    pub minutes: HalfMinutes,
    /// Its wait, as planned.
    pub wait: Option<PlannedWait>,
    /// What a photo should show; empty where none is wanted.
    pub photo_wanted: String,
    /// Uses that stay open without it.
    pub essential: Vec<inspection::Use>,
    /// What became of it.
    pub state: PointState,
    /// Why it was not examined; empty where it was.
    pub reason: String,
    /// The note.
    pub note: String,
    /// Its readings.
    pub readings: Vec<ReadingView>,
    /// What is computed from them.
    pub computed: Vec<Valued>,
    /// What can be wrong here.
    pub defects: Vec<DefectRow>,
    /// Findings that stand here.
    pub findings: Vec<FindingRow>,
    /// Photos of it, in time.
    pub photos: Vec<PhotoRow>,
    /// Voice memos spoken here that stand, in time.
    pub memos: Vec<MemoRow>,
    /// Entries that could not be read, in sentences.
    pub problems: Vec<String>,
    /// The points before and behind it at the same stop.
    pub neighbours: (Option<PointId>, Option<PointId>),
}

/// One reading of a point.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadingView {
    /// Its name within the point.
    pub name: String,
    /// What to read.
    pub title: String,
    /// Whether the point counts as examined without it.
    pub optional: bool,
    /// How it is entered.
    pub input: ReadingInput,
    /// The places it is taken at, each with what was entered; one with an empty position where there is only one.
    pub pads: Vec<Pad>,
    /// More places can be named.
    pub more_places: bool,
    /// Names that suit more places, used elsewhere.
    pub suggested_places: Vec<String>,
    /// The instrument to offer.
    pub instrument: Option<InstrumentId>,
}

/// How a reading is entered.
#[derive(Clone, Debug, PartialEq)]
pub enum ReadingInput {
    /// A number in one of these units, the preferred one first.
    Quantity(Vec<&'static str>),
    /// One of these words, each as it is recorded and as people read it.
    Choice(Vec<(String, String)>),
    /// A day or a month.
    Date,
    /// Free text.
    Text,
}

/// One place of a reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Pad {
    /// The place, as the record has it; empty where there is only one.
    pub position: String,
    /// The place as people read it.
    pub label: String,
    /// What counts there now.
    pub entered: Option<Entered>,
}

/// A reading that counts.
#[derive(Clone, Debug, PartialEq)]
pub struct Entered {
    /// The reading.
    pub id: ReadingId,
    /// As typed, with its unit.
    pub entry: String,
    /// The same as people read it: a choice may have other words for them.
    pub read: String,
    /// The instrument.
    pub instrument: Option<InstrumentId>,
    /// How often it was read there; the last one counts.
    pub times: usize,
    /// The value, judged; none where the entry could not be read.
    pub value: Option<Valued>,
}

/// Something that can be wrong at a point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DefectRow {
    /// Its id within the point.
    pub id: String,
    /// Heading.
    pub title: String,
    /// It was seen.
    pub seen: bool,
    /// Where it was seen, as people read it.
    pub places: Vec<String>,
}

/// One photo of a point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PhotoRow {
    /// The photo.
    pub id: PhotoId,
    /// What it shows.
    pub caption: String,
    /// Where at the point.
    pub position: String,
}

impl Visit {
    /// The point at hand; none if the unit has no such point.
    #[must_use]
    pub fn point(&self, id: &PointId, units: UnitSystem) -> Option<PointView> {
        let point = self.point_here(id).ok()?;
        let row = self.point_row(id)?;
        let assessed = self.assessed(id, units)?;
        let values = Valued::all(self.plan(), &assessed.result, units);
        let entry = self.inspection().points.get(id);
        let (reads, computed): (Vec<Valued>, Vec<Valued>) =
            values.into_iter().partition(|value| !value.computed);
        let stop = self.plan().stop(&point.stop);
        let here: Vec<PointId> = self
            .points()
            .filter(|other| other.stop == point.stop)
            .map(|other| PointId::from(other.id.as_str()))
            .collect();
        let at = here.iter().position(|other| other == id);
        let neighbour = |at: Option<usize>| at.and_then(|at| here.get(at)).cloned();
        Some(PointView {
            id: id.clone(),
            title: point.title.clone(),
            stop: (point.stop.clone(), stop.map_or_else(String::new, |stop| stop.title.clone())),
            caution: point.caution.clone(),
            needs: self.needs(point),
            after: self.undone_before(point),
            look: point.look.clone(),
            operate: point.operate.clone(),
            measure: point.measure.clone(),
            minutes: point.minutes,
            wait: point.wait.clone(),
            photo_wanted: point.photo.clone(),
            essential: point.essential.clone(),
            state: row.state,
            reason: match entry.map(|entry| &entry.outcome) {
                Some(Outcome::NotExamined { reason }) => reason.clone(),
                Some(Outcome::Examined | Outcome::NotFitted) | None => String::new(),
            },
            note: entry.map_or_else(String::new, |entry| entry.notes.clone()),
            readings: point
                .readings
                .iter()
                .map(|reading| self.reading_view(point, reading, &reads, units))
                .collect(),
            computed,
            defects: point
                .defects
                .iter()
                .map(|defect| {
                    let seen =
                        entry.and_then(|it| it.defects.iter().find(|(id, _)| *id == defect.id));
                    DefectRow {
                        id: defect.id.clone(),
                        title: defect.title.clone(),
                        seen: seen.is_some(),
                        places: seen.map_or_else(Vec::new, |(_, positions)| {
                            positions.iter().map(|position| self.place_read(position)).collect()
                        }),
                    }
                })
                .collect(),
            findings: assessed.findings.iter().map(|one| self.finding_row(one)).collect(),
            photos: assessed
                .result
                .photos
                .iter()
                .filter_map(|id| self.inspection().photos.get_key_value(id))
                .map(|(id, photo)| PhotoRow {
                    id: id.clone(),
                    caption: photo.caption.clone(),
                    position: photo.position.clone(),
                })
                .collect(),
            memos: self.memos(id),
            problems: assessed.problems.iter().map(|it| self.plan().words.say(it)).collect(),
            neighbours: (
                neighbour(at.and_then(|at| at.checked_sub(1))),
                neighbour(at.map(|at| at + 1)),
            ),
        })
    }

    /// Points that should come first and are not done.
    fn undone_before(&self, point: &Point) -> Vec<(PointId, String)> {
        point
            .after
            .iter()
            .filter_map(|id| self.point_row(&PointId::from(id.as_str())))
            .filter(|row| !row.state.is_done())
            .map(|row| (row.id, row.title))
            .collect()
    }

    fn reading_view(
        &self,
        point: &Point,
        plan: &ReadingPlan,
        values: &[Valued],
        units: UnitSystem,
    ) -> ReadingView {
        let id = PointId::from(point.id.as_str());
        let mut positions: Vec<String> = match &plan.positions {
            Positions::One => vec![String::new()],
            Positions::Named(names) => names.clone(),
            Positions::Any => Vec::new(),
        };
        if plan.positions == Positions::Any {
            // The places of this reading, then those where the point's other readings were taken.
            for name in std::iter::once(&plan.id).chain(point.readings.iter().map(|one| &one.id)) {
                for place in self.places_of(&id, name) {
                    if !positions.contains(&place) {
                        positions.push(place);
                    }
                }
            }
        }
        let fits = |pad: &Pad| pad.entered.is_some() || self.has_axle_for(&pad.position);
        let pads: Vec<Pad> = positions
            .into_iter()
            .map(|position| Pad {
                label: self.place_read(&position),
                entered: self.entered(&id, plan, &position, values),
                position,
            })
            .filter(fits)
            .collect();
        let suggested_places = match &plan.positions {
            Positions::Any => self.suggested_places(point, &pads),
            Positions::One | Positions::Named(_) => Vec::new(),
        };
        ReadingView {
            name: plan.id.clone(),
            title: plan.title.clone(),
            optional: plan.optional,
            input: match &plan.form {
                ReadingForm::Quantity { .. } => ReadingInput::Quantity(
                    unit_choices(plan, units).iter().map(|unit: &&Unit| unit.spelling).collect(),
                ),
                ReadingForm::Choice(words) => {
                    let read = |word: &String| plan.shown.get(word).unwrap_or(word).clone();
                    let both = words.iter().map(|word| (word.clone(), read(word)));
                    ReadingInput::Choice(both.collect())
                }
                ReadingForm::Date => ReadingInput::Date,
                ReadingForm::Text => ReadingInput::Text,
            },
            pads,
            more_places: plan.positions == Positions::Any,
            suggested_places,
            instrument: self.usual_instrument(&id, plan),
        }
    }

    /// Wheels of a middle axle are offered only where there are three axles, or nobody said how many.
    fn has_axle_for(&self, position: &str) -> bool {
        !position.ends_with("_middle")
            || !(1..=2).contains(&self.inspection().dwelling.outline.axles)
    }

    fn entered(
        &self,
        point: &PointId,
        plan: &ReadingPlan,
        position: &str,
        values: &[Valued],
    ) -> Option<Entered> {
        let (id, reading) = self.counting(point, &plan.id, position)?;
        let times = self
            .inspection()
            .readings
            .values()
            .filter(|other| {
                other.point == *point
                    && other.name == plan.id
                    && other.position == position
                    && other.struck_out.is_none()
            })
            .count();
        let value = values.iter().find(|value| value.name == plan.id && value.position == position);
        Some(Entered {
            id: id.clone(),
            entry: reading.entry.clone(),
            read: plan.shown.get(&reading.entry).unwrap_or(&reading.entry).clone(),
            instrument: reading.instrument.clone(),
            times,
            value: value.cloned(),
        })
    }

    /// Places of a reading that people named, as they were entered.
    fn places_of(&self, point: &PointId, name: &str) -> Vec<String> {
        let mut found: Vec<_> = self
            .inspection()
            .readings
            .iter()
            .filter(|(_, one)| one.point == *point && one.name == name && one.struck_out.is_none())
            .collect();
        found.sort_by_key(|(id, one)| (one.at, (*id).clone()));
        let mut places = Vec::new();
        for (_, one) in found {
            if !one.position.is_empty() && !places.contains(&one.position) {
                places.push(one.position.clone());
            }
        }
        places
    }

    /// Places that were named at other points of the same system, the most used first.
    fn suggested_places(&self, point: &Point, pads: &[Pad]) -> Vec<String> {
        let mut counts: Vec<(String, usize)> = Vec::new();
        for reading in self.inspection().readings.values() {
            let same_system = self
                .plan()
                .point(reading.point.as_str())
                .is_some_and(|other| other.system == point.system && other.id != point.id);
            let fresh = !reading.position.is_empty()
                && reading.struck_out.is_none()
                && !pads.iter().any(|pad| pad.position == reading.position);
            if same_system && fresh {
                match counts.iter_mut().find(|(place, _)| *place == reading.position) {
                    Some((_, count)) => *count += 1,
                    None => counts.push((reading.position.clone(), 1)),
                }
            }
        }
        counts.sort_by(|one, other| (other.1, &one.0).cmp(&(one.1, &other.0)));
        counts.into_iter().map(|(place, _)| place).take(8).collect()
    }
}
