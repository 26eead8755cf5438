//! Reading a table: a column of a group at a time, words as numbers.

use std::fs::File;
use std::sync::Arc;

use parquet::basic::Encoding;
use parquet::column::page::{Page, PageMetadata, PageReader};
use parquet::column::reader::{ColumnReader, ColumnReaderImpl};
use parquet::data_type::{ByteArrayType, DataType, Int32Type};
use parquet::errors::ParquetError;
use parquet::file::reader::{FileReader, RowGroupReader, SerializedFileReader};
use parquet::schema::parser::parse_message_type;
use parquet::schema::types::SchemaDescriptor;

use super::{broken, schema, unread};
use crate::error::ArchiveError;
use crate::tables::{Column, Layout};

/// A table, open for reading.
pub(in crate::tables) struct Table {
    reader: SerializedFileReader<File>,
    columns: &'static [Column],
}

impl Table {
    pub(in crate::tables) fn open(file: File, layout: &Layout) -> Result<Self, ArchiveError> {
        let reader = SerializedFileReader::new(file).map_err(unread)?;
        let found = reader.metadata().file_metadata().schema();
        if found.get_fields() != schema(layout)?.get_fields() {
            return Err(broken("it has other columns"));
        }
        Ok(Self { reader, columns: layout.columns })
    }

    pub(in crate::tables) fn groups(&self) -> usize {
        self.reader.num_row_groups()
    }

    /// The words of a column of a group.
    pub(in crate::tables) fn words(&self, group: usize, name: &str) -> Result<Words, ArchiveError> {
        let (group, rows) = self.group(group)?;
        let mut pages = group.get_column_page_reader(self.place(name)?).map_err(unread)?;
        let Some(Page::DictionaryPage { buf, num_values, .. }) =
            pages.get_next_page().map_err(unread)?
        else {
            return Err(broken("its words are in no dictionary"));
        };
        // A dictionary is a page of plain values.
        let plain = Page::DataPage {
            buf,
            num_values,
            encoding: Encoding::PLAIN,
            def_level_encoding: Encoding::RLE,
            rep_level_encoding: Encoding::RLE,
            statistics: None,
        };
        let count = usize::try_from(num_values).unwrap_or(usize::MAX);
        let mut words = Vec::new();
        let mut reader =
            reader_of::<ByteArrayType>("binary", Pages { first: Some(plain), rest: None })?;
        reader.read_records(count, None, None, &mut words).map_err(unread)?;
        let words: Result<Vec<String>, ParquetError> =
            words.iter().map(|word| word.as_utf8().map(str::to_owned)).collect();
        let words = words.map_err(unread)?;
        if words.len() != count {
            return Err(broken("a dictionary is too short"));
        }
        Ok(Words { words, rows, pages })
    }

    /// The whole numbers of a column of a group; none where one is missing.
    pub(in crate::tables) fn numbers(
        &self,
        group: usize,
        name: &str,
    ) -> Result<Vec<Option<i32>>, ArchiveError> {
        let (group, rows) = self.group(group)?;
        let place = self.place(name)?;
        let reader = group.get_column_reader(place).map_err(unread)?;
        let ColumnReader::Int32ColumnReader(mut reader) = reader else {
            return Err(broken("a column has other values"));
        };
        let (mut values, mut levels) = (Vec::new(), Vec::new());
        reader.read_records(rows, Some(&mut levels), None, &mut values).map_err(unread)?;
        let mut there = values.into_iter();
        let all: Vec<Option<i32>> = if self.columns.get(place).is_some_and(|it| it.optional) {
            levels.into_iter().map(|level| if level == 0 { None } else { there.next() }).collect()
        } else {
            there.map(Some).collect()
        };
        if all.len() == rows { Ok(all) } else { Err(broken("a column is too short")) }
    }

    fn group(&self, group: usize) -> Result<(Box<dyn RowGroupReader + '_>, usize), ArchiveError> {
        let group = self.reader.get_row_group(group).map_err(unread)?;
        let rows = usize::try_from(group.metadata().num_rows());
        Ok((group, rows.map_err(|_| broken("how many rows it has"))?))
    }

