//! The papers between inspector and client: what they say, that they add up, and that they are sound PDFs.

use inspection::{
    Agreement, ChargeLine, Charges, Client, Consent, ConsentWay, Currency, DrawnSignature,
    Engagement, Job, Moment, Site, Tax, TaxRate, Taxed,
};
use plan::{Files, Plan, load, load_texts};
use report::content::{Issued, Paper};
use report::letter::{
    AgreementPage, Buyer, InvoiceFacts, InvoiceKind, Letter, Notice, PaidOn, Seller, agreement,
    agreement_page, invoice, letter_pdf, signed_by, waiting_page,
};
use testkit::HOSTILE;

use crate::tools::{File, assert_order};

fn plan_in(language: &str) -> Plan {
    let library = load(&Files::embedded()).unwrap();
    let plan = library.plan("purchase").unwrap();
    match language {
        "en" => plan,
        other => {
            plan.with_texts(&load_texts(other, &Files::of_language(other).unwrap(), &library).texts)
                .0
        }
    }
}

fn charges() -> Charges {
    let line = |text: &str, amount, taxed| ChargeLine { text: text.into(), amount, taxed };
    Charges {
        currency: Currency::USD,
        lines: vec![
            line("Inspection with its report", 38_000, Taxed::All),
            line("Travel, 37 miles", 2_220, Taxed::Untaxed),
        ],
        taxes: vec![Tax { name: "Sales tax".into(), rate: TaxRate { millionths: 60_000 } }],
    }
}

fn job() -> Job {
    Job {
        number: "2026-041".into(),
        purpose: "purchase".into(),
        inspector: "Rosa Field".into(),
        credentials: "licence 1234".into(),
        client: Client {
            name: "Ada Buyer".into(),
            contact: "ada@example.com".into(),
            role: "buyer".into(),
        },
        site: Site { address: "Pitch 7".into(), ..Site::default() },
        engagement: Engagement {
            scope: "The whole unit.\nThe shed too.".into(),
            limits: "Nobody goes on the roof.".into(),
            agreement: Some(Agreement {
                unit: "2019 fifth wheel".into(),
                day: Some("2026-06-12".parse().unwrap()),
                terms: vec!["It is visual.".into(), "It is never a warranty.".into()],
                payment: "By card.".into(),
                charges: charges(),
                ..Agreement::default()
            }),
            ..Engagement::default()
        },
        ..Job::default()
    }
}

fn consent(job: &Job, text: &str) -> Consent {
    Consent {
        name: "Ada Buyer".into(),
        at: Moment::parse("2026-06-03T18:12-04:00").unwrap(),
        how: ConsentWay::Drawn,
        address: "192.0.2.7".into(),
        drawn: DrawnSignature::read("100,200 300,50 500,250;700,100").unwrap(),
        agreed: findings::agreed_sha256(job),
        text: text.into(),
        by: String::new(),
    }
}

fn made() -> (Paper, Issued, String) {
    (Paper::Letter, Issued { year: 2026, month: 6, day: 3, ..Issued::default() }, "Nearside".into())
}

fn agreed(language: &str) -> Letter {
    let job = job();
    let text = agreement(&plan_in(language), &job, None, made()).unwrap().text();
    agreement(&plan_in(language), &job, Some(&consent(&job, &text)), made()).unwrap()
}

fn facts() -> InvoiceFacts {
    let mut facts = InvoiceFacts {
        number: "2026-0007".into(),
        language: "en".into(),
        issued: "2026-06-12".into(),
        due: "2026-06-26".into(),
        visited: "2026-06-12".into(),
        seller: Seller {
            name: "Rosa Field".into(),
            address: vec!["1 Ferry Road".into(), "Alder".into()],
            tax_number: "Tax number 00-0000000".into(),
            payment: "By card or cheque.".into(),
            ..Seller::default()
        },
        buyer: Buyer { name: "Ada Buyer".into(), contact: "ada@example.com".into() },
        job: "2026-041".into(),
        unit: "2019 fifth wheel".into(),
        site: "Pitch 7".into(),
        ..InvoiceFacts::default()
    };
    facts.charge(&charges()).unwrap();
    facts
}

fn paid(amount: i64) -> PaidOn {
    PaidOn { day: "2026-06-13".into(), amount, how: "cheque 1043".into() }
}

fn sound(letter: &Letter) -> File {
    let typeset = letter_pdf(letter).unwrap();
    assert_eq!(typeset.remarks, Vec::<String>::new());
    assert!(typeset.pdf == letter_pdf(letter).unwrap().pdf, "two runs differ");
    let file = File::new(&typeset.pdf);
    file.assert_sound();
    assert_eq!(file.info("Tagged"), "yes");
    assert_eq!(file.info("Title"), letter.title);
    let bytes = String::from_utf8_lossy(&typeset.pdf);
    for declared in ["<pdfaid:part>3</pdfaid:part>", "<pdfuaid:part>1</pdfuaid:part>"] {
        assert!(bytes.contains(declared), "{declared}");
    }
    file
}

