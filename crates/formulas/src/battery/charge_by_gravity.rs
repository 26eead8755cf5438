//! What a hydrometer says of a lead-acid battery's charge.

use quantity::uom::si::ratio::percent;
use quantity::uom::si::thermodynamic_temperature::degree_fahrenheit;
use quantity::{Kind, Ratio, Temperature};

use super::state_of_charge::TABLE;
use crate::table::between;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Charge by the specific gravity of the acid.
///
/// Linear in the table of Battery Council International, the reading corrected to 80 °F by 0.004 in 10 °F
/// (less when colder).
///
/// # Errors
/// [`Problem::OutOfRange`] if the corrected gravity lies outside 1.120 to 1.265.
pub fn charge_by_gravity(gravity: f64, temperature: Temperature) -> Result<Ratio, Problem> {
    let corrected = gravity + 0.000_4 * (temperature.get::<degree_fahrenheit>() - 80.0);
    // Rounded far below any hydrometer, for the conversion of the temperature.
    let corrected = (corrected * 1e9).round() / 1e9;
    let points = TABLE.line("gravity", "charge");
    between(&points, corrected).map(Ratio::new::<percent>).ok_or_else(|| {
        Problem::out_of_range(
            "valid for a gravity, corrected to 80 degF, from 1.120 to 1.265; beyond, the acid is not what \
             the table is for, or the cell is discharged",
        )
    })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "battery.charge_by_gravity",
    summary: "Charge of a flooded lead-acid cell by a hydrometer.",
    inputs: &[
        Input::quantity("gravity", Kind::Number, "specific gravity as read, such as 1.240")
            .accepting(Accepts::Between("1", "2")),
        Input::quantity("temperature", Kind::Temperature, "of the acid")
            .accepting(Accepts::AtLeast("0 K")),
    ],
    result: Gives::quantity("charge", "%", "by the gravity corrected to 80 degF"),
    parts: &[],
    valid: "1.120 to 1.265, corrected to 80 degF",
    sources: &[Source {
        document: "a battery maker's page with the table of Battery Council International",
        section: "specific gravity at 80 degF; 0.004 in 10 degF",
        confirmed: Confirmed::Read,
    }],
    example: &[("gravity", "1.240"), ("temperature", "80 degF")],
    compute: |inputs| {
        Ok(Outcome::new(charge_by_gravity(inputs.get("gravity")?, inputs.get("temperature")?)?).note(
            "acid burns: eyes, skin and clothes covered, water at hand; read every cell, one that differs \
             by 0.050 is a finding (common practice)",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "battery.charge_by_gravity";

    /// Points worked out on the straight lines of the published table; 1.256 at 40 °F is 1.240.
    #[test]
    fn charge_is_linear_in_the_published_table() {
        for (gravity, temperature, percent) in [
            ("1.265", "80 degF", 100.0),
            ("1.240", "80 degF", 84.38),
            ("1.190", "80 degF", 50.0),
            ("1.150", "80 degF", 21.43),
            ("1.256", "40 degF", 84.38),
        ] {
            let pairs = [("gravity", gravity), ("temperature", temperature)];
            check(NAME, &pairs, percent, "%", 0.006);
        }
    }

    #[test]
    fn gravities_beyond_the_table_have_no_charge() {
        for gravity in ["1.110", "1.300"] {
            let pairs = [("gravity", gravity), ("temperature", "80 degF")];
            let problem = refuses(NAME, &pairs, "from 1.120 to 1.265");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
    }
}
