//! Writing a table.

use std::io::Write;
use std::sync::Arc;

use parquet::column::writer::ColumnWriterImpl;
use parquet::data_type::{ByteArray, ByteArrayType, DataType, DoubleType, Int32Type};
use parquet::errors::ParquetError;
use parquet::file::properties::{EnabledStatistics, WriterProperties};
use parquet::file::writer::SerializedFileWriter;

use super::{schema, unwritten};
use crate::error::ArchiveError;
use crate::tables::{Column, Layout};

/// Values of one page.
const PAGE: usize = 1 << 16;

/// The values of a column of one group.
pub(in crate::tables) enum Values<'a> {
    /// Words by their numbers in a list.
    Words { words: &'a [ByteArray], numbers: &'a [u32] },
    /// Whole numbers; none is missing unless the column is optional.
    Numbers(&'a [Option<i32>]),
    /// Shares, likewise.
    Shares(&'a [Option<f64>]),
}

/// Writes a table.
pub(in crate::tables) struct TableWriter<W: Write> {
    writer: SerializedFileWriter<W>,
    columns: &'static [Column],
}

impl<W: Write + Send> TableWriter<W> {
    pub(in crate::tables) fn new(into: W, layout: &Layout) -> Result<Self, ArchiveError> {
        let properties = WriterProperties::builder()
            .set_created_by(concat!("nearside version ", env!("CARGO_PKG_VERSION")).to_owned())
            // Beyond a limit words would stand in the pages, where nothing here looks for them.
            .set_dictionary_page_size_limit(usize::MAX)
            .set_data_page_row_count_limit(PAGE)
            .set_statistics_enabled(EnabledStatistics::None)
            .set_offset_index_disabled(true)
            .build();
        let writer = SerializedFileWriter::new(into, schema(layout)?, Arc::new(properties));
        Ok(Self { writer: writer.map_err(unwritten)?, columns: layout.columns })
    }

    /// Writes a group of rows: the values of each column, in the columns' order.
    pub(in crate::tables) fn group(&mut self, values: &[Values<'_>]) -> Result<(), ArchiveError> {
        let mut group = self.writer.next_row_group().map_err(unwritten)?;
        for (column, values) in self.columns.iter().zip(values) {
            let Some(mut writer) = group.next_column().map_err(unwritten)? else { break };
            match values {
                Values::Words { words, numbers } => {
                    for numbers in numbers.chunks(PAGE) {
                        let word = |number: &u32| words.get(usize::try_from(*number).ok()?);
                        let batch: Vec<ByteArray> =
                            numbers.iter().filter_map(word).cloned().collect();
                        writer
                            .typed::<ByteArrayType>()
                            .write_batch(&batch, None, None)
                            .map_err(unwritten)?;
                    }
                }
                Values::Numbers(numbers) => {
                    there::<Int32Type>(writer.typed(), numbers, column).map_err(unwritten)?;
                }
                Values::Shares(shares) => {
                    there::<DoubleType>(writer.typed(), shares, column).map_err(unwritten)?;
                }
            }
            writer.close().map_err(unwritten)?;
        }
        group.close().map(drop).map_err(unwritten)
    }

    /// Ends the file and gives back what it was written into.
    pub(in crate::tables) fn finish(self) -> Result<W, ArchiveError> {
        let mut into = self.writer.into_inner().map_err(unwritten)?;
        into.flush().map_err(ArchiveError::Disk)?;
        Ok(into)
    }
}

/// Writes the values that are there, and, where some may be missing, which.
fn there<T: DataType>(
    writer: &mut ColumnWriterImpl<'_, T>,
    values: &[Option<T::T>],
    column: &Column,
) -> Result<usize, ParquetError>
where
    T::T: Copy,
{
    let there: Vec<T::T> = values.iter().flatten().copied().collect();
    let levels: Vec<i16> = values.iter().map(|value| i16::from(value.is_some())).collect();
    writer.write_batch(&there, column.optional.then_some(&levels[..]), None)
}
