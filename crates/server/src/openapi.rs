//! The description of every address for other programs (OpenAPI 3.1), made from the same table as the router.

use axum::response::Response;
use serde_json::{Map, Value, json};

use crate::{
    addresses::{ADDRESSES, Access, Address},
    again, archived, changes, engagement, releases,
};

/// `GET /v1/openapi.json`
pub(crate) async fn answer() -> Response {
    changes::json(document().to_string().into_bytes())
}

/// The whole description.
pub(crate) fn document() -> Value {
    let mut paths = Map::new();
    for address in ADDRESSES {
        // `{*file}` is the router's way to say that a part may have slashes in it.
        let path = address.path.replace("{*", "{");
        let entry = paths.entry(path).or_insert_with(|| json!({}));
        entry[address.method.to_ascii_lowercase()] = operation(address);
    }
    json!({
        "openapi": "3.1.0",
        "info": {
            "title": "Nearside",
            "version": env!("CARGO_PKG_VERSION"),
            "description": "What phones copy to the server, and how they read it back. A change is base64 of raw \
                            Automerge bytes; hashes are 64 lower-case hexadecimal digits.",
            "license": { "name": "MIT OR Apache-2.0", "identifier": "MIT OR Apache-2.0" },
        },
        "servers": [{ "url": "/" }],
        "paths": paths,
        "components": {
            "securitySchemes": {
                "device": {
                    "type": "http",
                    "scheme": "bearer",
                    "description": "The key that the device got when it was paired.",
                },
            },
            "schemas": all_schemas(),
        },
    })
}

fn operation(address: &Address) -> Value {
    let mut refused = json!({ "application/problem+json": { "schema": schema("Problem") } });
    if !address.path.starts_with("/v1/") {
        // What a person opens, a page answers.
        refused["text/html"] = json!({});
    }
    let mut operation = json!({
        "summary": address.what,
        "operationId": operation_id(address),
        "responses": {
            "200": { "description": "Done.", "content": content(address.gives) },
            "default": {
                "description": "Not done; `reason` says why.",
                "content": refused,
            },
        },
    });
    let parameters = parameters(address);
    if !parameters.is_empty() {
        operation["parameters"] = Value::Array(parameters);
    }
    if let Some(takes) = address.takes {
        operation["requestBody"] = json!({ "required": true, "content": content(takes) });
    }
    match address.access {
        Access::Public => operation["security"] = json!([]),
        Access::Paired => operation["security"] = json!([{ "device": [] }]),
        Access::Loopback => {
            operation["security"] = json!([]);
            operation["description"] = json!("On the server's own machine alone.");
        }
    }
    operation
}

/// `getJobsChanges`: the method and the fixed parts of the path, and `File` or `Page` where it leads below them.
fn operation_id(address: &Address) -> String {
    let mut id = address.method.to_ascii_lowercase();
    let parts =
        address.path.split(['/', '.', '-']).filter(|part| !part.is_empty() && *part != "v1");
    for part in parts.filter(|part| !part.starts_with('{')) {
        let mut letters = part.chars();
        id.extend(letters.next().map(|first| first.to_ascii_uppercase()));
        id.extend(letters);
    }
    if address.path.contains("{*") {
        id.push_str("File");
    } else if address.path.ends_with("}/") {
        id.push_str("Page");
    }
    if id == "get" { "getPage".into() } else { id }
}

fn parameters(address: &Address) -> Vec<Value> {
    let text = |place: &str, name: &str, schema: Value| json!({ "name": name, "in": place, "required": true, "schema": schema });
    let mut parameters = Vec::new();
    for (name, schema) in [
        ("job", json!({ "type": "string", "pattern": "^[A-Za-z0-9_-]{1,64}$" })),
        ("sha256", schema("Hash")),
        ("secret", json!({ "type": "string", "pattern": "^[0-9a-f]{48}$" })),
        ("file", json!({ "type": "string" })),
        ("number", json!({ "type": "string", "pattern": "^[1-9][0-9]{0,8}$" })),
        ("link", json!({ "type": "string", "pattern": "^[0-9a-f]{12}$" })),
    ] {
        let named = [format!("{{{name}}}"), format!("{{*{name}}}")];
        if named.iter().any(|part| address.path.contains(part)) {
            parameters.push(text("path", name, schema));
        }
    }
    parameters.extend(archived::parameters(address.path));
    let bytes = || json!({ "type": "integer", "minimum": 0 });
    match (address.method, address.path) {
        ("GET", "/v1/jobs/{job}/changes") => {
            parameters.push(text("query", "after", bytes()));
            parameters.push(text("query", "at", schema("Hash")));
        }
        ("GET", "/v1/search") => {
            parameters.push(text("query", "q", json!({ "type": "string" })));
            let mut most = text("query", "most", json!({ "type": "integer", "minimum": 0 }));
            most["required"] = json!(false);
            parameters.push(most);
        }
        ("GET", "/v1/jobs/{job}/agreement/terms") => {
            parameters.push(text("query", "language", json!({ "type": "string" })));
        }
        ("GET", "/v1/jobs/{job}/invoices/pdf") => {
            parameters.push(text("query", "number", json!({ "type": "string" })));
        }
        ("POST", "/v1/jobs/{job}/blobs/{sha256}") => {
            parameters.push(text("header", "Upload-Length", bytes()));
        }
        ("PATCH", "/v1/jobs/{job}/blobs/{sha256}") => {
            parameters.push(text("header", "Upload-Length", bytes()));
            parameters.push(text("header", "Upload-Offset", bytes()));
        }
        _ => {}
    }
    parameters
}

