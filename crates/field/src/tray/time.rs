//! The line of time of a visit: what was entered when, at which point.

use inspection::{Inspection, Moment, Photo, PointId};
use jiff::civil::DateTime;

const EPOCH: DateTime = DateTime::constant(1970, 1, 1, 0, 0, 0, 0);

/// Something that was entered at a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Entry {
    /// Its place on the line.
    pub(super) seconds: i64,
    /// The same as people read it.
    pub(super) at: Moment,
    /// The point, by its place in walking order.
    pub(super) point: usize,
}

/// Everything that was entered at points, in time.
#[derive(Clone, Debug, Default)]
pub(super) struct Timeline {
    entries: Vec<Entry>,
    /// Minutes east of universal time of the clock that the entries were made by.
    offset: i64,
}

impl Timeline {
    pub(super) fn of(inspection: &Inspection, points: &[PointId]) -> Self {
        let mut times: Vec<(&PointId, Moment)> = Vec::new();
        times.extend(inspection.points.iter().filter_map(|(id, entry)| Some((id, entry.at?))));
        let readings = inspection.readings.values().filter(|reading| reading.struck_out.is_none());
        times.extend(readings.filter_map(|reading| Some((&reading.point, reading.at?))));
        for wait in inspection.waits.values() {
            times.extend(
                [wait.started, wait.ended].into_iter().flatten().map(|at| (&wait.point, at)),
            );
        }
        let memos = inspection.memos.values().filter(|memo| memo.struck_out.is_none());
        times.extend(memos.filter_map(|memo| Some((&memo.point, memo.at?))));
        let offset = usual(times.iter().filter_map(|(_, at)| at.offset_minutes));
        let mut entries: Vec<Entry> = times
            .into_iter()
            .filter_map(|(id, at)| {
                let point = points.iter().position(|one| one == id)?;
                Some(Entry { seconds: seconds(at, offset), at, point })
            })
            .collect();
        entries.sort_by_key(|entry| (entry.seconds, entry.point));
        // A reading and the answer that follows it at once are one visit to the point.
        entries.dedup_by(|later, earlier| {
            later.point == earlier.point && later.seconds - earlier.seconds < 5
        });
        Self { entries, offset }
    }

    /// All of them.
    pub(super) fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// A photo's place on the line.
    pub(super) fn of_photo(&self, photo: &Photo) -> Option<i64> {
        photo.taken.map(|taken| seconds(taken, self.offset))
    }

    /// The last entry up to a place, and the first after it.
    pub(super) fn around(&self, at: i64) -> (Option<&Entry>, Option<&Entry>) {
        let after = self.entries.partition_point(|entry| entry.seconds <= at);
        (after.checked_sub(1).and_then(|before| self.entries.get(before)), self.entries.get(after))
    }

    /// Seconds to the nearest entry.
    pub(super) fn apart(&self, at: i64) -> Option<i64> {
        let (before, after) = self.around(at);
        [before, after].into_iter().flatten().map(|entry| (entry.seconds - at).abs()).min()
    }
}

/// Seconds on the line: as the clock of the entries showed them. A moment without an offset is taken as that clock's.
fn seconds(moment: Moment, offset: i64) -> i64 {
    let local = moment.local.duration_since(EPOCH).as_secs();
    let east = moment.offset_minutes.map_or(offset, i64::from);
    local + 60 * (offset - east)
}

/// The one that comes most often; of several the smallest.
fn usual(offsets: impl Iterator<Item = i16>) -> i64 {
    let mut all: Vec<i16> = offsets.collect();
    all.sort_unstable();
    let longest = all.chunk_by(PartialEq::eq).rev().max_by_key(|same| same.len());
    longest.and_then(|same| same.first()).map_or(0, |offset| i64::from(*offset))
}
