//! Where a photo likely belongs: by the time of what was entered around it, and by the photos around it.
//!
//! What is photographed is mostly entered soon afterwards, and sometimes just before. So an entry speaks for photos
//! taken up to some minutes before it, and less long for those after it. Photos taken one right after the other show the
//! same thing, unless something was entered in between. The spans are common practice; a person decides.

use inspection::{Photo, PhotoId};

use super::Sure;
use super::time::{Entry, Timeline};
use crate::Said;

/// An entry's weight falls to a third in so many seconds before it, and after it.
const BEFORE_SECONDS: f64 = 240.0;
const AFTER_SECONDS: f64 = 60.0;
/// A photo farther from every entry has no suggestion.
const FARTHEST_SECONDS: i64 = 15 * 60;
/// Between two entries of one point, no farther apart than this, hardly anything else was photographed.
const STAY_SECONDS: i64 = 20 * 60;
/// Photos at most so far apart, with no entry in between, show the same thing.
const BURST_SECONDS: i64 = 12;
/// The weight of each point that lies on the way between two entries and has none of its own.
const ON_THE_WAY: f64 = 0.06;
/// The weight of everything else.
const ELSEWHERE: f64 = 0.05;
/// At least so probable is sure, and likely.
const SURE: f64 = 0.8;
const LIKELY: f64 = 0.6;

/// Where a stack likely belongs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Found {
    /// The point, by its place in walking order.
    pub(super) point: usize,
    pub(super) sure: Sure,
    pub(super) why: Why,
}

/// Why.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Why {
    /// Taken so many seconds before an entry there.
    Before(i64),
    /// Taken so many seconds after an entry there.
    After(i64),
    /// Taken between two entries there.
    Between,
    /// The photos before and after it, by their files' names, are of that point.
    Neighbours,
    /// Taken between the entries of two points, as near to the other one.
    Other(usize),
}

impl Why {
    /// In words; `title` says a point's heading.
    pub(super) fn said(self, title: &dyn Fn(usize) -> String) -> Said {
        let span = |key, seconds: i64| {
            let (minutes, rest) = (seconds / 60, seconds % 60);
            Said::new(key)
                .with("minutes", minutes.to_string())
                .with("seconds", format!("{rest:02}"))
        };
        match self {
            Self::Before(seconds) => span("tray-before", seconds),
            Self::After(seconds) => span("tray-after", seconds),
            Self::Between => Said::new("tray-between"),
            Self::Neighbours => Said::new("tray-neighbours"),
            Self::Other(point) => Said::new("tray-or").with("what", title(point)),
        }
    }
}

/// For each stack where it likely belongs; none for those that stand at a point.
pub(super) fn suggestions(
    stacks: &[Vec<usize>],
    photos: &[(&PhotoId, &Photo)],
    timeline: &Timeline,
) -> Vec<Option<Found>> {
    let time =
        |stack: &[usize]| stack.iter().filter_map(|at| timeline.of_photo(photos[*at].1)).min();
    let placed = |stack: &[usize]| stack.iter().any(|at| photos[*at].1.point.is_some());
    let times: Vec<Option<i64>> = stacks.iter().map(|stack| time(stack)).collect();
    let mut found: Vec<Option<Found>> = Vec::with_capacity(stacks.len());
    for (at, stack) in stacks.iter().enumerate() {
        let by_time = times[at].filter(|_| !placed(stack));
        found.push(
            by_time.and_then(|_| by_time_of(middle_of_burst(&times, at, timeline), timeline)),
        );
    }
    for (at, stack) in stacks.iter().enumerate() {
        if times[at].is_none() && !placed(stack) {
            found[at] = by_neighbours(stack, photos, timeline, stacks, &found);
        }
    }
    found
}

/// The middle of the photos that were taken one right after the other around this one.
fn middle_of_burst(times: &[Option<i64>], at: usize, timeline: &Timeline) -> i64 {
    let here = times[at].unwrap_or_default();
    let linked = |one: i64, other: i64| {
        let (first, last) = (one.min(other), one.max(other));
        let (before, after) = (timeline.around(first).1, timeline.around(last).0);
        let entry_between =
            before.zip(after).is_some_and(|(next, last)| next.seconds <= last.seconds);
        last - first <= BURST_SECONDS && !entry_between
    };
    let reach = |range: &mut dyn Iterator<Item = &Option<i64>>| {
        let mut end = here;
        for time in range.map_while(|time| *time) {
            if !linked(end, time) {
                break;
            }
            end = time;
        }
        end
    };
    let first = reach(&mut times[..at].iter().rev());
    let last = reach(&mut times[at + 1..].iter());
    first + (last - first) / 2
}

