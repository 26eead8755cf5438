//! Two tabs of one browser: only one writes.

use serde_json::json;

use super::{World, make_job};
use crate::{Outcome, Tools};

pub(super) fn check(tools: &Tools) -> Outcome {
    let world = World::new(tools, "alone")?;
    let browser = world.paired("phone", "Dane Hollworth")?;
    make_job(&browser, "2026-043")?;
    browser.new_tab()?;
    browser.go(&world.server.address())?;
    browser.wait_for_words("h1", "Open in another tab", 30)?;
    browser.tap_words("Use it here")?;
    browser.wait_for_words(".title", "2026-043", 30)?;
    browser.first_tab()?;
    browser.wait_for_words("h1", "Open in another tab", 30)?;
    let locks = browser.script(
        "return navigator.locks.query().then(it => [it.held.length, it.pending.length])",
        &[],
    )?;
    if locks != json!([1, 1]) {
        return Err(format!("one tab should hold the lock and one wait, but it is {locks}"));
    }
    Ok("the second tab waited, then took over, and the first one waited".to_owned())
}
