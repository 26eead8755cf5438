//! The photo tray: all photos in time beside the points' own times, and where each one likely belongs.
//!
//! Nothing of it is stored: a suggestion is a guess from time and order, and becomes a fact only when a person takes it.

mod alike;
mod clock;
mod suggest;
mod time;

use inspection::{Moment, Photo, PhotoId, PointId};

use crate::{Said, Visit};
use time::Timeline;

/// All photos of a job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tray {
    /// Photos and entries in time; photos without a time come last, by their files' names.
    pub rows: Vec<TrayRow>,
    /// The points that the unit has, in walking order.
    pub points: Vec<TrayPoint>,
    /// Cameras whose clocks seem to be off.
    pub clocks: Vec<CameraClock>,
    /// How many photos there are.
    pub photos: usize,
    /// How many stand at no point.
    pub to_place: usize,
    /// How many photos nobody measured: those are stacked by their time alone, and not looked at for sharpness.
    pub unmeasured: usize,
}

/// A row of the tray.
#[derive(Clone, Debug, PartialEq)]
pub enum TrayRow {
    /// A photo, in front of those that are nearly alike.
    Photos(Box<Stack>),
    /// Something was entered at a point.
    Entry {
        /// When.
        at: Moment,
        /// Where.
        point: PointId,
        /// The point's heading.
        title: String,
    },
}

/// Photos of the same thing, taken one after the other.
#[derive(Clone, Debug, PartialEq)]
pub struct Stack {
    /// The sharpest.
    pub front: TrayPhoto,
    /// The others, in time.
    pub behind: Vec<TrayPhoto>,
    /// Where they likely belong; none where they stand at a point, or nothing hints at one.
    pub suggestion: Option<Suggestion>,
}

/// One photo of the tray.
#[derive(Clone, Debug, PartialEq)]
pub struct TrayPhoto {
    /// The photo.
    pub id: PhotoId,
    /// Its file's name.
    pub file_name: String,
    /// When it was taken.
    pub taken: Option<Moment>,
    /// Where it stands.
    pub point: Option<PointId>,
    /// That point's heading.
    pub point_title: String,
    /// What it shows, in words.
    pub caption: String,
    /// It is much less sharp than the others.
    pub unsharp: bool,
    /// It is too dark or too bright to show much.
    pub exposure: Option<Exposure>,
    /// How many marks are drawn over it.
    pub marks: usize,
}

/// How a photo is exposed that shows little.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exposure {
    /// Too dark.
    Dark,
    /// Too bright.
    Bright,
}

/// Where a photo likely belongs.
#[derive(Clone, Debug, PartialEq)]
pub struct Suggestion {
    /// The point.
    pub point: PointId,
    /// Its heading.
    pub title: String,
    /// How sure that is.
    pub sure: Sure,
    /// Why.
    pub why: Said,
}

/// How sure a suggestion is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sure {
    /// One of several that are as likely.
    Guess,
    /// More likely than all others.
    Likely,
    /// Hardly anything else can be.
    Sure,
}

/// A point of the tray.
#[derive(Clone, Debug, PartialEq)]
pub struct TrayPoint {
    /// The point.
    pub id: PointId,
    /// Its heading.
    pub title: String,
    /// Its stop's heading.
    pub stop: String,
    /// When something was entered there first and last.
    pub times: Option<(Moment, Moment)>,
    /// How many photos stand there.
    pub photos: usize,
    /// What the plan wants a photo of there; empty where it wants none.
    pub wanted: String,
}

/// A camera whose clock seems to be off.
#[derive(Clone, Debug, PartialEq)]
pub struct CameraClock {
    /// The camera, as it names itself; empty where the photos do not say.
    pub camera: String,
    /// What must be added to its photos' times, seconds.
    pub add_seconds: i64,
    /// Its photos that stand at no point, whose times are corrected together.
    pub photos: Vec<PhotoId>,
    /// How many of them lie beside an entry as they are.
    pub beside_now: usize,
    /// How many would.
    pub beside_then: usize,
}

