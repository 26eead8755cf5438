//! Finding the camera's notes (EXIF) in a file, and refusing a block made to exhaust memory.
//!
//! The block is found here rather than by the reader of its fields, because that reader follows
//! every pointer it meets: 60 KB whose directories overlap made it list eleven million entries in
//! half a gigabyte. [`is_bounded`] counts them first, without keeping any.

use crate::{Format, format::PNG_SIGNATURE};

/// Entries a camera may list in all its directories together; common practice is about a hundred.
const MOST_ENTRIES: usize = 4_096;
const MOST_DIRECTORIES: usize = 64;

/// The TIFF structure with the camera's notes, if the file has one that can be read safely.
pub(crate) fn find(format: Format, file: &[u8]) -> Option<&[u8]> {
    let block = match format {
        Format::Jpeg => in_jpeg(file),
        Format::Png => in_png(file),
    }?;
    is_bounded(block).then_some(block)
}

/// The first APP1 segment that starts with `Exif` (CIPA DC-008, section 4.7.2). Stops at the
/// picture's data, and at a segment whose length cannot be.
fn in_jpeg(file: &[u8]) -> Option<&[u8]> {
    let mut rest = file.get(2..)?;
    loop {
        let start = rest.iter().position(|&byte| byte == 0xff)?;
        rest = &rest[start..];
        let code = rest.iter().position(|&byte| byte != 0xff)?;
        let marker = rest[code];
        rest = &rest[code + 1..];
        match marker {
            0x00 | 0x01 | 0xd0..=0xd7 => continue,
            // Start and end of a picture, start of its data.
            0xd8..=0xda => return None,
            _ => {}
        }
        let (length, _) = rest.split_first_chunk::<2>()?;
        let length = usize::from(u16::from_be_bytes(*length));
        let segment = rest.get(2..length)?;
        if marker == 0xe1 && segment.starts_with(b"Exif\0\0") {
            return segment.get(6..);
        }
        rest = &rest[length..];
    }
}

/// The `eXIf` chunk (W3C Portable Network Graphics, third edition, section 11.3.4.8).
fn in_png(file: &[u8]) -> Option<&[u8]> {
    let mut rest = file.strip_prefix(PNG_SIGNATURE)?;
    loop {
        let (head, body) = rest.split_first_chunk::<8>()?;
        let [a, b, c, d, kind @ ..] = *head;
        let length = u32::from_be_bytes([a, b, c, d]) as usize;
        let content = body.get(..length)?;
        if &kind == b"eXIf" {
            return Some(content);
        }
        rest = body.get(length.checked_add(4)?..)?;
    }
}

/// Whether following every directory of the block stays within what any camera writes.
fn is_bounded(block: &[u8]) -> bool {
    let big_endian = block.starts_with(b"MM");
    let mut waiting = vec![long(block, 4, big_endian)];
    let mut entries = 0_usize;
    let mut visited = Vec::new();
    while let Some(offset) = waiting.pop() {
        // Neither does the reader of the fields enter a directory twice.
        let Some(offset) = offset.filter(|offset| *offset != 0 && !visited.contains(offset)) else {
            continue;
        };
        let Some(count) = short(block, offset, big_endian) else { continue };
        entries += count;
        visited.push(offset);
        if entries > MOST_ENTRIES || visited.len() > MOST_DIRECTORIES {
            return false;
        }
        for entry in (0..count).map(|index| offset + 2 + 12 * index) {
            // The directories of the camera's settings, of the position, and of file exchange.
            if matches!(short(block, entry, big_endian), Some(0x8769 | 0x8825 | 0xa005)) {
                waiting.push(long(block, entry + 8, big_endian));
            }
        }
        waiting.push(long(block, offset + 2 + 12 * count, big_endian));
    }
    true
}

fn short(block: &[u8], at: usize, big_endian: bool) -> Option<usize> {
    let bytes = *block.get(at..)?.first_chunk::<2>()?;
    let value = if big_endian { u16::from_be_bytes(bytes) } else { u16::from_le_bytes(bytes) };
    Some(usize::from(value))
}

fn long(block: &[u8], at: usize, big_endian: bool) -> Option<usize> {
    let bytes = *block.get(at..)?.first_chunk::<4>()?;
    let value = if big_endian { u32::from_be_bytes(bytes) } else { u32::from_le_bytes(bytes) };
    usize::try_from(value).ok()
}
