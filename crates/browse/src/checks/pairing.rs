//! Pairing: by a typed code, by a link, and not by a wrong or used one. A device that is removed says so, keeps what it has,
//! and copies it once it is paired again.

use super::{World, assessment, go_in_job, make_job, pair};
use crate::{Outcome, Tools, browser::Browser};

pub(super) fn check(tools: &Tools) -> Outcome {
    let world = World::new(tools, "pairing")?;
    let first = world.browser("first")?;
    first.go(&world.server.address())?;
    first.wait_for("#code")?;

    // Nothing filled in, then a code that nobody made.
    first.tap("button[type=submit]")?;
    first.wait_for_words("#trouble", "Fill in the code", 5)?;
    pair(&first, "0000-0000", "Dane Hollworth")?;
    first.wait_for_words("#trouble", "does not know this code", 10)?;

    // As people type it: lower case, without the hyphen.
    let code = world.server.code()?;
    pair(&first, &code.to_lowercase().replace('-', ""), "Dane Hollworth")?;
    first.wait_for_words("#state", "Connected to the server", 20)?;

    // The same code again, in another browser.
    let second = world.browser("second")?;
    second.go(&world.server.address())?;
    second.wait_for("#code")?;
    pair(&second, &code, "Marisol Etterby")?;
    second.wait_for_words("#trouble", "was used already", 10)?;

    // A link, as behind the QR code: the code is filled in, and is gone from the address.
    let code = world.server.code()?;
    second.go("about:blank")?;
    second.go(&format!("{}#pair={code}", world.server.address()))?;
    second.wait(
        "the code of the link",
        &format!("document.querySelector('#code')?.value === '{code}'"),
        20,
    )?;
    second.wait("an address without the code", "!location.hash.includes('pair=')", 5)?;
    second.fill("#person", "Marisol Etterby")?;
    second.fill("#device", "Kitchen phone")?;
    second.tap("button[type=submit]")?;
    second.wait_for_words("#state", "Connected to the server", 20)?;

    // What one device makes, the other sees and opens.
    let job = make_job(&first, "2026-041")?;
    first.wait_until_copied(30)?;
    second.wait_for_words("#jobs-there", "2026-041", 60)?;
    second.tap("#jobs-there .row")?;
    second.wait_for_words(".title", "Quillhaven", 30)?;
    second.wait_until_copied(30)?;

    let listed = world.server.run(&["device", "list", "--json"])?;
    let devices: serde_json::Value =
        serde_json::from_str(&listed).map_err(|error| format!("device list: {error}"))?;
    if devices.as_array().map(Vec::len) != Some(2) {
        return Err(format!("two devices are paired, the server lists {devices}"));
    }
    removed(&world, &second, &job)?;
    // The other device never noticed.
    first.script("window.dispatchEvent(new Event('online'))", &[])?;
    first.wait_until_copied(30)?;
    Ok("two devices paired; one of them removed: it said so, sent nothing, kept what was entered before and after and through a new \
        start, and copied it once it was paired again"
        .to_owned())
}

/// A device that is removed is shut out, says so, and keeps what it has.
fn removed(world: &World, browser: &Browser, job: &str) -> Outcome<()> {
    const ENTERED: &str = "Entered while shut out";
    browser.wait_until_installed()?;
    world.server.run(&["device", "remove", "Kitchen phone"])?;
    go_in_job(browser, world, job, "new-finding")?;
    browser.wait_for("#finding-heading")?;
    browser.fill("#finding-heading", ENTERED)?;
    browser.tap(".act-bar .primary")?;
    browser.wait_for_words("#state", "was removed from the server", 30)?;
    browser.wait_until_kept()?;
    browser.wait_for_words(".finding h2", ENTERED, 10)?;
    // Also after a start from the disk alone, however often it is asked to copy.
    browser.go("about:blank")?;
    browser.go(&format!("{}#/jobs", world.server.address()))?;
    browser.wait_for("#jobs-here .row")?;
    browser.tap_words("Copy now")?;
    browser.wait_for_words(".note", "was removed from the server", 30)?;
    browser.wait_for_words("#jobs-here", "Only on this device", 10)?;
    if assessment(world, job)?.to_string().contains(ENTERED) {
        return Err("the server took an entry of a device that it had removed".to_owned());
    }
    // Paired again: the old key is gone, nothing else.
    browser.tap_words("Pair")?;
    browser.wait_for("#code")?;
    pair(browser, &world.server.code()?, "Marisol Etterby")?;
    browser.wait_for_words("#state", "Connected to the server", 20)?;
    browser.tap("#jobs-here .row")?;
    browser.wait_for("nav.tabs")?;
    browser.wait_until_copied(60)?;
    if !assessment(world, job)?.to_string().contains(ENTERED) {
        return Err("what was entered while shut out is not on the server".to_owned());
    }
    Ok(())
}
