//! Photos: what they show, where and when. The bytes are elsewhere and never change.

use crate::{Crop, Moment, PointId};

/// A photo's entry in the record; its id is the SHA-256 of the original file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Photo {
    /// File name as it came from the camera.
    pub file_name: String,
    /// When it was taken, if the camera says.
    pub taken: Option<Moment>,
    /// The point it shows, once placed.
    pub point: Option<PointId>,
    /// Which of several positions of that point; empty where there is only one.
    pub position: String,
    /// What it shows, in words; also its text alternative.
    pub caption: String,
    /// SHA-256 of the upright copy of at most 1600 pixels; empty where none could be made.
    pub copy: String,
    /// SHA-256 of the thumbnail; empty where none could be made.
    pub thumbnail: String,
    /// Width and height of the upright copy, pixels.
    pub size: (u32, u32),
    /// Why no copy could be made, in words; empty where one was.
    pub damage: String,
    /// Camera, as it names itself.
    pub camera: String,
    /// Variance of the Laplacian of the copy: higher is sharper.
    pub sharpness: f64,
    /// Mean luminance of the copy, 0 to 255.
    pub brightness: f64,
    /// Perceptual hash, for finding near-duplicates.
    pub likeness: u64,
    /// Marks drawn over copies, never into the original.
    pub marks: Vec<Mark>,
    /// The part that copies show, and how it is turned; none for all of it as it stands.
    pub crop: Option<Crop>,
    /// Where on the unit it was taken.
    pub place: Option<PlaceOnUnit>,
    /// Number of the earlier job that it was taken for; empty for a photo of this job.
    pub earlier: String,
}

/// A mark on a photo, in fractions of its width and height.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// An arrow from one place to another.
    Arrow {
        /// Where it starts.
        from: (f64, f64),
        /// What it points at.
        to: (f64, f64),
    },
    /// A rectangle between two corners.
    Box {
        /// One corner.
        from: (f64, f64),
        /// The opposite one.
        to: (f64, f64),
    },
    /// An ellipse that touches the sides of a rectangle between two corners.
    Circle {
        /// One corner of the rectangle.
        from: (f64, f64),
        /// The opposite one.
        to: (f64, f64),
    },
    /// A rectangle whose picture nobody is to recognize: a face, a number plate of somebody else.
    Blur {
        /// One corner.
        from: (f64, f64),
        /// The opposite one.
        to: (f64, f64),
    },
    /// Words at a place.
    Words {
        /// Where they stand.
        at: (f64, f64),
        /// What they say.
        text: String,
    },
}

/// A place on the unit's plan view: fractions of its length from the front and of its width from the left side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlaceOnUnit {
    /// From the front, 0 to 1.
    pub along: f64,
    /// From the left side in the direction of travel, 0 to 1.
    pub across: f64,
}
