//! Groups of photos of the same thing, so that the person keeps the best and drops the rest.

use look::{Fingerprint, NEARLY_ALIKE_BITS, SAME_MOMENT_SECONDS};

use crate::{Sha256, Taken};

/// What is compared of a photo.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Candidate {
    /// The photo.
    pub id: Sha256,
    /// What it looks like.
    pub fingerprint: Fingerprint,
    /// How sharp it is.
    pub sharpness: f64,
    /// When it was taken, if the camera says so.
    pub taken: Option<Taken>,
}

impl Candidate {
    fn nearly_alike(&self, other: &Self) -> bool {
        let same_moment = match (&self.taken, &other.taken) {
            (Some(mine), Some(theirs)) => mine.seconds_since(theirs).abs() <= SAME_MOMENT_SECONDS,
            _ => true,
        };
        same_moment && self.fingerprint.distance(other.fingerprint) <= NEARLY_ALIKE_BITS
    }
}

/// Groups of two photos or more that are nearly alike, the sharpest first in each.
///
/// Every photo of a group is nearly like its sharpest one, so a group cannot wander from one
/// thing to another. Photos taken more than two minutes apart are never in one group; a photo
/// without a time may be in any. The order of the photos given decides nothing, save the order of
/// the groups: by the first photo of each that was given. A photo given twice counts once.
pub fn near_duplicates(photos: &[Candidate]) -> Vec<Vec<Sha256>> {
    let mut order: Vec<(usize, &Candidate)> = photos.iter().enumerate().collect();
    // The same photo twice: the one that was given first stays.
    order.sort_by_key(|(place, photo)| (photo.id, *place));
    order.dedup_by_key(|(_, photo)| photo.id);
    order.sort_by(|(_, left), (_, right)| {
        right.sharpness.total_cmp(&left.sharpness).then(left.id.cmp(&right.id))
    });
    // Taken from the end, so the sharpest must stand there.
    order.reverse();
    let mut groups = Vec::new();
    while let Some((place, head)) = order.pop() {
        let (alike, rest): (Vec<_>, Vec<_>) =
            order.into_iter().partition(|(_, photo)| head.nearly_alike(photo));
        order = rest;
        if alike.is_empty() {
            continue;
        }
        let first = alike.iter().map(|(place, _)| *place).fold(place, usize::min);
        let ids = alike.iter().rev().map(|(_, photo)| photo.id);
        groups.push((first, std::iter::once(head.id).chain(ids).collect()));
    }
    groups.sort_by_key(|(first, _): &(usize, Vec<Sha256>)| *first);
    groups.into_iter().map(|(_, ids)| ids).collect()
}
