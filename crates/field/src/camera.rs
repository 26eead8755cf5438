//! What a camera wrote into a photo's file: when it was taken, and which camera it was (Exif, CIPA DC-008).
//!
//! Read from the beginning of a JPEG, as the app takes it in. What is damaged or not there is left out: the file's own
//! time then stands in for it.

use inspection::Moment;
use jiff::civil::DateTime;

/// So many bytes of a file hold the camera's notes: a JPEG segment is at most 64 KiB, and few stand before this one.
pub const CAMERA_NOTES_WITHIN: u32 = 256 << 10;

/// What a camera wrote.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CameraNotes {
    /// When the photo was taken, by the camera's clock.
    pub taken: Option<Moment>,
    /// The camera, as it names itself; empty where it does not.
    pub camera: String,
}

const MAKE: u16 = 0x010f;
const MODEL: u16 = 0x0110;
const EXIF: u16 = 0x8769;
/// Time fields in the order of preference, each with the field for its offset: taken, digitized (CIPA DC-008, 4.6.5 and 4.6.6).
const TIMES: [(u16, u16); 2] = [(0x9003, 0x9011), (0x9004, 0x9012)];

/// The camera's notes in the beginning of a file.
#[must_use]
pub fn camera_notes(file: &[u8]) -> CameraNotes {
    let Some(tiff) = exif_block(file).and_then(Tiff::of) else { return CameraNotes::default() };
    let Some(first) = tiff.long(4) else { return CameraNotes::default() };
    let text = |directory, tag| tiff.text(directory, tag).unwrap_or_default();
    let (make, model) = (text(first, MAKE), text(first, MODEL));
    // Many models begin with their maker's name.
    let camera =
        if model.starts_with(&make) { model } else { format!("{make} {model}").trim().to_owned() };
    let more = tiff.pointer(first, EXIF);
    let taken = more.and_then(|more| {
        TIMES.iter().find_map(|(time, offset)| {
            let local = local(&tiff.text(more, *time)?)?;
            let offset_minutes = tiff.text(more, *offset).and_then(|text| minutes_east(&text));
            Some(Moment { local, offset_minutes })
        })
    });
    CameraNotes { taken, camera }
}

/// The segment with the notes, without its name.
fn exif_block(file: &[u8]) -> Option<&[u8]> {
    let mut rest = file.strip_prefix(&[0xff, 0xd8])?;
    loop {
        let [0xff, marker, high, low, ..] = *rest else { return None };
        let length = usize::from(u16::from_be_bytes([high, low]));
        // The picture itself begins: there are no notes.
        if marker == 0xda || length < 2 {
            return None;
        }
        let body = rest.get(4..2 + length)?;
        if let (0xe1, Some(block)) = (marker, body.strip_prefix(b"Exif\0\0")) {
            return Some(block);
        }
        rest = rest.get(2 + length..)?;
    }
}

/// The notes as a TIFF file (revision 6.0, section 2), in either order of bytes.
#[derive(Clone, Copy)]
struct Tiff<'a> {
    bytes: &'a [u8],
    big: bool,
}

impl<'a> Tiff<'a> {
    fn of(bytes: &'a [u8]) -> Option<Self> {
        let big = match bytes.get(..4)? {
            b"MM\0*" => true,
            b"II*\0" => false,
            _ => return None,
        };
        Some(Self { bytes, big })
    }

    fn short(self, at: usize) -> Option<u16> {
        let two = self.bytes.get(at..)?.first_chunk::<2>()?;
        Some(if self.big { u16::from_be_bytes(*two) } else { u16::from_le_bytes(*two) })
    }

    fn long(self, at: usize) -> Option<usize> {
        let four = self.bytes.get(at..)?.first_chunk::<4>()?;
        let long = if self.big { u32::from_be_bytes(*four) } else { u32::from_le_bytes(*four) };
        usize::try_from(long).ok()
    }

    /// Where the entry of a tag begins.
    fn entry(self, directory: usize, tag: u16) -> Option<usize> {
        let count = usize::from(self.short(directory)?);
        (0..count).map(|at| directory + 2 + 12 * at).find(|at| self.short(*at) == Some(tag))
    }

    /// What an entry points to: another directory.
    fn pointer(self, directory: usize, tag: u16) -> Option<usize> {
        self.long(self.entry(directory, tag)? + 8)
    }

    /// A line of text without its padding; none where it is of another kind.
    fn text(self, directory: usize, tag: u16) -> Option<String> {
        let entry = self.entry(directory, tag)?;
        let length = self.long(entry + 4)?.min(200);
        if self.short(entry + 2)? != 2 {
            return None;
        }
        // Four bytes and fewer stand in the entry itself.
        let at = if length <= 4 { entry + 8 } else { self.long(entry + 8)? };
        let bytes = self.bytes.get(at..at.checked_add(length)?)?;
        let text = String::from_utf8_lossy(bytes);
        let text: String = text.chars().filter(|letter| !letter.is_control()).collect();
        let text = text.trim();
        (!text.is_empty()).then(|| text.to_owned())
    }
}

