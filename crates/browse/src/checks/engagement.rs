//! Agreement and invoice, by keys alone at the desk: put to the client, read and signed by them on a phone, changed and signed
//! anew, charged, paid in parts, taken back; and what is said where the server is out of reach.

use std::{
    fs,
    path::Path,
    thread,
    time::{Duration, Instant},
};

use serde_json::{Value, json};

use super::{
    World,
    access::{LAPTOP, PHONE, Report},
    go_in_job, instruments, make_job, pair,
};
use crate::{
    Outcome, Tools,
    axe::Axe,
    browser::Browser,
    keys::{ENTER, ESCAPE, SPACE, TAB},
    page::too_long,
};

/// The job, and who signs.
const NUMBER: &str = "2026-051";
const CLIENT: &str = "Marisol Quennell";

pub(super) fn check(tools: &Tools) -> Outcome {
    let mut world = World::new(tools, "engagement")?;
    let pictures = tools.pictures.clone().unwrap_or_else(|| world.folder.join("pictures"));
    fs::create_dir_all(&pictures).map_err(|error| format!("{}: {error}", pictures.display()))?;
    let browser = world.driver.laptop(&world.folder.join("laptop"))?;
    browser.go(&world.server.address())?;
    browser.wait_for("#code")?;
    pair(&browser, &world.server.code()?, "Dane Hollworth")?;
    browser.wait_for("#jobs-here")?;
    let job = make_job(&browser, NUMBER)?;
    browser.wait_for("nav.tabs")?;
    let mut report = Report::new(Axe::read(tools)?, &LAPTOP);

    open(&browser)?;
    report.look(&browser, "engagement, nothing agreed")?;
    put(&browser)?;
    picture(&browser, &pictures, "agreement")?;
    report.look(&browser, "agreement")?;
    let address = address(&browser)?;
    picture(&browser, &pictures, "agreement-address")?;
    report.look(&browser, "agreement with its address")?;

    // The client reads and signs, on a phone of their own.
    let phone = world.browser("client")?;
    let points = sign(&phone, &address, &pictures, &mut report, true)?;
    standing(&browser, "agreed")?;
    browser.wait_for_words("#agreement-standing", "127.0.0.1", 10)?;
    browser.wait_for("#consents svg.signature path")?;
    picture(&browser, &pictures, "agreement-agreed")?;
    report.look(&browser, "agreement, agreed")?;

    // A changed scope needs a new consent, this time by name alone.
    browser.tab_to("what will be examined", "it.id === 'agreed-scope'")?;
    browser.press(" And the shed.")?;
    browser.press(TAB)?;
    standing(&browser, "changed")?;
    report.look(&browser, "agreement, changed")?;
    sign(&phone, &address, &pictures, &mut report, false)?;
    standing(&browser, "agreed")?;
    let consents =
        browser.script("return document.querySelectorAll('#consents > li').length", &[])?;
    if consents != json!(2) {
        return Err(format!("{consents} consents stand there, of 2"));
    }
    // What was entered can be taken back, and done again.
    undone(&browser)?;
    instruments::by_keys(&browser, &mut report, &|name| picture(&browser, &pictures, name))?;

    let number = invoice_and_pay(&browser, &world, &job)?;
    picture(&browser, &pictures, "invoice-paid")?;
    report.look(&browser, "invoice, paid")?;
    let again = invoice_and_pay(&browser, &world, &job)?;
    if again == number {
        return Err(format!("the number {number} was given twice"));
    }
    report.look(&browser, "invoice taken back and another paid")?;
    waits(&browser)?;
    let (faults, targets) = browser.keyboard_faults()?;
    report.problems.extend(faults);
    let saved = pdfs(&browser, &world.folder.join("saved"), NUMBER, &again)?;

    // On a phone's width the same screen.
    let mut on_phone = Report::new(Axe::read(tools)?, &PHONE);
    on_phone.look(&browser, "engagement at phone width")?;
    let wide = browser.script("return document.documentElement.scrollWidth", &[])?;
    if wide.as_u64().is_none_or(|wide| wide > 390) {
        return Err(format!("the screen is {wide} px wide on a phone"));
    }
    picture(&browser, &pictures, "agreement-phone")?;
    browser.script("document.querySelector('#invoice-title').scrollIntoView()", &[])?;
    picture(&browser, &pictures, "invoice-phone")?;

    // Without the server what is agreed is entered all the same, and the rest says why not.
    world.server.stop()?;
    offline(&browser)?;
    report.look(&browser, "engagement without the server")?;
    picture(&browser, &pictures, "engagement-offline")?;
    world.server.start_again()?;
    browser.wait_until_copied(120)?;
    browser.wait(
        "the server again",
        "document.querySelector('#office-standing').dataset.standing === 'fresh'",
        120,
    )?;

    instruments::taken_over(&browser, &world, &mut report)?;
    report.axe.prove(&browser)?;
    report.problems.extend(on_phone.problems);
    if !report.problems.is_empty() {
        let problems = report.problems.join("\n  ");
        return Err(format!("{} problems:\n  {problems}", report.problems.len()));
    }
    Ok(format!(
        "an agreement by keys alone, signed on a phone with {points} points drawn and again by name; invoices {number} and {again} paid in \
         two parts each, one taken back; {saved} PDFs saved; {targets} targets reached by keys; {} screens and themes without a violation; pictures in {}",
        report.screens + on_phone.screens,
        pictures.display()
    ))
}

