//! Pictures, files and notes for the tests.

use exif::{Field, In, Rational, Tag, Value, experimental::Writer};
use photo::{JpegCopy, Limits, Photo, take_in};
use turbojpeg::{Compressor, Image, PixelFormat, Subsamp};

/// A picture of red, green and blue bytes.
#[derive(Clone)]
pub(crate) struct Painting {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) pixels: Vec<u8>,
}

pub(crate) fn paint(
    width: usize,
    height: usize,
    colour: impl Fn(usize, usize) -> [u8; 3],
) -> Painting {
    let mut pixels = Vec::with_capacity(width * height * 3);
    for y in 0..height {
        for x in 0..width {
            pixels.extend(colour(x, y));
        }
    }
    Painting { width, height, pixels }
}

impl Painting {
    pub(crate) fn at(&self, x: usize, y: usize) -> [u8; 3] {
        let start = (y * self.width + x) * 3;
        self.pixels[start..start + 3].try_into().unwrap()
    }
}

pub(crate) const RED: [u8; 3] = [200, 30, 30];
pub(crate) const GREEN: [u8; 3] = [30, 200, 30];
pub(crate) const BLUE: [u8; 3] = [30, 30, 200];
pub(crate) const WHITE: [u8; 3] = [250, 250, 250];

/// Red and green above, blue and white below.
pub(crate) fn corners(width: usize, height: usize) -> Painting {
    paint(width, height, |x, y| match (x * 2 < width, y * 2 < height) {
        (true, true) => RED,
        (false, true) => GREEN,
        (true, false) => BLUE,
        (false, false) => WHITE,
    })
}

/// A scene with large shapes and fine texture; another number is another scene.
pub(crate) fn scene(width: usize, height: usize, number: usize) -> Painting {
    let mut numbers = Numbers(number as u64 + 1);
    let spots: Vec<[usize; 4]> = (0..8)
        .map(|_| {
            let mut below = |most: usize| numbers.next_below(most);
            [below(width), below(height), width / 12 + below(width / 6), below(256)]
        })
        .collect();
    paint(width, height, |x, y| {
        let mut grey = 60 + 120 * y / height;
        for &[centre_x, centre_y, radius, shade] in &spots {
            let (across, down) = (x.abs_diff(centre_x), y.abs_diff(centre_y));
            if across * across + down * down < radius * radius {
                grey = shade;
            }
        }
        let texture = (x * 7 + y * 13) % 29;
        let grey = (grey * 220 / 256 + texture) as u8;
        [grey, grey, grey.saturating_sub(20)]
    })
}

/// Each pixel replaced by the mean of those around it.
pub(crate) fn blurred(painting: &Painting, reach: usize) -> Painting {
    let around = |middle: usize, length: usize| {
        middle.saturating_sub(reach)..(middle + reach + 1).min(length)
    };
    paint(painting.width, painting.height, |x, y| {
        let mut sums = [0_usize; 3];
        let mut count = 0;
        for row in around(y, painting.height) {
            for column in around(x, painting.width) {
                for (sum, colour) in sums.iter_mut().zip(painting.at(column, row)) {
                    *sum += usize::from(colour);
                }
                count += 1;
            }
        }
        sums.map(|sum| (sum / count) as u8)
    })
}

pub(crate) fn jpeg(painting: &Painting) -> Vec<u8> {
    jpeg_with(painting, Subsamp::Sub2x2, |_| ())
}

pub(crate) fn jpeg_with(
    painting: &Painting,
    sampling: Subsamp,
    set: impl Fn(&mut Compressor),
) -> Vec<u8> {
    let mut compressor = Compressor::new().unwrap();
    compressor.set_quality(92).unwrap();
    compressor.set_subsamp(sampling).unwrap();
    set(&mut compressor);
    let image = Image {
        pixels: &painting.pixels[..],
        width: painting.width,
        pitch: painting.width * 3,
        height: painting.height,
        format: PixelFormat::RGB,
    };
    compressor.compress_to_vec(image).unwrap()
}