impl Visit {
    /// The tray as it stands.
    #[must_use]
    pub fn tray(&self) -> Tray {
        let points: Vec<PointId> =
            self.points().map(|point| PointId::from(point.id.as_str())).collect();
        // Photos of an earlier job stand beside their findings, and are placed nowhere today.
        let photos = self.inspection().photos.iter().filter(|(_, photo)| photo.earlier.is_empty());
        let photos: Vec<(&PhotoId, &Photo)> = photos.collect();
        let timeline = Timeline::of(self.inspection(), &points);
        let median = alike::median_sharpness(&photos);
        let stacks = alike::stacks(&photos, &timeline);
        let suggested = suggest::suggestions(&stacks, &photos, &timeline);
        let title =
            |point: usize| points.get(point).map_or_else(String::new, |id| self.heading(id));
        let mut rows: Vec<((bool, i64, bool), TrayRow)> = Vec::new();
        for (stack, found) in stacks.iter().zip(suggested) {
            let Some((front, behind)) = stack.split_first() else { continue };
            let sharpest = photos[*front].1.sharpness;
            let row = |at: usize| self.tray_photo(photos[at], median.max(sharpest));
            let suggestion = found.and_then(|found| {
                let point = points.get(found.point)?.clone();
                let why = found.why.said(&title);
                Some(Suggestion { title: self.heading(&point), point, sure: found.sure, why })
            });
            let at = stack.iter().filter_map(|at| timeline.of_photo(photos[*at].1)).min();
            let shown = Stack {
                front: row(*front),
                behind: behind.iter().map(|at| row(*at)).collect(),
                suggestion,
            };
            rows.push((
                (at.is_none(), at.unwrap_or_default(), true),
                TrayRow::Photos(Box::new(shown)),
            ));
        }
        for entry in timeline.entries() {
            let Some(point) = points.get(entry.point) else { continue };
            let row =
                TrayRow::Entry { at: entry.at, point: point.clone(), title: self.heading(point) };
            rows.push(((false, entry.seconds, false), row));
        }
        // The order is stable: photos without a time stay by their files' names.
        rows.sort_by_key(|(place, _)| *place);
        Tray {
            rows: rows.into_iter().map(|(_, row)| row).collect(),
            points: self.tray_points(&points, &timeline),
            clocks: clock::clocks(&photos, &timeline),
            photos: photos.len(),
            to_place: photos.iter().filter(|(_, photo)| photo.point.is_none()).count(),
            unmeasured: photos.iter().filter(|(_, photo)| !alike::measured(photo)).count(),
        }
    }

    fn heading(&self, point: &PointId) -> String {
        self.plan().point(point.as_str()).map_or_else(String::new, |point| point.title.clone())
    }

    fn tray_photo(&self, (id, photo): (&PhotoId, &Photo), sharp: f64) -> TrayPhoto {
        TrayPhoto {
            id: id.clone(),
            file_name: photo.file_name.clone(),
            taken: photo.taken,
            point: photo.point.clone(),
            point_title: photo.point.as_ref().map_or_else(String::new, |point| self.heading(point)),
            caption: photo.caption.clone(),
            unsharp: alike::unsharp(photo, sharp),
            exposure: alike::exposure(photo),
            marks: photo.marks.len(),
        }
    }

    fn tray_points(&self, ids: &[PointId], timeline: &Timeline) -> Vec<TrayPoint> {
        let mut photos = vec![0; ids.len()];
        for photo in self.inspection().photos.values() {
            let at = photo.point.as_ref().and_then(|point| ids.iter().position(|id| id == point));
            if let Some(count) = at.and_then(|at| photos.get_mut(at)) {
                *count += 1;
            }
        }
        let points = self.points().zip(photos).enumerate();
        points
            .map(|(at, (point, photos))| {
                let mut times = timeline
                    .entries()
                    .iter()
                    .filter(|entry| entry.point == at)
                    .map(|entry| entry.at);
                let first = times.next();
                TrayPoint {
                    id: PointId::from(point.id.as_str()),
                    title: point.title.clone(),
                    stop: self.stop_title(&point.stop),
                    times: first.map(|first| (first, times.next_back().unwrap_or(first))),
                    photos,
                    wanted: point.photo.clone(),
                }
            })
            .collect()
    }

    fn stop_title(&self, stop: &str) -> String {
        let known = self.plan().stops.iter().find(|known| known.id == stop);
        known.map_or_else(|| stop.to_owned(), |known| known.title.clone())
    }
}
