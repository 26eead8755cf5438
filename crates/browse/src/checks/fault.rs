//! Two devices at work while their server and they themselves are killed at moments that nobody chose, and the line is
//! cut: what was called kept is on its device afterwards, what was called copied is on the server, and both have all.

use std::{thread, time::Duration};

use serde_json::Value;

use super::{World, make_job};
use crate::{Outcome, Tools, browser::Browser};

/// So many faults; `NEARSIDE_FAULTS=200` for more (a fault takes five seconds or so).
const FAULTS: u64 = 8;
const PROFILES: [&str; 2] = ["one", "two"];

/// A sequence without order, the same in each run (Knuth's MMIX generator).
struct Dice(u64);

impl Dice {
    fn up_to(&mut self, most: u64) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }
}

/// A device and what its screen has promised.
struct Device {
    profile: &'static str,
    browser: Browser,
    kept: Vec<String>,
    copied: Vec<String>,
}

pub(super) fn check(tools: &Tools) -> Outcome {
    let faults = std::env::var("NEARSIDE_FAULTS").ok().and_then(|text| text.parse().ok());
    let faults = faults.unwrap_or(FAULTS);
    let mut world = World::new(tools, "fault")?;
    let mut devices = Vec::new();
    for (profile, person) in PROFILES.into_iter().zip(["Dane Hollworth", "Marisol Etterby"]) {
        let browser = world.paired(profile, person)?;
        browser.wait_until_installed()?;
        devices.push(Device { profile, browser, kept: Vec::new(), copied: Vec::new() });
    }
    let mut dice = Dice(2026);
    let mut counts = [0_u64; 4];
    for round in 0..faults {
        let mut device = devices.remove(0);
        let number = format!("2026-{round:03}");
        to_the_jobs(&world, &device.browser)?;
        let fault = dice.up_to(4);
        let told = |why: String| format!("fault {round} (kind {fault}), job {number}: {why}");
        match fault {
            0 => server_killed(&mut world, &device.browser, &number, &mut dice),
            1 => line_cut(&mut world, &device.browser, &number),
            2 => make_job(&device.browser, &number).map(drop),
            _ => begin_a_job(&device.browser, &number, dice.up_to(400)),
        }
        .map_err(told)?;
        if fault != 3 {
            device.kept.push(number.clone());
        }
        if fault >= 2 {
            device.browser.kill().map_err(told)?;
            device.browser = world.browser(device.profile).map_err(told)?;
        }
        to_the_jobs(&world, &device.browser).map_err(told)?;
        look(&world, &mut device).map_err(told)?;
        counts[usize::try_from(fault).unwrap_or_default()] += 1;
        devices.push(device);
    }
    for device in &devices {
        to_the_jobs(&world, &device.browser)?;
        device.browser.wait("everything copied", ALL_COPIED, 120)?;
    }
    let all: Vec<String> = devices.iter().flat_map(|device| device.kept.clone()).collect();
    for device in &mut devices {
        look(&world, device)?;
        // What the other one made, this one is offered.
        for number in &all {
            device.browser.wait_for_words("main", number, 60)?;
        }
    }
    let there = jobs_on_the_server(&world)?;
    if let Some(lost) = all.iter().find(|number| !has(&there, number)) {
        return Err(format!("job {lost} was kept, everything is copied, and the server lacks it"));
    }
    let [server, line, kept, entry] = counts;
    Ok(format!(
        "server killed {server} times, line cut {line}, browser killed {kept} times right after \"kept\" and {entry} times \
         mid-entry; all {} jobs that were called kept are on their devices and on the server",
        all.len()
    ))
}

const ALL_COPIED: &str = "[...document.querySelectorAll('#jobs-here .row')]
    .every(it => it.innerText.includes('Copied to the server'))";

fn to_the_jobs(world: &World, browser: &Browser) -> Outcome<()> {
    browser.go(&format!("{}#/jobs", world.server.address()))?;
    browser.wait_for("#jobs-here")
}

/// SIGKILL at some moment while a job is made; some time later the server is there again.
fn server_killed(
    world: &mut World,
    browser: &Browser,
    number: &str,
    dice: &mut Dice,
) -> Outcome<()> {
    let (before, after) = (dice.up_to(1_500), dice.up_to(1_000));
    let server = &mut world.server;
    thread::scope(|scope| {
        let killer = scope.spawn(move || {
            thread::sleep(Duration::from_millis(before));
            server.stop()?;
            thread::sleep(Duration::from_millis(after));
            server.start_again()
        });
        let made = make_job(browser, number);
        let killed = killer.join().unwrap_or_else(|_| Err("the thread that kills stopped".into()));
        made.map(drop).and(killed)
    })
}

/// Nobody answers while a job is made.
fn line_cut(world: &mut World, browser: &Browser, number: &str) -> Outcome<()> {
    world.server.stop()?;
    let made = make_job(browser, number);
    world.server.start_again()?;
    made.map(drop)
}

/// Sends the form and waits for nothing but so many milliseconds.
fn begin_a_job(browser: &Browser, number: &str, wait: u64) -> Outcome<()> {
    browser.tap_words("New job")?;
    browser.wait_for("#number")?;
    browser.fill("#number", number)?;
    browser.tap("button[type=submit]")?;
    thread::sleep(Duration::from_millis(wait));
    Ok(())
}

/// Holds what the screen says now, and said before, against what is there.
fn look(world: &World, device: &mut Device) -> Outcome<()> {
    for number in &device.kept {
        device.browser.wait_for_words("#jobs-here", number, 30)?;
    }
    let rows = device.browser.script(
        "return [...document.querySelectorAll('#jobs-here .row')].map(it => it.innerText)
           .filter(it => it.includes('Copied to the server'))",
        &[],
    )?;
    let rows: Vec<&str> = rows.as_array().into_iter().flatten().filter_map(Value::as_str).collect();
    for number in &device.kept {
        if rows.iter().any(|row| row.contains(number.as_str())) && !device.copied.contains(number) {
            device.copied.push(number.clone());
        }
    }
    let there = jobs_on_the_server(world)?;
    match device.copied.iter().find(|number| !has(&there, number)) {
        Some(lost) => Err(format!("job {lost} was called copied, and the server lacks it")),
        None => Ok(()),
    }
}

/// The ids of the jobs in the server's folder that have changes.
fn jobs_on_the_server(world: &World) -> Outcome<Vec<String>> {
    let list = world.server.run(&["job", "list", "--json"])?;
    let list: Value = serde_json::from_str(&list).map_err(|error| format!("job list: {error}"))?;
    let jobs = list.as_array().into_iter().flatten();
    Ok(jobs
        .filter(|job| job["changes"].as_u64().is_some_and(|changes| changes > 0))
        .filter_map(|job| Some(job["job"].as_str()?.to_owned()))
        .collect())
}

/// The app makes a job's id from its number.
fn has(jobs: &[String], number: &str) -> bool {
    jobs.iter().any(|job| job.starts_with(number))
}
