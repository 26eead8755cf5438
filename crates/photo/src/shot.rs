//! What the camera wrote about the shot: when, where, how it was held, and which camera it was.

use exif::{Exif, In, Reader, Tag, Value};
use jiff::civil::DateTime;

use crate::{Format, Orientation, exif_block};

/// The camera's notes. Whatever is missing, or cannot be, is left out.
#[derive(Debug, Clone, PartialEq)]
pub struct Shot {
    /// When the picture was taken, by the camera's clock.
    pub taken: Option<Taken>,
    /// How the camera was held; upright if it does not say.
    pub orientation: Orientation,
    /// Where the camera was.
    pub position: Option<Position>,
    /// The camera's maker, as the camera prints it.
    pub make: Option<String>,
    /// The camera's model, as the camera prints it.
    pub model: Option<String>,
}

/// A moment by the camera's clock. Most cameras do not say in which zone it runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Taken {
    /// Local date and time.
    pub local: DateTime,
    /// Minutes east of UTC, if the camera says so.
    pub offset_minutes: Option<i16>,
}

/// A position on the ground, in degrees of the World Geodetic System unless the camera says
/// otherwise.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Position {
    /// North is positive; −90 to 90.
    pub latitude: f64,
    /// East is positive; −180 to 180.
    pub longitude: f64,
}

/// Time fields in the order of preference: taken, digitized, changed (CIPA DC-008, section
/// 4.6.5), each with the field for its offset.
const TIMES: [(Tag, Tag, Tag); 3] = [
    (Tag::DateTimeOriginal, Tag::OffsetTimeOriginal, Tag::SubSecTimeOriginal),
    (Tag::DateTimeDigitized, Tag::OffsetTimeDigitized, Tag::SubSecTimeDigitized),
    (Tag::DateTime, Tag::OffsetTime, Tag::SubSecTime),
];

impl Shot {
    /// What is known when the camera wrote nothing.
    const UNKNOWN: Self = Self {
        taken: None,
        orientation: Orientation::UPRIGHT,
        position: None,
        make: None,
        model: None,
    };

    /// The notes in this file. Damaged notes give what can still be read.
    pub(crate) fn read(format: Format, file: &[u8]) -> Self {
        let Some(block) = exif_block::find(format, file) else { return Self::UNKNOWN };
        let read = Reader::new()
            .continue_on_error(true)
            .read_raw(block.to_vec())
            .or_else(|error| error.distill_partial_result(|_| ()));
        let Ok(notes) = read else { return Self::UNKNOWN };
        let orientation = field(&notes, Tag::Orientation)
            .and_then(|value| value.get_uint(0))
            .and_then(Orientation::from_exif);
        Self {
            taken: TIMES.into_iter().find_map(|fields| taken(&notes, fields)),
            orientation: orientation.unwrap_or(Orientation::UPRIGHT),
            position: position(&notes),
            make: words(&notes, Tag::Make),
            model: words(&notes, Tag::Model),
        }
    }
}

impl Taken {
    /// Seconds from the other moment to this one; by the clocks as they stand unless both say
    /// how far they are from UTC.
    pub(crate) fn seconds_since(&self, other: &Self) -> i64 {
        let clock = self.local.duration_since(other.local).as_secs();
        match (self.offset_minutes, other.offset_minutes) {
            (Some(mine), Some(theirs)) => clock - 60 * (i64::from(mine) - i64::from(theirs)),
            _ => clock,
        }
    }
}

fn field(notes: &Exif, tag: Tag) -> Option<&Value> {
    notes.get_field(tag, In::PRIMARY).map(|field| &field.value)
}

fn ascii(notes: &Exif, tag: Tag) -> Option<&[u8]> {
    match field(notes, tag)? {
        Value::Ascii(lines) => lines.first().map(Vec::as_slice),
        _ => None,
    }
}

/// A line of text without its padding and without control characters.
fn words(notes: &Exif, tag: Tag) -> Option<String> {
    let text = String::from_utf8_lossy(ascii(notes, tag)?);
    let text: String = text.chars().filter(|letter| !letter.is_control()).take(200).collect();
    let text = text.trim();
    (!text.is_empty()).then(|| text.to_owned())
}

fn taken(notes: &Exif, (time, offset, fraction): (Tag, Tag, Tag)) -> Option<Taken> {
    let mut read = exif::DateTime::from_ascii(ascii(notes, time)?).ok()?;
    // A fraction or an offset that cannot be read leaves the time as it is.
    if let Some(digits) = ascii(notes, fraction) {
        read.parse_subsec(digits).unwrap_or(());
    }
    if let Some(text) = ascii(notes, offset) {
        read.parse_offset(text).unwrap_or(());
    }
    let small = |number: u8| i8::try_from(number).ok();
    let local = DateTime::new(
        i16::try_from(read.year).ok()?,
        small(read.month)?,
        small(read.day)?,
        small(read.hour)?,
        small(read.minute)?,
        small(read.second)?,
        i32::try_from(read.nanosecond.unwrap_or(0)).ok()?,
    )
    .ok()?;
    // No clock on land is more than 14 hours from UTC.
    let offset_minutes = read.offset.filter(|minutes| (-14 * 60..=14 * 60).contains(minutes));
    // A camera whose clock was never set writes zeros, or the first moment it knows of: the
    // former is no date, the latter is for the person to see.
    Some(Taken { local, offset_minutes })
}

fn position(notes: &Exif) -> Option<Position> {
    let latitude = degrees(notes, Tag::GPSLatitude, Tag::GPSLatitudeRef, [b'N', b'S'], 90.0)?;
    let longitude = degrees(notes, Tag::GPSLongitude, Tag::GPSLongitudeRef, [b'E', b'W'], 180.0)?;
    Some(Position { latitude, longitude })
}

/// Degrees, minutes and seconds as one signed number. Without its letter a position could be on
/// either side of the line, so it is none.
fn degrees(
    notes: &Exif,
    angle: Tag,
    side: Tag,
    [positive, negative]: [u8; 2],
    most: f64,
) -> Option<f64> {
    let Value::Rational(parts) = field(notes, angle)? else { return None };
    let [degrees, minutes, seconds] = *parts.get(..3)? else { return None };
    let value = degrees.to_f64() + minutes.to_f64() / 60.0 + seconds.to_f64() / 3600.0;
    // A denominator of zero gives infinity or no number, and falls out here too.
    if !(0.0..=most).contains(&value) {
        return None;
    }
    match ascii(notes, side)?.first() {
        Some(letter) if *letter == positive => Some(value),
        Some(letter) if *letter == negative => Some(-value),
        _ => None,
    }
}
