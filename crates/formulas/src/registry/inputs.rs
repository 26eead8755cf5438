//! Checked inputs, as a formula's calculation reads them.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use quantity::{Kind, Quantity, Value, parse_value, units, write_number};

use super::{Accepts, Argument, Arguments, CalendarDate, Formula, Input, Problem, Takes};

/// The checked inputs of one call.
#[derive(Debug)]
pub struct Inputs<'a> {
    formula: &'a Formula,
    arguments: &'a Arguments,
}

/// What each input of a formula accepts, for many computations: the kind that was read for, the least, whether the least
/// itself is out, and the most.
pub(super) struct Bounds(Vec<Option<(Kind, f64, bool, f64)>>);

/// The bounds of all formulas as they are written, with the number of each for the kind its input takes, read once.
static WRITTEN: LazyLock<BTreeMap<(Kind, &'static str), f64>> = LazyLock::new(|| {
    let mut written = BTreeMap::new();
    for input in crate::all().flat_map(|formula| formula.inputs) {
        let (Takes::Quantity(kind) | Takes::Quantities(kind)) = input.takes else { continue };
        let texts = match input.accepts {
            Accepts::Anything => continue,
            Accepts::AtLeast(one) | Accepts::Above(one) => [one, one],
            Accepts::Between(one, other) | Accepts::AboveUpTo(one, other) => [one, other],
        };
        for text in texts {
            if let Ok(bound) = parse_value(text, kind) {
                written.insert((kind, text), bound.base);
            }
        }
    }
    written
});

/// A bound's number; none if it is of another kind.
fn bound_of(text: &'static str, kind: Kind) -> Option<f64> {
    let known = WRITTEN.get(&(kind, text)).copied();
    known.or_else(|| parse_value(text, kind).ok().map(|bound| bound.base))
}

impl Bounds {
    pub(super) fn of(formula: &Formula, arguments: &Arguments) -> Self {
        let bounds_of = |input: &Input| {
            let kind = match arguments.by_name.get(input.name)? {
                Argument::Quantity(value) => value.kind,
                Argument::Quantities(values) => values.first()?.kind,
                _ => return None,
            };
            let read = |text| bound_of(text, kind);
            Some(match input.accepts {
                Accepts::Anything => (kind, f64::NEG_INFINITY, false, f64::INFINITY),
                Accepts::AtLeast(least) => (kind, read(least)?, false, f64::INFINITY),
                Accepts::Above(least) => (kind, read(least)?, true, f64::INFINITY),
                Accepts::Between(least, most) => (kind, read(least)?, false, read(most)?),
                Accepts::AboveUpTo(least, most) => (kind, read(least)?, true, read(most)?),
            })
        };
        Self(formula.inputs.iter().map(bounds_of).collect())
    }

    /// Whether a value is surely possible; if not, the whole check says why.
    fn accept(&self, at: usize, value: Value) -> bool {
        let Some(Some((kind, least, out, most))) = self.0.get(at) else { return false };
        let above = value.base > *least || (!out && value.base >= *least);
        value.kind == *kind && value.base.is_finite() && above && value.base <= *most
    }
}

impl<'a> Inputs<'a> {
    /// Checks that all required inputs are there, of the right kind, and possible.
    pub(super) fn check(
        formula: &'a Formula,
        arguments: &'a Arguments,
        bounds: &Bounds,
    ) -> Result<Self, Problem> {
        for name in arguments.by_name.keys() {
            if formula.input(name).is_none() {
                return Err(Problem::input(*name, format!("{} has no such input", formula.name)));
            }
        }
        for (at, input) in formula.inputs.iter().enumerate() {
            let check = |value: &Value| {
                if bounds.accept(at, *value) { Ok(()) } else { check_possible(input, *value) }
            };
            match arguments.by_name.get(input.name) {
                None if input.required => {
                    return Err(Problem::input(input.name, format!("is missing: {}", input.about)));
                }
                None => {}
                Some(Argument::Quantity(value)) => check(value)?,
                Some(Argument::Quantities(values)) => {
                    if values.is_empty() {
                        return Err(Problem::input(input.name, "the list is empty"));
                    }
                    values.iter().try_for_each(check)?;
                }
                Some(_) => {}
            }
        }
        Ok(Self { formula, arguments })
    }

    /// The same after some values of checked inputs were moved: those alone are looked at, each given with the number of
    /// its input.
    pub(super) fn check_moved(
        formula: &'a Formula,
        arguments: &'a Arguments,
        bounds: &Bounds,
        moved: impl IntoIterator<Item = (usize, Value)>,
    ) -> Result<Self, Problem> {
        for (at, value) in moved {
            if !bounds.accept(at, value)
                && let Some(input) = formula.inputs.get(at)
            {
                check_possible(input, value)?;
            }
        }
        Ok(Self { formula, arguments })
    }

    /// A required quantity.
    ///
    /// # Errors
    /// If it is of another kind than the formula's function takes.
    pub fn get<Q: Quantity>(&self, name: &str) -> Result<Q, Problem> {
        self.optional(name)?.ok_or_else(|| self.missing(name))
    }

