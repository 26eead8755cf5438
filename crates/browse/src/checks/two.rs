//! Two devices edit one job, both without a server; afterwards each has what the other did.

use super::{World, assessment, count, go_in_job, make_job};
use crate::{Outcome, Tools, browser::Browser, page::too_long};

const POINTS: usize = 8;

pub(super) fn check(tools: &Tools) -> Outcome {
    let mut world = World::new(tools, "two")?;
    let first = world.paired("first", "Dane Hollworth")?;
    let second = world.paired("second", "Marisol Etterby")?;
    let job = make_job(&first, "2026-061")?;
    first.wait_until_copied(30)?;
    second.wait_for("#jobs-there .row")?;
    second.tap("#jobs-there .row")?;
    second.wait_for("nav.tabs")?;
    second.wait_until_copied(30)?;
    for browser in [&first, &second] {
        browser.wait_until_installed()?;
    }
    world.server.stop()?;
    // The same points on both: one says "examined", the other "not fitted".
    let here = answer(&first, &world, &job, "Examined")?;
    let there = answer(&second, &world, &job, "Not fitted")?;
    if here != there {
        return Err(format!("the two walked different points: {here:?} and {there:?}"));
    }
    let before = (count(&first, "bytes")?, count(&second, "bytes")?);
    world.server.start_again()?;
    for browser in [&first, &second] {
        browser.script("window.dispatchEvent(new Event('online'))", &[])?;
        browser.wait_until_copied(60)?;
    }
    let all = 1 + 2 * u64::try_from(POINTS).unwrap_or_default();
    for browser in [&first, &second] {
        let start = std::time::Instant::now();
        while count(browser, "bytes")? != all {
            if too_long(start, 60) {
                return Err(format!(
                    "{} changes on a device, {all} were made",
                    count(browser, "bytes")?
                ));
            }
            std::thread::sleep(std::time::Duration::from_millis(200));
        }
    }
    // What each shows of every point is the same, and the server assesses the job.
    let mut states = Vec::new();
    for browser in [&first, &second] {
        let mut seen = Vec::new();
        for point in &here {
            go_in_job(browser, &world, &job, &format!("point/{point}"))?;
            browser.wait_for(".act-bar.answered .answer")?;
            seen.push(browser.text(".act-bar.answered .answer")?);
        }
        states.push(seen);
    }
    if states.first() != states.get(1) {
        return Err(format!("the two devices show different things: {states:?}"));
    }
    assessment(&world, &job)?;
    Ok(format!(
        "{} and {} changes apart, {all} on both afterwards, and the same on both screens",
        before.0, before.1
    ))
}

/// Answers the first points of the walk; which ones they were.
fn answer(browser: &Browser, world: &World, job: &str, words: &str) -> Outcome<Vec<String>> {
    go_in_job(browser, world, job, "line")?;
    browser.wait_for(".act-bar .primary")?;
    browser.tap(".act-bar .primary")?;
    let mut points = Vec::new();
    for at in 0..POINTS {
        browser.wait("a point", "location.hash.includes('/point/') && document.querySelector('.act-bar:not(.answered)')", 30)?;
        let point = browser.script("return location.hash.split('/point/')[1]", &[])?;
        points.push(point.as_str().ok_or("the address names no point")?.to_owned());
        browser.tap_words(words)?;
        browser.wait_for(".act-bar.answered")?;
        if at + 1 < POINTS {
            browser.tap(".act-bar.answered .primary")?;
        }
    }
    browser.wait_until_kept()?;
    Ok(points)
}
