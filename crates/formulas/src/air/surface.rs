//! Whether damp air condenses on a surface, or keeps it damp enough for mould.

use quantity::uom::si::{ratio::ratio, thermodynamic_temperature::degree_celsius};
use quantity::{Kind, Quantity, Ratio, Temperature};

use super::moist_air::{MoistAir, dew_point, saturation_pressure};
use super::state::celsius;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

/// Humidity at a surface from which mould is to be reckoned with.
const MOULD: f64 = 0.80;
/// Least difference between inside and outside for a temperature factor.
const LEAST_DIFFERENCE: f64 = 5.0; // K

/// What the air of a room does at a surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SurfaceState {
    /// Dew point of the air.
    pub dew_point: Temperature,
    /// Humidity at the surface; over 1 it would have to be wetter than saturated, so water condenses.
    pub surface_humidity: Ratio,
    /// The surface is at or below the dew point.
    pub condenses: bool,
    /// Temperature at which the humidity at a surface would be 80 %.
    pub mould_temperature: Temperature,
}

/// State of a room's air at a surface.
///
/// `φ_s = φ·p_s(T)/p_s(T_s)`; it condenses where T_s is at or below the dew point.
///
/// # Errors
/// [`Problem::OutOfRange`] outside −100 °C to 200 °C or for air without a dew point there.
pub fn surface(
    air: Temperature,
    relative_humidity: Ratio,
    surface: Temperature,
) -> Result<SurfaceState, Problem> {
    let (inside, at_surface) = (celsius(air), celsius(surface));
    let moist = MoistAir::by_relative_humidity(
        "relative_humidity",
        inside,
        relative_humidity.get::<ratio>(),
        101_325.0,
    )?;
    if !(-100.0..=200.0).contains(&at_surface) {
        return Err(Problem::out_of_range("valid for surfaces from -100 degC to 200 degC"));
    }
    let vapour = relative_humidity.get::<ratio>() * saturation_pressure(inside);
    let dew = moist.dew_point()?;
    Ok(SurfaceState {
        dew_point: Temperature::new::<degree_celsius>(dew),
        surface_humidity: Ratio::new::<ratio>(vapour / saturation_pressure(at_surface)),
        condenses: at_surface <= dew,
        mould_temperature: Temperature::new::<degree_celsius>(dew_point(vapour / MOULD)?),
    })
}

