//! How much travels until the app is ready the first time, and how soon it is ready afterwards, at a quarter of the speed.

use serde_json::json;

use super::{World, go_in_job, make_job};
use crate::{Outcome, Tools, browser::Browser};

/// Budget of the first transfer, bytes.
const TRANSFER: u64 = 900_000;
/// Budget from the start of navigation until the list of jobs is there, milliseconds, installed, without a server.
const READY: f64 = 1_500.0;
/// Budget from a key to the verdict on the screen, milliseconds.
const VERDICT: f64 = 50.0;
/// Budget of the longest task while a screen is scrolled, milliseconds.
const TASK: f64 = 100.0;
/// The job whose screens are scrolled has at least so many points: more than the shipped plan asks of any unit.
const POINTS: u64 = 250;
/// Starts of which the median counts.
const STARTS: usize = 5;

/// What the page asked for before it was ready, and what it asked for afterwards.
const FIRST: &str = "performance.getEntriesByType('navigation').concat(performance.getEntriesByType('resource'))
    .filter(it => !it.name.includes('/v1/') && !/icon|manifest/.test(it.name))
    .filter(it => it.startTime <= (performance.getEntriesByName('ready')[0]?.startTime ?? Infinity))";
const LATER: &str = "performance.getEntriesByType('resource')
    .filter(it => it.name.includes('/app/') && !/icon|manifest/.test(it.name))
    .filter(it => it.startTime > (performance.getEntriesByName('ready')[0]?.startTime ?? Infinity))";

pub(super) fn check(tools: &Tools) -> Outcome {
    let mut world = World::new(tools, "speed")?;
    let browser = world.browser("phone")?;
    browser.go(&world.server.address())?;
    browser.wait_for("#code")?;
    browser.wait("what comes after the start", &format!("{LATER}.length > 0"), 60)?;
    let loaded = browser.script(
        &format!("const sum = all => all.reduce((sum, it) => sum + it.transferSize, 0); return [sum({FIRST}), sum({LATER})]"),
        &[],
    )?;
    let transfer = loaded[0].as_f64().ok_or("no transfer was measured")?;
    let later = loaded[1].as_f64().ok_or("no transfer was measured")?;
    drop(browser);
    let browser = world.paired("paired", "Dane Hollworth")?;
    browser.wait_until_installed()?;
    world.server.stop()?;
    browser.command("Emulation.setCPUThrottlingRate", &json!({"rate": 4}))?;
    let mut starts = Vec::new();
    for _ in 0..STARTS {
        browser.go("about:blank")?;
        browser.go(&format!("{}#/jobs", world.server.address()))?;
        browser.wait_for("#jobs-here")?;
        let ready = browser
            .script("return performance.getEntriesByName('ready')[0]?.startTime ?? null", &[])?;
        starts.push(ready.as_f64().ok_or("the app does not say when it is ready")?);
    }
    starts.sort_by(f64::total_cmp);
    let ready = starts.get(STARTS / 2).copied().unwrap_or(f64::INFINITY);
    let job = make_job(&browser, "2026-046")?;
    let verdicts = typing(&browser, &world, &job)?;
    let verdict = verdicts.get(verdicts.len() / 2).copied().unwrap_or(f64::INFINITY);
    let (points, long_job) = job_of_many_points(&browser, &world)?;
    // The line, with a tick for each point, is held to the budget; what is left, a row for each point, is told beside it.
    let line = scrolling(&browser, &world, &long_job, "line", "ol.stops li")?;
    let left = scrolling(&browser, &world, &long_job, "left", ".points .row")?;
    let measured = format!(
        "start-up transfer {:.0} KB (budget {} KB), and {:.0} KB asked for once it was ready; ready at 4x slow-down, median of {STARTS}: {ready:.0} ms (budget {READY} ms), {:.0} to {:.0} ms; reading to verdict, \
         median of {}: {verdict:.0} ms (budget {VERDICT} ms); in a job of {points} points, longest task while \
         scrolling the line {line:.0} ms and what is left {left:.0} ms (budget of the line {TASK} ms; 0 is under 50)",
        transfer / 1000.0,
        TRANSFER / 1000,
        later / 1000.0,
        starts.first().copied().unwrap_or_default(),
        starts.last().copied().unwrap_or_default(),
        verdicts.len(),
    );
    #[allow(clippy::cast_precision_loss, reason = "a budget of kilobytes")]
    if !tools.quick
        && (transfer > TRANSFER as f64 || ready > READY || verdict > VERDICT || line > TASK)
    {
        return Err(measured);
    }
    Ok(measured)
}

