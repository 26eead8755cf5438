//! A filled sheet as tables with places: each notes what is wrong, and which keys were asked for.

use std::cell::RefCell;
use std::ops::Range;

use plan::Problem;
use toml_edit::{Document, Item, TableLike, Value};

use crate::commands::near_hint;

/// A parsed sheet, collecting problems.
pub(crate) struct SheetFile {
    name: String,
    document: Document<String>,
    problems: RefCell<Vec<Problem>>,
}

/// Line and column of something in the sheet, from 1.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Spot {
    pub(crate) line: usize,
    pub(crate) column: usize,
}

/// Something with its place.
#[derive(Clone, Debug)]
pub(crate) struct At<T> {
    pub(crate) value: T,
    pub(crate) spot: Spot,
}

impl SheetFile {
    /// Parses a sheet.
    pub(crate) fn parse(name: &str, text: &str) -> Result<Self, Problem> {
        match Document::parse(text.to_owned()) {
            Ok(document) => {
                Ok(Self { name: name.to_owned(), document, problems: RefCell::default() })
            }
            Err(error) => {
                let spot = spot_of(text, error.span().map_or(0, |span| span.start));
                Err(Problem {
                    file: name.to_owned(),
                    line: spot.line,
                    column: spot.column,
                    message: error.message().replace('\n', "; "),
                    hint: "texts stand in \"…\", lists in [ ]; `nearside job sheet` prints a sound sheet"
                        .to_owned(),
                })
            }
        }
    }

    pub(crate) fn root(&self) -> Table<'_> {
        Table { file: self, table: self.document.as_table(), span: 0..0, asked: RefCell::default() }
    }

    /// Notes a problem.
    pub(crate) fn problem(&self, spot: Spot, message: impl Into<String>, hint: impl Into<String>) {
        self.problems.borrow_mut().push(Problem {
            file: self.name.clone(),
            line: spot.line,
            column: spot.column,
            message: message.into(),
            hint: hint.into(),
        });
    }

    /// All problems, by place.
    pub(crate) fn problems(&self) -> Vec<Problem> {
        let mut problems = self.problems.borrow().clone();
        problems.sort();
        problems.dedup();
        problems
    }

    fn spot(&self, span: &Range<usize>) -> Spot {
        spot_of(self.document.raw(), span.start)
    }
}

fn spot_of(text: &str, at: usize) -> Spot {
    let before = text.get(..at).unwrap_or(text);
    let line_start = before.rfind('\n').map_or(0, |end| end + 1);
    Spot {
        line: before.matches('\n').count() + 1,
        column: before[line_start..].chars().count() + 1,
    }
}

/// A table of the sheet.
pub(crate) struct Table<'a> {
    pub(crate) file: &'a SheetFile,
    table: &'a dyn TableLike,
    span: Range<usize>,
    asked: RefCell<Vec<String>>,
}

impl<'a> Table<'a> {
    pub(crate) fn spot(&self) -> Spot {
        self.file.spot(&self.span)
    }

    fn item(&self, key: &str) -> Option<(&'a Item, Range<usize>)> {
        self.asked.borrow_mut().push(key.to_owned());
        let item = self.table.get(key).filter(|item| !item.is_none())?;
        Some((item, self.span_of(key, item)))
    }

    fn span_of(&self, key: &str, item: &Item) -> Range<usize> {
        item.span()
            .or_else(|| self.table.key(key).and_then(toml_edit::Key::span))
            .unwrap_or_else(|| self.span.clone())
    }

    /// A text; a number or a date without quotes is taken as it is written.
    pub(crate) fn text(&self, key: &str) -> Option<At<String>> {
        let (item, span) = self.item(key)?;
        let text = item.as_value().and_then(|value| self.text_of(value, &span));
        if text.is_none() {
            self.wrong(&span, key, "no text", &format!("write {key} = \"…\""));
        }
        text
    }

    /// A text that says something; none if it is empty.
    pub(crate) fn filled(&self, key: &str) -> Option<At<String>> {
        self.text(key).filter(|text| !text.value.is_empty())
    }

    fn text_of(&self, value: &Value, span: &Range<usize>) -> Option<At<String>> {
        let text = match value {
            Value::String(text) => text.value().trim().to_owned(),
            Value::Integer(_) | Value::Float(_) | Value::Datetime(_) => {
                let span = value.span().unwrap_or_else(|| span.clone());
                self.file.document.raw().get(span)?.trim().to_owned()
            }
            Value::Boolean(_) | Value::Array(_) | Value::InlineTable(_) => return None,
        };
        let spot = self.file.spot(&value.span().unwrap_or_else(|| span.clone()));
        Some(At { value: text, spot })
    }

    /// A list of texts; a single text serves as a list of one. Empty texts are left out.
    pub(crate) fn texts(&self, key: &str) -> Vec<At<String>> {
        let Some((item, span)) = self.item(key) else { return Vec::new() };
        let values: Vec<&Value> = match item.as_value() {
            Some(Value::Array(array)) => array.iter().collect(),
            Some(value) => vec![value],
            None => {
                self.wrong(&span, key, "no list of texts", &format!("write {key} = [\"…\"]"));
                return Vec::new();
            }
        };
        let mut texts = Vec::new();
        for value in values {
            match self.text_of(value, &span) {
                Some(text) => texts.push(text),
                None => self.wrong(
                    &value.span().unwrap_or_else(|| span.clone()),
                    key,
                    "a list with something that is no text",
                    &format!("write {key} = [\"…\", \"…\"]"),
                ),
            }
        }
        texts.retain(|text| !text.value.is_empty());
        texts
    }