/// Goes to the screen with its key, and waits until the server has said how things stand.
fn open(browser: &Browser) -> Outcome<()> {
    browser.script("document.activeElement?.blur()", &[])?;
    browser.press("b")?;
    browser.wait_for("#agreement-standing")?;
    browser.wait(
        "what the server says",
        "document.querySelector('#office-standing').dataset.standing === 'fresh'",
        60,
    )
}

/// Waits until the agreement stands like this.
fn standing(browser: &Browser, word: &str) -> Outcome<()> {
    browser.wait(
        &format!("the agreement {word}"),
        &format!("document.querySelector('#agreement-standing')?.dataset.standing === '{word}'"),
        60,
    )
}

/// Puts an agreement to the client: whom, what, and a fee of 450.50.
fn put(browser: &Browser) -> Outcome<()> {
    standing(browser, "nothing")?;
    browser.tab_to("beginning an agreement", "it.id === 'put-agreement'")?;
    browser.press(ENTER)?;
    standing(browser, "not-sent")?;
    browser.tab_to("the client", "it.id === 'agreed-client'")?;
    browser.press(CLIENT)?;
    for (id, text) in [
        ("agreed-contact", "marisol@example.org"),
        ("agreed-site", "Pitch 9, Ferry Hollow"),
        ("agreed-scope", "The whole unit."),
        ("agreed-limits", "Nobody goes on the roof."),
    ] {
        browser.tab_to(id, &format!("it.id === '{id}'"))?;
        browser.press(text)?;
    }
    browser.tab_to("what is charged for", "it.id.startsWith('fee-text-')")?;
    browser.press("Inspection")?;
    browser.press(TAB)?;
    browser.press("425.005")?;
    browser.wait_for_words("#fee-sums", "425.005", 10)?;
    browser.press("\u{e003}")?;
    browser.tab_to("adding a tax", "it.id === 'fee-add-tax'")?;
    browser.press(ENTER)?;
    browser.wait("the tax", "document.activeElement.id.startsWith('fee-tax-')", 10)?;
    browser.press("State sales tax")?;
    browser.press(TAB)?;
    browser.press("6")?;
    browser.wait_for_words("#fee-sums", "450.50 USD", 10)?;
    browser.press(ENTER)?;
    browser.wait(
        "the fee entered",
        "document.querySelector('form.fee').dataset.unsaved !== 'true'",
        10,
    )?;
    browser.tab_to("how it is paid", "it.id === 'agreed-payment'")?;
    browser.press("By card on the day.")?;
    browser.press(TAB)?;
    browser.wait_until_kept()?;
    let unsaved = browser.script(
        "return document.querySelector('.engagement [data-unsaved=true]')?.outerHTML ?? null",
        &[],
    )?;
    if unsaved != Value::Null {
        return Err(format!("something is not entered: {unsaved}"));
    }
    Ok(())
}

