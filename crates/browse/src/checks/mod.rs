//! The checks, in order.

mod access;
mod again;
mod alone;
mod client_page;
mod desk;
mod desk_release;
mod engagement;
mod fault;
mod instruments;
mod keyboard;
mod keyboard_acts;
mod kill;
mod memos;
mod offline;
mod pairing;
mod photos;
mod pictures;
mod reads;
mod room;
mod same;
mod schedule;
mod speed;
mod two;
mod update;
mod visit;
mod waits;

use std::{fs, path::PathBuf};

use serde_json::{Value, json};

use crate::{
    Outcome, Tools,
    browser::{Browser, Driver},
    server::Server,
};

/// Name, what it shows, and the check.
type Check = (&'static str, &'static str, fn(&Tools) -> Outcome);

/// All of them.
pub(crate) const ALL: &[Check] = &[
    ("pairing", "a code lets a device in once; a wrong or used one does not", pairing::check),
    (
        "offline",
        "with the server stopped the app starts and works; afterwards the server has it",
        offline::check,
    ),
    (
        "visit",
        "sixty points done offline: what the phone shows is in the server's assessment and in the report",
        visit::check,
    ),
    (
        "room",
        "a disk without room and a promise refused are said; nothing called kept is lost",
        room::check,
    ),
    (
        "reads",
        "a disk that fails when it is read is asked again; what it does not give any more is said",
        reads::check,
    ),
    ("two", "two devices edit one job at once; both keep everything", two::check),
    ("photos", "two hundred photos of one job, each kept and copied", photos::check),
    ("waits", "a wait that is over rings, after a kill too; what is refused is said", waits::check),
    ("memos", "a voice memo is kept, played, copied, listed and packed", memos::check),
    ("schedule", "what comes next, with its reason, planned anew after each act", schedule::check),
    ("kill", "a browser killed at any moment has lost nothing that it said was kept", kill::check),
    (
        "fault",
        "server, lines and browsers fail at random under two devices in one job: what was promised is there",
        fault::check,
    ),
    ("alone", "two tabs never write at once", alone::check),
    ("update", "a newer version is offered, and comes in only with a tap", update::check),
    ("access", "axe-core finds nothing on any screen in any theme", access::check),
    (
        "desk",
        "at a laptop by keys alone: photos placed, findings settled; pages follow typing; 1,000 photos stay smooth",
        desk::check,
    ),
    (
        "again",
        "words found in all jobs, a unit inspected again, stock sentences, names left over, a photo cut: by keys, and on a phone",
        again::check,
    ),
    (
        "engagement",
        "by keys alone an agreement is put to the client, who reads and signs it on a phone; an invoice is made, paid, taken back",
        engagement::check,
    ),
    ("keyboard", "every action is reached and done by keyboard", keyboard::check),
    (
        "client_page",
        "the client's page: axe, no script, small, at phone and laptop width, in both languages",
        client_page::check,
    ),
    ("pictures", "every screen has something to show, as a picture", pictures::check),
    ("speed", "start-up transfer, and ready time at a quarter of the speed", speed::check),
];

/// A server, a driver and a folder, new for each check.
struct World {
    server: Server,
    driver: Driver,
    folder: PathBuf,
}

impl World {
    fn new(tools: &Tools, name: &str) -> Outcome<Self> {
        let folder = tools.scratch.join(name);
        if folder.exists() {
            fs::remove_dir_all(&folder)
                .map_err(|error| format!("{}: {error}", folder.display()))?;
        }
        fs::create_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
        let server = Server::start(&tools.nearside, &folder.join("data"))?;
        Ok(Self { server, driver: Driver::start()?, folder })
    }

    /// A browser with a profile of that name.
    fn browser(&self, profile: &str) -> Outcome<Browser> {
        self.driver.browser(&self.folder.join(profile))
    }

    /// A browser whose device is paired, with the list of jobs before it.
    fn paired(&self, profile: &str, person: &str) -> Outcome<Browser> {
        let browser = self.browser(profile)?;
        browser.go(&self.server.address())?;
        browser.wait_for("#code")?;
        pair(&browser, &self.server.code()?, person)?;
        browser.wait_for("#jobs-here")?;
        Ok(browser)
    }
}