/// `2026:06:12 09:14:30`.
fn local(text: &str) -> Option<DateTime> {
    let number = |from: usize, to: usize| text.get(from..to)?.parse::<i16>().ok();
    let small = |from: usize, to: usize| number(from, to).and_then(|it| i8::try_from(it).ok());
    DateTime::new(
        number(0, 4)?,
        small(5, 7)?,
        small(8, 10)?,
        small(11, 13)?,
        small(14, 16)?,
        small(17, 19)?,
        0,
    )
    .ok()
}

/// `-04:00`; no clock on land is more than 14 hours from universal time.
fn minutes_east(text: &str) -> Option<i16> {
    let sign = match text.get(..1)? {
        "+" => 1,
        "-" => -1,
        _ => return None,
    };
    let (hours, minutes) = text.get(1..)?.split_once(':')?;
    let (hours, minutes): (i16, i16) = (hours.parse().ok()?, minutes.parse().ok()?);
    let fits = (0..=14).contains(&hours) && (0..60).contains(&minutes);
    fits.then_some(sign * (60 * hours + minutes))
}

#[cfg(test)]
mod tests {
    use super::{CameraNotes, camera_notes};

    /// A JPEG's beginning with these notes: make, model, time, offset.
    fn file(big: bool, [make, model, time, offset]: [&str; 4]) -> Vec<u8> {
        let short = |value: u16| if big { value.to_be_bytes() } else { value.to_le_bytes() };
        let long = |value: usize| {
            let value = u32::try_from(value).unwrap();
            if big { value.to_be_bytes() } else { value.to_le_bytes() }
        };
        let mut tiff: Vec<u8> = if big { b"MM\0*".to_vec() } else { b"II*\0".to_vec() };
        tiff.extend(long(8));
        // Two directories, then the texts.
        let (first, second) = (8, 8 + 2 + 3 * 12 + 4);
        let mut at = second + 2 + 2 * 12 + 4;
        let mut texts = Vec::new();
        let mut entry = |tag: u16, text: &str| {
            let line = format!("{text}\0");
            let mut entry = [short(tag), short(2)].concat();
            entry.extend(long(line.len()));
            if line.len() <= 4 {
                entry.extend(line.bytes().chain([0; 4]).take(4));
            } else {
                entry.extend(long(at));
                at += line.len();
                texts.extend(line.into_bytes());
            }
            entry
        };
        let (make, model) = (entry(0x010f, make), entry(0x0110, model));
        let (time, offset) = (entry(0x9003, time), entry(0x9011, offset));
        tiff.extend(short(3));
        tiff.extend(make.into_iter().chain(model));
        tiff.extend([short(0x8769), short(4)].concat());
        tiff.extend([long(1), long(second), long(0)].concat());
        tiff.extend(short(2));
        tiff.extend(time.into_iter().chain(offset));
        tiff.extend(long(0));
        assert_eq!(first, 8);
        tiff.extend(texts);
        let mut file = vec![0xff, 0xd8, 0xff, 0xe0, 0, 4, 1, 2, 0xff, 0xe1];
        file.extend(u16::try_from(tiff.len() + 8).unwrap().to_be_bytes());
        file.extend(b"Exif\0\0");
        file.extend(tiff);
        file
    }

    #[test]
    fn time_and_camera_are_read_in_either_order_of_bytes() {
        for big in [true, false] {
            let notes =
                camera_notes(&file(big, ["Ardin", "Ardin F2", "2026:06:12 09:14:30", "-04:00"]));
            assert_eq!(notes.taken.unwrap().to_string(), "2026-06-12T09:14:30-04:00");
            assert_eq!(notes.camera, "Ardin F2");
        }
        let notes = camera_notes(&file(true, ["Ob", "F2", "2026:06:12 09:14:30", "soon"]));
        assert_eq!(notes.taken.unwrap().to_string(), "2026-06-12T09:14:30");
        assert_eq!(notes.camera, "Ob F2");
    }

    #[test]
    fn what_is_damaged_or_cut_off_is_left_out() {
        let whole = file(false, ["Ardin", "F2", "2026:06:12 09:14:30", "+00:00"]);
        for length in 0..whole.len() {
            let cut = camera_notes(&whole[..length]);
            assert_eq!(cut, CameraNotes::default(), "{length}");
        }
        for at in 0..whole.len() {
            for bit in [1, 0x80, 0xff] {
                let mut bent = whole.clone();
                bent[at] ^= bit;
                // Whatever comes of it: no panic.
                let _notes = camera_notes(&bent);
            }
        }
        assert_eq!(camera_notes(b"no picture"), CameraNotes::default());
        let unset = camera_notes(&file(true, ["Ardin", "F2", "0000:00:00 00:00:00", "+00:00"]));
        assert_eq!(unset.taken, None);
    }
}
