//! Heat that a manufactured home loses through its shell and by its leaks.

use quantity::uom::si::{area::square_foot, length::foot, temperature_interval::degree_fahrenheit};
use quantity::{
    Area, HeatTransfer, Kind, Length, Power, Quantity, Temperature, TemperatureDifference, exact,
};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Btu/h for each foot of perimeter and °F: 24 CFR 3280.509(a).
const INFILTRATION: f64 = 0.7;

/// Heat loss through the shell and by infiltration.
///
/// `Q = U₀·A·ΔT + 0.7·ΔT·P` in Btu/h, ft² and ft: 24 CFR 3280.506, 3280.509.
///
/// # Errors
/// [`Problem::OutOfRange`] if it is not colder outside.
pub fn heat_loss(
    conductance: HeatTransfer,
    area: Area,
    perimeter: Length,
    indoor: Temperature,
    outdoor: Temperature,
) -> Result<(Power, Power), Problem> {
    let difference = TemperatureDifference::from_base(indoor.base() - outdoor.base());
    if difference.base() <= 0.0 {
        return Err(Problem::out_of_range(
            "valid where it is colder outside than inside; otherwise nothing is lost",
        ));
    }
    let degrees = difference.get::<degree_fahrenheit>();
    let btu = Power::new::<exact::power::british_thermal_unit_per_hour>;
    let u = conductance.get::<exact::heat_transfer::btu_per_hour_square_foot_fahrenheit>();
    Ok((
        btu(u * area.get::<square_foot>() * degrees),
        btu(INFILTRATION * degrees * perimeter.get::<foot>()),
    ))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "air.heat_loss",
    summary: "Heat that a manufactured home loses through its shell and by its leaks.",
    inputs: &[
        Input::quantity(
            "conductance",
            Kind::HeatTransfer,
            "of the whole shell, from its certificate",
        )
        .accepting(Accepts::Above("0 Btu/(h ft2 degF)")),
        Input::quantity("area", Kind::Area, "of the whole shell")
            .accepting(Accepts::Above("0 ft2")),
        Input::quantity("perimeter", Kind::Length, "of the floor")
            .accepting(Accepts::AtLeast("0 ft")),
        Input::quantity("indoor", Kind::Temperature, "inside, 70 degF by rule")
            .accepting(Accepts::AtLeast("0 K")),
        Input::quantity("outdoor", Kind::Temperature, "outside").accepting(Accepts::AtLeast("0 K")),
    ],
    result: Gives::quantity("heat_loss", "Btu/h", "through the shell and by leaks"),
    parts: &[
        Gives::quantity("transmission", "Btu/h", "through the shell"),
        Gives::quantity("infiltration", "Btu/h", "by leaks, as the rule reckons them"),
    ],
    valid: "colder outside than inside",
    sources: &[Source {
        document: "24 CFR part 3280",
        section: "3280.506(b) conductance by zone; 3280.509 infiltration 0.7 Btu/h for each ft and degF",
        confirmed: Confirmed::Read,
    }],
    example: &[
        ("conductance", "0.096 Btu/(h ft2 degF)"),
        ("area", "2400 ft2"),
        ("perimeter", "160 ft"),
        ("indoor", "70 degF"),
        ("outdoor", "0 degF"),
    ],
    compute: |inputs| {
        let (transmission, infiltration) = heat_loss(
            inputs.get("conductance")?,
            inputs.get("area")?,
            inputs.get("perimeter")?,
            inputs.get("indoor")?,
            inputs.get("outdoor")?,
        )?;
        Ok(Outcome::new(transmission + infiltration)
            .part("transmission", transmission)
            .part("infiltration", infiltration)
            .note(
                "an inspection does not measure the shell's conductance: take it from the home's heating \
                 certificate; without one the zone is not determined",
            ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "air.heat_loss";

    fn pairs<'a>(
        conductance: &'a str,
        area: &'a str,
        perimeter: &'a str,
        outdoor: &'a str,
    ) -> [(&'static str, &'a str); 5] {
        [
            ("conductance", conductance),
            ("area", area),
            ("perimeter", perimeter),
            ("indoor", "70 degF"),
            ("outdoor", outdoor),
        ]
    }

    /// Worked out from the rule, one home for each zone.
    #[test]
    fn loss_is_through_the_shell_and_by_leaks() {
        for (conductance, area, outdoor, perimeter, btu) in [
            ("0.116 Btu/(h ft2 degF)", "1800 ft2", "20 degF", "152 ft", 15_760.0),
            ("0.096 Btu/(h ft2 degF)", "2400 ft2", "0 degF", "160 ft", 23_968.0),
            ("0.079 Btu/(h ft2 degF)", "2400 ft2", "-10 degF", "160 ft", 24_128.0),
        ] {
            check(NAME, &pairs(conductance, area, perimeter, outdoor), btu, "Btu/h", 1e-6);
        }
    }

    #[test]
    fn in_summer_nothing_is_lost() {
        let pairs = pairs("0.1 Btu/(h ft2 degF)", "1800 ft2", "152 ft", "80 degF");
        assert!(matches!(refuses(NAME, &pairs, "colder outside"), Problem::OutOfRange { .. }));
    }
}
