//! Evidence one can look at: photos with their marks, and places on the unit's plan view.

use serde::{Deserialize, Serialize};

/// A photo and its words.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Photo {
    /// SHA-256 of the original, in hexadecimal digits: what the caller's photo shelf knows it by.
    pub id: String,
    /// What it shows, as printed below it.
    pub caption: String,
    /// What it shows, for those who cannot see it; the caption stands in where this is empty.
    pub alt: String,
    /// When it was taken, as printed; may be empty.
    pub taken: String,
    /// Where it was taken, as printed; may be empty.
    pub place: String,
    /// Marks drawn over the printed copy; the photo itself stays as it is.
    ///
    /// A part that is to be blurred is no mark here: the copy that is handed in has it blurred already.
    pub marks: Vec<Mark>,
}

/// A place on a photo: fractions of its width from the left and of its height from the top.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Point {
    /// From the left edge, 0 to 1.
    pub x: f64,
    /// From the upper edge, 0 to 1.
    pub y: f64,
}

/// A mark drawn over a photo.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Mark {
    /// An arrow from one place to another.
    Arrow {
        /// Where it starts.
        from: Point,
        /// What it points at.
        to: Point,
    },
    /// A rectangle between two corners.
    Box {
        /// One corner.
        from: Point,
        /// The opposite one.
        to: Point,
    },
    /// An ellipse that touches the sides of a rectangle between two corners.
    Circle {
        /// One corner of the rectangle.
        from: Point,
        /// The opposite one.
        to: Point,
    },
    /// Words at a place.
    Words {
        /// Where they start.
        at: Point,
        /// What they say.
        text: String,
    },
}

/// A place on the unit seen from above.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Place {
    /// Fraction of the length, from the front: 0 to 1, and a little beyond for what is before or behind it.
    pub along: f64,
    /// Fraction of the width, from the left side in the direction of travel: 0 to 1, and a little beyond.
    pub across: f64,
}

impl Place {
    /// How far beyond the body a place may lie, in fractions of its length or width: a coupling, a wheel.
    pub const BEYOND: f64 = 0.15;

    /// Whether it can be drawn.
    #[must_use]
    pub fn is_drawable(self) -> bool {
        let reach = -Self::BEYOND..=1.0 + Self::BEYOND;
        reach.contains(&self.along) && reach.contains(&self.across)
    }
}

/// A side as one sees it standing before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Face {
    /// The left side, facing the direction of travel.
    Left,
    /// The right side.
    Right,
    /// The front.
    Front,
    /// The rear.
    Rear,
}

impl Face {
    /// All sides.
    pub const ALL: [Self; 4] = [Self::Left, Self::Right, Self::Front, Self::Rear];

    /// The word in the data, and in the names of its drawing.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Front => "front",
            Self::Rear => "rear",
        }
    }
}

/// Where on a side something stands; how far along or across says its [`Place`].
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct OnFace {
    /// Which side.
    pub face: Face,
    /// Fraction of the body's height, from its floor: 0 to 1. Schematic: the record knows no heights.
    pub height: f64,
}

/// A side of the unit, seen in the direction of travel.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    #[default]
    Right,
}

/// Size and layout of the unit, for its drawings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Outline {
    /// Body length in metres; sets the proportions.
    pub length_metres: f64,
    /// Body width in metres.
    pub width_metres: f64,
    /// The length as printed.
    pub length_words: String,
    /// The width as printed.
    pub width_words: String,
    /// Side of the entry door; none where the record does not say.
    #[serde(default)]
    pub door_side: Option<Side>,
    /// Where the door is along the length, by the plan; none where the plan does not say.
    #[serde(default)]
    pub door_along: Option<f64>,
    /// Number of axles; 0 where there are none.
    pub axles: u8,
    /// Whether a drawbar is drawn at the front.
    pub drawbar: bool,
    /// Whether its front is raised over the tow vehicle's bed.
    #[serde(default)]
    pub raised_front: bool,
    /// What is fitted outside and not drawn, because the record does not say on which side.
    #[serde(default)]
    pub undrawn: Vec<String>,
}

impl Outline {
    /// Where an axle is drawn along the length, counted from the front from 0: a group a little behind the middle, as
    /// on trailers (common practice; the record does not know it).
    #[must_use]
    pub fn axle_along(&self, axle: u8) -> f64 {
        const MIDDLE: f64 = 0.56;
        const APART: f64 = 0.07;
        MIDDLE + APART * (f64::from(axle) - (f64::from(self.axles) - 1.0) / 2.0)
    }
}
