//! No word and no number of a report's content can change without being said, under the section it stands in.

use report::content::Content;
use serde_json::{Value, json};

use super::Difference;
use super::ready::ready;
use super::sections::section;
use super::walk::differences;

/// A content with entries in every list, all invented.
const SAMPLE: &str = include_str!("sample.json");

fn sample() -> Value {
    serde_json::from_str(SAMPLE).unwrap()
}

/// What the record adds to the sample's first photo.
fn record() -> Value {
    let photo = &sample()["photos"][0];
    json!({"photos": [{
        "sha256": photo["id"],
        "file_name": "one.jpg",
        "point": "tires",
        "position": "left_front",
        "display_sha256": "ab",
        "marks": [{"kind": "blur", "from": [0.1, 0.2], "to": [0.3, 0.4]}],
        "crop": {"from": [0.0, 0.0], "to": [0.5, 0.5], "turns": 1},
        "place": {"along": 0.2, "across": 0.4},
    }]})
}

fn said(before: &Value, after: &Value) -> Vec<Difference> {
    differences(&ready(before, &record()), &ready(after, &record()))
}

/// Every place of a value that holds a word, a number, nothing, or an empty list.
fn leaves(value: &Value, at: &str, all: &mut Vec<String>) {
    match value {
        Value::Object(fields) if !fields.is_empty() => {
            fields.iter().for_each(|(name, value)| leaves(value, &format!("{at}/{name}"), all));
        }
        Value::Array(values) if !values.is_empty() => {
            let each = values.iter().enumerate();
            each.for_each(|(place, value)| leaves(value, &format!("{at}/{place}"), all));
        }
        _ => all.push(at.to_owned()),
    }
}

fn other(leaf: &Value) -> Value {
    match leaf {
        Value::Null => json!(1),
        Value::Bool(so) => json!(!so),
        Value::Number(number) => match number.as_u64() {
            Some(whole) => json!(whole + 1),
            None => json!(number.as_f64().unwrap() + 0.001),
        },
        Value::String(words) => json!(format!("{words}x")),
        Value::Array(_) => json!(["x"]),
        Value::Object(_) => json!({"x": [{"position": "x"}]}),
    }
}

/// The section in which a change of this place is to be said.
fn of(place: &str) -> &'static str {
    match place {
        place if place.starts_with("/released/accepted") => "accepted",
        "/signature/signed" => "release",
        place => section(place.split('/').nth(1).unwrap()),
    }
}

#[test]
fn the_sample_is_a_whole_content() {
    let content: Content = serde_json::from_str(SAMPLE).unwrap();
    assert_eq!(serde_json::to_value(content).unwrap(), sample());
    let fields = sample();
    for (name, value) in fields.as_object().unwrap() {
        assert_ne!(section(name), "further", "{name} has no section");
        assert!(value.as_array().is_none_or(|list| !list.is_empty()), "the sample has no {name}");
    }
}

#[test]
fn the_same_content_differs_in_nothing() {
    assert_eq!(said(&sample(), &sample()), []);
}

#[test]
fn no_leaf_of_the_content_changes_without_being_said_in_its_section() {
    let mut places = Vec::new();
    leaves(&sample(), "", &mut places);
    assert!(places.len() > 400, "{}", places.len());
    for place in places {
        let mut changed = sample();
        let leaf = changed.pointer_mut(&place).unwrap();
        *leaf = other(leaf);
        let (there, back) = (said(&sample(), &changed), said(&changed, &sample()));
        for lines in [&there, &back] {
            assert!(lines.iter().any(|line| line.what == of(&place)), "{place}: {lines:?}");
            let shown = |line: &Difference| line.before.is_some() || line.after.is_some();
            assert!(lines.iter().all(shown), "{place}: {lines:?}");
        }
    }
}

#[test]
fn no_entry_of_a_list_goes_or_moves_without_being_said() {
    let mut lists = Vec::new();
    fn of_value(value: &Value, at: &str, all: &mut Vec<String>) {
        match value {
            Value::Object(fields) => {
                fields.iter().for_each(|(name, one)| of_value(one, &format!("{at}/{name}"), all));
            }
            Value::Array(values) => {
                all.push(at.to_owned());
                let each = values.iter().enumerate();
                each.for_each(|(place, one)| of_value(one, &format!("{at}/{place}"), all));
            }
            _ => {}
        }
    }
    of_value(&sample(), "", &mut lists);
    for place in lists {
        let whole = sample();
        let list = whole.pointer(&place).unwrap().as_array().unwrap();
        for at in 0..list.len() {
            let mut fewer = sample();
            fewer.pointer_mut(&place).unwrap().as_array_mut().unwrap().remove(at);
            let lines = said(&whole, &fewer);
            assert!(lines.iter().any(|line| line.what == of(&place)), "{place}/{at}: {lines:?}");
        }
        let mut turned = sample();
        turned.pointer_mut(&place).unwrap().as_array_mut().unwrap().reverse();
        if turned != whole {
            let lines = said(&whole, &turned);
            assert!(lines.iter().any(|line| line.what == of(&place)), "{place}: {lines:?}");
        }
    }
}

#[test]
fn what_only_the_record_knows_of_a_photo_is_said() {
    let mut places = Vec::new();
    leaves(&record(), "", &mut places);
    for place in places.iter().filter(|place| !place.ends_with("/sha256")) {
        let mut changed = record();
        let leaf = changed.pointer_mut(place).unwrap();
        *leaf = other(leaf);
        let lines = differences(&ready(&sample(), &record()), &ready(&sample(), &changed));
        let photos = lines.iter().filter(|line| line.what == "photos");
        // Another kind of mark than a blur is in the content itself.
        assert!(photos.count() > 0, "{place}: {lines:?}");
    }
}

#[test]
fn one_more_photo_is_one_line_and_not_a_change_of_all_that_follow() {
    let mut more = sample();
    let mut photo = more["photos"][0].clone();
    photo["id"] = json!("00".repeat(32));
    photo["caption"] = json!("A new one");
    more["photos"].as_array_mut().unwrap().insert(0, photo);
    // Every number of a photo is one higher now.
    fn shift(value: &mut Value) {
        match value {
            Value::Object(fields) => fields.iter_mut().for_each(|(name, value)| {
                match name.as_str() {
                    "photos" | "photos_then" | "photos_now" => {
                        value.as_array_mut().into_iter().flatten().for_each(|number| {
                            if let Some(whole) = number.as_u64() {
                                *number = json!(whole + 1);
                            }
                        });
                    }
                    "photo" => *value = json!(value.as_u64().unwrap() + 1),
                    _ => {}
                }
                shift(value);
            }),
            Value::Array(values) => values.iter_mut().for_each(shift),
            _ => {}
        }
    }
    shift(&mut more);
    let lines = said(&sample(), &more);
    assert_eq!(lines.len(), 1, "{lines:?}");
    assert_eq!((lines[0].what, lines[0].key.as_str()), ("photos", "A new one"));
}

#[test]
fn what_is_no_content_is_compared_all_the_same() {
    for odd in
        [json!(null), json!([1]), json!({"photos": "x", "again": 3, "unit": [], "systems": [1]})]
    {
        assert_eq!(said(&odd, &odd), []);
        assert!(!said(&sample(), &odd).is_empty());
    }
}
