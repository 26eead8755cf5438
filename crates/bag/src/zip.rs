//! A bag as one zip file: stored, not compressed, one folder at the top, every time stamp the same.
//!
//! The same files give the same bytes. Reading is strict: the zip file's own frame must be, byte for byte, the one that
//! is written here for these files, so that no byte of it can change unseen, and nothing can hide between files. A bag
//! that another program packed is unpacked by another program first. Layout: PKWARE APPNOTE 6.3.10, 4.3; its zip64 records
//! where a bag passes 4 GiB.

use std::collections::BTreeMap;
use std::io::{self, Read, Seek, SeekFrom, Write};

use crate::{Container, File, is_safe_path};

/// Why a zip file cannot be read as a bag.
#[derive(Debug, thiserror::Error)]
pub enum ZipError {
    /// The file cannot be read at all.
    #[error(transparent)]
    Io(#[from] io::Error),
    /// Damaged, or packed by another program.
    #[error(
        "{0}; the zip file is damaged, or another program packed it: in that case unpack it and verify the folder"
    )]
    Frame(String),
}

/// One file as the zip file lists it.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Entry {
    /// With the folder at the top.
    name: String,
    crc: u32,
    size: u32,
    offset: u64,
}

/// What does not fit 32 bits stands in a zip64 record, and this in its place.
const ELSEWHERE: u32 = u32::MAX;

/// The largest list of files that is read; a million files have one of about 250 MiB.
const LARGEST_DIRECTORY: u64 = 256 << 20;

/// Writes a bag's files as a zip file with one folder at the top. `bytes` gives the bytes of each.
///
/// # Errors
/// When a file cannot be fetched or written, or has 4 GiB or more.
pub fn write_zip(
    folder: &str,
    files: &[File],
    out: &mut dyn Write,
    bytes: &mut dyn FnMut(&File) -> io::Result<Vec<u8>>,
) -> io::Result<()> {
    let mut entries = Vec::new();
    let mut offset = 0;
    for file in files {
        let content = bytes(file)?;
        let size = u32::try_from(content.len()).ok().filter(|size| *size < ELSEWHERE);
        let size = size.ok_or_else(|| {
            io::Error::other(format!(
                "{} has 4 GiB or more, which a zip file of ours cannot hold",
                file.path
            ))
        })?;
        let entry = Entry {
            name: format!("{folder}/{}", file.path),
            crc: crc32fast::hash(&content),
            size,
            offset,
        };
        let header = local_header(&entry)?;
        out.write_all(&header)?;
        out.write_all(&content)?;
        offset += length(&header) + u64::from(size);
        entries.push(entry);
    }
    out.write_all(&directory(&entries, offset)?)
}

/// A bag's zip file, opened: its frame is sound.
#[derive(Debug)]
pub struct ZipContainer<R> {
    source: R,
    /// The folder at its top.
    pub folder: String,
    /// Path, CRC-32, size, and where the bytes begin.
    files: BTreeMap<String, (u32, u32, u64)>,
}

impl<R: Read + Seek> ZipContainer<R> {
    /// Opens a zip file and checks its frame.
    ///
    /// # Errors
    /// When the frame is not the one that is written here.
    pub fn open(mut source: R) -> Result<Self, ZipError> {
        let end = source.seek(SeekFrom::End(0))?;
        let (start, listed) = find_directory(&mut source, end)?;
        source.seek(SeekFrom::Start(start))?;
        let mut tail = Vec::new();
        source.by_ref().take(end - start).read_to_end(&mut tail)?;
        let entries = read_entries(&tail, listed)?;
        if directory(&entries, start)? != tail {
            return Err(ZipError::Frame(
                "its list of files is not written as it should be".to_owned(),
            ));
        }
        let folder = entries.first().and_then(|entry| entry.name.split_once('/'));
        let folder = folder.map_or_else(String::new, |(folder, _)| folder.to_owned());
        let mut files = BTreeMap::new();
        let mut expected = 0;
        let mut before = "";
        for entry in &entries {
            let path = entry.name.strip_prefix(&folder).and_then(|rest| rest.strip_prefix('/'));
            let path = path.filter(|path| is_safe_path(path) && is_safe_path(&folder));
            let path = path.ok_or_else(|| {
                ZipError::Frame(format!("{:?} is no path that a bag may have", entry.name))
            })?;
            let header = local_header(entry)?;
            if entry.offset != expected || path <= before {
                return Err(ZipError::Frame(format!("{path} is not where it should be")));
            }
            source.seek(SeekFrom::Start(entry.offset))?;
            let mut there = vec![0; header.len()];
            source.read_exact(&mut there)?;
            if there != header {
                return Err(ZipError::Frame(format!("the lines before {path} differ")));
            }
            let begin = entry.offset + length(&header);
            expected = begin + u64::from(entry.size);
            files.insert(path.to_owned(), (entry.crc, entry.size, begin));
            before = path;
        }
        if expected != start {
            return Err(ZipError::Frame("there is something between its files".to_owned()));
        }
        Ok(Self { source, folder, files })
    }
}

