//! Photos of the same thing, one behind the other, and photos that show little.

use inspection::{Photo, PhotoId};
use look::{Fingerprint, NEARLY_ALIKE_BITS, SAME_MOMENT_SECONDS};

use super::Exposure;
use super::time::Timeline;

/// Photos that nobody measured are one shot if they were taken within so many seconds: a finger held down.
const BURST_SECONDS: i64 = 2;
/// A photo whose sharpness is a smaller part of the usual one than this may be blurred; common practice.
const UNSHARP_PART: f64 = 0.2;
/// Nothing is called blurred above this (variance of the Laplacian at 800 pixels); common practice.
const UNSHARP_MOST: f64 = 120.0;
/// Mean brightness of 255 below which a photo shows little, and above which; common practice.
const DARK: f64 = 35.0;
const BRIGHT: f64 = 235.0;

/// Whether anybody measured the photo: a picture without any figure does not exist.
pub(super) fn measured(photo: &Photo) -> bool {
    photo.likeness != 0 || photo.sharpness > 0.0 || photo.brightness > 0.0
}

/// The middle sharpness of the photos that were measured; 0 without any.
pub(super) fn median_sharpness(photos: &[(&PhotoId, &Photo)]) -> f64 {
    let known = photos.iter().filter(|(_, photo)| measured(photo));
    let mut all: Vec<f64> = known.map(|(_, photo)| photo.sharpness).collect();
    all.sort_by(f64::total_cmp);
    all.get(all.len() / 2).copied().unwrap_or(0.0)
}

/// Whether a photo is much less sharp than is usual.
pub(super) fn unsharp(photo: &Photo, usual: f64) -> bool {
    measured(photo) && photo.sharpness < (UNSHARP_PART * usual).min(UNSHARP_MOST)
}

/// Whether a photo is too dark or too bright to show much.
pub(super) fn exposure(photo: &Photo) -> Option<Exposure> {
    match photo.brightness {
        _ if !measured(photo) => None,
        brightness if brightness < DARK => Some(Exposure::Dark),
        brightness if brightness > BRIGHT => Some(Exposure::Bright),
        _ => None,
    }
}

/// The photos by their places, those that are nearly alike together: the sharpest first in each stack, the others in time.
///
/// All of a stack stand at the same point, or at none. Each is nearly like the sharpest, so that a stack cannot wander
/// from one thing to another.
pub(super) fn stacks(photos: &[(&PhotoId, &Photo)], timeline: &Timeline) -> Vec<Vec<usize>> {
    let time = |at: usize| timeline.of_photo(photos[at].1);
    let mut order: Vec<usize> = (0..photos.len()).collect();
    order.sort_by(|one, other| {
        let key = |at: usize| (time(at).is_none(), time(at), &photos[at].1.file_name, photos[at].0);
        key(*one).cmp(&key(*other))
    });
    let mut heads = order.clone();
    heads.sort_by(|one, other| photos[*other].1.sharpness.total_cmp(&photos[*one].1.sharpness));
    let place: Vec<usize> = {
        let mut place = vec![0; photos.len()];
        for (at, photo) in order.iter().enumerate() {
            place[*photo] = at;
        }
        place
    };
    let mut taken = vec![false; photos.len()];
    let mut stacks = Vec::new();
    for head in heads {
        if taken[head] {
            continue;
        }
        taken[head] = true;
        let mut stack = vec![head];
        if let Some(at) = time(head) {
            let near = |other: &usize| {
                time(*other).is_some_and(|other| (other - at).abs() <= SAME_MOMENT_SECONDS)
            };
            let before = order[..place[head]].iter().rev().take_while(|it| near(it));
            let after = order[place[head] + 1..].iter().take_while(|it| near(it));
            let alike: Vec<usize> = before
                .chain(after)
                .copied()
                .filter(|other| !taken[*other] && same(photos[head].1, photos[*other].1, timeline))
                .collect();
            for other in alike {
                taken[other] = true;
                stack.push(other);
            }
            stack[1..].sort_by_key(|at| place[*at]);
        }
        stacks.push(stack);
    }
    stacks.sort_by_key(|stack| stack.iter().map(|at| place[*at]).min());
    stacks
}

fn same(head: &Photo, other: &Photo, timeline: &Timeline) -> bool {
    if (&head.point, &head.position) != (&other.point, &other.position)
        || head.camera != other.camera
    {
        return false;
    }
    if measured(head) && measured(other) {
        let (one, two) = (Fingerprint(head.likeness), Fingerprint(other.likeness));
        return one.distance(two) <= NEARLY_ALIKE_BITS;
    }
    let (one, two) = (timeline.of_photo(head), timeline.of_photo(other));
    one.zip(two).is_some_and(|(one, two)| (one - two).abs() <= BURST_SECONDS)
}
