//! Dictionary numbers as Parquet packs them: runs of one number, and numbers packed by their bits.
//!
//! Apache Parquet format, Encodings.md, "Run Length Encoding / Bit-Packing Hybrid (RLE = 3)" and "Dictionary Encoding".

use super::thrift::{varint, write_varint};
use crate::error::ArchiveError;

/// One stretch of numbers.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Stretch<'a> {
    /// The same number, so many times.
    Run { number: u32, length: usize },
    /// This many numbers of so many bits each, the lowest bits first.
    Packed { bytes: &'a [u8], width: u32, length: usize },
}

/// Walks the stretches of a page of `count` numbers, whose first byte says how many bits a number has.
pub(super) fn stretches(
    page: &[u8],
    count: usize,
    each: impl FnMut(Stretch<'_>) -> Result<(), ArchiveError>,
) -> Result<(), ArchiveError> {
    let (width, rest) = page.split_first().ok_or_else(broken)?;
    stretches_of(u32::from(*width), rest, count, each)
}

/// The same for numbers of so many bits.
pub(super) fn stretches_of(
    width: u32,
    mut rest: &[u8],
    count: usize,
    mut each: impl FnMut(Stretch<'_>) -> Result<(), ArchiveError>,
) -> Result<(), ArchiveError> {
    if width > 32 {
        return Err(ArchiveError::Damaged { what: format!("numbers of {width} bits in a table") });
    }
    let bytes_of_run = usize::try_from(width.div_ceil(8)).map_err(|_| broken())?;
    let mut left = count;
    while left > 0 {
        let header = varint(&mut rest).ok_or_else(broken)?;
        let length = usize::try_from(header >> 1).map_err(|_| broken())?;
        if header & 1 == 0 {
            let (value, after) = rest.split_at_checked(bytes_of_run).ok_or_else(broken)?;
            rest = after;
            let number = value.iter().rev().fold(0, |all, byte| all << 8 | u32::from(*byte));
            let length = length.min(left);
            if length == 0 {
                return Err(broken());
            }
            left -= length;
            each(Stretch::Run { number, length })?;
        } else {
            // Groups of eight numbers; the last group may be filled up.
            let bytes = length.checked_mul(usize::try_from(width).map_err(|_| broken())?);
            let bytes = bytes.ok_or_else(broken)?;
            let (packed, after) = rest.split_at_checked(bytes).ok_or_else(broken)?;
            rest = after;
            let length = length.saturating_mul(8).min(left);
            if length == 0 {
                return Err(broken());
            }
            left -= length;
            each(Stretch::Packed { bytes: packed, width, length })?;
        }
    }
    Ok(())
}

fn broken() -> ArchiveError {
    ArchiveError::Damaged { what: "a page of a table ends too early".into() }
}

/// The numbers of a packed stretch, in order.
pub(super) fn unpack(bytes: &[u8], width: u32, length: usize, mut each: impl FnMut(u32)) {
    let mask = (1_u64 << width) - 1;
    let low = |bits: u64| u32::try_from(bits & mask).unwrap_or(u32::MAX);
    if width == 0 {
        (0..length).for_each(|_| each(0));
        return;
    }
    if width <= 8 {
        // A group of eight numbers fits one machine word.
        let group = usize::try_from(width).unwrap_or(8);
        let mut left = length;
        for bytes in bytes.chunks_exact(group) {
            let mut word = [0; 8];
            word[..group].copy_from_slice(bytes);
            let mut bits = u64::from_le_bytes(word);
            if left >= 8 {
                for _ in 0..8 {
                    each(low(bits));
                    bits >>= width;
                }
                left -= 8;
            } else {
                for _ in 0..left {
                    each(low(bits));
                    bits >>= width;
                }
                return;
            }
        }
        return;
    }
    let (mut bits, mut known) = (0_u64, 0);
    let mut bytes = bytes.iter();
    for _ in 0..length {
        while known < width {
            let Some(byte) = bytes.next() else { return };
            bits |= u64::from(*byte) << known;
            known += 8;
        }
        each(low(bits));
        bits >>= width;
        known -= width;
    }
}

/// Writes numbers that need so many bits: runs of eight and more of one number as such, the others packed.
pub(super) fn write(numbers: &[u32], width: u32, into: &mut Vec<u8>) {
    let bytes_of_run = usize::try_from(width.div_ceil(8)).unwrap_or(4);
    let run_at = |at: usize| {
        let first = numbers.get(at);
        numbers.iter().skip(at).take_while(|number| Some(*number) == first).count()
    };
    let is_run = |at: usize| {
        let eight = numbers.get(at..at + 8);
        eight.is_some_and(|eight| eight.iter().all(|number| *number == eight[0]))
    };
    let mut at = 0;
    while at < numbers.len() {
        if is_run(at) {
            let length = run_at(at);
            write_varint(into, u64::try_from(length).unwrap_or(u64::MAX) << 1);
            into.extend(numbers[at].to_le_bytes().iter().take(bytes_of_run));
            at += length;
            continue;
        }
        let start = at;
        while at < numbers.len() && (at == start || !is_run(at)) {
            at += 8;
        }
        let groups = (at - start) / 8;
        write_varint(into, u64::try_from(groups).unwrap_or(u64::MAX) << 1 | 1);
        let (mut bits, mut known) = (0_u64, 0);
        for place in start..at {
            // The last group is filled up; whoever reads knows how many numbers there are.
            bits |= u64::from(numbers.get(place).copied().unwrap_or(0)) << known;
            known += width;
            while known >= 8 {
                into.push(u8::try_from(bits & 255).unwrap_or(0));
                bits >>= 8;
                known -= 8;
            }
        }
        at = at.min(numbers.len());
    }
}

/// How many bits the numbers below this one need; one at least, for readers that know no fewer.
pub(super) fn width(count: usize) -> u32 {
    (usize::BITS - count.saturating_sub(1).leading_zeros()).max(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn numbers(page: &[u8], count: usize) -> Result<Vec<u32>, ArchiveError> {
        let mut all = Vec::new();
        stretches(page, count, |stretch| {
            match stretch {
                Stretch::Run { number, length } => all.extend(std::iter::repeat_n(number, length)),
                Stretch::Packed { bytes, width, length } => {
                    unpack(bytes, width, length, |number| all.push(number));
                }
            }
            Ok(())
        })?;
        Ok(all)
    }

    /// The example of Encodings.md: the numbers 0 to 7 in three bits each are 10001000 11000110 11111010.
    #[test]
    fn the_example_of_the_format_is_read() {
        let page = [3, 0b11, 0b1000_1000, 0b1100_0110, 0b1111_1010];
        assert_eq!(numbers(&page, 8).unwrap(), [0, 1, 2, 3, 4, 5, 6, 7]);
        assert_eq!(numbers(&page, 5).unwrap(), [0, 1, 2, 3, 4]);
    }

    #[test]
    fn runs_and_wide_numbers_are_read() {
        assert_eq!(numbers(&[2, 10, 3], 5).unwrap(), [3; 5]);
        assert_eq!(numbers(&[0, 0b11], 8).unwrap(), [0; 8]);
        assert_eq!(numbers(&[12, 6, 0x34, 0x02], 3).unwrap(), [0x234; 3]);
        let packed =
            [12, 0b11, 0x01, 0x20, 0x00, 0x03, 0x40, 0x00, 0x05, 0x60, 0x00, 0x07, 0x80, 0x00];
        assert_eq!(numbers(&packed, 8).unwrap(), [1, 2, 3, 4, 5, 6, 7, 8]);
    }

    proptest::proptest! {
        /// Runs, single numbers and both in turn, of every width.
        #[test]
        fn what_is_written_is_read_back(
            runs in proptest::collection::vec((proptest::prelude::any::<u32>(), 1..40_usize), 0..40),
            bits in 1..33_u32,
        ) {
            let all: Vec<u32> = runs
                .iter()
                .flat_map(|(number, length)| {
                    let length = if length % 3 == 0 { *length } else { 1 };
                    std::iter::repeat_n(number >> (32 - bits), length)
                })
                .collect();
            let mut page = vec![u8::try_from(bits).unwrap()];
            write(&all, bits, &mut page);
            assert_eq!(numbers(&page, all.len()).unwrap(), all);
        }
    }

    #[test]
    fn as_many_bits_are_taken_as_the_largest_number_needs() {
        assert_eq!([0, 1, 2, 3, 4, 5, 256, 257].map(width), [1, 1, 1, 2, 2, 3, 8, 9]);
    }

    #[test]
    fn what_is_cut_off_or_absurd_is_damage() {
        for page in [&[][..], &[3], &[3, 0b11, 1], &[2, 10], &[99, 2, 0], &[1, 0, 0], &[1, 0xff]] {
            assert!(matches!(numbers(page, 8), Err(ArchiveError::Damaged { .. })), "{page:?}");
        }
    }
}