impl<R: Read + Seek> Container for ZipContainer<R> {
    fn list(&mut self) -> io::Result<Vec<(String, u64)>> {
        Ok(self.files.iter().map(|(path, (_, size, _))| (path.clone(), u64::from(*size))).collect())
    }

    fn read(&mut self, path: &str, each: &mut dyn FnMut(&[u8])) -> io::Result<()> {
        let (crc, size, begin) = *self.files.get(path).ok_or(io::ErrorKind::NotFound)?;
        self.source.seek(SeekFrom::Start(begin))?;
        let mut left = usize::try_from(size).map_err(io::Error::other)?;
        let mut piece = vec![0; left.min(256 * 1024)];
        let mut sum = crc32fast::Hasher::new();
        while left > 0 {
            let wanted = left.min(piece.len());
            let part = piece.get_mut(..wanted).ok_or(io::ErrorKind::UnexpectedEof)?;
            self.source.read_exact(part)?;
            sum.update(part);
            each(part);
            left -= wanted;
        }
        if sum.finalize() != crc {
            return Err(io::Error::other(
                "its bytes do not fit the sum that the zip file has of them",
            ));
        }
        Ok(())
    }
}

/// Where the list of files begins, and how many it lists.
fn find_directory(source: &mut (impl Read + Seek), end: u64) -> Result<(u64, u64), ZipError> {
    let cut_off = || ZipError::Frame("it does not end as a zip file does".to_owned());
    let record_at = end.checked_sub(22).ok_or_else(cut_off)?;
    let record: [u8; 22] = read_at(source, record_at)?;
    let mut fields = Fields(&record);
    if fields.four() != Some(0x0605_4b50) {
        return Err(cut_off());
    }
    fields.skip(6);
    let (count, _size, start) = (fields.two(), fields.four(), fields.four());
    let (Some(mut count), Some(mut start)) = (count.map(u64::from), start.map(u64::from)) else {
        return Err(cut_off());
    };
    if count == u64::from(u16::MAX) || start == u64::from(ELSEWHERE) {
        // The locator of 20 bytes stands right before, the zip64 record of 56 before that.
        let wide: [u8; 56] = read_at(source, record_at.checked_sub(76).ok_or_else(cut_off)?)?;
        let mut fields = Fields(&wide);
        if fields.four() != Some(0x0606_4b50) {
            return Err(cut_off());
        }
        fields.skip(28);
        count = fields.eight().ok_or_else(cut_off)?;
        fields.skip(8);
        start = fields.eight().ok_or_else(cut_off)?;
    }
    if start > record_at || record_at - start > LARGEST_DIRECTORY {
        return Err(ZipError::Frame("its list of files is not where it should be".to_owned()));
    }
    Ok((start, count))
}

fn read_at<const N: usize>(source: &mut (impl Read + Seek), at: u64) -> io::Result<[u8; N]> {
    let mut bytes = [0; N];
    source.seek(SeekFrom::Start(at))?;
    source.read_exact(&mut bytes)?;
    Ok(bytes)
}

fn read_entries(tail: &[u8], listed: u64) -> Result<Vec<Entry>, ZipError> {
    let mut fields = Fields(tail);
    let mut entries = Vec::new();
    for _ in 0..listed {
        let entry = read_entry(&mut fields)
            .ok_or_else(|| ZipError::Frame("its list of files is damaged".to_owned()))?;
        entries.push(entry);
    }
    Ok(entries)
}

fn read_entry(fields: &mut Fields<'_>) -> Option<Entry> {
    if fields.four()? != 0x0201_4b50 {
        return None;
    }
    fields.skip(12);
    let (crc, _stored, size) = (fields.four()?, fields.four()?, fields.four()?);
    let (name, extra) = (fields.two()?, fields.two()?);
    fields.skip(10);
    let mut offset = u64::from(fields.four()?);
    let name = String::from_utf8(fields.take(usize::from(name))?.to_vec()).ok()?;
    let extra = fields.take(usize::from(extra))?;
    if offset == u64::from(ELSEWHERE) {
        let mut wide = Fields(extra);
        wide.skip(4);
        offset = wide.eight()?;
    }
    Some(Entry { name, crc, size, offset })
}

