//! Two devices at work in one job while the server is killed, lines are cut and browsers are killed at moments that nobody
//! chose: what was called kept is on its device afterwards, what was called copied is on the server's disk even while the
//! server is dead, and in the end all three hold the same.

use std::{
    sync::{Mutex, MutexGuard, PoisonError},
    thread,
    time::{Duration, Instant},
};

use serde_json::{Value, json};

use super::{World, make_job, pair};
use crate::{Outcome, Tools, browser::Browser, line::Line, page::too_long, server::Server};

const PEOPLE: [(&str, &str); 2] = [("one", "Dane Hollworth"), ("two", "Marisol Etterby")];

/// A sequence without order, the same in each run (Knuth's MMIX generator).
struct Dice(u64);

impl Dice {
    fn up_to(&mut self, most: u64) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }
}

/// A device with the line that is its own.
struct Device {
    name: &'static str,
    browser: Browser,
    line: Line,
}

/// What the screens have promised, by the headings of findings.
#[derive(Default)]
struct Promised {
    /// Called kept, by device.
    kept: [Vec<String>; 2],
    /// Called copied.
    copied: Vec<String>,
    /// Sent off; whether it was kept, nobody saw.
    begun: Vec<String>,
}

/// What befalls one round.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Fault {
    /// After so many milliseconds the server is killed, and so many later it is there again.
    server: Option<(u64, u64)>,
    /// The line of a device is cut after so many milliseconds, and mended so many later.
    line: Option<(usize, u64, u64)>,
    /// The browser of a device is killed.
    browser: Option<(usize, Moment)>,
}

/// When a browser is killed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Moment {
    /// As soon as it says "kept".
    Kept,
    /// So many milliseconds after the entry was sent off.
    Entry(u64),
}

impl Fault {
    /// At least one thing goes wrong.
    fn throw(dice: &mut Dice) -> Self {
        loop {
            let server = (dice.up_to(3) == 0).then(|| (dice.up_to(1_500), dice.up_to(1_000)));
            let line = (dice.up_to(3) == 0)
                .then(|| (usize::from(dice.up_to(2) == 0), dice.up_to(1_000), dice.up_to(2_500)));
            let moment = |dice: &mut Dice| match dice.up_to(2) {
                0 => Moment::Kept,
                _ => Moment::Entry(dice.up_to(400)),
            };
            let browser =
                (dice.up_to(3) == 0).then(|| (usize::from(dice.up_to(2) == 0), moment(dice)));
            let fault = Self { server, line, browser };
            if fault != (Self { server: None, line: None, browser: None }) {
                return fault;
            }
        }
    }
}

pub(super) fn check(tools: &Tools) -> Outcome {
    let rounds = tools.rounds;
    let mut world = World::new(tools, "fault")?;
    let mut devices = Vec::new();
    for (name, person) in PEOPLE {
        let line = Line::start(world.server.port())?;
        let browser = world.browser(name)?;
        browser.go(&line.address())?;
        browser.wait_for("#code")?;
        pair(&browser, &world.server.code()?, person)?;
        browser.wait_for("#jobs-here")?;
        browser.wait_until_installed()?;
        devices.push(Device { name, browser, line });
    }
    let [first, second] = devices.as_slice() else { return Err("two devices".to_owned()) };
    let job = make_job(&first.browser, "2026-070")?;
    first.browser.wait_until_copied(30)?;
    second.browser.wait_for("#jobs-there .row")?;
    second.browser.tap("#jobs-there .row")?;
    second.browser.wait_for("nav.tabs")?;
    second.browser.wait_until_copied(30)?;

    let promised = Mutex::new(Promised::default());
    let mut dice = Dice(2026);
    let [mut servers, mut lines, mut browsers] = [0_u64; 3];
    for round in 0..rounds {
        let fault = Fault::throw(&mut dice);
        servers += u64::from(fault.server.is_some());
        lines += u64::from(fault.line.is_some());
        browsers += u64::from(fault.browser.is_some());
        one_round(&mut world, &mut devices, &job, &promised, round, fault)
            .map_err(|why| format!("round {round}, {fault:?}: {why}"))?;
    }
    let promised = promised.into_inner().unwrap_or_else(PoisonError::into_inner);
    let in_all = in_the_end(&world, &devices, &job, &promised)?;
    let [one, two] = promised.kept.each_ref().map(Vec::len);
    Ok(format!(
        "{rounds} rounds of two devices in one job: server killed {servers} times, a line cut {lines} times, a browser killed {browsers} times; \
         {one} and {two} entries called kept, {} called copied, {} sent off unseen; in the end {in_all} on both devices and on the server, none missing",
        promised.copied.len(),
        promised.begun.len(),
    ))
}

