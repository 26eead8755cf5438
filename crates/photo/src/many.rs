//! Taking in a whole card of photos, one on each processor core.

use std::{
    fmt::Display,
    sync::atomic::{AtomicUsize, Ordering},
};

use rayon::prelude::*;

use crate::{Limits, Photo, Refusal, take_in};

/// Takes in files that are in memory already. See [`take_in_each`].
pub fn take_in_many(
    items: &[(&str, &[u8])],
    limits: &Limits,
    progress: impl Fn(usize) + Sync,
) -> Vec<Result<Photo, Refusal>> {
    let read = |item: &(&str, _)| Ok::<_, std::convert::Infallible>(item.1);
    take_in_each(items, |item| item.0.to_owned(), read, limits, progress)
}

/// Takes in files that are read one by one, so that only as many originals are in memory as there
/// are processor cores. No thread works inside a photo.
///
/// A file that is refused, or cannot be read, stops no other. The results stand in the order of
/// the items. `progress` is told how many files are done, from several threads: each number from
/// one to all of them comes once, not always in order.
pub fn take_in_each<Item: Sync, Bytes: AsRef<[u8]>, Reason: Display>(
    items: &[Item],
    name: impl Fn(&Item) -> String + Sync,
    read: impl Fn(&Item) -> Result<Bytes, Reason> + Sync,
    limits: &Limits,
    progress: impl Fn(usize) + Sync,
) -> Vec<Result<Photo, Refusal>> {
    let done = AtomicUsize::new(0);
    let one = |item: &Item| {
        let name = name(item);
        let taken = match read(item) {
            Ok(bytes) => take_in(&name, bytes.as_ref(), limits),
            Err(reason) => Err(Refusal::Unread { name, reason: reason.to_string() }),
        };
        progress(done.fetch_add(1, Ordering::Relaxed) + 1);
        taken
    };
    // One photo at a time on each core; photos differ too much in size to be dealt out in packs.
    items.par_iter().with_max_len(1).map(one).collect()
}