fn content(kind: &str) -> Value {
    let mut content = Map::new();
    if kind.contains('/') {
        content.insert(kind.to_owned(), json!({}));
    } else {
        content.insert("application/json".into(), json!({ "schema": schema(kind) }));
    }
    Value::Object(content)
}

pub(crate) fn schema(name: &str) -> Value {
    json!({ "$ref": format!("#/components/schemas/{name}") })
}

pub(crate) fn object(fields: &[(&str, Value)]) -> Value {
    let required: Vec<&str> = fields.iter().map(|(name, _)| *name).collect();
    let properties: Map<String, Value> =
        fields.iter().map(|(name, schema)| ((*name).to_owned(), schema.clone())).collect();
    json!({ "type": "object", "required": required, "properties": properties })
}

pub(crate) fn list(of: &Value) -> Value {
    json!({ "type": "array", "items": of })
}

/// Every message there is.
fn all_schemas() -> Value {
    let mut all = schemas();
    for (name, schema) in engagement::schemas() {
        all[name] = schema;
    }
    for (name, schema) in releases::schemas() {
        all[name] = schema;
    }
    for (name, schema) in again::schemas().into_iter().chain(archived::schemas()) {
        all[name] = schema;
    }
    all
}

/// The messages, as `sync::wire` writes them.
fn schemas() -> Value {
    let text = || json!({ "type": "string" });
    let count = || json!({ "type": "integer", "minimum": 0 });
    let change = || json!({ "type": "string", "contentEncoding": "base64" });
    let head = {
        let mut head = object(&[("job", text()), ("head", count()), ("summary", text())]);
        head["required"] = json!(["job", "head"]);
        head
    };
    let problem = json!({
        "type": "object",
        "description": "RFC 9457, with the reason that devices act on and what belongs to it.",
        "required": ["type", "title", "status", "detail", "reason"],
        "properties": {
            "type": text(), "title": text(), "status": count(), "detail": text(), "reason": text(),
            "missing": list(&schema("Hash")), "head": count(), "offset": count(), "change": schema("Hash"),
            "why": text(), "retry_after_ms": count(),
        },
    });
    let part = object(&[("text", text()), ("found", json!({ "type": "boolean" }))]);
    let place = object(&[
        ("kind", text()),
        ("point", text()),
        ("title", text()),
        ("reference", text()),
        ("snippet", list(&part)),
    ]);
    let hit = object(&[
        ("job", text()),
        ("line", text()),
        ("visited", json!({ "type": ["string", "null"] })),
        ("places", list(&place)),
        ("more_places", count()),
    ]);
    let sentence = object(&[("name", text()), ("text", text())]);
    let left_over = object(&[
        ("about", text()),
        ("id", text()),
        ("title", text()),
        ("place", text()),
        ("word", text()),
        ("fact", text()),
        ("job", text()),
    ]);
    json!({
        "LeftOver": left_over,
        "LeftOvers": object(&[
            ("told", json!({ "type": "boolean" })), ("left_over", list(&schema("LeftOver"))),
        ]),
        "StockSentence": sentence,
        "StockSentences": object(&[("sentences", list(&schema("StockSentence")))]),
        "Found": object(&[("jobs", count()), ("hits", list(&hit)), ("behind", count())]),
        "Hash": { "type": "string", "pattern": "^[0-9a-f]{64}$" },
        "PairingRequest": object(&[("code", text()), ("name", text())]),
        "PairingAnswer": object(&[("device", text()), ("key", schema("Hash")), ("server", text())]),
        "Me": object(&[
            ("device", text()), ("name", text()), ("person", text()), ("role", text()),
            ("job", json!({ "type": ["string", "null"] })), ("server", text()),
        ]),
        "Heads": object(&[("jobs", list(&head))]),
        "Push": object(&[("changes", list(&change()))]),
        "Pushed": object(&[
            ("head", count()), ("before", schema("Hash")),
            ("kept", list(&object(&[("hash", schema("Hash")), ("seq", count())]))),
        ]),
        "Page": object(&[("after", count()), ("head", count()), ("changes", list(&change()))]),
        "BlobList": object(&[("blobs", list(&schema("Hash")))]),
        "PagesWanted": {
            "type": "object",
            "required": ["part"],
            "properties": {
                "part": text(), "about": text(), "units": text(), "language": text(),
                "finding": {
                    "type": "object",
                    "required": ["key", "title", "statement", "who"],
                    "properties": {
                        "key": text(), "title": text(), "statement": text(), "who": text(),
                        "stops": list(&json!({ "enum": ["tow", "power", "gas", "water", "stay"] })),
                        "when": { "enum": ["before use", "soon", "in time"] },
                        "point": text(),
                    },
                },
                "photo": object(&[("id", text()), ("caption", text())]),
            },
        },
        "Pages": object(&[
            ("head", count()), ("title", text()), ("pages", list(&text())), ("remarks", list(&text())),
            ("parts", list(&object(&[("part", text()), ("about", text()), ("title", text())]))),
        ]),
        "UploadState": object(&[("offset", count()), ("stored", json!({ "type": "boolean" }))]),
        "Problem": problem,
    })
}
