//! What now? The schedule on the phone: a reason for what comes next, planned anew after each deviation, and how quickly.

use serde_json::{Value, json};

use super::{World, go_in_job, make_job};
use crate::{Outcome, Tools, browser::Browser};

/// Budget of planning anew at a quarter of the speed, milliseconds.
const REPLAN: f64 = 200.0;
/// Deviations that are timed.
const DEVIATIONS: usize = 12;

pub(super) fn check(tools: &Tools) -> Outcome {
    let mut world = World::new(tools, "schedule")?;
    let browser = world.paired("phone", "Dane Hollworth")?;
    browser.wait_until_installed()?;
    let job = make_job(&browser, "2026-072")?;
    world.server.stop()?;
    browser.command("Emulation.setCPUThrottlingRate", &json!({"rate": 4}))?;
    go_in_job(&browser, &world, &job, "line")?;
    browser.wait_for(".act-bar")?;
    let start = std::time::Instant::now();
    browser.tap_words("What now?")?;
    browser.wait("what comes next", "document.querySelector('.now .why li')", 120)?;
    let first = start.elapsed().as_secs_f64();
    browser.wait_until_kept()?;
    browser.script("performance.clearMeasures()", &[])?;
    for at in 0..DEVIATIONS {
        deviate(&browser, &world, &job, at)?;
    }
    let times = browser.script(
        "return performance.getEntriesByName('replan', 'measure').map(it => it.duration)",
        &[],
    )?;
    let mut times: Vec<f64> =
        times.as_array().into_iter().flatten().filter_map(Value::as_f64).collect();
    if times.len() < DEVIATIONS {
        return Err(format!("{} plannings were timed, {DEVIATIONS} deviations made", times.len()));
    }
    times.sort_by(f64::total_cmp);
    let (median, longest) = (times[times.len() / 2], times[times.len() - 1]);

    // Two people: each has something to do.
    browser.tap_words("Two people")?;
    browser.wait("two cards", "document.querySelectorAll('.now').length === 2", 120)?;
    // It is there again after a start from the disk alone.
    browser.go("about:blank")?;
    go_in_job(&browser, &world, &job, "schedule")?;
    browser.wait("two cards again", "document.querySelectorAll('.now').length === 2", 120)?;
    browser.command("Emulation.setCPUThrottlingRate", &json!({"rate": 1}))?;
    // A wait that runs has its clock here.
    go_in_job(&browser, &world, &job, "point/shower")?;
    browser.wait_for(".wait")?;
    browser.tap_words("Start the wait")?;
    browser.wait_for(".wait .clock")?;
    go_in_job(&browser, &world, &job, "schedule")?;
    browser.wait_for_words("main .cards .clock", "left", 60)?;
    let measured = format!(
        "first plan shown after {first:.1} s, planned anew {} times at 4x slow-down: median {median:.0} ms, longest {longest:.0} ms (budget {REPLAN} ms)",
        times.len()
    );
    if !tools.quick && longest > REPLAN { Err(measured) } else { Ok(measured) }
}

/// Does something else than what was planned next: a point further down the list; then it is gone from the list.
fn deviate(browser: &Browser, world: &World, job: &str, at: usize) -> Outcome<()> {
    let rows = "document.querySelectorAll('.ahead li button.row')";
    browser.wait("stops ahead", &format!("{rows}.length > 3"), 60)?;
    let title = browser.script(
        &format!("const all = [...{rows}], it = all[Math.min(all.length - 1, 2 + arguments[0] % 3)];
                  it.scrollIntoView({{block: 'center'}}); const title = it.querySelector('.row-title').innerText; it.click(); return title"),
        &[json!(at)],
    )?;
    let title = title.as_str().ok_or("a row has no title")?;
    browser.wait_for(".act-bar:not(.answered)")?;
    browser.tap_words("Examined")?;
    browser.wait_for(".act-bar.answered")?;
    go_in_job(browser, world, job, "schedule")?;
    let gone = format!(
        "document.querySelector('.now') && ![...{rows}].some(it => it.querySelector('.row-title').innerText === {})",
        json!(title)
    );
    browser.wait(&format!("a plan without {title:?}"), &gone, 60)
}