    fn place(&self, name: &str) -> Result<usize, ArchiveError> {
        let place = self.columns.iter().position(|column| column.name == name);
        place.ok_or_else(|| broken("a column is missing"))
    }
}

/// A column of words of one group.
pub(in crate::tables) struct Words {
    /// Each word once.
    pub(in crate::tables) words: Vec<String>,
    rows: usize,
    pages: Box<dyn PageReader>,
}

impl Words {
    /// What stands for the word of each row, by a list with a code a word.
    pub(in crate::tables) fn coded(self, codes: &[i32]) -> Result<Codes, ArchiveError> {
        let dictionary = Page::DictionaryPage {
            buf: codes.iter().flat_map(|code| code.to_le_bytes()).collect::<Vec<u8>>().into(),
            num_values: u32::try_from(codes.len())
                .map_err(|_| broken("a dictionary is too long"))?,
            encoding: Encoding::PLAIN,
            is_sorted: false,
        };
        let pages = Pages { first: Some(dictionary), rest: Some(self.pages) };
        Ok(Codes { left: self.rows, reader: reader_of::<Int32Type>("int32", pages)? })
    }

    /// For each row the place of its word among the words.
    pub(in crate::tables) fn places(self) -> Result<Vec<usize>, ArchiveError> {
        let codes: Result<Vec<i32>, _> = (0..self.words.len()).map(i32::try_from).collect();
        let mut codes = self.coded(&codes.map_err(|_| broken("a dictionary is too long"))?)?;
        let mut places = Vec::new();
        codes.read(codes.left, &mut places)?;
        Ok(places.into_iter().map(|place| usize::try_from(place).unwrap_or(usize::MAX)).collect())
    }
}

/// The codes of a column, from the first row to the last.
pub(in crate::tables) struct Codes {
    left: usize,
    reader: ColumnReaderImpl<Int32Type>,
}

impl Codes {
    /// How many rows were not read yet.
    pub(in crate::tables) fn left(&self) -> usize {
        self.left
    }

    /// Reads the codes of the next rows in the place of what was there: so many, or as many as are left.
    pub(in crate::tables) fn read(
        &mut self,
        most: usize,
        into: &mut Vec<i32>,
    ) -> Result<(), ArchiveError> {
        into.clear();
        let wanted = most.min(self.left);
        self.reader.read_records(wanted, None, None, into).map_err(unread)?;
        if into.len() != wanted {
            return Err(broken("a column is too short"));
        }
        self.left -= wanted;
        Ok(())
    }
}

/// A page of ours, and then those of a file.
struct Pages {
    first: Option<Page>,
    rest: Option<Box<dyn PageReader>>,
}

impl PageReader for Pages {
    fn get_next_page(&mut self) -> Result<Option<Page>, ParquetError> {
        if let Some(first) = self.first.take() {
            return Ok(Some(first));
        }
        let Some(rest) = &mut self.rest else { return Ok(None) };
        let page = rest.get_next_page()?;
        if page.as_ref().is_some_and(|page| page.encoding() != Encoding::RLE_DICTIONARY) {
            return Err(ParquetError::General("words that are in no dictionary".to_owned()));
        }
        Ok(page)
    }

    fn peek_next_page(&mut self) -> Result<Option<PageMetadata>, ParquetError> {
        Err(ParquetError::NYI("pages are read one after the other".to_owned()))
    }

    fn skip_next_page(&mut self) -> Result<(), ParquetError> {
        self.get_next_page().map(drop)
    }
}

impl Iterator for Pages {
    type Item = Result<Page, ParquetError>;

    fn next(&mut self) -> Option<Self::Item> {
        self.get_next_page().transpose()
    }
}

/// A reader of a column without missing values.
fn reader_of<T: DataType>(kind: &str, pages: Pages) -> Result<ColumnReaderImpl<T>, ArchiveError> {
    let schema = parse_message_type(&format!("message pages {{ required {kind} value; }}"));
    let column = SchemaDescriptor::new(Arc::new(schema.map_err(unread)?)).column(0);
    Ok(ColumnReaderImpl::new(column, Box::new(pages)))
}
