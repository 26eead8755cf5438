//! What is sent and answered here, for the description of all addresses.

use serde_json::{Value, json};

use crate::openapi::{list, object, schema};

/// The messages by their names.
pub(crate) fn schemas() -> [(&'static str, Value); 8] {
    let text = || json!({ "type": "string" });
    let count = || json!({ "type": "integer", "minimum": 0 });
    let flag = || json!({ "type": "boolean" });
    let moment = || json!({ "type": "integer", "description": "Milliseconds since the start of 1970, universal time." });
    let maybe = |kind: &str| json!({ "type": [kind, "null"] });
    let words = || list(&text());
    let accepted = || list(&object(&[("matter", text()), ("words", text())]));
    let matter =
        object(&[("matter", text()), ("kind", text()), ("place", text()), ("about", text())]);
    let key = object(&[("key", text()), ("name", text()), ("made", text())]);
    let kept = object(&[
        ("number", count()),
        ("released_at", text()),
        ("released_by", text()),
        ("key", text()),
        ("tag_manifest_sha256", schema("Hash")),
        ("report_sha256", schema("Hash")),
        ("pages", count()),
        ("paper", text()),
        ("units", text()),
        ("language", text()),
        ("accepted", accepted()),
        ("because", text()),
        ("countersigner", text()),
        ("bag", text()),
        ("files", count()),
    ]);
    let standing = object(&[
        ("head", count()),
        ("inspector", text()),
        ("matters", list(&matter)),
        ("remarks", words()),
        ("absent_photos", count()),
        ("absent_memos", count()),
        ("keys", list(&key)),
        ("languages", words()),
        ("releases", list(&schema("ReleaseKept"))),
        ("unchanged", flag()),
        ("invoiced", flag()),
    ]);
    let mut wanted = object(&[
        ("head", count()),
        ("key", text()),
        ("passphrase", json!({ "type": "string", "format": "password" })),
        ("language", text()),
        ("paper", json!({ "enum": ["", "letter", "a4"] })),
        ("units", json!({ "enum": ["", "us", "si"] })),
        ("accepted", accepted()),
        ("because", text()),
        ("countersigner", text()),
    ]);
    wanted["required"] = json!(["head", "key", "passphrase"]);
    let differing = object(&[
        ("what", text()),
        ("key", text()),
        ("before", maybe("string")),
        ("after", maybe("string")),
    ]);
    let mut share_wanted = object(&[
        ("release", count()),
        ("days", json!({ "type": "integer", "minimum": 1, "maximum": 3660 })),
        ("after_payment", flag()),
    ]);
    share_wanted["required"] = json!(["release", "days"]);
    let share = object(&[
        ("link", text()),
        ("made_unix_ms", moment()),
        ("until_unix_ms", moment()),
        ("revoked_unix_ms", maybe("integer")),
        ("good", flag()),
        ("after_payment", flag()),
        ("waits", flag()),
        ("views_unix_ms", list(&moment())),
    ]);
    [
        ("ReleaseStanding", standing),
        ("ReleaseWanted", wanted),
        ("ReleaseKept", kept),
        ("Releasing", object(&[("step", maybe("string"))])),
        (
            "Since",
            object(&[
                ("until", maybe("integer")),
                ("same_record", flag()),
                ("differences", list(&differing)),
            ]),
        ),
        ("ShareWanted", share_wanted),
        (
            "ShareMade",
            object(&[("address", text()), ("until_unix_ms", moment()), ("remarks", words())]),
        ),
        ("Shares", object(&[("shares", list(&share))])),
    ]
}
