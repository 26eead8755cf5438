//! A camera whose clock is off: what must be added to its times so that its photos fall beside what was entered.

use std::collections::BTreeMap;

use inspection::{Photo, PhotoId};

use super::CameraClock;
use super::time::Timeline;

/// Fewer photos of a camera prove nothing.
const LEAST_PHOTOS: usize = 6;
/// A clock that is off by less than this does no harm.
const LEAST_SECONDS: i64 = 120;
/// A photo and an entry so near to each other are beside each other.
const BESIDE_SECONDS: i64 = 60;
/// Spans that are compared first, and how finely those are that do best.
const STEP_SECONDS: i64 = 20;
/// So many spans are looked at closely.
const CANDIDATES: usize = 40;
/// So many photos, spread over all, are enough to find the span by.
const SAMPLE: usize = 60;
/// What is photographed is entered a little later.
const LEAD_SECONDS: i64 = 15;
/// How much better the photos must lie, as a part of the best there is.
const BETTER: f64 = 0.25;

/// Cameras whose clocks seem to be off, by the photos that stand at no point.
pub(super) fn clocks(photos: &[(&PhotoId, &Photo)], timeline: &Timeline) -> Vec<CameraClock> {
    let mut cameras: BTreeMap<&str, Vec<(&PhotoId, i64)>> = BTreeMap::new();
    for (id, photo) in photos.iter().filter(|(_, photo)| photo.point.is_none()) {
        if let Some(at) = timeline.of_photo(photo) {
            cameras.entry(&photo.camera).or_default().push((id, at));
        }
    }
    let all = cameras.into_iter();
    all.filter_map(|(camera, mut photos)| {
        photos.sort_by_key(|(_, at)| *at);
        let times: Vec<i64> = photos.iter().map(|(_, at)| *at).collect();
        let add_seconds = off_by(&times, timeline)?;
        let beside = |add: i64| {
            let near =
                |at: &&i64| timeline.apart(**at + add).is_some_and(|it| it <= BESIDE_SECONDS);
            times.iter().filter(near).count()
        };
        let (beside_now, beside_then) = (beside(0), beside(add_seconds));
        (beside_then > beside_now).then(|| CameraClock {
            camera: camera.to_owned(),
            add_seconds,
            photos: photos.into_iter().map(|(id, _)| id.clone()).collect(),
            beside_now,
            beside_then,
        })
    })
    .collect()
}

/// What must be added to these times, in order, so that they lie beside the entries; none where they lie well as they are, or
/// nothing makes it clear.
fn off_by(times: &[i64], timeline: &Timeline) -> Option<i64> {
    if times.len() < LEAST_PHOTOS || timeline.entries().len() < LEAST_PHOTOS {
        return None;
    }
    let step = times.len().div_ceil(SAMPLE);
    let sample: Vec<i64> = times.iter().step_by(step).copied().collect();
    let mut bins: BTreeMap<i64, usize> = BTreeMap::new();
    for at in &sample {
        for entry in timeline.entries() {
            *bins.entry((entry.seconds - at).div_euclid(STEP_SECONDS)).or_default() += 1;
        }
    }
    let mut bins: Vec<(i64, usize)> = bins.into_iter().collect();
    bins.sort_by_key(|(span, count)| (std::cmp::Reverse(*count), span.abs(), *span));
    let nearness = |add: i64| -> f64 {
        sample.iter().map(|at| near(timeline.apart(at + add + LEAD_SECONDS))).sum()
    };
    let spans = bins.iter().take(CANDIDATES).flat_map(|(bin, _)| {
        let begin = bin * STEP_SECONDS;
        (begin..begin + STEP_SECONDS).step_by(5)
    });
    let best = spans
        .map(|add| (nearness(add), add))
        .max_by(|one, other| one.0.total_cmp(&other.0).then(other.1.abs().cmp(&one.1.abs())))?;
    let (now, then) = (nearness(0), best.0);
    #[allow(clippy::cast_precision_loss, reason = "a few dozen photos")]
    let most = sample.len() as f64;
    // Of whole quarters of an hour a zone or daylight saving is the cause.
    let quarter = (best.1 + 450).div_euclid(900) * 900;
    let add = if (best.1 - quarter).abs() <= 45 { quarter } else { best.1 };
    (add.abs() >= LEAST_SECONDS && then - now >= BETTER * most).then_some(add)
}

/// 1 beside an entry, a third at half a minute, next to nothing beyond some minutes.
fn near(apart: Option<i64>) -> f64 {
    #[allow(clippy::cast_precision_loss, reason = "seconds of a day")]
    let apart = apart.map_or(f64::INFINITY, |apart| apart as f64);
    1.0 / (1.0 + apart * apart / 450.0)
}
