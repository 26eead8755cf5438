//! What the checks look for in a page, and wait for.

use std::time::{Duration, Instant};

use serde_json::{Value, json};

use crate::{Outcome, browser::Browser};

/// The checks say how long an idle machine may take. A busy one is no fault: it gets so many times as long.
const PATIENCE: u32 = 6;

/// Whether it has taken too long, given what an idle machine may take.
pub(crate) fn too_long(start: Instant, seconds: u64) -> bool {
    start.elapsed() > Duration::from_secs(seconds) * PATIENCE
}

impl Browser {
    /// Waits until a JavaScript expression is true; so many seconds on an idle machine.
    pub(crate) fn wait(&self, what: &str, expression: &str, seconds: u64) -> Outcome<()> {
        let start = Instant::now();
        loop {
            // While a page loads, a script may find nothing to run in.
            let answer = self.script(&format!("return !!({expression})"), &[]);
            if matches!(answer, Ok(Value::Bool(true))) {
                return Ok(());
            }
            if too_long(start, seconds) {
                let seen = self.text("body").unwrap_or_default();
                let seen: String = seen.chars().take(600).collect();
                let console: String = self.console().chars().take(2000).collect();
                return Err(format!(
                    "{what}: not after {:.0} s; the page says: {seen}\n  console: {console}",
                    start.elapsed().as_secs_f64()
                ));
            }
            std::thread::sleep(Duration::from_millis(40));
        }
    }

    /// Waits for an element.
    pub(crate) fn wait_for(&self, selector: &str) -> Outcome<()> {
        let expression = format!("document.querySelector({})", json!(selector));
        self.wait(selector, &expression, 30)
    }

    /// Waits until the text of an element contains these words.
    pub(crate) fn wait_for_words(&self, selector: &str, words: &str, seconds: u64) -> Outcome<()> {
        let expression = format!(
            "document.querySelector({})?.innerText.includes({})",
            json!(selector),
            json!(words)
        );
        self.wait(&format!("{words:?} in {selector}"), &expression, seconds)
    }

    /// The text of an element, as it is seen.
    pub(crate) fn text(&self, selector: &str) -> Outcome<String> {
        let text = self.script(
            "return document.querySelector(arguments[0])?.innerText ?? null",
            &[json!(selector)],
        )?;
        text.as_str().map(str::to_owned).ok_or_else(|| format!("there is no {selector}"))
    }

    /// Puts a text into a field in place of what stands there.
    pub(crate) fn fill(&self, selector: &str, text: &str) -> Outcome<()> {
        self.script(
            "const it = document.querySelector(arguments[0]); it.focus(); it.select?.()",
            &[json!(selector)],
        )?;
        self.type_into(selector, text)
    }

    /// Taps the button that says this.
    pub(crate) fn tap_words(&self, words: &str) -> Outcome<()> {
        let found = self.script(
            "const it = [...document.querySelectorAll('button, a, label, summary')]
               .find(it => it.innerText.trim().startsWith(arguments[0]) && it.offsetParent !== null);
             if (!it) return false;
             document.querySelectorAll('[data-tapped]').forEach(old => old.removeAttribute('data-tapped'));
             it.setAttribute('data-tapped', ''); it.scrollIntoView({block: 'center'}); return true",
            &[json!(words)],
        )?;
        if found != Value::Bool(true) {
            let seen = self.text("body").unwrap_or_default();
            return Err(format!("no button says {words:?}; the page says: {seen}"));
        }
        self.tap("[data-tapped]")
    }

    /// Waits until the service worker serves the page.
    pub(crate) fn wait_until_installed(&self) -> Outcome<()> {
        self.wait("the service worker", "navigator.serviceWorker.controller", 60)
    }

    /// Waits until everything in the open job is on this device's disk.
    pub(crate) fn wait_until_kept(&self) -> Outcome<()> {
        self.wait_for_words("#state", "Kept on this device", 30)
    }

    /// Waits until everything in the open job is on the server's disk.
    pub(crate) fn wait_until_copied(&self, seconds: u64) -> Outcome<()> {
        self.wait_for_words("#state", "Copied to the server", seconds)
    }
}
