//! The outdoor temperature that a heating certificate must print for economical running.

use quantity::uom::si::thermodynamic_temperature::degree_fahrenheit;
use quantity::{Kind, Temperature};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// `t + max(20 °F, 30 % of (70 °F − t))`, t the temperature of the capacity certification (24 CFR 3280.510(c)).
///
/// # Errors
/// [`Problem::OutOfRange`] for a certification at 70 °F or warmer.
pub fn economy_temperature(certified: Temperature) -> Result<Temperature, Problem> {
    let certified = certified.get::<degree_fahrenheit>();
    if certified >= 70.0 {
        return Err(Problem::out_of_range("valid for certification temperatures below 70 degF"));
    }
    Ok(Temperature::new::<degree_fahrenheit>(certified + (0.3 * (70.0 - certified)).max(20.0)))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "air.economy_temperature",
    summary: "Outdoor temperature for economical heating that a home's certificate prints.",
    inputs: &[Input::quantity(
        "certified",
        Kind::Temperature,
        "to which the heating is certified to hold 70 degF",
    )
    .accepting(Accepts::AtLeast("0 K"))],
    result: Gives::quantity("economy", "degF", "outdoor temperature for economical running"),
    parts: &[],
    valid: "manufactured homes, certification below 70 degF",
    sources: &[Source {
        document: "24 CFR 3280.510(c)",
        section: "the certification temperature and 20 degF, or 30 % of the difference to 70 degF, whichever is \
                  more",
        confirmed: Confirmed::Read,
    }],
    example: &[("certified", "-10 degF")],
    compute: |inputs| Ok(Outcome::new(economy_temperature(inputs.get("certified")?)?)),
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "air.economy_temperature";

    /// Worked out from 24 CFR 3280.510(c).
    #[test]
    fn the_larger_of_twenty_degrees_and_thirty_percent_is_added() {
        for (certified, economy) in [("-10 degF", 14.0), ("20 degF", 40.0)] {
            check(NAME, &[("certified", certified)], economy, "degF", 1e-9);
        }
    }

    #[test]
    fn a_certification_at_room_temperature_is_refused() {
        let problem = refuses(NAME, &[("certified", "70 degF")], "below 70 degF");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
    }
}
