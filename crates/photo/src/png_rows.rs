//! Reading a PNG row by row into a picture that is already shrunk, white behind what is clear.
//!
//! A PNG may open to three hundred times its size, so it is never held whole: each pixel is added
//! to the sum of its box, and the boxes become the picture. The order of the rows does not
//! matter, which takes care of interlaced files as well.

use std::io::Cursor;

use png::{ColorType, Decoder, Reader, Transformations};

use crate::{
    Limits, Size,
    damage::{Damage, Undecoded},
    picture::{Picture, from_rgb},
};

/// A PNG whose header has been read and found within the limits.
pub(crate) struct PngFile<'a> {
    reader: Reader<Cursor<&'a [u8]>>,
    pub(crate) size: Size,
}

/// First column, first row, and the steps between columns and rows of each pass of an interlaced
/// file (W3C Portable Network Graphics, third edition, section 8.1).
const PASSES: [[u32; 4]; 7] = [
    [0, 0, 8, 8],
    [4, 0, 8, 8],
    [0, 4, 4, 8],
    [2, 0, 4, 4],
    [0, 2, 2, 4],
    [1, 0, 2, 2],
    [0, 1, 1, 2],
];
const NOT_INTERLACED: [[u32; 4]; 1] = [[0, 0, 1, 1]];

impl<'a> PngFile<'a> {
    /// Reads up to the picture's data.
    pub(crate) fn open(name: &str, bytes: &'a [u8], limits: &Limits) -> Result<Self, Undecoded> {
        let mut decoder = Decoder::new(Cursor::new(bytes));
        decoder.set_transformations(Transformations::EXPAND | Transformations::STRIP_16);
        decoder.set_ignore_text_chunk(true);
        decoder.set_ignore_iccp_chunk(true);
        let header = decoder.read_header_info().map_err(Damage::of)?;
        let size = Size { width: header.width, height: header.height };
        limits.check_size(name, size.width, size.height)?;
        let reader = decoder.read_info().map_err(Damage::of)?;
        Ok(Self { reader, size })
    }

    /// Decodes, shrunk by the largest whole number that leaves the longest side at `longest`.
    pub(crate) fn decode(mut self, longest: u32) -> Result<Picture<'static>, Damage> {
        let Size { width, height } = self.size;
        let mut boxes = Boxes::new(self.size, longest);
        let channels = match self.reader.output_color_type().0 {
            ColorType::Grayscale => 1,
            ColorType::GrayscaleAlpha => 2,
            ColorType::Rgb => 3,
            ColorType::Rgba => 4,
            ColorType::Indexed => return Err(Damage("its palette is missing".to_owned())),
        };
        let passes: &[_] = if self.reader.info().interlaced { &PASSES } else { &NOT_INTERLACED };
        for &[left, top, across, down] in passes {
            if left >= width {
                continue;
            }
            for y in (top..height).step_by(down as usize) {
                let row = self.reader.next_row().map_err(Damage::of)?;
                let Some(row) = row else { return Err(Damage("rows are missing".to_owned())) };
                let columns = (left..width).step_by(across as usize);
                for (x, pixel) in columns.zip(row.data().chunks_exact(channels)) {
                    boxes.add(x, y, over_white(pixel));
                }
            }
        }
        // The check sum and the end of the file: a PNG that breaks off is damaged.
        self.reader.finish().map_err(Damage::of)?;
        Ok(boxes.picture())
    }
}

/// Red, green and blue of a pixel on white paper.
fn over_white(pixel: &[u8]) -> [u8; 3] {
    let over = |colour: u8, alpha: u8| {
        let sum = u16::from(colour) * u16::from(alpha) + 255 * (255 - u16::from(alpha));
        u8::try_from((sum + 127) / 255).expect("a mean of two bytes is a byte")
    };
    match *pixel {
        [grey] => [grey; 3],
        [grey, alpha] => [over(grey, alpha); 3],
        [red, green, blue] => [red, green, blue],
        [red, green, blue, 255] => [red, green, blue],
        [red, green, blue, alpha, ..] => [over(red, alpha), over(green, alpha), over(blue, alpha)],
        [] => [255; 3],
    }
}

/// Sums of square boxes of pixels. At the default limits a box is at most 12 × 12, and at most
/// 16 × 16 at any, so that a sum fits in 16 bits.
struct Boxes {
    size: Size,
    side: u32,
    width: u32,
    height: u32,
    sums: Vec<[u16; 3]>,
}

impl Boxes {
    fn new(size: Size, longest: u32) -> Self {
        let side = (size.width.max(size.height) / longest).clamp(1, 16);
        let (width, height) = (size.width.div_ceil(side), size.height.div_ceil(side));
        let sums = vec![[0; 3]; width as usize * height as usize];
        Self { size, side, width, height, sums }
    }

    fn add(&mut self, x: u32, y: u32, colours: [u8; 3]) {
        let index = (y / self.side) as usize * self.width as usize + (x / self.side) as usize;
        for (sum, colour) in self.sums[index].iter_mut().zip(colours) {
            *sum += u16::from(colour);
        }
    }

    /// The mean of each box; those at the right and at the bottom may be cut.
    fn picture(&self) -> Picture<'static> {
        let cut = |index: u32, length: u32| self.side.min(length - index * self.side);
        let mut pixels = Vec::with_capacity(self.sums.len() * 3);
        let mut sums = self.sums.iter();
        for row in 0..self.height {
            for (column, sum) in (0..self.width).zip(sums.by_ref()) {
                let count = cut(column, self.size.width) * cut(row, self.size.height);
                pixels.extend(sum.map(|sum| {
                    let mean = (u32::from(sum) + count / 2) / count;
                    u8::try_from(mean).expect("a mean of bytes is a byte")
                }));
            }
        }
        from_rgb(&pixels, self.width, self.height)
    }
}
