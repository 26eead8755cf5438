//! Published tables, as they stand in `data/tables`: reading rows, and reading between them.
//!
//! Every table is a CSV file with a TOML file of the same name beside it that says where it comes
//! from, the unit of each column, and whether values between its rows are meant. The files are
//! compiled in; the test below reads all of them, so that a calculation needs no error for a table
//! that cannot be read. A cell that is no number is not a number here either, and no calculation
//! gives that as a result.

use std::sync::OnceLock;

/// A table with named columns, read when it is first asked for and kept.
#[derive(Debug)]
pub(crate) struct Table {
    text: &'static str,
    read: OnceLock<Cells>,
}

#[derive(Debug)]
struct Cells {
    columns: Vec<&'static str>,
    /// Each cell's text, and the number that it is.
    rows: Vec<Vec<(&'static str, f64)>>,
}

impl Table {
    /// Of the text of a CSV file without quotes: a line of column names, then a line a row.
    pub(crate) const fn of(text: &'static str) -> Self {
        Self { text, read: OnceLock::new() }
    }

    fn cells(&self) -> &Cells {
        self.read.get_or_init(|| {
            let cells = |line: &'static str| line.split(',').map(str::trim);
            let mut lines = self.text.lines();
            let columns = lines.next().map_or_else(Vec::new, |line| cells(line).collect());
            let number = |cell: &'static str| (cell, cell.parse().unwrap_or(f64::NAN));
            Cells { columns, rows: lines.map(|line| cells(line).map(number).collect()).collect() }
        })
    }

    /// The rows, from top to bottom.
    pub(crate) fn rows(&self) -> impl Iterator<Item = Row<'_>> {
        let Cells { columns, rows } = self.cells();
        rows.iter().map(|cells| Row { columns, cells })
    }

    /// Pairs of two columns, from top to bottom.
    pub(crate) fn line(&self, x: &str, y: &str) -> Vec<(f64, f64)> {
        self.rows().map(|row| (row.number(x), row.number(y))).collect()
    }
}

/// One row of a table.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Row<'a> {
    columns: &'a [&'static str],
    cells: &'a [(&'static str, f64)],
}

impl Row<'_> {
    fn cell(&self, column: &str) -> (&'static str, f64) {
        let at = self.columns.iter().position(|name| *name == column);
        at.and_then(|at| self.cells.get(at)).copied().unwrap_or(("", f64::NAN))
    }

    /// The text of a column; empty if there is none.
    pub(crate) fn text(&self, column: &str) -> &'static str {
        self.cell(column).0
    }

    /// The number of a column, in the column's unit.
    pub(crate) fn number(&self, column: &str) -> f64 {
        self.cell(column).1
    }
}

/// The value at `x` on the straight line between the two neighbouring points; none outside them.
/// The points stand in rising order of x.
pub(crate) fn between(points: &[(f64, f64)], x: f64) -> Option<f64> {
    let after = points.iter().position(|(at, _)| x <= *at)?;
    let (right, upper) = points[after];
    let Some((left, lower)) = after.checked_sub(1).map(|before| points[before]) else {
        return (right <= x).then_some(upper);
    };
    Some(lower + (upper - lower) * (x - left) / (right - left))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::disallowed_methods, reason = "this test looks at the files themselves")]

    use std::{fs, path::Path};

    use super::{Table, between};
    use quantity::units;

    #[test]
    fn between_two_points_lies_a_straight_line_and_outside_nothing() {
        let points = [(0.0, 10.0), (10.0, 30.0), (20.0, 0.0)];
        for (x, want) in [
            (0.0, Some(10.0)),
            (5.0, Some(20.0)),
            (10.0, Some(30.0)),
            (15.0, Some(15.0)),
            (20.0, Some(0.0)),
            (-0.1, None),
            (20.1, None),
            (f64::NAN, None),
        ] {
            assert_eq!(between(&points, x), want, "{x}");
        }
    }

    /// The value of a `key = "value"` line.
    fn field<'a>(text: &'a str, key: &str) -> Option<&'a str> {
        text.lines().find_map(|line| {
            let (name, value) = line.split_once('=')?;
            let name = name.trim().trim_matches('"');
            (name == key).then(|| value.trim().trim_matches('"'))
        })
    }

    #[test]
    fn every_table_can_be_read_and_says_where_it_comes_from() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../data/tables");
        let mut count = 0;
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_none_or(|ending| ending != "csv") {
                continue;
            }
            count += 1;
            let name = path.display();
            let about = fs::read_to_string(path.with_extension("toml"))
                .unwrap_or_else(|error| panic!("{name} has no .toml beside it: {error}"));
            for key in ["title", "document", "section", "confirmed", "between"] {
                assert!(field(&about, key).is_some(), "{name}: its .toml has no {key}");
            }
            let confirmed = field(&about, "confirmed").unwrap();
            assert!(
                [
                    "read",
                    "read as quoted elsewhere",
                    "derived",
                    "common practice",
                    "from memory",
                    "our own choice"
                ]
                .contains(&confirmed),
                "{name}: confirmed is `{confirmed}`"
            );
            let between = field(&about, "between").unwrap();
            assert!(["exact", "linear"].contains(&between), "{name}: between is `{between}`");
            let text: &'static str = Box::leak(fs::read_to_string(&path).unwrap().into_boxed_str());
            let table = Table::of(text);
            assert!(table.rows().count() > 0, "{name} has no rows");
            let (_, units_section) = about
                .split_once("[columns]")
                .unwrap_or_else(|| panic!("{name}: its .toml has no [columns]"));
            for column in &table.cells().columns {
                let unit = field(units_section, column)
                    .unwrap_or_else(|| panic!("{name}: no unit is named for column {column}"));
                if unit == "text" {
                    continue;
                }
                assert!(units::find(unit).is_some(), "{name}: {column} has no unit `{unit}`");
                for (at, row) in table.rows().enumerate() {
                    assert!(row.number(column).is_finite(), "{name}: row {at}, {column}");
                }
            }
            for (at, cells) in table.cells().rows.iter().enumerate() {
                assert_eq!(cells.len(), table.cells().columns.len(), "{name}: row {at}");
            }
        }
        assert!(count > 0, "there are no tables");
    }
}
