//! The end of the evening, by keys alone: what is open is looked at and accepted in words, the job is released with a key of
//! the server's, the client's page gets an address; then the bag is verified from outside.

use std::{fs, path::Path, time::Instant};

use serde_json::{Value, json};

use super::World;
use crate::{
    Outcome,
    browser::Browser,
    keys::{BACKSPACE, DOWN, ENTER, ESCAPE},
};

const PASSPHRASE: &str = "seven plain words in a row";
const WORDS: &str = "told to the client on the telephone";

/// Makes the inspector's key in the server's data folder, as the command line does.
pub(super) fn make_key(world: &World) -> Outcome<()> {
    let file = world.folder.join("passphrase");
    fs::write(&file, PASSPHRASE).map_err(|error| format!("{}: {error}", file.display()))?;
    let file = file.display().to_string();
    world
        .server
        .run(&["key", "new", "--name", "Dane Hollworth", "--passphrase-file", &file])
        .map(drop)
}

/// What came of it.
pub(super) struct Released {
    /// Matters that were open.
    pub(super) open: u64,
    /// Seconds from the press that releases until what was frozen is shown.
    pub(super) seconds: f64,
    /// What `nearside verify` said of the bag.
    pub(super) verified: String,
    /// Pages of the report in it.
    pub(super) pages: usize,
}

/// Goes to what is open, accepts it, and releases the job; `look` is told of each screen.
pub(super) fn release(
    browser: &Browser,
    world: &World,
    job: &str,
    look: &mut dyn FnMut(&str) -> Outcome<()>,
) -> Outcome<Released> {
    browser.wait_until_copied(300)?;
    browser.script("document.activeElement?.blur()", &[])?;
    browser.press("R")?;
    browser.wait_for("#release")?;
    browser.wait("what is open", "document.querySelector('#open-count')", 120)?;
    let kept = number(browser, "document.querySelectorAll('article.release').length")?;
    let open = number(browser, "document.querySelectorAll('#matter-list [role=option]').length")?;
    if open < 2 {
        return Err(format!("{open} matters are open; the demo is to have some"));
    }
    look("release, what is open")?;

    // With nothing accepted, it says what is missing and goes there.
    browser.tab_to("the release", "it.id === 'release'")?;
    browser.press(ENTER)?;
    browser.wait("what is missing", "document.querySelector('#sign-trouble').innerText", 10)?;
    browser.wait("the list", "document.activeElement.id === 'matter-list'", 10)?;
    // One key goes to where a matter is closed, another comes back; what was typed is still there.
    accept_one(browser)?;
    browser.press(DOWN)?;
    browser.press(ENTER)?;
    browser.wait("where it is closed", "!location.hash.endsWith('/release')", 10)?;
    browser.wait_for("main h1")?;
    browser.script("document.activeElement?.blur()", &[])?;
    browser.press("R")?;
    browser.wait("what was accepted", &format!("{ACCEPTED} === 1"), 60)?;
    browser.tab_to("the list", "it.id === 'matter-list'")?;
    browser.press("a")?;
    browser.wait("the words", "document.activeElement.id === 'matter-words'", 10)?;
    browser.press(WORDS)?;
    browser.tab_to("all that are left", "it.id === 'accept-rest'")?;
    browser.press(ENTER)?;
    browser.wait("all accepted", &format!("{ACCEPTED} === {open}"), 10)?;

    // A wrong passphrase loses nothing.
    browser.tab_to("the passphrase", "it.id === 'release-passphrase'")?;
    browser.press("no such words")?;
    if kept > 0 {
        browser.tab_to("what changed", "it.id === 'release-because'")?;
        browser.press("the photos of the evening were placed, and three findings settled")?;
    }
    press_release(browser)?;
    browser.wait_for_words("#sign-trouble", "does not open the key", 120)?;
    browser.wait("the passphrase", "document.activeElement.id === 'release-passphrase'", 10)?;
    browser.wait("all accepted still", &format!("{ACCEPTED} === {open}"), 10)?;
    look("release, refused")?;
    browser.press(&BACKSPACE.repeat(20))?;
    browser.press(PASSPHRASE)?;
    let start = Instant::now();
    press_release(browser)?;
    let said = "document.querySelector('#release-progress').innerText";
    browser.wait("how far it has come", said, 60)?;
    let made = kept + 1;
    browser.wait("the release", &format!("document.querySelector('#released-{made}')"), 600)?;
    let seconds = start.elapsed().as_secs_f64();
    browser.wait("its heading", &format!("document.activeElement.id === 'released-{made}'"), 20)?;
    let left = browser.script("return document.querySelector('#release-passphrase').value", &[])?;
    if left != json!("") {
        return Err("the passphrase stays in the page after the release".to_owned());
    }
    look("release, released")?;

    // The client's page, and what has changed since the release before.
    browser.tab_to("an address", "it.id === 'share-make'")?;
    browser.press(ENTER)?;
    browser.wait("the address", "document.activeElement.id === 'share-address'", 300)?;
    let address = browser.script("return document.activeElement.value", &[])?;
    let address = address.as_str().ok_or("no address is shown")?.to_owned();
    if kept > 0 {
        browser.tab_to("what has changed", &format!("it.id === 'since-{kept}'"))?;
        browser.press(ENTER)?;
        browser.wait("the difference", "document.querySelector('.since li')", 120)?;
    }
    look("release, with its page")?;
    browser.new_tab()?;
    browser.go(&address)?;
    browser.wait("the client's page", "document.querySelector('h1')?.innerText", 60)?;
    let photos = number(browser, "document.querySelectorAll('figure.photo').length")?;
    browser.first_tab()?;
    if photos == 0 {
        return Err("the client's page shows no photo".to_owned());
    }
    let verified = verify(world, job, made)?;
    let report = world.folder.join("bag/data/report.pdf");
    let report = fs::read(&report).map_err(|error| format!("{}: {error}", report.display()))?;
    Ok(Released { open, seconds, verified, pages: pages(&report) })
}