fn local_header(entry: &Entry) -> io::Result<Vec<u8>> {
    let mut out = Vec::new();
    put(
        &mut out,
        &[&0x0403_4b50_u32.to_le_bytes(), &common(entry)?, &[0, 0], entry.name.as_bytes()],
    );
    Ok(out)
}

/// From the version to the length of the name, alike in both places. Stored; 1980-01-01 00:00, the first moment there is.
fn common(entry: &Entry) -> io::Result<Vec<u8>> {
    let name = u16::try_from(entry.name.len()).map_err(io::Error::other)?;
    let mut out = Vec::new();
    put(&mut out, &[&20_u16.to_le_bytes(), &[0; 4], &[0, 0, 0x21, 0], &entry.crc.to_le_bytes()]);
    put(&mut out, &[&entry.size.to_le_bytes(), &entry.size.to_le_bytes(), &name.to_le_bytes()]);
    Ok(out)
}

/// The list of files, and the records behind it.
fn directory(entries: &[Entry], start: u64) -> io::Result<Vec<u8>> {
    let mut out = Vec::new();
    for entry in entries {
        let narrow = u32::try_from(entry.offset).ok().filter(|offset| *offset < ELSEWHERE);
        let mut extra = Vec::new();
        if narrow.is_none() {
            put(
                &mut extra,
                &[&1_u16.to_le_bytes(), &8_u16.to_le_bytes(), &entry.offset.to_le_bytes()],
            );
        }
        let extra_length = u16::try_from(extra.len()).map_err(io::Error::other)?;
        // Made on a Unix system, so that unpacking gives files that their owner writes and all read.
        let rights: u32 = 0o100_644 << 16;
        put(&mut out, &[&0x0201_4b50_u32.to_le_bytes(), &[20, 3], &common(entry)?]);
        put(&mut out, &[&extra_length.to_le_bytes(), &[0; 6], &rights.to_le_bytes()]);
        put(&mut out, &[&narrow.unwrap_or(ELSEWHERE).to_le_bytes(), entry.name.as_bytes(), &extra]);
    }
    let size = length(&out);
    let count = u64::try_from(entries.len()).map_err(io::Error::other)?;
    let narrow_count = u16::try_from(count).unwrap_or(u16::MAX);
    let narrow_start = u32::try_from(start).unwrap_or(ELSEWHERE);
    let narrow_size = u32::try_from(size).unwrap_or(ELSEWHERE);
    if narrow_count == u16::MAX || narrow_start == ELSEWHERE || narrow_size == ELSEWHERE {
        let record_at = start + size;
        put(
            &mut out,
            &[&0x0606_4b50_u32.to_le_bytes(), &44_u64.to_le_bytes(), &[45, 3, 45, 0], &[0; 8]],
        );
        put(&mut out, &[&count.to_le_bytes(), &count.to_le_bytes(), &size.to_le_bytes()]);
        put(&mut out, &[&start.to_le_bytes(), &0x0706_4b50_u32.to_le_bytes(), &[0; 4]]);
        put(&mut out, &[&record_at.to_le_bytes(), &1_u32.to_le_bytes()]);
    }
    put(&mut out, &[&0x0605_4b50_u32.to_le_bytes(), &[0; 4], &narrow_count.to_le_bytes()]);
    put(&mut out, &[&narrow_count.to_le_bytes(), &narrow_size.to_le_bytes()]);
    put(&mut out, &[&narrow_start.to_le_bytes(), &[0, 0]]);
    Ok(out)
}

fn put(out: &mut Vec<u8>, parts: &[&[u8]]) {
    parts.iter().for_each(|part| out.extend_from_slice(part));
}

fn length(bytes: &[u8]) -> u64 {
    u64::try_from(bytes.len()).unwrap_or(u64::MAX)
}

/// Numbers, low byte first, one after the other.
struct Fields<'a>(&'a [u8]);

impl<'a> Fields<'a> {
    fn take(&mut self, count: usize) -> Option<&'a [u8]> {
        let (taken, rest) = self.0.split_at_checked(count)?;
        self.0 = rest;
        Some(taken)
    }

    fn skip(&mut self, count: usize) {
        self.0 = self.0.get(count..).unwrap_or_default();
    }

    fn two(&mut self) -> Option<u16> {
        Some(u16::from_le_bytes(self.take(2)?.try_into().ok()?))
    }

    fn four(&mut self) -> Option<u32> {
        Some(u32::from_le_bytes(self.take(4)?.try_into().ok()?))
    }

    fn eight(&mut self) -> Option<u64> {
        Some(u64::from_le_bytes(self.take(8)?.try_into().ok()?))
    }
}

