//! How the camera was held: the eight EXIF orientations, and turning a plane upright.

use crate::plane::Plane;

/// EXIF orientation, 1 to 8 (CIPA DC-008, Exif 2.32, section 4.6.4, tag Orientation).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Orientation(u8);

impl Orientation {
    /// Stored as it is to be seen.
    pub const UPRIGHT: Self = Self(1);

    /// The orientation with this EXIF number; none outside 1 to 8.
    pub fn from_exif(number: u32) -> Option<Self> {
        u8::try_from(number).ok().filter(|number| (1..=8).contains(number)).map(Self)
    }

    /// The EXIF number, 1 to 8.
    pub fn number(self) -> u8 {
        self.0
    }

    /// Whether width and height change places when the picture is turned upright.
    pub fn swaps_sides(self) -> bool {
        self.0 >= 5
    }
}

/// Side of the blocks in which a plane is turned, so that both planes stay in the cache.
const BLOCK: usize = 32;

/// The plane turned upright.
pub(crate) fn upright(plane: Plane, orientation: Orientation) -> Plane {
    if orientation == Orientation::UPRIGHT {
        return plane;
    }
    let (width, height) = (plane.width as usize, plane.height as usize);
    let (across, down) = if orientation.swaps_sides() { (height, width) } else { (width, height) };
    let (right, bottom) = (width - 1, height - 1);
    let source = |x: usize, y: usize| match orientation.0 {
        2 => (right - x, y),
        3 => (right - x, bottom - y),
        4 => (x, bottom - y),
        5 => (y, x),
        6 => (y, bottom - x),
        7 => (right - y, bottom - x),
        _ => (right - y, x),
    };
    let mut turned = vec![0; plane.samples.len()];
    for top in (0..down).step_by(BLOCK) {
        for left in (0..across).step_by(BLOCK) {
            for y in top..(top + BLOCK).min(down) {
                for x in left..(left + BLOCK).min(across) {
                    let (from_x, from_y) = source(x, y);
                    turned[y * across + x] = plane.samples[from_y * width + from_x];
                }
            }
        }
    }
    let (width, height) = if orientation.swaps_sides() {
        (plane.height, plane.width)
    } else {
        (plane.width, plane.height)
    };
    Plane { samples: turned, width, height }
}
