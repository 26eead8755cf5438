//! Reads SQLite's write-ahead file by its published format, as a second opinion on which commits
//! it holds: SQLite documentation, "Database File Format", §4.1 to §4.3.

/// One whole frame: a page and what it belongs to.
#[derive(Clone)]
pub(crate) struct Frame {
    pub(crate) page: usize,
    /// Where the frame begins and ends in the file.
    pub(crate) begin: usize,
    pub(crate) end: usize,
    /// Whether it ends a commit.
    pub(crate) commit: bool,
    /// The sums up to here.
    sums: (u32, u32),
}

pub(crate) const PAGE: usize = 4096;
const HEADER: usize = 32;
pub(crate) const FRAME_HEADER: usize = 24;

/// The frames that count: with the salts of the file's header and right sums, up to the last one
/// that ends a commit.
pub(crate) fn committed(file: &[u8]) -> Vec<Frame> {
    committed_after(file, &[])
}

/// The same for a file that begins like another one, of which these frames are known already.
pub(crate) fn committed_after(file: &[u8], known: &[Frame]) -> Vec<Frame> {
    let mut frames = known.to_vec();
    if file.len() < HEADER {
        return frames;
    }
    let word = |at: usize| u32::from_be_bytes(file[at..at + 4].try_into().unwrap());
    let big_endian = match word(0) {
        0x377f_0682 => false,
        0x377f_0683 => true,
        _ => return frames,
    };
    assert_eq!(word(8), 4096, "the page size");
    let mut sums = add(big_endian, (0, 0), &file[..24]);
    if sums != (word(24), word(28)) {
        return frames;
    }
    let salts = (word(16), word(20));
    let mut begin = HEADER;
    if let Some(last) = known.last() {
        (begin, sums) = (last.end, last.sums);
    }
    while begin + FRAME_HEADER + PAGE <= file.len() {
        let end = begin + FRAME_HEADER + PAGE;
        sums = add(big_endian, sums, &file[begin..begin + 8]);
        sums = add(big_endian, sums, &file[begin + FRAME_HEADER..end]);
        let right = (word(begin + 8), word(begin + 12)) == salts
            && (word(begin + 16), word(begin + 20)) == sums;
        if !right {
            break;
        }
        let page = usize::try_from(word(begin)).unwrap();
        frames.push(Frame { page, begin, end, commit: word(begin + 4) != 0, sums });
        begin = end;
    }
    let whole = frames.iter().rposition(|frame| frame.commit).map_or(0, |last| last + 1);
    frames.truncate(whole);
    frames
}

fn add(big_endian: bool, sums: (u32, u32), bytes: &[u8]) -> (u32, u32) {
    let read = |part: &[u8]| {
        let part = part.try_into().unwrap();
        if big_endian { u32::from_be_bytes(part) } else { u32::from_le_bytes(part) }
    };
    bytes.chunks_exact(8).fold(sums, |(first, second), pair| {
        let first = first.wrapping_add(read(&pair[..4])).wrapping_add(second);
        (first, second.wrapping_add(read(&pair[4..])).wrapping_add(first))
    })
}
