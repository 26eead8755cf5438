//! Everything with the keyboard alone: each screen's targets are reached with Tab, seen when they have the focus and not
//! hidden by bars; and a whole visit is done without a pointer.

use super::{World, choose_photo, go_in_job, keyboard_acts as acts, memos, update::Newer, waits};
use crate::{Outcome, Tools, browser::Browser};

/// Screens in a job whose targets are walked through, besides those of a photo and of a finding.
const SCREENS: [&str; 19] = [
    "",
    "line",
    "stop/gas_locker",
    "point/tyres",
    "point/regulator_lockup",
    "point/refrigerator",
    "findings",
    "new-finding",
    "waits",
    "site",
    "search",
    "left",
    "schedule",
    "photos",
    "report",
    "again",
    "engagement",
    "release",
    "instruments",
];

pub(super) fn check(tools: &Tools) -> Outcome {
    let world = World::new(tools, "keyboard")?;
    let browser = world.browser("phone")?;
    let mut walk = Walk { browser, acts: 0, targets: 0, faults: Vec::new() };
    walk.browser.go(&world.server.address())?;
    walk.browser.wait_for("#code")?;
    walk.targets("pairing")?;
    walk.browser.tab_to("the code", "it.id === 'code'")?;
    walk.browser.press(&world.server.code()?)?;
    walk.all(acts::PAIRING)?;
    walk.targets("jobs, none")?;
    walk.all(acts::NEW_JOB)?;
    walk.targets("new job")?;
    walk.all(acts::MAKING)?;
    let job = part_of_hash(&walk.browser, 2)?;
    walk.all(acts::OPENING)?;
    walk.all(acts::POINT)?;
    walk.all(acts::FINDINGS)?;
    walk.browser.wait_for("#files")?;
    choose_photo(&walk.browser, "#files", "gauge.jpg")?;
    walk.browser.wait_for(".photos .tile")?;
    walk.all(acts::PHOTO)?;
    memos::microphone(&walk.browser, &world, "granted")?;
    walk.all(acts::MEMO)?;
    walk.all(acts::SCHEDULE)?;
    waiting(&mut walk, &world, &job)?;
    walk.all(acts::OUTSIDE)?;
    screens(&mut walk, &world, &job)?;
    newer(&mut walk, tools)?;
    can_fail(&walk.browser)?;
    walk.browser.new_tab()?;
    walk.browser.go(&world.server.address())?;
    walk.browser.wait_for_words("h1", "Open in another tab", 30)?;
    walk.targets("open in another tab")?;
    walk.all(acts::TAKE_OVER)?;
    if walk.faults.is_empty() {
        return Ok(format!("{} targets reached and seen, {} acts done", walk.targets, walk.acts));
    }
    Err(format!("{} faults:\n  {}", walk.faults.len(), walk.faults.join("\n  ")))
}

/// A wait is started, alerts are allowed, its clock runs beside the keyboard's focus, it is ended.
fn waiting(walk: &mut Walk, world: &World, job: &str) -> Outcome<()> {
    go_in_job(&walk.browser, world, job, "point/refrigerator")?;
    walk.browser.wait_for("section.wait button")?;
    walk.all(acts::WAIT)?;
    waits::allow(&walk.browser, world, "prompt")?;
    walk.browser.script("document.dispatchEvent(new Event('visibilitychange'))", &[])?;
    walk.browser.wait_for("#alerts")?;
    walk.targets("point with a wait that runs")?;
    waits::allow(&walk.browser, world, "granted")?;
    walk.all(acts::ALERTS)?;
    go_in_job(&walk.browser, world, job, "waits")?;
    walk.browser.wait_for(".card .clock")?;
    walk.targets("waits, one runs")?;
    walk.all(acts::WAITS)
}

