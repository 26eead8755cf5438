//! Pictures of the screens: some for the handbook where a folder is given, and then every screen in every theme, and in
//! Spanish, to be looked at.

use std::{fs, path::Path};

use serde_json::{Value, json};

use super::{World, go_in_job, make_job};
use crate::{Outcome, Tools, browser::Browser};

/// Where in a job, and the picture's name.
const SCREENS: [(&str, &str); 4] = [
    ("", "app-opening"),
    ("line", "app-line"),
    ("point/regulator_lockup", "app-point"),
    ("left", "app-left"),
];

/// Every screen, with something entered.
const ALL: [(&str, bool); 19] = [
    ("jobs", false),
    ("new", false),
    ("settings", false),
    ("pairing", false),
    ("", true),
    ("line", true),
    ("stop/gas_locker", true),
    ("point/regulator_lockup", true),
    ("point/tyres", true),
    ("point/shower", true),
    ("point/gas_hoses", true),
    ("findings", true),
    ("new-finding", true),
    ("waits", true),
    ("site", true),
    ("search", true),
    ("left", true),
    ("schedule", true),
    ("instruments", true),
];

pub(super) fn check(tools: &Tools) -> Outcome {
    let world = World::new(tools, "pictures")?;
    let folder = tools.pictures.clone().unwrap_or_else(|| world.folder.join("pictures"));
    fs::create_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    let browser = world.paired("phone", "Dane Hollworth")?;
    let job = make_job(&browser, "2026-041")?;
    browser.wait_until_copied(30)?;
    let mut taken = 0;
    for (path, name) in SCREENS {
        go_in_job(&browser, &world, &job, path)?;
        browser.wait_for("main h1")?;
        take(&browser, &folder.join(format!("{name}.png")))?;
        taken += 1;
    }
    if tools.pictures.is_some() {
        taken += every_screen(&world, &browser, &job)?;
    }
    Ok(format!("{taken} pictures in {}", folder.display()))
}

/// Every screen in its whole height, in each theme and in Spanish, into the check's own folder.
fn every_screen(world: &World, browser: &Browser, job: &str) -> Outcome<usize> {
    let folder = world.folder.join("screens");
    fs::create_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    enter_something(world, browser, job)?;
    let mut taken = 0;
    for language in ["en", "es"] {
        browser.go(&format!("{}#/settings", world.server.address()))?;
        browser.wait_for("main h1")?;
        browser.tap(&format!("#language-{language}"))?;
        let themes: &[&str] =
            if language == "en" { &["light", "dark", "sunlight"] } else { &["light"] };
        for (path, in_job) in ALL {
            let before = if in_job { format!("#/job/{job}/") } else { "#/".to_owned() };
            browser.go(&format!("{}{before}{path}", world.server.address()))?;
            browser.wait_for("main h1")?;
            if path == "schedule" {
                browser.wait("what comes next", "document.querySelector('.now .why li')", 60)?;
            }
            for theme in themes {
                let set = "document.documentElement.dataset.theme = arguments[0]";
                browser.script(set, &[json!(theme)])?;
                whole_height(browser, true)?;
                let screen = if path.is_empty() { "opening" } else { path }.replace('/', "-");
                take(browser, &folder.join(format!("{screen}-{theme}-{language}.png")))?;
                whole_height(browser, false)?;
                taken += 1;
            }
        }
    }
    println!("every screen: {taken} pictures in {}", folder.display());
    Ok(taken)
}

/// A reading beyond its limit, a defect seen, a reason, a wait, a state of the site.
fn enter_something(world: &World, browser: &Browser, job: &str) -> Outcome<()> {
    go_in_job(browser, world, job, "point/regulator_lockup")?;
    browser.wait_for("form.entry input.figure")?;
    browser.fill("form.entry input.figure", "16\u{e007}")?;
    browser.wait_for(".stored")?;
    browser.tap_words("Examined")?;
    browser.wait_for(".act-bar.answered")?;
    go_in_job(browser, world, job, "point/tyres")?;
    browser.wait_for("form.entry input.figure")?;
    browser.tap_words("Can’t examine")?;
    browser.wait_for(".act-bar.reasons")?;
    browser.tap(".act-bar.reasons button:nth-of-type(1)")?;
    browser.wait_for(".act-bar.answered")?;
    go_in_job(browser, world, job, "point/shower")?;
    browser.wait_for(".wait")?;
    browser.tap_words("Start the wait")?;
    browser.wait_for(".wait .clock")?;
    browser.wait_until_copied(60)
}

/// Makes the window as tall as what it shows, or as a phone again.
fn whole_height(browser: &Browser, whole: bool) -> Outcome<()> {
    let height = browser.script("return document.documentElement.scrollHeight", &[])?;
    let height = height.as_u64().unwrap_or(844).max(844);
    let height = if whole { height } else { 844 };
    let metrics = json!({"width": 390, "height": height, "deviceScaleFactor": 2, "mobile": true});
    browser.command("Emulation.setDeviceMetricsOverride", &metrics)?;
    let drawn = "return new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))";
    if browser.script(drawn, &[])? != Value::Bool(true) {
        return Err("the page was not drawn".to_owned());
    }
    Ok(())
}

fn take(browser: &Browser, file: &Path) -> Outcome<()> {
    let picture = browser.picture()?;
    if !picture.starts_with(b"\x89PNG") {
        return Err(format!("{} would be no PNG", file.display()));
    }
    fs::write(file, picture).map_err(|error| format!("{}: {error}", file.display()))
}
