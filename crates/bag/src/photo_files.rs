//! Where the photos and voice memos of a job lie in its bag.

use crate::{Sha256, paths::as_name};

/// The original as it came from the camera. Its name is its hash; the ending follows from its first bytes.
#[must_use]
pub fn original_path(sha256: &Sha256, first_bytes: &[u8]) -> String {
    // ITU-T T.81 and the PNG specification: how such files begin.
    let ending = if first_bytes.starts_with(b"\xff\xd8\xff") {
        "jpg"
    } else if first_bytes.starts_with(b"\x89PNG") {
        "png"
    } else {
        "bin"
    };
    format!("{}{sha256}.{ending}", folder::ORIGINAL)
}

/// The upright copy that the report shows, by its own hash.
#[must_use]
pub fn display_path(sha256: &Sha256) -> String {
    format!("{}{sha256}.jpg", folder::DISPLAY)
}

/// The thumbnail, by its own hash.
#[must_use]
pub fn thumbnail_path(sha256: &Sha256) -> String {
    format!("{}{sha256}.jpg", folder::THUMBNAIL)
}

/// A voice memo as it was recorded. Its name is its hash; the ending follows from its media type.
#[must_use]
pub fn memo_path(sha256: &Sha256, media_type: &str) -> String {
    let ending = inspection::Memo::ending_of(media_type).unwrap_or("bin");
    format!("{}{sha256}.{ending}", folder::MEMOS)
}

/// The copy with its caption inside, numbered in order of time, named after what it shows.
#[must_use]
pub fn captioned_path(number: usize, point: &str, position: &str) -> String {
    let words = [as_name(point), as_name(position)];
    let words: String =
        words.iter().filter(|word| !word.is_empty()).map(|word| format!("-{word}")).collect();
    format!("{}{number:04}{words}.jpg", folder::CAPTIONED)
}

/// The folders of photos and memos.
pub(crate) mod folder {
    pub(crate) const ORIGINAL: &str = "data/photos/original/";
    pub(crate) const DISPLAY: &str = "data/photos/display/";
    pub(crate) const THUMBNAIL: &str = "data/photos/thumbnail/";
    pub(crate) const CAPTIONED: &str = "data/photos/captioned/";
    pub(crate) const MEMOS: &str = "data/memos/";
}

/// The hash that a photo's or memo's path names; none where the path is neither's.
pub(crate) fn named_sha256(path: &str) -> Option<Sha256> {
    let name = [folder::ORIGINAL, folder::DISPLAY, folder::THUMBNAIL, folder::MEMOS]
        .iter()
        .find_map(|folder| path.strip_prefix(folder))?;
    Sha256::parse(name.split('.').next()?)
}
