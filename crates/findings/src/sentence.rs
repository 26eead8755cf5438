//! Report sentences with their placeholders filled in.

use quantity::{UnitSystem, write_value};

use crate::{Content, LimitResult, ValueResult, values::words};

/// Fills `{name}`, `{position}` and `{limit}`; a placeholder without a value becomes "(not recorded)".
pub(crate) fn fill(
    template: &str,
    values: &[ValueResult],
    position: &str,
    broken: Option<(&ValueResult, &LimitResult)>,
    units: UnitSystem,
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
            "position" => out.push_str(&words(position)),
            "limit" => match broken {
                Some((value, result)) => {
                    let unit = value.unit.map(|unit| unit.in_system(units));
                    out.push_str(&result.limit.bound.words(unit));
                }
                None => out.push_str("(not recorded)"),
            },
            name => {
                let found = values
                    .iter()
                    .find(|value| value.name == name && value.position == position)
                    .or_else(|| values.iter().find(|value| value.name == name));
                out.push_str(&found.map_or_else(
                    || "(not recorded)".to_owned(),
                    |value| write_content(value, units),
                ));
            }
        }
        rest = tail;
    }
    out.push_str(rest);
    out
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
pub(crate) fn undecided(value: &ValueResult, result: &LimitResult, units: UnitSystem) -> String {
    let unit = value.unit.map(|unit| unit.in_system(units));
    let mut sentence = format!(
        "{}{}: {} cannot be told from the limit ({}) with this instrument.",
        value.title,
        crate::values::at_position(&value.position),
        write_content(value, units),
        result.limit.bound.words(unit),
    );
    if let Some(conformity) = result.judgement.conformity {
        sentence.push_str(&format!(
            " The probability that it meets the limit is {} %.",
            (conformity * 100.0).round()
        ));
    }
    sentence.push_str(if result.judgement.instrument_unfit {
        " The instrument is too coarse for this limit: use a better one."
    } else {
        " Measure again, or with a better instrument."
    });
    sentence
}
