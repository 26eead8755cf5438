//! One photo by itself: what it shows, where it stands, the marks over it.

use inspection::{Crop, Mark, Moment, PhotoId, PointId};

use crate::{Said, Visit};

/// One photo.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotoSheet {
    /// Its file's name.
    pub file_name: String,
    /// What it shows, in words.
    pub caption: String,
    /// Where it stands.
    pub point: Option<PointId>,
    /// That point's heading; empty for none.
    pub point_title: String,
    /// Where at the point.
    pub position: String,
    /// When it was taken.
    pub taken: Option<Moment>,
    /// The camera, as it names itself.
    pub camera: String,
    /// The SHA-256 of the upright copy; of the original where there is none.
    pub shown: String,
    /// Width and height of the copy, pixels; 0 where they are not known.
    pub size: (u32, u32),
    /// Why it cannot be shown; empty where it can.
    pub damage: String,
    /// The part that is shown, and how it is turned; none for all of it.
    pub crop: Option<Crop>,
    /// The marks over it, on the whole photo.
    pub marks: Vec<MarkRow>,
}

/// A mark, and the id by which it is redrawn or taken off.
#[derive(Clone, Debug, PartialEq)]
pub struct MarkRow {
    /// Its id.
    pub id: String,
    /// The mark.
    pub mark: Mark,
}

/// What is recorded of a picture that the browser could not draw, such as HEIC in most: its damage, in the record's English.
pub const UNDRAWN: &str = "the browser that took it in could not draw it";

impl PhotoSheet {
    /// Why it cannot be shown, and what to do where that is known; none where it can.
    #[must_use]
    pub fn trouble(&self) -> Option<Said> {
        match self.damage.as_str() {
            "" => None,
            UNDRAWN => Some(Said::new("photo-undrawn")),
            other => Some(Said::new("photo-damaged").with("why", other)),
        }
    }
}

impl Visit {
    /// One photo; none if there is no such photo.
    #[must_use]
    pub fn photo(&self, id: &PhotoId) -> Option<PhotoSheet> {
        let photo = self.inspection().photos.get(id)?;
        let planned = photo.point.as_ref().and_then(|point| self.plan().point(point.as_str()));
        let ids = self.record().mark_ids(id);
        let marks = ids.into_iter().zip(&photo.marks);
        Some(PhotoSheet {
            file_name: photo.file_name.clone(),
            caption: photo.caption.clone(),
            point: photo.point.clone(),
            point_title: planned.map_or_else(String::new, |point| point.title.clone()),
            position: photo.position.clone(),
            taken: photo.taken,
            camera: photo.camera.clone(),
            shown: if photo.copy.is_empty() { id.to_string() } else { photo.copy.clone() },
            size: photo.size,
            damage: photo.damage.clone(),
            crop: photo.crop,
            marks: marks.map(|(id, mark)| MarkRow { id, mark: mark.clone() }).collect(),
        })
    }
}
