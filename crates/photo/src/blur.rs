//! A copy as it is handed out: parts made unrecognizable, and what lies beside the shown part cut off, both for good.

use fast_image_resize::Resizer;

use crate::{
    JpegCopy, Limits, Orientation, Refusal,
    copies::{DISPLAY, Shown},
    damage::Undecoded,
    jpeg::JpegFile,
    orientation::upright,
    plane::Plane,
};

/// A blurred part keeps at most this many patches along its longer side: a face or a plate cannot be read from them.
const PATCHES: u32 = 6;

/// A rectangle in fractions of a picture's width and height; what lies beyond its edges is left out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    /// Left and upper edge.
    pub from: (f64, f64),
    /// Right and lower edge, or left and upper where they are smaller.
    pub to: (f64, f64),
}

/// What is left of a copy.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cut {
    /// The part that is left: at least a pixel, where it lies on the picture.
    pub part: Part,
    /// Quarter turns clockwise, done after cutting; four are none.
    pub turns: u8,
}

/// Why a copy could not be handed out.
#[derive(Debug, thiserror::Error)]
pub enum BlurError {
    /// The file is not one that is taken in.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// The file is damaged.
    #[error("{name} is damaged: {why}")]
    Damaged {
        /// The file's name.
        name: String,
        /// What is wrong with it.
        why: String,
    },
}

/// A new JPEG in which these parts are patches of their mean colour.
///
/// # Errors
/// As [`handed_out`].
pub fn blurred(name: &str, copy: &[u8], parts: &[Part]) -> Result<Vec<u8>, BlurError> {
    handed_out(name, copy, parts, None)
}

/// A new JPEG in which these parts of the whole are patches of their mean colour, and of which only the cut is left.
///
/// `copy` is an upright JPEG of at most 1600 pixels, as [`crate::Copies::display`]; the name is for messages. Without parts and
/// without a cut it is given back as it is. Colour is kept at half the size, so a cut begins at an even pixel.
///
/// # Errors
/// Where the file cannot be decoded: whoever hands it out must then hand out nothing.
pub fn handed_out(
    name: &str,
    copy: &[u8],
    parts: &[Part],
    cut: Option<Cut>,
) -> Result<Vec<u8>, BlurError> {
    if parts.is_empty() && cut.is_none() {
        return Ok(copy.to_vec());
    }
    let made = (|| -> Result<JpegCopy, Undecoded> {
        let limits = Limits::default();
        let decoded = JpegFile::open(name, copy, &limits)?.decode(name, &limits, DISPLAY)?;
        let mut shown = Shown::of(&decoded.picture()?, &mut Resizer::new(), DISPLAY)?;
        for plane in [&mut shown.luma, &mut shown.blue, &mut shown.red] {
            for part in parts {
                patch(plane, *part);
            }
        }
        let shown = match cut {
            Some(cut) => cut_out(&shown, cut),
            None => shown,
        };
        Ok(shown.jpeg()?)
    })();
    match made {
        Ok(made) => Ok(made.jpeg),
        Err(Undecoded::Refused(refusal)) => Err(refusal.into()),
        Err(Undecoded::Damaged(damage)) => {
            Err(BlurError::Damaged { name: name.to_owned(), why: damage.0 })
        }
    }
}

/// The part of a picture that is left, turned.
fn cut_out(shown: &Shown, cut: Cut) -> Shown {
    let Part { from, to } = cut.part;
    let (left, right) = even_span(from.0, to.0, shown.luma.width);
    let (top, bottom) = even_span(from.1, to.1, shown.luma.height);
    let orientation = match cut.turns % 4 {
        1 => Orientation::from_exif(6),
        2 => Orientation::from_exif(3),
        3 => Orientation::from_exif(8),
        _ => None,
    };
    let orientation = orientation.unwrap_or(Orientation::UPRIGHT);
    let luma = within(&shown.luma, (left, top), (right, bottom));
    // Colour is half as wide and high; of an odd length it has the half that is begun.
    let half =
        |plane: &Plane| within(plane, (left / 2, top / 2), (right.div_ceil(2), bottom.div_ceil(2)));
    let (blue, red) = (half(&shown.blue), half(&shown.red));
    Shown {
        luma: upright(luma, orientation),
        blue: upright(blue, orientation),
        red: upright(red, orientation),
    }
}

