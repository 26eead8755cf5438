//! Two contents of a report against each other, leaf by leaf, so that nothing that differs can be missed.
//!
//! Entries of a list are recognized by what a reader knows them by, so that one more photo does not make every later one
//! differ. Whatever the walk finds no words for is said as a whole: two values that differ never go unsaid.

use std::collections::BTreeMap;

use serde_json::{Map, Value};

use super::Difference;
use super::sections::{self, field_words, known_by};

/// Everything that differs between two contents that were made ready to be compared, in the order of the report.
pub(super) fn differences(before: &Value, after: &Value) -> Vec<Difference> {
    let nothing = Map::new();
    let (one, other) =
        (before.as_object().unwrap_or(&nothing), after.as_object().unwrap_or(&nothing));
    let mut names = names_of(one, other);
    names.sort_by_key(|name| (sections::place(name), *name));
    let mut all = Vec::new();
    for name in names {
        let mut walk = Walk { section: sections::section(name), all: &mut all };
        walk.between(name, &[], field(one, name), field(other, name));
    }
    // What has no fields at all is no content of a report; it is said all the same.
    if all.is_empty() && before != after {
        Walk { section: "further", all: &mut all }.between("content", &[], before, after);
    }
    all
}

fn names_of<'v>(one: &'v Map<String, Value>, other: &'v Map<String, Value>) -> Vec<&'v String> {
    let mut names: Vec<&String> = one.keys().chain(other.keys()).collect();
    names.sort();
    names.dedup();
    names
}

fn field<'v>(fields: &'v Map<String, Value>, name: &str) -> &'v Value {
    fields.get(name).unwrap_or(&Value::Null)
}

struct Walk<'a> {
    section: &'static str,
    all: &'a mut Vec<Difference>,
}

impl Walk<'_> {
    /// `at` is what leads to the value in words, without the name of a field at the top.
    fn between(&mut self, name: &str, at: &[String], before: &Value, after: &Value) {
        if before == after {
            return;
        }
        let said = self.all.len();
        match (before, after) {
            (Value::Object(one), Value::Object(other)) => self.objects(at, one, other),
            (Value::Array(one), Value::Array(other)) if known_by(name).is_some() => {
                self.entries(name, at, one, other);
            }
            (Value::Array(one), Value::Array(other)) if plain(one) && plain(other) => {
                self.words(name, at, one, other);
            }
            _ => {}
        }
        // Whatever no words were found for above is said as a whole.
        if self.all.len() == said {
            let (one, other) = (some(in_words(before)), some(in_words(after)));
            // Said in the same words, or in none, they would not seem to differ.
            if one == other {
                self.say(at, name, Some(before.to_string()), Some(after.to_string()));
            } else {
                self.say(at, name, one, other);
            }
        }
    }

    fn objects(&mut self, at: &[String], one: &Map<String, Value>, other: &Map<String, Value>) {
        for name in names_of(one, other) {
            let (before, after) = (field(one, name), field(other, name));
            // Entries name themselves.
            let entries = known_by(name).is_some() && before.is_array() && after.is_array();
            let inner = if entries { at.to_vec() } else { [at, &[field_words(name)]].concat() };
            self.between(name, &inner, before, after);
        }
    }

    /// Lists of entries, each known by some of its fields.
    fn entries(&mut self, name: &str, at: &[String], before: &[Value], after: &[Value]) {
        let (one, other) = (named(name, before), named(name, after));
        let there = |list: &[Named<'_>], key: &str| list.iter().position(|entry| entry.key == key);
        for entry in &one {
            let inner = [at, std::slice::from_ref(&entry.label)].concat();
            match there(&other, &entry.key).and_then(|place| other.get(place)) {
                Some(now) => self.between("", &inner, entry.value, now.value),
                None => self.say(&inner, name, Some(rest_in_words(name, entry.value)), None),
            }
        }
        for entry in other.iter().filter(|entry| there(&one, &entry.key).is_none()) {
            let inner = [at, std::slice::from_ref(&entry.label)].concat();
            self.say(&inner, name, None, Some(rest_in_words(name, entry.value)));
        }
        let was: Vec<&Named<'_>> =
            one.iter().filter(|entry| there(&other, &entry.key).is_some()).collect();
        let is: Vec<&Named<'_>> =
            other.iter().filter(|entry| there(&one, &entry.key).is_some()).collect();
        let moved = was.iter().zip(&is).enumerate().find(|(_, (was, is))| was.key != is.key);
        if let Some((place, (was, is))) = moved {
            let at = [at, &[format!("order of {}", field_words(name))]].concat();
            let numbered = |entry: &Named<'_>| Some(format!("{}. {}", place + 1, entry.label));
            self.say(&at, name, numbered(was), numbered(is));
        }
    }

    /// Lists of words or numbers: what has gone and what is new.
    fn words(&mut self, name: &str, at: &[String], before: &[Value], after: &[Value]) {
        let (one, other) = (counted(before), counted(after));
        let only = |list: &[(String, usize)], others: &[(String, usize)]| -> Vec<String> {
            let own = list.iter().filter(|it| !others.contains(it));
            own.map(|(words, _)| words.clone()).filter(|words| !words.is_empty()).collect()
        };
        let (gone, new) = (only(&one, &other), only(&other, &one));
        if let ([was], [is]) = (gone.as_slice(), new.as_slice()) {
            return self.say(at, name, some(was.clone()), some(is.clone()));
        }
        for words in gone {
            self.say(at, name, Some(words), None);
        }
        for words in new {
            self.say(at, name, None, Some(words));
        }
    }

    fn say(&mut self, at: &[String], name: &str, before: Option<String>, after: Option<String>) {
        let key = if at.is_empty() { field_words(name) } else { at.join(", ") };
        self.all.push(Difference { what: self.section, key, before, after });
    }
}

