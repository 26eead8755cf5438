//! The photos of a job in its bag: originals, copies, and copies with their captions inside.

use std::collections::BTreeMap;

use bag::{
    Caption, File, Sha256, captioned, captioned_path, display_path, original_path, thumbnail_path,
};
use inspection::{Inspection, Photo, PhotoId};
use store::Sha256Hex;

use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::report_pages::copy_to_hand_out;

/// What a bag has of the photos.
#[derive(Default)]
pub(super) struct Photos {
    pub(super) files: Vec<File>,
    /// Where the captioned copy of a photo lies, by the photo's id.
    pub(super) captioned: BTreeMap<String, String>,
    /// Photos whose original is not here.
    pub(super) absent: Vec<String>,
    /// Copies whose caption is shortened or left out.
    pub(super) remarks: Vec<String>,
}

impl Photos {
    /// The bytes of a captioned copy.
    pub(super) fn captioned_bytes(&self, id: &str) -> Option<Vec<u8>> {
        let path = self.captioned.get(id)?;
        self.files.iter().find(|file| file.path == *path)?.bytes.clone()
    }
}

/// The photos' files.
pub(super) fn photos(job: &OpenJob, inspection: &Inspection) -> Result<Photos, Failure> {
    let mut in_time: Vec<(&PhotoId, &Photo)> = inspection.photos.iter().collect();
    in_time.sort_by_key(|(id, photo)| (photo.taken, *id));
    let mut all = Photos::default();
    for (at, (id, photo)) in in_time.into_iter().enumerate() {
        match kept(job, id.as_str())? {
            Some((sha256, bytes)) => {
                let path = original_path(&sha256, &bytes);
                all.files.push(File::kept(path, sha256, size(&bytes)));
            }
            None => all.absent.push(id.to_string()),
        }
        if let Some((sha256, bytes)) = kept(job, &photo.thumbnail)? {
            all.files.push(File::kept(thumbnail_path(&sha256), sha256, size(&bytes)));
        }
        if let Some((sha256, bytes)) = kept(job, &photo.copy)? {
            all.files.push(File::kept(display_path(&sha256), sha256, size(&bytes)));
            captioned_copy(job, inspection, (at + 1, id, photo), &mut all);
        }
    }
    // Two photos can share a copy, as when one file was taken in under two names.
    all.files.sort_by(|one, other| one.path.cmp(&other.path));
    all.files.dedup_by(|one, other| one.path == other.path);
    Ok(all)
}

/// Adds the copy with its caption inside. What is blurred or cut off in the report is so here too.
fn captioned_copy(
    job: &OpenJob,
    inspection: &Inspection,
    (number, id, photo): (usize, &PhotoId, &Photo),
    all: &mut Photos,
) {
    let point = photo.point.as_ref().map_or("", |point| point.as_str());
    let path = captioned_path(number, point, &photo.position);
    let name = if photo.file_name.is_empty() { id.as_str() } else { &photo.file_name };
    let Some(copy) = copy_to_hand_out(&job.store, photo) else {
        all.remarks.push(format!(
            "photo {name} has no captioned copy: its copy cannot be read as a picture"
        ));
        return;
    };
    let Some(made) = captioned(&copy, &caption(job, inspection, id, photo)) else {
        all.remarks.push(format!(
            "photo {name} has no captioned copy: its copy is no JPEG file that can carry a caption"
        ));
        return;
    };
    if !made.shortened.is_empty() {
        all.remarks.push(format!(
            "the caption of photo {name} is shortened inside {path}: {}; the record has it in full",
            made.shortened
        ));
    }
    all.captioned.insert(id.to_string(), path.clone());
    all.files.push(File::new(path, made.bytes));
}

fn caption(job: &OpenJob, inspection: &Inspection, id: &PhotoId, photo: &Photo) -> Caption {
    let point = photo.point.as_ref().map_or("", |point| point.as_str());
    let title = job.plan.point(point).map_or(point, |point| &point.title);
    let place = crate::counting::at_position(&photo.position);
    Caption {
        title: format!("{title}{place}"),
        description: photo.caption.clone(),
        taken: photo.taken.map_or_else(String::new, |taken| taken.to_string()),
        creator: inspection.job.inspector.clone(),
        keywords: vec![inspection.job.number.clone(), point.to_owned(), photo.position.clone()],
        original: id.to_string(),
        marks: match photo.crop {
            Some(crop) => photo.marks.iter().filter_map(|mark| crop.mark(mark)).collect(),
            None => photo.marks.clone(),
        },
    }
}

/// A blob of the store, checked; none if the record names none or it was never here.
pub(super) fn kept(job: &OpenJob, id: &str) -> Result<Option<(Sha256, Vec<u8>)>, Failure> {
    let (Ok(hash), Some(sha256)) = (Sha256Hex::new(id), Sha256::parse(id)) else { return Ok(None) };
    Ok(job.store.blob(&hash)?.map(|bytes| (sha256, bytes)))
}

pub(super) fn size(bytes: &[u8]) -> u64 {
    u64::try_from(bytes.len()).unwrap_or(u64::MAX)
}
