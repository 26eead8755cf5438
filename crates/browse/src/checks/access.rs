//! axe-core on every screen in every theme, and what it does not look at: targets of 48 px and contrast of 7:1 in
//! sunlight.

use serde_json::{Value, json};

use super::{World, go_in_job, instruments, make_job};
use crate::{Outcome, Tools, axe::Axe, browser::Browser};

pub(super) fn check(tools: &Tools) -> Outcome {
    let axe = Axe::read(tools)?;
    let world = World::new(tools, "access")?;
    let browser = world.browser("phone")?;
    browser.go(&world.server.address())?;
    browser.wait_for("#code")?;
    let mut report = Report::new(axe, &PHONE);
    report.look(&browser, "pairing")?;
    drop(browser);
    let browser = world.paired("paired", "Dane Hollworth")?;
    report.look(&browser, "jobs, none")?;
    let job = make_job(&browser, "2026-045")?;
    browser.wait_for("nav.tabs")?;
    report.look(&browser, "opening page")?;
    for screen in [
        "line",
        "findings",
        "new-finding",
        "waits",
        "site",
        "search",
        "left",
        "schedule",
        "release",
        "instruments",
    ] {
        go_in_job(&browser, &world, &job, screen)?;
        browser.wait_for("main h1")?;
        report.look(&browser, screen)?;
    }
    // A point before its answer, with a reading being typed, and after it; then what was found there.
    go_in_job(&browser, &world, &job, "point/tyres")?;
    browser.wait_for(".act-bar")?;
    report.look(&browser, "point")?;
    browser.fill("form.entry input.figure", "12")?;
    report.look(&browser, "point, typing")?;
    browser.fill("form.entry input.figure", "12\u{e007}")?;
    browser.tap_words("Can’t examine")?;
    browser.wait_for(".act-bar.reasons")?;
    report.look(&browser, "point, reasons")?;
    browser.tap(".act-bar.reasons button:nth-of-type(1)")?;
    browser.wait_for(".act-bar.answered")?;
    report.look(&browser, "point, answered")?;
    for screen in ["line", "findings", "left"] {
        go_in_job(&browser, &world, &job, screen)?;
        browser.wait_for("main h1")?;
        report.look(&browser, &format!("{screen}, with entries"))?;
    }
    go_in_job(&browser, &world, &job, "instruments")?;
    browser.wait_for("#instrument-name")?;
    instruments::enter(&browser, "Dial 12")?;
    report.look(&browser, "instruments, one that ran out")?;
    go_in_job(&browser, &world, &job, "")?;
    browser.wait_for("#instruments-warning")?;
    report.look(&browser, "opening page with a warning")?;
    archive(&browser, &world, &mut report, &job)?;
    for (path, name) in [("#/jobs", "jobs"), ("#/new", "new job"), ("#/settings", "settings")] {
        browser.go(&format!("{}{path}", world.server.address()))?;
        browser.wait_for("main h1")?;
        report.look(&browser, name)?;
    }
    report.axe.prove(&browser)?;
    if report.problems.is_empty() {
        return Ok(format!("{} screens and themes, no violation", report.screens));
    }
    Err(format!("{} problems:\n  {}", report.problems.len(), report.problems.join("\n  ")))
}

/// All jobs together, with lines to draw: the archive follows the jobs by some seconds.
fn archive(browser: &Browser, world: &World, report: &mut Report, job: &str) -> Outcome<()> {
    browser.wait_until_copied(60)?;
    world.server.run(&["point", job, "regulator_lockup", "--examined"])?;
    world.server.run(&["archive", "list"])?;
    browser.go(&format!("{}#/archive", world.server.address()))?;
    browser.wait("the archive", "document.querySelector('#archive-table tbody tr')", 60)?;
    browser.wait_for_words("#archive-jobs", job.split('-').next().unwrap_or(job), 20)?;
    report.look(browser, "archive")?;
    browser.tap("#archive-per-kind")?;
    browser.wait(
        "kinds told apart",
        "document.querySelector('#archive-table th[scope=row]')?.innerText.includes('travel trailer')",
        30,
    )?;
    report.look(browser, "archive, by kind")
}

/// A screen's size.
pub(super) struct Size {
    width: u64,
    height: u64,
    scale: u64,
    phone: bool,
}

pub(super) const PHONE: Size = Size { width: 390, height: 844, scale: 2, phone: true };
pub(super) const LAPTOP: Size = Size { width: 1366, height: 850, scale: 1, phone: false };

/// What was looked at and found.
pub(super) struct Report {
    pub(super) axe: Axe,
    size: &'static Size,
    pub(super) screens: usize,
    pub(super) problems: Vec<String>,
}

impl Report {
    pub(super) fn new(axe: Axe, size: &'static Size) -> Self {
        Self { axe, size, screens: 0, problems: Vec::new() }
    }

    /// Looks at the screen in every theme.
    pub(super) fn look(&mut self, browser: &Browser, screen: &str) -> Outcome<()> {
        // So tall that no bar lies over what could be scrolled from under it.
        let height = browser.script("return document.documentElement.scrollHeight", &[])?;
        let height = height.as_u64().unwrap_or(self.size.height).max(self.size.height) + 200;
        let Size { width, phone, .. } = *self.size;
        browser.command(
            "Emulation.setDeviceMetricsOverride",
            &json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": phone}),
        )?;
        for theme in ["light", "dark", "sunlight"] {
            browser
                .script("document.documentElement.dataset.theme = arguments[0]", &[json!(theme)])?;
            for problem in self.axe.violations(browser)? {
                self.problems.push(format!("{screen}, {theme}: {problem}"));
            }
            if theme == "sunlight" {
                for problem in self.axe.weak_contrast(browser)? {
                    self.problems.push(format!("{screen}, {theme}: below 7:1: {problem}"));
                }
            }
            self.screens += 1;
        }
        for problem in small_targets(browser)? {
            self.problems.push(format!("{screen}: smaller than 48 px: {problem}"));
        }
        browser.command(
            "Emulation.setDeviceMetricsOverride",
            &json!({"width": width, "height": self.size.height, "deviceScaleFactor": self.size.scale, "mobile": phone}),
        )?;
        Ok(())
    }
}

/// Whatever can be tapped and is smaller than 48 by 48 px (a label counts with its field).
fn small_targets(browser: &Browser) -> Outcome<Vec<String>> {
    let found = browser.script(
        "return [...document.querySelectorAll('button, a[href], input, select, textarea, summary, [role=button]')]
           .filter(it => it.offsetParent !== null && !it.closest('.skip'))
           .map(it => it.matches('[type=radio], [type=checkbox]') ? (it.labels[0] ?? it) : it)
           .filter(it => { const box = it.getBoundingClientRect(); return box.width < 47.5 || box.height < 47.5; })
           .map(it => it.outerHTML.slice(0, 160))",
        &[],
    )?;
    let found = found.as_array().ok_or("no targets were measured")?;
    Ok(found.iter().filter_map(Value::as_str).map(str::to_owned).collect())
}
