//! A leak from the pressure that shut-in water loses, after drawing a known volume.

use quantity::{Kind, Pressure, Time, Volume, VolumeFlow};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Source};

/// Leak of a system without accumulator: `q = (ΔV/Δp)·Δp′/t`.
///
/// The measured draw ΔV and the fall Δp that it made are the system's stiffness; Δp′ is the later fall with all
/// taps shut.
#[must_use]
pub fn trapped_leak(drawn: Volume, fall: Pressure, later_fall: Pressure, time: Time) -> VolumeFlow {
    drawn * (later_fall / fall) / time
}

pub(crate) static FORMULA: Formula = Formula {
    name: "water.trapped_leak",
    summary: "Leak of a shut-in water system, from how its pressure answers a measured draw.",
    inputs: &[
        Input::quantity("drawn", Kind::Volume, "volume drawn to learn how stiff the system is")
            .accepting(Accepts::Above("0 mL")),
        Input::quantity("fall", Kind::Pressure, "fall of pressure by that draw")
            .accepting(Accepts::Above("0 psi")),
        Input::quantity("later_fall", Kind::Pressure, "later fall of pressure with all taps shut")
            .accepting(Accepts::AtLeast("0 psi")),
        Input::quantity("time", Kind::Time, "time of the later fall")
            .accepting(Accepts::Above("0 s")),
    ],
    result: Gives::quantity("leak", "cc/min", "water that leaves the system"),
    parts: &[],
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
        Ok(Outcome::new(trapped_leak(
            inputs.get("drawn")?,
            inputs.get("fall")?,
            inputs.get("later_fall")?,
            inputs.get("time")?,
        ))
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
    fn a_draw_that_moved_nothing_tells_nothing() {
        let given =
            [("drawn", "100 mL"), ("fall", "0 psi"), ("later_fall", "5 psi"), ("time", "15 min")];
        refuses(FORMULA.name, &given, "not possible");
    }
}
