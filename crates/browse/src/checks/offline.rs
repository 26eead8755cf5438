//! The server is stopped: the app starts and a job is made; then the server is there again and has everything.

use super::{World, count, make_job};
use crate::{Outcome, Tools};

pub(super) fn check(tools: &Tools) -> Outcome {
    let mut world = World::new(tools, "offline")?;
    let browser = world.paired("phone", "Dane Hollworth")?;
    browser.wait_until_installed()?;
    let durability = browser.script(
        "return new Promise(done => {
           const open = indexedDB.open('nearside');
           open.onsuccess = () => {
             const was = IDBDatabase.prototype.transaction;
             open.result.close();
             window.durabilities = [];
             IDBDatabase.prototype.transaction = function (...all) {
               const begun = was.apply(this, all);
               if (begun.mode === 'readwrite') window.durabilities.push(begun.durability);
               return begun;
             };
             done(true);
           };
         })",
        &[],
    )?;
    if durability != serde_json::Value::Bool(true) {
        return Err("the database could not be watched".to_owned());
    }
    world.server.stop()?;
    let job = make_job(&browser, "2026-042")?;
    let seen = browser.script("return window.durabilities", &[])?;
    let seen = seen.as_array().ok_or("no transaction was watched")?;
    if seen.is_empty() || seen.iter().any(|one| one != "strict") {
        return Err(format!("a writing transaction did not ask for strict durability: {seen:?}"));
    }
    let writes = seen.len();
    browser.wait(
        "what waits to be copied",
        "/(entries wait|entry waits) to be copied/.test(document.querySelector('#state')?.innerText)",
        30,
    )?;

    // A start from nothing but the disk.
    browser.go("about:blank")?;
    browser.go(&world.server.address())?;
    browser.wait_for_words(".title", "2026-042", 30)?;
    browser.tap_words("‹ Jobs")?;
    browser.wait_for_words("#jobs-here", "2026-042", 30)?;
    let kept = count(&browser, "bytes")?;

    world.server.start_again()?;
    browser.tap_words("Copy now")?;
    browser.wait_for_words("#jobs-here", "Copied to the server", 60)?;
    let listed = world.server.run(&["assess", &job, "--json"])?;
    if !listed.contains("\"") {
        return Err(format!("the server's assessment of {job} is empty"));
    }
    Ok(format!("{writes} strict writes, {kept} change(s) kept without a server and then copied"))
}
