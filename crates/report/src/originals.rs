//! The photos' own bytes, which never pass through the typesetter.
//!
//! The typesetter would hash, copy and hold every photo several times over and change none of its bytes. It gets a stub
//! instead: the head of the same JPEG file, which says all that a page and a PDF need to know of it, and no picture. In the
//! finished PDF each stub's stream is then replaced by the photo's file, byte for byte, and the table of objects set right.

use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hasher};
use std::io::Write;
use std::ops::Range;

/// How a stub begins: a JPEG's begin, and a comment of 20 bytes (ISO/IEC 10918-1, B.2.4.5) that ends in ten digits.
const BEGIN: [u8; 14] = *b"\xff\xd8\xff\xfe\x00\x16nearside";
const DIGITS: usize = 10;
/// Bytes of a photo's id that go into its stub: two reports with other photos then differ in their identifiers too.
const MOST_OF_ID: usize = 200;

/// Photos by the number in their stubs. None of their files is kept: each is asked for once more as it is written, so that
/// no more than one of them is in memory beside the report.
#[derive(Default)]
pub(crate) struct Originals {
    files: Vec<Original>,
    numbers: BTreeMap<String, usize>,
}

/// What is remembered of a photo's file, to know it again.
struct Original {
    id: String,
    length: usize,
    /// Of this process only: it never gets into the report.
    hash: u64,
}

impl Original {
    fn is(&self, jpeg: &[u8]) -> bool {
        self.length == jpeg.len() && self.hash == hash(jpeg)
    }
}

fn hash(jpeg: &[u8]) -> u64 {
    let mut hasher = DefaultHasher::new();
    hasher.write(jpeg);
    hasher.finish()
}

/// Why the photos did not get into the PDF.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum NotPut {
    /// The PDF's table of objects cannot be read.
    NoTable,
    /// The photo of this id is no longer the one that the pages were laid out with.
    Changed(String),
    /// Where it was to go took nothing more. Why, in a sentence.
    NotTaken(String),
}

/// Where the PDF goes, and how much of it is there.
struct Counted<'a> {
    out: &'a mut dyn Write,
    written: usize,
}

impl Counted<'_> {
    fn put(&mut self, bytes: &[u8]) -> Result<(), NotPut> {
        self.out.write_all(bytes).map_err(|error| NotPut::NotTaken(error.to_string()))?;
        self.written += bytes.len();
        Ok(())
    }
}

impl Originals {
    /// Looks at the file of a photo and gives its stub; nothing where the file has no head that a PDF could hold.
    pub(crate) fn look_at(&mut self, id: &str, jpeg: &[u8]) -> Option<Vec<u8>> {
        // The same photo twice is one stream in the file, as long as it is the same indeed.
        if let Some(&number) = self.numbers.get(id)
            && self.files[number].is(jpeg)
        {
            return stub(jpeg, number, id);
        }
        let number = self.files.len();
        let stub = stub(jpeg, number, id)?;
        self.numbers.insert(id.to_owned(), number);
        self.files.push(Original { id: id.to_owned(), length: jpeg.len(), hash: hash(jpeg) });
        Some(stub)
    }

    /// Bytes of all photos.
    pub(crate) fn bytes(&self) -> usize {
        self.files.iter().map(|file| file.length).sum()
    }