    /// A quantity that may be absent.
    ///
    /// # Errors
    /// If it is of another kind than the formula's function takes.
    pub fn optional<Q: Quantity>(&self, name: &str) -> Result<Option<Q>, Problem> {
        match self.arguments.by_name.get(name) {
            None => Ok(None),
            Some(Argument::Quantity(value)) => {
                value.typed().map(Some).ok_or_else(|| wrong_kind(name, Q::KIND))
            }
            Some(_) => Err(wrong_kind(name, Q::KIND)),
        }
    }

    /// A required quantity of whatever kind, with its uncertainty.
    ///
    /// # Errors
    /// If it is missing.
    pub fn value(&self, name: &str) -> Result<Value, Problem> {
        self.optional_value(name).ok_or_else(|| self.missing(name))
    }

    /// A quantity of whatever kind that may be absent.
    #[must_use]
    pub fn optional_value(&self, name: &str) -> Option<Value> {
        match self.arguments.by_name.get(name) {
            Some(Argument::Quantity(value)) => Some(*value),
            _ => None,
        }
    }

    /// A list of quantities; empty if absent.
    ///
    /// # Errors
    /// If one is of another kind than the formula's function takes.
    pub fn list<Q: Quantity>(&self, name: &str) -> Result<Vec<Q>, Problem> {
        match self.arguments.by_name.get(name) {
            None => Ok(Vec::new()),
            Some(Argument::Quantities(values)) => values
                .iter()
                .map(|value| value.typed().ok_or_else(|| wrong_kind(name, Q::KIND)))
                .collect(),
            Some(_) => Err(wrong_kind(name, Q::KIND)),
        }
    }

    /// A list of quantities of whatever kinds; empty if absent.
    #[must_use]
    pub fn values(&self, name: &str) -> &'a [Value] {
        match self.arguments.by_name.get(name) {
            Some(Argument::Quantities(values)) => values,
            _ => &[],
        }
    }

    /// A required word or text.
    ///
    /// # Errors
    /// If it is missing.
    pub fn words(&self, name: &str) -> Result<&'a str, Problem> {
        self.optional_words(name).ok_or_else(|| self.missing(name))
    }

    /// A word or text that may be absent.
    #[must_use]
    pub fn optional_words(&self, name: &str) -> Option<&'a str> {
        match self.arguments.by_name.get(name) {
            Some(Argument::Word(text) | Argument::Text(text)) => Some(text),
            _ => None,
        }
    }

    /// A required day or month.
    ///
    /// # Errors
    /// If it is missing.
    pub fn date(&self, name: &str) -> Result<CalendarDate, Problem> {
        self.optional_date(name).ok_or_else(|| self.missing(name))
    }

    /// A day or month that may be absent.
    #[must_use]
    pub fn optional_date(&self, name: &str) -> Option<CalendarDate> {
        match self.arguments.by_name.get(name) {
            Some(Argument::Date(date)) => Some(*date),
            _ => None,
        }
    }

    /// A required time, seconds since 1970-01-01T00:00:00 UTC.
    ///
    /// # Errors
    /// If it is missing.
    pub fn instant(&self, name: &str) -> Result<f64, Problem> {
        match self.arguments.by_name.get(name) {
            Some(Argument::Instant(seconds)) => Ok(*seconds),
            _ => Err(self.missing(name)),
        }
    }

    fn missing(&self, name: &str) -> Problem {
        let about = self.formula.input(name).map_or("", |input| input.about);
        Problem::input(name, format!("is missing: {about}"))
    }
}

fn wrong_kind(name: &str, wanted: Kind) -> Problem {
    Problem::input(name, format!("is no {}", wanted.word().replace('_', " ")))
}

fn check_possible(input: &Input, value: Value) -> Result<(), Problem> {
    if !value.base.is_finite() {
        return Err(Problem::input(input.name, "is no finite number"));
    }
    let bound = |text: &str| parse_value(text, value.kind).map_or(f64::NAN, |bound| bound.base);
    let (possible, words) = match input.accepts {
        Accepts::Anything => return Ok(()),
        Accepts::AtLeast(least) => (value.base >= bound(least), format!("at least {least}")),
        Accepts::Above(least) => (value.base > bound(least), format!("more than {least}")),
        Accepts::Between(least, most) => {
            (value.base >= bound(least) && value.base <= bound(most), format!("{least} to {most}"))
        }
        Accepts::AboveUpTo(least, most) => (
            value.base > bound(least) && value.base <= bound(most),
            format!("more than {least}, at most {most}"),
        ),
    };
    if possible {
        return Ok(());
    }
    let unit = match input.accepts {
        Accepts::Anything => "",
        Accepts::AtLeast(text)
        | Accepts::Above(text)
        | Accepts::Between(text, _)
        | Accepts::AboveUpTo(text, _) => text.split_once(' ').map_or("", |(_, unit)| unit),
    };
    let given =
        units::find_of(value.kind, unit).and_then(|unit| value.to_unit(unit)).unwrap_or(value.base);
    let given = format!("{} {unit}", write_number(given));
    Err(Problem::input(input.name, format!("{} is not possible; accepted: {words}", given.trim())))
}
