//! One channel of a picture, a byte for each sample, and making it smaller.

use std::borrow::Cow;

use fast_image_resize::{
    FilterType, ResizeAlg, ResizeOptions, Resizer,
    images::{TypedImage, TypedImageRef},
    pixels::U8,
};

use crate::damage::Damage;

/// A channel without gaps between its rows. Neither side is zero.
#[derive(Debug, Clone)]
pub(crate) struct Plane {
    pub(crate) samples: Vec<u8>,
    pub(crate) width: u32,
    pub(crate) height: u32,
}

impl Plane {
    /// The whole channel.
    pub(crate) fn view(&self) -> PlaneView<'_> {
        PlaneView { samples: Cow::Borrowed(&self.samples), width: self.width, height: self.height }
    }

    /// The channel with its last column and row said twice where a side is odd: colour at half
    /// size needs whole pairs.
    pub(crate) fn padded_to_even(&self) -> PlaneView<'_> {
        let (width, height) = (self.width.next_multiple_of(2), self.height.next_multiple_of(2));
        if (width, height) == (self.width, self.height) {
            return self.view();
        }
        let mut samples = Vec::with_capacity(width as usize * height as usize);
        let rows = self.samples.chunks_exact(self.width as usize);
        for row in rows.clone().chain(rows.last()).take(height as usize) {
            samples.extend_from_slice(row);
            if width > self.width {
                samples.extend(row.last());
            }
        }
        PlaneView { samples: Cow::Owned(samples), width, height }
    }

    /// A channel of one value in the middle of the range: no colour.
    pub(crate) fn grey(width: u32, height: u32) -> Self {
        Self { samples: vec![128; width as usize * height as usize], width, height }
    }
}

/// A channel that may lie inside a larger buffer.
#[derive(Debug)]
pub(crate) struct PlaneView<'a> {
    pub(crate) samples: Cow<'a, [u8]>,
    pub(crate) width: u32,
    pub(crate) height: u32,
}

impl<'a> PlaneView<'a> {
    /// The first `width` samples of each of the first `height` rows. Copies only if there is a
    /// gap to leave out.
    pub(crate) fn cut(samples: &'a [u8], stride: usize, width: u32, height: u32) -> Self {
        let wanted = width as usize;
        let rows = height as usize;
        let samples = if stride == wanted {
            Cow::Borrowed(&samples[..wanted * rows])
        } else {
            let whole = samples.chunks_exact(stride).take(rows);
            Cow::Owned(whole.flat_map(|row| &row[..wanted]).copied().collect())
        };
        Self { samples, width, height }
    }

    /// The channel at another size. Lanczos keeps edges; bilinear is enough for colour.
    pub(crate) fn resized(
        &self,
        resizer: &mut Resizer,
        width: u32,
        height: u32,
        filter: FilterType,
    ) -> Result<Plane, Damage> {
        if (self.width, self.height) == (width, height) {
            return Ok(Plane { samples: self.samples.to_vec(), width, height });
        }
        let mut samples = vec![0; width as usize * height as usize];
        let source = TypedImageRef::<U8>::from_buffer(self.width, self.height, &self.samples)
            .map_err(Damage::of)?;
        let mut target =
            TypedImage::<U8>::from_buffer(width, height, &mut samples).map_err(Damage::of)?;
        let options = ResizeOptions::new().resize_alg(ResizeAlg::Convolution(filter));
        resizer.resize_typed(&source, &mut target, &options).map_err(Damage::of)?;
        drop(target);
        Ok(Plane { samples, width, height })
    }
}

/// Width and height with the longest side at most `longest`: shrunk in proportion, never enlarged.
pub(crate) fn fit(width: u32, height: u32, longest: u32) -> (u32, u32) {
    let side = width.max(height);
    if side <= longest {
        return (width, height);
    }
    let (side, longest) = (u64::from(side), u64::from(longest));
    let scaled = |length: u32| {
        let rounded = (u64::from(length) * longest + side / 2) / side;
        u32::try_from(rounded.max(1)).expect("not longer than the longest side, which is a u32")
    };
    (scaled(width), scaled(height))
}
