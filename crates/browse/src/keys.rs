//! The keyboard alone: real key presses, and what can be reached with them on a screen.

use serde_json::{Value, json};

use crate::{Outcome, browser::Browser};

/// Keys that write nothing, by their WebDriver code points (W3C WebDriver, section 17.4.2).
pub(crate) const TAB: &str = "\u{e004}";
pub(crate) const ENTER: &str = "\u{e007}";
pub(crate) const SPACE: &str = " ";
pub(crate) const ESCAPE: &str = "\u{e00c}";
pub(crate) const BACKSPACE: &str = "\u{e003}";
pub(crate) const DOWN: &str = "\u{e015}";

/// More presses than any screen has targets mean that the focus is caught or the target is not there.
const MOST: usize = 300;

impl Browser {
    /// Presses and lets go a key, or the keys that write a text, one after the other.
    pub(crate) fn press(&self, keys: &str) -> Outcome<()> {
        let presses: Vec<Value> = keys
            .chars()
            .flat_map(|key| ["keyDown", "keyUp"].map(|kind| json!({"type": kind, "value": key})))
            .collect();
        let source = json!({"type": "key", "id": "keyboard", "actions": presses});
        self.actions(&json!({"actions": [source]}))
    }

    /// Goes on with Tab until the focus is on what a JavaScript expression says of `it`.
    pub(crate) fn tab_to(&self, what: &str, wanted: &str) -> Outcome<()> {
        let there = format!("const it = document.activeElement; return !!({wanted})");
        for _ in 0..MOST {
            self.press(TAB)?;
            if self.script(&there, &[])? == Value::Bool(true) {
                return Ok(());
            }
        }
        let seen = self.text("main").unwrap_or_default();
        let seen: String = seen.chars().take(600).collect();
        Err(format!("{what}: {MOST} presses of Tab did not lead there; the page says: {seen}"))
    }

    /// What is wrong with this screen for somebody who has only a keyboard, in a line each, and how many targets it has.
    pub(crate) fn keyboard_faults(&self) -> Outcome<(Vec<String>, u64)> {
        let count = self.script(&format!("{TARGETS} {WATCH}"), &[])?;
        let days = count[1].as_u64().ok_or("no fields for days were counted")?;
        let count = count[0].as_u64().ok_or("no targets were counted")?;
        // A field for a day has a stop for month, day, year and its calendar each.
        let presses = usize::try_from(count + 3 * days).unwrap_or(MOST).min(MOST) + 4;
        self.press(&TAB.repeat(presses))?;
        let found = self.script(&format!("{TARGETS} {JUDGE}"), &[])?;
        let faults = found.as_array().ok_or("the screen was not judged")?;
        Ok((faults.iter().filter_map(Value::as_str).map(str::to_owned).collect(), count))
    }
}

/// What can be acted on, one a group of choices: the arrows go on within a group.
const TARGETS: &str = "
    const seen = it => it.checkVisibility() && !it.disabled && !it.closest('[inert]');
    const name = it => it.outerHTML.replace(/\\s+/g, ' ').slice(0, 120);
    const targets = [...document.querySelectorAll('button, a[href], input, select, textarea, summary, [role=button], [role=switch], [role=link], [role=tab]')]
      .filter(seen)
      .filter(it => {
        if (it.type !== 'radio') return true;
        const group = [...document.querySelectorAll(`input[type=radio][name=\"${it.name}\"]`)];
        return it === (group.find(one => one.checked) ?? group[0]);
      });";

/// Notes from now on what gets the focus, and whether that is seen.
const WATCH: &str = "
    window.walked = new Set();
    window.unseen = new Set();
    window.watchFocus ??= document.addEventListener('focusin', event => {
      const it = event.target;
      window.walked.add(it);
      const shown = [it, it.nextElementSibling].some(one => one && getComputedStyle(one).outlineStyle !== 'none');
      if (!shown && it.id !== 'main') window.unseen.add(it);
    }) ?? true;
    return [targets.length, targets.filter(it => it.type === 'date').length];";

const JUDGE: &str = "
    const faults = [];
    for (const it of targets) {
      if (!window.walked.has(it)) faults.push('Tab does not reach ' + name(it));
      if (it.tabIndex > 0) faults.push('stands out of order: ' + name(it));
    }
    for (const it of window.unseen) faults.push('nobody sees that it has the focus: ' + name(it));
    // Not wholly under a bar that stays in place (WCAG 2.2, 2.4.11).
    for (const it of targets) {
      it.focus();
      const box = it.getBoundingClientRect();
      const parts = [0.1, 0.3, 0.5, 0.7, 0.9];
      const free = parts.some(x => parts.some(y => {
        const top = document.elementFromPoint(box.left + box.width * x, box.top + box.height * y);
        return top && (top === it || it.contains(top) || top.contains(it) && top.matches('label') || [...(it.labels ?? [])].includes(top));
      }));
      if (!free) faults.push('lies under something when it has the focus: ' + name(it));
    }
    // What shows a hand to a mouse must be something that a keyboard can press, or a silent double of one.
    for (const it of document.querySelectorAll('body *')) {
      if (getComputedStyle(it).cursor !== 'pointer' || it.closest('button, a[href], input, select, textarea, summary, label')) continue;
      const stations = document.querySelectorAll('svg.plan[aria-hidden=true] .station').length;
      if (it.closest('svg.plan[aria-hidden=true]') && stations === document.querySelectorAll('ol.stops > li > button').length) continue;
      if (!it.closest('[role=button], [role=switch]')) faults.push('only a pointer can press ' + name(it));
    }
    document.activeElement?.blur();
    return faults;";
