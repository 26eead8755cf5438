//! Why a step comes where it comes, why an act is blocked, and what can hurt at a change of the site, as sentences of the
//! interface.

use schedule::{Blocked, Reason, length_in_words};

use crate::Said;

/// What people read for an act.
type Name<'a> = &'a dyn Fn(&str) -> String;
/// What people read for a state's value, and whether these words say that it is so.
type StateName<'a> = &'a dyn Fn(&str, &str) -> (String, bool);

/// A reason.
pub(super) fn said(reason: &Reason, name: Name<'_>, state_name: StateName<'_>) -> Said {
    let some = |key, acts: &[String]| {
        let named: Vec<String> = acts.iter().take(2).map(|act| name(act)).collect();
        let more = acts.len() - named.len();
        Said::new(key).with("what", named.join(", ")).counting("more", more)
    };
    let state = |so, not_so, state: &str, value: &str| {
        let (words, is_so) = state_name(state, value);
        Said::new(if is_so { so } else { not_so }).with("what", words)
    };
    match reason {
        Reason::StartsWait { closes: _, at_least } => {
            Said::new("why-starts-wait").with("time", length_in_words(*at_least))
        }
        Reason::EndsWait { opens: _, ran, at_most: None } => {
            Said::new("why-ends-wait").with("time", length_in_words(*ran))
        }
        Reason::EndsWait { opens: _, ran, at_most: Some(most) } => {
            let key = if ran > most { "why-ends-wait-late" } else { "why-ends-wait-most" };
            Said::new(key).with("time", length_in_words(*ran)).with("most", length_in_words(*most))
        }
        Reason::MakesSafe(acts) => some("why-makes-safe", acts),
        Reason::Guards { state: of, to } => state("why-guards", "why-guards-end", of, to),
        Reason::OpensTheWay(acts) => some("why-opens-the-way", acts),
        Reason::Needed(acts) => some("why-needed", acts),
        Reason::Leaves => Said::new("why-leaves"),
        Reason::Window { .. } => Said::new("why-window"),
        Reason::WhileSo { state: of, value } => {
            state("why-while-so", "why-while-not-so", of, value)
        }
        Reason::SamePlace => Said::new("why-same-place"),
        Reason::Near(walk) => Said::new("why-near").with("time", length_in_words(*walk)),
    }
}

/// Why an act cannot be done.
pub(super) fn blocked(reason: &Blocked, name: Name<'_>, state_name: StateName<'_>) -> Said {
    let values = |state: &str, values: &[String]| {
        let words: Vec<String> = values.iter().map(|value| state_name(state, value).0).collect();
        words.join(" / ")
    };
    match reason {
        Blocked::Safety(first) => Said::new("blocked-safety").with("what", name(first)),
        Blocked::Start(opens) => Said::new("blocked-start").with("what", name(opens)),
        Blocked::Guard { state, values: all, guard } => {
            Said::new("blocked-guard").with("state", values(state, all)).with("what", name(guard))
        }
        Blocked::State { state, values: all } => {
            Said::new("blocked-state").with("state", values(state, all))
        }
    }
}

/// What can hurt when a state is brought to a value; none where nothing is known of it. In English these are the words of
/// the schedule itself, which a test compares.
#[must_use]
pub fn site_caution(state: &str, to: &str) -> Option<Said> {
    let key = match (state, to) {
        ("shore_power", "on") => "site-caution-shore-power-on",
        ("gas", "on") => "site-caution-gas-on",
        ("water", "main") => "site-caution-water-main",
        ("water", "pump") => "site-caution-water-pump",
        ("tanks", "filled") => "site-caution-tanks-filled",
        ("generator", "on") => "site-caution-generator-on",
        ("slide_outs", "out" | "in") => "site-caution-slide-outs",
        ("awnings", "out") => "site-caution-awnings-out",
        ("unit", "level") => "site-caution-unit-level",
        ("coupling", "coupled") => "site-caution-coupling",
        ("coupling", "uncoupled") => "site-caution-uncoupling",
        _ => return None,
    };
    Some(Said::new(key))
}