/// Makes the client's address, and copies it.
fn address(browser: &Browser) -> Outcome<String> {
    browser.tab_to("making an address", "it.id === 'make-address'")?;
    browser.press(ENTER)?;
    browser.wait("copying it", "document.activeElement.id === 'copy-address'", 60)?;
    browser.press(ENTER)?;
    browser.wait(
        "that it is copied, or marked",
        "document.querySelector('#address-copied').innerText",
        10,
    )?;
    standing(browser, "waiting")?;
    let address = browser.script("return document.querySelector('#client-address').value", &[])?;
    let address = address.as_str().unwrap_or_default().to_owned();
    if !address.contains("/a/") {
        return Err(format!("{address:?} is no address of an agreement"));
    }
    Ok(address)
}

/// The client opens the address at phone width, reads, and agrees: with a drawn signature, or by name alone. How many points
/// were drawn.
fn sign(
    phone: &Browser,
    address: &str,
    pictures: &Path,
    report: &mut Report,
    draws: bool,
) -> Outcome<usize> {
    phone.go(address)?;
    phone.wait_for("form#agree")?;
    let seen = phone.text("main")?;
    for words in ["The whole unit.", "Nobody goes on the roof.", "450.50", CLIENT] {
        if !seen.contains(words) {
            return Err(format!("the agreement does not say {words:?}: {seen}"));
        }
    }
    let problems = looks_well(phone, &report.axe)?;
    report.problems.extend(problems);
    picture(phone, pictures, if draws { "client-agreement" } else { "client-agreement-again" })?;
    // Without a name and a ticked box the browser sends nothing.
    phone.tab_to("agreeing", "it.matches('#agree [type=submit]')")?;
    phone.press(ENTER)?;
    phone.wait(
        "the form still",
        "document.querySelector('form#agree') && !document.querySelector('#name').validity.valid",
        10,
    )?;
    let mut points = 0;
    if draws {
        draw(phone)?;
        phone.tap_words("Clear the drawing")?;
        phone.wait("nothing drawn", "document.querySelector('#drawn').value === ''", 10)?;
        draw(phone)?;
        let drawn = phone.script("return document.querySelector('#drawn').value", &[])?;
        let drawn = drawn.as_str().unwrap_or_default();
        points = drawn.split([' ', ';']).filter(|point| point.contains(',')).count();
        if drawn.split(';').count() != 2 || points < 10 {
            return Err(format!("two lines were drawn, and the page has {drawn:?}"));
        }
        picture(phone, pictures, "client-drawn")?;
    }
    phone.script("document.activeElement?.blur()", &[])?;
    phone.tab_to("the name", "it.id === 'name'")?;
    phone.press(CLIENT)?;
    phone.tab_to("the box", "it.id === 'box'")?;
    phone.press(SPACE)?;
    phone.tab_to("agreeing", "it.matches('#agree [type=submit]')")?;
    phone.press(ENTER)?;
    phone.wait("that it is agreed", "!document.querySelector('form#agree') && document.querySelector('.notice')?.innerText.includes('You have agreed')", 60)?;
    let shown = phone.script("return document.querySelectorAll('.notice .signature svg path, .notice .signature svg polyline').length", &[])?;
    if (shown != json!(0)) != draws {
        return Err(format!("{shown} lines of a signature are shown"));
    }
    let problems = looks_well(phone, &report.axe)?;
    report.problems.extend(problems);
    picture(phone, pictures, if draws { "client-agreed" } else { "client-agreed-again" })?;
    Ok(points)
}

/// Two lines, with a finger.
fn draw(phone: &Browser) -> Outcome<()> {
    // The page still moves by itself to what the browser found missing: drawn is where the field has come to rest.
    let place = phone.script(
        "return (async () => {
           const field = document.querySelector('#field');
           let before, frame;
           do {
             field.scrollIntoView({block: 'center', behavior: 'instant'});
             before = field.getBoundingClientRect().top;
             await new Promise(rest => setTimeout(rest, 400));
             frame = field.getBoundingClientRect();
           } while (frame.top !== before);
           return [frame.left, frame.top, frame.width, frame.height];
         })()",
        &[],
    )?;
    let part = |at: usize| place[at].as_f64().ok_or("the field has no place");
    let (left, top, width, height) = (part(0)?, part(1)?, part(2)?, part(3)?);
    let mut actions = Vec::new();
    for line in [
        [(0.1, 0.8), (0.2, 0.2), (0.3, 0.7), (0.4, 0.2), (0.5, 0.8)],
        [(0.55, 0.5), (0.65, 0.4), (0.75, 0.6), (0.85, 0.4), (0.95, 0.5)],
    ] {
        for (at, (right, down)) in line.into_iter().enumerate() {
            // Whole pixels of the window.
            let (x, y) = ((left + width * right).round(), (top + height * down).round());
            actions.push(json!({"type": "pointerMove", "duration": 40, "x": x, "y": y, "origin": "viewport"}));
            if at == 0 {
                actions.push(json!({"type": "pointerDown", "button": 0}));
            }
        }
        actions.push(json!({"type": "pointerUp", "button": 0}));
    }
    let finger = json!({"type": "pointer", "id": "finger", "parameters": {"pointerType": "touch"}, "actions": actions});
    phone.actions(&json!({"actions": [finger]}))?;
    phone.wait("what was drawn", "document.querySelector('#drawn').value.includes(';')", 10)
}

