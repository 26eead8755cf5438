//! A disk without room, and a browser that promises nothing: what is refused is said and tried again, and what was called kept
//! is there afterwards.

use serde_json::{Value, json};

use super::{
    World, choose_photo, count, findings_are, go_in_job, make_job, server_findings, write_finding,
};
use crate::{Outcome, Tools, browser::Browser, page::too_long};

pub(super) fn check(tools: &Tools) -> Outcome {
    let world = World::new(tools, "room")?;
    let browser = world.paired("phone", "Dane Hollworth")?;
    browser.wait_until_installed()?;
    promises(&browser, &world)?;
    let job = make_job(&browser, "2026-048")?;
    write_finding(&browser, &world, &job, "Kept one")?;
    browser.wait_until_kept()?;
    browser.wait_until_copied(30)?;
    let before = count(&browser, "bytes")?;

    // No room: an entry is refused, and said to be. Ended before there is room again, the app has lost what it never called kept.
    without_room(&browser, &world)?;
    write_finding(&browser, &world, &job, "Refused two")?;
    not_kept(&browser)?;
    browser.go("about:blank")?;
    findings_are(&browser, &world, &job, &["Kept one"])?;
    browser.wait_until_kept()?;

    // Another one, and a photo.
    write_finding(&browser, &world, &job, "Refused three")?;
    not_kept(&browser)?;
    go_in_job(&browser, &world, &job, "point/tyres")?;
    browser.wait_for("#files")?;
    let blobs = count(&browser, "blobs")?;
    choose_photo(&browser, "#files", "gauge.jpg")?;
    browser.wait_for_words("#sentences", "gauge.jpg is not kept", 30)?;
    not_kept(&browser)?;
    if (count(&browser, "bytes")?, count(&browser, "blobs")?) != (before, blobs) {
        return Err("a disk without room took something all the same".to_owned());
    }
    if browser.script("return document.querySelectorAll('.photos .tile').length", &[])? != json!(0)
    {
        return Err("a photo that is not kept is listed".to_owned());
    }
    // Room again: the entry is kept by itself, nobody enters it anew; killed at once, it is there.
    quota(&browser, &world, None)?;
    browser.wait_until_kept()?;
    browser.kill()?;
    let browser = world.browser("phone")?;
    findings_are(&browser, &world, &job, &["Kept one", "Refused three"])?;
    write_finding(&browser, &world, &job, "Kept four")?;
    browser.wait_until_kept()?;
    browser.wait_until_copied(60)?;
    let there = server_findings(&world, &job)?;
    if there != ["Kept four", "Kept one", "Refused three"] {
        return Err(format!("the server has {there:?}"));
    }
    Ok("a promise refused and granted, and the room, are said; what a full disk refuses, an entry and a photo, is said; the entry is kept by \
        itself once there is room, and is there after a kill, here and on the server; of what was never called kept nothing is claimed"
        .to_owned())
}

/// What the browser promises, and how much room there is, stand in the settings.
fn promises(browser: &Browser, world: &World) -> Outcome<()> {
    browser.go(&format!("{}#/settings", world.server.address()))?;
    browser.wait_for("#room")?;
    for (setting, words) in [
        ("denied", "has not promised to keep what is here"),
        ("granted", "has promised to keep what is here"),
    ] {
        let wanted = json!({
            "permission": {"name": "persistent-storage"},
            "setting": setting,
            "origin": world.server.address().trim_end_matches('/'),
        });
        browser.command("Browser.setPermission", &wanted)?;
        browser.tap_words("Ask for lasting storage")?;
        browser.wait_for_words("#promise", words, 10)?;
    }
    quota(browser, world, Some(50_000_000))?;
    browser.tap_words("Ask for lasting storage")?;
    browser.wait_for_words("#room", "of 50.0 MB in use", 10)?;
    quota(browser, world, None)?;
    browser.go(&format!("{}#/jobs", world.server.address()))?;
    browser.wait_for("#jobs-here")
}

fn quota(browser: &Browser, world: &World, bytes: Option<u64>) -> Outcome<()> {
    let origin = world.server.address();
    let mut wanted = json!({"origin": origin.trim_end_matches('/')});
    if let Some(bytes) = bytes {
        wanted["quotaSize"] = json!(bytes);
    }
    browser.command("Storage.overrideQuotaForOrigin", &wanted).map(drop)
}

/// From now on the browser has no room for this app. For half a minute it may go by what it last worked out: another
/// database of the same app shows when that is over.
fn without_room(browser: &Browser, world: &World) -> Outcome<()> {
    quota(browser, world, Some(1))?;
    let start = std::time::Instant::now();
    loop {
        let refused = browser.script(
            "return new Promise((done, fail) => {
               const open = indexedDB.open('probe', 1);
               open.onupgradeneeded = () => open.result.createObjectStore('all');
               open.onerror = () => done(open.error?.name === 'QuotaExceededError');
               open.onsuccess = () => {
                 const begun = open.result.transaction('all', 'readwrite');
                 begun.objectStore('all').put(new Uint8Array(1000), 'one');
                 begun.oncomplete = () => { open.result.close(); done(false); };
                 begun.onabort = () => { open.result.close(); done(begun.error?.name === 'QuotaExceededError'); };
               };
             })",
            &[],
        )?;
        if refused == Value::Bool(true) {
            return Ok(());
        }
        if too_long(start, 60) {
            return Err("the browser has no room, and takes everything all the same".to_owned());
        }
        std::thread::sleep(std::time::Duration::from_secs(1));
    }
}

/// The screen says that it is not kept, and why, and nowhere that it is.
fn not_kept(browser: &Browser) -> Outcome<()> {
    browser.wait_for_words("#state", "Not kept yet", 30)?;
    let said = browser.text("#state")?;
    if said.contains("full") && !said.contains("Kept on this device") {
        return Ok(());
    }
    Err(format!("the disk is full, and the app says {said:?}"))
}
