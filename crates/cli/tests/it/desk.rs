//! Agreement and invoices as a paired device asks for them through the server: the same numbers, sums and records as by commands.

use serde_json::{Value as Json, json};

use crate::program::Nearside;
use crate::serve::Serving;

/// A job with a fee of 450.50 dollars that is served, and the key of a device.
fn serving() -> (Nearside, Serving, String) {
    let program = Nearside::with_job();
    let set = [
        "agreement",
        "set",
        "2026-001",
        "--line",
        "Inspection = 425.00",
        "--tax",
        "Sales tax = 6 %",
    ];
    program.run(&set).text();
    let serving = Serving::start(&program);
    let code = program.run(&["pair", "--json"]).json()["code"].as_str().unwrap().to_owned();
    let (status, paired) = serving.pair(&code);
    assert_eq!(status, 200, "{paired}");
    let key = paired["key"].as_str().unwrap().to_owned();
    (program, serving, key)
}

struct Desk<'a> {
    serving: &'a Serving,
    key: &'a str,
}

impl Desk<'_> {
    fn post(&self, path: &str, body: &Json) -> (u16, Json) {
        let path = format!("/v1/jobs/2026-001/{path}");
        self.serving.ask("POST", &path, self.key, &body.to_string())
    }

    fn done(&self, path: &str, body: &Json) -> Json {
        let (status, answer) = self.post(path, body);
        assert_eq!(status, 200, "{path}: {answer}");
        answer
    }

    fn refused(&self, path: &str, body: &Json) -> String {
        let (status, answer) = self.post(path, body);
        assert_eq!(status, 422, "{path}: {answer}");
        answer["reason"].as_str().unwrap().to_owned()
    }

    fn standing(&self) -> Json {
        let (status, answer) =
            self.serving.ask("GET", "/v1/jobs/2026-001/engagement", self.key, "");
        assert_eq!(status, 200, "{answer}");
        answer
    }
}

#[test]
fn an_invoice_is_made_paid_and_taken_back_from_the_desk() {
    let (program, serving, key) = serving();
    let desk = Desk { serving: &serving, key: &key };
    let wanted = |total: i64, seen: usize| json!({"date": "2026-06-12", "days": 14, "total": total, "seen": seen});
    assert_eq!(desk.refused("invoices", &wanted(45_050, 0)), "no_seller");
    let named = json!({"name": "B. Inspector", "address": ["1 Ferry Road", ""], "prefix": "2026-"});
    let (status, seller) = serving.ask("POST", "/v1/seller", &key, &named.to_string());
    assert_eq!((status, &seller["address"]), (200, &json!(["1 Ferry Road"])));
    // Nothing is charged that nobody saw, and an answer that was lost makes no second one.
    assert_eq!(desk.refused("invoices", &wanted(42_500, 0)), "changed_since");
    let made = desk.done("invoices", &wanted(45_050, 0));
    let invoice = &made["invoices"][0];
    assert_eq!(
        (&invoice["number"], &invoice["state"], &invoice["left"], &invoice["due"]),
        (&json!("2026-0001"), &json!("open"), &json!(45_050), &json!("2026-06-26"))
    );
    assert_eq!(
        invoice["taxes"][0],
        json!({"name": "Sales tax", "millionths": 60_000, "base": 42_500, "amount": 2_550})
    );
    assert_eq!(desk.refused("invoices", &wanted(45_050, 0)), "changed_since");
    assert_eq!(desk.refused("invoices", &wanted(45_050, 1)), "invoice_stands");

    let paid = |amount: i64, before: i64| json!({"number": "2026-0001", "amount": amount, "day": "2026-06-13", "how": "card", "paid_before": before});
    let part = desk.done("invoices/payment", &paid(20_000, 0));
    assert_eq!(part["invoices"][0]["left"], 25_050);
    assert_eq!(desk.refused("invoices/payment", &paid(20_000, 0)), "changed_since", "twice sent");
    let whole = desk.done("invoices/payment", &paid(25_050, 20_000));
    assert_eq!(whole["invoices"][0]["state"], "paid");
    for (body, reason) in [
        (
            json!({"number": "2026-0009", "amount": 1, "day": "2026-06-13", "how": "card", "paid_before": 0}),
            "no_invoice",
        ),
        (
            json!({"number": "2026-0001", "amount": 0, "day": "2026-06-13", "how": "card", "paid_before": 45_050}),
            "no_amount",
        ),
        (
            json!({"number": "2026-0001", "amount": 1, "day": "June", "how": "card", "paid_before": 45_050}),
            "no_day",
        ),
        (
            json!({"number": "2026-0001", "amount": 1, "day": "2026-06-13", "how": " ", "paid_before": 45_050}),
            "no_way",
        ),
    ] {
        assert_eq!(desk.refused("invoices/payment", &body), reason);
    }
    let credit =
        |because: &str| json!({"number": "2026-0001", "because": because, "date": "2026-06-14"});
    assert_eq!(desk.refused("invoices/credit", &credit("")), "no_reason");
    let credited = desk.done("invoices/credit", &credit("wrong client"));
    assert_eq!(credited["invoices"][0]["state"], "cancelled");
    assert_eq!(
        (&credited["invoices"][1]["number"], &credited["invoices"][1]["cancels"]),
        (&json!("2026-0002"), &json!("2026-0001"))
    );
    assert_eq!(desk.refused("invoices/credit", &credit("once more")), "changed_since");
    let again = desk.done("invoices", &wanted(45_050, 2));
    assert_eq!(again["invoices"][2]["number"], "2026-0003");
    // The commands know the same.
    let listed = program.run(&["invoice", "list", "--json"]).json();
    let states: Vec<&Json> = listed.as_array().unwrap().iter().map(|one| &one["state"]).collect();
    assert_eq!(states, ["cancelled", "credit_note", "open"]);
    for path in ["agreement/pdf", "invoices/pdf?number=2026-0001", "invoices/pdf?number=2026-0002"]
    {
        let pdf = serving.bytes(&format!("/v1/jobs/2026-001/{path}"), &key);
        assert!(pdf.starts_with(b"%PDF"), "{path}: {} bytes", pdf.len());
    }
}

