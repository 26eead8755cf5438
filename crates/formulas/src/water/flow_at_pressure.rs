//! Flow of the same opening at another pressure.

use quantity::{Kind, Pressure, Quantity, VolumeFlow, exact};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// What holds the flow back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Restriction {
    /// An opening: shower head, tap, orifice. Flow goes with the square root of the pressure.
    Opening,
    /// A long pipe. Flow goes with the power 0.54, from the equation of Hazen and Williams.
    Pipe,
}

/// Flow at another pressure difference: `Q₂ = Q₁·(Δp₂/Δp₁)^n`, n 0.5 for an opening, 0.54 for a pipe.
///
/// # Errors
/// [`Problem::OutOfRange`] above 200 psi.
pub fn flow_at_pressure(
    flow: VolumeFlow,
    pressure: Pressure,
    new_pressure: Pressure,
    restriction: Restriction,
) -> Result<VolumeFlow, Problem> {
    let most = Pressure::new::<exact::pressure::pound_per_square_inch>(200.0);
    if pressure > most || new_pressure > most {
        return Err(Problem::out_of_range(
            "valid up to 200 psi; more in a dwelling's water pipe is an error of the gauge or the unit",
        ));
    }
    let ratio = new_pressure.base() / pressure.base();
    Ok(flow
        * match restriction {
            Restriction::Opening => ratio.sqrt(),
            Restriction::Pipe => libm::pow(ratio, 0.54),
        })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "water.flow_at_pressure",
    summary: "Flow of the same tap or shower head at another pressure.",
    inputs: &[
        Input::quantity("flow", Kind::VolumeFlow, "flow at the first pressure")
            .accepting(Accepts::AtLeast("0 gpm")),
        Input::quantity("pressure", Kind::Pressure, "pressure difference that drives this flow")
            .accepting(Accepts::Above("0 psi")),
        Input::quantity("new_pressure", Kind::Pressure, "pressure difference asked about")
            .accepting(Accepts::AtLeast("0 psi")),
        Input::word(
            "through",
            &["opening", "pipe"],
            "what holds the flow back: opening (tap, shower head) or pipe (long supply); opening without it",
        )
        .optional(),
    ],
    result: Gives::quantity("flow", "gpm", "flow at the other pressure"),
    parts: &[],
    valid: "up to 200 psi",
    sources: &[
        Source {
            document: "Bernoulli’s equation for an opening of constant discharge coefficient",
            section: "square-root law",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "California Plumbing Code 2013",
            section: "appendix A: equation of Hazen and Williams, whose exponent 1.852 gives 0.54",
            confirmed: Confirmed::Read,
        },
    ],
    example: &[("flow", "2.5 gpm"), ("pressure", "80 psi"), ("new_pressure", "45 psi")],
    compute: |inputs| {
        let restriction = match inputs.optional_words("through") {
            Some("pipe") => Restriction::Pipe,
            _ => Restriction::Opening,
        };
        Ok(Outcome::new(flow_at_pressure(
            inputs.get("flow")?,
            inputs.get("pressure")?,
            inputs.get("new_pressure")?,
            restriction,
        )?))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "water.flow_at_pressure";

    fn given<'a>(flow: &'a str, pressure: &'a str, new: &'a str) -> Vec<(&'a str, &'a str)> {
        vec![("flow", flow), ("pressure", pressure), ("new_pressure", new)]
    }

    /// Worked from the square-root law.
    #[test]
    fn an_opening_follows_the_square_root_of_the_pressure() {
        for (flow, pressure, new, gpm) in [
            ("2.5 gpm", "80 psi", "45 psi", 1.875),
            ("2.0 gpm", "80 psi", "40 psi", 1.414),
            ("2.0 gpm", "80 psi", "0 psi", 0.0),
        ] {
            check(NAME, &given(flow, pressure, new), gpm, "gpm", 0.000_5);
        }
    }

    /// 3 gpm take 20 of 60 psi; with 20 psi left at the end, 40 psi drive 4.36 gpm (4.24 by the root).
    #[test]
    fn a_long_pipe_gives_a_little_more() {
        let mut pipe = given("3 gpm", "20 psi", "40 psi");
        check(NAME, &pipe, 4.24, "gpm", 0.005);
        pipe.push(("through", "pipe"));
        check(NAME, &pipe, 4.36, "gpm", 0.005);
    }

    #[test]
    fn impossible_and_improbable_pressures_are_told_apart() {
        let problem = refuses(NAME, &given("2 gpm", "-5 psi", "40 psi"), "not possible");
        assert!(matches!(problem, Problem::Input { name, .. } if name == "pressure"));
        let problem = refuses(NAME, &given("2 gpm", "60 psi", "250 psi"), "200 psi");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
    }
}
