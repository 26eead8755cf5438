//! A decoded picture as brightness and two colour channels, which is how JPEG holds it.

use std::borrow::Cow;

use crate::plane::PlaneView;

/// A picture in the full-range YCbCr of JPEG files (ITU-T T.871, clause 7), not yet upright.
#[derive(Debug)]
pub(crate) struct Picture<'a> {
    pub(crate) luma: PlaneView<'a>,
    /// Blue and red difference, at any sampling; none in a grey picture.
    pub(crate) chroma: Option<(PlaneView<'a>, PlaneView<'a>)>,
}

/// Weights of red, green and blue in each channel, in 65,536ths (ITU-T T.871, clause 7).
const LUMA: [i32; 3] = [19_595, 38_470, 7_471];
const BLUE_DIFFERENCE: [i32; 3] = [-11_059, -21_709, 32_768];
const RED_DIFFERENCE: [i32; 3] = [32_768, -27_439, -5_329];

/// The picture with these pixels, three bytes each: red, green, blue.
pub(crate) fn from_rgb(pixels: &[u8], width: u32, height: u32) -> Picture<'static> {
    let plane = |weights: [i32; 3], offset: i32| PlaneView {
        samples: Cow::Owned(
            pixels.chunks_exact(3).map(|pixel| weighted(pixel, weights, offset)).collect(),
        ),
        width,
        height,
    };
    Picture {
        luma: plane(LUMA, 0),
        chroma: Some((plane(BLUE_DIFFERENCE, 128), plane(RED_DIFFERENCE, 128))),
    }
}

fn weighted(pixel: &[u8], weights: [i32; 3], offset: i32) -> u8 {
    let sum: i32 =
        pixel.iter().zip(weights).map(|(&colour, weight)| i32::from(colour) * weight).sum();
    let rounded = ((sum + 32_768) >> 16) + offset;
    u8::try_from(rounded.clamp(0, 255)).expect("held within a byte on the same line")
}