#[test]
fn the_clients_address_is_made_at_the_desk_and_the_page_waits_for_payment_when_told() {
    let (program, serving, key) = serving();
    let desk = Desk { serving: &serving, key: &key };
    assert_eq!(desk.refused("agreement/link", &json!({"days": 0})), "days");
    let made = desk.done("agreement/link", &json!({"days": 14}));
    let address = made["address"].as_str().unwrap();
    let path = address.strip_prefix(&format!("http://{}", serving.at)).unwrap();
    let (status, page) = serving.browse("GET", path, "");
    assert!(status == 200 && page.contains("Agreement on an inspection"), "{status}: {page}");
    let standing = desk.standing();
    let link = &standing["links"][0];
    assert_eq!(
        (&link["leads_to"], &link["good"], &link["views"]),
        (&json!("agreement"), &json!(true), &json!(1))
    );
    let (_, terms) = serving.ask("GET", "/v1/jobs/2026-001/agreement/terms?language=es", &key, "");
    assert!(terms["terms"].as_array().unwrap().len() > 3, "{terms}");
    let (status, odd) =
        serving.ask("GET", "/v1/jobs/2026-001/agreement/terms?language=xx", &key, "");
    assert_eq!((status, &odd["reason"]), (422, &json!("refused")));

    // The page was given an address before anybody said that it waits.
    let shared = program.run(&["share", "new", "2026-001", "--without-pdf", "--json"]).json();
    let page = shared["address"].as_str().unwrap();
    let page = page.strip_prefix(&format!("http://{}", serving.at)).unwrap();
    let waits = || serving.browse("GET", page, "").1.contains("as soon as the payment is recorded");
    assert!(!waits());
    let told = desk.done("pages-wait", &json!({"wait": true}));
    assert!(told["pages_wait"] == true && waits());
    let later = program.run(&["share", "new", "2026-001", "--without-pdf", "--json"]).json();
    assert!(later["address"].is_string());
    let links = program.run(&["share", "list", "--json"]).json();
    let waiting =
        links.as_array().unwrap().iter().filter(|link| link["waits_for_payment"] == true).count();
    assert_eq!(waiting, 2, "those to come wait, too: {links}");
    desk.done("pages-wait", &json!({"wait": false}));
    assert!(!waits());
}