/// Walks through the targets of every screen.
fn screens(walk: &mut Walk, world: &World, job: &str) -> Outcome<()> {
    for screen in SCREENS {
        go_in_job(&walk.browser, world, job, screen)?;
        walk.browser.wait_for("main h1")?;
        match screen {
            // What is open, and who charges, come from the server.
            "release" => walk.browser.wait_for("#release")?,
            "engagement" => walk.browser.wait_for("#seller-keep")?,
            "schedule" => walk.browser.wait_for(".now .why li")?,
            _ => {}
        }
        walk.targets(if screen.is_empty() { "opening page" } else { screen })?;
    }
    for (screen, to, there) in [
        ("point/regulator_lockup", ".photos .tile", "#caption"),
        ("findings", ".finding .actions button:last-child", "#withdraw"),
    ] {
        go_in_job(&walk.browser, world, job, screen)?;
        walk.browser.wait_for(to)?;
        walk.browser.script(&format!("document.querySelector('{to}').click()"), &[])?;
        walk.browser.wait_for(there)?;
        let screen = part_of_hash(&walk.browser, 3)?;
        walk.targets(&screen)?;
    }
    walk.browser.go(&format!("{}#/settings", world.server.address()))?;
    walk.browser.wait_for("#room")?;
    walk.targets("settings")?;
    walk.archive(world)
}

/// The bar of a newer version is reached, and takes it.
fn newer(walk: &mut Walk, tools: &Tools) -> Outcome<()> {
    walk.browser.wait_until_installed()?;
    let _newer = Newer::offer(tools, &walk.browser)?;
    walk.targets("a newer version")?;
    walk.browser.script("window.sameDocument = true", &[])?;
    walk.all(acts::NEWER)
}

/// A part of the address behind `#`, counted from 0.
fn part_of_hash(browser: &Browser, at: usize) -> Outcome<String> {
    let hash = browser.script("return location.hash", &[])?;
    let part = hash.as_str().and_then(|hash| hash.split('/').nth(at));
    part.map(str::to_owned).ok_or_else(|| format!("the address {hash} has no part {at}"))
}

/// The check must be able to fail.
fn can_fail(browser: &Browser) -> Outcome<()> {
    browser.script(
        "document.querySelector('main').insertAdjacentHTML('beforeend',
           '<button tabindex=-1>unreached</button><span id=hand>pointer alone</span><button id=dim>dim</button>');
         // The page's policy lets no style stand in markup.
         document.querySelector('#hand').style.cursor = 'pointer';
         document.querySelector('#dim').style.setProperty('outline', 'none', 'important')",
        &[],
    )?;
    let (found, _) = browser.keyboard_faults()?;
    for planted in ["unreached", "pointer alone", "id=\"dim\""] {
        if !found.iter().any(|fault| fault.contains(planted)) {
            return Err(format!("a planted fault, {planted}, was not found: {found:?}"));
        }
    }
    Ok(())
}

struct Walk {
    browser: Browser,
    acts: usize,
    targets: u64,
    faults: Vec<String>,
}

impl Walk {
    /// Does acts in order; each must have its effect.
    fn all(&mut self, acts: &[acts::Act]) -> Outcome<()> {
        for act in acts {
            if !act.at.is_empty() {
                self.browser.tab_to(act.what, act.at)?;
            }
            self.browser.press(act.press)?;
            self.browser.wait(act.what, act.then, 20)?;
            self.acts += 1;
        }
        Ok(())
    }

    /// All jobs together: filtered, counted, told apart, and a job of the list opened.
    fn archive(&mut self, world: &World) -> Outcome<()> {
        world.server.run(&["archive", "list"])?;
        self.browser.go(&format!("{}#/jobs", world.server.address()))?;
        self.browser.wait_for("#to-archive")?;
        self.all(acts::ARCHIVE)?;
        self.targets("archive")?;
        self.all(acts::A_JOB_OF_IT)
    }

    /// Walks through the targets of the screen as it is.
    fn targets(&mut self, screen: &str) -> Outcome<()> {
        let (faults, targets) = self.browser.keyboard_faults()?;
        self.faults.extend(faults.into_iter().map(|fault| format!("{screen}: {fault}")));
        self.targets += targets;
        Ok(())
    }
}
