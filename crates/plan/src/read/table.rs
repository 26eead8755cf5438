//! One TOML file with places: tables that note what is wrong and which keys were asked for.

use std::cell::RefCell;
use std::ops::Range;

use toml_edit::{Document, Item, TableLike, Value};

use super::nearest;
use crate::{HalfMinutes, Problem};

/// A place in a file.
#[derive(Clone, Debug, Default)]
pub(crate) struct Spot {
    pub file: String,
    pub line: usize,
    pub column: usize,
}

impl Spot {
    /// A problem at this place.
    pub(crate) fn problem(&self, message: impl Into<String>, hint: impl Into<String>) -> Problem {
        Problem {
            file: self.file.clone(),
            line: self.line,
            column: self.column,
            message: message.into(),
            hint: hint.into(),
        }
    }
}

/// A parsed file, collecting problems.
pub(crate) struct TomlFile {
    path: String,
    document: Document<String>,
    problems: RefCell<Vec<Problem>>,
}

impl TomlFile {
    /// Parses a file.
    pub(crate) fn parse(path: &str, text: &str) -> Result<Self, Problem> {
        match Document::parse(text.to_owned()) {
            Ok(document) => {
                Ok(Self { path: path.to_owned(), document, problems: RefCell::default() })
            }
            Err(error) => {
                let at = error.span().map_or(0, |span| span.start);
                let spot = spot(path, text, at);
                Err(spot.problem(
                    error.message().replace('\n', "; "),
                    "the file must be TOML; see data/README.md",
                ))
            }
        }
    }

    /// Parses a file; one that is no TOML is noted among the problems.
    pub(crate) fn open(path: &str, text: &str, problems: &mut Vec<Problem>) -> Option<Self> {
        Self::parse(path, text).map_err(|problem| problems.push(problem)).ok()
    }

    /// The whole file as a table.
    pub(crate) fn root(&self) -> Table<'_> {
        Table { file: self, table: self.document.as_table(), span: 0..0, asked: RefCell::default() }
    }

    pub(crate) fn problems(self) -> Vec<Problem> {
        self.problems.into_inner()
    }

    /// Every text of the file with its name: tables parted by points, entries of lists by number. What is no text is
    /// noted.
    pub(crate) fn flat(&self) -> Vec<(String, At<String>)> {
        let mut texts = Vec::new();
        self.flat_table(self.document.as_table(), "", &mut texts);
        texts
    }

    fn flat_table(&self, table: &dyn TableLike, before: &str, out: &mut Vec<(String, At<String>)>) {
        for (key, item) in table.iter() {
            let name = if before.is_empty() { key.to_owned() } else { format!("{before}.{key}") };
            let span = item
                .span()
                .or_else(|| table.key(key).and_then(toml_edit::Key::span))
                .unwrap_or_default();
            let at = |text: &str, span: &Range<usize>| At {
                value: text.trim().to_owned(),
                spot: self.spot(span),
            };
            if let Some(inner) = item.as_table_like() {
                self.flat_table(inner, &name, out);
            } else if let Some(text) = item.as_str() {
                out.push((name, at(text, &span)));
            } else if let Some(list) = item.as_array().filter(|list| list.iter().all(Value::is_str))
            {
                for (number, value) in list.iter().enumerate() {
                    let span = value.span().unwrap_or_else(|| span.clone());
                    out.push((
                        format!("{name}[{number}]"),
                        at(value.as_str().unwrap_or(""), &span),
                    ));
                }
            } else {
                self.push(&span, format!("`{name}` is no text"), format!("write {key} = \"…\""));
            }
        }
    }

    fn spot(&self, span: &Range<usize>) -> Spot {
        spot(&self.path, self.document.raw(), span.start)
    }

    fn push(&self, span: &Range<usize>, message: impl Into<String>, hint: impl Into<String>) {
        let problem = self.spot(span).problem(message, hint);
        self.problems.borrow_mut().push(problem);
    }
}

fn spot(path: &str, text: &str, at: usize) -> Spot {
    let before = text.get(..at).unwrap_or(text);
    let line_start = before.rfind('\n').map_or(0, |end| end + 1);
    Spot {
        file: path.to_owned(),
        line: before.matches('\n').count() + 1,
        column: before[line_start..].chars().count() + 1,
    }
}

