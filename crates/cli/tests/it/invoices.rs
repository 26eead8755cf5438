//! Invoices: numbered without a gap also when programs run at once or are killed, paid, taken back, and waited for.

use std::collections::BTreeSet;
use std::process::Stdio;
use std::thread;
use std::time::Duration;

use serde_json::Value as Json;

use crate::program::Nearside;
use crate::serve::Serving;

/// A job with a fee, and somebody who charges.
fn charging() -> Nearside {
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
    let seller = [
        "invoice",
        "seller",
        "--name",
        "B. Inspector",
        "--address",
        "1 Ferry Road",
        "--payment",
        "By card",
        "--prefix",
        "2026-",
    ];
    program.run(&seller).text();
    program
}

fn list(program: &Nearside) -> Vec<Json> {
    program.run(&["invoice", "list", "--json"]).json().as_array().unwrap().clone()
}

fn numbers(program: &Nearside) -> Vec<String> {
    list(program).iter().map(|one| one["invoice"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn an_invoice_is_made_paid_in_parts_and_taken_back() {
    let program = charging();
    let pdf = program.path("invoice.pdf").to_str().unwrap().to_owned();
    let make =
        ["invoice", "make", "2026-001", "--date", "2026-06-12", "--days", "14", "--pdf", &pdf];
    let made = program.run(&make);
    assert!(made.err.contains("has not agreed to this fee"), "{}", made.err);
    assert!(made.text().contains("invoice 2026-0001: 450.50 USD, for A. Client"));
    assert!(std::fs::read(&pdf).unwrap().starts_with(b"%PDF"));
    // The archive reads the same words off it.
    let search = ["archive", "search", "2026-0001", "inspection", "450.50", "--json"];
    let found = program.run(&search).json();
    let place = &found["hits"][0]["places"][0];
    assert_eq!(
        (&place["kind"], &place["reference"]),
        (&Json::from("invoice"), &Json::from("2026-0001"))
    );
    let again = program.run(&["invoice", "make", "2026-001"]).refused();
    assert!(
        again.contains("has invoice 2026-0001 already") && again.contains("--another"),
        "{again}"
    );

    let facts = program.run(&["invoice", "show", "2026-0001", "--json"]).json();
    assert_eq!(
        (&facts["total"], &facts["state"], &facts["due"]),
        (&45_050.into(), &"open".into(), &"2026-06-26".into())
    );
    assert_eq!(facts["facts"]["taxes"][0]["amount"], 2_550);
    // What stands on it is what was agreed then, whatever is agreed later.
    program.run(&["agreement", "set", "2026-001", "--line", "Inspection = 999.00"]).text();
    program.run(&["invoice", "seller", "--name", "Another Name"]).text();
    let later = program.run(&["invoice", "show", "2026-0001", "--json"]).json();
    assert_eq!(later["facts"], facts["facts"]);

    program
        .run(&[
            "invoice",
            "paid",
            "2026-0001",
            "--amount",
            "200",
            "--on",
            "2026-06-12",
            "--how",
            "cheque 1043",
        ])
        .text();
    let half = list(&program);
    assert_eq!((&half[0]["state"], &half[0]["left"]), (&"open".into(), &25_050.into()));
    let text = program.run(&["invoice", "show", "2026-0001"]).text();
    assert!(
        text.contains("Still to be paid in USD: 250.50") && text.contains("cheque 1043"),
        "{text}"
    );
    let paid = program.run(&["invoice", "paid", "2026-0001", "--how", "card"]).text();
    assert!(paid.contains("; paid 20"), "{paid}");
    let nothing = program.run(&["invoice", "paid", "2026-0001", "--how", "card"]).refused();
    assert!(nothing.contains("nothing is left"), "{nothing}");

    let cancel = ["invoice", "cancel", "2026-0001", "--because", "the wrong client"];
    let cancelled = program.run(&cancel);
    assert!(cancelled.err.contains("450.50 USD was paid on 2026-0001"), "{}", cancelled.err);
    assert!(cancelled.text().contains("credit note 2026-0002 takes back invoice 2026-0001"));
    assert!(program.run(&cancel).refused().contains("was cancelled"));
    let states: Vec<String> =
        list(&program).iter().map(|one| one["state"].as_str().unwrap().to_owned()).collect();
    assert_eq!(states, ["cancelled", "credit_note"], "none was deleted");
    program.run(&["invoice", "make", "2026-001"]).text();
    assert_eq!(numbers(&program), ["2026-0001", "2026-0002", "2026-0003"]);
}

#[test]
fn what_cannot_be_charged_is_refused_and_takes_no_number() {
    let program = Nearside::with_job();
    let make =
        |more: &[&str]| program.run(&[&["invoice", "make", "2026-001"], more].concat()).refused();
    assert!(make(&[]).contains("no fee was agreed"));
    assert!(make(&["--line", "Inspection = 425"]).contains("invoice seller"));
    program.run(&["invoice", "seller", "--name", "B. Inspector"]).text();
    assert!(make(&["--line", "Inspection = much"]).contains("no amount"));
    assert!(make(&["--line", "Rebate = -5"]).contains("less than nothing"));
    assert!(make(&["--line", "Inspection = 425", "--date", "June"]).contains("no day"));
    program.run(&["invoice", "make", "2026-001", "--line", "Inspection = 425"]).text();
    assert_eq!(numbers(&program), ["0001"]);
    assert!(program.run(&["invoice", "show", "001"]).refused().contains("the nearest: 0001"));
    assert!(
        program
            .run(&["invoice", "paid", "0001", "--how", "card", "--amount", "1.234"])
            .refused()
            .contains("decimal")
    );
}

#[test]
fn programs_that_draw_at_once_leave_no_gap() {
    let program = charging();
    let make = || {
        for _ in 0..6 {
            program.run(&["invoice", "make", "2026-001", "--another"]).text();
        }
    };
    thread::scope(|scope| {
        for _ in 0..2 {
            scope.spawn(make);
        }
    });
    let expected: Vec<String> = (1..=12).map(|number| format!("2026-{number:04}")).collect();
    assert_eq!(numbers(&program), expected);
}

#[test]
fn a_program_that_is_killed_leaves_no_gap() {
    let program = charging();
    let mut told = BTreeSet::new();
    // Two at a time, each pair killed a little later in its work than the one before.
    for turn in 0..16 {
        let start = || {
            program
                .command(&["invoice", "make", "2026-001", "--another", "--json"])
                .stdout(Stdio::piped())
                .stderr(Stdio::null())
                .spawn()
                .unwrap()
        };
        let mut pair = [start(), start()];
        thread::sleep(Duration::from_millis(8 * turn));
        for child in &mut pair {
            child.kill().ok();
        }
        for child in pair {
            let output = child.wait_with_output().unwrap();
            if let Ok(made) = serde_json::from_slice::<Json>(&output.stdout) {
                told.insert(made["invoice"].as_str().unwrap().to_owned());
            }
        }
    }
    program.run(&["invoice", "make", "2026-001", "--another"]).text();
    let kept = numbers(&program);
    let expected: Vec<String> =
        (1..=kept.len()).map(|number| format!("2026-{number:04}")).collect();
    assert_eq!(kept, expected, "a gap, or a number twice");
    let kept = BTreeSet::from_iter(kept);
    assert!(told.is_subset(&kept), "told and not kept: {:?}", told.difference(&kept));
}

#[test]
fn a_clients_page_waits_for_the_payment_and_then_opens_by_itself() {
    let program = charging();
    let serving = Serving::start(&program);
    let share = ["share", "new", "2026-001", "--after-payment", "--without-pdf", "--json"];
    let early = program.run(&share).refused();
    assert!(early.contains("no invoice that could be paid"), "{early}");
    program.run(&["invoice", "make", "2026-001"]).text();
    let shared = program.run(&share).json();
    let path = shared["address"]
        .as_str()
        .unwrap()
        .strip_prefix(&format!("http://{}", serving.at))
        .unwrap()
        .to_owned();
    let (status, page) = serving.browse("GET", &path, "");
    assert_eq!(status, 200);
    assert!(
        page.contains("The report is ready and waits for the payment")
            && page.contains("http-equiv=\"refresh\""),
        "{page}"
    );
    for told in ["manufactured home", "A. Client", "findings", "The five uses"] {
        assert!(!page.contains(told), "{told}: {page}");
    }
    for hidden in ["readings.html", "report.json", "page.js", "waiting.html"] {
        assert_eq!(serving.browse("GET", &format!("{path}{hidden}"), "").0, 404, "{hidden}");
    }
    assert_eq!(serving.browse("GET", &format!("{path}waiting.css"), "").0, 200);
    let list = program.run(&["share", "list"]).text();
    assert!(list.contains("waits for payment") && list.contains("not opened yet"), "{list}");

    program.run(&["invoice", "paid", "2026-0001", "--how", "card"]).text();
    let (status, page) = serving.browse("GET", &path, "");
    assert!(status == 200 && page.contains("The five uses"), "{page}");
    assert_eq!(serving.browse("GET", &format!("{path}readings.html"), "").0, 200);
    let list = program.run(&["share", "list"]).text();
    assert!(!list.contains("waits") && list.contains("opened once"), "{list}");
}
