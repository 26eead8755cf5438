//! The messages as the description of the server has them, and what may stand in the addresses.

use serde_json::{Map, Value, json};

use crate::openapi::{list, object, schema};

/// What may stand in an address behind `?`: which jobs count.
const FILTER: [&str; 6] = ["kind", "age", "region", "purpose", "from", "to"];

/// The parameters of an address; none for one that is not of the archive.
pub(crate) fn parameters(path: &str) -> Vec<Value> {
    let text = |name: &str| json!({ "name": name, "in": "query", "required": false, "schema": { "type": "string" } });
    let count = |name: &str| json!({ "name": name, "in": "query", "required": false, "schema": { "type": "integer", "minimum": 0 } });
    let filter = || FILTER.into_iter().map(text);
    let question = || filter().chain(["point", "per", "of"].map(text));
    let part = || ["after", "most"].map(count);
    match path {
        "/v1/archive/jobs" => filter().chain(part()).collect(),
        "/v1/archive/figures" => question().chain(part()).collect(),
        "/v1/archive/export/{file}" => question().collect(),
        _ => Vec::new(),
    }
}

/// The messages by their names.
pub(crate) fn schemas() -> Map<String, Value> {
    let text = || json!({ "type": "string" });
    let count = || json!({ "type": "integer", "minimum": 0 });
    let flag = || json!({ "type": "boolean" });
    let maybe = |kind: &str| json!({ "type": [kind, "null"] });
    let point = object(&[("point", text()), ("title", text())]);
    let job = object(&[
        ("job", text()),
        ("line", text()),
        ("client", text()),
        ("kind", text()),
        ("maker", text()),
        ("model", text()),
        ("model_year", maybe("integer")),
        ("built", maybe("string")),
        ("visited", maybe("string")),
        ("age", maybe("integer")),
        ("region", text()),
        ("purpose", text()),
        ("points", count()),
        ("examined", count()),
        ("findings", count()),
        ("trouble", maybe("string")),
    ]);
    let line = object(&[
        ("point", text()),
        ("title", maybe("string")),
        ("kind", maybe("string")),
        ("age", maybe("string")),
        ("region", maybe("string")),
        ("jobs", count()),
        ("examined", count()),
        ("not_examined", count()),
        ("not_fitted", count()),
        ("nothing_entered", count()),
        ("found", count()),
        ("draft", count()),
        ("not_conforming", count()),
        ("held", count()),
        ("part", count()),
        ("share", maybe("number")),
        ("too_few", flag()),
        ("low", maybe("number")),
        ("high", maybe("number")),
        (
            "percent",
            json!({
                "type": ["array", "null"], "items": text(),
                "description": "Share, lower and upper end in percent, as they are written.",
            }),
        ),
    ]);
    let filter = object(&[
        ("kind", maybe("string")),
        ("age", maybe("string")),
        ("region", maybe("string")),
        ("purpose", maybe("string")),
        ("from", maybe("string")),
        ("to", maybe("string")),
    ]);
    Map::from_iter([
        (
            "ArchiveChoices".to_owned(),
            object(&[
                ("jobs", count()),
                ("regions", list(&text())),
                ("purposes", list(&text())),
                ("points", list(&point)),
                ("behind", count()),
            ]),
        ),
        ("ArchivedJob".to_owned(), job),
        (
            "ArchivedJobs".to_owned(),
            object(&[
                ("jobs", count()),
                ("listed", list(&schema("ArchivedJob"))),
                ("behind", count()),
            ]),
        ),
        (
            "ArchiveFigures".to_owned(),
            object(&[
                ("of", text()),
                ("interval", text()),
                ("too_few_below", count()),
                ("filter", filter),
                ("axis", object(&[("end", json!({ "type": "number" })), ("steps", count())])),
                ("figures", list(&line)),
                ("lines", count()),
                ("never_examined", count()),
                ("behind", count()),
            ]),
        ),
    ])
}
