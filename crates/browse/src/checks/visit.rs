//! A visit of sixty points with the server stopped, as a thumb would do it; what the phone then shows is what the server's
//! assessment and its report say, once it has the job.

use serde_json::Value;

use super::{World, assessment, go_in_job, make_job, same};
use crate::{Outcome, Tools, browser::Browser};

const POINTS: usize = 60;
/// What is typed into the first point's first reading with a number; each later one gets one more.
const TYPED: usize = 20;

/// What was said of a point on the phone.
struct Said {
    point: String,
    /// The reason, if it was not examined.
    reason: Option<String>,
    /// The reading that was entered, if one was, and the number.
    reading: Option<(String, usize)>,
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
    let points: Vec<&str> = said.iter().map(|one| one.point.as_str()).collect();
    // Still without a server: whatever the phone shows, it has worked out by itself.
    let phone = same::on_phone(&browser, &world, &job, &points)?;

    for one in &said {
        if let Some((name, typed)) = &one.reading
            && !phone.shows(&one.point, name, *typed)
        {
            return Err(format!("{}: {typed} was typed for {name}, and is not shown", one.point));
        }
    }

    world.server.start_again()?;
    browser.script("window.dispatchEvent(new Event('online'))", &[])?;
    browser.wait_until_copied(120)?;
    let assessed = assessment(&world, &job)?;
    let readings = compare(&said, &assessed)?;
    let (values, numbers) = same::as_assessed(&phone, &assessed, &points)?;
    let reported = same::as_reported(&phone, &world, &job, &assessed, &points)?;
    let findings = assessed["findings"].as_array().map(Vec::len).unwrap_or_default();
    let reasons = said.iter().filter(|one| one.reason.is_some()).count();
    Ok(format!(
        "{POINTS} points, {readings} readings typed, {reasons} not examined: {values} values ({numbers} of them numbers in one unit), their \
         verdicts, {findings} findings and the five uses are the same in `assess --json`, and {reported} values in the report's own data"
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
    let typed = TYPED + at;
    if let Some(id) = figure.as_str() {
        browser.fill(&format!("[id='{id}']"), &format!("{typed}\u{e007}"))?;
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
                .map(|name| (name.to_owned(), typed));
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
        let Some((name, typed)) = &one.reading else { continue };
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
        if found["value"].is_null() {
            return Err(format!(
                "{}: {typed} was typed for {name}, the server has {found}",
                one.point
            ));
        }
    }
    Ok(readings)
}