    /// Writes the PDF with the photos in the place of their stubs; `photos` gives a photo's file by its id, as before.
    /// How many bytes it has.
    ///
    /// # Errors
    /// Where the PDF's table of objects cannot be read, a photo is not the same any more, or `out` takes nothing.
    pub(crate) fn put_into(
        &self,
        pdf: &[u8],
        photos: &dyn Fn(&str) -> Option<Vec<u8>>,
        out: &mut dyn Write,
    ) -> Result<usize, NotPut> {
        let mut out = Counted { out, written: 0 };
        if self.files.is_empty() {
            out.put(pdf)?;
            return Ok(out.written);
        }
        let table = Table::read(pdf).ok_or(NotPut::NoTable)?;
        let mut sorted: Vec<usize> = table.offsets.iter().flatten().copied().collect();
        sorted.sort_unstable();
        let first = sorted.first().copied().ok_or(NotPut::NoTable)?;
        out.put(pdf.get(..first).ok_or(NotPut::NoTable)?)?;
        let mut moved = BTreeMap::new();
        for (at, &begin) in sorted.iter().enumerate() {
            let end = sorted.get(at + 1).copied().unwrap_or(table.at);
            moved.insert(begin, out.written);
            let object = pdf.get(begin..end).ok_or(NotPut::NoTable)?;
            match self.stub_in(object) {
                None => out.put(object)?,
                Some(Stream { length, data, number }) => {
                    let original = self.fetch(number, photos)?;
                    out.put(&object[..length.start])?;
                    out.put(original.len().to_string().as_bytes())?;
                    out.put(&object[length.end..data.start])?;
                    out.put(&original)?;
                    out.put(&object[data.end..])?;
                }
            }
        }
        let at = out.written;
        out.put(&pdf[table.at..table.entries])?;
        for (number, offset) in table.offsets.iter().enumerate() {
            let from = table.entries + number * Table::ENTRY;
            match offset {
                None => out.put(&pdf[from..from + Table::ENTRY])?,
                Some(offset) => {
                    let moved = moved.get(offset).ok_or(NotPut::NoTable)?;
                    out.put(format!("{moved:010}").as_bytes())?;
                    out.put(&pdf[from + 10..from + Table::ENTRY])?;
                }
            }
        }
        out.put(&pdf[table.entries + table.offsets.len() * Table::ENTRY..table.said_at.start])?;
        out.put(at.to_string().as_bytes())?;
        out.put(&pdf[table.said_at.end..])?;
        Ok(out.written)
    }

    /// The photo's file once more, as long as it is the one that was looked at.
    fn fetch(
        &self,
        number: usize,
        photos: &dyn Fn(&str) -> Option<Vec<u8>>,
    ) -> Result<Vec<u8>, NotPut> {
        let known = &self.files[number];
        photos(&known.id)
            .filter(|jpeg| known.is(jpeg))
            .ok_or_else(|| NotPut::Changed(known.id.clone()))
    }

    /// Where the object's stream is a stub.
    fn stub_in(&self, object: &[u8]) -> Option<Stream> {
        // A dictionary of a photo is short: what begins later is no stub.
        let head = &object[..object.len().min(1024)];
        let begin = position(head, b">>\nstream\n")? + b">>\nstream\n".len();
        let data = object.get(begin..)?;
        if !data.starts_with(&BEGIN) {
            return None;
        }
        let number = number(data.get(BEGIN.len()..BEGIN.len() + DIGITS)?)?;
        let length = position(&object[..begin], b"/Length ")? + b"/Length ".len();
        let length = length..length + digits(&object[length..]);
        let stated = self::number(&object[length.clone()])?;
        (number < self.files.len() && begin + stated <= object.len()).then_some(Stream {
            length,
            data: begin..begin + stated,
            number,
        })
    }
}

/// Where an object states the length of its stream and where its data are, and the number of the photo that belongs there.
struct Stream {
    length: Range<usize>,
    data: Range<usize>,
    number: usize,
}

/// The table of objects at a PDF's end (ISO 32000-1, 7.5.4): one section, from object 0 on, as the typesetter writes it.
struct Table {
    /// Where it begins.
    at: usize,
    /// Where its first entry begins.
    entries: usize,
    /// Each object's place; none for a free number.
    offsets: Vec<Option<usize>>,
    /// Where the file says where the table begins.
    said_at: Range<usize>,
}

impl Table {
    /// Bytes of an entry.
    const ENTRY: usize = 20;

    fn read(pdf: &[u8]) -> Option<Self> {
        const SAID: &[u8] = b"startxref\n";
        let tail = pdf.len().saturating_sub(64);
        let said = tail + position(&pdf[tail..], SAID)? + SAID.len();
        let said_at = said..said + digits(&pdf[said..]);
        let at = number(&pdf[said_at.clone()])?;
        let begin = b"xref\n0 ";
        let rest = pdf.get(at..)?.strip_prefix(begin)?;
        let count = digits(rest);
        let entries = at + begin.len() + count + 1;
        let offsets = (0..number(&rest[..count])?)
            .map(|object| {
                let from = entries + object * Self::ENTRY;
                let entry = pdf.get(from..from + Self::ENTRY)?;
                match entry[17] {
                    b'f' => Some(None),
                    b'n' => number(&entry[..10]).map(Some),
                    _ => None,
                }
            })
            .collect::<Option<Vec<_>>>()?;
        Some(Self { at, entries, offsets, said_at })
    }
}

