//! The messages of agreement and invoices as the description of the server has them.

use serde_json::{Map, Value, json};

use crate::openapi::{list, object, schema};

/// Each by its name.
pub(crate) fn schemas() -> Map<String, Value> {
    let text = || json!({ "type": "string" });
    let yes_or_no = || json!({ "type": "boolean" });
    let count = || json!({ "type": "integer", "minimum": 0 });
    let date = || json!({ "type": "string", "format": "date" });
    let date_or_none = || json!({ "type": "string", "pattern": "^([0-9]{4}-[0-9]{2}-[0-9]{2})?$" });
    let minor = || json!({ "type": "integer", "description": "Minor units of the currency." });
    let time = || json!({ "type": "integer", "description": "Milliseconds since the start of 1970, universal time." });
    let strict = |mut schema: Value, required: Value| {
        schema["required"] = required;
        schema["additionalProperties"] = json!(false);
        schema
    };
    let line = object(&[("text", text()), ("amount", minor())]);
    let tax = object(&[
        ("name", text()),
        ("millionths", count()),
        ("base", minor()),
        ("amount", minor()),
    ]);
    let payment = object(&[("day", date()), ("amount", minor()), ("how", text())]);
    let invoice = object(&[
        ("number", text()),
        ("state", json!({ "enum": ["open", "paid", "cancelled", "credit_note"] })),
        ("issued", date()),
        ("due", date_or_none()),
        ("client", text()),
        ("currency", text()),
        ("decimals", count()),
        ("lines", list(&line)),
        ("taxes", list(&tax)),
        ("net", minor()),
        ("total", minor()),
        ("paid", minor()),
        ("left", minor()),
        ("cancels", text()),
        ("because", text()),
        ("payments", list(&payment)),
    ]);
    let link = object(&[
        ("id", text()),
        ("leads_to", json!({ "enum": ["agreement", "page"] })),
        ("made_unix_ms", time()),
        ("expires_unix_ms", time()),
        ("good", yes_or_no()),
        ("waits", yes_or_no()),
        ("views", count()),
        ("last_view_unix_ms", json!({ "type": ["integer", "null"] })),
    ]);
    let seller = object(&[
        ("name", text()),
        ("address", list(&text())),
        ("contact", text()),
        ("tax_number", text()),
        ("payment", text()),
        ("prefix", text()),
    ]);
    let days = |most: u32| json!({ "type": "integer", "minimum": 0, "maximum": most });
    Map::from_iter([
        (
            "Engagement".to_owned(),
            object(&[
                ("seller", schema("Seller")),
                ("pages_wait", yes_or_no()),
                ("links", list(&link)),
                ("invoices", list(&invoice)),
            ]),
        ),
        ("Seller".to_owned(), strict(seller, json!(["name"]))),
        ("Terms".to_owned(), object(&[("language", text()), ("terms", list(&text()))])),
        (
            "LinkWanted".to_owned(),
            strict(
                object(&[("days", json!({ "type": "integer", "minimum": 1, "maximum": 3660 }))]),
                json!(["days"]),
            ),
        ),
        ("LinkMade".to_owned(), object(&[("address", text()), ("expires_unix_ms", time())])),
        (
            "InvoiceWanted".to_owned(),
            strict(
                object(&[
                    ("date", date()),
                    ("days", days(366)),
                    ("another", yes_or_no()),
                    ("total", minor()),
                    ("seen", count()),
                ]),
                json!(["date", "total", "seen"]),
            ),
        ),
        (
            "CreditWanted".to_owned(),
            strict(
                object(&[("number", text()), ("because", text()), ("date", date())]),
                json!(["number", "because", "date"]),
            ),
        ),
        (
            "PaymentNoted".to_owned(),
            strict(
                object(&[
                    ("number", text()),
                    ("amount", minor()),
                    ("day", date()),
                    ("how", text()),
                    ("paid_before", minor()),
                ]),
                json!(["number", "amount", "day", "how", "paid_before"]),
            ),
        ),
        ("PagesWaitWanted".to_owned(), strict(object(&[("wait", yes_or_no())]), json!(["wait"]))),
    ])
}
