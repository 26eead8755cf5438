//! How long a battery carries a load.

use quantity::uom::si::{electric_charge::ampere_hour, electric_current::ampere, time::hour};
use quantity::{Charge, Current, Kind, Quantity, Time};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Time to empty by Peukert's law in its rated form.
///
/// `t = H·(C/(I·H))^k`, C the capacity at the rate of H hours, I the current, k the exponent. The form
/// `t = C/I^k`, which pages print with a 20 h capacity, is for a capacity at one ampere: it gives 14.5 h for
/// a battery of 100 Ah at its own 20 h rate.
///
/// # Errors
/// [`Problem::OutOfRange`] for an exponent below 1 or above 1.6.
pub fn peukert_time(
    capacity: Charge,
    rate_time: Time,
    exponent: f64,
    current: Current,
) -> Result<Time, Problem> {
    if !(1.0..=1.6).contains(&exponent) {
        return Err(Problem::out_of_range(
            "valid for an exponent from 1 to 1.6: lithium about 1.05, AGM about 1.1, flooded about 1.2 to 1.3",
        ));
    }
    let hours = rate_time.get::<hour>();
    let share = capacity.get::<ampere_hour>() / (current.get::<ampere>() * hours);
    Ok(Time::new::<hour>(hours * libm::pow(share, exponent)))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "battery.peukert_time",
    summary: "Time that a full battery carries a steady current.",
    inputs: &[
        Input::quantity("capacity", Kind::Charge, "rated capacity")
            .accepting(Accepts::Above("0 Ah")),
        Input::quantity(
            "rate_time",
            Kind::Time,
            "hours that the capacity is rated for, usually 20 h",
        )
        .accepting(Accepts::Above("0 h")),
        Input::quantity(
            "exponent",
            Kind::Number,
            "Peukert's exponent, from two ratings of the battery",
        )
        .accepting(Accepts::Above("0")),
        Input::quantity("current", Kind::Current, "steady current")
            .accepting(Accepts::Above("0 A")),
    ],
    result: Gives::quantity("time", "h", "to empty, from full"),
    parts: &[Gives::quantity("delivered", "Ah", "charge given in that time")],
    valid: "exponents from 1 to 1.6",
    sources: &[Source {
        document: "a battery monitor's manual",
        section: "Peukert's law with the rated time; exponent from two ratings",
        confirmed: Confirmed::Read,
    }],
    example: &[
        ("capacity", "100 Ah"),
        ("rate_time", "20 h"),
        ("exponent", "1.2"),
        ("current", "10 A"),
    ],
    compute: |inputs| {
        let current: Current = inputs.get("current")?;
        let time = peukert_time(
            inputs.get("capacity")?,
            inputs.get("rate_time")?,
            inputs.get("exponent")?,
            current,
        )?;
        let delivered = Charge::from_base(current.base() * time.base());
        Ok(Outcome::new(time).part("delivered", delivered).note(
            "to empty, of a new and warm battery: lead-acid is used to half as a rule, and one at 80 % of \
             its rated capacity is at the end of its life",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "battery.peukert_time";

    fn pairs<'a>(
        capacity: &'a str,
        rate_time: &'a str,
        exponent: &'a str,
        current: &'a str,
    ) -> [(&'static str, &'a str); 4] {
        [
            ("capacity", capacity),
            ("rate_time", rate_time),
            ("exponent", exponent),
            ("current", current),
        ]
    }

    /// Worked out from the law.
    #[test]
    fn time_and_charge_follow_the_law() {
        for (capacity, exponent, current, hours, charge) in [
            ("100 Ah", "1.2", "5 A", 20.0, 100.0),
            ("100 Ah", "1.2", "10 A", 8.705_5, 87.055),
            ("100 Ah", "1.2", "25 A", 2.899_1, 72.478),
            ("100 Ah", "1.3", "25 A", 2.468_1, 61.703),
            ("225 Ah", "1.25", "25 A", 7.371_3, 184.28),
            ("100 Ah", "1.05", "50 A", 1.782_5, 89.125),
        ] {
            let pairs = pairs(capacity, "20 h", exponent, current);
            check(NAME, &pairs, hours, "h", 6e-5);
            check_part(NAME, &pairs, "delivered", charge, "Ah", 5e-3);
        }
    }

    /// Two public pages print t = C/I^k with 20 h ratings and get 14.496 h and 5.0886 h.
    #[test]
    fn the_one_ampere_form_is_not_used_for_a_rated_capacity() {
        check(NAME, &pairs("100 Ah", "20 h", "1.2", "5 A"), 20.0, "h", 1e-9);
        check(NAME, &pairs("250 Ah", "20 h", "1.3", "20 A"), 10.856, "h", 5e-4);
    }

    #[test]
    fn exponents_of_no_battery_are_refused() {
        for exponent in ["0.9", "1.7"] {
            let problem = refuses(NAME, &pairs("100 Ah", "20 h", exponent, "5 A"), "from 1 to 1.6");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
        let idle = pairs("100 Ah", "20 h", "1.2", "0 A");
        assert!(matches!(refuses(NAME, &idle, "more than 0 A"), Problem::Input { .. }));
    }
}
