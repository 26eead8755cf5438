//! Report sentences with their placeholders filled in.

use limit::Bound;
use plan::Plan;
use quantity::{Unit, UnitSystem, write_value};

use crate::{Content, LimitResult, ValueResult, values::words};

/// How sentences are written: in which units, and in which language, that of the plan.
#[derive(Clone, Copy)]
pub(crate) struct Voice<'a> {
    pub plan: &'a Plan,
    pub units: UnitSystem,
}

impl Voice<'_> {
    /// A place in the words of the plan's language.
    pub(crate) fn place(self, position: &str) -> String {
        self.plan.words.say(&words(position))
    }

    fn value(self, point: &str, value: &ValueResult) -> String {
        match &value.content {
            Content::Words(text) => self.plan.shown(point, &value.name, text),
            Content::Quantity(_) | Content::None(_) => {
                self.plan.words.say(&write_content(value, self.units))
            }
        }
    }

    fn bound(self, point: &str, value: &ValueResult, bound: &Bound) -> String {
        match bound {
            Bound::OneOf(accepted) => {
                let shown = accepted.iter().map(|word| self.plan.shown(point, &value.name, word));
                let either = |one: String, other: String| {
                    let with = [("one", one.as_str()), ("other", other.as_str())];
                    self.plan.words.say_with("{one} or {other}", &with)
                };
                shown.reduce(either).unwrap_or_default()
            }
            bound => {
                let unit = value.unit.map(|unit| unit.in_system(self.units));
                bound_in_words(self.plan, bound, unit)
            }
        }
    }
}

/// A bound that is a quantity, in the words of the plan's language.
#[must_use]
pub fn bound_in_words(plan: &Plan, bound: &Bound, unit: Option<&Unit>) -> String {
    let words = bound.words(unit);
    match (bound, words.split_once(" to ")) {
        (Bound::Between(..), Some((least, most))) => {
            plan.words.say_with("{least} to {most}", &[("least", least), ("most", most)])
        }
        _ => plan.words.say(&words),
    }
}

/// What stands where nothing was recorded.
pub(crate) const NOT_RECORDED: &str = "(not recorded)";

/// Fills `{name}`, `{position}` and `{limit}`; a placeholder without a value becomes "(not recorded)".
pub(crate) fn fill(
    template: &str,
    (point, values): (&str, &[ValueResult]),
    position: &str,
    broken: Option<(&ValueResult, &LimitResult)>,
    voice: Voice<'_>,
) -> String {
    let mut out = String::new();
    let mut rest = template;
    while let Some((before, after)) = rest.split_once('{') {
        out.push_str(before);
        let Some((name, tail)) = after.split_once('}') else {
            out.push('{');
            rest = after;
            continue;
        };
        match name {
            "position" => place(&mut out, &voice.place(position)),
            "limit" => match broken {
                Some((value, result)) => {
                    out.push_str(&voice.bound(point, value, &result.limit.bound));
                }
                None => out.push_str(&voice.plan.words.say(NOT_RECORDED)),
            },
            name => {
                let found = values
                    .iter()
                    .find(|value| value.name == name && value.position == position)
                    .or_else(|| values.iter().find(|value| value.name == name));
                out.push_str(&found.map_or_else(
                    || voice.plan.words.say(NOT_RECORDED),
                    |value| voice.value(point, value),
                ));
            }
        }
        rest = tail;
    }
    out.push_str(rest);
    out
}

/// Adds where it is: behind a preposition as it stands, behind other words in brackets, since people name places
/// without an article ("the tyre (left front)", but "at the left front").
fn place(out: &mut String, position: &str) {
    const LEADING: [&str; 29] = [
        "at", "the", "in", "on", "of", "from", "to", "by", "near", "under", "below", "behind",
        "for", "en", "el", "la", "los", "las", "de", "del", "al", "por", "desde", "hacia", "bajo",
        "sobre", "tras", "entre", "con",
    ];
    if position.is_empty() {
        let kept = out.trim_end().len();
        out.truncate(kept);
        return;
    }
    let last = out.split_whitespace().next_back().unwrap_or("").to_lowercase();
    let opens = last.is_empty() || last.ends_with(['.', ':', '(', '-']);
    if opens || LEADING.contains(&last.as_str()) {
        out.push_str(position);
    } else {
        out.push_str(&format!("({position})"));
    }
}

