//! What a timed discharge says of a battery's capacity.

use quantity::uom::si::{electric_charge::ampere_hour, electric_current::ampere, time::hour};
use quantity::{Charge, Current, Kind, Ratio, Time};

use super::peukert_time;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Capacity at the rated time that a discharge to empty in `time` is worth.
///
/// `C = I·H·(t/H)^(1/k)`: the amperes taken are converted to the rate that the battery is sold by.
///
/// # Errors
/// [`Problem::OutOfRange`] for an exponent below 1 or above 1.6.
pub fn equivalent_capacity(
    rate_time: Time,
    exponent: f64,
    current: Current,
    time: Time,
) -> Result<Charge, Problem> {
    if !(1.0..=1.6).contains(&exponent) {
        return Err(Problem::out_of_range("valid for an exponent from 1 to 1.6"));
    }
    let (rated, taken) = (rate_time.get::<hour>(), time.get::<hour>());
    let hours = rated * libm::pow(taken / rated, 1.0 / exponent);
    Ok(Charge::new::<ampere_hour>(current.get::<ampere>() * hours))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "battery.capacity_test",
    summary: "Capacity of a battery by a timed discharge, converted to its rated time.",
    inputs: &[
        Input::quantity("capacity", Kind::Charge, "rated capacity")
            .accepting(Accepts::Above("0 Ah")),
        Input::quantity(
            "rate_time",
            Kind::Time,
            "hours that the capacity is rated for, usually 20 h",
        )
        .accepting(Accepts::Above("0 h")),
        Input::quantity("exponent", Kind::Number, "Peukert's exponent of the battery")
            .accepting(Accepts::Above("0")),
        Input::quantity("current", Kind::Current, "steady current of the test")
            .accepting(Accepts::Above("0 A")),
        Input::quantity("time", Kind::Time, "from full to 10.5 V under load (lead-acid)")
            .accepting(Accepts::Above("0 h")),
    ],
    result: Gives::quantity("capacity", "Ah", "at the rated time"),
    parts: &[
        Gives::quantity("share_of_capacity", "%", "of the rated capacity"),
        Gives::quantity("share_of_time", "%", "of the time that a new battery would take"),
        Gives::quantity("taken", "Ah", "charge taken in the test, at its own current"),
    ],
    valid: "a full battery at rest before, discharged without a pause; exponents from 1 to 1.6",
    sources: &[
        Source {
            document: "a battery monitor's manual",
            section: "Peukert's law with the rated time",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "",
            section: "80 % of the rated capacity as the end of a battery's life",
            confirmed: Confirmed::CommonPractice,
        },
    ],
    example: &[
        ("capacity", "100 Ah"),
        ("rate_time", "20 h"),
        ("exponent", "1.2"),
        ("current", "25 A"),
        ("time", "2.35 h"),
    ],
    compute: |inputs| {
        let (capacity, rate_time): (Charge, Time) =
            (inputs.get("capacity")?, inputs.get("rate_time")?);
        let (current, time): (Current, Time) = (inputs.get("current")?, inputs.get("time")?);
        let exponent = inputs.get("exponent")?;
        let found = equivalent_capacity(rate_time, exponent, current, time)?;
        let expected = peukert_time(capacity, rate_time, exponent, current)?;
        let share: Ratio = found / capacity;
        Ok(Outcome::new(found)
            .part("share_of_capacity", share)
            .part("share_of_time", time / expected)
            .part("taken", current * time)
            .note(
                "the amperes taken at a high current are fewer than the battery gives at its rated time: held \
                 against the rating only after this conversion",
            )
            .note("stop at 10.5 V under load: deeper discharge harms a lead-acid battery. Recharge it at once"))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "battery.capacity_test";

    fn pairs<'a>(
        exponent: &'a str,
        current: &'a str,
        time: &'a str,
    ) -> [(&'static str, &'a str); 5] {
        [
            ("capacity", "100 Ah"),
            ("rate_time", "20 h"),
            ("exponent", exponent),
            ("current", current),
            ("time", time),
        ]
    }

    /// Worked out from the law: 25 A for 2.35 h of 2.8991 h, worth 83.95 Ah at 20 h.
    #[test]
    fn a_test_is_converted_to_the_rated_time() {
        let test = pairs("1.2", "25 A", "2.35 h");
        check(NAME, &test, 83.95, "Ah", 5e-3);
        check_part(NAME, &test, "share_of_capacity", 83.95, "%", 5e-3);
        check_part(NAME, &test, "share_of_time", 81.06, "%", 5e-3);
        check_part(NAME, &test, "taken", 58.75, "Ah", 1e-9);
    }

    #[test]
    fn a_battery_that_lasts_its_rated_time_has_its_rated_capacity() {
        for (current, time) in [("5 A", "20 h"), ("10 A", "8.7055056 h"), ("25 A", "2.8991187 h")] {
            check(NAME, &pairs("1.2", current, time), 100.0, "Ah", 1e-5);
        }
    }

    #[test]
    fn exponents_of_no_battery_are_refused() {
        let problem = refuses(NAME, &pairs("0.9", "5 A", "20 h"), "from 1 to 1.6");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
    }
}