fn digits(bytes: &[u8]) -> usize {
    bytes.iter().take_while(|byte| byte.is_ascii_digit()).count()
}

fn number(digits: &[u8]) -> Option<usize> {
    std::str::from_utf8(digits).ok()?.parse().ok()
}

fn position(bytes: &[u8], piece: &[u8]) -> Option<usize> {
    bytes.windows(piece.len()).position(|window| window == piece)
}

/// The head of a JPEG file with a numbered comment and without its picture: sizes, colours and profile, and that a scan
/// begins; none where there is no such head.
fn stub(jpeg: &[u8], number: usize, id: &str) -> Option<Vec<u8>> {
    let mut stub = BEGIN.to_vec();
    stub.extend_from_slice(format!("{number:0DIGITS$}").as_bytes());
    // Two bytes of length say less than the comment's end: 2, 8 letters, 10 digits, and 2 to spare.
    stub.extend_from_slice(b"  ");
    debug_assert_eq!(stub.len(), 4 + usize::from(u16::from_be_bytes([BEGIN[4], BEGIN[5]])));
    let id: Vec<u8> = id.bytes().take(MOST_OF_ID).collect();
    segment(&mut stub, 0xfe, &id)?;
    let mut at = 2;
    loop {
        let &[0xff, marker, ..] = jpeg.get(at..)? else { return None };
        match marker {
            // Fill bytes, and markers without a length.
            0xff => at += 1,
            0x01 | 0xd0..=0xd7 => at += 2,
            0xd9 => return None,
            _ => {
                let length = jpeg.get(at + 2..at + 4)?;
                let length = usize::from(u16::from_be_bytes([length[0], length[1]]));
                let end = at + 2 + length;
                // Of what programs write for each other, only the colours' profile and their kind matter to a page.
                let wanted = !matches!(marker, 0xe1 | 0xe3..=0xed | 0xef | 0xfe);
                let whole = jpeg.get(at..end)?;
                if wanted {
                    stub.extend_from_slice(whole);
                }
                at = end;
                if marker == 0xda {
                    stub.extend_from_slice(&[0xff, 0xd9]);
                    return Some(stub);
                }
            }
        }
    }
}

