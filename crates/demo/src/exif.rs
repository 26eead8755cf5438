//! What a camera writes beside a picture: time, place, how it was held, in an EXIF block (CIPA DC-008-2019).
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "angles are checked to be finite and in range before they become whole numbers"
)]

use crate::photos::{ShotExif, Turn};
use exif::experimental::Writer;
use exif::{Field, In, Rational, Tag, Value};
use std::io::Cursor;

/// Why a block could not be written.
#[derive(Debug, thiserror::Error)]
pub enum ExifError {
    /// A position that is nowhere on Earth.
    #[error(
        "latitude {latitude}, longitude {longitude}: latitude is −90 to 90, longitude −180 to 180"
    )]
    Position {
        /// North latitude, degrees.
        latitude: f64,
        /// East longitude, degrees.
        longitude: f64,
    },
    /// A year that EXIF's four figures cannot hold.
    #[error("year {0}: EXIF writes years 0 to 9999")]
    Year(i16),
    /// An offset that no clock has.
    #[error("offset of {0} minutes: at most 14 hours either way")]
    Offset(i16),
    /// The file does not begin as a JPEG does.
    #[error("the picture does not begin as a JPEG file does")]
    NotJpeg,
    /// The block does not fit into a JPEG segment of 64 KiB.
    #[error("the EXIF block has {0} bytes; a JPEG segment holds 65,533")]
    TooLong(usize),
    /// The writer failed.
    #[error("{0}")]
    Writer(#[from] exif::Error),
}

/// Puts an EXIF block at the head of a JPEG file, in place of the JFIF head that cameras do not write.
pub fn splice(
    jpeg: &[u8],
    beside: &ShotExif,
    turn: Turn,
    (width, height): (usize, usize),
) -> Result<Vec<u8>, ExifError> {
    let fields = fields(beside, turn, (width, height))?;
    let mut writer = Writer::new();
    for field in &fields {
        writer.push_field(field);
    }
    let mut block = Cursor::new(Vec::new());
    writer.write(&mut block, false)?;
    let block = block.into_inner();
    let length = u16::try_from(block.len() + 8).map_err(|_| ExifError::TooLong(block.len()))?;
    let mut rest = jpeg.strip_prefix(&[0xff, 0xd8]).ok_or(ExifError::NotJpeg)?;
    if let [0xff, 0xe0, high, low, ..] = *rest {
        rest = rest
            .get(2 + usize::from(u16::from_be_bytes([high, low]))..)
            .ok_or(ExifError::NotJpeg)?;
    }
    let mut file = Vec::with_capacity(rest.len() + block.len() + 12);
    file.extend_from_slice(&[0xff, 0xd8, 0xff, 0xe1]);
    file.extend_from_slice(&length.to_be_bytes());
    file.extend_from_slice(b"Exif\0\0");
    file.extend_from_slice(&block);
    file.extend_from_slice(rest);
    Ok(file)
}

fn fields(beside: &ShotExif, turn: Turn, size: (usize, usize)) -> Result<Vec<Field>, ExifError> {
    let field = |tag, value| Field { tag, ifd_num: In::PRIMARY, value };
    let words = |text: &str| Value::Ascii(vec![text.as_bytes().to_vec()]);
    let taken = beside.taken;
    if !(0..=9999).contains(&taken.year()) {
        return Err(ExifError::Year(taken.year()));
    }
    let clock = format!(
        "{:04}:{:02}:{:02} {:02}:{:02}:{:02}",
        taken.year(),
        taken.month(),
        taken.day(),
        taken.hour(),
        taken.minute(),
        taken.second()
    );
    let mut fields = vec![
        field(Tag::Make, words("Nearside demo")),
        field(Tag::Model, words("drawn picture")),
        field(Tag::Orientation, Value::Short(vec![turn.orientation()])),
        field(Tag::DateTime, words(&clock)),
        field(Tag::ExifVersion, Value::Undefined(b"0232".to_vec(), 0)),
        field(Tag::DateTimeOriginal, words(&clock)),
        field(Tag::DateTimeDigitized, words(&clock)),
        field(Tag::PixelXDimension, Value::Long(vec![size.0 as u32])),
        field(Tag::PixelYDimension, Value::Long(vec![size.1 as u32])),
    ];
    if let Some(minutes) = beside.offset_minutes {
        if minutes.unsigned_abs() > 14 * 60 {
            return Err(ExifError::Offset(minutes));
        }
        let sign = if minutes < 0 { '-' } else { '+' };
        let (hours, rest) = (minutes.unsigned_abs() / 60, minutes.unsigned_abs() % 60);
        fields.push(field(Tag::OffsetTimeOriginal, words(&format!("{sign}{hours:02}:{rest:02}"))));
    }
    if let Some((latitude, longitude)) = beside.position {
        if !(-90.0..=90.0).contains(&latitude) || !(-180.0..=180.0).contains(&longitude) {
            return Err(ExifError::Position { latitude, longitude });
        }
        fields.push(field(Tag::GPSVersionID, Value::Byte(vec![2, 3, 0, 0])));
        fields.push(field(Tag::GPSLatitudeRef, words(if latitude < 0.0 { "S" } else { "N" })));
        fields.push(field(Tag::GPSLatitude, Value::Rational(degrees(latitude))));
        fields.push(field(Tag::GPSLongitudeRef, words(if longitude < 0.0 { "W" } else { "E" })));
        fields.push(field(Tag::GPSLongitude, Value::Rational(degrees(longitude))));
        fields.push(field(Tag::GPSMapDatum, words("WGS-84")));
    }
    Ok(fields)
}

/// Degrees, minutes and hundredths of seconds, as EXIF writes an angle.
fn degrees(angle: f64) -> Vec<Rational> {
    let hundredths = (angle.abs() * 360_000.0).round() as u32;
    let whole = |num, denom| Rational { num, denom };
    vec![
        whole(hundredths / 360_000, 1),
        whole(hundredths / 6_000 % 60, 1),
        whole(hundredths % 6_000, 100),
    ]
}
