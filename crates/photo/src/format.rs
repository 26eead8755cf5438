//! What kind of file it is, told by its first bytes and never by its name.

use std::fmt;

use crate::Refusal;

/// A picture format that is taken in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Format {
    /// JPEG (ITU-T T.81).
    Jpeg,
    /// PNG (W3C Portable Network Graphics).
    Png,
}

impl Format {
    /// The media type, for a manifest or a web answer.
    pub fn media_type(self) -> &'static str {
        match self {
            Self::Jpeg => "image/jpeg",
            Self::Png => "image/png",
        }
    }

    /// The usual ending of a file's name, without the dot.
    pub fn extension(self) -> &'static str {
        match self {
            Self::Jpeg => "jpg",
            Self::Png => "png",
        }
    }
}

impl fmt::Display for Format {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Self::Jpeg => "JPEG",
            Self::Png => "PNG",
        })
    }
}

pub(crate) const PNG_SIGNATURE: &[u8] = b"\x89PNG\r\n\x1a\n";
const SET_THE_CAMERA: &str =
    "set the camera to JPEG (often called \"most compatible\"), or save the picture as JPEG";
const SAVE_AS_JPEG: &str = "save the picture as JPEG or PNG";

/// The format of a file that is not empty.
pub(crate) fn sniff(name: &str, bytes: &[u8]) -> Result<Format, Refusal> {
    let name = name.to_owned();
    if bytes.starts_with(b"\xff\xd8\xff") {
        return Ok(Format::Jpeg);
    }
    if bytes.starts_with(PNG_SIGNATURE) {
        return Ok(Format::Png);
    }
    if let Some((kind, remedy)) = other_picture(bytes) {
        return Err(Refusal::OtherFormat { name, kind, remedy });
    }
    Err(Refusal::NotAPicture { name, looks_like: no_picture(bytes) })
}

/// Pictures that are known and not read, with what to do about them.
fn other_picture(bytes: &[u8]) -> Option<(&'static str, &'static str)> {
    let brand = (bytes.get(4..8) == Some(b"ftyp")).then(|| bytes.get(8..12)).flatten();
    match brand {
        Some(b"heic" | b"heix" | b"heim" | b"heis" | b"hevc" | b"mif1" | b"msf1") => {
            return Some(("HEIC photos", SET_THE_CAMERA));
        }
        Some(b"avif" | b"avis") => return Some(("AVIF pictures", SAVE_AS_JPEG)),
        Some(b"crx ") => return Some(("raw camera files", SET_THE_CAMERA)),
        _ => {}
    }
    if bytes.starts_with(b"II*\0") || bytes.starts_with(b"MM\0*") {
        return Some(("TIFF pictures and raw camera files", SET_THE_CAMERA));
    }
    if bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"WEBP") {
        return Some(("WebP pictures", SAVE_AS_JPEG));
    }
    if bytes.starts_with(b"GIF8") {
        return Some(("GIF pictures", SAVE_AS_JPEG));
    }
    None
}

/// What a file that is no picture looks like, as far as that helps to find the mistake.
fn no_picture(bytes: &[u8]) -> &'static str {
    if bytes.starts_with(b"%PDF") {
        return "it is a PDF";
    }
    if bytes.starts_with(b"PK\x03\x04") {
        return "it is a ZIP archive or an office document";
    }
    if bytes.get(4..8) == Some(b"ftyp") {
        return "it is a video";
    }
    let head = &bytes[..bytes.len().min(512)];
    if head.iter().all(|&byte| byte >= 0x20 || matches!(byte, b'\t' | b'\n' | b'\r')) {
        return "it looks like text";
    }
    "its first bytes are those of no known picture format"
}
