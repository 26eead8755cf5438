//! What a tyre's gauge shows at another temperature.

use quantity::uom::si::length::kilometer;
use quantity::{Kind, Length, Pressure, Quantity, Temperature};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Pressure above the atmosphere's after a change of temperature, and of altitude where the new one
/// differs.
///
/// `P₂ = (P₁ + A₁) T₂/T₁ − A₂`, T absolute, A the atmosphere's pressure: an ideal gas in a constant
/// volume.
///
/// # Errors
/// [`Problem::OutOfRange`] if the tyre is flat, or nothing would be left above the atmosphere's.
pub fn pressure_at_temperature(
    pressure: Pressure,
    temperature: Temperature,
    new_temperature: Temperature,
    altitude: Length,
    new_altitude: Length,
) -> Result<Pressure, Problem> {
    if pressure.base() <= 0.0 {
        return Err(Problem::out_of_range("valid for a tyre under pressure; this one is flat"));
    }
    let absolute = pressure.base() + atmosphere(altitude).base();
    let ratio = new_temperature.base() / temperature.base();
    let gauge = absolute * ratio - atmosphere(new_altitude).base();
    if gauge < 0.0 {
        return Err(Problem::out_of_range(
            "the tyre would be below the atmosphere's pressure: it does not keep its volume then",
        ));
    }
    Ok(Pressure::from_base(gauge))
}

