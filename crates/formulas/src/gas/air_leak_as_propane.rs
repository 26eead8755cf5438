//! What a leak that was measured with air would be with propane.

use quantity::{Kind, VolumeFlow};

use super::propane::VapourBasis;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Source};

/// Propane for air through an orifice, at 60 °F: the root of the ratio of densities.
const THROUGH_ORIFICE: f64 = 0.803;
/// Propane for air through a long fine passage, at 60 °F: the ratio of viscosities.
const THROUGH_CAPILLARY: f64 = 2.28;

/// Least and most propane that leaks where so much air did, at the same pressure: `q·√(ρ_air/ρ_propane)` through a
/// hole, `q·μ_air/μ_propane` through a fine crack.
#[must_use]
pub fn air_leak_as_propane(air: VolumeFlow) -> (VolumeFlow, VolumeFlow) {
    (THROUGH_ORIFICE * air, THROUGH_CAPILLARY * air)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.air_leak_as_propane",
    summary: "Propane that would leak where a test with air lost so much: from least to most.",
    inputs: &[Input::quantity(
        "air",
        Kind::VolumeFlow,
        "air lost in the test (gas.pressure_decay)",
    )
    .accepting(Accepts::AtLeast("0 cc/min"))],
    result: Gives::quantity("most", "cc/min", "if it leaks through a fine crack"),
    parts: &[
        Gives::quantity("least", "cc/min", "if it leaks through a hole"),
        Gives::quantity("power", "Btu/h", "heat that the most carries, at 2,516 Btu/ft³"),
    ],
    valid: "the same pressure, about 60 degF",
    sources: &[Source {
        document: "densities and viscosities of air and propane at 60 °F, computed with CoolProp 8.0.0",
        section: "",
        confirmed: Confirmed::Derived,
    }],
    example: &[("air", "0.5 cc/min")],
    compute: |inputs| {
        let (least, most) = air_leak_as_propane(inputs.get("air")?);
        Ok(Outcome::new(most)
            .part("least", least)
            .part("power", VapourBasis::AfterVaporisation.power(most))
            .note("which of the two it is, the test does not tell; codes pass no rate, only no perceptible drop"))
    },
};

#[cfg(test)]
mod tests {
    use super::{FORMULA, THROUGH_CAPILLARY, THROUGH_ORIFICE};
    use crate::tests::{check, check_part, refuses};

    /// Computed with CoolProp 8.0.0 at 288.706 K and 101,325 Pa: viscosities 1.7989e-5 and 7.891e-6 Pa s, propane
    /// 1.550 times as dense as air.
    #[test]
    fn the_factors_are_those_of_densities_and_viscosities() {
        assert!((THROUGH_CAPILLARY - 1.798_9e-5 / 7.891e-6).abs() < 0.001);
        assert!((THROUGH_ORIFICE - (1.0_f64 / 1.550).sqrt()).abs() < 0.001);
    }

    #[test]
    fn a_leak_of_air_is_between_less_and_more_of_propane() {
        check(FORMULA.name, FORMULA.example, 1.14, "cc/min", 1e-9);
        check_part(FORMULA.name, FORMULA.example, "least", 0.401_5, "cc/min", 1e-9);
        refuses(FORMULA.name, &[("air", "-1 cc/min")], "not possible");
    }
}
