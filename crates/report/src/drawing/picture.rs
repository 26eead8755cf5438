//! One place that knows which drawing belongs to which kind of picture.

use plan::PictureKind;

use crate::content::{Picture, Unit};

use super::{gas_line, moisture_map, outlets, pressure_decay, tyres};

/// A drawing and what it shows in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// The drawing, 500 wide.
    pub svg: String,
    /// What it shows, for those who cannot see it.
    pub alt: String,
}

/// Draws a picture; none where its values are too few to draw, or its kind is not known here.
#[must_use]
pub fn picture(picture: &Picture, unit: &Unit) -> Option<Drawn> {
    match PictureKind::find(&picture.kind)? {
        PictureKind::Tyres => tyres::draw(picture, unit),
        PictureKind::GasLine => gas_line::draw(picture),
        PictureKind::PressureDecay => pressure_decay::draw(picture),
        PictureKind::Outlets => outlets::draw(picture),
        PictureKind::MoistureMap => moisture_map::draw(picture),
    }
}
