//! A report's content made ready to be compared: what only the record knows of a photo is added to it, numbers that point
//! into a list become what stands there, and each value stands with its unit.

use serde_json::{Map, Value, json};

use super::sections::label;
use super::walk::{in_words, once_each};

/// The content with what the record adds, without a number that another entry could shift.
pub(super) fn ready(content: &Value, record: &Value) -> Value {
    let mut ready = content.clone();
    if !ready.is_object() {
        return ready;
    }
    photos(&mut ready, record);
    refer(&mut ready);
    each(&mut ready["systems"], |system| each(&mut system["readings"], with_unit));
    each(&mut ready["pictures"], |picture| picture["shown"] = by_role(&picture["shown"]));
    apart(&mut ready);
    let issued = &ready["issued"];
    let parts =
        ["year", "month", "day", "hour", "minute", "second"].map(|it| in_words(&issued[it]));
    ready["issued"] = json!(parts.join("-"));
    ready
}

/// Changes each entry of a list; what is no entry stays as it is.
fn each(list: &mut Value, change: impl FnMut(&mut Value)) {
    let entries = list.as_array_mut().into_iter().flatten();
    entries.filter(|entry| entry.is_object()).for_each(change);
}

/// Adds what the record alone knows of each photo: what is blurred and cut off, which file it was, where it belongs.
fn photos(content: &mut Value, record: &Value) {
    let recorded = record["photos"].as_array().map(Vec::as_slice).unwrap_or_default();
    each(&mut content["photos"], |photo| {
        let marks = photo["marks"].as_array().map(Vec::as_slice).unwrap_or_default();
        photo["marks"] = marks.iter().map(drawn).collect();
        let Some(own) = recorded.iter().find(|one| one["sha256"] == photo["id"]) else { return };
        let blurred = own["marks"].as_array().into_iter().flatten();
        photo["blurred"] = blurred
            .filter(|mark| mark["kind"] == "blur")
            .map(|mark| json!(format!("{} to {}", in_words(&mark["from"]), in_words(&mark["to"]))))
            .collect();
        photo["crop"] = match &own["crop"] {
            Value::Null => Value::Null,
            crop => json!(format!(
                "{} to {}, turned {} times",
                in_words(&crop["from"]),
                in_words(&crop["to"]),
                in_words(&crop["turns"])
            )),
        };
        let names = [
            ("file_name", "file_name"),
            ("point", "point"),
            ("position", "position"),
            ("copy", "display_sha256"),
            ("pinned", "place"),
        ];
        for (name, recorded) in names {
            photo[name] = own[recorded].clone();
        }
    });
}

/// A mark in words: `arrow from 0.8, 0.15 to 0.55, 0.33`.
fn drawn(mark: &Value) -> Value {
    let Some((kind, at)) = mark.as_object().and_then(|mark| mark.iter().next()) else {
        return mark.clone();
    };
    let words = match kind.as_str() {
        "words" => format!("words at {}: {}", in_words(&at["at"]), in_words(&at["text"])),
        kind => format!("{kind} from {} to {}", in_words(&at["from"]), in_words(&at["to"])),
    };
    json!(words)
}

/// Numbers that point into a list become what the entry is called.
fn refer(content: &mut Value) {
    let called =
        |list: &str, entries: &[Value]| once_each(entries.iter().map(|one| label(list, one)));
    let of =
        |list: &str| called(list, content[list].as_array().map(Vec::as_slice).unwrap_or_default());
    let readings: Vec<Value> = content["systems"]
        .as_array()
        .into_iter()
        .flatten()
        .flat_map(|system| system["readings"].as_array().cloned().unwrap_or_default())
        .collect();
    let readings = called("readings", &readings);
    let (findings, photos, sources) = (of("findings"), of("photos"), of("sources"));
    let (instruments, not_examined) = (of("instruments"), of("not_examined"));
    point(&mut content["unit"], &[("photo", &photos)]);
    each(&mut content["uses"], |one| {
        point(one, &[("findings", &findings), ("not_examined", &not_examined)]);
    });
    each(&mut content["stop_work"], |one| point(one, &[("finding", &findings)]));
    each(&mut content["findings"], |one| {
        point(one, &[("readings", &readings), ("photos", &photos), ("sources", &sources)]);
    });
    let again = content.get_mut("again").and_then(|again| again.get_mut("findings"));
    each(again.unwrap_or(&mut Value::Null), |one| {
        point(one, &[("number", &findings), ("photos_then", &photos), ("photos_now", &photos)]);
    });
    each(&mut content["systems"], |system| {
        each(&mut system["readings"], |reading| {
            point(reading, &[("instruments", &instruments), ("photos", &photos)]);
            each(&mut reading["judged"], |judged| point(judged, &[("sources", &sources)]));
        });
    });
}

/// In these fields of an entry.
fn point(entry: &mut Value, fields: &[(&str, &[String])]) {
    for (name, called) in fields {
        match entry.get_mut(*name) {
            Some(Value::Array(numbers)) => numbers.iter_mut().for_each(|one| say(one, called)),
            Some(number) => say(number, called),
            None => {}
        }
    }
}

/// A number that points nowhere stays as it is.
fn say(number: &mut Value, called: &[String]) {
    let place = number.as_u64().and_then(|number| usize::try_from(number).ok());
    let named = place.and_then(|number| number.checked_sub(1)).and_then(|at| called.get(at));
    if let Some(named) = named {
        *number = json!(named);
    }
}

/// A reading's value as it is printed, with its unit.
fn with_unit(reading: &mut Value) {
    let words = |name: &str| in_words(&reading[name]);
    let joined = format!("{} {}", words("value"), words("unit"));
    reading["value"] = json!(joined.trim());
}

/// What a drawing shows, as one list instead of one for each role.
fn by_role(shown: &Value) -> Value {
    let roles = shown.as_object().into_iter().flatten();
    let all = roles.flat_map(|(role, values)| {
        values.as_array().into_iter().flatten().map(move |value| {
            let mut value = value.as_object().cloned().unwrap_or_default();
            value.insert("role".to_owned(), json!(role));
            Value::Object(value)
        })
    });
    all.collect()
}

/// What belongs to another section than the field it stands in, and what says the same twice.
fn apart(content: &mut Value) {
    let taken = |fields: Option<&mut Value>, name: &str| {
        fields.and_then(Value::as_object_mut).and_then(|fields| fields.remove(name))
    };
    let signed = taken(content.get_mut("signature"), "signed");
    let accepted = taken(content.get_mut("released"), "accepted");
    let Some(fields) = content.as_object_mut() else { return };
    put(fields, "signed", signed);
    put(fields, "accepted", accepted);
}

fn put(fields: &mut Map<String, Value>, name: &str, value: Option<Value>) {
    if let Some(value) = value {
        fields.insert(name.to_owned(), value);
    }
}