fn segment(jpeg: &mut Vec<u8>, marker: u8, data: &[u8]) -> Option<()> {
    let length = u16::try_from(data.len() + 2).ok()?;
    jpeg.extend_from_slice(&[0xff, marker]);
    jpeg.extend_from_slice(&length.to_be_bytes());
    jpeg.extend_from_slice(data);
    Some(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A JPEG with this many bytes of picture.
    fn jpeg(picture: usize) -> Vec<u8> {
        let mut jpeg = vec![0xff, 0xd8];
        segment(&mut jpeg, 0xe1, b"a camera's notes").unwrap();
        segment(&mut jpeg, 0xc0, &[8, 0, 20, 0, 10, 3]).unwrap();
        segment(&mut jpeg, 0xda, &[1, 2, 3]).unwrap();
        jpeg.extend(std::iter::repeat_n(0x55, picture));
        jpeg.extend_from_slice(&[0xff, 0xd9]);
        jpeg
    }

    /// A PDF with these streams as its objects from 2 on.
    fn pdf(streams: &[&[u8]]) -> Vec<u8> {
        let mut pdf = b"%PDF-1.7\n".to_vec();
        let mut offsets = vec![pdf.len()];
        pdf.extend_from_slice(b"1 0 obj\n<< /Type /Catalog >>\nendobj\n");
        for (at, stream) in streams.iter().enumerate() {
            offsets.push(pdf.len());
            pdf.extend(
                format!("{} 0 obj\n<</Length {}/Type/XObject>>\nstream\n", at + 2, stream.len())
                    .bytes(),
            );
            pdf.extend_from_slice(stream);
            pdf.extend_from_slice(b"\nendstream\nendobj\n");
        }
        let at = pdf.len();
        pdf.extend(format!("xref\n0 {}\n0000000000 65535 f\r\n", offsets.len() + 1).bytes());
        for offset in &offsets {
            pdf.extend(format!("{offset:010} 00000 n\r\n").bytes());
        }
        pdf.extend(
            format!("trailer\n<< /Size {} >>\nstartxref\n{at}\n%%EOF", offsets.len() + 1).bytes(),
        );
        pdf
    }

    #[test]
    fn stubs_are_replaced_by_their_photos_and_everything_else_stays() {
        let mut originals = Originals::default();
        let (small, large) = (jpeg(3), jpeg(70_000));
        let first = originals.look_at("one", &small).unwrap();
        let second = originals.look_at("two", &large).unwrap();
        assert_ne!(first, second);
        let other = b"BT (some words) Tj ET";
        let photos = |id: &str| match id {
            "one" => Some(small.clone()),
            "two" => Some(large.clone()),
            _ => None,
        };
        let mut made = Vec::new();
        let bytes = originals.put_into(&pdf(&[&second, other, &first]), &photos, &mut made);
        assert_eq!(bytes, Ok(made.len()));
        assert!(made == pdf(&[&large, other, &small]), "{}", String::from_utf8_lossy(&made));
    }

    #[test]
    fn a_photo_of_the_same_id_is_one_stream_only_if_it_is_the_same() {
        let mut originals = Originals::default();
        let first = originals.look_at("one", &jpeg(3)).unwrap();
        assert_eq!(originals.look_at("one", &jpeg(3)), Some(first.clone()));
        assert_ne!(originals.look_at("one", &jpeg(4)), Some(first));
    }

    #[test]
    fn a_photo_that_changed_or_went_since_the_pages_were_laid_out_is_named() {
        let mut originals = Originals::default();
        let stub = originals.look_at("one", &jpeg(3)).unwrap();
        let changed = Err(NotPut::Changed("one".to_owned()));
        let put = |photos: &dyn Fn(&str) -> Option<Vec<u8>>| {
            originals.put_into(&pdf(&[&stub]), photos, &mut Vec::new())
        };
        assert_eq!(put(&|_| Some(jpeg(4))), changed);
        assert_eq!(put(&|_| None), changed);
        let mut other_picture = jpeg(3);
        let last = other_picture.len() - 3;
        other_picture[last] += 1;
        assert_eq!(put(&|_| Some(other_picture.clone())), changed);
    }

    #[test]
    fn a_file_that_takes_only_a_part_is_told() {
        let mut originals = Originals::default();
        let stub = originals.look_at("one", &jpeg(5_000)).unwrap();
        let mut room = [0; 1_000];
        let put = originals.put_into(&pdf(&[&stub]), &|_| Some(jpeg(5_000)), &mut &mut room[..]);
        assert!(matches!(put, Err(NotPut::NotTaken(why)) if !why.is_empty()));
    }

    #[test]
    fn a_stub_says_what_the_file_says_of_itself_without_the_cameras_notes() {
        let made = stub(&jpeg(5000), 7, "an id").unwrap();
        assert_eq!(crate::photos::jpeg_size(&made), Ok((10, 20)));
        assert!(made.len() < 100, "{}", made.len());
        assert!(position(&made, b"0000000007").is_some() && position(&made, b"an id").is_some());
        assert!(position(&made, b"camera").is_none());
    }

    #[test]
    fn a_file_without_a_picture_has_no_stub_and_a_file_without_a_table_no_place() {
        let mut headless = jpeg(0);
        headless.truncate(headless.len() - 7);
        assert_eq!(stub(&headless, 1, ""), None);
        let mut originals = Originals::default();
        originals.look_at("one", &jpeg(1)).unwrap();
        let nothing_more = b"%PDF-1.7\nnothing more";
        let put = originals.put_into(nothing_more, &|_| Some(jpeg(1)), &mut Vec::new());
        assert_eq!(put, Err(NotPut::NoTable));
    }
}