/// Fills the pairing screen in and sends it.
fn pair(browser: &Browser, code: &str, person: &str) -> Outcome<()> {
    browser.fill("#code", code)?;
    browser.fill("#person", person)?;
    browser.tap("button[type=submit]")
}

/// Makes a job from the list of jobs; answers its id.
fn make_job(browser: &Browser, number: &str) -> Outcome<String> {
    browser.tap_words("New job")?;
    browser.wait_for("#number")?;
    browser.fill("#number", number)?;
    browser.fill("#maker", "Quillhaven Coach Works")?;
    browser.tap("button[type=submit]")?;
    browser.wait("the job", "location.hash.startsWith('#/job/')", 30)?;
    browser.wait_until_kept()?;
    browser.wait("the job's page from its top", "scrollY === 0", 5)?;
    let job = browser.script("return location.hash.split('/')[2]", &[])?;
    job.as_str().map(str::to_owned).ok_or_else(|| "the address names no job".to_owned())
}

/// A photo, put into an input for files as a person would choose it: the browser's own dialog cannot be driven.
fn choose_photo(browser: &Browser, input: &str, name: &str) -> Outcome<()> {
    browser.script(
        "return (async (input, name) => {
           const canvas = new OffscreenCanvas(64, 48);
           canvas.getContext('2d').fillRect(8, 8, 20, 20);
           const blob = await canvas.convertToBlob({type: 'image/jpeg'});
           const chosen = new DataTransfer();
           chosen.items.add(new File([blob], name, {type: 'image/jpeg', lastModified: 1781190000000}));
           document.querySelector(input).files = chosen.files;
           document.querySelector(input).dispatchEvent(new Event('change', {bubbles: true}));
         })(arguments[0], arguments[1])",
        &[json!(input), json!(name)],
    )?;
    Ok(())
}

/// Goes to a screen of a job.
fn go_in_job(browser: &Browser, world: &World, job: &str, screen: &str) -> Outcome<()> {
    browser.go(&format!("{}#/job/{job}/{screen}", world.server.address()))?;
    browser.wait_for("nav.tabs")
}

/// Writes a finding.
fn write_finding(browser: &Browser, world: &World, job: &str, heading: &str) -> Outcome<()> {
    go_in_job(browser, world, job, "new-finding")?;
    browser.wait_for("#finding-heading")?;
    browser.fill("#finding-heading", heading)?;
    browser.tap(".act-bar .primary")?;
    browser.wait("the list of findings", "location.hash.endsWith('/findings')", 30)
}

/// The findings on the device, in any order.
fn findings_are(browser: &Browser, world: &World, job: &str, expected: &[&str]) -> Outcome<()> {
    go_in_job(browser, world, job, "findings")?;
    browser.wait_for(".finding")?;
    let seen = "[...document.querySelectorAll('.finding h2')].map(it => it.innerText.replace(/^\\d+ · /, '')).sort()";
    let expected: Vec<Value> = expected.iter().map(|it| json!(it)).collect();
    let there = format!("JSON.stringify({seen}) === JSON.stringify({})", json!(expected));
    browser.wait("the findings that were kept", &there, 20)
}

/// The headings of the findings that the server has, in order of the alphabet.
fn server_findings(world: &World, job: &str) -> Outcome<Vec<String>> {
    let assessed = assessment(world, job)?;
    let findings = assessed["findings"].as_array().into_iter().flatten();
    let mut there: Vec<String> =
        findings.filter_map(|it| it["title"].as_str().map(str::to_owned)).collect();
    there.sort_unstable();
    Ok(there)
}

/// The server's assessment of a job.
fn assessment(world: &World, job: &str) -> Outcome<Value> {
    let text = world.server.run(&["assess", job, "--json"])?;
    serde_json::from_str(&text).map_err(|error| format!("assess --json: {error}"))
}

/// How many records a table of the app's database holds.
fn count(browser: &Browser, table: &str) -> Outcome<u64> {
    let count = browser.script(
        "return new Promise((done, fail) => {
           const open = indexedDB.open('nearside');
           open.onerror = () => fail(open.error);
           open.onsuccess = () => {
             const asked = open.result.transaction(arguments[0]).objectStore(arguments[0]).count();
             asked.onsuccess = () => { open.result.close(); done(asked.result); };
             asked.onerror = () => fail(asked.error);
           };
         })",
        &[json!(table)],
    )?;
    count.as_u64().ok_or_else(|| format!("{table} has no count"))
}
