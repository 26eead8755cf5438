//! How hot a panel's cells run.

use quantity::uom::si::{
    heat_flux_density::watt_per_square_meter, thermodynamic_temperature::degree_celsius,
    velocity::meter_per_second,
};
use quantity::{Irradiance, Kind, Speed, Temperature};

use crate::table::Table;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

static COEFFICIENTS: Table =
    Table::of(include_str!("../../../../data/tables/panel_temperature.csv"));

/// How a panel is mounted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mounting {
    /// On an open rack, glass on both sides.
    OpenRack,
    /// Close over a roof, glass on both sides.
    CloseMount,
    /// Glued to a roof or insulated behind: nearest to most panels on trailers.
    InsulatedBack,
}

impl Mounting {
    fn word(self) -> &'static str {
        match self {
            Self::OpenRack => "open_rack",
            Self::CloseMount => "close_mount",
            Self::InsulatedBack => "insulated_back",
        }
    }
}

/// Temperature of the cells by the Sandia model.
///
/// `T_c = T_a + E·e^(a + b·v) + ΔT·E/1000`, E in W/m², v in m/s at 10 m height, T in °C.
///
/// # Errors
/// [`Problem::OutOfRange`] above 1500 W/m², above 30 m/s, or in air outside −50 °C to 60 °C.
pub fn cell_temperature(
    irradiance: Irradiance,
    air: Temperature,
    wind: Speed,
    mounting: Mounting,
) -> Result<Temperature, Problem> {
    let e = irradiance.get::<watt_per_square_meter>();
    let v = wind.get::<meter_per_second>();
    let t = air.get::<degree_celsius>();
    if e > 1_500.0 || v > 30.0 || !(-50.0..=60.0).contains(&t) {
        return Err(Problem::out_of_range(
            "valid up to 1500 W/m2, for wind up to 30 m/s (67 mph) and air from -50 degC to 60 degC",
        ));
    }
    let table = &COEFFICIENTS;
    let row = table
        .rows()
        .find(|row| row.text("mounting") == mounting.word())
        .expect("a test looks every mounting up in the table");
    let (a, b, step) = (row.number("a"), row.number("b"), row.number("step"));
    let cell = t + e * libm::exp(a + b * v) + step * e / 1_000.0;
    Ok(Temperature::new::<degree_celsius>(cell))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "solar.cell_temperature",
    summary: "Temperature of a panel's cells in sun and wind.",
    inputs: &[
        Input::quantity("irradiance", Kind::Irradiance, "on the panel")
            .accepting(Accepts::AtLeast("0 W/m2")),
        Input::quantity("air", Kind::Temperature, "temperature of the air")
            .accepting(Accepts::AtLeast("0 K")),
        Input::quantity("wind", Kind::Speed, "over the panel").accepting(Accepts::AtLeast("0 mph")),
        Input::word(
            "mounting",
            &["open_rack", "close_mount", "insulated_back"],
            "insulated_back where glued or screwed close to a roof",
        ),
    ],
    result: Gives::quantity("cell", "degF", "temperature of the cells"),
    parts: &[],
    valid: "up to 1500 W/m2, wind up to 67 mph, air from -50 degC to 60 degC",
    sources: &[Source {
        document: "King, Boyson and Kratochvil, SAND2004-3535, as pvlib 0.16.1 carries it",
        section: "module temperature by mounting, and the step from module to cell",
        confirmed: Confirmed::Quoted,
    }],
    example: &[
        ("irradiance", "800 W/m2"),
        ("air", "20 degC"),
        ("wind", "1 m/s"),
        ("mounting", "insulated_back"),
    ],
    compute: |inputs| {
        let mounting = match inputs.words("mounting")? {
            "open_rack" => Mounting::OpenRack,
            "close_mount" => Mounting::CloseMount,
            _ => Mounting::InsulatedBack,
        };
        let cell = cell_temperature(
            inputs.get("irradiance")?,
            inputs.get("air")?,
            inputs.get("wind")?,
            mounting,
        )?;
        Ok(Outcome::new(cell).note(
            "a panel close to a roof runs 20 degC to 26 degC hotter than one on an open rack; do not touch it",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "solar.cell_temperature";

    /// Computed with pvlib 0.16.1, `sapm_cell`; the close mount worked out from the equation.
    #[test]
    fn temperatures_agree_with_the_library() {
        for (irradiance, air, wind, open, insulated) in [
            ("1000 W/m2", "25 degC", "1 m/s", 57.323, 82.527),
            ("800 W/m2", "20 degC", "1 m/s", 45.858, 66.022),
            ("600 W/m2", "35 degC", "3 m/s", 52.423, 66.514),
            ("200 W/m2", "0 degC", "5 m/s", 5.224, 9.591),
            ("0 W/m2", "20 degC", "1 m/s", 20.0, 20.0),
        ] {
            for (mounting, celsius) in [("open_rack", open), ("insulated_back", insulated)] {
                let pairs = [
                    ("irradiance", irradiance),
                    ("air", air),
                    ("wind", wind),
                    ("mounting", mounting),
                ];
                check(NAME, &pairs, celsius, "degC", 6e-4);
            }
        }
        let close = [
            ("irradiance", "1000 W/m2"),
            ("air", "25 degC"),
            ("wind", "1 m/s"),
            ("mounting", "close_mount"),
        ];
        check(NAME, &close, 26.0 + 1_000.0 * libm::exp(-3.0271), "degC", 1e-9);
    }

    #[test]
    fn storms_and_lamps_are_outside_the_model() {
        for (irradiance, wind) in [("1600 W/m2", "1 m/s"), ("800 W/m2", "31 m/s")] {
            let pairs = [
                ("irradiance", irradiance),
                ("air", "25 degC"),
                ("wind", wind),
                ("mounting", "open_rack"),
            ];
            let problem = refuses(NAME, &pairs, "valid up to 1500 W/m2");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
    }
}
