//! Pictures for the invented job: every photo is drawn here, so that nobody's trailer, plate or brand
//! is in it, and every run gives the same bytes.
//!
//! A [`Shot`] says what is in front of the camera, how the camera was held and what it wrote beside
//! the picture; [`draw`] gives the JPEG. Shots of one scene whose seeds differ only in their low eight
//! bits are near-duplicates: the same subject a moment later.

mod alarms;
mod coupling;
mod darkroom;
mod electric;
mod exterior;
mod gas;
mod grain;
mod heating;
mod inside;
mod kit;
mod meters;
mod picture;
mod pixels;
mod plates;
mod running_gear;
mod samples;
mod scene;
mod shell;
mod support;
#[cfg(test)]
mod tests;
mod water;

pub use samples::samples;
pub use scene::{Scene, Side};

use crate::exif;
use darkroom::{Camera, Exposed};
use jiff::civil::DateTime;

/// How the camera was held, which is how the stored picture lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turn {
    /// Level: stored upright, EXIF orientation 1.
    Upright,
    /// Portrait: to be turned a quarter clockwise, EXIF orientation 6.
    QuarterClockwise,
    /// Portrait: to be turned a quarter anticlockwise, EXIF orientation 8.
    QuarterAnticlockwise,
    /// Upside down, EXIF orientation 3.
    Half,
}

impl Turn {
    /// The value of EXIF's tag Orientation (CIPA DC-008-2019, section 4.6.4, tag 274).
    pub fn orientation(self) -> u16 {
        match self {
            Self::Upright => 1,
            Self::Half => 3,
            Self::QuarterClockwise => 6,
            Self::QuarterAnticlockwise => 8,
        }
    }
}

/// What the camera wrote beside the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShotExif {
    /// The camera's clock.
    pub taken: DateTime,
    /// The clock's offset from universal time in minutes, if the camera writes it.
    pub offset_minutes: Option<i16>,
    /// North latitude and east longitude in degrees, if the camera knew where it was.
    pub position: Option<(f64, f64)>,
}

/// One press of the button.
#[derive(Debug, Clone, PartialEq)]
pub struct Shot {
    /// What is in front of the camera.
    pub scene: Scene,
    /// How the camera was held. Without [`exif`](Self::exif) nothing could say so afterwards, so such
    /// a picture is stored upright, as programs do that strip what the camera wrote.
    pub turn: Turn,
    /// What the camera wrote beside the picture; a picture passed on by a messenger has none.
    pub exif: Option<ShotExif>,
    /// Which of the scene's many pictures; see the module's text on near-duplicates.
    pub seed: u64,
    /// Blur across the picture's 800 units of width: 0 is sharp, 8 useless.
    pub blur: f32,
    /// Stops too bright, or negative, too dark: 0 is right, −3 useless.
    pub exposure: f32,
}

/// Why a picture could not be drawn.
#[derive(Debug, thiserror::Error)]
pub enum DrawError {
    /// A scene's drawing is not sound SVG.
    #[error("the scene's drawing cannot be read: {0}")]
    Svg(String),
    /// No room for a picture of this size.
    #[error("no room for a picture of {width} × {height} pixels")]
    Size {
        /// Pixels across.
        width: usize,
        /// Pixels down.
        height: usize,
    },
    /// Blur or exposure is not a number in range.
    #[error("blur {blur} and exposure {exposure}: blur is 0 to 40, exposure −6 to 6")]
    Setting {
        /// The blur asked for.
        blur: f32,
        /// The exposure asked for.
        exposure: f32,
    },
    /// A figure in the scene cannot be shown.
    #[error("{what} is {value}; accepted: {accepted}")]
    Figure {
        /// Which figure.
        what: &'static str,
        /// Its value.
        value: f32,
        /// What is accepted.
        accepted: &'static str,
    },
    /// The picture could not be compressed.
    #[error("the picture cannot be compressed: {0}")]
    Jpeg(#[from] turbojpeg::Error),
    /// What the camera writes beside the picture could not be written.
    #[error("the picture's EXIF block cannot be written: {0}")]
    Exif(#[from] exif::ExifError),
}

/// Draws a shot as the JPEG file a camera would have written.
pub fn draw(shot: &Shot) -> Result<Vec<u8>, DrawError> {
    // Two cameras were used, one with more pixels.
    let long_side = if (shot.seed >> 8).is_multiple_of(5) { 2000 } else { 1600 };
    draw_sized(shot, long_side)
}

/// Draws a shot with so many pixels along its long side.
fn draw_sized(shot: &Shot, long_side: usize) -> Result<Vec<u8>, DrawError> {
    if !(0.0..=40.0).contains(&shot.blur) || !(-6.0..=6.0).contains(&shot.exposure) {
        return Err(DrawError::Setting { blur: shot.blur, exposure: shot.exposure });
    }
    shot.scene.check()?;
    let picture = shot.scene.compose(shot.seed >> 8);
    let camera = Camera {
        portrait: matches!(shot.turn, Turn::QuarterClockwise | Turn::QuarterAnticlockwise),
        long_side,
        blur: shot.blur,
        exposure: shot.exposure,
        seed: shot.seed,
    };
    let upright = darkroom::expose(&picture, &camera)?;
    let stored = if shot.exif.is_some() { lie(upright, shot.turn) } else { upright };
    let image = turbojpeg::Image {
        pixels: stored.pixels.as_slice(),
        width: stored.width,
        pitch: stored.width * 3,
        height: stored.height,
        format: turbojpeg::PixelFormat::RGB,
    };
    let jpeg = turbojpeg::compress(image, 88, turbojpeg::Subsamp::Sub2x2)?;
    match &shot.exif {
        None => Ok(jpeg.to_vec()),
        Some(beside) => Ok(exif::splice(&jpeg, beside, shot.turn, (stored.width, stored.height))?),
    }
}

/// Lays an upright picture down as the sensor saw it, so that turning it as its orientation says
/// brings it upright again.
fn lie(upright: Exposed, turn: Turn) -> Exposed {
    let (width, height) = match turn {
        Turn::Upright => return upright,
        Turn::Half => (upright.width, upright.height),
        Turn::QuarterClockwise | Turn::QuarterAnticlockwise => (upright.height, upright.width),
    };
    let mut pixels = Vec::with_capacity(upright.pixels.len());
    for y in 0..height {
        for x in 0..width {
            let (column, row) = match turn {
                Turn::Upright => (x, y),
                Turn::Half => (width - 1 - x, height - 1 - y),
                Turn::QuarterClockwise => (height - 1 - y, x),
                Turn::QuarterAnticlockwise => (y, width - 1 - x),
            };
            let start = (row * upright.width + column) * 3;
            pixels.extend_from_slice(&upright.pixels[start..start + 3]);
        }
    }
    Exposed { width, height, pixels }
}
