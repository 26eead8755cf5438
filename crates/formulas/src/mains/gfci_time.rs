//! How long a ground-fault circuit interrupter may take to trip.

use quantity::uom::si::electric_current::milliampere;
use quantity::{Current, Kind, Quantity, Time};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

const MUST_HOLD_BELOW: f64 = 4.0; // mA
const MUST_TRIP_FROM: f64 = 6.0; // mA
const CURVE_END: f64 = 264.0; // mA
const ABOVE_CURVE: f64 = 0.025; // s

/// Longest time in which a Class A device must open at a fault current.
///
/// `T = (20/I)^1.43`, T in seconds, I in milliamperes from 6 mA to 264 mA (UL 943, as quoted). Above
/// 264 mA the time at the curve's end is used, 0.025 s: a choice of ours.
///
/// # Errors
/// [`Problem::OutOfRange`] below 6 mA: under 4 mA the device must hold, and between it may do either.
pub fn gfci_time(current: Current) -> Result<Time, Problem> {
    // Rounded far below any meter, so that 6 mA in whatever unit is 6 mA.
    let milliamperes = (current.get::<milliampere>() * 1e9).round() / 1e9;
    if milliamperes < MUST_HOLD_BELOW {
        return Err(Problem::out_of_range(
            "below 4 mA a Class A device must not trip, so there is no longest time; the curve runs from \
             6 mA",
        ));
    }
    if milliamperes < MUST_TRIP_FROM {
        return Err(Problem::out_of_range(
            "from 4 mA to 6 mA a Class A device may trip or hold, so no time can be held against it; the \
             curve runs from 6 mA",
        ));
    }
    let seconds =
        if milliamperes > CURVE_END { ABOVE_CURVE } else { libm::pow(20.0 / milliamperes, 1.43) };
    Ok(Time::from_base(seconds))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "mains.gfci_time",
    summary: "Longest time in which a Class A ground-fault interrupter must trip.",
    inputs: &[Input::quantity("current", Kind::Current, "fault current to ground")
        .accepting(Accepts::AtLeast("0 mA"))],
    result: Gives::quantity("longest_time", "s", "a faster trip is fine"),
    parts: &[],
    valid: "6 mA to 264 mA; above, 0.025 s is used and said",
    sources: &[
        Source {
            document: "UL 943, as a breaker maker's technical answers quote it",
            section: "T = (20/I)^1.43",
            confirmed: Confirmed::Quoted,
        },
        Source {
            document: "NFPA 70",
            section: "Article 100, note to Class A: trips at 6 mA or more, not below 4 mA",
            confirmed: Confirmed::Quoted,
        },
        Source { document: "0.025 s above 264 mA", section: "", confirmed: Confirmed::OwnChoice },
    ],
    example: &[("current", "6 mA")],
    compute: |inputs| {
        let current: Current = inputs.get("current")?;
        let mut outcome = Outcome::new(gfci_time(current)?).note(
            "a tester draws its current through the ground: on an ungrounded outlet it cannot trip a good \
             device, the device's own button can",
        );
        if current.get::<milliampere>() > CURVE_END {
            outcome = outcome.note(
                "above the curve's end at 264 mA: 0.025 s, its value there, is used (our choice)",
            );
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{call, check, refuses};

    const NAME: &str = "mains.gfci_time";

    /// (20/I)^1.43 worked out, to the digits stated.
    #[test]
    fn time_follows_the_curve_from_6_to_264_milliamperes() {
        for (current, seconds, tolerance) in [
            ("6 mA", 5.593_9, 5e-5),
            ("0.006 A", 5.593_9, 5e-5),
            ("7.4 mA", 4.144_5, 5e-5),
            ("8 mA", 3.707_3, 5e-5),
            ("10 mA", 2.694_5, 5e-5),
            ("20 mA", 1.0, 1e-12),
            ("30 mA", 0.560_0, 5e-5),
            ("100 mA", 0.100_1, 5e-5),
            ("264 mA", 0.024_98, 5e-6),
        ] {
            check(NAME, &[("current", current)], seconds, "s", tolerance);
        }
    }

    /// 5 mA gives 7.26 s by the formula, but the device need not trip.
    #[test]
    fn below_6_milliamperes_no_time_is_held_against_the_device() {
        for (current, words) in [
            ("3.9 mA", "must not trip"),
            ("4 mA", "may trip or hold"),
            ("5 mA", "may trip or hold"),
        ] {
            let problem = refuses(NAME, &[("current", current)], words);
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
    }

    #[test]
    fn above_the_curve_its_end_is_used_and_said() {
        check(NAME, &[("current", "300 mA")], 0.025, "s", 1e-12);
        let outcome = call(NAME, &[("current", "300 mA")]).unwrap();
        assert!(outcome.notes.iter().any(|note| note.contains("above the curve")));
    }
}
