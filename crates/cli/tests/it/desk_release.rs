//! A job released from the desk: through the server, with the same outcome as on the command line.

use serde_json::{Value as Json, json};

use crate::bags::{PASSPHRASE, with_photo};
use crate::program::{Nearside, text};
use crate::serve::Serving;

/// A desk: a server on a job with a photo and a key, and a device that is paired.
struct Desk {
    program: Nearside,
    serving: Serving,
    device: String,
    key: String,
}

impl Desk {
    fn new() -> Self {
        let program = with_photo();
        let key = program.with_key("B. Inspector", None);
        let serving = Serving::start(&program);
        let device = serving.paired(&program);
        Self { program, serving, device, key }
    }

    fn ask(&self, method: &str, rest: &str, body: &str) -> (u16, Json) {
        self.serving.ask(method, &format!("/v1/jobs/2026-001/{rest}"), &self.device, body)
    }

    fn standing(&self) -> Json {
        let (status, standing) = self.ask("GET", "releases", "");
        assert_eq!(status, 200, "{standing}");
        standing
    }

    /// Terms that accept whatever is open.
    fn terms(&self, standing: &Json) -> Json {
        let accepted: Vec<Json> = standing["matters"]
            .as_array()
            .unwrap()
            .iter()
            .map(|one| json!({"matter": one["matter"], "words": "told to the client"}))
            .collect();
        json!({
            "head": standing["head"], "key": self.key, "passphrase": PASSPHRASE, "accepted": accepted,
        })
    }

    fn release(&self, terms: &Json) -> (u16, Json) {
        self.ask("POST", "releases", &terms.to_string())
    }
}

fn with(terms: &Json, name: &str, value: Json) -> Json {
    let mut terms = terms.clone();
    terms[name] = value;
    terms
}

#[test]
fn a_job_is_released_from_the_desk_as_on_the_command_line() {
    let desk = Desk::new();
    let standing = desk.standing();
    assert_eq!(standing["releases"], json!([]));
    assert_eq!(standing["keys"][0]["key"], desk.key);
    assert_eq!(standing["keys"][0]["name"], "B. Inspector");
    let matters = standing["matters"].as_array().unwrap();
    // What is open is what the command line names, in its words and its order.
    let refused = desk.program.run(&["release", "2026-001"]).refused();
    for (at, matter) in matters.iter().enumerate() {
        let line = format!("{:>3}. {}\n", at + 1, matter["matter"].as_str().unwrap());
        assert!(refused.contains(&line), "{line}{refused}");
    }
    let photo = matters.iter().find(|one| one["kind"] == "no_photo").unwrap();
    assert_eq!((&photo["place"], &photo["about"]), (&json!("point"), &json!("regulator_lockup")));

    // What stands against it changes nothing.
    let terms = desk.terms(&standing);
    let tries = [
        (with(&terms, "passphrase", json!("something else")), 422, "wrong_passphrase"),
        (with(&terms, "accepted", json!([])), 409, "open_matters"),
        (with(&terms, "head", json!(1)), 409, "changed"),
        (with(&terms, "key", json!("../../signing-key")), 422, "not_released"),
        (with(&terms, "paper", json!("a3")), 422, "not_released"),
        (with(&terms, "language", json!("xx")), 422, "not_released"),
        (with(&terms, "because", json!("why not")), 422, "not_released"),
    ];
    for (terms, status, reason) in tries {
        let (answered, refused) = desk.release(&terms);
        assert_eq!((answered, &refused["reason"]), (status, &json!(reason)), "{refused}");
    }
    assert_eq!(desk.standing()["releases"], json!([]));
    let blank = json!([{"matter": matters[0]["matter"], "words": "  "}]);
    let (_, refused) = desk.release(&with(&terms, "accepted", blank));
    assert_eq!(refused["matters"].as_array().unwrap().len(), matters.len());

    let (status, kept) = desk.release(&with(&terms, "paper", json!("a4")));
    assert_eq!(status, 200, "{kept}");
    assert_eq!(kept["number"], 1);
    assert_eq!(kept["paper"], "a4");
    assert_eq!(kept["accepted"].as_array().unwrap().len(), matters.len());
    assert_eq!(kept["accepted"][0]["words"], "told to the client");

    let (status, pdf) = desk.serving.fetch("/v1/jobs/2026-001/releases/1/report.pdf", &desk.device);
    assert_eq!(status, 200);
    assert!(pdf.starts_with(b"%PDF-1.7"));
    let (status, zip) = desk.serving.fetch("/v1/jobs/2026-001/releases/1/bag.zip", &desk.device);
    assert_eq!(status, 200);
    let bag = desk.program.write("from-the-desk.zip", zip);
    desk.program.run(&["export", "2026-001", "--into", "exported.zip"]).text();
    let exported = std::fs::read(desk.program.path("exported.zip")).unwrap();
    assert!(std::fs::read(&bag).unwrap() == exported, "the two bags differ");
    let signer = text(&desk.program.data().join("signing-key.public.json"));
    let said = desk.program.run(&["verify", &bag, "--signer", &signer]).text();
    assert!(said.contains("every byte is what was signed"), "{said}");
    assert!(said.contains("by the key that you named"), "{said}");
}