/// Pressure of the U.S. Standard Atmosphere, 1976, below 11 km (equation 33a with geopotential altitude,
/// equation 18).
fn atmosphere(altitude: Length) -> Pressure {
    const EARTH_RADIUS: f64 = 6_356.766; // km
    const SEA_LEVEL: f64 = 101_325.0; // Pa
    const SEA_LEVEL_TEMPERATURE: f64 = 288.15; // K
    const LAPSE: f64 = -6.5; // K/km
    const HYDROSTATIC: f64 = 9.806_65 * 28.964_4 / 8.314_32; // K/km
    let z = altitude.get::<kilometer>();
    let h = EARTH_RADIUS * z / (EARTH_RADIUS + z);
    let ratio = SEA_LEVEL_TEMPERATURE / (SEA_LEVEL_TEMPERATURE + LAPSE * h);
    Pressure::from_base(SEA_LEVEL * libm::pow(ratio, HYDROSTATIC / LAPSE))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "tyres.pressure_at_temperature",
    summary: "Pressure that a tyre's gauge shows at another temperature.",
    inputs: &[
        Input::quantity("pressure", Kind::Pressure, "what the gauge shows")
            .accepting(Accepts::Between("0 psi", "200 psi")),
        Input::quantity(
            "temperature",
            Kind::Temperature,
            "of the air in the tyre when it was read",
        )
        .accepting(Accepts::Between("-60 degF", "200 degF")),
        Input::quantity(
            "new_temperature",
            Kind::Temperature,
            "of the air in the tyre that is asked for",
        )
        .accepting(Accepts::Between("-60 degF", "200 degF")),
        Input::quantity("altitude", Kind::Length, "of the place; without it, sea level")
            .optional()
            .accepting(Accepts::Between("-1500 ft", "20000 ft")),
        Input::quantity(
            "new_altitude",
            Kind::Length,
            "of the place that is asked for; without it, the same",
        )
        .optional()
        .accepting(Accepts::Between("-1500 ft", "20000 ft")),
    ],
    result: Gives::quantity("pressure", "psi", "what the gauge would show"),
    parts: &[Gives::quantity(
        "atmosphere",
        "psi",
        "pressure of the standard atmosphere at the place",
    )],
    valid: "a tyre under pressure that keeps its volume; -60 degF to 200 degF, up to 200 psi",
    sources: &[
        Source {
            document: "ideal gas at constant volume, absolute pressure and temperature",
            section: "",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "U.S. Standard Atmosphere, 1976",
            section: "equations 18 and 33a; confirmed numerically against fluids 1.3.1",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("pressure", "65 psi"), ("temperature", "70 degF"), ("new_temperature", "30 degF")],
    compute: |inputs| {
        let altitude = inputs.optional("altitude")?.unwrap_or(Length::from_base(0.0));
        let new_altitude = inputs.optional("new_altitude")?.unwrap_or(altitude);
        let pressure = pressure_at_temperature(
            inputs.get("pressure")?,
            inputs.get("temperature")?,
            inputs.get("new_temperature")?,
            altitude,
            new_altitude,
        )?;
        Ok(Outcome::new(pressure)
            .part("atmosphere", atmosphere(altitude))
            .note(
                "a pressure is cold about three hours after driving (common practice), out of the \
                 sun; never bleed a hot tyre",
            )
            .note(
                "below the placard when cold: adjust; 20 % or more below: treat as run flat, the tyre \
                 comes off for a look inside (common practice)",
            ))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Output, Problem,
        tests::{call, check, check_part, in_unit, refuses},
    };

    const NAME: &str = "tyres.pressure_at_temperature";

    fn from<'a>(pressure: &'a str, was: &'a str, is: &'a str) -> [(&'a str, &'a str); 3] {
        [("pressure", pressure), ("temperature", was), ("new_temperature", is)]
    }

    /// Worked from the ideal gas law at 14.696 psi, to the second decimal.
    #[test]
    fn pressure_follows_the_absolute_temperature() {
        for (psi, was, is, new) in [
            ("65 psi", "70 degF", "30 degF", 58.98),
            ("65 psi", "70 degF", "120 degF", 72.52),
            ("80 psi", "70 degF", "100 degF", 85.36),
            ("50 psi", "70 degF", "0 degF", 41.45),
            ("80 psi", "60 degF", "70 degF", 81.82),
        ] {
            check(NAME, &from(psi, was, is), new, "psi", 0.005);
        }
        check(NAME, &from("450 kPa", "20 degC", "0 degC"), 412.4, "kPa", 0.05);
    }

    /// 65 psi times 489.67/529.67 would be 60.09 psi: the law holds for absolute pressure.
    #[test]
    fn the_law_is_not_applied_to_gauge_pressure() {
        let Output::Quantity(value) =
            call(NAME, &from("65 psi", "70 degF", "30 degF")).unwrap().result
        else {
            panic!("no quantity")
        };
        assert!((in_unit(value, "psi") - 60.09).abs() > 1.0);
    }

    /// Computed with fluids 1.3.1, ATMOSPHERE_1976.
    #[test]
    fn the_atmosphere_falls_with_altitude() {
        for (altitude, psi) in [("0 ft", 14.696), ("5000 ft", 12.228), ("10000 ft", 10.108)] {
            let pairs = [
                ("pressure", "65 psi"),
                ("temperature", "70 degF"),
                ("new_temperature", "70 degF"),
                ("altitude", altitude),
            ];
            check_part(NAME, &pairs, "atmosphere", psi, "psi", 5e-4);
            check(NAME, &pairs, 65.0, "psi", 1e-9);
        }
    }

    /// The difference of the two atmospheres: 14.696 − 12.228 psi.
    #[test]
    fn a_gauge_rises_on_the_way_up() {
        let pairs = [
            ("pressure", "65 psi"),
            ("temperature", "70 degF"),
            ("new_temperature", "70 degF"),
            ("new_altitude", "5000 ft"),
        ];
        check(NAME, &pairs, 67.47, "psi", 0.005);
    }

    #[test]
    fn impossible_readings_are_input_errors_and_flat_tyres_out_of_range() {
        for (psi, was, is) in [
            ("65 psi", "-61 degF", "30 degF"),
            ("65 psi", "70 degF", "201 degF"),
            ("201 psi", "70 degF", "30 degF"),
            ("-1 psi", "70 degF", "30 degF"),
        ] {
            let problem = refuses(NAME, &from(psi, was, is), "not possible");
            assert!(matches!(problem, Problem::Input { .. }));
        }
        for psi in ["0 psi", "1 psi"] {
            let problem = refuses(NAME, &from(psi, "100 degF", "0 degF"), "");
            assert!(matches!(problem, Problem::OutOfRange { .. }), "{psi}");
        }
    }
}
