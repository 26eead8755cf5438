//! One table of the archive, written where somebody wants it, a job at a time.

use std::io::{self, Write};

use crate::error::ArchiveError;
use crate::export::Sheets;
use crate::figures::Filter;
use crate::keep::Archive;
use crate::rows::JobRow;
use crate::tables::Columns;

/// A table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Table {
    /// A row a job.
    Jobs,
    /// A row for each point of a job.
    Points,
}

/// In which form it is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// CSV (RFC 4180, UTF-8).
    Csv,
    /// Apache Parquet.
    Parquet,
}

type Into<'a> = Box<dyn Write + Send + 'a>;

impl Archive {
    /// Writes one table with the jobs that a filter takes.
    ///
    /// # Errors
    /// If the archive does not answer, or it cannot be written.
    pub fn write_table(
        &self,
        table: Table,
        form: Form,
        filter: &Filter,
        into: &mut (dyn Write + Send),
    ) -> Result<(), ArchiveError> {
        let nowhere: Into<'_> = Box::new(io::sink());
        let into: Into<'_> = Box::new(into);
        match (table, form) {
            // The list of jobs has their rows: no point is read for them.
            (Table::Jobs, Form::Csv) => {
                let mut sheets = Sheets::new(into, nowhere).map_err(ArchiveError::Disk)?;
                for row in self.rows_of(filter)? {
                    sheets.push(&row, &[]).map_err(ArchiveError::Disk)?;
                }
                sheets.finish().map(drop).map_err(ArchiveError::Disk)
            }
            (Table::Jobs, Form::Parquet) => {
                let mut columns = Columns::new(into, nowhere)?;
                for row in self.rows_of(filter)? {
                    columns.push(row, &[])?;
                }
                columns.finish().map(drop)
            }
            (Table::Points, Form::Csv) => {
                let mut sheets = Sheets::new(nowhere, into).map_err(ArchiveError::Disk)?;
                self.each_job(filter, |job, points| {
                    sheets.push(job, points).map_err(ArchiveError::Disk)
                })?;
                sheets.finish().map(drop).map_err(ArchiveError::Disk)
            }
            (Table::Points, Form::Parquet) => self.write_tables(filter, nowhere, into).map(drop),
        }
    }

    /// The rows of the jobs that are counted, in the order of their numbers.
    fn rows_of(&self, filter: &Filter) -> Result<Vec<JobRow>, ArchiveError> {
        let counted = |job: &crate::ListedJob| job.trouble.is_empty() && filter.takes(&job.row);
        Ok(self.jobs()?.into_iter().filter(counted).map(|job| job.row).collect())
    }
}
