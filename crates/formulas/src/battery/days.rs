//! How many days a battery stands with what draws on it.

use quantity::{Charge, Current, Kind, Ratio, Time};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Standing time: `t = C·u/I`, u the usable share of the capacity.
///
/// # Errors
/// [`Problem::OutOfRange`] if nothing is drawn, or the battery is being charged.
pub fn days(capacity: Charge, usable: Ratio, draw: Current) -> Result<Time, Problem> {
    if draw.value <= 0.0 {
        return Err(Problem::out_of_range(
            "not determinable: no current leaves the battery; take converter and solar off, check the \
             clamp's direction and read again",
        ));
    }
    Ok(capacity * usable / draw)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "battery.days",
    summary: "Days that a battery stands with a standing draw.",
    inputs: &[
        Input::quantity("capacity", Kind::Charge, "rated capacity")
            .accepting(Accepts::Above("0 Ah")),
        Input::quantity(
            "usable",
            Kind::Ratio,
            "share that may be used: 50 % for lead-acid as a rule",
        )
        .accepting(Accepts::AboveUpTo("0 %", "100 %")),
        Input::quantity("draw", Kind::Current, "standing current, out of the battery positive"),
    ],
    result: Gives::quantity("time", "d", "until the usable share is gone"),
    parts: &[],
    valid: "a current out of the battery",
    sources: &[Source {
        document: "definition: charge divided by current",
        section: "",
        confirmed: Confirmed::Derived,
    }],
    example: &[("capacity", "100 Ah"), ("usable", "50 %"), ("draw", "0.35 A")],
    compute: |inputs| {
        Ok(Outcome::new(days(inputs.get("capacity")?, inputs.get("usable")?, inputs.get("draw")?)?)
            .note(
                "wait until control modules sleep before reading; a gas alarm or propane valve alone takes \
                 30 mA to 100 mA (common practice)",
            ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "battery.days";

    /// Worked out from the definition.
    #[test]
    fn days_are_usable_charge_by_current() {
        for (usable, draw, days) in
            [("50 %", "0.35 A", 5.952), ("80 %", "350 mA", 9.524), ("90 %", "0.12 A", 31.25)]
        {
            let pairs = [("capacity", "100 Ah"), ("usable", usable), ("draw", draw)];
            check(NAME, &pairs, days, "d", 5e-4);
        }
    }

    #[test]
    fn a_charging_battery_has_no_standing_time() {
        for draw in ["0 A", "-2 A"] {
            let pairs = [("capacity", "100 Ah"), ("usable", "50 %"), ("draw", draw)];
            let problem = refuses(NAME, &pairs, "not determinable");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
        let all = [("capacity", "100 Ah"), ("usable", "120 %"), ("draw", "1 A")];
        assert!(matches!(refuses(NAME, &all, "at most 100 %"), Problem::Input { .. }));
    }
}
