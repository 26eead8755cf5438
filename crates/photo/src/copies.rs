//! The copies that are shown: upright, of a useful size, and without the camera's notes.

use fast_image_resize::{FilterType, Resizer};
use look::{Look, MEASURED};
use turbojpeg::{Compressor, Subsamp, YuvPlanesImage};

use crate::{
    Orientation,
    damage::Damage,
    orientation::upright,
    picture::Picture,
    plane::{Plane, PlaneView, fit},
};

/// Longest side of the copy for the desk and the client's page.
pub(crate) const DISPLAY: u32 = 1600;
/// Longest side of the thumbnail.
const THUMBNAIL: u32 = 320;
/// JPEG quality of both copies: common practice for photographs on a screen.
const QUALITY: i32 = 82;

/// What is shown instead of the original. Neither copy carries the camera's notes, so that a
/// position or a name does not leave with it.
#[derive(Debug, Clone, PartialEq)]
pub struct Copies {
    /// Longest side at most 1600 pixels, never enlarged.
    pub display: JpegCopy,
    /// Longest side at most 320 pixels, never enlarged.
    pub thumbnail: JpegCopy,
    /// Figures measured on the upright picture.
    pub look: Look,
}

/// An upright JPEG.
#[derive(Clone, PartialEq, Eq)]
pub struct JpegCopy {
    /// The file.
    pub jpeg: Vec<u8>,
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
}

impl std::fmt::Debug for JpegCopy {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "JpegCopy({} × {}, {} bytes)", self.width, self.height, self.jpeg.len())
    }
}

/// Three channels, colour at half the size of brightness in both directions.
pub(crate) struct Shown {
    pub(crate) luma: Plane,
    pub(crate) blue: Plane,
    pub(crate) red: Plane,
}

/// Shrinks, turns, measures and writes. Turning comes after shrinking, when little is left to
/// turn.
pub(crate) fn make(picture: &Picture<'_>, orientation: Orientation) -> Result<Copies, Damage> {
    let mut resizer = Resizer::new();
    let stored = Shown::of(picture, &mut resizer, DISPLAY)?;
    let display = Shown {
        luma: upright(stored.luma, orientation),
        blue: upright(stored.blue, orientation),
        red: upright(stored.red, orientation),
    };
    let (width, height) = fit(display.luma.width, display.luma.height, MEASURED);
    let measured =
        display.luma.view().resized(&mut resizer, width, height, FilterType::Lanczos3)?;
    let thumbnail = Shown::of(&display.picture(), &mut resizer, THUMBNAIL)?;
    let look = Look::of(&measured.samples, measured.width, measured.height)
        .ok_or_else(|| Damage::of("the picture has no pixels"))?;
    Ok(Copies { look, display: display.jpeg()?, thumbnail: thumbnail.jpeg()? })
}

impl Shown {
    pub(crate) fn of(
        picture: &Picture<'_>,
        resizer: &mut Resizer,
        longest: u32,
    ) -> Result<Self, Damage> {
        let (width, height) = fit(picture.luma.width, picture.luma.height, longest);
        let (half_width, half_height) = (width.div_ceil(2), height.div_ceil(2));
        let luma = picture.luma.resized(resizer, width, height, FilterType::Lanczos3)?;
        let Some((blue, red)) = &picture.chroma else {
            let colourless = Plane::grey(half_width, half_height);
            return Ok(Self { luma, blue: colourless.clone(), red: colourless });
        };
        let mut colour = |channel: &PlaneView<'_>| {
            channel.resized(resizer, half_width, half_height, FilterType::Bilinear)
        };
        Ok(Self { luma, blue: colour(blue)?, red: colour(red)? })
    }

    fn picture(&self) -> Picture<'_> {
        let chroma = Some((self.blue.view(), self.red.view()));
        Picture { luma: self.luma.view(), chroma }
    }

    pub(crate) fn jpeg(&self) -> Result<JpegCopy, Damage> {
        let (luma, colour) = (&self.luma, &self.blue);
        let even = luma.padded_to_even();
        let mut compressor = Compressor::new().map_err(Damage::of)?;
        compressor.set_quality(QUALITY).map_err(Damage::of)?;
        let image = YuvPlanesImage {
            y_plane: &even.samples[..],
            u_plane: &self.blue.samples[..],
            v_plane: &self.red.samples[..],
            width: luma.width as usize,
            height: luma.height as usize,
            y_stride: even.width as usize,
            u_stride: colour.width as usize,
            v_stride: colour.width as usize,
            subsamp: Subsamp::Sub2x2,
        };
        let jpeg = compressor.compress_yuv_planes_to_vec(&image).map_err(Damage::of)?;
        Ok(JpegCopy { jpeg, width: luma.width, height: luma.height })
    }
}
