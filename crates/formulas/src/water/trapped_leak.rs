//! A leak from the pressure that shut-in water loses, after drawing a known volume.

use quantity::{Kind, Pressure, Time, Volume, VolumeFlow};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Inputs, Outcome, Problem, Source};

/// Leak of a system without accumulator: `q = (ΔV/Δp)·Δp′/t`.
///
/// The measured draw ΔV and the fall Δp that it made are the system's stiffness; Δp′ is the later fall with all
/// taps shut.
#[must_use]
pub fn trapped_leak(drawn: Volume, fall: Pressure, later_fall: Pressure, time: Time) -> VolumeFlow {
    drawn * (later_fall / fall) / time
}

/// The later fall, given as such or as the pressures at the start and the end.
fn later_fall(inputs: &Inputs<'_>) -> Result<Pressure, Problem> {
    let start: Option<Pressure> = inputs.optional("start_pressure")?;
    let end: Option<Pressure> = inputs.optional("end_pressure")?;
    match (inputs.optional("later_fall")?, start, end) {
        (Some(fall), None, None) => Ok(fall),
        (None, Some(start), Some(end)) if end <= start => Ok(start - end),
        (None, Some(_), Some(_)) => Err(Problem::input(
            "end_pressure",
            "is more than at the start: warming water or a valve that lets by raised it, so no leak follows; \
             accepted: the start pressure or less",
        )),
        (Some(_), _, _) => Err(Problem::input(
            "later_fall",
            "and the pressures at start and end say the same; give one or the other",
        )),
        (None, None, _) => Err(Problem::input(
            "start_pressure",
            "is missing: give the pressures at start and end, or later_fall",
        )),
        (None, Some(_), None) => Err(Problem::input(
            "end_pressure",
            "is missing: give the pressures at start and end, or later_fall",
        )),
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "water.trapped_leak",
    summary: "Leak of a shut-in water system, from how its pressure answers a measured draw.",
    inputs: &[
        Input::quantity("drawn", Kind::Volume, "volume drawn to learn how stiff the system is")
            .accepting(Accepts::Above("0 mL")),
        Input::quantity("fall", Kind::Pressure, "fall of pressure by that draw")
            .accepting(Accepts::Above("0 psi")),
        Input::quantity("start_pressure", Kind::Pressure, "pressure when all taps were shut")
            .optional()
            .accepting(Accepts::AtLeast("0 psi")),
        Input::quantity("end_pressure", Kind::Pressure, "pressure at the end, nothing drawn")
            .optional()
            .accepting(Accepts::AtLeast("0 psi")),
        Input::quantity(
            "later_fall",
            Kind::Pressure,
            "the fall between them, in place of start_pressure and end_pressure",
        )
        .optional()
        .accepting(Accepts::AtLeast("0 psi")),
        Input::quantity("time", Kind::Time, "time of the later fall")
            .accepting(Accepts::Above("0 s")),
    ],
    result: Gives::quantity("leak", "cc/min", "water that leaves the system"),
    parts: &[Gives::quantity("later_fall", "psi", "fall with all taps shut")],
    valid: "pump off, heater off and cool, falls in the same range of pressure",
    sources: &[Source {
        document: "a system that yields in proportion to its pressure",
        section: "",
        confirmed: Confirmed::Derived,
    }],
    example: &[
        ("drawn", "100 mL"),
        ("fall", "15 psi"),
        ("later_fall", "5 psi"),
        ("time", "15 min"),
    ],
    compute: |inputs| {
        let later = later_fall(inputs)?;
        Ok(Outcome::new(trapped_leak(
            inputs.get("drawn")?,
            inputs.get("fall")?,
            later,
            inputs.get("time")?,
        ))
        .part("later_fall", later)
        .note("cooling water also lowers the pressure: a fall that stops by itself is no leak"))
    },
};

#[cfg(test)]
mod tests {
    use super::FORMULA;
    use crate::tests::{check, refuses};

    /// 100 mL for 15 psi is 6.67 mL/psi; then 5 psi in 15 min.
    #[test]
    fn the_measured_draw_scales_the_later_fall() {
        check(FORMULA.name, FORMULA.example, 2.22, "cc/min", 0.005);
        check(FORMULA.name, FORMULA.example, 0.845, "gal/d", 0.000_5);
    }

    #[test]
    fn the_later_fall_may_be_given_as_start_and_end() {
        let shut = |start, end| {
            vec![
                ("drawn", "100 mL"),
                ("fall", "15 psi"),
                ("start_pressure", start),
                ("end_pressure", end),
                ("time", "15 min"),
            ]
        };
        check(FORMULA.name, &shut("55 psi", "50 psi"), 2.22, "cc/min", 0.005);
        refuses(FORMULA.name, &shut("55 psi", "56 psi"), "lets by");
        let mut twice = shut("55 psi", "50 psi");
        twice.push(("later_fall", "5 psi"));
        refuses(FORMULA.name, &twice, "say the same");
        let neither = [("drawn", "100 mL"), ("fall", "15 psi"), ("time", "15 min")];
        refuses(FORMULA.name, &neither, "is missing");
    }

    #[test]
    fn a_draw_that_moved_nothing_tells_nothing() {
        let given =
            [("drawn", "100 mL"), ("fall", "0 psi"), ("later_fall", "5 psi"), ("time", "15 min")];
        refuses(FORMULA.name, &given, "not possible");
    }
}
