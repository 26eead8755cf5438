//! Without a script everything stands there as it does with one: each text in its order, each table, row, picture and link.
//! Only the filter is not offered, which would then do nothing.

use std::{
    path::Path,
    thread,
    time::{Duration, Instant},
};

use serde_json::json;

use super::{address, stands::Stands};
use crate::{Outcome, browser::Browser, page::too_long};

/// Loads a leaf with scripts and without; answers how many texts stand there both times.
pub(super) fn same(browser: &Browser, leaf: &Path) -> Outcome<usize> {
    browser.go(&address(leaf))?;
    browser.script("document.getElementById('filter')?.remove()", &[])?;
    let expected = Stands::on(browser)?;
    if expected.texts.len() < 100 || expected.tables == 0 || expected.fields > 0 {
        return Err(format!("{}: too little stands there: {expected:?}", leaf.display()));
    }
    browser.command("Emulation.setScriptExecutionDisabled", &json!({"value": true}))?;
    let same = compared(browser, leaf, &expected);
    browser.command("Emulation.setScriptExecutionDisabled", &json!({"value": false}))?;
    same.map(|()| expected.texts.len())
}

/// Loads the leaf anew, so that nothing is left of what a script did.
fn compared(browser: &Browser, leaf: &Path, expected: &Stands) -> Outcome<()> {
    browser.command("Page.navigate", &json!({"url": "about:blank"}))?;
    browser.command("Page.navigate", &json!({"url": address(leaf)}))?;
    let start = Instant::now();
    loop {
        let found = Stands::on(browser)?.difference(expected);
        let Some(difference) = found else { return Ok(()) };
        // It may not have been read to its end yet.
        if too_long(start, 10) {
            return Err(format!("without a script, {}: {difference}", leaf.display()));
        }
        thread::sleep(Duration::from_millis(100));
    }
}
