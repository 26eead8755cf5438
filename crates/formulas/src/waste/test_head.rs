//! Pressure on the lowest joint while a drain is flooded for a test.

use quantity::uom::si::length::foot;
use quantity::{Kind, Length, Pressure, Quantity, exact};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Source};

/// Pressure of a head of water: 0.4335 psi for each foot.
#[must_use]
pub fn test_head(height: Length) -> Pressure {
    Pressure::new::<exact::pressure::pound_per_square_inch>(0.4335 * height.get::<foot>())
}

pub(crate) static FORMULA: Formula = Formula {
    name: "waste.test_head",
    summary: "Pressure on the lowest joint while a drain is flooded for a test.",
    inputs: &[Input::quantity(
        "height",
        Kind::Length,
        "height of the flood level, such as the toilet rim, over the lowest joint",
    )
    .accepting(Accepts::AtLeast("0 ft"))],
    result: Gives::quantity("pressure", "psi", "at the lowest joint"),
    parts: &[],
    valid: "cold water",
    sources: &[Source {
        document: "California Plumbing Code 2013",
        section: "appendix A: 0.4335 psi a foot",
        confirmed: Confirmed::Read,
    }],
    example: &[("height", "3 ft")],
    compute: |inputs| {
        let height: Length = inputs.get("height")?;
        let mut outcome = Outcome::new(test_head(height)).note(
            "homes with air-admittance or anti-siphon vents cannot hold a flood test: do not make one there",
        );
        // 10 ft.
        if height.base() > 3.048 {
            outcome = outcome
                .note("more than 10 ft of head is more than drain tests ask for; check the height");
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{check, refuses};

    /// 0.4335 psi a foot (California Plumbing Code 2013, appendix A).
    #[test]
    fn a_foot_of_water_presses_with_less_than_half_a_pound() {
        check("waste.test_head", &[("height", "1 ft")], 0.4335, "psi", 1e-9);
        check("waste.test_head", &[("height", "36 in")], 1.3005, "psi", 1e-9);
        refuses("waste.test_head", &[("height", "-1 ft")], "not possible");
    }
}
