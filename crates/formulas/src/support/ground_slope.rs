//! How steeply the ground falls away from a home.

use quantity::{Kind, Length, Quantity, Ratio};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Source};

/// `drop / run`, negative where the ground falls toward the home.
#[must_use]
pub fn ground_slope(drop: Length, run: Length) -> Ratio {
    drop / run
}

pub(crate) static FORMULA: Formula = Formula {
    name: "support.ground_slope",
    summary: "Slope of the ground away from a home.",
    inputs: &[
        Input::quantity(
            "drop",
            Kind::Length,
            "how much lower the ground is at the far end; negative if it falls toward the home",
        ),
        Input::quantity("run", Kind::Length, "distance from the home")
            .accepting(Accepts::Above("0 ft")),
    ],
    result: Gives::quantity("slope", "in/ft", "positive away from the home"),
    parts: &[],
    valid: "",
    sources: &[
        Source {
            document: "definition: drop divided by run",
            section: "",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "24 CFR 3285.203",
            section: "1/2 in/ft over the first 10 ft, or swales and drains",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("drop", "5 in"), ("run", "10 ft")],
    compute: |inputs| {
        let slope = ground_slope(inputs.get("drop")?, inputs.get("run")?);
        let mut outcome = Outcome::new(slope);
        if slope.base() < 0.0 {
            outcome = outcome.note("the ground falls toward the home: a finding by itself");
        }
        Ok(outcome.note("where lot lines prevent the slope, swales or drains may take its place (24 CFR 3285.203, from memory)"))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check, refuses};

    const NAME: &str = "support.ground_slope";

    /// Worked from the definition.
    #[test]
    fn slope_is_drop_over_run() {
        check(NAME, &[("drop", "5 in"), ("run", "10 ft")], 0.50, "in/ft", 1e-9);
        check(NAME, &[("drop", "4 in"), ("run", "10 ft")], 0.40, "in/ft", 1e-9);
        check(NAME, &[("drop", "5 in"), ("run", "10 ft")], 4.1667, "%", 5e-5);
    }

    #[test]
    fn ground_that_falls_toward_the_home_is_negative_and_said() {
        let pairs = [("drop", "-1 in"), ("run", "10 ft")];
        check(NAME, &pairs, -0.10, "in/ft", 1e-9);
        assert!(call(NAME, &pairs).unwrap().notes[0].contains("toward the home"));
        refuses(NAME, &[("drop", "5 in"), ("run", "0 ft")], "not possible");
    }
}