fn attached(file: &File, name: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    let saved = folder.path().join(name);
    let (said, done) =
        file.ask("pdfdetach", &["-savefile", name, "-o", saved.to_str().unwrap()], &[]);
    assert!(done, "{said}");
    #[allow(clippy::disallowed_methods, reason = "a test reads what the outside program wrote")]
    std::fs::read_to_string(saved).unwrap()
}

#[test]
fn an_agreement_says_all_of_it_and_carries_the_text_that_was_agreed_to() {
    let letter = agreed("en");
    let file = sound(&letter);
    let said = file.text().replace('\u{200b}', "");
    assert_order(
        &said,
        &[
            "Agreement on an inspection",
            "Rosa Field",
            "Ada Buyer",
            "2019 fifth wheel",
            "Pitch 7",
            "Purchase",
            "June 12, 2026",
            "What will be examined",
            "The shed too.",
            "Nobody goes on the roof.",
            "Fee",
            "Inspection with its report",
            "380.00",
            "Travel, 37 miles, without tax",
            "Sum without tax",
            "402.20",
            "Sales tax, 6 % of 380.00",
            "22.80",
            "Total in USD",
            "425.00",
            "half away from zero",
            "By card.",
            "It is never a warranty.",
            "What agreeing means",
            "Ada Buyer, client",
            "Agreed on June 3, 2026, 18:12 (UTC−04:00) by typing the name",
            "and drawing a signature",
            "From the network address 192.0.2.7",
            "Rosa Field, inspector",
            "Place and date",
        ],
    );
    let unsigned = agreement(&plan_in("en"), &job(), None, made()).unwrap();
    assert_eq!(attached(&file, "agreement.txt"), unsigned.text());
    assert_eq!(letter.text(), unsigned.text(), "a signature is no part of what is agreed to");
    for line in unsigned.text().lines() {
        // Every line of the text stands on the pages too, however it is broken there.
        let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        let last = line.rsplit(": ").next().unwrap();
        let first: String = last
            .trim_start_matches(|c: char| c.is_ascii_digit() || c == '.')
            .trim()
            .chars()
            .take(30)
            .collect();
        assert!(
            words(&said).contains(&words(&first))
                || first.len() > 29 && line.starts_with("Reference"),
            "{line}"
        );
    }
}

#[test]
fn every_drawn_signature_has_words_for_those_who_cannot_see_it() {
    let file = sound(&agreed("en"));
    let (json, read) = file.ask("qpdf", &["--json=1", "--json-key=objects"], &[]);
    assert!(read);
    let value: serde_json::Value = serde_json::from_str(&json).unwrap();
    let objects = value["objects"].as_object().unwrap();
    let figures: Vec<_> = objects.values().filter(|object| object["/S"] == "/Figure").collect();
    assert_eq!(figures.len(), 1);
    assert_eq!(figures[0]["/Alt"], "The signature that Ada Buyer drew");
    // The fee is a table to a screen reader, its head told from its body.
    let count = |kind: &str| objects.values().filter(|object| object["/S"] == kind).count();
    assert_eq!((count("/Table"), count("/TH")), (1, 2));
}