fn one_round(
    world: &mut World,
    devices: &mut [Device],
    job: &str,
    promised: &Mutex<Promised>,
    round: u64,
    fault: Fault,
) -> Outcome<()> {
    let World { server, driver, folder } = world;
    let (driver, folder) = (&*driver, &*folder);
    let (lines, browsers): (Vec<&Line>, Vec<(usize, &'static str, &mut Browser)>) = devices
        .iter_mut()
        .enumerate()
        .map(|(at, device)| (&device.line, (at, device.name, &mut device.browser)))
        .unzip();
    let lines = lines.as_slice();
    thread::scope(|scope| {
        let mut at_work = Vec::new();
        for (at, name, browser) in browsers {
            let killed = fault.browser.filter(|(who, _)| *who == at).map(|(_, moment)| moment);
            let address = lines[at].address();
            at_work.push(scope.spawn(move || {
                let heading = format!("Entry {round} of {name}");
                enter(browser, &address, job, &heading, at, killed, promised)?;
                if killed.is_none() {
                    return Ok(());
                }
                let dead = std::mem::replace(browser, driver.browser(&folder.join(name))?);
                drop(dead);
                let kept = lock(promised).kept[at].clone();
                all_there(browser, &address, job, &kept)
            }));
        }
        if let Some((who, before, after)) = fault.line {
            at_work.push(scope.spawn(move || {
                thread::sleep(Duration::from_millis(before));
                lines[who].cut();
                thread::sleep(Duration::from_millis(after));
                lines[who].mend();
                Ok(())
            }));
        }
        if let Some((before, after)) = fault.server {
            thread::sleep(Duration::from_millis(before));
            server.stop()?;
            // Dead as it is, its folder must hold whatever a screen has called copied.
            let copied = lock(promised).copied.clone();
            let there = on_the_server(server, job)?;
            if let Some(lost) = copied.iter().find(|one| !there.contains(one)) {
                return Err(format!("{lost:?} was called copied, and the dead server lacks it"));
            }
            thread::sleep(Duration::from_millis(after));
            server.start_again()?;
        }
        for one in at_work {
            one.join().unwrap_or_else(|_| Err("a thread stopped".to_owned()))?;
        }
        Ok(())
    })
}

/// Writes a finding and notes what the screen says of it; the browser is killed when it is its time.
fn enter(
    browser: &mut Browser,
    address: &str,
    job: &str,
    heading: &str,
    at: usize,
    killed: Option<Moment>,
    promised: &Mutex<Promised>,
) -> Outcome<()> {
    browser.go(&format!("{address}#/job/{job}/new-finding"))?;
    browser.wait_for("#finding-heading")?;
    browser.fill("#finding-heading", heading)?;
    lock(promised).begun.push(heading.to_owned());
    browser.tap(".act-bar .primary")?;
    if let Some(Moment::Entry(wait)) = killed {
        thread::sleep(Duration::from_millis(wait));
        return browser.kill_now();
    }
    browser.wait("the list of findings", "location.hash.endsWith('/findings')", 30)?;
    browser.wait_until_kept()?;
    let said = browser.text("#state")?;
    {
        let mut promised = lock(promised);
        promised.begun.retain(|one| one != heading);
        promised.kept[at].push(heading.to_owned());
        if said.contains("Copied to the server") {
            // That is said of everything in the job on this device.
            let all = promised.kept[at].clone();
            for one in all {
                if !promised.copied.contains(&one) {
                    promised.copied.push(one);
                }
            }
        }
    }
    if killed == Some(Moment::Kept) { browser.kill_now() } else { Ok(()) }
}

/// Whether the device's own list has all of these.
fn all_there(browser: &Browser, address: &str, job: &str, kept: &[String]) -> Outcome<()> {
    browser.go(&format!("{address}#/job/{job}/findings"))?;
    browser.wait_for("nav.tabs")?;
    let missing = "(wanted => { const seen = new Set([...document.querySelectorAll('.finding h2')].map(it => it.innerText.replace(/^\\d+ · /, '')));
                     return wanted.filter(one => !seen.has(one)); })";
    let start = Instant::now();
    loop {
        let lost = browser.script(&format!("return {missing}(arguments[0])"), &[json!(kept)])?;
        if lost.as_array().is_some_and(Vec::is_empty) {
            return Ok(());
        }
        // The list is drawn after the screen has changed.
        if too_long(start, 20) {
            return Err(format!("called kept, and gone after the restart: {lost}"));
        }
        thread::sleep(Duration::from_millis(100));
    }
}