/// Share of the difference between inside and outside that is left at the surface: `(T_s − T_e)/(T_i − T_e)`.
///
/// # Errors
/// [`Problem::OutOfRange`] if inside and outside differ by less than 5 K.
pub fn temperature_factor(
    air: Temperature,
    surface: Temperature,
    outdoor: Temperature,
) -> Result<Ratio, Problem> {
    let whole = air.base() - outdoor.base();
    if whole.abs() < LEAST_DIFFERENCE {
        return Err(Problem::out_of_range(
            "a temperature factor is valid from 5 K (9 degF) between inside and outside",
        ));
    }
    Ok(Ratio::from_base((surface.base() - outdoor.base()) / whole))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "air.surface",
    summary: "Humidity of a room's air at a surface, and whether it condenses there.",
    inputs: &[
        Input::quantity("air", Kind::Temperature, "of the room").accepting(Accepts::AtLeast("0 K")),
        Input::quantity("relative_humidity", Kind::Ratio, "of the room")
            .accepting(Accepts::AboveUpTo("0 %", "100 %")),
        Input::quantity("surface", Kind::Temperature, "of the surface")
            .accepting(Accepts::AtLeast("0 K")),
        Input::quantity("outdoor", Kind::Temperature, "outside; for the temperature factor")
            .accepting(Accepts::AtLeast("0 K"))
            .optional(),
    ],
    result: Gives::quantity("surface_humidity", "%", "over 100 % it condenses"),
    parts: &[
        Gives::quantity("dew_point", "degF", "of the room's air"),
        Gives::quantity("surface_humidity", "%", "the same as the result"),
        Gives::words("condenses", "whether the surface is at or below the dew point"),
        Gives::quantity("mould_temperature", "degF", "surface temperature for 80 % humidity there"),
        Gives::quantity("temperature_factor", "ratio", "with outdoor, from 9 degF difference on"),
    ],
    valid: "-100 degC to 200 degC",
    sources: &[
        super::moist_air::CHAPTER,
        Source {
            document: "ISO 13788:2012",
            section: "5.3, design for avoidance of mould growth: 0.80 at the surface as a monthly mean",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("air", "70 degF"), ("relative_humidity", "50 %"), ("surface", "55 degF")],
    compute: |inputs| {
        let (air, at_surface) = (inputs.get("air")?, inputs.get("surface")?);
        let found = surface(air, inputs.get("relative_humidity")?, at_surface)?;
        let mut outcome = Outcome::new(found.surface_humidity)
            .part("dew_point", found.dew_point)
            .part("surface_humidity", found.surface_humidity)
            .part("condenses", Output::Truth(found.condenses))
            .part("mould_temperature", found.mould_temperature)
            .note(
                "conditions at the time of the visit: 80 % at a surface matters as a monthly mean, not as \
                 one reading",
            )
            .note(
                "an infrared reading needs the surface's emissivity; on shiny metal it is not determinable, \
                 tape it first",
            );
        if let Some(outdoor) = inputs.optional("outdoor")? {
            outcome = match temperature_factor(air, at_surface, outdoor) {
                Ok(factor) => outcome.part("temperature_factor", factor),
                Err(problem) => outcome.note(problem.to_string()),
            };
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check, check_part, part_of, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "air.surface";

    /// Computed with PsychroLib 2.5.0.
    #[test]
    fn dew_points_and_mould_temperatures_agree_with_the_library() {
        for (air, humidity, dew, mould) in [
            ("20 degC", "50 %", 9.2724, 12.6281),
            ("21 degC", "40 %", 6.8995, 10.1914),
            ("21 degC", "60 %", 12.9467, 16.4026),
            ("25 degC", "55 %", 15.3393, 18.8613),
            ("18 degC", "70 %", 12.4526, 15.8948),
        ] {
            let surface = format!("{mould} degC");
            let pairs = [("air", air), ("relative_humidity", humidity), ("surface", &surface)];
            check_part(NAME, &pairs, "dew_point", dew, "degC", 1e-3);
            check_part(NAME, &pairs, "mould_temperature", mould, "degC", 1e-3);
            check(NAME, &pairs, 80.0, "%", 0.01);
        }
    }

    /// Worked out by the simpler saturation curve of ISO 13788 (Magnus), which lies 0.004 K lower: the factor that
    /// keeps 80 % from a surface, at 0 °C and −10 °C outside.
    #[test]
    fn the_factor_needed_against_mould_agrees_with_the_simpler_curve() {
        for (air, humidity, factors) in [
            ("20 degC", "50 %", [0.6312, 0.7542]),
            ("21 degC", "40 %", [0.4851, 0.6512]),
            ("21 degC", "60 %", [0.7809, 0.8516]),
            ("25 degC", "55 %", [0.7543, 0.8245]),
            ("18 degC", "70 %", [0.8830, 0.9248]),
        ] {
            let at = [("air", air), ("relative_humidity", humidity), ("surface", air)];
            let outcome = call(NAME, &at).unwrap();
            let Output::Quantity(mould) = part_of(&outcome, "mould_temperature") else {
                panic!("no temperature")
            };
            let surface = format!("{} K", mould.base);
            for (outdoor, factor) in ["0 degC", "-10 degC"].into_iter().zip(factors) {
                let pairs = [at[0], at[1], ("surface", surface.as_str()), ("outdoor", outdoor)];
                check_part(NAME, &pairs, "temperature_factor", factor, "ratio", 3e-4);
            }
        }
    }

    /// 1 − 0.13/2.50 of the difference from 0 °C is left: 18.96 °C at 20 °C, 0.948 (a published example).
    #[test]
    fn the_temperature_factor_needs_a_difference() {
        let pairs = [
            ("air", "20 degC"),
            ("relative_humidity", "50 %"),
            ("surface", "18.96 degC"),
            ("outdoor", "0 degC"),
        ];
        check_part(NAME, &pairs, "temperature_factor", 0.948, "ratio", 1e-9);
        let mild = [pairs[0], pairs[1], pairs[2], ("outdoor", "16 degC")];
        let outcome = call(NAME, &mild).unwrap();
        assert!(outcome.parts.iter().all(|(name, _)| *name != "temperature_factor"));
        assert!(outcome.notes.iter().any(|note| note.contains("from 5 K")));
    }

    #[test]
    fn a_surface_below_the_dew_point_condenses() {
        for (surface, condenses) in [("9 degC", true), ("9.5 degC", false)] {
            let pairs = [("air", "20 degC"), ("relative_humidity", "50 %"), ("surface", surface)];
            let outcome = call(NAME, &pairs).unwrap();
            assert_eq!(*part_of(&outcome, "condenses"), Output::Truth(condenses), "{surface}");
        }
    }

    #[test]
    fn dry_air_and_furnace_surfaces_are_refused() {
        let dry = [("air", "20 degC"), ("relative_humidity", "0 %"), ("surface", "9 degC")];
        assert!(matches!(refuses(NAME, &dry, "more than 0 %"), Problem::Input { .. }));
        let hot = [("air", "20 degC"), ("relative_humidity", "50 %"), ("surface", "300 degC")];
        assert!(matches!(refuses(NAME, &hot, "valid for surfaces"), Problem::OutOfRange { .. }));
    }
}
