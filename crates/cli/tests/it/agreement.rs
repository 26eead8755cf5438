//! The agreement: put to the client, read and signed on paper, here or on a page, and asked for again when it changes.

use serde_json::Value as Json;

use crate::program::Nearside;
use crate::serve::Serving;

/// A job with an agreement of 450.50 dollars.
fn agreed_upon() -> Nearside {
    let program = Nearside::with_job();
    let set = [
        "agreement",
        "set",
        "2026-001",
        "--scope",
        "The whole unit",
        "--limits",
        "Nobody goes on the roof",
        "--payment",
        "By card",
        "--line",
        "Inspection = 425.00",
        "--tax",
        "Sales tax = 6 %",
    ];
    assert!(program.run(&set).text().contains("waits for the client's consent"));
    program
}

fn show(program: &Nearside) -> Json {
    program.run(&["agreement", "show", "2026-001", "--json"]).json()
}

/// The sentences of what is missing that are about the agreement.
fn gaps(program: &Nearside) -> Vec<String> {
    let assessment = program.run(&["assess", "2026-001", "--json"]).json();
    let missing = assessment["missing"].as_array().unwrap().clone();
    let about = |one: &&Json| one["what"].as_str().unwrap().contains("agreed");
    missing.iter().filter(about).map(|one| one["sentence"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn what_is_agreed_stands_in_the_text_and_adds_up() {
    let program = agreed_upon();
    let shown = show(&program);
    assert_eq!((&shown["state"], &shown["fee"]["total"]), (&"waiting".into(), &45_050.into()));
    let text = shown["text"].as_str().unwrap();
    for words in [
        "Agreement on an inspection",
        "Job 2026-001",
        "Client: A. Client",
        "Inspector: B. Inspector",
        "The whole unit",
        "Nobody goes on the roof",
        "Inspection: 425.00",
        "Sales tax, 6 % of 425.00: 25.50",
        "Total in USD: 450.50",
        "Unit: manufactured home",
        "Day of the visit: June 12, 2026",
        "1. ",
        "never a warranty",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    assert!(text.contains(shown["agreed_sha256"].as_str().unwrap()));
    // The terms are in the record: later texts of the firm or the program do not change what was put to the client.
    let terms = program.inspection().job.engagement.agreement.unwrap().terms;
    assert!(terms.len() > 3 && terms.iter().all(|term| text.contains(term)), "{terms:?}");
    // Nothing is lost by setting something else.
    program.run(&["agreement", "set", "2026-001", "--day", "2026-06-13"]).text();
    assert_eq!(show(&program)["fee"], shown["fee"]);
    assert!(
        program
            .run(&["agreement", "set", "2026-001", "--day", "2026-06-13"])
            .text()
            .contains("nothing changed")
    );
}

#[test]
fn a_consent_holds_until_the_scope_changes_and_a_second_one_is_needed() {
    let program = agreed_upon();
    assert_eq!(
        gaps(&program),
        ["the client has not agreed to the terms yet; let them read and sign the agreement"]
    );
    let sign = ["agreement", "sign", "2026-001", "--name", "A. Client"];
    let signed = program.run(&sign).text();
    assert!(signed.contains("agreed by A. Client on 2"), "{signed}");
    assert_eq!(gaps(&program), [""; 0]);
    assert!(program.run(&sign).text().contains("already"), "the same consent twice is one");
    let first = show(&program)["consents"][0].clone();
    assert_eq!(
        (&first["holds"], &first["how"], &first["entered_by"]),
        (&true.into(), &"typed".into(), &"B. Inspector".into())
    );
    let text = first["text"].as_str().unwrap();
    assert_eq!(store::Sha256Hex::of(text.as_bytes()).as_str(), first["text_sha256"]);

    program.run(&["agreement", "set", "2026-001", "--scope", "The whole unit and the shed"]).text();
    assert_eq!(show(&program)["state"], "agreed_otherwise");
    assert!(
        gaps(&program)[0].contains("A. Client agreed on")
            && gaps(&program)[0].contains("new consent")
    );
    // The release names it as it names every open matter.
    let refused = program.run(&["release", "2026-001"]).refused();
    assert!(refused.contains("it needs a new consent"), "{refused}");
    let paper = [
        "agreement",
        "sign",
        "2026-001",
        "--name",
        "A. Client",
        "--on-paper",
        "--at",
        "2026-06-04T08:00-04:00",
    ];
    program.run(&paper).text();
    let now = show(&program);
    assert_eq!(now["state"], "agreed");
    let consents = now["consents"].as_array().unwrap();
    assert_eq!(consents.len(), 2, "the first one stays in the record");
    let paper = consents.iter().find(|one| one["how"] == "on_paper").unwrap();
    assert_eq!(
        (&paper["at"], &paper["holds"]),
        (&"2026-06-04T08:00:00-04:00".into(), &true.into())
    );
    assert!(!refused_release(&program).contains("consent"));
}

fn refused_release(program: &Nearside) -> String {
    program.run(&["release", "2026-001"]).refused()
}

#[test]
fn instruments_that_run_out_before_the_visit_are_told_before_it() {
    let program = agreed_upon();
    let mut sheet = program.sheet();
    sheet.push_str(
        "\n[instruments.manometer]\nkind = \"manometer\"\nname = \"the blue one\"\ncalibrated = \"2025-01-10\"\n\
         calibration_due = \"2026-01-31\"\n",
    );
    let sheet = program.write("sheet.toml", sheet);
    program.run(&["job", "fill", "2026-001", &sheet]).text();
    let words =
        "the blue one: its calibration runs out on 2026-01-31, before the visit on 2026-06-12";
    let shown = program.run(&["agreement", "show", "2026-001"]).text();
    assert!(shown.contains(words), "{shown}");
    assert!(program.run(&["job", "show", "2026-001"]).text().contains(words));
    assert!(program.run(&["schedule", "2026-001"]).text().contains(words));
}

#[test]
fn what_cannot_be_agreed_is_refused_with_a_sentence() {
    let program = Nearside::with_job();
    let set = |more: &[&str]| {
        let arguments = [&["agreement", "set", "2026-001"], more].concat();
        program.run(&arguments).refused()
    };
    assert!(set(&["--line", "Inspection = 425.005"]).contains("2 decimal places"));
    assert!(set(&["--currency", "DOLLAR"]).contains("no currency"));
    assert!(set(&["--language", "fr"]).contains("no texts are in the language `fr`"));
    assert!(set(&["--day", "tomorrow"]).contains("2026-06-12"));
    let sign = |more: &[&str]| {
        let arguments = [&["agreement", "sign", "2026-001"], more].concat();
        program.run(&arguments).refused()
    };
    assert!(sign(&["--name", "A. Client"]).contains("nothing was put to the client"));
    program.run(&["agreement", "set", "2026-001", "--line", "Inspection = 425"]).text();
    assert!(sign(&["--name", " - "]).contains("full name"));
    assert!(sign(&[]).contains("--name"));
    assert!(
        program
            .run(&["agreement", "share", "2026-001"])
            .refused()
            .contains("no server was started")
    );
    assert_eq!(program.inspection().job.engagement.consents.len(), 0);
}

/// The hash of the text in a page's form.
fn text_of(page: &str) -> String {
    let (_, rest) =
        page.split_once("name=\"text\" value=\"").unwrap_or_else(|| panic!("no form: {page}"));
    rest.split('"').next().unwrap().to_owned()
}

#[test]
fn a_client_reads_and_signs_on_a_page_and_an_outdated_text_is_refused() {
    let program = agreed_upon();
    let serving = Serving::start(&program);
    let shared = program.run(&["agreement", "share", "2026-001", "--json"]).json();
    let address = shared["address"].as_str().unwrap();
    let path = address
        .strip_prefix(&format!("http://{}", serving.at))
        .unwrap_or_else(|| panic!("{address}"));
    let (status, page) = serving.browse("GET", path, "");
    assert_eq!(status, 200, "{page}");
    for words in [
        "The whole unit",
        "450.50",
        "Your full name",
        "I have read the text above",
        "agreement.pdf",
    ] {
        assert!(page.contains(words), "{words}: {page}");
    }
    let old = text_of(&page);
    let form = |text: &str, more: &str| format!("name=Ada+%3CBuyer%3E&text={text}{more}");
    // Without the box, without a name: nothing, and the page says what is missing.
    let (status, page) = serving.browse("POST", path, &form(&old, ""));
    assert!(
        status == 422 && page.contains("Tick the box") && page.contains("Ada &lt;Buyer&gt;"),
        "{status}: {page}"
    );
    let (status, page) = serving.browse("POST", path, &format!("agree=yes&text={old}&name=+"));
    assert!(status == 422 && page.contains("Type your full name"), "{status}: {page}");
    let (status, page) = serving.browse("POST", path, &form(&old, "&agree=yes&drawn=%3Csvg%3E"));
    assert!(status == 422 && page.contains("could not be read"), "{status}: {page}");

    // The scope changes while the client reads.
    program.run(&["agreement", "set", "2026-001", "--scope", "The whole unit and the shed"]).text();
    let (status, page) = serving.browse("POST", path, &form(&old, "&agree=yes"));
    assert!(
        status == 422 && page.contains("was changed after you opened this page"),
        "{status}: {page}"
    );
    assert!(page.contains("and the shed"), "the present text is shown: {page}");
    assert_eq!(program.inspection().job.engagement.consents.len(), 0);

    let new = text_of(&page);
    let (status, page) =
        serving.browse("POST", path, &form(&new, "&agree=yes&drawn=10%2C20+30%2C40"));
    assert!(status == 200 && page.contains("You have agreed"), "{status}: {page}");
    assert!(
        page.contains("Ada &lt;Buyer&gt;") && page.contains("127.0.0.1") && page.contains(&new),
        "{page}"
    );
    let engagement = program.inspection().job.engagement;
    let consent = engagement.consents.values().next().unwrap();
    assert_eq!((consent.name.as_str(), consent.address.as_str()), ("Ada <Buyer>", "127.0.0.1"));
    assert_eq!((consent.how.word(), consent.drawn.to_string().as_str()), ("drawn", "10,20 30,40"));
    assert!(consent.at.offset_minutes.is_some() && consent.text.contains("and the shed"));
    assert_eq!(gaps(&program), [""; 0]);
    let trail: Vec<String> =
        program.record().trail().into_iter().map(|entry| entry.message).collect();
    assert!(trail.iter().any(|act| act == "Ada <Buyer> agreed to the terms"), "{trail:?}");
    // Sent twice, or opened again: what was agreed, and no second consent.
    let (status, page) = serving.browse("POST", path, &form(&new, "&agree=yes"));
    assert!(
        status == 200 && page.contains("This was agreed") && !page.contains("<form"),
        "{status}: {page}"
    );
    assert_eq!(program.inspection().job.engagement.consents.len(), 1);
    let (status, pdf) = serving.browse("GET", &format!("{path}agreement.pdf"), "");
    assert!(status == 200 && pdf.starts_with("%PDF-1.7"), "{status}");
    let (status, text) = serving.browse("GET", &format!("{path}agreement.txt"), "");
    assert_eq!((status, store::Sha256Hex::of(text.as_bytes()).as_str()), (200, new.as_str()));

    // A change afterwards: the same page asks again.
    program.run(&["agreement", "set", "2026-001", "--line", "Inspection = 500"]).text();
    let (_, page) = serving.browse("GET", path, "");
    assert_ne!(text_of(&page), new);
    let list = program.run(&["share", "list"]).text();
    assert!(list.contains("agreement, good until"), "{list}");
    let id = list.split_whitespace().next().unwrap();
    program.run(&["share", "revoke", id]).text();
    assert_eq!(serving.browse("GET", path, "").0, 404);
    assert_eq!(serving.browse("POST", path, &form(&new, "&agree=yes")).0, 404);
}

#[test]
fn an_agreement_in_spanish_is_read_in_spanish() {
    let program = agreed_upon();
    program
        .run(&["agreement", "set", "2026-001", "--language", "es", "--scope", "Toda la unidad"])
        .text();
    let shown = show(&program);
    let text = shown["text"].as_str().unwrap();
    for words in [
        "Acuerdo sobre una inspección",
        "Honorarios",
        "Día de la visita: 12 de junio de 2026",
        "nunca es una garantía",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    let pdf = program.path("acuerdo.pdf").to_str().unwrap().to_owned();
    program.run(&["agreement", "show", "2026-001", "--pdf", &pdf, "--paper", "a4"]).text();
    assert!(std::fs::read(&pdf).unwrap().starts_with(b"%PDF"));
}
