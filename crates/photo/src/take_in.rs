//! Taking in one file: prove it, read the camera's notes, make the copies.

use crate::{
    Candidate, Copies, Format, Limits, Refusal, Sha256, Shot,
    copies::{self, DISPLAY},
    damage::Undecoded,
    format::sniff,
    jpeg::JpegFile,
    png_rows::PngFile,
};

/// A picture that was taken in.
#[derive(Debug, Clone, PartialEq)]
pub struct Photo {
    /// The file's name, as it was given.
    pub name: String,
    /// SHA-256 of the original's bytes: the photo's name in the record.
    pub id: Sha256,
    /// Bytes in the original.
    pub bytes: usize,
    /// What kind of file the original is.
    pub format: Format,
    /// Size of the original as it is stored, before it is turned upright; none if its header
    /// cannot be read.
    pub size: Option<Size>,
    /// What the camera wrote about the shot.
    pub shot: Shot,
    /// What is shown; none if the picture is damaged.
    pub copies: Option<Copies>,
    /// What is wrong with the picture, in a sentence, if it is damaged.
    pub damage: Option<String>,
}

/// Pixels across and down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size {
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
}

impl Photo {
    /// What [`crate::near_duplicates`] compares; none if the picture is damaged.
    pub fn candidate(&self) -> Option<Candidate> {
        let look = self.copies.as_ref()?.look;
        Some(Candidate {
            id: self.id,
            fingerprint: look.fingerprint,
            sharpness: look.sharpness,
            taken: self.shot.taken,
        })
    }
}

/// Takes in one file: hash, format, the camera's notes, an upright copy and a thumbnail, and the
/// figures measured on it. The name only serves the sentences; the format is told by the bytes.
///
/// # Errors
///
/// A file that is empty, no picture, in a format that is not read, or beyond the limits. A
/// damaged picture is no error: it is evidence, and comes back without copies.
pub fn take_in(name: &str, original: &[u8], limits: &Limits) -> Result<Photo, Refusal> {
    limits.check_bytes(name, original.len())?;
    let format = sniff(name, original)?;
    let shot = Shot::read(format, original);
    let mut size = None;
    let shown = match format {
        Format::Jpeg => show_jpeg(name, original, limits, &shot, &mut size),
        Format::Png => show_png(name, original, limits, &shot, &mut size),
    };
    let (copies, damage) = match shown {
        Ok(copies) => (Some(copies), None),
        Err(Undecoded::Damaged(damage)) => (None, Some(damage.sentence(name, format))),
        Err(Undecoded::Refused(refusal)) => return Err(refusal),
    };
    Ok(Photo {
        name: name.to_owned(),
        id: Sha256::of(original),
        bytes: original.len(),
        format,
        size,
        shot,
        copies,
        damage,
    })
}

fn show_jpeg(
    name: &str,
    original: &[u8],
    limits: &Limits,
    shot: &Shot,
    size: &mut Option<Size>,
) -> Result<Copies, Undecoded> {
    let file = JpegFile::open(name, original, limits)?;
    *size = Some(file.size);
    let decoded = file.decode(name, limits, DISPLAY)?;
    Ok(copies::make(&decoded.picture()?, shot.orientation)?)
}

fn show_png(
    name: &str,
    original: &[u8],
    limits: &Limits,
    shot: &Shot,
    size: &mut Option<Size>,
) -> Result<Copies, Undecoded> {
    let file = PngFile::open(name, original, limits)?;
    *size = Some(file.size);
    Ok(copies::make(&file.decode(DISPLAY)?, shot.orientation)?)
}
