//! Instruments by keys alone: one is entered, its calibration that ran out is said where the visit is prepared and leads back to
//! it, is mended; the instrument is taken out, comes back, and is taken over into another job.

use serde_json::json;

use super::{World, access::Report, go_in_job, make_job};
use crate::{
    Outcome,
    browser::Browser,
    keys::{DOWN, ENTER, ESCAPE},
};

/// Enters an instrument, with a calibration that ran out, on the screen that is open.
pub(super) fn enter(browser: &Browser, name: &str) -> Outcome<()> {
    browser.tab_to("its name", "it.id === 'instrument-name'")?;
    browser.press(name)?;
    browser.tab_to("what it is", "it.id === 'instrument-kind'")?;
    browser.press("manometer")?;
    day(browser, "2020-03-01")?;
    browser.tab_to("its smallest step", "it.id === 'instrument-resolution'")?;
    browser.press("0.1 furlongs per fortnight")?;
    browser.tab_to("adding it", "it.id === 'instrument-add-do'")?;
    browser.press(ENTER)?;
    browser.wait_for_words("#sentences", "0.1 furlongs per fortnight", 10)?;
    let kept = browser.script("return document.querySelector('#instrument-name').value", &[])?;
    if kept != json!(name) {
        return Err(format!("what was typed is gone after a refusal: {kept}"));
    }
    browser.script("document.querySelector('#instrument-resolution').focus()", &[])?;
    browser.script("document.activeElement.select()", &[])?;
    browser.press("0.1 inH2O")?;
    browser.tab_to("adding it", "it.id === 'instrument-add-do'")?;
    browser.press(ENTER)?;
    browser.wait("the list", "document.activeElement.id === 'instrument-list'", 10)?;
    browser.wait_for_words("#instrument-list", "ran out on 2020-03-01", 10)
}

/// The day until which the calibration holds: the browser's own field for days is filled in by no keys of its own.
fn day(browser: &Browser, day: &str) -> Outcome<()> {
    browser.script(
        "const field = document.querySelector('#instrument-due');
         field.focus();
         field.value = arguments[0];
         field.dispatchEvent(new Event('input', {bubbles: true}))",
        &[json!(day)],
    )?;
    Ok(())
}

/// From the engagement's screen and back to it.
pub(super) fn by_keys(
    browser: &Browser,
    report: &mut Report,
    picture: &dyn Fn(&str) -> Outcome<()>,
) -> Outcome<()> {
    browser.script("document.activeElement?.blur()", &[])?;
    browser.press("i")?;
    browser.wait_for("#instrument-name")?;
    report.look(browser, "instruments, none")?;
    enter(browser, "Dial 12")?;
    report.look(browser, "instruments")?;
    picture("instruments")?;
    let (faults, _) = browser.keyboard_faults()?;
    report.problems.extend(faults.into_iter().map(|fault| format!("instruments: {fault}")));

    // Where the visit is prepared it is said, and one press leads to it.
    browser.script("document.activeElement?.blur()", &[])?;
    browser.press("b")?;
    browser.wait_for("#instruments-warning")?;
    report.look(browser, "engagement with a calibration that ran out")?;
    picture("instruments-warning")?;
    browser.tab_to("the instrument", "it.closest('#instruments-warning')")?;
    browser.press(ENTER)?;
    browser.wait("its place", "location.hash.includes('/instruments/')", 10)?;
    browser.wait("the list", "document.activeElement.id === 'instrument-list'", 10)?;

    // Its calibration is entered, and the warning is gone.
    browser.press("c")?;
    browser.wait("the day", "document.activeElement.id === 'instrument-due'", 10)?;
    day(browser, "2099-03-01")?;
    browser.press(ESCAPE)?;
    browser.wait("the list", "document.activeElement.id === 'instrument-list'", 10)?;
    browser.wait_for_words("#instruments-standing", "Every calibration lasts", 10)?;

    // It is taken out, and taking that back brings it back.
    browser.press("x")?;
    browser.wait("no instrument", "!document.querySelector('#instrument-list')", 10)?;
    browser.script("document.activeElement?.blur()", &[])?;
    browser.press("u")?;
    browser.wait_for_words("#instrument-list", "valid until 2099-03-01", 10)?;
    browser.press("b")?;
    browser.wait_for("#agreement-standing")?;
    browser.wait("no warning", "!document.querySelector('#instruments-warning')", 10)?;
    browser.wait(
        "what the server says",
        "document.querySelector('#office-standing').dataset.standing === 'fresh'",
        60,
    )
}

/// In a new job those of the first one are taken over as they are there.
pub(super) fn taken_over(browser: &Browser, world: &World, report: &mut Report) -> Outcome<()> {
    browser.go(&format!("{}#/jobs", world.server.address()))?;
    browser.wait_for("#jobs-here .row")?;
    let job = make_job(browser, "2026-052")?;
    go_in_job(browser, world, &job, "instruments")?;
    browser.wait_for("#instrument-name")?;
    browser.tab_to("another job", "it.matches('summary')")?;
    browser.press(ENTER)?;
    browser.tab_to("which", "it.id === 'instruments-over-job'")?;
    browser.press(DOWN)?;
    browser.wait("what it has", "document.querySelector('#instruments-over-all')", 20)?;
    report.look(browser, "instruments of another job")?;
    browser.tab_to("all of them", "it.id === 'instruments-over-all'")?;
    browser.press(ENTER)?;
    browser.wait("the list", "document.activeElement.id === 'instrument-list'", 10)?;
    browser.wait_for_words("#instrument-list", "Dial 12", 10)?;
    browser.wait_for_words("#instrument-list", "valid until 2099-03-01", 10)?;
    browser.wait_for_words("details [role=status]", "lists no instruments that", 10)
}