/// A table of a file.
pub(crate) struct Table<'a> {
    file: &'a TomlFile,
    table: &'a dyn TableLike,
    span: Range<usize>,
    /// Keys that the reader knows.
    asked: RefCell<Vec<&'static str>>,
}

/// A value with its place.
#[derive(Clone, Debug)]
pub(crate) struct At<T> {
    pub value: T,
    pub spot: Spot,
}

impl<'a> Table<'a> {
    /// Notes a problem at this table.
    pub(crate) fn problem(&self, message: impl Into<String>, hint: impl Into<String>) {
        self.file.push(&self.span, message, hint);
    }

    /// Notes a problem at a place.
    pub(crate) fn problem_at(
        &self,
        spot: &Spot,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) {
        self.file.problems.borrow_mut().push(spot.problem(message, hint));
    }

    /// The place of this table.
    pub(crate) fn spot(&self) -> Spot {
        self.file.spot(&self.span)
    }

    fn get(&self, key: &'static str) -> Option<(&'a Item, Range<usize>)> {
        self.asked.borrow_mut().push(key);
        let item = self.table.get(key).filter(|item| !item.is_none())?;
        let span = item
            .span()
            .or_else(|| self.table.key(key).and_then(toml_edit::Key::span))
            .unwrap_or_else(|| self.span.clone());
        Some((item, span))
    }

    /// A text.
    pub(crate) fn text(&self, key: &'static str) -> Option<At<String>> {
        let (item, span) = self.get(key)?;
        match item.as_str() {
            Some(text) => Some(At { value: text.trim().to_owned(), spot: self.file.spot(&span) }),
            None => {
                self.file.push(
                    &span,
                    format!("`{key}` is no text"),
                    format!("write {key} = \"…\""),
                );
                None
            }
        }
    }

    /// A text that must be there and not empty.
    pub(crate) fn required(&self, key: &'static str) -> Option<At<String>> {
        match self.text(key) {
            Some(text) if text.value.is_empty() => {
                self.problem_at(&text.spot, format!("`{key}` is empty"), "");
                None
            }
            Some(text) => Some(text),
            None => {
                if self.table.get(key).is_none() {
                    self.problem(format!("no `{key}`"), format!("write {key} = \"…\""));
                }
                None
            }
        }
    }

    /// A text, empty if absent.
    pub(crate) fn text_or_empty(&self, key: &'static str) -> String {
        self.text(key).map_or_else(String::new, |text| text.value)
    }

    /// A list of texts; a single text serves as a list of one.
    pub(crate) fn texts(&self, key: &'static str) -> Vec<At<String>> {
        let Some((item, span)) = self.get(key) else { return Vec::new() };
        if let Some(text) = item.as_str() {
            return vec![At { value: text.trim().to_owned(), spot: self.file.spot(&span) }];
        }
        let Some(array) = item.as_array() else {
            self.file.push(
                &span,
                format!("`{key}` is no list of texts"),
                format!("write {key} = [\"…\"]"),
            );
            return Vec::new();
        };
        let mut texts = Vec::new();
        for value in array {
            let span = value.span().unwrap_or_else(|| span.clone());
            match value.as_str() {
                Some(text) => {
                    texts.push(At { value: text.trim().to_owned(), spot: self.file.spot(&span) });
                }
                None => self.file.push(
                    &span,
                    format!("`{key}` holds something that is no text"),
                    "write \"…\"",
                ),
            }
        }
        texts
    }

    /// A whole number from 0.
    pub(crate) fn count(&self, key: &'static str) -> Option<At<u32>> {
        let (item, span) = self.get(key)?;
        match item.as_integer().and_then(|number| u32::try_from(number).ok()) {
            Some(value) => Some(At { value, spot: self.file.spot(&span) }),
            None => {
                self.file.push(
                    &span,
                    format!("`{key}` is no whole number from 0"),
                    format!("write {key} = 5"),
                );
                None
            }
        }
    }

