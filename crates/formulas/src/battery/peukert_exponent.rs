//! Peukert's exponent from two ratings of one battery.

use quantity::{Charge, Current, Kind, Quantity, Time};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Inputs, Outcome, Problem, Source};

/// Exponent by two discharges: `k = ln(t₂/t₁)/ln(I₁/I₂)`.
///
/// # Errors
/// [`Problem::Input`] for two equal currents; [`Problem::OutOfRange`] for an exponent below 1 or above 1.6.
pub fn peukert_exponent(first: (Time, Current), second: (Time, Current)) -> Result<f64, Problem> {
    let currents = first.1.base() / second.1.base();
    if (currents - 1.0).abs() < 1e-3 {
        return Err(Problem::input(
            "second_current",
            "is that of the first rating; accepted: two ratings at currents that differ",
        ));
    }
    let exponent = libm::log(second.0.base() / first.0.base()) / libm::log(currents);
    if !(1.0..=1.6).contains(&exponent) {
        return Err(Problem::out_of_range(
            "these two ratings give an exponent outside 1 to 1.6: are they of one battery, and full \
             discharges both?",
        ));
    }
    Ok(exponent)
}

/// The steady current of a rating, given as such or as a capacity over its time.
fn current(
    inputs: &Inputs<'_>,
    time: Time,
    current: &'static str,
    capacity: &'static str,
) -> Result<Current, Problem> {
    let given: Option<Current> = inputs.optional(current)?;
    let rated: Option<Charge> = inputs.optional(capacity)?;
    match (given, rated) {
        (Some(given), None) => Ok(given),
        (None, Some(rated)) => Ok(rated / time),
        (Some(_), Some(_)) => Err(Problem::input(
            capacity,
            format!("is one too many; accepted: exactly one of {current} and {capacity}"),
        )),
        (None, None) => Err(Problem::input(
            current,
            format!("is missing; accepted: exactly one of {current} and {capacity}"),
        )),
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "battery.peukert_exponent",
    summary: "Peukert's exponent of a battery, from two of its ratings.",
    inputs: &[
        Input::quantity("first_time", Kind::Time, "of the first rating, such as 20 h")
            .accepting(Accepts::Above("0 h")),
        Input::quantity("first_capacity", Kind::Charge, "of the first rating, or its current")
            .accepting(Accepts::Above("0 Ah"))
            .optional(),
        Input::quantity("first_current", Kind::Current, "of the first rating, or its capacity")
            .accepting(Accepts::Above("0 A"))
            .optional(),
        Input::quantity("second_time", Kind::Time, "of the second rating, such as 175 min")
            .accepting(Accepts::Above("0 h")),
        Input::quantity("second_capacity", Kind::Charge, "of the second rating, or its current")
            .accepting(Accepts::Above("0 Ah"))
            .optional(),
        Input::quantity("second_current", Kind::Current, "of the second rating, or its capacity")
            .accepting(Accepts::Above("0 A"))
            .optional(),
    ],
    result: Gives::quantity("exponent", "", "about 1.05 lithium to 1.3 flooded"),
    parts: &[],
    valid: "exponents from 1 to 1.6",
    sources: &[Source {
        document: "a battery monitor's manual",
        section: "exponent from two ratings; 1.25 where none is known",
        confirmed: Confirmed::Read,
    }],
    example: &[
        ("first_time", "20 h"),
        ("first_capacity", "105 Ah"),
        ("second_time", "175 min"),
        ("second_current", "25 A"),
    ],
    compute: |inputs| {
        let (first, second): (Time, Time) = (inputs.get("first_time")?, inputs.get("second_time")?);
        let exponent = peukert_exponent(
            (first, current(inputs, first, "first_current", "first_capacity")?),
            (second, current(inputs, second, "second_current", "second_capacity")?),
        )?;
        Ok(Outcome::new(exponent)
            .note("of a new and warm battery; an aged one has a higher exponent"))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "battery.peukert_exponent";

    /// Worked out from the monitor manual's form, for ratings as makers print them.
    #[test]
    fn two_ratings_give_the_exponent() {
        let reserve = [
            ("first_time", "20 h"),
            ("first_capacity", "105 Ah"),
            ("second_time", "175 min"),
            ("second_current", "25 A"),
        ];
        check(NAME, &reserve, 1.233_65, "", 5e-6);
        let golf = [
            ("first_time", "20 h"),
            ("first_capacity", "225 Ah"),
            ("second_time", "5 h"),
            ("second_capacity", "185 Ah"),
        ];
        check(NAME, &golf, 1.164_42, "", 5e-6);
    }

    #[test]
    fn ratings_that_cannot_be_of_one_battery_are_refused() {
        let pairs = |time, current| {
            [
                ("first_time", "20 h"),
                ("first_current", "5 A"),
                ("second_time", time),
                ("second_current", current),
            ]
        };
        for (time, current, words, input) in [
            ("10 h", "5 A", "currents that differ", true),
            ("12 h", "25 A", "outside 1 to 1.6", false),
            ("20 min", "25 A", "outside 1 to 1.6", false),
        ] {
            let problem = refuses(NAME, &pairs(time, current), words);
            assert_eq!(matches!(problem, Problem::Input { .. }), input, "{time} {current}");
        }
        let both = [
            ("first_time", "20 h"),
            ("first_current", "5 A"),
            ("first_capacity", "100 Ah"),
            ("second_time", "2 h"),
            ("second_current", "25 A"),
        ];
        assert!(matches!(refuses(NAME, &both, "exactly one of"), Problem::Input { .. }));
    }
}
