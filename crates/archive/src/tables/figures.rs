//! The lines of an answer as tables: CSV and Parquet.

use std::io::Write;

use inspection::DwellingKind;

use super::file::{TableWriter, Values};
use super::write::Words;
use super::{Column, Kind, Layout, number, optional, words};
use crate::AgeBand;
use crate::asked::Answered;
use crate::error::ArchiveError;
use crate::export::write_line;
use crate::figures::{Counts, Figure};

const FIGURE_TABLE: Layout = Layout { name: "figures", columns: &FIGURE_COLUMNS };

/// The columns.
const FIGURE_COLUMNS: [Column; 16] = [
    words("point", "The point's id in the plan"),
    words("title", "What plans call it"),
    words("kind", "Kind of unit; empty where kinds are not told apart"),
    words("age_band", "The band of its age; empty where ages are not told apart"),
    words("region", "State, province or country; empty where regions are not told apart"),
    number("jobs", "Jobs whose units have the point"),
    number("examined", "Of those: the point was examined"),
    number("not_examined", "It was not"),
    number("not_fitted", "There was no such thing"),
    number("found", "Of the examined: with a finding that a person confirmed"),
    number("draft", "With a finding that nobody confirmed, and none that was"),
    number("not_conforming", "With a value that does not conform"),
    number("held", "With a standing finding that stops a use"),
    optional(
        "share",
        Kind::Share,
        "What was asked for, of the examined; missing of fewer than ten",
    ),
    optional(
        "low",
        Kind::Share,
        "The lower end of its 95 % interval (Wilson); missing of none examined",
    ),
    optional("high", Kind::Share, "The upper end"),
];

/// The numbers of a line, in the order of their columns.
fn counts(counts: &Counts) -> [u32; 8] {
    let Counts { examined, not_examined, not_fitted, found, draft, not_conforming, held, .. } =
        *counts;
    [counts.jobs(), examined, not_examined, not_fitted, found, draft, not_conforming, held]
}

impl Answered {
    /// Its lines as CSV (RFC 4180).
    ///
    /// # Errors
    /// If they cannot be written.
    pub fn write_csv(&self, mut into: impl Write) -> std::io::Result<()> {
        write_line(&mut into, &FIGURE_COLUMNS.map(|column| column.name))?;
        for figure in &self.figures {
            let mut cells: Vec<String> = self.words(figure).map(str::to_owned).to_vec();
            cells.extend(counts(&figure.counts).map(|count| count.to_string()));
            let written = |share: Option<f64>| share.map_or_else(String::new, |it| it.to_string());
            cells.extend(self.shares(figure).map(written));
            write_line(&mut into, &cells.iter().map(String::as_str).collect::<Vec<_>>())?;
        }
        into.flush()
    }

    /// The same as a Parquet file; what it was written into comes back.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn write_parquet<W: Write + Send>(&self, into: W) -> Result<W, ArchiveError> {
        let mut table = TableWriter::new(into, &FIGURE_TABLE)?;
        if self.figures.is_empty() {
            return table.finish();
        }
        let lines = || self.figures.iter();
        let texts: [Words; 5] =
            std::array::from_fn(|at| Words::of(lines().map(|figure| self.words(figure)[at])));
        let numbers: [Vec<Option<i32>>; 8] = std::array::from_fn(|at| {
            lines().map(|figure| i32::try_from(counts(&figure.counts)[at]).ok()).collect()
        });
        let shares: [Vec<Option<f64>>; 3] =
            std::array::from_fn(|at| lines().map(|figure| self.shares(figure)[at]).collect());
        let mut values: Vec<Values<'_>> = texts.iter().map(Words::values).collect();
        values.extend(numbers.iter().map(|numbers| Values::Numbers(numbers)));
        values.extend(shares.iter().map(|shares| Values::Shares(shares)));
        table.group(&values)?;
        table.finish()
    }

    fn words<'a>(&'a self, figure: &'a Figure) -> [&'a str; 5] {
        let group = &figure.group;
        [
            figure.point.as_str(),
            self.titles.get(&figure.point).map_or("", String::as_str),
            group.kind.map_or("", DwellingKind::word),
            group.age.map_or("", AgeBand::word),
            group.region.as_deref().unwrap_or_default(),
        ]
    }

    fn shares(&self, figure: &Figure) -> [Option<f64>; 3] {
        let share = self.counted.share(&figure.counts);
        let interval = share.interval();
        [share.value(), interval.map(|it| it.low), interval.map(|it| it.high)]
    }
}
