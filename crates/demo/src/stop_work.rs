//! The invented job with another end: an overfilled gas cylinder, and gas piping that does not hold its pressure.
//!
//! The sheet is the visit's own with some points told anew, so that the rest is said once.

use std::collections::BTreeSet;

use crate::photos::{Scene, Shot};
use crate::{sheet, shots};

/// The points that are told anew, and the decisions on them.
const TOLD_ANEW: &str = include_str!("stop_work.toml");

/// The photo of the manometer at the end of the leak check, and what its columns show.
const COLUMNS: (&str, f32) = ("IMG_0337.jpg", 7.9);

/// The sheet of the visit on which work on the gas stopped, in the form that `nearside job fill` reads.
#[must_use]
pub fn stop_work_sheet() -> String {
    told_anew(sheet(), TOLD_ANEW)
}

/// The photos of that visit: those that its sheet names.
#[must_use]
pub fn stop_work_shots() -> Vec<(String, Shot)> {
    let sheet = stop_work_sheet();
    let mut shots = shots();
    shots.retain(|(name, _)| sheet.contains(&format!("\"{name}")));
    for (name, shot) in &mut shots {
        if name == COLUMNS.0 {
            shot.scene = Scene::Manometer { inches: COLUMNS.1 };
        }
    }
    shots
}

/// A sheet with the points of another in place of its own. A point told anew takes the decisions and findings on it
/// along; whatever else the other sheet has comes at the end.
fn told_anew(sheet: &str, anew: &str) -> String {
    let anew = tables(anew);
    let points: BTreeSet<&str> = anew.iter().filter_map(|table| table.point()).collect();
    let mut out = String::new();
    for table in tables(sheet) {
        match table.point() {
            Some(point) => {
                let table =
                    anew.iter().find(|other| other.point() == Some(point)).unwrap_or(&table);
                out.push_str(table.text);
            }
            None if table.decides_on().is_some_and(|point| points.contains(point)) => continue,
            None => out.push_str(table.text),
        }
        out.push_str(table.after);
    }
    for table in anew.iter().filter(|table| table.point().is_none() && !table.head.is_empty()) {
        out.push('\n');
        out.push_str(table.text);
    }
    out
}

/// One table of a sheet.
struct Table<'a> {
    /// Its first line; empty for what stands before the first table.
    head: &'a str,
    /// Its lines up to the first empty one.
    text: &'a str,
    /// Empty lines and comments up to the next table.
    after: &'a str,
}

impl<'a> Table<'a> {
    /// The point that it tells of.
    fn point(&self) -> Option<&'a str> {
        self.head.strip_prefix("[points.")?.strip_suffix(']')
    }

    /// The point that a decision or a finding is about.
    fn decides_on(&self) -> Option<&'a str> {
        let value = |name: &str| {
            let line = self.text.lines().find(|line| line.starts_with(name))?;
            line.split('"').nth(1)
        };
        match self.head {
            "[[decide]]" => value("key = ")?.split('/').next(),
            "[[finding]]" => value("point = "),
            _ => None,
        }
    }
}

/// The tables of a sheet, in order. Its form is regular: a head begins its line, an empty line ends a table.
fn tables(sheet: &str) -> Vec<Table<'_>> {
    let mut starts: Vec<usize> = vec![0];
    starts.extend(sheet.match_indices("\n[").map(|(at, _)| at + 1));
    let ends = starts.iter().skip(1).copied().chain([sheet.len()]);
    let pieces = starts.iter().copied().zip(ends).map(|(start, end)| &sheet[start..end]);
    pieces
        .map(|piece| {
            let text = piece.find("\n\n").map_or(piece.len(), |at| at + 1);
            let head = piece.lines().next().filter(|line| line.starts_with('['));
            Table { head: head.unwrap_or(""), text: &piece[..text], after: &piece[text..] }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::told_anew;

    const VISIT: &str = "# a job\n\n[job]\nweather = \"dry\"\n\n# == gas ==\n\n[points.leak]\nreadings.seen = \
                         \"none\"\nphotos = [\n    \"a.jpg\",\n]\n\n# == water ==\n\n[points.tap]\nexamined = \
                         true\n\n[[finding]]\npoint = \"leak\"\ntitle = \"Old\"\n\n[[decide]]\nkey = \
                         \"leak/x\"\n\n[[decide]]\nkey = \"tap/y\"\n";

    #[test]
    fn a_point_told_anew_takes_its_decisions_along_and_the_rest_stays() {
        let anew =
            "# why\n\n[points.leak]\nreadings.seen = \"drop\"\n\n[[decide]]\nkey = \"leak/z\"\n";
        assert_eq!(
            told_anew(VISIT, anew),
            "# a job\n\n[job]\nweather = \"dry\"\n\n# == gas ==\n\n[points.leak]\nreadings.seen = \
             \"drop\"\n\n# == water ==\n\n[points.tap]\nexamined = true\n\n[[decide]]\nkey = \
             \"tap/y\"\n\n[[decide]]\nkey = \"leak/z\"\n"
        );
    }

    #[test]
    fn nothing_told_anew_leaves_the_sheet_as_it_is() {
        assert_eq!(told_anew(VISIT, ""), VISIT);
    }
}