fn by_time_of(at: i64, timeline: &Timeline) -> Option<Found> {
    let (before, after) = timeline.around(at);
    let near = |entry: &&Entry| (entry.seconds - at).abs() <= FARTHEST_SECONDS;
    if let (Some(one), Some(other)) = (before, after)
        && one.point == other.point
        && other.seconds - one.seconds <= STAY_SECONDS
    {
        return Some(Found { point: one.point, sure: Sure::Sure, why: Why::Between });
    }
    let before = before.filter(near);
    let after = after.filter(near);
    let weight = |entry: &Entry| {
        let apart = seconds_of(entry.seconds - at);
        if apart >= 0.0 { fall(apart, BEFORE_SECONDS) } else { fall(-apart, AFTER_SECONDS) }
    };
    let (best, other) = match (before, after) {
        (Some(one), Some(two)) if weight(one) > weight(two) => (one, Some(two)),
        (one, Some(two)) => (two, one),
        (Some(one), None) => (one, None),
        (None, None) => return None,
    };
    let other = other.filter(|other| other.point != best.point);
    let rival = other.map_or(0.0, weight);
    let way = other.map_or(0, |other| points_between(best.point, other.point, timeline));
    let all = weight(best) + rival + ON_THE_WAY * small(way) + ELSEWHERE;
    let part = weight(best) / all;
    let apart = best.seconds - at;
    let by_itself = if apart >= 0 { Why::Before(apart) } else { Why::After(-apart) };
    let (sure, why) = match other {
        _ if part >= SURE => (Sure::Sure, by_itself),
        _ if part >= LIKELY => (Sure::Likely, by_itself),
        Some(other) => (Sure::Guess, Why::Other(other.point)),
        None => (Sure::Guess, by_itself),
    };
    Some(Found { point: best.point, sure, why })
}

/// How many points lie between two in walking order where nothing was entered.
fn points_between(one: usize, other: usize, timeline: &Timeline) -> usize {
    let between = one.min(other) + 1..one.max(other);
    // Who walked elsewhere meanwhile did not pass all of them.
    if between.len() > 8 {
        return 0;
    }
    between.filter(|point| timeline.entries().iter().all(|entry| entry.point != *point)).count()
}

/// A photo without a time: by the two beside it, if their files' names say so and both belong to one point.
fn by_neighbours(
    stack: &[usize],
    photos: &[(&PhotoId, &Photo)],
    timeline: &Timeline,
    stacks: &[Vec<usize>],
    found: &[Option<Found>],
) -> Option<Found> {
    let name = &photos[*stack.first()?].1.file_name;
    let mut before: Option<(&str, usize)> = None;
    let mut after: Option<(&str, usize)> = None;
    for (other, found) in stacks.iter().zip(found) {
        let Some((photo, found)) = other.first().map(|at| photos[*at].1).zip(*found) else {
            continue;
        };
        if timeline.of_photo(photo).is_none() {
            continue;
        }
        let candidate = (photo.file_name.as_str(), found.point);
        if candidate.0 < name.as_str() {
            before = before.max(Some(candidate));
        } else if candidate.0 > name.as_str() {
            after = Some(after.map_or(candidate, |known| known.min(candidate)));
        }
    }
    let (before, after) = (before?, after?);
    let same_series = |other: &str| series(other) == series(name) && !series(name).is_empty();
    (before.1 == after.1 && same_series(before.0) && same_series(after.0)).then_some(Found {
        point: before.1,
        sure: Sure::Likely,
        why: Why::Neighbours,
    })
}

/// What stands before the number in a file's name.
fn series(name: &str) -> &str {
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    stem.trim_end_matches(|letter: char| letter.is_ascii_digit())
}

/// Falls from 1 to a third in a span.
fn fall(apart: f64, span: f64) -> f64 {
    1.0 / (1.0 + 2.0 * apart / span * (apart / span))
}

#[allow(clippy::cast_precision_loss, reason = "seconds of a day")]
fn seconds_of(seconds: i64) -> f64 {
    seconds as f64
}

#[allow(clippy::cast_precision_loss, reason = "a few points")]
fn small(count: usize) -> f64 {
    count as f64
}