#[cfg(test)]
mod tests {
    use super::{Entry, ZipContainer, directory, find_directory, read_entries, write_zip};
    use crate::{Container, File};
    use std::io::{Cursor, Read, Seek, SeekFrom};

    fn packed() -> (Vec<File>, Vec<u8>) {
        let files = vec![
            File::new("bagit.txt", "one"),
            File::new("data/empty", ""),
            File::new("data/photo.jpg", vec![0x5a; 70_000]),
        ];
        let mut out = Vec::new();
        write_zip("job-1", &files, &mut out, &mut |file| Ok(file.bytes.clone().unwrap())).unwrap();
        (files, out)
    }

    #[test]
    fn every_changed_byte_of_the_frame_or_of_a_file_is_noticed() {
        let (files, packed) = packed();
        let read = |bytes: &[u8]| {
            let mut container = ZipContainer::open(Cursor::new(bytes)).ok()?;
            let listed = container.list().ok()?;
            listed.iter().map(|(path, _)| container.bytes(path).ok()).collect::<Option<Vec<_>>>()
        };
        let whole: Vec<Vec<u8>> = files.into_iter().map(|file| file.bytes.unwrap()).collect();
        assert_eq!(read(&packed), Some(whole));
        // Of the photo's own bytes a few stand for all.
        let places =
            (0..400).chain((400..70_000).step_by(997)).chain(packed.len() - 500..packed.len());
        for at in places {
            for bit in 0..8 {
                let mut changed = packed.clone();
                changed[at] ^= 1 << bit;
                assert_eq!(read(&changed), None, "byte {at}, bit {bit}");
            }
        }
        assert_eq!(read(&packed[1..]), None);
        assert_eq!(read(&packed[..packed.len() - 1]), None);
        assert_eq!(read(b""), None);
    }

    /// Written by Info-ZIP's `zip -0 -X` (zip 3.0), one folder with one file.
    #[test]
    fn a_zip_file_from_another_program_is_told_apart() {
        let packed = include_bytes!("../tests/it/info_zip.zip");
        let said = ZipContainer::open(Cursor::new(packed)).unwrap_err().to_string();
        assert!(said.contains("unpack it and verify the folder"), "{said}");
    }

    /// Beyond 4 GiB or 65 535 files the list reads back.
    #[test]
    fn a_large_bag_has_its_wide_records() {
        const FAR: u64 = 5 << 30;
        let entries: Vec<Entry> = (0..70_000)
            .map(|at| Entry {
                name: format!("job-1/data/{at:05}"),
                crc: 0,
                size: 0,
                offset: FAR + at,
            })
            .collect();
        let mut file =
            Sparse { head: FAR + 70_000, tail: directory(&entries, FAR + 70_000).unwrap(), at: 0 };
        let end = file.seek(SeekFrom::End(0)).unwrap();
        let (start, listed) = find_directory(&mut file, end).unwrap();
        assert_eq!((start, listed), (FAR + 70_000, 70_000));
        assert_eq!(read_entries(&file.tail, listed).unwrap(), entries);
    }

    /// A file whose first bytes, as many as `head`, are all zero and stored nowhere.
    struct Sparse {
        head: u64,
        tail: Vec<u8>,
        at: u64,
    }

    impl Read for Sparse {
        fn read(&mut self, out: &mut [u8]) -> std::io::Result<usize> {
            let read = match self.at.checked_sub(self.head) {
                None => {
                    let zeros = usize::try_from(self.head - self.at).unwrap().min(out.len());
                    out[..zeros].fill(0);
                    zeros
                }
                Some(at) => {
                    let rest = self.tail.get(usize::try_from(at).unwrap()..).unwrap_or_default();
                    let count = rest.len().min(out.len());
                    out[..count].copy_from_slice(&rest[..count]);
                    count
                }
            };
            self.at += u64::try_from(read).unwrap();
            Ok(read)
        }
    }

    impl Seek for Sparse {
        fn seek(&mut self, to: SeekFrom) -> std::io::Result<u64> {
            let end = self.head + u64::try_from(self.tail.len()).unwrap();
            let at = match to {
                SeekFrom::Start(at) => Some(at),
                SeekFrom::End(by) => end.checked_add_signed(by),
                SeekFrom::Current(by) => self.at.checked_add_signed(by),
            };
            self.at = at.ok_or(std::io::ErrorKind::InvalidInput)?;
            Ok(self.at)
        }
    }
}