#[test]
fn a_later_release_says_what_has_changed_and_the_client_reads_what_was_signed() {
    let desk = Desk::new();
    let (status, first) = desk.release(&desk.terms(&desk.standing()));
    assert_eq!(status, 200, "{first}");
    assert_eq!(desk.standing()["unchanged"], true);
    let (_, since) = desk.ask("GET", "releases/1/since", "");
    assert_eq!(since, json!({"until": null, "same_record": true, "differences": []}));

    // The client's page, with the signed report beside it.
    let (status, refused) =
        desk.ask("POST", "shares", r#"{"release": 1, "days": 14, "after_payment": true}"#);
    assert_eq!(status, 422, "{refused}");
    assert!(refused["detail"].as_str().unwrap().contains("no invoice"), "{refused}");
    let (status, made) = desk.ask("POST", "shares", r#"{"release": 1, "days": 14}"#);
    assert_eq!(status, 200, "{made}");
    let address = made["address"].as_str().unwrap();
    let path = address.split_once(&desk.serving.at).unwrap().1.to_owned();
    let (status, page) = desk.serving.browse("GET", &path, "");
    assert!(status == 200 && page.contains("A. Client"), "{status}: {page}");
    let signed = desk.serving.fetch("/v1/jobs/2026-001/releases/1/report.pdf", &desk.device).1;
    assert!(desk.serving.fetch(&format!("{path}report.pdf"), "").1 == signed);
    let (_, shares) = desk.ask("GET", "shares", "");
    let share = &shares["shares"][0];
    assert_eq!(
        (&share["good"], share["views_unix_ms"].as_array().unwrap().len()),
        (&json!(true), 1)
    );
    let shut = format!("shares/{}", share["link"].as_str().unwrap());
    assert_eq!(desk.ask("DELETE", &shut, "").0, 200);
    assert_eq!(desk.serving.browse("GET", &path, "").0, 404);

    // The job goes on.
    let before = desk.standing();
    desk.program.run(&["read", "2026-001", "regulator_lockup", "lockup", "16.1 inH2O"]).text();
    let standing = desk.standing();
    assert_eq!(standing["unchanged"], false);
    let (status, refused) = desk.ask("POST", "shares", r#"{"release": 1, "days": 14}"#);
    assert_eq!((status, &refused["reason"]), (409, &json!("changed")));
    let (_, since) = desk.ask("GET", "releases/1/since", "");
    let whats: Vec<&str> = since["differences"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one["what"].as_str().unwrap())
        .collect();
    assert!(whats.contains(&"values and verdicts"), "{since}");
    let (status, refused) = desk.release(&desk.terms(&before));
    assert_eq!((status, &refused["reason"]), (409, &json!("changed")));
    let terms = desk.terms(&standing);
    let (status, refused) = desk.release(&terms);
    assert_eq!(status, 422, "{refused}");
    assert!(refused["detail"].as_str().unwrap().contains("says why"), "{refused}");
    let (status, second) = desk.release(&with(&terms, "because", json!("read again")));
    assert_eq!(status, 200, "{second}");
    assert_eq!((&second["number"], &second["because"]), (&json!(2), &json!("read again")));
    let (_, since) = desk.ask("GET", "releases/1/since", "");
    assert_eq!(since["until"], 2);
}
