//! axe-core (Deque, MPL-2.0) on the page that a browser shows.

use std::fs;

use serde_json::Value;

use crate::{Outcome, Tools, browser::Browser};

/// WCAG 2.2 level AA and axe's best practices.
const RULES: &str = "['wcag2a','wcag2aa','wcag21a','wcag21aa','wcag22aa','best-practice']";

/// The script, read once.
pub(crate) struct Axe(String);

impl Axe {
    /// The script that the tools name.
    pub(crate) fn read(tools: &Tools) -> Outcome<Self> {
        let script = tools.axe.as_ref().ok_or("give axe-core's script with --axe")?;
        fs::read_to_string(script)
            .map(Self)
            .map_err(|error| format!("{}: {error}", script.display()))
    }

    /// Each violation on the page: the rule and where.
    pub(crate) fn violations(&self, browser: &Browser) -> Outcome<Vec<String>> {
        self.judge(browser).map(|(violations, _)| violations)
    }

    /// The same, and at how many places axe could not tell the contrast.
    pub(crate) fn judge(&self, browser: &Browser) -> Outcome<(Vec<String>, u64)> {
        browser.script(&self.0, &[])?;
        let found = browser.script(
            &format!(
                "return axe.run(document, {{runOnly: {RULES}}}).then(it => [
                   it.violations.flatMap(one => one.nodes.map(node => one.id + ': ' + node.html.slice(0, 160))),
                   it.incomplete.filter(one => one.id === 'color-contrast').flatMap(one => one.nodes).length])"
            ),
            &[],
        )?;
        let violations = found[0].as_array().ok_or("axe gave no answer")?;
        let violations = violations.iter().filter_map(Value::as_str).map(str::to_owned).collect();
        Ok((violations, found[1].as_u64().ok_or("axe does not say what it left open")?))
    }

    /// Plants two faults in the page and fails where they are not found: a check must be able to fail.
    pub(crate) fn prove(&self, browser: &Browser) -> Outcome<()> {
        browser.script(
            "document.querySelector('main').insertAdjacentHTML('beforeend', '<img src=\"/x\"><input>')",
            &[],
        )?;
        let found = self.violations(browser)?;
        for planted in ["image-alt", "label"] {
            if !found.iter().any(|one| one.starts_with(planted)) {
                return Err(format!("a planted fault, {planted}, was not found: {found:?}"));
            }
        }
        Ok(())
    }
}