/// Two statements of one defect as one: what both end with is said once.
#[must_use]
pub fn together(one: &str, other: &str) -> String {
    let (first, second) = (sentences(one), sentences(other));
    let shared =
        first.iter().rev().zip(second.iter().rev()).take_while(|(one, other)| one == other).count();
    let (head, tail) = first.split_at(first.len() - shared);
    let own = &second[..second.len() - shared];
    let all: Vec<&str> = head.iter().chain(own).chain(tail).copied().collect();
    all.join(" ")
}

/// The sentences of a text: a full stop, a space and a capital part them.
fn sentences(text: &str) -> Vec<&str> {
    let mut parts = Vec::new();
    let mut start = 0;
    for (at, _) in text.match_indices(". ") {
        let next = at + 2;
        if text[next..].starts_with(char::is_uppercase) {
            parts.push(text[start..=at].trim());
            start = next;
        }
    }
    parts.push(text[start..].trim());
    parts.retain(|part| !part.is_empty());
    parts
}

/// A value as people read it.
#[must_use]
pub fn write_content(value: &ValueResult, units: UnitSystem) -> String {
    match (&value.content, value.unit) {
        (Content::Quantity(quantity), Some(unit)) => write_value(*quantity, unit.in_system(units)),
        (Content::Quantity(quantity), None) => quantity::write_number(quantity.base),
        (Content::Words(text), _) => text.clone(),
        (Content::None(why), _) => why.clone(),
    }
}

/// The statement of an undecided verdict.
pub(crate) fn undecided(
    point: &str,
    value: &ValueResult,
    result: &LimitResult,
    voice: Voice<'_>,
) -> String {
    let say = &voice.plan.words;
    let place = voice.place(&value.position);
    let what = match place.as_str() {
        "" => value.title.clone(),
        place => say.say_with("{what} at {place}", &[("what", &value.title), ("place", place)]),
    };
    let mut sentence = say.say_with(
        "{what}: {value} cannot be told from the limit ({limit}) with this instrument.",
        &[
            ("what", &what),
            ("value", &voice.value(point, value)),
            ("limit", &voice.bound(point, value, &result.limit.bound)),
        ],
    );
    let mut add = |text: &str| {
        sentence.push(' ');
        sentence.push_str(text);
    };
    if let Some(conformity) = result.judgement.conformity {
        add(&say.say_with(
            "The probability that it meets the limit is {percent} %.",
            &[("percent", &(conformity * 100.0).round().to_string())],
        ));
    }
    add(&say.say(if result.judgement.instrument_unfit {
        "The instrument is too coarse for this limit: use a better one."
    } else {
        "Measure again, or with a better instrument."
    }));
    sentence
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(template: &str, position: &str) -> String {
        let plan = Plan::default();
        fill(template, ("", &[]), position, None, Voice { plan: &plan, units: UnitSystem::Us })
    }

    #[test]
    fn a_place_stands_in_brackets_except_behind_a_preposition() {
        assert_eq!(
            at("The tyre {position} is old.", "left_front"),
            "The tyre (left front) is old."
        );
        assert_eq!(
            at("The opening at {position} is small.", "bedroom"),
            "The opening at bedroom is small."
        );
        assert_eq!(at("{position}: no power.", "galley"), "galley: no power.");
        assert_eq!(at("It leaks. {position} too.", "galley"), "It leaks. galley too.");
    }

    #[test]
    fn where_there_is_one_place_only_nothing_is_said_of_it() {
        assert_eq!(at("The tyre {position} is old.", ""), "The tyre is old.");
        assert_eq!(at("It leaks {position}.", ""), "It leaks.");
    }

    #[test]
    fn what_two_statements_end_with_is_said_once() {
        let one = "The tyre (a) is 9.6 years old. Have a dealer look at it. Inside too.";
        let other = "The tyre (b) is 3.2 years old. Have a dealer look at it. Inside too.";
        let both = together(one, other);
        assert_eq!(
            both,
            "The tyre (a) is 9.6 years old. The tyre (b) is 3.2 years old. Have a dealer look at it. Inside too."
        );
        assert_eq!(together(one, one), one);
        assert_eq!(together("It leaks.", "It drips."), "It leaks. It drips.");
        assert_eq!(together("", "It drips."), "It drips.");
    }
}
