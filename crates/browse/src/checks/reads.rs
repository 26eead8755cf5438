//! A disk that took everything and fails when it is read: what is kept is copied once the disk works again, and an entry that
//! the disk does not give any more is said to be so, and never said to be kept.

use serde_json::{Value, json};

use super::{
    World, choose_photo, findings_are, go_in_job, make_job, server_findings, write_finding,
};
use crate::{Outcome, Tools, browser::Browser};

pub(super) fn check(tools: &Tools) -> Outcome {
    let mut world = World::new(tools, "reads")?;
    let browser = world.paired("phone", "Dane Hollworth")?;
    browser.wait_until_installed()?;
    let job = make_job(&browser, "2026-049")?;
    write_finding(&browser, &world, &job, "Kept one")?;
    browser.wait_until_kept()?;
    browser.wait_until_copied(30)?;
    let refused = photo(&browser, &mut world, &job)?;
    entry(&browser, &mut world, &job)?;
    Ok(format!(
        "a photo whose bytes could not be read {refused} times was copied once they could; an entry that was gone from the disk was \
         said to be gone, and copied once it was there again"
    ))
}

/// A photo that is kept while nothing can be sent, and that cannot be read when it could be.
fn photo(browser: &Browser, world: &mut World, job: &str) -> Outcome<u64> {
    world.server.stop()?;
    go_in_job(browser, world, job, "point/tyres")?;
    browser.wait_for("#files")?;
    choose_photo(browser, "#files", "gauge.jpg")?;
    browser.wait("the photo", "document.querySelectorAll('.photos .tile').length === 1", 30)?;
    browser.wait_until_kept()?;
    browser.script(
        "window.wholly = Blob.prototype.arrayBuffer;
         window.refused = 0;
         Blob.prototype.arrayBuffer = function () {
           window.refused += 1;
           return Promise.reject(new DOMException('the disk failed', 'NotReadableError'));
         };",
        &[],
    )?;
    world.server.start_again()?;
    browser.wait("the photo to be read in vain, and again", "window.refused >= 2", 120)?;
    let said = browser.text("#state")?;
    if said.contains("not readable") || !said.contains("Kept on this device") {
        return Err(format!("the photo is kept, nobody knows better, and the app says {said:?}"));
    }
    let refused = browser.script(
        "Blob.prototype.arrayBuffer = window.wholly;
         return window.refused;",
        &[],
    )?;
    browser.wait_until_copied(120)?;
    refused.as_u64().ok_or_else(|| "no failure was counted".to_owned())
}

/// An entry whose bytes the disk loses while they are nowhere else, and finds again.
fn entry(browser: &Browser, world: &mut World, job: &str) -> Outcome<()> {
    world.server.stop()?;
    let before = rows(browser)?;
    write_finding(browser, world, job, "Gone two")?;
    browser.wait_until_kept()?;
    let lost: Vec<Value> = rows(browser)?.into_iter().filter(|row| !before.contains(row)).collect();
    if lost.is_empty() {
        return Err("the entry left no bytes on the disk".to_owned());
    }
    for row in &lost {
        change(browser, "table.delete(row[0])", row)?;
    }
    browser.go("about:blank")?;
    findings_are(browser, world, job, &["Kept one"])?;
    let words = format!("not readable now: {}", lost.len());
    browser.wait_for_words("#state", &words, 30)?;
    let said = browser.text("#state")?;
    if said.contains("Kept on this device") || said.contains("being copied") {
        return Err(format!("what is gone is called kept or on its way: {said:?}"));
    }
    browser.tap_words("‹ Jobs")?;
    browser.wait_for_words("#jobs-here", &words, 30)?;

    // The disk has it again.
    for row in &lost {
        change(browser, "table.put(new Uint8Array(row[1]), row[0])", row)?;
    }
    world.server.start_again()?;
    browser.go("about:blank")?;
    findings_are(browser, world, job, &["Gone two", "Kept one"])?;
    browser.wait_until_kept()?;
    browser.wait_until_copied(120)?;
    let there = server_findings(world, job)?;
    if there != ["Gone two", "Kept one"] {
        return Err(format!("the server has {there:?}"));
    }
    Ok(())
}

/// The bytes of all changes on the device, each with its name.
fn rows(browser: &Browser) -> Outcome<Vec<Value>> {
    let rows = browser.script(
        "return new Promise((done, fail) => {
           const open = indexedDB.open('nearside');
           open.onerror = () => fail(open.error);
           open.onsuccess = () => {
             const table = open.result.transaction('bytes').objectStore('bytes');
             const rows = [];
             table.openCursor().onsuccess = event => {
               const at = event.target.result;
               if (!at) { open.result.close(); done(rows); return; }
               rows.push([at.key, [...at.value]]);
               at.continue();
             };
           };
         })",
        &[],
    )?;
    rows.as_array().cloned().ok_or_else(|| "the app's database gives no bytes".to_owned())
}

/// Does something to the bytes of one change.
fn change(browser: &Browser, what: &str, row: &Value) -> Outcome<()> {
    let script = format!(
        "return new Promise((done, fail) => {{
           const row = arguments[0];
           const open = indexedDB.open('nearside');
           open.onerror = () => fail(open.error);
           open.onsuccess = () => {{
             const begun = open.result.transaction('bytes', 'readwrite');
             const table = begun.objectStore('bytes');
             {what};
             begun.oncomplete = () => {{ open.result.close(); done(true); }};
             begun.onabort = () => fail(begun.error);
           }};
         }})"
    );
    browser.script(&script, &[json!(row)]).map(drop)
}
