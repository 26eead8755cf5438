//! axe-core on every screen in every theme, and what it does not look at: targets of 48 px, and each text's contrast of 7:1.

use serde_json::{Value, json};

use super::{World, choose_photo, go_in_job, instruments, make_job, memos, update::Newer, waits};
use crate::{Outcome, Tools, axe::Axe, browser::Browser, contrast, server::Server};

pub(super) fn check(tools: &Tools) -> Outcome {
    let axe = Axe::read(tools)?;
    let world = World::new(tools, "access")?;
    let mut report = Report::new(axe, &PHONE);
    let browser = world.browser("phone")?;
    pages_of_the_server(&browser, &world, tools, &mut report)?;
    browser.go(&world.server.address())?;
    browser.wait_for("#code")?;
    report.look(&browser, "pairing")?;
    drop(browser);
    let browser = world.paired("paired", "Dane Hollworth")?;
    browser.wait_until_installed()?;
    waits::set_clock(&browser)?;
    browser.go("about:blank")?;
    browser.go(&format!("{}#/jobs", world.server.address()))?;
    browser.wait_for("#jobs-here")?;
    report.look(&browser, "jobs, none")?;
    let job = make_job(&browser, "2026-045")?;
    browser.wait_for("nav.tabs")?;
    report.look(&browser, "opening page")?;
    for screen in EMPTY {
        go_in_job(&browser, &world, &job, screen)?;
        browser.wait_for("main h1")?;
        report.look(&browser, screen)?;
    }
    go_in_job(&browser, &world, &job, "schedule")?;
    browser.wait("what comes next", "document.querySelector('.now .why li')", 60)?;
    report.look(&browser, "schedule, planned")?;
    at_a_point(&browser, &world, &job, &mut report)?;
    with_entries(&browser, &world, &job, &mut report)?;
    bars(tools, &browser, &world, &job, &mut report)?;
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
    contrast::prove(&browser)?;
    browser.new_tab()?;
    browser.go(&world.server.address())?;
    browser.wait_for_words("h1", "Open in another tab", 30)?;
    report.look(&browser, "open in another tab")?;
    if report.problems.is_empty() {
        return Ok(format!(
            "{} screens and themes, no violation; the contrast of {} texts computed, all at least {}:1, among them the {} that axe left open",
            report.screens,
            report.texts,
            contrast::LEAST,
            report.left_open
        ));
    }
    Err(format!("{} problems:\n  {}", report.problems.len(), report.problems.join("\n  ")))
}

/// Screens of a job in which nothing was entered yet.
const EMPTY: [&str; 15] = [
    "line",
    "stop/gas_locker",
    "findings",
    "new-finding",
    "waits",
    "site",
    "search",
    "left",
    "photos",
    "report",
    "again",
    "engagement",
    "release",
    "instruments",
    "finding/none",
];

/// A point before its answer, with a reading being typed, with a refusal, and after it; with a memo under way, a photo and a memo.
fn at_a_point(browser: &Browser, world: &World, job: &str, report: &mut Report) -> Outcome<()> {
    memos::microphone(browser, world, "granted")?;
    go_in_job(browser, world, job, "point/tyres")?;
    browser.wait_for(".act-bar")?;
    report.look(browser, "point")?;
    browser.fill("form.entry input.figure", "12")?;
    report.look(browser, "point, typing")?;
    browser.fill("form.entry input.figure", "12\u{e007}")?;
    browser.tap_words("Can’t examine")?;
    browser.wait_for(".act-bar.reasons")?;
    report.look(browser, "point, reasons")?;
    browser.tap(".act-bar.reasons button:nth-of-type(1)")?;
    browser.wait_for(".act-bar.answered")?;
    choose_photo(browser, "#files", "gauge.jpg")?;
    browser.wait_for(".photos .tile img")?;
    // By a script: the photo that has just come moves what is below it.
    browser.script("document.querySelector('#record').click()", &[])?;
    browser.wait_for("#end-memo")?;
    std::thread::sleep(std::time::Duration::from_millis(1_200));
    browser.tap("#end-memo")?;
    browser.wait_for(".memo")?;
    report.look(browser, "point, answered, with a photo and a memo")?;
    browser.script("document.querySelector('.photos .tile').click()", &[])?;
    browser.wait_for("#caption")?;
    report.look(browser, "photo")
}