#[test]
fn an_agreement_in_spanish_says_nothing_of_its_own_in_english() {
    let letter = agreed("es");
    let file = sound(&letter);
    let said = file.text();
    for words in [
        "Acuerdo sobre una inspección",
        "Qué se examinará",
        "Honorarios",
        "12 de junio de 2026",
        "Página 1 de",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
    for english in ["Agreement", "What ", "Fee", "Agreed", "Payment", "Terms", "Day of"] {
        assert!(!said.contains(english), "{english}: {said}");
    }
}

#[test]
fn an_invoice_says_what_is_due_and_its_data_add_up() {
    let facts = facts();
    let letter = invoice(&plan_in("en").words, &facts, &[], Paper::A4, "Nearside".into()).unwrap();
    let file = sound(&letter);
    assert_order(
        &file.text(),
        &[
            "Invoice",
            "Job 2026-041",
            "Invoice 2026-0007",
            "Rosa Field",
            "1 Ferry Road",
            "Tax number 00-0000000",
            "Ada Buyer",
            "June 12, 2026",
            "June 26, 2026",
            "380.00",
            "22.20",
            "402.20",
            "22.80",
            "Total in USD",
            "425.00",
            "By card or cheque.",
        ],
    );
    let data: InvoiceFacts = serde_json::from_str(&attached(&file, "invoice.json")).unwrap();
    assert_eq!(data, facts);
    assert_eq!(data.net, data.lines.iter().map(|line| line.amount).sum::<i64>());
    assert_eq!(data.total, data.net + data.taxes.iter().map(|tax| tax.amount).sum::<i64>());
    let half =
        invoice(&plan_in("en").words, &facts, &[paid(20_000)], Paper::A4, String::new()).unwrap();
    assert_order(
        &half.text(),
        &[
            "Total in USD: 425.00",
            "Paid on June 13, 2026 (cheque 1043): -200.00",
            "Still to be paid in USD: 225.00",
        ],
    );
}

#[test]
fn a_credit_note_names_the_invoice_that_it_takes_back() {
    let facts = InvoiceFacts {
        kind: InvoiceKind::CreditNote,
        number: "2026-0008".into(),
        cancels: "2026-0007".into(),
        because: "the wrong client".into(),
        ..facts()
    };
    let letter = invoice(
        &plan_in("es").words,
        &InvoiceFacts { language: "es".into(), ..facts.clone() },
        &[],
        Paper::Letter,
        String::new(),
    )
    .unwrap();
    assert!(sound(&letter).text().contains("Nota de crédito 2026-0008"));
    let letter =
        invoice(&plan_in("en").words, &facts, &[paid(1)], Paper::Letter, String::new()).unwrap();
    let text = sound(&letter).text();
    assert_order(
        &text,
        &[
            "Credit note 2026-0008",
            "Cancels invoice",
            "2026-0007",
            "the wrong client",
            "takes back invoice 2026-0007 in full",
        ],
    );
    assert!(!text.contains("Still to be paid"), "{text}");
}

#[test]
fn an_invoice_without_a_line_is_refused() {
    let empty = InvoiceFacts { lines: Vec::new(), ..facts() };
    let refused = invoice(&plan_in("en").words, &empty, &[], Paper::Letter, String::new());
    assert!(refused.unwrap_err().contains("without a line"));
}

#[test]
fn nothing_that_was_typed_breaks_a_paper_or_speaks_on_its_page() {
    let all = HOSTILE.join(" ");
    let mut job = job();
    job.client.name = all.clone();
    job.engagement.scope = HOSTILE.join("\n");
    job.engagement.agreement.as_mut().unwrap().charges.lines[0].text = all.clone();
    let mut consent = consent(&job, "text");
    consent.name = all.clone();
    let letter = agreement(&plan_in("en"), &job, Some(&consent), made()).unwrap();
    File::new(&letter_pdf(&letter).unwrap().pdf).assert_sound();
    let by = signed_by(&letter.words, &consent);
    for state in [
        AgreementPage::ToAgree { text_sha256: "ab", notice: Some(Notice::Name), name: &all },
        AgreementPage::Agreed { by: &by, text_sha256: "ab", now: true },
    ] {
        let page = agreement_page(&letter, state);
        for part in ["<script>alert", "<img", "onload=\"", "</textarea>"] {
            assert!(!page.contains(part), "{part}: {page}");
        }
        assert!(page.contains("&lt;script&gt;alert(1)"), "{page}");
    }
}

#[test]
fn a_page_asks_for_a_name_and_a_tick_and_says_what_was_wrong() {
    let letter = agreement(&plan_in("en"), &job(), None, made()).unwrap();
    let asked = agreement_page(
        &letter,
        AgreementPage::ToAgree { text_sha256: "ab12", notice: None, name: "" },
    );
    for part in [
        "<html lang=\"en\">",
        "value=\"ab12\"",
        "<label for=\"name\">",
        "<label for=\"box\">",
        "method=\"post\"",
        "id=\"drawing\" hidden",
        "autocomplete=\"name\"",
        "<th scope=\"col\"",
    ] {
        assert!(asked.contains(part), "{part}: {asked}");
    }
    assert!(!asked.contains("role=\"alert\"") && !asked.contains("aria-invalid"), "{asked}");
    let wrong =
        AgreementPage::ToAgree { text_sha256: "ab12", notice: Some(Notice::Box), name: "Ada" };
    let wrong = agreement_page(&letter, wrong);
    for part in [
        "role=\"alert\"",
        "Tick the box",
        "aria-describedby=\"notice\"",
        "value=\"Ada\"",
        "Not agreed yet",
    ] {
        assert!(wrong.contains(part), "{part}: {wrong}");
    }
}

#[test]
fn a_page_that_waits_tells_nothing_of_the_report() {
    let page = waiting_page("es", &plan_in("es").words, "2026-041", "Rosa Field");
    for part in [
        "<html lang=\"es\">",
        "El informe está listo y espera el pago",
        "content=\"60\"",
        "waiting.css",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
    assert!(!page.contains("<script") && !page.contains("page.css"), "{page}");
}
