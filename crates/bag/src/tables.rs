//! Tables for people's own programs: CSV as RFC 4180 has it, with a line of headings.
//!
//! A spreadsheet takes a cell that begins with `=`, `+`, `-` or `@` for a formula. Such a text gets an apostrophe before
//! it, unless it is a plain number; the JSON files hold every text as it was entered.

use findings::{Assessment, Content, Ground, LimitResult, Origin, ValueResult};
use inspection::Inspection;

/// Every reading as it was typed, struck-out ones included.
#[must_use]
pub fn readings_table(inspection: &Inspection) -> String {
    let mut table = Table::new(&[
        "id",
        "point",
        "name",
        "position",
        "entry",
        "instrument",
        "at",
        "by",
        "struck_out",
        "struck_out_by",
    ]);
    for (id, reading) in &inspection.readings {
        let struck_out = reading.struck_out.as_ref();
        table.row(&[
            id.as_str(),
            reading.point.as_str(),
            &reading.name,
            &reading.position,
            &reading.entry,
            reading.instrument.as_ref().map_or("", |id| id.as_str()),
            &reading.at.map_or_else(String::new, |at| at.to_string()),
            &reading.by,
            struck_out.map_or("", |it| &it.reason),
            struck_out.map_or("", |it| &it.by),
        ]);
    }
    table.text
}

/// Every value, read or computed: a line for each limit that judges it, or one without a limit.
#[must_use]
pub fn values_table(assessment: &Assessment) -> String {
    let mut table = Table::new(&[
        "point",
        "name",
        "title",
        "position",
        "value",
        "unit",
        "expanded_uncertainty_k2",
        "formula",
        "readings",
        "verdict",
        "limit",
        "bound",
        "source",
        "section",
        "basis",
    ]);
    for result in &assessment.points {
        for value in &result.values {
            let judged: Vec<Option<&LimitResult>> = if value.judgements.is_empty() {
                vec![None]
            } else {
                value.judgements.iter().map(Some).collect()
            };
            for judgement in judged {
                value_row(&mut table, result.point.as_str(), value, judgement);
            }
        }
    }
    table.text
}

fn value_row(table: &mut Table, point: &str, value: &ValueResult, judged: Option<&LimitResult>) {
    let (formula, readings) = match &value.origin {
        Origin::Read(id) => ("", id.as_str().to_owned()),
        Origin::Computed { formula, readings } => {
            (formula.as_str(), joined(readings.iter().map(|id| id.as_str())))
        }
    };
    let (number, unit, uncertainty) = match (&value.content, value.unit) {
        (Content::Quantity(quantity), unit) => {
            let number = unit.and_then(|unit| quantity.to_unit(unit)).unwrap_or(quantity.base);
            let step = unit.map_or(1.0, |unit| unit.step());
            let expanded = quantity.standard_uncertainty().map(|standard| 2.0 * standard / step);
            (
                plain_number(number),
                unit.map_or("", |unit| unit.spelling),
                expanded.map_or_else(String::new, plain_number),
            )
        }
        (Content::Words(words), _) => (words.clone(), "", String::new()),
        (Content::None(why), _) => (format!("not computed: {why}"), "", String::new()),
    };
    let limit = judged.map(|judged| &judged.limit);
    table.row(&[
        point,
        &value.name,
        &value.title,
        &value.position,
        &number,
        unit,
        &uncertainty,
        formula,
        &readings,
        judged.map_or("", |it| it.judgement.verdict.words(Some(it.limit.basis))),
        limit.map_or("", |limit| &limit.id),
        &limit.map_or_else(String::new, |limit| limit.bound.words(value.unit)),
        limit.map_or("", |limit| &limit.source.key),
        limit.map_or("", |limit| &limit.source.section),
        limit.map_or("", |limit| limit.basis.word()),
    ]);
}

