//! Reasons why a point could not be examined, to be chosen with one tap.

use crate::{Language, Texts};

/// A reason that is often true.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reason {
    /// The key of its text on the screen.
    pub key: &'static str,
    /// Its words in the report, which is written in the plan's language.
    pub words: &'static str,
}

/// The reasons offered, the commonest first.
pub const REASONS: [Reason; 9] = [
    Reason { key: "reason-no-access", words: "no access" },
    Reason { key: "reason-covered", words: "covered or blocked by stored things" },
    Reason { key: "reason-unsafe", words: "not safe to examine" },
    Reason { key: "reason-locked", words: "locked, and no key was at hand" },
    Reason { key: "reason-no-power", words: "no power on site" },
    Reason { key: "reason-no-gas", words: "no gas on site" },
    Reason { key: "reason-no-water", words: "no water on site" },
    Reason { key: "reason-weather", words: "the weather did not allow it" },
    Reason { key: "reason-not-agreed", words: "not part of what was agreed" },
];

/// A recorded reason as it is read on the screen: in English as it stands in the record; elsewhere one that was chosen
/// with a tap has its own text, and a person's own words stay.
#[must_use]
pub fn reason_read(texts: &Texts, recorded: &str) -> String {
    let offered = REASONS.iter().find(|reason| reason.words == recorded);
    match offered.filter(|_| texts.language() != Language::English) {
        Some(reason) => texts.say(reason.key),
        None => recorded.to_owned(),
    }
}