/// How many of the open matters are accepted, as the list says.
const ACCEPTED: &str = "[...document.querySelectorAll('#matter-list .row-facts')].filter(it => it.innerText.startsWith('Accepted')).length";

fn accept_one(browser: &Browser) -> Outcome<()> {
    browser.press("a")?;
    browser.wait("the words", "document.activeElement.id === 'matter-words'", 10)?;
    browser.press("dropped")?;
    browser.press(ESCAPE)?;
    browser.wait("the list", "document.activeElement.id === 'matter-list'", 10)?;
    browser.wait("nothing accepted", &format!("{ACCEPTED} === 0"), 10)?;
    browser.press("a")?;
    browser.wait("the words", "document.activeElement.id === 'matter-words'", 10)?;
    browser.press(&BACKSPACE.repeat(10))?;
    browser.press(&format!("{WORDS}{ENTER}"))?;
    browser.wait("one accepted", &format!("{ACCEPTED} === 1"), 10)?;
    browser.wait("the list", "document.activeElement.id === 'matter-list'", 10)
}

fn press_release(browser: &Browser) -> Outcome<()> {
    browser.tab_to("the release", "it.id === 'release'")?;
    browser.press(ENTER)
}

fn number(browser: &Browser, expression: &str) -> Outcome<u64> {
    let found = browser.script(&format!("return {expression}"), &[])?;
    found.as_u64().ok_or_else(|| format!("{expression} is no number: {found}"))
}

/// Pages of a PDF whose objects lie open, as ours do.
fn pages(pdf: &[u8]) -> usize {
    let page = b"/Type/Page";
    let ends = |end: Option<&u8>| end.is_none_or(|letter| !letter.is_ascii_alphabetic());
    let kinds = pdf.windows(page.len()).enumerate().filter(|(_, window)| window == page);
    kinds.filter(|(at, _)| ends(pdf.get(at + page.len()))).count()
}

/// Writes the bag out and lets the program say whether it is what was signed, by this key.
fn verify(world: &World, job: &str, release: u64) -> Outcome<String> {
    let into = world.folder.join("bag");
    let (into, release) = (into.display().to_string(), release.to_string());
    world.server.run(&["export", job, "--release", &release, "--into", &into])?;
    let key = Path::new(&world.server.data_folder()).join("signing-key.public.json");
    let key = key.display().to_string();
    let found = world.server.run(&["verify", &into, "--signer", &key, "--json"])?;
    let found: Value = serde_json::from_str(&found).map_err(|error| error.to_string())?;
    match (found["standing"].as_str(), found["differs"].as_array()) {
        (Some("signed"), Some(differs)) if differs.is_empty() => Ok("signed".to_owned()),
        _ => Err(format!("the bag is not intact: {found}")),
    }
}
