//! How long until a holding tank is full.

use quantity::{Kind, Quantity, Time, Volume, VolumeFlow};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Room left in a tank divided by what comes in.
///
/// # Errors
/// [`Problem::Input`] if more is in the tank than it holds; [`Problem::OutOfRange`] if nothing comes in.
pub fn time_to_full(capacity: Volume, now: Volume, inflow: VolumeFlow) -> Result<Time, Problem> {
    if now > capacity {
        return Err(Problem::input(
            "now",
            "is more than the tank holds; accepted: 0 up to the capacity",
        ));
    }
    if inflow.base() <= 0.0 {
        return Err(Problem::out_of_range("nothing comes in, so the tank never fills"));
    }
    Ok((capacity - now) / inflow)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "waste.time_to_full",
    summary: "Time until a holding tank is full.",
    inputs: &[
        Input::quantity("capacity", Kind::Volume, "volume of the tank")
            .accepting(Accepts::Above("0 gal")),
        Input::quantity("now", Kind::Volume, "what is in it; empty without it")
            .optional()
            .accepting(Accepts::AtLeast("0 gal")),
        Input::quantity(
            "inflow",
            Kind::VolumeFlow,
            "what comes in, such as 16 gal/d for two people",
        )
        .accepting(Accepts::AtLeast("0 gal/d")),
    ],
    result: Gives::quantity("time", "d", "until it is full"),
    parts: &[],
    valid: "",
    sources: &[
        Source {
            document: "definition: room left divided by inflow",
            section: "",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "",
            section: "8 gal of grey water a person and day",
            confirmed: Confirmed::CommonPractice,
        },
    ],
    example: &[("capacity", "40 gal"), ("inflow", "16 gal/d")],
    compute: |inputs| {
        let now = inputs.optional("now")?.unwrap_or_else(|| Volume::from_base(0.0));
        Ok(Outcome::new(time_to_full(inputs.get("capacity")?, now, inputs.get("inflow")?)?)
            .note("a panel of four lamps shows the contents to a sixth of the tank at best"))
    },
};

#[cfg(test)]
mod tests {
    use super::FORMULA;
    use crate::tests::{check, refuses};

    #[test]
    fn forty_gallons_last_two_people_two_and_a_half_days() {
        check(FORMULA.name, FORMULA.example, 2.5, "d", 1e-9);
        let half = [("capacity", "40 gal"), ("now", "20 gal"), ("inflow", "16 gal/d")];
        check(FORMULA.name, &half, 1.25, "d", 1e-9);
    }

    #[test]
    fn a_tank_that_nothing_enters_never_fills() {
        refuses(FORMULA.name, &[("capacity", "40 gal"), ("inflow", "0 gal/d")], "never fills");
        let over = [("capacity", "40 gal"), ("now", "41 gal"), ("inflow", "1 gal/d")];
        refuses(FORMULA.name, &over, "more than the tank holds");
    }
}
