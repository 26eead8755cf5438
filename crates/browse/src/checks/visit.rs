//! A visit of sixty points with the server stopped, as a thumb would do it; afterwards the server's assessment says the same.

use serde_json::Value;

use super::{World, assessment, go_in_job, make_job};
use crate::{Outcome, Tools, browser::Browser};

const POINTS: usize = 60;
/// What is typed into every first reading with a number.
const TYPED: f64 = 41.0;

/// What was said of a point on the phone.
struct Said {
    point: String,
    /// The reason, if it was not examined.
    reason: Option<String>,
    /// The reading that was entered, if one was.
    reading: Option<String>,
}

pub(super) fn check(tools: &Tools) -> Outcome {
    let mut world = World::new(tools, "visit")?;
    let browser = world.paired("phone", "Dane Hollworth")?;
    browser.wait_until_installed()?;
    world.server.stop()?;
    let job = make_job(&browser, "2026-060")?;
    go_in_job(&browser, &world, &job, "line")?;
    browser.wait_for(".act-bar .primary")?;
    browser.tap(".act-bar .primary")?;
    let mut said = Vec::new();
    for at in 0..POINTS {
        said.push(one_point(&browser, at)?);
        if at == POINTS / 2 {
            // A start from the disk alone in the middle of it comes back to the same point.
            browser.wait_until_kept()?;
            browser.go("about:blank")?;
            browser.go(&world.server.address())?;
            browser.wait_for(".act-bar.answered")?;
        }
        if at + 1 < POINTS {
            browser.tap(".act-bar.answered .primary")?;
        }
    }
    browser.wait_until_kept()?;
    let on_phone = browser.script(
        "const tab = [...document.querySelectorAll('nav.tabs .tab')].find(it => it.innerText.includes('Findings'));
         return tab.querySelector('.count')?.innerText ?? '0'",
        &[],
    )?;

    world.server.start_again()?;
    browser.script("window.dispatchEvent(new Event('online'))", &[])?;
    browser.wait_until_copied(120)?;
    let assessed = assessment(&world, &job)?;
    let readings = compare(&said, &assessed)?;
    let findings = assessed["findings"].as_array().map(Vec::len).unwrap_or_default();
    if on_phone.as_str() != Some(findings.to_string().as_str()) {
        return Err(format!("the phone shows {on_phone} findings, the server has {findings}"));
    }
    let reasons = said.iter().filter(|one| one.reason.is_some()).count();
    Ok(format!(
        "{POINTS} points, {readings} readings, {reasons} not examined, {findings} findings: the same on both"
    ))
}

/// Does one point: enters its first reading with a number, and answers.
fn one_point(browser: &Browser, at: usize) -> Outcome<Said> {
    browser.wait(
        "a point",
        "location.hash.includes('/point/') && document.querySelector('.act-bar:not(.answered)')",
        30,
    )?;
    let point = browser.script("return location.hash.split('/point/')[1]", &[])?;
    let point = point.as_str().ok_or("the address names no point")?.to_owned();
    let figure = browser
        .script("return document.querySelector('form.entry input.figure')?.id ?? null", &[])?;
    let mut reading = None;
    if let Some(id) = figure.as_str() {
        browser.fill(&format!("[id='{id}']"), &format!("{TYPED}\u{e007}"))?;
        let entered = format!("document.getElementById('{id}')?.value === ''");
        let refused = "document.querySelector('#sentences .sentence')";
        browser.wait("the reading", &format!("{entered} || {refused}"), 10)?;
        if browser.script(&format!("return !!({refused})"), &[])? == Value::Bool(true) {
            // Not every reading takes that number: it is said so, and nothing was entered.
            browser.tap("#sentences .sentence button")?;
            browser.fill(&format!("[id='{id}']"), "\u{e003}")?;
        } else {
            reading = id
                .strip_prefix("reading-")
                .and_then(|id| id.strip_suffix("-entry"))
                .map(str::to_owned);
        }
    }
    let mut reason = None;
    if at % 5 == 4 {
        browser.tap_words("Can’t examine")?;
        browser.wait_for(".act-bar.reasons")?;
        browser.tap(".act-bar.reasons button:nth-of-type(1)")?;
        browser.wait_for(".act-bar.answered")?;
        reason = Some(browser.text(".act-bar.answered .answer span")?);
    } else {
        browser.tap_words("Examined")?;
        browser.wait_for(".act-bar.answered")?;
    }
    Ok(Said { point, reason, reading })
}

/// Whether the assessment says of every point what was said on the phone; answers how many readings it has.
fn compare(said: &[Said], assessed: &Value) -> Outcome<usize> {
    let list = |key: &str| assessed[key].as_array().cloned().unwrap_or_default();
    let (not_examined, values) = (list("not_examined"), list("values"));
    let mut readings = 0;
    for one in said {
        let there = not_examined.iter().find(|it| it["point"] == one.point.as_str());
        let reason = there.and_then(|it| it["reason"].as_str());
        if reason != one.reason.as_deref() {
            return Err(format!(
                "{}: {:?} on the phone, {reason:?} on the server",
                one.point, one.reason
            ));
        }
        let Some(name) = &one.reading else { continue };
        readings += 1;
        let found = values
            .iter()
            .find(|it| it["point"] == one.point.as_str() && it["name"] == name.as_str());
        let Some(found) = found else {
            return Err(format!("{}: the reading {name} is not on the server", one.point));
        };
        if found["readings"].as_array().is_none_or(Vec::is_empty) {
            return Err(format!("{}: {name} rests on no reading: {found}", one.point));
        }
    }
    Ok(readings)
}
