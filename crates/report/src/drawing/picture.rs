//! One place that knows which drawing belongs to which kind of picture.

use plan::PictureKind;

use crate::content::{Picture, Unit};

use super::{
    gas_line, levels, loads, moisture_map, outlets, piers, pressure_decay, rail, tanks, tyres,
    water_flow,
};

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
        PictureKind::Loads => loads::draw(picture, unit),
        PictureKind::Levels => levels::draw(picture),
        PictureKind::Rail => rail::draw(picture),
        PictureKind::Piers => piers::draw(picture, unit),
        PictureKind::Tanks => tanks::draw(picture),
        PictureKind::WaterFlow => water_flow::draw(picture),
    }
}