/// No violation on the client's page, and nothing wider than the phone.
fn looks_well(phone: &Browser, axe: &Axe) -> Outcome<Vec<String>> {
    let found = axe.violations(phone)?.into_iter();
    let mut problems: Vec<String> = found.map(|it| format!("the client's page: {it}")).collect();
    let wide = phone.script("return document.documentElement.scrollWidth", &[])?;
    if wide.as_u64().is_none_or(|wide| wide > 390) {
        problems.push(format!("the client's page is {wide} px wide"));
    }
    Ok(problems)
}

/// An entry is taken back and done again with keys: the consent follows.
fn undone(browser: &Browser) -> Outcome<()> {
    browser.tab_to("the unit", "it.id === 'agreed-unit'")?;
    browser.press(", the blue one")?;
    browser.press(TAB)?;
    standing(browser, "changed")?;
    browser.script("document.activeElement?.blur()", &[])?;
    browser.press("u")?;
    standing(browser, "agreed")?;
    browser.wait(
        "the unit as it was",
        "!document.querySelector('#agreed-unit').value.includes('blue')",
        10,
    )
}

/// Charges for the job and notes that it is paid, in two parts, by keys alone, on the screen that its key leads to; an invoice
/// that stands is taken back first. The invoice's number.
pub(super) fn invoice_and_pay(browser: &Browser, world: &World, job: &str) -> Outcome<String> {
    browser.wait_until_copied(120)?;
    go_in_job(browser, world, job, "line")?;
    browser.wait_for("ol.stops li")?;
    open(browser)?;
    let named = browser.script("return document.querySelector('#seller-name').value", &[])?;
    if named == json!("") {
        name_seller(browser)?;
    }
    let stands = "document.querySelectorAll('.invoice[data-state=open], .invoice[data-state=part-paid], .invoice[data-state=paid]').length";
    if browser.script(&format!("return {stands}"), &[])? != json!(0) {
        browser.tab_to("taking the invoice back", "it.matches('.credit > summary')")?;
        browser.press(ENTER)?;
        browser.tab_to("why", "it.matches('.credit-why')")?;
        browser.press(&format!("charged anew{ENTER}"))?;
        browser.wait(
            "the credit note",
            &format!(
                "{stands} === 0 && document.querySelector('.invoice[data-state=credit-note]')"
            ),
            60,
        )?;
    }
    browser.tab_to("making the invoice", "it.id === 'make-invoice'")?;
    browser.press(ENTER)?;
    browser.wait("the invoice", "document.querySelector('.invoice[data-state=open]')", 60)?;
    browser.wait("its heading", "document.activeElement.matches('.invoice h4')", 10)?;
    let number = browser
        .script("return document.querySelector('.invoice[data-state=open]').dataset.number", &[])?;
    let number = number.as_str().ok_or("the invoice has no number")?.to_owned();

    browser.tab_to("the amount", "it.matches('.pay-amount')")?;
    browser.script("document.activeElement.select()", &[])?;
    browser.press("200")?;
    browser.tab_to("how", "it.matches('.pay-how')")?;
    browser.press(&format!("card{ENTER}"))?;
    let state = |word: &str| {
        format!(
            "document.querySelector('.invoice[data-number=\"{number}\"]').dataset.state === '{word}'"
        )
    };
    browser.wait("a part paid", &state("part-paid"), 60)?;
    browser.wait("its heading", "document.activeElement.matches('.invoice h4')", 10)?;
    // The rest is proposed.
    browser.tab_to("how", "it.matches('.pay-how')")?;
    browser.press(&format!("cheque 1043{ENTER}"))?;
    browser.wait("all of it paid", &state("paid"), 60)?;
    let listed = world.server.run(&["invoice", "list", "--job", job, "--json"])?;
    let listed: Value = serde_json::from_str(&listed).map_err(|error| error.to_string())?;
    let known = listed.as_array().into_iter().flatten().find(|one| one["invoice"] == json!(number));
    match known {
        Some(one)
            if one["state"] == "paid"
                && one["payments"].as_array().is_some_and(|it| it.len() == 2) =>
        {
            Ok(number)
        }
        other => Err(format!("the command line says of {number}: {other:?}")),
    }
}

