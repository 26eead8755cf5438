//! What was typed, made whole: a bare number gets its unit, a choice its word.

use plan::{Positions, ReadingForm, ReadingPlan};
use quantity::{Kind, Unit, UnitSystem, units};

use crate::Said;

/// The entry to be stored for what was typed.
///
/// A bare number gets `unit`, or the unit that the plan usually writes. A single decimal comma is read as a point
/// where it cannot group thousands.
///
/// # Errors
/// A sentence that says what is accepted.
pub(crate) fn complete(plan: &ReadingPlan, text: &str, unit: &str) -> Result<String, Said> {
    let text = text.trim();
    if text.is_empty() {
        return Err(Said::new("refusal-nothing-typed").with("reading", &plan.title));
    }
    match &plan.form {
        ReadingForm::Quantity { kind, unit: usual, .. } => {
            let unit = Some(unit).filter(|unit| !unit.is_empty());
            let unit = unit.and_then(|unit| units::find_of(*kind, unit)).unwrap_or(usual);
            let entry = with_unit(&with_point(text), unit);
            match plan.read(&entry) {
                Ok(_) => Ok(entry),
                Err(_) => Err(Said::new("refusal-no-quantity")
                    .with("entry", text)
                    .with("reading", &plan.title)
                    .with("example", format!("12 {}", unit.spelling).trim())
                    .with("units", spellings(*kind))),
            }
        }
        ReadingForm::Choice(words) => {
            let word = words.iter().find(|word| word.eq_ignore_ascii_case(text));
            word.cloned().ok_or_else(|| {
                Said::new("refusal-no-choice")
                    .with("entry", text)
                    .with("reading", &plan.title)
                    .with("choices", words.join(", "))
            })
        }
        ReadingForm::Date => match plan.read(text) {
            Ok(_) => Ok(text.to_owned()),
            Err(_) => {
                Err(Said::new("refusal-no-date").with("entry", text).with("reading", &plan.title))
            }
        },
        ReadingForm::Text => Ok(text.to_owned()),
    }
}

/// The position to be stored, if the reading is taken there.
///
/// # Errors
/// A sentence that says which places there are.
pub(crate) fn place(plan: &ReadingPlan, position: &str) -> Result<String, Said> {
    let position = position.trim();
    let refuse = |key| Said::new(key).with("reading", &plan.title).with("position", position);
    match &plan.positions {
        Positions::One if position.is_empty() => Ok(String::new()),
        Positions::One => Err(refuse("refusal-one-place")),
        Positions::Named(names) if names.iter().any(|name| name == position) => {
            Ok(position.to_owned())
        }
        Positions::Named(names) => {
            let places: Vec<String> = names.iter().map(|name| words(name)).collect();
            Err(refuse("refusal-no-such-place").with("places", places.join(", ")))
        }
        Positions::Any if position.is_empty() => Err(refuse("refusal-place-needs-name")),
        Positions::Any => Ok(position.to_owned()),
    }
}

/// The units that a reading can be typed in, the preferred one first: that of the system, then its counterpart, then
/// all others of its kind.
pub(crate) fn unit_choices(plan: &ReadingPlan, system: UnitSystem) -> Vec<&'static Unit> {
    let ReadingForm::Quantity { kind, unit, .. } = &plan.form else { return Vec::new() };
    let mut choices = vec![unit.in_system(system)];
    for other in std::iter::once(*unit).chain(units::of_kind(*kind)) {
        if !choices.iter().any(|known| known.spelling == other.spelling) {
            choices.push(other);
        }
    }
    choices
}

/// A word of the data files as people read it.
pub(crate) fn words(id: &str) -> String {
    id.replace('_', " ")
}

fn with_unit(text: &str, unit: &Unit) -> String {
    let bare = !text.contains(|letter: char| {
        letter.is_alphabetic() || matches!(letter, '%' | '°' | '\'' | '"' | 'Ω')
    });
    if bare && !unit.spelling.is_empty() {
        format!("{text} {}", unit.spelling)
    } else {
        text.to_owned()
    }
}

fn with_point(text: &str) -> String {
    let Some((before, after)) = text.split_once(',') else { return text.to_owned() };
    let digits = after.chars().take_while(char::is_ascii_digit).count();
    let grouping = digits == 3 || text.contains('.') || after.contains(',');
    let number = before.ends_with(|letter: char| letter.is_ascii_digit()) && digits > 0;
    if grouping || !number { text.to_owned() } else { format!("{before}.{after}") }
}

fn spellings(kind: Kind) -> String {
    let all: Vec<&str> =
        units::of_kind(kind).map(|unit| unit.spelling).filter(|it| !it.is_empty()).collect();
    if all.is_empty() { "1".to_owned() } else { all.join(", ") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pressure() -> ReadingPlan {
        ReadingPlan {
            id: "pressure".into(),
            title: "Cold pressure".into(),
            form: ReadingForm::Quantity {
                kind: Kind::Pressure,
                unit: units::find("psi").unwrap(),
                usual: None,
            },
            positions: Positions::Named(vec!["left_front".into()]),
            optional: false,
            shown: std::collections::BTreeMap::new(),
        }
    }

    #[test]
    fn a_bare_number_gets_its_unit_and_a_written_unit_stays() {
        let check = |typed: &str, unit: &str, stored: &str| {
            assert_eq!(complete(&pressure(), typed, unit).unwrap(), stored, "{typed}");
        };
        check("65", "", "65 psi");
        check(" 65 psi ", "", "65 psi");
        check("65 psi", "kPa", "65 psi");
        check("450", "kPa", "450 kPa");
        check("65 ± 1", "", "65 ± 1 psi");
        check("3,2", "bar", "3.2 bar");
        check("1,200", "kPa", "1,200 kPa");
        // A unit of another kind is none of this reading's.
        check("65", "V", "65 psi");
    }

    #[test]
    fn a_share_typed_bare_means_the_unit_on_the_key() {
        let mut moisture = pressure();
        let unit = units::find("%").unwrap();
        moisture.form = ReadingForm::Quantity { kind: Kind::Ratio, unit, usual: None };
        assert_eq!(complete(&moisture, "12", "").unwrap(), "12 %");
    }

    #[test]
    fn what_cannot_be_read_is_refused_with_what_is_accepted() {
        let said = complete(&pressure(), "65 V", "").unwrap_err().to_string();
        assert!(said.contains("65 V") && said.contains("12 psi") && said.contains("kPa"), "{said}");
        let said = place(&pressure(), "left").unwrap_err().to_string();
        assert!(said.contains("left front"), "{said}");
        assert_eq!(place(&pressure(), "left_front").unwrap(), "left_front");
    }
}
