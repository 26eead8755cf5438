//! The little of Apache Thrift's compact protocol that Parquet's own descriptions are written in.
//!
//! Apache Thrift, `doc/specs/thrift-compact-protocol.md`.

use std::collections::BTreeMap;

const I32: u8 = 5;
const I64: u8 = 6;
const BINARY: u8 = 8;
const LIST: u8 = 9;
const STRUCT: u8 = 12;

/// Deeper than this nothing of Parquet's lies.
const DEEPEST: u32 = 16;

/// A value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Thrift {
    /// A whole number of 32 bits.
    Int(i32),
    /// A whole number of 64 bits.
    Long(i64),
    Text(Vec<u8>),
    List(Vec<Self>),
    /// Fields by their numbers.
    Struct(BTreeMap<i16, Self>),
}

impl Thrift {
    /// A struct of these fields.
    pub(super) fn of<const N: usize>(fields: [(i16, Self); N]) -> Self {
        Self::Struct(fields.into_iter().collect())
    }

    pub(super) fn text(text: &str) -> Self {
        Self::Text(text.as_bytes().to_vec())
    }

    /// A field of a struct.
    pub(super) fn field(&self, number: i16) -> Option<&Self> {
        match self {
            Self::Struct(fields) => fields.get(&number),
            Self::Int(_) | Self::Long(_) | Self::Text(_) | Self::List(_) => None,
        }
    }

    /// A field of a struct that is a number, which is never below zero in what is read here.
    pub(super) fn number(&self, number: i16) -> Option<usize> {
        match self.field(number)? {
            Self::Int(value) => usize::try_from(*value).ok(),
            Self::Long(value) => usize::try_from(*value).ok(),
            Self::Text(_) | Self::List(_) | Self::Struct(_) => None,
        }
    }

    /// A field of a struct that is a list.
    pub(super) fn list(&self, number: i16) -> Option<&[Self]> {
        match self.field(number)? {
            Self::List(values) => Some(values),
            Self::Int(_) | Self::Long(_) | Self::Text(_) | Self::Struct(_) => None,
        }
    }

    /// Writes it; the kind of it stands where it is named.
    pub(super) fn write(&self, into: &mut Vec<u8>) {
        match self {
            Self::Int(value) => write_varint(into, zigzag(i64::from(*value))),
            Self::Long(value) => write_varint(into, zigzag(*value)),
            Self::Text(bytes) => {
                write_length(into, bytes.len());
                into.extend(bytes);
            }
            Self::List(values) => {
                let kind = values.first().map_or(STRUCT, Self::kind);
                match u8::try_from(values.len()) {
                    Ok(short) if short < 15 => into.push(short << 4 | kind),
                    _ => {
                        into.push(0xf0 | kind);
                        write_length(into, values.len());
                    }
                }
                values.iter().for_each(|value| value.write(into));
            }
            Self::Struct(fields) => {
                let mut last = 0;
                for (number, value) in fields {
                    // All of Parquet's fields that are written here are fewer than 15 apart.
                    let step = u8::try_from(number - last).unwrap_or(0);
                    into.push(step << 4 | value.kind());
                    value.write(into);
                    last = *number;
                }
                into.push(0);
            }
        }
    }

    fn kind(&self) -> u8 {
        match self {
            Self::Int(_) => I32,
            Self::Long(_) => I64,
            Self::Text(_) => BINARY,
            Self::List(_) => LIST,
            Self::Struct(_) => STRUCT,
        }
    }
}

/// Reads a struct from the beginning of some bytes; what follows is left. None if it is broken.
pub(super) fn read_struct(bytes: &mut &[u8]) -> Option<Thrift> {
    read(STRUCT, bytes, 0)
}

