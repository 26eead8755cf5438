//! The charge that a breakaway battery must hold.

use quantity::uom::si::time::minute;
use quantity::{Charge, Current, Kind, Quantity, Time, parse_value};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

use super::whole_count::whole_count;

/// Current of all brakes times the time they must hold.
///
/// # Errors
/// [`Problem::Input`] if the number of brakes is no whole number from 1 to 12.
pub fn breakaway_charge(
    brakes: f64,
    current_per_brake: Current,
    hold: Time,
) -> Result<Charge, Problem> {
    Ok(current_per_brake * whole_count("brakes", brakes, 12.0)? * hold)
}

/// A time with its unit, or a bare number of minutes.
fn read_minutes(text: &str) -> Result<Time, Problem> {
    let time = match (parse_value(text, Kind::Number), parse_value(text, Kind::Time)) {
        (Ok(number), _) => Time::new::<minute>(number.base),
        (Err(_), Ok(time)) => Time::from_base(time.base),
        (Err(_), Err(error)) => {
            return Err(Problem::input(
                "minutes",
                format!("{error}, or a plain number of minutes, such as 15"),
            ));
        }
    };
    if time.base() > 0.0 {
        Ok(time)
    } else {
        Err(Problem::input("minutes", "is not possible; accepted: more than 0 min"))
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "weights.breakaway_charge",
    summary: "Charge that the brakes draw from the breakaway battery while they hold.",
    inputs: &[
        Input::quantity("brakes", Kind::Number, "how many brakes"),
        Input::quantity("current_per_brake", Kind::Current, "current of one brake")
            .accepting(Accepts::Above("0 A")),
        // A text, so that both `15 min` and `15` are read.
        Input::text(
            "minutes",
            "how long they must hold: a time such as 15 min, or a number of minutes",
        ),
    ],
    result: Gives::quantity("charge", "Ah", "charge drawn"),
    parts: &[],
    valid: "",
    sources: &[
        Source {
            document: "definition: current times time",
            section: "",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "49 CFR 393.43",
            section: "(d): the brakes hold for 15 minutes",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("brakes", "4"), ("current_per_brake", "3.75 A"), ("minutes", "15 min")],
    compute: |inputs| {
        let charge = breakaway_charge(
            inputs.get("brakes")?,
            inputs.get("current_per_brake")?,
            read_minutes(inputs.words("minutes")?)?,
        )?;
        Ok(Outcome::new(charge)
            .note("test the switch for seconds only: brakes and magnets overheat in 15 minutes")
            .note("a small breakaway battery holds about 5 Ah when new, and should show 12 V or more under load (common practice)"))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Problem,
        tests::{check, refuses},
    };

    const NAME: &str = "weights.breakaway_charge";

    fn with<'a>(brakes: &'a str, minutes: &'a str) -> [(&'a str, &'a str); 3] {
        [("brakes", brakes), ("current_per_brake", "3.75 A"), ("minutes", minutes)]
    }

    /// Four brakes of 3.75 A for a quarter of an hour, worked from the definition.
    #[test]
    fn charge_is_current_times_time() {
        for time in ["15 min", "0.25 h", "900 s", "15"] {
            check(NAME, &with("4", time), 3.75, "Ah", 1e-9);
        }
    }

    #[test]
    fn no_time_and_no_brakes_are_refused() {
        for (brakes, time) in [("4", "0 min"), ("4", "-15"), ("4", "15 A"), ("0", "15 min")] {
            assert!(matches!(refuses(NAME, &with(brakes, time), ""), Problem::Input { .. }));
        }
    }
}
