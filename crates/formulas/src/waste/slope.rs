//! Slope of a drain.

use quantity::{Angle, Kind, Length, Quantity, Ratio};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Source};

/// Fall divided by run, less the slope that the whole unit stands at.
#[must_use]
pub fn slope(fall: Length, run: Length, frame_pitch: Ratio) -> Ratio {
    fall / run - frame_pitch
}

pub(crate) static FORMULA: Formula = Formula {
    name: "waste.slope",
    summary: "Slope of a drain, with the unit's own lean taken off.",
    inputs: &[
        Input::quantity("fall", Kind::Length, "fall toward the outlet; negative where it rises"),
        Input::quantity("run", Kind::Length, "level distance of that fall")
            .accepting(Accepts::Above("0 in")),
        Input::quantity(
            "frame_pitch",
            Kind::Ratio,
            "slope of the frame in the drain's direction, positive downhill to the outlet; level without it",
        )
        .optional()
        .accepting(Accepts::Between("-20 %", "20 %")),
    ],
    result: Gives::quantity("slope", "in/ft", "fall for each run, unit level"),
    parts: &[Gives::quantity("angle", "deg", "the same as an angle")],
    valid: "",
    sources: &[
        Source {
            document: "definition: fall divided by run",
            section: "",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "24 CFR 3285.604(c)",
            section: "1/4 in/ft; 1/8 in/ft with a full-size clean-out at the upper end",
            confirmed: Confirmed::Read,
        },
    ],
    example: &[("fall", "2.5 in"), ("run", "10 ft")],
    compute: |inputs| {
        let pitch: Option<Ratio> = inputs.optional("frame_pitch")?;
        let slope = slope(
            inputs.get("fall")?,
            inputs.get("run")?,
            pitch.unwrap_or_else(|| Ratio::from_base(0.0)),
        );
        let mut outcome = Outcome::new(slope)
            .part("angle", Angle::from_base(libm::atan(slope.base())));
        if slope.base() < 0.0 {
            outcome = outcome.note("the drain falls backward, away from its outlet");
        }
        if pitch.is_none() {
            outcome = outcome
                .note("holds with the unit level; else give the frame’s own slope as frame_pitch");
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check, check_part, refuses};

    const NAME: &str = "waste.slope";

    fn run<'a>(fall: &'a str, length: &'a str) -> Vec<(&'a str, &'a str)> {
        vec![("fall", fall), ("run", length)]
    }

    /// Worked from the definition; ¼ in/ft is 2.083 % and 1.193°.
    #[test]
    fn slope_is_fall_over_run() {
        for (fall, slope) in [("2.5 in", 0.25), ("1.25 in", 0.125), ("1.0 in", 0.1), ("0 in", 0.0)]
        {
            check(NAME, &run(fall, "10 ft"), slope, "in/ft", 1e-12);
        }
        check(NAME, &run("1/4 in", "1 ft"), 2.083, "%", 0.000_5);
        check_part(NAME, &run("1/4 in", "1 ft"), "angle", 1.193, "deg", 0.000_5);
    }

    #[test]
    fn a_drain_that_rises_is_backfall() {
        check(NAME, &run("-1 in", "10 ft"), -0.1, "in/ft", 1e-12);
        let notes = call(NAME, &run("-1 in", "10 ft")).unwrap().notes;
        assert!(notes[0].contains("backward"), "{notes:?}");
    }

    /// A unit that leans down toward the outlet flatters its drain, and one that leans away hides fall.
    #[test]
    fn the_lean_of_the_unit_is_taken_off() {
        for (pitch, slope) in [("0.1 in/ft", 0.15), ("-0.1 in/ft", 0.35)] {
            let mut given = run("2.5 in", "10 ft");
            given.push(("frame_pitch", pitch));
            check(NAME, &given, slope, "in/ft", 1e-12);
        }
    }

    #[test]
    fn without_a_run_there_is_no_slope() {
        refuses(NAME, &run("1 in", "0 ft"), "not possible");
    }
}