fn read(kind: u8, bytes: &mut &[u8], depth: u32) -> Option<Thrift> {
    if depth > DEEPEST {
        return None;
    }
    Some(match kind {
        // A truth stands in its kind where it is a field; a byte of its own is only skipped.
        1 | 2 => Thrift::Int(i32::from(kind == 1)),
        3 => Thrift::Int(i32::from(byte(bytes)?)),
        4 | I32 => Thrift::Int(i32::try_from(unzigzag(varint(bytes)?)).ok()?),
        I64 => Thrift::Long(unzigzag(varint(bytes)?)),
        7 => Thrift::Text(take(bytes, 8)?.to_vec()),
        BINARY => {
            let length = usize::try_from(varint(bytes)?).ok()?;
            Thrift::Text(take(bytes, length)?.to_vec())
        }
        LIST => {
            let head = byte(bytes)?;
            let length = match head >> 4 {
                15 => usize::try_from(varint(bytes)?).ok()?,
                short => usize::from(short),
            };
            // Each takes a byte at least, so a length that cannot be is found before memory is asked for.
            if length > bytes.len() {
                return None;
            }
            let of = head & 15;
            let one = |bytes: &mut &[u8]| match of {
                1 | 2 => Some(Thrift::Int(i32::from(byte(bytes)? == 1))),
                _ => read(of, bytes, depth + 1),
            };
            Thrift::List((0..length).map(|_| one(bytes)).collect::<Option<_>>()?)
        }
        STRUCT => {
            let mut fields = BTreeMap::new();
            let mut last = 0_i16;
            loop {
                let head = byte(bytes)?;
                if head == 0 {
                    return Some(Thrift::Struct(fields));
                }
                let number = match head >> 4 {
                    0 => i16::try_from(unzigzag(varint(bytes)?)).ok()?,
                    step => last.checked_add(i16::from(step))?,
                };
                fields.insert(number, read(head & 15, bytes, depth + 1)?);
                last = number;
            }
        }
        _ => return None,
    })
}

/// An unsigned number in groups of seven bits, the lowest first (ULEB128).
pub(super) fn varint(bytes: &mut &[u8]) -> Option<u64> {
    let mut number = 0_u64;
    for shift in (0..64).step_by(7) {
        let byte = byte(bytes)?;
        number |= u64::from(byte & 127) << shift;
        if byte & 128 == 0 {
            return Some(number);
        }
    }
    None
}

/// Writes such a number.
pub(super) fn write_varint(into: &mut Vec<u8>, mut number: u64) {
    loop {
        let low = u8::try_from(number & 127).unwrap_or(0);
        number >>= 7;
        if number == 0 {
            into.push(low);
            return;
        }
        into.push(low | 128);
    }
}

fn write_length(into: &mut Vec<u8>, length: usize) {
    write_varint(into, u64::try_from(length).unwrap_or(u64::MAX));
}

fn zigzag(number: i64) -> u64 {
    (number << 1 ^ number >> 63).cast_unsigned()
}

fn unzigzag(number: u64) -> i64 {
    (number >> 1).cast_signed() ^ -(number & 1).cast_signed()
}

fn byte(bytes: &mut &[u8]) -> Option<u8> {
    let (first, rest) = bytes.split_first()?;
    *bytes = rest;
    Some(*first)
}

fn take<'a>(bytes: &mut &'a [u8], length: usize) -> Option<&'a [u8]> {
    let (taken, rest) = bytes.split_at_checked(length)?;
    *bytes = rest;
    Some(taken)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read_back() {
        let many = (0..40).map(Thrift::Int).collect();
        let value = Thrift::of([
            (1, Thrift::Int(-3)),
            (2, Thrift::Long(i64::MIN)),
            (4, Thrift::text("Wörter")),
            (5, Thrift::List(many)),
            (9, Thrift::List(Vec::new())),
            (10, Thrift::of([(1, Thrift::of([]))])),
        ]);
        let mut bytes = Vec::new();
        value.write(&mut bytes);
        bytes.push(77);
        let mut rest = bytes.as_slice();
        assert_eq!(read_struct(&mut rest), Some(value));
        assert_eq!(rest, [77]);
        for cut in 0..bytes.len() - 1 {
            assert_eq!(read_struct(&mut &bytes[..cut]), None, "{cut}");
        }
    }

    /// The specification's own examples of zigzag and of varints: 50399 is df 89 03.
    #[test]
    fn numbers_are_as_the_specification_says() {
        let mut bytes = Vec::new();
        write_varint(&mut bytes, 50_399);
        assert_eq!(bytes, [0xdf, 0x89, 0x03]);
        assert_eq!(
            [0, -1, 1, -2, i64::MAX, i64::MIN].map(zigzag),
            [0, 1, 2, 3, u64::MAX - 1, u64::MAX]
        );
        assert_eq!(
            [0, 1, 2, 3, u64::MAX - 1, u64::MAX].map(unzigzag),
            [0, -1, 1, -2, i64::MAX, i64::MIN]
        );
    }

    #[test]
    fn absurd_depths_and_lengths_are_refused() {
        assert_eq!(read_struct(&mut [0x1c; 99].as_slice()), None);
        assert_eq!(read_struct(&mut [0x19, 0xf5, 0xff, 0xff, 0xff, 0x7f].as_slice()), None);
        assert_eq!(read_struct(&mut [0x18, 0xff, 0xff, 0xff, 0xff, 0x7f].as_slice()), None);
        assert_eq!(read_struct(&mut [0x1f, 0].as_slice()), None);
    }
}
