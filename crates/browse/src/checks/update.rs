//! A newer version on the server: offered, and taken only with a tap; what is half typed holds it up.

use std::{fs, path::PathBuf};

use super::{World, go_in_job, make_job};
use crate::{Outcome, Tools, browser::Browser, keys::ENTER};

/// The app as it was is put back when this is dropped, whatever happened.
pub(super) struct Newer {
    /// The worker, and its compressed copies, where the app has some.
    old: Vec<(PathBuf, Vec<u8>)>,
}

impl Newer {
    /// Puts a newer version onto the server and lets a browser find it.
    pub(super) fn offer(tools: &Tools, browser: &Browser) -> Outcome<Self> {
        let worker = tools.app.join("sw.js");
        let said = |error: std::io::Error| format!("{}: {error}", worker.display());
        let text = fs::read_to_string(&worker).map_err(said)?;
        let changed =
            text.replacen("const VERSION = 'nearside-", "const VERSION = 'nearside-newer-", 1);
        if changed == text {
            return Err("sw.js has no version to change".to_owned());
        }
        let copies = ["sw.js.br", "sw.js.gz"].map(|name| tools.app.join(name));
        let mut newer = Self { old: vec![(worker.clone(), text.into_bytes())] };
        for copy in copies {
            if let Ok(bytes) = fs::read(&copy) {
                fs::remove_file(&copy).map_err(|error| format!("{}: {error}", copy.display()))?;
                newer.old.push((copy, bytes));
            }
        }
        fs::write(&worker, changed).map_err(said)?;
        browser.script(
            "return navigator.serviceWorker.getRegistration().then(it => it.update()).then(() => true)",
            &[],
        )?;
        browser.wait_for(".update")?;
        Ok(newer)
    }
}

impl Drop for Newer {
    fn drop(&mut self) {
        for (file, bytes) in &self.old {
            drop(fs::write(file, bytes));
        }
    }
}

pub(super) fn check(tools: &Tools) -> Outcome {
    let world = World::new(tools, "update")?;
    let browser = world.paired("phone", "Dane Hollworth")?;
    browser.wait_until_installed()?;
    let job = make_job(&browser, "2026-044")?;
    go_in_job(&browser, &world, &job, "point/tyres")?;
    browser.wait_for("form.entry input.figure")?;
    browser.script("window.sameDocument = true", &[])?;
    let caches = "return caches.keys()";
    let before = browser.script(caches, &[])?;

    let _newer = Newer::offer(tools, &browser)?;
    // It waits: this page is still the old one, and so is its cache.
    std::thread::sleep(std::time::Duration::from_secs(2));
    browser.wait("the same page", "window.sameDocument === true", 1)?;
    let both = browser.script(caches, &[])?;
    if both.as_array().map(Vec::len) != Some(2) {
        return Err(format!(
            "the old and the newer version should both be kept, but there are {both}"
        ));
    }

    // A reading half typed: held up, with a sentence, and what is typed stays.
    browser.fill("form.entry input.figure", "12")?;
    browser.tap_words("Use the new version")?;
    held_up(&browser)?;
    let typed = "document.querySelector('form.entry input.figure').value === '12'";
    browser.wait("what was typed", typed, 1)?;
    browser.fill("form.entry input.figure", &format!("12{ENTER}"))?;
    browser.wait(
        "the reading",
        "document.querySelector('form.entry input.figure').value === ''",
        10,
    )?;
    // A tap would leave the note, which enters it: pressed by a script, while the note keeps the focus.
    browser.fill("#note", "Worn at the edges.")?;
    browser.script("document.querySelector('.update button').click()", &[])?;
    held_up(&browser)?;
    browser.wait(
        "the note is entered",
        "document.querySelector('#note').dataset.unsaved !== 'true'",
        10,
    )?;
    browser.wait_until_kept()?;
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
    browser.wait(
        "what was entered",
        "document.querySelector('#note')?.value === 'Worn at the edges.' && [...document.querySelectorAll('.pad-value')].some(it => it.innerText.startsWith('12'))",
        30,
    )?;
    Ok("offered, held up while a reading and a note were half typed, taken with a tap; the point was open again with what was entered"
        .to_owned())
}

/// The newer version has not come in, and why stands there; it is put away.
fn held_up(browser: &Browser) -> Outcome<()> {
    browser.wait_for_words("#sentences", "typed and not entered", 5)?;
    browser.wait("the same page", "window.sameDocument === true", 1)?;
    browser.tap("#sentences .sentence button")
}
