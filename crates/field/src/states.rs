//! What is switched on or out at the site, and what a point needs.

use inspection::Inspection;
use plan::Plan;

/// The word that stands for a switch with two words: `gas_on` for `gas_off`; else the word itself.
fn switch(state: &str) -> (String, bool) {
    match state.strip_suffix("_off") {
        Some(stem) => (format!("{stem}_on"), false),
        None => (state.to_owned(), true),
    }
}

/// The word and the position of the switch to be recorded for a state: `gas_off` is `gas_on`, off. A state that is
/// its own only word stays.
pub(crate) fn recorded_as(plan: &Plan, state: &str) -> (String, bool) {
    let (word, on) = switch(state);
    if plan.site_states.iter().any(|known| known.id == word) {
        (word, on)
    } else {
        (state.to_owned(), true)
    }
}

/// Whether a state holds; none if nothing was said of it.
pub(crate) fn holds(inspection: &Inspection, state: &str) -> Option<bool> {
    let (word, wanted) = switch(state);
    let last =
        inspection.site_states.iter().rev().find(|change| switch(&change.state).0 == word)?;
    let on = switch(&last.state).1 == last.on;
    Some(on == wanted)
}