/// A span of pixels that begins and ends at an even one, or at the picture's end; at least two pixels, or all there are.
fn even_span(from: f64, to: f64, length: u32) -> (u32, u32) {
    let (low, high) = span(from, to, length);
    let low = (low - low % 2).min(length.saturating_sub(1) & !1);
    let high = high.next_multiple_of(2).min(length).max((low + 2).min(length));
    (low, high)
}

fn within(plane: &Plane, from: (u32, u32), to: (u32, u32)) -> Plane {
    let width = plane.width as usize;
    let (to_x, to_y) = (to.0.min(plane.width), to.1.min(plane.height));
    let columns = from.0 as usize..to_x as usize;
    let rows = from.1 as usize..to_y as usize;
    let samples = rows
        .flat_map(|row| plane.samples[row * width..][columns.clone()].iter().copied())
        .collect();
    Plane { samples, width: to_x - from.0, height: to_y - from.1 }
}

/// Replaces a part of a plane by patches of its mean.
fn patch(plane: &mut Plane, part: Part) {
    let (left, right) = span(part.from.0, part.to.0, plane.width);
    let (top, bottom) = span(part.from.1, part.to.1, plane.height);
    let side = (right - left).max(bottom - top).div_ceil(PATCHES).max(1);
    for y in (top..bottom).step_by(side as usize) {
        for x in (left..right).step_by(side as usize) {
            mean_out(plane, (x, y), (right.min(x + side), bottom.min(y + side)));
        }
    }
}

fn mean_out(plane: &mut Plane, from: (u32, u32), to: (u32, u32)) {
    let width = plane.width as usize;
    let rows = from.1 as usize..to.1 as usize;
    let columns = from.0 as usize..to.0 as usize;
    let count = u64::from(to.0 - from.0) * u64::from(to.1 - from.1);
    let sum: u64 = rows
        .clone()
        .flat_map(|row| &plane.samples[row * width..][columns.clone()])
        .map(|sample| u64::from(*sample))
        .sum();
    let mean = u8::try_from(sum / count.max(1)).unwrap_or(u8::MAX);
    for row in rows {
        plane.samples[row * width..][columns.clone()].fill(mean);
    }
}

/// The pixels that a span of fractions touches, outer edges included. Nothing where it lies beyond the picture.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "held between zero and the length, which is a u32, on the same line"
)]
fn span(from: f64, to: f64, length: u32) -> (u32, u32) {
    let edge = |fraction: f64| (fraction * f64::from(length)).clamp(0.0, f64::from(length));
    let (low, high) = (from.min(to), from.max(to));
    (edge(low).floor() as u32, edge(high).ceil() as u32)
}

#[cfg(test)]
mod tests {
    use super::{Part, Plane, even_span, patch, span};

    #[test]
    fn a_cut_begins_at_an_even_pixel_and_is_never_empty() {
        assert_eq!(even_span(0.25, 0.75, 100), (24, 76));
        assert_eq!(even_span(0.0, 1.0, 101), (0, 101));
        assert_eq!(even_span(0.5, 0.5, 100), (50, 52));
        assert_eq!(even_span(1.0, 1.0, 101), (100, 101));
        assert_eq!(even_span(0.3, 0.4, 1), (0, 1));
    }

    #[test]
    fn a_span_takes_in_every_pixel_that_it_touches() {
        assert_eq!(span(0.0, 1.0, 10), (0, 10));
        assert_eq!(span(0.55, 0.25, 10), (2, 6));
        assert_eq!(span(-3.0, 7.0, 10), (0, 10));
        assert_eq!(span(1.5, 2.0, 10), (10, 10));
    }

    #[test]
    fn a_part_becomes_patches_and_the_rest_stays() {
        let samples = (0..24 * 24).map(|at| u8::try_from(at % 251).unwrap()).collect();
        let mut plane = Plane { samples, width: 24, height: 24 };
        let before = plane.clone();
        patch(&mut plane, Part { from: (0.5, 0.5), to: (1.5, 1.5) });
        let inside = |at: usize| at % 24 >= 12 && at / 24 >= 12;
        let mut shades = std::collections::BTreeSet::new();
        for at in 0..24 * 24 {
            if inside(at) {
                shades.insert(plane.samples[at]);
            } else {
                assert_eq!(plane.samples[at], before.samples[at], "{at}");
            }
        }
        assert!(shades.len() <= 36, "{} shades", shades.len());
    }
}
