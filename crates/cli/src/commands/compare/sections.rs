//! What a reader of the report calls its parts: the sections, the entries of its lists, and the fields of these.

use serde_json::Value;

use super::walk::in_words;

/// What names a release or its record, and so differs between any two: said, though the report reports nothing else by it.
pub(super) const NAMING: [&str; 2] = ["release", "record"];

/// The fields of the content in the order of the report, and the section that each belongs to.
const SECTIONS: [(&str, &str); 33] = [
    ("paper", "pages"),
    ("form", "pages"),
    ("units", "pages"),
    ("language", "pages"),
    ("title", "pages"),
    ("job", "engagement"),
    ("unit", "unit"),
    ("summary", "summary"),
    ("uses", "uses"),
    ("stop_work", "at once"),
    ("cautions", "cautions"),
    ("again", "earlier inspection"),
    ("findings", "findings"),
    ("systems", "values and verdicts"),
    ("pictures", "drawings of values"),
    ("not_examined", "not examined"),
    ("examined", "examined"),
    ("visit", "visit"),
    ("photos", "photos"),
    ("instruments", "instruments"),
    ("sources", "sources"),
    ("terms", "terms"),
    ("unused", "unused entries"),
    ("signature", "signature"),
    ("made_by", "program and data"),
    ("missing", "missing or open"),
    ("accepted", "accepted"),
    ("released", "release"),
    ("signed", "release"),
    ("issued", "record"),
    ("issued_words", "record"),
    ("trail", "record"),
    ("ident", "record"),
];

/// Where a field stands in the report; what is not known here comes last.
pub(super) fn place(field: &str) -> usize {
    SECTIONS.iter().position(|(name, _)| *name == field).unwrap_or(SECTIONS.len())
}

/// The section of a field.
pub(super) fn section(field: &str) -> &'static str {
    SECTIONS.iter().find(|(name, _)| *name == field).map_or("further", |(_, section)| section)
}

/// The lists whose entries are known by some of their fields: those fields, and those that an entry is called by.
const LISTS: [(&str, &[&str], &[&str]); 23] = [
    ("facts", &["name"], &["name"]),
    ("particulars", &["name"], &["name"]),
    ("record", &["name"], &["name"]),
    ("uses", &["kind"], &["kind"]),
    ("stop_work", &["title"], &["title"]),
    ("findings", &["number_then", "title", "location"], &["title", "location"]),
    ("systems", &["name"], &["name"]),
    ("readings", &["point", "name", "position"], &["point", "name", "position"]),
    ("judged", &["limit", "footing"], &["limit"]),
    ("pictures", &["system", "title"], &["title"]),
    ("shown", &["role", "position"], &["role", "position"]),
    ("not_examined", &["point", "stop"], &["point"]),
    ("examined", &["name"], &["name"]),
    ("days", &["day"], &["day"]),
    ("steps", &["point"], &["point"]),
    ("waits", &["point"], &["point"]),
    ("changes", &["words"], &["words"]),
    ("gaps", &["words"], &["words"]),
    ("photos", &["id"], &["file_name", "caption"]),
    ("instruments", &["name", "serial"], &["name", "serial"]),
    ("sources", &["document", "edition", "section"], &["document", "edition", "section"]),
    ("terms", &["title", "text"], &["title"]),
    ("accepted", &["words"], &["words"]),
];

fn list(name: &str) -> Option<(&'static [&'static str], &'static [&'static str])> {
    LISTS.iter().find(|(list, ..)| *list == name).map(|(_, known, called)| (*known, *called))
}

/// The fields that the entries of a list are known by; none where it is no such list.
pub(super) fn known_by(name: &str) -> Option<&'static [&'static str]> {
    list(name).map(|(known, _)| known)
}

/// The fields that an entry of a list is called by.
pub(super) fn called_by(name: &str) -> &'static [&'static str] {
    list(name).map_or(&[], |(_, called)| called)
}

/// What an entry of a list is known by.
pub(super) fn key(name: &str, entry: &Value) -> String {
    let fields = known_by(name).unwrap_or_default();
    fields.iter().map(|field| in_words(&entry[*field])).collect::<Vec<_>>().join("\n")
}

/// What an entry of a list is called.
pub(super) fn label(name: &str, entry: &Value) -> String {
    let words = called_by(name).iter().map(|field| in_words(&entry[*field]));
    let words: Vec<String> = words.filter(|words| !words.is_empty()).collect();
    if words.is_empty() { field_words(name) } else { words.join(", ") }
}

/// A field's name as a reader would call it.
pub(super) fn field_words(name: &str) -> String {
    let words = match name {
        "when" => "when to act",
        "who" => "whom to call",
        "kind" => "which",
        "at" => "time",
        "due" => "calibration due",
        "calibration" => "calibration on the day",
        "length_words" => "length",
        "width_words" => "width",
        "length_metres" => "length as drawn, in metres",
        "width_metres" => "width as drawn, in metres",
        "issued" => "date of the file",
        "issued_words" => "issued",
        "ident" => "identifier of the file",
        "alt" => "text for those who cannot see it",
        "blurred" => "blurred parts",
        "crop" => "part that is shown",
        "pinned" => "place on the unit",
        "side" => "place on the side",
        "taken" => "time",
        "steps" => "points settled",
        "made_by" => "made with",
        other => return other.replace('_', " "),
    };
    words.to_owned()
}
