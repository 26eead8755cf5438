//! How much travels until the app is ready the first time, and how soon it is ready afterwards, at a quarter of the speed.

use serde_json::json;

use super::World;
use crate::{Outcome, Tools};

/// Budget of the first transfer, bytes.
const TRANSFER: u64 = 900_000;
/// Budget from the start of navigation until the list of jobs is there, milliseconds, installed, without a server.
const READY: f64 = 1_500.0;
/// Starts of which the median counts.
const STARTS: usize = 5;

pub(super) fn check(tools: &Tools) -> Outcome {
    let mut world = World::new(tools, "speed")?;
    let browser = world.browser("phone")?;
    browser.go(&world.server.address())?;
    browser.wait_for("#code")?;
    let loaded = browser.script(
        "return performance.getEntriesByType('navigation').concat(performance.getEntriesByType('resource'))
           .filter(it => !it.name.includes('/v1/') && !/icon|manifest/.test(it.name))
           .reduce((sum, it) => sum + it.transferSize, 0)",
        &[],
    )?;
    let transfer = loaded.as_f64().ok_or("no transfer was measured")?;
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
    let measured = format!(
        "start-up transfer {:.0} KB (budget {} KB); ready at 4x slow-down, median of {STARTS}: {ready:.0} ms (budget {READY} ms), {:.0} to {:.0} ms",
        transfer / 1000.0,
        TRANSFER / 1000,
        starts.first().copied().unwrap_or_default(),
        starts.last().copied().unwrap_or_default(),
    );
    #[allow(clippy::cast_precision_loss, reason = "a budget of kilobytes")]
    if !tools.quick && (transfer > TRANSFER as f64 || ready > READY) {
        return Err(measured);
    }
    Ok(measured)
}