fn some(words: String) -> Option<String> {
    Some(words).filter(|words| !words.is_empty())
}

fn plain(list: &[Value]) -> bool {
    list.iter().all(|one| !one.is_object() && !one.is_array())
}

/// Each in words, with how many of the same stand before it.
fn counted(list: &[Value]) -> Vec<(String, usize)> {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let count = |words: String| {
        let count = seen.entry(words.clone()).or_default();
        *count += 1;
        (words, *count)
    };
    list.iter().map(in_words).map(count).collect()
}

/// An entry with what it is known by and called, each once in its list.
struct Named<'v> {
    key: String,
    label: String,
    value: &'v Value,
}

fn named<'v>(name: &str, entries: &'v [Value]) -> Vec<Named<'v>> {
    let keys = once_each(entries.iter().map(|entry| sections::key(name, entry)));
    let labels = once_each(entries.iter().map(|entry| sections::label(name, entry)));
    let both = keys.into_iter().zip(labels).zip(entries);
    both.map(|((key, label), value)| Named { key, label, value }).collect()
}

/// The words, each with a number behind it where it stood before.
pub(super) fn once_each(words: impl Iterator<Item = String>) -> Vec<String> {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    words
        .map(|words| {
            let count = seen.entry(words.clone()).or_default();
            *count += 1;
            if *count > 1 { format!("{words} ({count})") } else { words }
        })
        .collect()
}

/// An entry without what it is called; its one value bare, where it has no more.
fn rest_in_words(name: &str, entry: &Value) -> String {
    let Value::Object(fields) = entry else { return in_words(entry) };
    let mut rest = fields.clone();
    rest.retain(|field, _| !sections::called_by(name).contains(&field.as_str()));
    let mut values = rest.values().map(in_words).filter(|words| !words.is_empty());
    if let (Some(one), None) = (values.next(), values.next()) {
        return one;
    }
    in_words(&Value::Object(rest))
}

/// `does_not_conform`, `left_front`.
fn is_word_of_data(word: &str) -> bool {
    word.contains('_') && word.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'_')
}

/// A value as people read it: words bare, those of the data with blanks, nothing as nothing.
pub(super) fn in_words(value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        // The last digits of a converted number are noise that nobody sees in the report.
        Value::Number(number) => match number.as_f64().filter(|_| number.is_f64()) {
            Some(number) => quantity::write_number(number),
            None => number.to_string(),
        },
        Value::String(word) if is_word_of_data(word) => word.replace('_', " "),
        Value::String(words) => words.clone(),
        Value::Array(values) => {
            let words = values.iter().map(in_words).filter(|words| !words.is_empty());
            words.collect::<Vec<_>>().join(", ")
        }
        Value::Object(fields) => {
            let words = fields.iter().map(|(name, value)| (field_words(name), in_words(value)));
            let words = words.filter(|(_, words)| !words.is_empty());
            words.map(|(name, words)| format!("{name}: {words}")).collect::<Vec<_>>().join("; ")
        }
    }
}