pub(crate) fn png_of(
    painting: &Painting,
    colour: png::ColorType,
    depth: png::BitDepth,
    samples: &[u8],
    set: impl Fn(&mut png::Encoder<'_, &mut Vec<u8>>),
) -> Vec<u8> {
    let mut file = Vec::new();
    let (width, height) = (painting.width as u32, painting.height as u32);
    let mut encoder = png::Encoder::new(&mut file, width, height);
    encoder.set_color(colour);
    encoder.set_depth(depth);
    set(&mut encoder);
    let mut writer = encoder.write_header().unwrap();
    writer.write_image_data(samples).unwrap();
    writer.finish().unwrap();
    file
}

pub(crate) fn png_rgb(painting: &Painting) -> Vec<u8> {
    png_of(painting, png::ColorType::Rgb, png::BitDepth::Eight, &painting.pixels, |_| ())
}

/// The colours of a copy.
pub(crate) fn seen(copy: &JpegCopy) -> Painting {
    let painting = decoded(&copy.jpeg);
    assert_eq!((painting.width, painting.height), (copy.width as usize, copy.height as usize));
    painting
}

/// The pixels of a JPEG.
pub(crate) fn decoded(jpeg: &[u8]) -> Painting {
    let image = turbojpeg::decompress(jpeg, PixelFormat::RGB).unwrap();
    Painting { width: image.width, height: image.height, pixels: image.pixels }
}

/// Asserts that a copy shows `colour` at this place, given in hundredths of its sides.
#[track_caller]
pub(crate) fn assert_shows(copy: &JpegCopy, place: (usize, usize), colour: [u8; 3]) {
    let painting = seen(copy);
    let got = painting.at(painting.width * place.0 / 100, painting.height * place.1 / 100);
    let near = got.iter().zip(colour).all(|(&got, wanted)| got.abs_diff(wanted) <= 12);
    assert!(near, "at {place:?} %: {got:?}, wanted {colour:?}");
}

#[track_caller]
pub(crate) fn assert_shows_corners(copy: &JpegCopy) {
    assert_shows(copy, (20, 20), RED);
    assert_shows(copy, (80, 20), GREEN);
    assert_shows(copy, (20, 80), BLUE);
    assert_shows(copy, (80, 80), WHITE);
}

pub(crate) fn ascii(tag: Tag, text: &str) -> Field {
    Field { tag, ifd_num: In::PRIMARY, value: Value::Ascii(vec![text.as_bytes().to_vec()]) }
}

pub(crate) fn short(tag: Tag, number: u16) -> Field {
    Field { tag, ifd_num: In::PRIMARY, value: Value::Short(vec![number]) }
}

pub(crate) fn angle(tag: Tag, parts: [(u32, u32); 3]) -> Field {
    let value = parts.into_iter().map(|(num, denom)| Rational { num, denom }).collect();
    Field { tag, ifd_num: In::PRIMARY, value: Value::Rational(value) }
}

/// The camera's notes as a TIFF structure.
pub(crate) fn notes(fields: &[Field], little_endian: bool) -> Vec<u8> {
    let mut writer = Writer::new();
    for field in fields {
        writer.push_field(field);
    }
    let mut block = std::io::Cursor::new(Vec::new());
    writer.write(&mut block, little_endian).unwrap();
    block.into_inner()
}

/// The JPEG with a segment of notes after its first marker.
pub(crate) fn with_notes(jpeg: &[u8], block: &[u8]) -> Vec<u8> {
    let mut file = jpeg[..2].to_vec();
    file.extend(b"\xff\xe1");
    file.extend(u16::try_from(block.len() + 8).unwrap().to_be_bytes());
    file.extend(b"Exif\0\0");
    file.extend(block);
    file.extend(&jpeg[2..]);
    file
}

/// Where the first segment with one of these markers starts.
pub(crate) fn segment(jpeg: &[u8], markers: &[u8]) -> usize {
    let mut at = 2;
    while !markers.contains(&jpeg[at + 1]) {
        at += 2 + usize::from(u16::from_be_bytes([jpeg[at + 2], jpeg[at + 3]]));
    }
    at
}

#[track_caller]
pub(crate) fn taken_in(file: &[u8]) -> Photo {
    take_in("photo", file, &Limits::default()).unwrap()
}

/// Numbers that look random and are the same each time (xorshift, Marsaglia 2003).
pub(crate) struct Numbers(pub(crate) u64);

impl Numbers {
    pub(crate) fn next_below(&mut self, most: usize) -> usize {
        for _ in 0..3 {
            self.0 ^= self.0 << 13;
            self.0 ^= self.0 >> 7;
            self.0 ^= self.0 << 17;
        }
        (self.0 >> 8) as usize % most.max(1)
    }
}
