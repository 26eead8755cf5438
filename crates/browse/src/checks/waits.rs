//! A wait rings when it is over: in the page and as a notification, after the browser was killed, whichever job is open; and
//! what the browser refuses is said.

use serde_json::{Value, json};

use super::{World, go_in_job, make_job};
use crate::{Outcome, Tools, browser::Browser, page::too_long};

/// A wait of 15 minutes that is of use for 30 (`data/points/water/shower.toml`).
const POINT: &str = "shower";

pub(super) fn check(tools: &Tools) -> Outcome {
    let mut world = World::new(tools, "waits")?;
    let browser = world.paired("phone", "Dane Hollworth")?;
    browser.wait_until_installed()?;
    let job = make_job(&browser, "2026-070")?;
    set_clock(&browser)?;
    allow(&browser, &world, "denied")?;
    browser.go("about:blank")?;
    go_in_job(&browser, &world, &job, &format!("point/{POINT}"))?;
    browser.wait_for(".wait")?;
    browser.tap_words("Start the wait")?;
    browser.wait_for_words(".wait .alerts", "The browser refuses alerts", 10)?;
    browser.wait_until_kept()?;

    allow(&browser, &world, "prompt")?;
    browser.script("document.dispatchEvent(new Event('visibilitychange'))", &[])?;
    browser.wait_for("#alerts")?;
    allow(&browser, &world, "granted")?;
    browser.tap("#alerts")?;
    browser.wait_for_words(".wait .alerts", "Alerts are allowed", 10)?;
    // Two minutes early, not one: on a busy machine some time has passed already.
    forward(&browser, 13)?;
    std::thread::sleep(std::time::Duration::from_millis(2500));
    if !notifications(&browser)?.is_empty() || !told(&browser)?.is_empty() {
        return Err("it rang too early".to_owned());
    }
    forward(&browser, 15)?;
    browser.wait_for_words(".alarm", "Time to go back", 10)?;
    let one = wait_for_notification(&browser, "Time to go back")?;
    if one["data"] != json!(format!("/job/{job}/waits")) {
        return Err(format!("a tap on the alert would not lead to the waits: {one}"));
    }
    forward(&browser, 27)?;
    browser.wait_for_words(".alarm", "Go back now", 10)?;
    wait_for_notification(&browser, "Go back now")?;

    // Killed, and started again without a server, with no job open, after it has run too long.
    world.server.stop()?;
    browser.kill()?;
    let browser = world.browser("phone")?;
    browser.command(
        "Page.addScriptToEvaluateOnNewDocument",
        &json!({"source": clock("32 * 60000")}),
    )?;
    allow(&browser, &world, "granted")?;
    browser.go(&format!("{}#/jobs", world.server.address()))?;
    browser.wait_for_words(".alarm", "Has run too long", 30)?;
    browser.wait_for_words(".alarm", "2026-070", 5)?;
    wait_for_notification(&browser, "Has run too long")?;
    browser.tap_words("To the waits")?;
    browser.wait_for(".cards .card")?;
    browser.tap_words("End the wait")?;
    browser.wait("no alarm", "!document.querySelector('.alarm')", 10)?;
    browser.wait_until_kept()?;
    let start = std::time::Instant::now();
    while !notifications(&browser)?.is_empty() {
        if too_long(start, 10) {
            return Err("the alert of a wait that was ended is still shown".to_owned());
        }
        std::thread::sleep(std::time::Duration::from_millis(100));
    }
    // Nothing of it comes back.
    browser.go("about:blank")?;
    browser.go(&format!("{}#/jobs", world.server.address()))?;
    browser.wait_for("#jobs-here .row")?;
    std::thread::sleep(std::time::Duration::from_millis(1500));
    if !told(&browser)?.is_empty() {
        return Err("an alarm came back after its wait was ended".to_owned());
    }
    Ok("refused and said; allowed with a tap; silent at 13 min, rang at 15, hurried at 27; after a kill at once, with no job open; taken back when ended".to_owned())
}

/// From the next page on, the device's clock can be set forward.
pub(super) fn set_clock(browser: &Browser) -> Outcome<()> {
    let script = clock("Number(localStorage.getItem('shift') ?? 0)");
    let source = json!({"source": script});
    browser.command("Page.addScriptToEvaluateOnNewDocument", &source).map(drop)
}

/// A script that sets the page's clock forward by so many milliseconds.
fn clock(shift: &str) -> String {
    format!(
        "(() => {{
           const Real = Date;
           const shift = () => {{ try {{ return {shift}; }} catch {{ return 0; }} }};
           globalThis.Date = class extends Real {{
             constructor(...given) {{ if (given.length) super(...given); else super(Real.now() + shift()); }}
             static now() {{ return Real.now() + shift(); }}
           }};
         }})()"
    )
}

/// Sets the device's clock so many minutes forward.
pub(super) fn forward(browser: &Browser, minutes: u64) -> Outcome<()> {
    let shift = json!(minutes * 60_000);
    browser.script("localStorage.setItem('shift', arguments[0])", &[shift]).map(drop)
}

/// What the browser answers when it is asked for notifications.
pub(super) fn allow(browser: &Browser, world: &World, setting: &str) -> Outcome<()> {
    let origin = world.server.address();
    let wanted = json!({
        "permission": {"name": "notifications"},
        "setting": setting,
        "origin": origin.trim_end_matches('/'),
    });
    browser.command("Browser.setPermission", &wanted).map(drop)
}

fn told(browser: &Browser) -> Outcome<String> {
    let told = browser.script(
        "return [...document.querySelectorAll('.alarm')].map(it => it.innerText).join(' ')",
        &[],
    )?;
    told.as_str().map(str::to_owned).ok_or_else(|| "the page tells nothing".to_owned())
}

fn notifications(browser: &Browser) -> Outcome<Vec<Value>> {
    let shown = browser.script(
        "return navigator.serviceWorker.getRegistration().then(it => it.getNotifications())
           .then(all => all.map(it => ({title: it.title, tag: it.tag, data: it.data})))",
        &[],
    )?;
    shown.as_array().cloned().ok_or_else(|| "the browser does not tell its alerts".to_owned())
}

/// Waits until exactly one notification is shown and it begins with these words.
fn wait_for_notification(browser: &Browser, words: &str) -> Outcome<Value> {
    let start = std::time::Instant::now();
    loop {
        let shown = notifications(browser)?;
        if let [one] = shown.as_slice()
            && one["title"].as_str().is_some_and(|title| title.starts_with(words))
        {
            return Ok(one.clone());
        }
        if too_long(start, 10) {
            return Err(format!("no single alert says {words:?}, but {shown:?}"));
        }
        std::thread::sleep(std::time::Duration::from_millis(100));
    }
}
