//! The browser is killed while jobs are made, again and again: whatever it said was kept is there afterwards.

use super::{World, make_job};
use crate::{Outcome, Tools};

const ROUNDS: usize = 6;

pub(super) fn check(tools: &Tools) -> Outcome {
    let mut world = World::new(tools, "kill")?;
    let browser = world.paired("phone", "Dane Hollworth")?;
    browser.wait_until_installed()?;
    drop(browser);
    world.server.stop()?;
    let mut kept: Vec<String> = Vec::new();
    for round in 0..ROUNDS {
        let browser = world.browser("phone")?;
        browser.go(&format!("{}#/jobs", world.server.address()))?;
        browser.wait_for("#jobs-here")?;
        for number in &kept {
            browser.wait_for_words("#jobs-here", number, 20)?;
        }
        let number = format!("2026-1{round:02}");
        make_job(&browser, &number)?;
        kept.push(number);
        // At once: nothing may be on its way any more.
        browser.kill()?;
    }
    world.server.start_again()?;
    let browser = world.browser("phone")?;
    browser.go(&format!("{}#/jobs", world.server.address()))?;
    browser.wait_for("#jobs-here")?;
    for number in &kept {
        browser.wait_for_words("#jobs-here", number, 20)?;
    }
    browser.wait("everything copied", "[...document.querySelectorAll('#jobs-here .row')].every(it => it.innerText.includes('Copied to the server'))", 60)?;
    Ok(format!(
        "killed {ROUNDS} times right after \"kept\"; {} of {ROUNDS} jobs there, all copied",
        kept.len()
    ))
}