    /// Minutes from 0 in halves.
    pub(crate) fn half_minutes(&self, key: &'static str) -> Option<At<HalfMinutes>> {
        let At { value: minutes, spot } = self.number(key)?;
        let halves = 2.0 * minutes;
        if (0.0..=f64::from(u32::MAX)).contains(&halves) && halves.fract() == 0.0 {
            #[allow(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a whole number in range, by the line above"
            )]
            let value = HalfMinutes(halves as u32);
            return Some(At { value, spot });
        }
        self.problem_at(
            &spot,
            format!("`{key}` is {minutes}: minutes go from 0 in halves"),
            format!("write {key} = 0.5, 1, 1.5, 2 …"),
        );
        None
    }

    /// A number.
    pub(crate) fn number(&self, key: &'static str) -> Option<At<f64>> {
        let (item, span) = self.get(key)?;
        let number = match item.as_value() {
            Some(Value::Float(number)) => Some(*number.value()),
            // Only small whole numbers stand in these files.
            Some(Value::Integer(number)) => i32::try_from(*number.value()).ok().map(f64::from),
            _ => None,
        };
        match number.filter(|number| number.is_finite()) {
            Some(value) => Some(At { value, spot: self.file.spot(&span) }),
            None => {
                self.file.push(
                    &span,
                    format!("`{key}` is no number"),
                    format!("write {key} = 0.5"),
                );
                None
            }
        }
    }

    /// True or false; false if absent.
    pub(crate) fn flag(&self, key: &'static str) -> bool {
        let Some((item, span)) = self.get(key) else { return false };
        item.as_bool().unwrap_or_else(|| {
            self.file.push(
                &span,
                format!("`{key}` is neither true nor false"),
                format!("write {key} = true"),
            );
            false
        })
    }

    /// Whether a key is there.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.table.get(key).is_some_and(|item| !item.is_none())
    }

    /// An inner table.
    pub(crate) fn table(&self, key: &'static str) -> Option<Self> {
        let (item, span) = self.get(key)?;
        match item.as_table_like() {
            Some(table) => Some(Self { file: self.file, table, span, asked: RefCell::default() }),
            None => {
                self.file.push(&span, format!("`{key}` is no table"), format!("write [{key}]"));
                None
            }
        }
    }

    /// A list of inner tables.
    pub(crate) fn tables(&self, key: &'static str) -> Vec<Self> {
        let Some((item, span)) = self.get(key) else { return Vec::new() };
        let Some(array) = item.as_array_of_tables() else {
            self.file.push(
                &span,
                format!("`{key}` is no list of tables"),
                format!("write [[{key}]]"),
            );
            return Vec::new();
        };
        array
            .iter()
            .map(|table| Self {
                file: self.file,
                span: table.span().unwrap_or_else(|| span.clone()),
                table,
                asked: RefCell::default(),
            })
            .collect()
    }

    /// All texts of this table by key, for tables whose keys are free.
    pub(crate) fn free_texts(&self) -> Vec<(String, At<String>)> {
        let mut texts = Vec::new();
        for (key, item) in self.table.iter() {
            let span = item.span().unwrap_or_else(|| self.span.clone());
            let spot = self.file.spot(&span);
            match item {
                Item::Value(Value::String(text)) => {
                    texts
                        .push((key.to_owned(), At { value: text.value().trim().to_owned(), spot }));
                }
                Item::Value(number @ (Value::Integer(_) | Value::Float(_))) => {
                    let text = number.to_string().trim().to_owned();
                    texts.push((key.to_owned(), At { value: text, spot }));
                }
                _ => self.file.push(
                    &span,
                    format!("`{key}` is no text"),
                    format!("write {key} = \"…\""),
                ),
            }
        }
        texts
    }

    /// Notes every key that nobody asked for.
    pub(crate) fn finish(self) {
        let asked = self.asked.into_inner();
        for (key, item) in self.table.iter() {
            if asked.contains(&key) {
                continue;
            }
            let span = self
                .table
                .key(key)
                .and_then(toml_edit::Key::span)
                .or_else(|| item.span())
                .unwrap_or_else(|| self.span.clone());
            let hint = match nearest(key, asked.iter().copied()) {
                Some(near) => format!("write `{near}`"),
                None => format!("known keys: {}", asked.join(", ")),
            };
            self.file.push(&span, format!("no key is called `{key}` here"), hint);
        }
    }
}