/// Every finding that stands, with the numbers of the report.
#[must_use]
pub fn findings_table(assessment: &Assessment) -> String {
    let mut table = Table::new(&[
        "number",
        "key",
        "point",
        "position",
        "title",
        "statement",
        "stops",
        "when",
        "who",
        "stop_work",
        "ground",
        "confirmed",
        "readings",
        "photos",
    ]);
    for finding in &assessment.findings {
        let ground = match finding.ground {
            Ground::Limit => "limit",
            Ground::Seen => "seen",
            Ground::Guidance => "guidance",
            Ground::Undecided => "undecided",
        };
        table.row(&[
            &finding.number.to_string(),
            &finding.key,
            finding.point.as_ref().map_or("", |point| point.as_str()),
            &finding.position,
            &finding.title,
            &finding.statement,
            &joined(finding.stops.iter().map(|one| one.word())),
            finding.when.words(),
            &finding.who,
            &finding.stop_work,
            ground,
            if finding.confirmed { "yes" } else { "no" },
            &joined(finding.readings.iter().map(|id| id.as_str())),
            &joined(finding.photos.iter().map(|id| id.as_str())),
        ]);
    }
    table.text
}

/// A number as programs read it, with twelve significant digits at most: beyond them is only the noise of conversion.
fn plain_number(number: f64) -> String {
    let rounded = format!("{number:.11e}").parse().unwrap_or(number);
    format!("{rounded}")
}

fn joined<'a>(words: impl Iterator<Item = &'a str>) -> String {
    words.collect::<Vec<_>>().join("; ")
}

/// A table as it grows.
struct Table {
    text: String,
}

impl Table {
    fn new(headings: &[&str]) -> Self {
        let mut table = Self { text: String::new() };
        table.row(headings);
        table
    }

    fn row(&mut self, cells: &[&str]) {
        for (at, cell) in cells.iter().enumerate() {
            if at > 0 {
                self.text.push(',');
            }
            self.cell(cell);
        }
        self.text.push_str("\r\n");
    }

    fn cell(&mut self, cell: &str) {
        let formula =
            cell.starts_with(['=', '+', '-', '@', '\t', '\r']) && cell.parse::<f64>().is_err();
        let guard = if formula { "'" } else { "" };
        if cell.contains(['"', ',', '\r', '\n']) {
            self.text.push('"');
            self.text.push_str(guard);
            self.text.push_str(&cell.replace('"', "\"\""));
            self.text.push('"');
        } else {
            self.text.push_str(guard);
            self.text.push_str(cell);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Table;
    use proptest::prelude::*;

    proptest! {
        /// The library `csv` reads every cell back.
        #[test]
        fn another_reader_of_csv_gets_every_cell(
            rows in prop::collection::vec(prop::collection::vec(any::<String>(), 3), 1..6)
        ) {
            let mut table = Table::new(&["a", "b", "c"]);
            for row in &rows {
                table.row(&row.iter().map(String::as_str).collect::<Vec<_>>());
            }
            let mut reader = csv::Reader::from_reader(table.text.as_bytes());
            let read: Vec<Vec<String>> = reader
                .records()
                .map(|record| record.unwrap().iter().map(str::to_owned).collect())
                .collect();
            let guarded = |cell: &String| {
                let formula = cell.starts_with(['=', '+', '-', '@', '\t', '\r']) && cell.parse::<f64>().is_err();
                if formula { format!("'{cell}") } else { cell.clone() }
            };
            let expected: Vec<Vec<String>> = rows.iter().map(|row| row.iter().map(guarded).collect()).collect();
            prop_assert_eq!(read, expected);
        }
    }

    #[test]
    fn a_formula_is_shown_as_text_and_a_number_stays_one() {
        let mut table = Table::new(&["x"]);
        for cell in ["=HYPERLINK(\"http://example.com\")", "-3.2", "-3.2 V", "@x"] {
            table.row(&[cell]);
        }
        let expected =
            "x\r\n\"'=HYPERLINK(\"\"http://example.com\"\")\"\r\n-3.2\r\n'-3.2 V\r\n'@x\r\n";
        assert_eq!(table.text, expected);
    }
}
