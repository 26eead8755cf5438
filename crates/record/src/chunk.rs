//! The outer frame of stored bytes: what a piece is, how long, and whether its checksum holds.
//!
//! A saved record and a stored change have the same frame (Automerge binary document format, "Chunks"):
//! four magic bytes, the first four bytes of a SHA-256, one byte for the kind, the length as LEB128, and
//! the content. The SHA-256 goes over kind, length and content. It is checked here before anything
//! looks inside, because the content's own readers assume sound bytes.

use automerge::ChangeHash;
use sha2::{Digest, Sha256};

use crate::RecordError;

const MAGIC: [u8; 4] = [0x85, 0x6f, 0x4a, 0x83];
/// Magic bytes, checksum, kind.
const FIXED_LENGTH: usize = 9;

/// What a piece is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A whole saved record.
    Document,
    /// One change.
    Change,
}

/// One piece whose checksum holds.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Chunk<'a> {
    pub(crate) kind: Kind,
    pub(crate) hash: ChangeHash,
    /// The piece with its frame.
    pub(crate) bytes: &'a [u8],
}

/// Cuts bytes into pieces, each with a sound frame and checksum; the first has this number.
pub(crate) fn chunks(mut bytes: &[u8], first_number: usize) -> Result<Vec<Chunk<'_>>, RecordError> {
    let mut found = Vec::new();
    while !bytes.is_empty() {
        let place = format!("piece {} of the record", first_number + found.len());
        let chunk = first_chunk(bytes, &place)?;
        bytes = &bytes[chunk.bytes.len()..];
        found.push(chunk);
    }
    Ok(found)
}

fn first_chunk<'a>(bytes: &'a [u8], place: &str) -> Result<Chunk<'a>, RecordError> {
    let magic_there = bytes.len().min(MAGIC.len());
    if bytes[..magic_there] != MAGIC[..magic_there] {
        return Err(RecordError::NotARecord {
            found: format!("{place} does not begin with the four bytes 85 6f 4a 83"),
        });
    }
    let cut_off = |there: usize, needed: &str| {
        RecordError::damaged(place, format!("cut off after {there} bytes, {needed}"))
    };
    if bytes.len() <= FIXED_LENGTH {
        return Err(cut_off(bytes.len(), "before its length"));
    }
    let kind = match bytes[8] {
        0 => Kind::Document,
        1 => Kind::Change,
        other => {
            return Err(RecordError::damaged(
                place,
                format!("kind {other} is unknown; 0 (a record) and 1 (a change) are accepted"),
            ));
        }
    };
    let (length, length_bytes) = match leb128(&bytes[FIXED_LENGTH..]) {
        Ok(length) => length,
        Err(Leb128::CutOff) => return Err(cut_off(bytes.len(), "within its length")),
        Err(Leb128::Strange) => {
            return Err(RecordError::damaged(place, "its length is not written the short way"));
        }
    };
    let start = FIXED_LENGTH + length_bytes;
    let end = usize::try_from(length).ok().and_then(|length| start.checked_add(length));
    let Some(end) = end.filter(|&end| end <= bytes.len()) else {
        return Err(cut_off(bytes.len(), &format!("of {length} and a header")));
    };
    let digest: [u8; 32] = Sha256::digest(&bytes[8..end]).into();
    if digest[..4] != bytes[4..8] {
        return Err(RecordError::damaged(place, "its checksum does not fit its content"));
    }
    Ok(Chunk { kind, hash: ChangeHash(digest), bytes: &bytes[..end] })
}

/// Why a number is none.
enum Leb128 {
    CutOff,
    Strange,
}

/// The number at the start and how many bytes it takes; only the shortest form is accepted.
fn leb128(bytes: &[u8]) -> Result<(u64, usize), Leb128> {
    let mut value = 0_u64;
    for (index, &byte) in bytes.iter().take(9).enumerate() {
        value |= u64::from(byte & 0x7f) << (7 * index);
        if byte & 0x80 == 0 {
            let shortest = byte != 0 || index == 0;
            return if shortest { Ok((value, index + 1)) } else { Err(Leb128::Strange) };
        }
    }
    Err(if bytes.len() < 9 { Leb128::CutOff } else { Leb128::Strange })
}
