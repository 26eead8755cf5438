//! A newer version on the server: offered, and taken only with a tap; what is half typed holds it up.

use std::fs;

use super::{World, make_job};
use crate::{Outcome, Tools};

pub(super) fn check(tools: &Tools) -> Outcome {
    let worker = tools.app.join("sw.js");
    let old =
        fs::read_to_string(&worker).map_err(|error| format!("{}: {error}", worker.display()))?;
    let outcome = with_newer(tools, &worker, &old);
    // Whatever happened, the app is as it was.
    fs::write(&worker, &old).map_err(|error| format!("{}: {error}", worker.display()))?;
    outcome
}

fn with_newer(tools: &Tools, worker: &std::path::Path, old: &str) -> Outcome {
    let world = World::new(tools, "update")?;
    let browser = world.paired("phone", "Dane Hollworth")?;
    browser.wait_until_installed()?;
    make_job(&browser, "2026-044")?;
    browser.script("window.sameDocument = true", &[])?;
    let caches = "return caches.keys()";
    let before = browser.script(caches, &[])?;

    let newer = old.replacen("const VERSION = 'nearside-", "const VERSION = 'nearside-newer-", 1);
    if newer == old {
        return Err("sw.js has no version to change".to_owned());
    }
    fs::write(worker, &newer).map_err(|error| format!("{}: {error}", worker.display()))?;
    browser.script(
        "return navigator.serviceWorker.getRegistration().then(it => it.update()).then(() => true)",
        &[],
    )?;
    browser.wait_for(".update")?;
    // It waits: this page is still the old one, and so is its cache.
    std::thread::sleep(std::time::Duration::from_secs(2));
    browser.wait("the same page", "window.sameDocument === true", 1)?;
    let both = browser.script(caches, &[])?;
    if both.as_array().map(Vec::len) != Some(2) {
        return Err(format!(
            "the old and the newer version should both be kept, but there are {both}"
        ));
    }

    // Half typed: held up, with a sentence.
    browser.script("const it = document.createElement('p'); it.id = 'half'; it.dataset.unsaved = 'true'; document.querySelector('main').append(it)", &[])?;
    browser.tap_words("Use the new version")?;
    browser.wait_for_words("#sentences", "typed and not entered", 5)?;
    browser.wait("the same page", "window.sameDocument === true", 1)?;
    browser.script("document.querySelector('#half').remove()", &[])?;
    browser.tap_words("Use the new version")?;
    browser.wait(
        "the page loaded anew",
        "window.sameDocument === undefined && document.querySelector('.title')",
        30,
    )?;
    browser.wait_for_words(".title", "2026-044", 30)?;
    let after = browser.script(caches, &[])?;
    if after.as_array().map(Vec::len) != Some(1) || after == before {
        return Err(format!("only the newer version should be kept, but there are {after}"));
    }
    Ok("offered, held up while something was half typed, taken with a tap; the job was open again"
        .to_owned())
}
