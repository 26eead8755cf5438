//! Taking photos into the store: originals untouched, with a copy and a thumbnail to show.

use std::path::{Path, PathBuf};

use inspection::{Inspection, Moment, PhotoId};
use photo::{Limits, take_in_each};
use store::{JobId, Store};

use crate::failure::Failure;
use crate::progress;

/// So many originals at a time: their copies are in memory until they are stored.
const AT_ONCE: usize = 32;

/// What became of one file.
#[derive(Clone, Debug)]
pub(crate) struct Taken {
    pub(crate) name: String,
    pub(crate) outcome: Outcome,
}

/// What became of a file.
#[derive(Clone, Debug)]
pub(crate) enum Outcome {
    /// In the store; its entry for the record.
    New(PhotoId, Box<inspection::Photo>),
    /// The record has it already.
    Known(PhotoId),
    /// Not taken in, and why.
    Refused(String),
}

impl Taken {
    /// The photo's id, if it is in the store.
    pub(crate) fn id(&self) -> Option<&PhotoId> {
        match &self.outcome {
            Outcome::New(id, _) | Outcome::Known(id) => Some(id),
            Outcome::Refused(_) => None,
        }
    }
}

/// The files of a folder by name, hidden ones left out.
pub(crate) fn files_in(folder: &Path) -> Result<Vec<PathBuf>, Failure> {
    let refuse = |error| Failure::input(format!("{}: {error}", folder.display()));
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(refuse)? {
        let path = entry.map_err(refuse)?.path();
        if path.is_file() && !name_of(&path).starts_with('.') {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

/// The name of a file without its folders.
pub(crate) fn name_of(path: &Path) -> String {
    path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned())
}

/// Takes in files; a file that is refused stops no other.
pub(crate) fn take(
    store: &Store,
    job: &JobId,
    inspection: &Inspection,
    paths: &[PathBuf],
) -> Result<Vec<Taken>, Failure> {
    let mut taken = Vec::new();
    let mut fresh: Vec<&PathBuf> = Vec::new();
    for path in paths {
        // What cannot be read now is refused with its reason below.
        let known = std::fs::read(path).ok().map(|bytes| photo::Sha256::of(&bytes).to_string());
        match known.filter(|id| inspection.photos.contains_key(id.as_str())) {
            Some(id) => taken
                .push(Taken { name: name_of(path), outcome: Outcome::Known(PhotoId::from(id)) }),
            None => fresh.push(path),
        }
    }
    let bar = progress::bar(fresh.len(), "photos");
    for some in fresh.chunks(AT_ONCE) {
        let results = take_in_each(
            some,
            |path: &&PathBuf| name_of(path),
            |path: &&PathBuf| std::fs::read(path),
            &Limits::default(),
            |_| bar.inc(1),
        );
        for (path, result) in some.iter().zip(results) {
            let outcome = match result {
                Ok(photo) => keep(store, job, path, &photo)?,
                Err(refusal) => Outcome::Refused(refusal.to_string()),
            };
            taken.push(Taken { name: name_of(path), outcome });
        }
    }
    bar.finish_and_clear();
    taken.sort_by(|one, other| one.name.cmp(&other.name));
    Ok(taken)
}

/// Stores the original and its copies, and writes the entry for the record.
fn keep(store: &Store, job: &JobId, path: &Path, photo: &photo::Photo) -> Result<Outcome, Failure> {
    let kept = store.put_blob_from_file(path)?;
    if kept.as_str() != photo.id.to_string() {
        return Ok(Outcome::Refused(format!(
            "\"{}\" changed while it was read; take it in again",
            photo.name
        )));
    }
    // So that a phone which may see this job alone may fetch it.
    store.add_job_blob(job, &kept)?;
    let mut entry = inspection::Photo {
        file_name: photo.name.clone(),
        taken: photo
            .shot
            .taken
            .map(|taken| Moment { local: taken.local, offset_minutes: taken.offset_minutes }),
        damage: photo.damage.clone().unwrap_or_default(),
        camera: camera(&photo.shot),
        ..inspection::Photo::default()
    };
    if let Some(copies) = &photo.copies {
        for (jpeg, name) in [
            (&copies.display.jpeg, &mut entry.copy),
            (&copies.thumbnail.jpeg, &mut entry.thumbnail),
        ] {
            let kept = store.put_blob(jpeg)?;
            store.add_job_blob(job, &kept)?;
            kept.as_str().clone_into(name);
        }
        entry.size = (copies.display.width, copies.display.height);
        entry.sharpness = copies.look.sharpness;
        entry.brightness = copies.look.brightness * 255.0;
        entry.likeness = copies.look.fingerprint.0;
    }
    Ok(Outcome::New(PhotoId::from(kept.as_str()), Box::new(entry)))
}

fn camera(shot: &photo::Shot) -> String {
    let (make, model) = (shot.make.as_deref().unwrap_or(""), shot.model.as_deref().unwrap_or(""));
    // Many models begin with their maker's name.
    if model.starts_with(make) {
        model.to_owned()
    } else {
        format!("{make} {model}").trim().to_owned()
    }
}

/// The latest that a photo can be from a point's time and still be placed there.
const NEAR_SECONDS: i64 = 15 * 60;

/// The point whose time is nearest to the photo's, within a quarter of an hour; of two as near, the
/// earlier.
pub(crate) fn nearest_point<'a, P>(
    taken: Moment,
    points: impl IntoIterator<Item = (&'a P, Moment)>,
) -> Option<&'a P> {
    points
        .into_iter()
        .map(|(point, at)| (seconds_between(taken, at).abs(), at.local, point))
        .filter(|(apart, ..)| *apart <= NEAR_SECONDS)
        .min_by_key(|(apart, at, _)| (*apart, *at))
        .map(|(_, _, point)| point)
}

/// By the clocks as they stand unless both say how far they are from universal time.
fn seconds_between(one: Moment, other: Moment) -> i64 {
    let clock = one.local.duration_since(other.local).as_secs();
    match (one.offset_minutes, other.offset_minutes) {
        (Some(mine), Some(theirs)) => clock - 60 * (i64::from(mine) - i64::from(theirs)),
        _ => clock,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> Moment {
        Moment::parse(text).unwrap()
    }

    #[test]
    fn a_photo_goes_to_the_nearest_time_within_a_quarter_of_an_hour() {
        let points = [("a", at("2026-06-12T09:00")), ("b", at("2026-06-12T09:20"))];
        let near = |time: &str| {
            nearest_point(at(time), points.iter().map(|(point, at)| (point, *at))).copied()
        };
        assert_eq!(near("2026-06-12T09:09"), Some("a"));
        assert_eq!(near("2026-06-12T09:10"), Some("a"), "a tie goes to the earlier");
        assert_eq!(near("2026-06-12T09:11"), Some("b"));
        assert_eq!(near("2026-06-12T09:35"), Some("b"));
        assert_eq!(near("2026-06-12T09:35:01"), None);
        assert_eq!(near("2026-06-13T09:00"), None);
    }

    #[test]
    fn clocks_with_offsets_are_compared_in_universal_time() {
        let points = [("a", at("2026-06-12T09:00-04:00"))];
        let near = |time: &str| {
            nearest_point(at(time), points.iter().map(|(point, at)| (point, *at))).copied()
        };
        assert_eq!(near("2026-06-12T13:05Z"), Some("a"));
        assert_eq!(near("2026-06-12T09:05"), Some("a"));
        assert_eq!(near("2026-06-12T09:05Z"), None);
    }
}