    /// Whether a key holds an inner table rather than a value.
    pub(crate) fn is_table(&self, key: &str) -> bool {
        self.table.get(key).is_some_and(Item::is_table_like)
    }

    /// Whether a key is there.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.table.get(key).is_some_and(|item| !item.is_none())
    }

    /// True or false; false if absent.
    pub(crate) fn flag(&self, key: &str) -> bool {
        let Some((item, span)) = self.item(key) else { return false };
        item.as_bool().unwrap_or_else(|| {
            self.wrong(&span, key, "neither true nor false", &format!("write {key} = true"));
            false
        })
    }

    /// A number of this type; none if absent or empty.
    pub(crate) fn number<N: std::str::FromStr>(&self, key: &str, example: &str) -> Option<N> {
        let text = self.filled(key)?;
        let number = text.value.parse().ok();
        if number.is_none() {
            let message = format!("`{key}` is `{}`, which it cannot be", text.value);
            self.file.problem(text.spot, message, format!("write {key} = {example}"));
        }
        number
    }

    fn wrong(&self, span: &Range<usize>, key: &str, what: &str, hint: &str) {
        self.file.problem(self.file.spot(span), format!("`{key}` is {what}"), hint);
    }

    /// An inner table.
    pub(crate) fn table(&self, key: &str) -> Option<Self> {
        let (item, span) = self.item(key)?;
        let table = item.as_table_like();
        if table.is_none() {
            self.wrong(&span, key, "no table", &format!("write [{key}]"));
        }
        Some(self.inner(table?, span))
    }

    fn inner(&self, table: &'a dyn TableLike, span: Range<usize>) -> Self {
        Self { file: self.file, table, span, asked: RefCell::default() }
    }

    /// All inner tables by key, with the place of the key; what is no table is noted.
    pub(crate) fn inner_tables(&self) -> Vec<(String, Self)> {
        let mut tables = Vec::new();
        for (key, item) in self.table.iter() {
            let span = self.key_span(key, item);
            match item.as_table_like() {
                Some(table) => tables.push((key.to_owned(), self.inner(table, span))),
                None => self.wrong(&span, key, "no table", "write a heading in [ ]"),
            }
        }
        tables
    }

    /// A list of inner tables.
    pub(crate) fn list(&self, key: &str) -> Vec<Self> {
        let Some((item, span)) = self.item(key) else { return Vec::new() };
        let Some(array) = item.as_array_of_tables() else {
            self.wrong(&span, key, "no list of tables", &format!("write [[{key}]]"));
            return Vec::new();
        };
        array
            .iter()
            .map(|table| self.inner(table, table.span().unwrap_or_else(|| span.clone())))
            .collect()
    }

    /// All keys with their texts, or the texts of an inner table under them: `readings.tread.left`.
    /// Empty texts are given too.
    pub(crate) fn entries(&self) -> Vec<Entry> {
        let mut entries = Vec::new();
        for (key, item) in self.table.iter() {
            let key_spot = self.file.spot(&self.key_span(key, item));
            if let Some(inner) = item.as_table_like() {
                let inner = self.inner(inner, self.key_span(key, item));
                for (position, item) in inner.table.iter() {
                    let key_spot = inner.file.spot(&inner.key_span(position, item));
                    if let Some(text) = inner.text(position) {
                        entries.push(Entry {
                            name: key.to_owned(),
                            position: Some(position.to_owned()),
                            key: key_spot,
                            text,
                        });
                    }
                }
            } else if let Some(text) = self.text(key) {
                entries.push(Entry { name: key.to_owned(), position: None, key: key_spot, text });
            }
        }
        entries
    }

    fn key_span(&self, key: &str, item: &Item) -> Range<usize> {
        self.table
            .key(key)
            .and_then(toml_edit::Key::span)
            .unwrap_or_else(|| self.span_of(key, item))
    }

    /// Notes every key that nobody asked for.
    pub(crate) fn finish(self) {
        let asked = self.asked.into_inner();
        for (key, item) in self.table.iter() {
            if asked.iter().any(|known| known == key) {
                continue;
            }
            let span = self
                .table
                .key(key)
                .and_then(toml_edit::Key::span)
                .or_else(|| item.span())
                .unwrap_or_else(|| self.span.clone());
            let hint = near_hint(key, asked.iter().map(String::as_str));
            self.file.problem(
                self.file.spot(&span),
                format!("no key is called `{key}` here"),
                hint,
            );
        }
    }
}

/// One key with its text: `lockup = "11 inH2O"`, `tread.left_front = "6 mm"`.
#[derive(Clone, Debug)]
pub(crate) struct Entry {
    pub(crate) name: String,
    pub(crate) position: Option<String>,
    /// Place of the last key.
    pub(crate) key: Spot,
    pub(crate) text: At<String>,
}