/// Says who charges, the first time.
fn name_seller(browser: &Browser) -> Outcome<()> {
    for (id, text) in [
        ("seller-name", "Dane Hollworth"),
        ("seller-prefix", "2026-"),
        ("seller-address", "9 Larkfield Lane"),
        ("seller-payment", "By card or cheque."),
    ] {
        browser.tab_to(id, &format!("it.id === '{id}'"))?;
        browser.press(text)?;
    }
    browser.tab_to("keeping it", "it.id === 'seller-keep'")?;
    browser.press(ENTER)?;
    browser.wait(
        "it kept",
        "document.querySelector('#who-charges form').dataset.unsaved !== 'true'",
        60,
    )
}

/// The client's page is told to wait, and told not to.
fn waits(browser: &Browser) -> Outcome<()> {
    browser.script("document.activeElement?.blur()", &[])?;
    for expected in ["true", "false"] {
        browser.tab_to("the page that waits", "it.id === 'pages-wait'")?;
        browser.press(SPACE)?;
        browser.wait("that it is told", &format!("document.querySelector('#pages-wait').getAttribute('aria-checked') === '{expected}'"), 60)?;
    }
    Ok(())
}

/// Saves the agreement and an invoice as PDF, into a folder. How many.
fn pdfs(browser: &Browser, folder: &Path, number: &str, invoice: &str) -> Outcome<usize> {
    fs::create_dir_all(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    browser.command(
        "Browser.setDownloadBehavior",
        &json!({"behavior": "allow", "downloadPath": folder.display().to_string()}),
    )?;
    let pressed = format!("it.matches('.invoice[data-number=\"{invoice}\"] .invoice-pdf')");
    let wanted = [
        ("it.id === 'agreement-pdf'", format!("agreement-{number}.pdf")),
        (pressed.as_str(), format!("invoice-{invoice}.pdf")),
    ];
    for (at, name) in &wanted {
        browser.tab_to(name, at)?;
        browser.press(ENTER)?;
        let (start, file) = (Instant::now(), folder.join(name));
        while !fs::read(&file).is_ok_and(|bytes| bytes.starts_with(b"%PDF-")) {
            if too_long(start, 60) {
                return Err(format!("{} was not saved: {}", file.display(), browser.text("main")?));
            }
            thread::sleep(Duration::from_millis(100));
        }
    }
    Ok(wanted.len())
}

/// What is said without the server, and what can be done all the same.
fn offline(browser: &Browser) -> Outcome<()> {
    browser.tab_to("the limits", "it.id === 'agreed-limits'")?;
    browser.press(" Nor below it.")?;
    browser.press(TAB)?;
    browser.wait_until_kept()?;
    standing(browser, "changed")?;
    browser.tab_to("making an invoice", "it.id === 'make-invoice'")?;
    browser.press(ENTER)?;
    browser.wait_for_words(
        "#sentences",
        "The server cannot be reached, so nothing was done there",
        60,
    )?;
    browser.wait(
        "that the line is down",
        "document.querySelector('#office-standing').dataset.standing === 'no-line'",
        60,
    )?;
    browser.press(ESCAPE)
}

fn picture(browser: &Browser, folder: &Path, name: &str) -> Outcome<()> {
    let file = folder.join(format!("engagement-{name}.png"));
    fs::write(&file, browser.picture()?).map_err(|error| format!("{}: {error}", file.display()))
}
