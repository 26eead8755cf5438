//! What ships promises nothing: every text of `data/`, in English and in Spanish, held against the words that promise.
//!
//! The rule: such a word stands only where its sentence denies it ("not a warranty"), where it makes a condition of what
//! somebody is to do ("only when it stands safely"), or where it speaks of no unit at all, and then it is listed here.

use plan::{Files, promises};
use toml_edit::{DocumentMut, Item, Value};

/// Beginnings of a condition, in English and Spanish.
const CONDITIONS: [&str; 6] = ["if", "when", "where", "si", "cuando", "donde"];

/// Texts with such a word that say nothing of the unit: file, name, the word.
const OF_NO_UNIT: [(&str, &str, &str); 4] = [
    // What the program says of a word that its data lack.
    ("languages/en/sentences.toml", "stray.no_such_defect", "no defect"),
    // On which side an uncertainty errs.
    ("languages/en/sentences.toml", "note_decision.instrument_1", "safe"),
    ("languages/es/sentences.toml", "note_decision.instrument_1", "seguro"),
    // The title that a regulation has.
    ("sources.toml", "source[7].title", "safe"),
];

/// The files of the data, and those of both languages, by their paths in `data/`.
fn shipped() -> Vec<(String, String)> {
    let of = |start: &str, files: &Files| -> Vec<(String, String)> {
        files.iter().map(|(path, text)| (format!("{start}{path}"), text.to_owned())).collect()
    };
    let mut all = of("", &Files::embedded());
    for language in ["en", "es"] {
        all.extend(of(
            &format!("languages/{language}/"),
            &Files::of_language(language).expect("both languages ship"),
        ));
    }
    all
}

/// Every text of a file that people read, by its name. Worked examples are for tests and nobody else.
fn texts(item: &Item, name: &str, found: &mut Vec<(String, String)>) {
    match item {
        Item::None => {}
        Item::Value(value) => texts_of_value(value, name, found),
        Item::Table(table) => {
            for (key, item) in table {
                texts(item, &joined(name, key), found);
            }
        }
        Item::ArrayOfTables(tables) if name != "example" => {
            for (at, table) in tables.iter().enumerate() {
                for (key, item) in table {
                    texts(item, &joined(&format!("{name}[{at}]"), key), found);
                }
            }
        }
        Item::ArrayOfTables(_) => {}
    }
}

fn texts_of_value(value: &Value, name: &str, found: &mut Vec<(String, String)>) {
    match value {
        Value::String(text) => found.push((name.to_owned(), text.value().clone())),
        Value::Array(values) => {
            for (at, value) in values.iter().enumerate() {
                texts_of_value(value, &format!("{name}[{at}]"), found);
            }
        }
        Value::InlineTable(table) => {
            for (key, value) in table {
                texts_of_value(value, &joined(name, key), found);
            }
        }
        _ => {}
    }
}

fn joined(name: &str, key: &str) -> String {
    if name.is_empty() { key.to_owned() } else { format!("{name}.{key}") }
}

/// The promises of a text, sentence by sentence, without those that are conditions.
fn promised(text: &str) -> Vec<String> {
    text.split(['.', ';', '!', '?', ':'])
        .filter(|sentence| {
            let sentence = sentence.to_lowercase();
            !sentence.split(|c: char| !c.is_alphabetic()).any(|word| CONDITIONS.contains(&word))
        })
        .flat_map(promises)
        .map(|(_, word)| word)
        .collect()
}

#[test]
fn no_shipped_text_promises_what_no_inspection_can() {
    let mut read = 0;
    let mut found: Vec<(String, String, String)> = Vec::new();
    for (path, file) in shipped() {
        let document: DocumentMut = file.parse().unwrap();
        let mut all = Vec::new();
        texts(document.as_item(), "", &mut all);
        read += all.len();
        for (name, text) in all {
            found
                .extend(promised(&text).into_iter().map(|word| (path.clone(), name.clone(), word)));
        }
    }
    // Nineteen thousand when this was written; a walk that finds few has gone blind.
    assert!(read > 15_000, "{read} texts");
    let mut known: Vec<(String, String, String)> = OF_NO_UNIT
        .iter()
        .map(|(file, name, word)| ((*file).into(), (*name).into(), (*word).into()))
        .collect();
    known.sort();
    found.sort();
    assert_eq!(found, known);
}

#[test]
fn a_denial_and_a_condition_are_no_promise_and_anything_else_is() {
    for (text, expected) in [
        ("It is no warranty.", None),
        ("Under the unit only when it stands safely.", None),
        ("Debajo de la unidad solo cuando esté apoyada sin peligro.", None),
        ("A roof that can be reached safely.", Some("safely")),
        ("Techo al que se llega sin peligro.", Some("sin peligro")),
        ("Go up if it rains. The deck is safe.", Some("safe")),
        ("There is no risk.", Some("no risk")),
    ] {
        assert_eq!(promised(text).first().map(String::as_str), expected, "{text}");
    }
}