/// Screens that show what was entered: a finding, a wait that runs.
fn with_entries(browser: &Browser, world: &World, job: &str, report: &mut Report) -> Outcome<()> {
    go_in_job(browser, world, job, "point/regulator_lockup")?;
    browser.wait_for("form.entry input.figure")?;
    browser.fill("form.entry input.figure", "16\u{e007}")?;
    browser.wait_for(".finding")?;
    report.look(browser, "point with a finding")?;
    go_in_job(browser, world, job, "point/shower")?;
    browser.wait_for(".wait")?;
    browser.tap_words("Start the wait")?;
    browser.wait_for(".wait .clock")?;
    report.look(browser, "point with a wait that runs")?;
    browser.wait_until_copied(60)?;
    for screen in
        ["line", "findings", "left", "photos", "report", "waits", "stop/gas_locker", "search"]
    {
        go_in_job(browser, world, job, screen)?;
        browser.wait_for("main h1")?;
        match screen {
            "report" => browser.wait_for(".live-page")?,
            "search" => browser.fill("#search", "pressure")?,
            _ => {}
        }
        report.look(browser, &format!("{screen}, with entries"))?;
    }
    go_in_job(browser, world, job, "findings")?;
    browser.wait_for(".finding")?;
    browser.tap_words("Decide")?;
    browser.wait_for("#withdraw")?;
    report.look(browser, "a finding to decide")
}

/// All bars at once: a newer version, a memo under way, a wait that is over, a sentence.
fn bars(
    tools: &Tools,
    browser: &Browser,
    world: &World,
    job: &str,
    report: &mut Report,
) -> Outcome<()> {
    go_in_job(browser, world, job, "point/refrigerator")?;
    browser.wait_for(".act-bar.answers")?;
    browser.tap_words("Can’t examine")?;
    browser.wait_for("#own-reason")?;
    browser.fill("#own-reason", "\u{e007}")?;
    browser.wait_for("#sentences .sentence")?;
    waits::forward(browser, 15)?;
    browser.wait_for(".alarm")?;
    let newer = Newer::offer(tools, browser)?;
    go_in_job(browser, world, job, "point/tyres")?;
    browser.wait_for("#record")?;
    browser.script("document.querySelector('#record').click()", &[])?;
    browser.wait_for("#end-memo")?;
    report.look(browser, "every bar")?;
    browser.tap("#end-memo")?;
    browser.wait("no recording", "!document.querySelector('#recording .bar')", 20)?;
    browser.tap("#sentences .sentence button")?;
    browser.wait_until_kept()?;
    drop(newer);
    Ok(())
}

/// The server's own pages: for pairing on its machine, and how a phone is told to trust it.
fn pages_of_the_server(
    browser: &Browser,
    world: &World,
    tools: &Tools,
    report: &mut Report,
) -> Outcome<()> {
    let (on_network, install) = Server::on_network(&tools.nearside, &world.folder.join("network"))?;
    for (address, screen) in [
        (format!("{}pair", world.server.address()), "the server's page to pair"),
        (format!("http://127.0.0.1:{install}/"), "the server's page to be trusted"),
    ] {
        for scheme in ["light", "dark"] {
            let media = json!({"features": [{"name": "prefers-color-scheme", "value": scheme}]});
            browser.command("Emulation.setEmulatedMedia", &media)?;
            browser.go(&address)?;
            browser.wait_for("main h1")?;
            report.look(browser, &format!("{screen}, on a {scheme} screen"))?;
        }
    }
    browser.command("Emulation.setEmulatedMedia", &json!({"features": []}))?;
    drop(on_network);
    Ok(())
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
    /// Texts whose contrast was computed, and places where axe could not tell it.
    texts: u64,
    left_open: u64,
}

impl Report {
    pub(super) fn new(axe: Axe, size: &'static Size) -> Self {
        Self { axe, size, screens: 0, problems: Vec::new(), texts: 0, left_open: 0 }
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
            let (violations, left_open) = self.axe.judge(browser)?;
            let (faint, texts) = contrast::faint(browser)?;
            self.left_open += left_open;
            self.texts += texts;
            let faint = faint.into_iter().map(|it| format!("below {}:1: {it}", contrast::LEAST));
            for problem in violations.into_iter().chain(faint) {
                self.problems.push(format!("{screen}, {theme}: {problem}"));
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