/// Milliseconds from each of some changes of a reading until the page has drawn its verdict, in order of size.
fn typing(browser: &Browser, world: &World, job: &str) -> Outcome<Vec<f64>> {
    go_in_job(browser, world, job, "point/regulator_lockup")?;
    browser.wait_for("form.entry input.figure")?;
    let times = browser.script(
        "return (async () => {
           const input = document.querySelector('form.entry input.figure');
           const live = input.closest('section').querySelector('.live');
           const times = [];
           for (const text of ['9', '11', '12.5', '13', '13.9', '14.2', '15', '16', '8', '10', '12']) {
             const before = live.innerText, start = performance.now();
             const changed = new Promise((done, fail) => {
               const watch = new MutationObserver(() => { if (live.innerText !== before) { watch.disconnect(); done(performance.now() - start); } });
               watch.observe(live, {childList: true, characterData: true, subtree: true});
               setTimeout(() => fail(new Error('no verdict for ' + text)), 10000);
             });
             input.value = text;
             input.dispatchEvent(new Event('input', {bubbles: true}));
             times.push(await changed);
             await new Promise(done => setTimeout(done, 100));
           }
           return times;
         })()",
        &[],
    )?;
    let mut times: Vec<f64> = times
        .as_array()
        .map(|all| all.iter().filter_map(serde_json::Value::as_f64).collect())
        .unwrap_or_default();
    if times.is_empty() {
        return Err("no verdict was timed".to_owned());
    }
    times.sort_by(f64::total_cmp);
    Ok(times)
}

/// A job made on the phone by a plan that asks everything twice; how many points it has, and its id.
fn job_of_many_points(browser: &Browser, world: &World) -> Outcome<(u64, String)> {
    browser.command("Page.addScriptToEvaluateOnNewDocument", &json!({"source": TWICE}))?;
    browser.go("about:blank")?;
    browser.go(&format!("{}#/jobs", world.server.address()))?;
    browser.wait_for("#jobs-here .row")?;
    let job = make_job(browser, "2026-047")?;
    go_in_job(browser, world, &job, "line")?;
    browser.wait_for("ol.stops li")?;
    let left = browser.script(
        "return Number(document.querySelector('.figures').innerText.match(/(\\d+) left/)?.[1] ?? 0)",
        &[],
    )?;
    let points = left.as_u64().unwrap_or_default();
    if points < POINTS {
        return Err(format!("a job of {POINTS} points was to be made, and it has {points}"));
    }
    Ok((points, job))
}

/// The file of plans, each point in it a second time under another id.
const TWICE: &str = "(() => {
    const real = globalThis.fetch;
    globalThis.fetch = async (asked, ...more) => {
      const response = await real(asked, ...more);
      if (!/\\/plans[^/]*\\.txt$/.test(String(asked.url ?? asked))) return response;
      const mark = '#== ';
      const files = (await response.text()).split('\\n' + mark);
      const twice = files.filter(it => /^(#== )?points\\//.test(it))
        .map(it => it.replace(/\\.toml\\n/, '_again.toml\\n').replace(/^id = \"(\\w+)\"/m, 'id = \"$1_again\"'));
      return new Response([...files, ...twice.map(it => it.replace(/^#== /, ''))].join('\\n' + mark) + '\\n');
    };
  })()";

/// The longest task while a screen is scrolled from top to bottom, milliseconds; those below 50 ms count as 0.
fn scrolling(
    browser: &Browser,
    world: &World,
    job: &str,
    screen: &str,
    rows: &str,
) -> Outcome<f64> {
    go_in_job(browser, world, job, screen)?;
    browser.wait_for(rows)?;
    let longest = browser.script(
        "return (async () => {
           await new Promise(done => setTimeout(done, 1500));
           let longest = 0;
           const watch = new PerformanceObserver(list => { for (const task of list.getEntries()) longest = Math.max(longest, task.duration); });
           watch.observe({type: 'longtask'});
           const end = document.documentElement.scrollHeight;
           for (let at = 0; at <= end; at += 120) {
             window.scrollTo(0, at);
             await new Promise(done => requestAnimationFrame(done));
           }
           await new Promise(done => setTimeout(done, 300));
           watch.disconnect();
           return longest;
         })()",
        &[],
    )?;
    longest.as_f64().ok_or_else(|| "no task was timed".to_owned())
}
