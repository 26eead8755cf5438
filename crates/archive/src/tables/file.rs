//! A table as a Parquet file: written a group of rows at a time, read a column of a group at a time.
//!
//! Apache Parquet format, README.md ("File format", "Data Pages") and `parquet.thrift`. Of all that the format allows this
//! writes, and reads, the little that the archive needs: flat tables of words and whole numbers, not compressed, words in
//! dictionaries, every page with its check sum. General readers take it (`crates/archive/outside`). A library for the whole
//! format would bring ten more, and make the typesetting above be built with other features.

use std::fs::File;
use std::io::{Read, Seek, SeekFrom, Write};
use std::ops::Range;

use super::hybrid;
use super::thrift::{Thrift, read_struct};
use super::{Column, Kind};
use crate::error::ArchiveError;

const MAGIC: &[u8; 4] = b"PAR1";
/// Values of one page.
const PAGE: usize = 1 << 16;

// Numbers of `parquet.thrift`.
const INT32: i32 = 1;
const BYTE_ARRAY: i32 = 6;
const PLAIN: i32 = 0;
const RLE: i32 = 3;
const RLE_DICTIONARY: i32 = 8;
const DATA_PAGE: i32 = 0;
const DICTIONARY_PAGE: i32 = 2;

/// The values of a column of one group.
pub(super) enum Values<'a> {
    /// Words by their numbers in a list.
    Words { words: &'a [String], numbers: &'a [u32] },
    /// Whole numbers.
    Numbers(&'a [i32]),
    /// Whole numbers, some of which are missing.
    Optional(&'a [Option<i32>]),
}

/// Writes a table.
pub(super) struct TableWriter<W: Write> {
    into: W,
    /// Bytes written so far.
    at: usize,
    columns: &'static [Column],
    groups: Vec<Thrift>,
    rows: usize,
}

impl<W: Write> TableWriter<W> {
    pub(super) fn new(into: W, columns: &'static [Column]) -> Result<Self, ArchiveError> {
        let mut writer = Self { into, at: 0, columns, groups: Vec::new(), rows: 0 };
        writer.put(MAGIC)?;
        Ok(writer)
    }

    /// Writes a group of so many rows: the values of each column, in the columns' order.
    pub(super) fn group(&mut self, rows: usize, values: &[Values<'_>]) -> Result<(), ArchiveError> {
        let mut chunks = Vec::new();
        let mut bytes = 0;
        for (column, values) in self.columns.iter().zip(values) {
            let start = self.at;
            let words = match values {
                Values::Words { words, .. } => {
                    self.dictionary(words)?;
                    true
                }
                Values::Numbers(_) | Values::Optional(_) => false,
            };
            let data = self.at;
            for page in 0..rows.div_ceil(PAGE) {
                let range = page * PAGE..rows.min((page + 1) * PAGE);
                self.data(values, range)?;
            }
            let length = self.at - start;
            bytes += length;
            let encodings = if words { vec![PLAIN, RLE_DICTIONARY] } else { vec![PLAIN, RLE] };
            let kind = if words { BYTE_ARRAY } else { INT32 };
            let mut meta = Thrift::of([
                (1, Thrift::Int(kind)),
                (2, Thrift::List(encodings.into_iter().map(Thrift::Int).collect())),
                (3, Thrift::List(vec![Thrift::text(column.name)])),
                (4, Thrift::Int(0)),
                (5, long(rows)),
                (6, long(length)),
                (7, long(length)),
                (9, long(data)),
            ]);
            if let (true, Thrift::Struct(fields)) = (words, &mut meta) {
                fields.insert(11, long(start));
            }
            chunks.push(Thrift::of([(2, long(start)), (3, meta)]));
        }
        self.groups.push(Thrift::of([
            (1, Thrift::List(chunks)),
            (2, long(bytes)),
            (3, long(rows)),
        ]));
        self.rows += rows;
        Ok(())
    }

    /// Ends the file and gives back what it was written into.
    pub(super) fn finish(mut self, name: &str) -> Result<W, ArchiveError> {
        let mut schema = vec![Thrift::of([
            (4, Thrift::text(name)),
            (5, Thrift::Int(i32::try_from(self.columns.len()).unwrap_or(0))),
        ])];
        schema.extend(self.columns.iter().map(schema_of));
        let footer = Thrift::of([
            (1, Thrift::Int(1)),
            (2, Thrift::List(schema)),
            (3, long(self.rows)),
            (4, Thrift::List(std::mem::take(&mut self.groups))),
            (6, Thrift::text(concat!("nearside version ", env!("CARGO_PKG_VERSION")))),
        ]);
        let mut bytes = Vec::new();
        footer.write(&mut bytes);
        let length = u32::try_from(bytes.len()).map_err(|_| broken("it has too many groups"))?;
        bytes.extend(length.to_le_bytes());
        bytes.extend(MAGIC);
        self.put(&bytes)?;
        self.into.flush().map_err(ArchiveError::Disk)?;
        Ok(self.into)
    }

    fn dictionary(&mut self, words: &[String]) -> Result<(), ArchiveError> {
        let mut page = Vec::new();
        for word in words {
            let length = u32::try_from(word.len()).map_err(|_| broken("a word is too long"))?;
            page.extend(length.to_le_bytes());
            page.extend(word.as_bytes());
        }
        let header = Thrift::of([(1, int(words.len())), (2, Thrift::Int(PLAIN))]);
        self.page(DICTIONARY_PAGE, 7, header, &page)
    }

    fn data(&mut self, values: &Values<'_>, range: Range<usize>) -> Result<(), ArchiveError> {
        let mut page = Vec::new();
        let count = range.len();
        let mut encoding = PLAIN;
        match values {
            Values::Words { words, numbers } => {
                let width = hybrid::width(words.len());
                page.push(u8::try_from(width).unwrap_or(32));
                hybrid::write(numbers.get(range).unwrap_or_default(), width, &mut page);
                encoding = RLE_DICTIONARY;
            }
            Values::Numbers(numbers) => {
                let numbers = numbers.get(range).unwrap_or_default().iter();
                page.extend(numbers.flat_map(|number| number.to_le_bytes()));
            }
            Values::Optional(numbers) => {
                let numbers = numbers.get(range).unwrap_or_default();
                let there: Vec<u32> = numbers.iter().map(|it| u32::from(it.is_some())).collect();
                let mut levels = Vec::new();
                hybrid::write(&there, 1, &mut levels);
                let length =
                    u32::try_from(levels.len()).map_err(|_| broken("a page is too long"))?;
                page.extend(length.to_le_bytes());
                page.extend(levels);
                page.extend(numbers.iter().flatten().flat_map(|number| number.to_le_bytes()));
            }
        }
        let header = Thrift::of([
            (1, int(count)),
            (2, Thrift::Int(encoding)),
            (3, Thrift::Int(RLE)),
            (4, Thrift::Int(RLE)),
        ]);
        self.page(DATA_PAGE, 5, header, &page)
    }

    fn page(
        &mut self,
        kind: i32,
        field: i16,
        header: Thrift,
        page: &[u8],
    ) -> Result<(), ArchiveError> {
        let header = Thrift::of([
            (1, Thrift::Int(kind)),
            (2, int(page.len())),
            (3, int(page.len())),
            (4, Thrift::Int(crc32fast::hash(page).cast_signed())),
            (field, header),
        ]);
        let mut bytes = Vec::new();
        header.write(&mut bytes);
        self.put(&bytes)?;
        self.put(page)
    }

    fn put(&mut self, bytes: &[u8]) -> Result<(), ArchiveError> {
        self.into.write_all(bytes).map_err(ArchiveError::Disk)?;
        self.at += bytes.len();
        Ok(())
    }
}

fn schema_of(column: &Column) -> Thrift {
    let (kind, converted, logical) = match column.kind {
        Kind::Words => (BYTE_ARRAY, Some(0), Some(1)),
        Kind::Number => (INT32, None, None),
        Kind::Day => (INT32, Some(6), Some(6)),
    };
    let mut fields = vec![
        (1, Thrift::Int(kind)),
        (3, Thrift::Int(i32::from(column.optional))),
        (4, Thrift::text(column.name)),
    ];
    fields.extend(converted.map(|number| (6, Thrift::Int(number))));
    // A choice of empty structs: which one says what the bytes mean.
    fields.extend(logical.map(|number| (10, Thrift::of([(number, Thrift::of([]))]))));
    Thrift::Struct(fields.into_iter().collect())
}

fn int(number: usize) -> Thrift {
    Thrift::Int(i32::try_from(number).unwrap_or(i32::MAX))
}

fn long(number: usize) -> Thrift {
    Thrift::Long(i64::try_from(number).unwrap_or(i64::MAX))
}

/// A table, open for reading.
pub(super) struct Table {
    file: File,
    columns: &'static [Column],
    groups: Vec<Group>,
}

struct Group {
    rows: usize,
    /// Where each column's bytes lie.
    chunks: Vec<Range<usize>>,
}

/// The pages of a column of one group.
pub(super) struct Chunk {
    pub(super) rows: usize,
    bytes: Vec<u8>,
    pages: Vec<Page>,
}

struct Page {
    dictionary: bool,
    count: usize,
    at: Range<usize>,
}

impl Table {
    pub(super) fn open(file: File, columns: &'static [Column]) -> Result<Self, ArchiveError> {
        let mut reading = &file;
        let length = reading.seek(SeekFrom::End(0)).map_err(ArchiveError::Disk)?;
        let length = usize::try_from(length).map_err(|_| broken("it is too long"))?;
        let end = read_at(
            &file,
            length.checked_sub(8).ok_or_else(|| broken("it is too short"))?..length,
        )?;
        let [a, b, c, d, magic @ ..] = end.as_slice() else {
            return Err(broken("it is too short"));
        };
        let footer = usize::try_from(u32::from_le_bytes([*a, *b, *c, *d])).unwrap_or(usize::MAX);
        let start = (length - 8).checked_sub(footer).filter(|start| *start >= MAGIC.len());
        let (Some(start), true) = (start, magic == MAGIC) else {
            return Err(broken("its end is not that of a table"));
        };
        let bytes = read_at(&file, start..length - 8)?;
        let footer = read_struct(&mut bytes.as_slice()).ok_or_else(|| broken("its description"))?;
        let schema = footer.list(2).unwrap_or_default().iter().skip(1);
        let expected: Vec<Thrift> = columns.iter().map(schema_of).collect();
        if !schema.eq(expected.iter()) {
            return Err(broken("it has other columns"));
        }
        let groups = footer.list(4).unwrap_or_default().iter();
        let groups = groups.map(|group| {
            let rows = group.number(3)?;
            let chunks = group.list(1)?.iter().map(|chunk| {
                let from = chunk.number(2)?;
                let to = from.checked_add(chunk.field(3)?.number(7)?)?;
                (from <= to && to <= start).then_some(from..to)
            });
            let chunks: Vec<Range<usize>> = chunks.collect::<Option<_>>()?;
            (chunks.len() == columns.len()).then_some(Group { rows, chunks })
        });
        let groups: Option<Vec<Group>> = groups.collect();
        let groups = groups.ok_or_else(|| broken("where its columns lie"))?;
        let rows = groups.iter().try_fold(0_usize, |all, group| all.checked_add(group.rows));
        if rows.is_none() || rows != footer.number(3) {
            return Err(broken("how many rows it has"));
        }
        Ok(Self { file, columns, groups })
    }

    pub(super) fn groups(&self) -> usize {
        self.groups.len()
    }

    /// Reads a column of a group.
    pub(super) fn chunk(&self, group: usize, name: &str) -> Result<Chunk, ArchiveError> {
        let column = self.columns.iter().position(|column| column.name == name);
        let group = self.groups.get(group).ok_or_else(|| broken("a group is missing"))?;
        let range = column.and_then(|column| group.chunks.get(column));
        let bytes =
            read_at(&self.file, range.ok_or_else(|| broken("a column is missing"))?.clone())?;
        let mut pages = Vec::new();
        let (mut at, mut count) = (0, 0);
        while at < bytes.len() {
            let mut rest = bytes.get(at..).unwrap_or_default();
            let all = rest.len();
            let header = read_struct(&mut rest).ok_or_else(|| broken("a page"))?;
            at += all - rest.len();
            let page = page(&header, at).ok_or_else(|| broken("a page"))?;
            let body = bytes.get(page.at.clone()).ok_or_else(|| broken("a page"))?;
            let sum = Thrift::Int(crc32fast::hash(body).cast_signed());
            if header.field(4) != Some(&sum) {
                return Err(broken("a page's check sum"));
            }
            at = page.at.end;
            if !page.dictionary {
                count += page.count;
            }
            pages.push(page);
        }
        if count != group.rows {
            return Err(broken("a column is too short"));
        }
        Ok(Chunk { rows: group.rows, bytes, pages })
    }
}

fn page(header: &Thrift, at: usize) -> Option<Page> {
    let kind = header.number(1)?;
    let at = at..at.checked_add(header.number(3)?)?;
    let dictionary = kind == usize::try_from(DICTIONARY_PAGE).ok()?;
    let inner = header.field(if dictionary { 7 } else { 5 })?;
    Some(Page { dictionary, count: inner.number(1)?, at })
}

impl Chunk {
    /// The words of its dictionary.
    pub(super) fn words(&self) -> Result<Vec<String>, ArchiveError> {
        let mut words = Vec::new();
        for page in self.pages.iter().filter(|page| page.dictionary) {
            let mut rest = self.bytes.get(page.at.clone()).unwrap_or_default();
            for _ in 0..page.count {
                let (length, after) =
                    rest.split_first_chunk::<4>().ok_or_else(|| broken("a dictionary"))?;
                let length = usize::try_from(u32::from_le_bytes(*length)).unwrap_or(usize::MAX);
                let (word, after) =
                    after.split_at_checked(length).ok_or_else(|| broken("a dictionary"))?;
                words.push(String::from_utf8(word.to_vec()).map_err(|_| broken("a dictionary"))?);
                rest = after;
            }
        }
        Ok(words)
    }

    /// The pages with values: how many, and their bytes.
    pub(super) fn data(&self) -> impl Iterator<Item = (usize, &[u8])> {
        let data = self.pages.iter().filter(|page| !page.dictionary);
        data.map(|page| (page.count, self.bytes.get(page.at.clone()).unwrap_or_default()))
    }
}

fn read_at(file: &File, range: Range<usize>) -> Result<Vec<u8>, ArchiveError> {
    let mut reading = file;
    let start = u64::try_from(range.start).unwrap_or(u64::MAX);
    reading.seek(SeekFrom::Start(start)).map_err(ArchiveError::Disk)?;
    let mut bytes = vec![0; range.len()];
    reading.read_exact(&mut bytes).map_err(ArchiveError::Disk)?;
    Ok(bytes)
}

fn broken(what: &str) -> ArchiveError {
    ArchiveError::Damaged { what: format!("a table is not as it was written: {what}") }
}