/// The headings of the findings that the server's folder holds, whether the server runs or not.
fn on_the_server(server: &Server, job: &str) -> Outcome<Vec<String>> {
    let text = server.run(&["assess", job, "--json"])?;
    let assessed: Value =
        serde_json::from_str(&text).map_err(|error| format!("assess --json: {error}"))?;
    let findings = assessed["findings"].as_array().into_iter().flatten();
    Ok(findings.filter_map(|one| one["title"].as_str()).map(str::to_owned).collect())
}

/// Everything works again: both devices and the server come to the same. Answers how many entries all have.
fn in_the_end(world: &World, devices: &[Device], job: &str, promised: &Promised) -> Outcome<usize> {
    let all: Vec<String> = promised.kept.iter().flatten().cloned().collect();
    let mut changes: Vec<Value> = Vec::new();
    for device in devices {
        let address = device.line.address();
        device.browser.go(&format!("{address}#/job/{job}/findings"))?;
        device.browser.wait_for("nav.tabs")?;
        device.browser.wait_until_copied(120)?;
    }
    for device in devices {
        // What the other one has made comes by poke, or with the next round of questions.
        let start = Instant::now();
        while let Err(why) = all_there(&device.browser, &device.line.address(), job, &all) {
            if too_long(start, 90) {
                return Err(format!("device {}: {why}", device.name));
            }
        }
    }
    let start = Instant::now();
    loop {
        changes.clear();
        for device in devices {
            changes.push(device.browser.script(CHANGES, &[])?);
        }
        if changes.first() == changes.get(1) {
            break;
        }
        if too_long(start, 60) {
            return Err(format!("the two devices hold different changes: {changes:?}"));
        }
        thread::sleep(Duration::from_millis(500));
    }
    let on_device = devices.iter().map(|device| device.browser.script(HEADINGS, &[]));
    let on_device = on_device.collect::<Outcome<Vec<Value>>>()?;
    let mut there = on_the_server(&world.server, job)?;
    there.sort();
    for shown in &on_device {
        if *shown != json!(there) {
            return Err(format!("a device shows {shown}, the server has {there:?}"));
        }
    }
    match all.iter().find(|one| !there.contains(one)) {
        Some(lost) => Err(format!("{lost:?} was called kept, and the server lacks it")),
        None => Ok(there.len()),
    }
}

/// The hashes of all changes on a device.
const CHANGES: &str = "return new Promise((done, fail) => {
    const open = indexedDB.open('nearside');
    open.onerror = () => fail(open.error);
    open.onsuccess = () => {
      const asked = open.result.transaction('changes').objectStore('changes').getAllKeys();
      asked.onsuccess = () => { open.result.close(); done(asked.result.sort()); };
      asked.onerror = () => fail(asked.error);
    };
  })";

/// The headings of the findings on the screen, in order.
const HEADINGS: &str = "return [...document.querySelectorAll('.finding h2')].map(it => it.innerText.replace(/^\\d+ · /, '')).sort()";

fn lock(promised: &Mutex<Promised>) -> MutexGuard<'_, Promised> {
    promised.lock().unwrap_or_else(PoisonError::into_inner)
}
