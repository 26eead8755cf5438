//! A stop with its points, each in one line.

use inspection::{Outcome, PointId, Use};
use plan::{HalfMinutes, Point};

use crate::{Visit, edits};

/// A stop's points.
#[derive(Clone, Debug, PartialEq)]
pub struct StopView {
    /// The stop.
    pub id: String,
    /// What people call it.
    pub title: String,
    /// Its points, in walking order.
    pub points: Vec<PointRow>,
    /// The stop before it that has points.
    pub before: Option<String>,
    /// The stop after it that has points.
    pub after: Option<String>,
}

/// A point in one line.
#[derive(Clone, Debug, PartialEq)]
pub struct PointRow {
    /// The point.
    pub id: PointId,
    /// Its heading.
    pub title: String,
    /// What became of it.
    pub state: PointState,
    /// Uses that stay open without it.
    pub essential: Vec<Use>,
    /// Whether a caution stands before it.
    pub caution: bool,
    /// Whether its wait runs.
    pub waiting: bool,
    /// Findings of its own list that were seen there.
    pub seen: usize,
    /// Readings that count.
    pub readings: usize,
    /// Required readings that are missing.
    pub missing: usize,
    /// Photos of it.
    pub photos: usize,
    /// Hands-on time.
    pub minutes: HalfMinutes,
}

/// What became of a point, as far as the walk is concerned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PointState {
    /// Nothing was entered.
    Open,
    /// Something was entered, and no answer yet.
    Begun,
    /// Examined, but a required reading is missing.
    Incomplete,
    /// Examined with all its readings.
    Examined,
    /// Not examined, with a reason.
    NotExamined,
    /// Not fitted.
    NotFitted,
}

impl PointState {
    /// The walk is through with it.
    #[must_use]
    pub fn is_done(self) -> bool {
        match self {
            Self::Examined | Self::NotExamined | Self::NotFitted => true,
            Self::Open | Self::Begun | Self::Incomplete => false,
        }
    }

    /// The key of its word on the screen.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Open => "point-open",
            Self::Begun => "point-begun",
            Self::Incomplete => "point-incomplete",
            Self::Examined => "point-examined",
            Self::NotExamined => "point-not-examined",
            Self::NotFitted => "point-not-fitted",
        }
    }
}

impl Visit {
    /// A stop with its points; none if the plan has no such stop.
    #[must_use]
    pub fn stop(&self, id: &str) -> Option<StopView> {
        let stop = self.plan().stop(id)?;
        let rows = self.point_rows();
        let with_points: Vec<&str> = self
            .plan()
            .stops
            .iter()
            .map(|stop| stop.id.as_str())
            .filter(|stop| rows.iter().any(|(at, _)| at == stop))
            .collect();
        let place = with_points.iter().position(|stop| *stop == id);
        let neighbour = |place: Option<usize>| {
            place.and_then(|at| with_points.get(at)).map(|id| (*id).to_owned())
        };
        Some(StopView {
            id: stop.id.clone(),
            title: stop.title.clone(),
            before: neighbour(place.and_then(|at| at.checked_sub(1))),
            after: neighbour(place.map(|at| at + 1)),
            points: rows.into_iter().filter(|(at, _)| *at == id).map(|(_, row)| row).collect(),
        })
    }

    /// Every point of the unit in one line, with its stop, in walking order.
    pub(crate) fn point_rows(&self) -> Vec<(&str, PointRow)> {
        let inspection = self.inspection();
        // One pass over what was entered, not one for each point.
        let mut read: std::collections::BTreeMap<&str, Vec<&str>> =
            std::collections::BTreeMap::new();
        for reading in inspection.readings.values().filter(|one| one.struck_out.is_none()) {
            read.entry(reading.point.as_str()).or_default().push(reading.name.as_str());
        }
        let mut photos: std::collections::BTreeMap<&str, usize> = std::collections::BTreeMap::new();
        for point in inspection.photos.values().filter_map(|photo| photo.point.as_ref()) {
            *photos.entry(point.as_str()).or_default() += 1;
        }
        self.points()
            .map(|point| {
                let names = read.get(point.id.as_str()).map_or(&[][..], Vec::as_slice);
                let photos = photos.get(point.id.as_str()).copied().unwrap_or(0);
                (point.stop.as_str(), self.row(point, names, photos))
            })
            .collect()
    }

    /// One point in one line.
    #[must_use]
    pub fn point_row(&self, id: &PointId) -> Option<PointRow> {
        let point = self.point_here(id).ok()?;
        let inspection = self.inspection();
        let names: Vec<&str> = inspection
            .readings
            .values()
            .filter(|one| one.point == *id && one.struck_out.is_none())
            .map(|one| one.name.as_str())
            .collect();
        let photos =
            inspection.photos.values().filter(|photo| photo.point.as_ref() == Some(id)).count();
        Some(self.row(point, &names, photos))
    }

    fn row(&self, point: &Point, read: &[&str], photos: usize) -> PointRow {
        let inspection = self.inspection();
        let id = PointId::from(point.id.as_str());
        let missing = point
            .readings
            .iter()
            .filter(|reading| !reading.optional && !read.contains(&reading.id.as_str()))
            .count();
        let entry = inspection.points.get(&id);
        let waiting =
            inspection.waits.values().any(|wait| wait.point == id && wait.ended.is_none());
        let state = match entry.map(|entry| &entry.outcome) {
            Some(Outcome::Examined) if missing > 0 => PointState::Incomplete,
            Some(Outcome::Examined) => PointState::Examined,
            Some(Outcome::NotFitted) => PointState::NotFitted,
            Some(outcome @ Outcome::NotExamined { .. }) if !edits::open(outcome) => {
                PointState::NotExamined
            }
            Some(Outcome::NotExamined { .. }) => PointState::Begun,
            None if !read.is_empty() || photos > 0 || waiting => PointState::Begun,
            None => PointState::Open,
        };
        PointRow {
            title: point.title.clone(),
            state,
            essential: point.essential.clone(),
            caution: !point.caution.is_empty(),
            waiting,
            seen: entry.map_or(0, |entry| entry.defects.len()),
            readings: read.len(),
            missing,
            photos,
            minutes: point.minutes,
            id,
        }
    }
}
