//! How much gas a container can make at a temperature.

use quantity::uom::si::{
    length::inch, ratio::percent, thermodynamic_temperature::degree_fahrenheit,
};
use quantity::{Kind, Length, Mass, Power, Quantity, Ratio, Temperature, exact};

use super::propane;
use crate::table::{Table, between};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

static UPRIGHT: Table = Table::of(include_str!("../../../../data/tables/vaporisation_100lb.csv"));
static HORIZONTAL: Table =
    Table::of(include_str!("../../../../data/tables/vaporisation_horizontal.csv"));

/// The columns of the table of the 100-lb cylinder, by temperature in °F.
const COLUMNS: [(f64, &str); 5] =
    [(0.0, "at_0"), (20.0, "at_20"), (40.0, "at_40"), (60.0, "at_60"), (70.0, "at_70")];

/// An upright cylinder that can be asked about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UprightCylinder {
    /// The 100-lb cylinder that the published table is about.
    Pounds100,
    /// A 40-lb cylinder, estimated.
    Pounds40,
    /// A 30-lb cylinder, estimated.
    Pounds30,
    /// A 20-lb cylinder, estimated.
    Pounds20,
}

impl UprightCylinder {
    /// Nominal contents in pounds, and outside diameter in inches as such cylinders usually have it.
    fn size(self) -> (f64, f64) {
        match self {
            Self::Pounds100 => (100.0, 14.7),
            Self::Pounds40 => (40.0, 12.2),
            Self::Pounds30 => (30.0, 12.2),
            Self::Pounds20 => (20.0, 12.2),
        }
    }

    /// Wall and bottom that the liquid wets, in square inches: `A = πDh + πD²/4`.
    fn wetted_area(self, fraction: f64) -> f64 {
        let (nominal, diameter) = self.size();
        let contents = Mass::new::<exact::mass::avoirdupois_pound>(nominal * fraction);
        let liquid = propane::liquid_volume(contents).get::<exact::volume::inch_cubed>();
        let bottom = std::f64::consts::PI / 4.0 * diameter * diameter;
        std::f64::consts::PI * diameter * (liquid / bottom) + bottom
    }
}

/// Largest continuous draw from an upright cylinder.
///
/// Bilinear in the published table of the 100-lb cylinder. A smaller cylinder is estimated from the row
/// of the same fill, times the ratio of the areas that the liquid wets; that is good to ±30 %.
///
/// # Errors
/// [`Problem::OutOfRange`] outside 0 °F to 70 °F (but −20 °F and below give none), under a tenth full, or
/// over the nominal contents.
pub fn upright_vaporisation(
    cylinder: UprightCylinder,
    contents: Mass,
    temperature: Temperature,
) -> Result<Power, Problem> {
    let (nominal, _) = cylinder.size();
    let fraction = contents.get::<exact::mass::avoirdupois_pound>() / nominal;
    // A hair's breadth for the rounding of the unit conversions.
    if !(0.1 - 1e-9..=1.0 + 1e-9).contains(&fraction) {
        return Err(Problem::out_of_range(format!(
            "valid for {} lb to {nominal} lb in this cylinder; below a tenth the published table ends, above \
             it the cylinder is overfilled",
            nominal / 10.0
        )));
    }
    let Some(fahrenheit) = working_temperature(temperature)? else {
        return Ok(Power::from_base(0.0));
    };
    if fahrenheit < 0.0 {
        return Err(Problem::out_of_range(
            "valid from 0 degF to 70 degF for cylinders; between -20 degF and 0 degF nothing is published, \
             at -20 degF and below count on none",
        ));
    }
    let pounds = (fraction * 100.0).clamp(10.0, 100.0); // the row of the same fill
    let table = &UPRIGHT;
    let at_columns: Vec<(f64, f64)> = COLUMNS
        .iter()
        .filter_map(|(degrees, column)| {
            Some((*degrees, between(&table.line("contents", column), pounds)?))
        })
        .collect();
    let draw = between(&at_columns, fahrenheit)
        .ok_or_else(|| Problem::out_of_range("valid from 0 degF to 70 degF for cylinders"))?;
    let share = cylinder.wetted_area(fraction) / UprightCylinder::Pounds100.wetted_area(fraction);
    Ok(Power::new::<exact::power::british_thermal_unit_per_hour>(draw * share))
}

/// Largest continuous draw from a horizontal ASME container.
///
/// `P = K·D·L·(t + 20)/20`, P in Btu/h, D and L in inches, t in °F, K by fill. K is published for 0 °F, where
/// the liquid may cool by 20 °F to −20 °F; the draw follows that difference.
///
/// # Errors
/// [`Problem::OutOfRange`] above 70 °F, or for a fill outside 10 % to 60 %.
pub fn horizontal_vaporisation(
    diameter: Length,
    length: Length,
    fill: Ratio,
    temperature: Temperature,
) -> Result<Power, Problem> {
    let factors = HORIZONTAL.line("fill", "factor");
    // A hair's breadth for the rounding of the unit conversions.
    let filled = (fill.get::<percent>() * 1e9).round() / 1e9;
    let factor = between(&factors, filled).ok_or_else(|| {
        Problem::out_of_range(
            "valid for a fill of 10 % to 60 %; the published factors end at 60 %, and a fuller container \
             gives at least as much",
        )
    })?;
    let Some(fahrenheit) = working_temperature(temperature)? else {
        return Ok(Power::from_base(0.0));
    };
    let draw = factor * diameter.get::<inch>() * length.get::<inch>() * (fahrenheit + 20.0) / 20.0;
    Ok(Power::new::<exact::power::british_thermal_unit_per_hour>(draw))
}

/// The temperature in °F; none at −20 °F and below, where no draw is to be counted on.
fn working_temperature(temperature: Temperature) -> Result<Option<f64>, Problem> {
    // The conversion from °F to K and back leaves crumbs in the last digits.
    let fahrenheit = (temperature.get::<degree_fahrenheit>() * 1e9).round() / 1e9;
    if fahrenheit > 70.0 {
        return Err(Problem::out_of_range(
            "valid up to 70 degF; a warmer container gives at least as much as at 70 degF",
        ));
    }
    Ok((fahrenheit > -20.0).then_some(fahrenheit))
}

const NEEDED_WHEN_UPRIGHT: &str = "propane in an upright cylinder; not for horizontal";

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.vaporisation",
    summary: "Largest continuous draw that a propane container can make up by evaporating.",
    inputs: &[
        Input::quantity("contents", Kind::Mass, NEEDED_WHEN_UPRIGHT)
            .optional()
            .accepting(Accepts::AtLeast("0 lb")),
        Input::quantity("temperature", Kind::Temperature, "temperature of the air and the liquid")
            .accepting(Accepts::AtLeast("0 K")),
        Input::word(
            "container",
            &["upright_100lb", "small_40lb", "small_30lb", "small_20lb", "horizontal"],
            "upright_100lb; small_40lb, small_30lb or small_20lb (estimates); horizontal (ASME container, by \
             diameter, length and fill)",
        ),
        Input::quantity("diameter", Kind::Length, "outside diameter of a horizontal container")
            .optional()
            .accepting(Accepts::Above("0 in")),
        Input::quantity("length", Kind::Length, "length of a horizontal container")
            .optional()
            .accepting(Accepts::Above("0 in")),
        Input::quantity("fill", Kind::Ratio, "fill of a horizontal container, by its gauge")
            .optional()
            .accepting(Accepts::Between("0 %", "100 %")),
    ],
    result: Gives::quantity("power", "Btu/h", "largest continuous draw"),
    parts: &[
        Gives::quantity("low", "Btu/h", "less 30 %; small cylinders only"),
        Gives::quantity("high", "Btu/h", "more 30 %; small cylinders only"),
    ],
    valid: "cylinders a tenth full or more, 0 degF to 70 degF; horizontal 10 % to 60 % full, up to 70 degF; \
            none at -20 degF and below",
    sources: &[
        Source {
            document: "generator maker’s LP-gas installation manual TP-6727",
            section: "appendix D: 100-lb cylinders; horizontal containers",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "for small cylinders: the 100-lb table scaled by wetted area, ±30 %",
            section: "",
            confirmed: Confirmed::OwnChoice,
        },
    ],
    example: &[("contents", "35 lb"), ("temperature", "30 degF"), ("container", "upright_100lb")],
    compute: |inputs| {
        let temperature = inputs.get("temperature")?;
        let container = inputs.words("container")?;
        let cylinder = match container {
            "upright_100lb" => UprightCylinder::Pounds100,
            "small_40lb" => UprightCylinder::Pounds40,
            "small_30lb" => UprightCylinder::Pounds30,
            "small_20lb" => UprightCylinder::Pounds20,
            _ => {
                if inputs.optional::<Mass>("contents")?.is_some() {
                    return Err(Problem::input(
                        "contents",
                        "does not go with a horizontal container; give its diameter, length and fill",
                    ));
                }
                let draw = horizontal_vaporisation(
                    inputs.get("diameter")?,
                    inputs.get("length")?,
                    inputs.get("fill")?,
                    temperature,
                )?;
                return Ok(with_cautions(Outcome::new(draw), draw));
            }
        };
        for name in ["diameter", "length"] {
            if inputs.optional::<Length>(name)?.is_some() {
                return Err(Problem::input(name, "goes with a horizontal container only"));
            }
        }
        if inputs.optional::<Ratio>("fill")?.is_some() {
            return Err(Problem::input(
                "fill",
                "goes with a horizontal container only; for a cylinder give its contents",
            ));
        }
        let draw = upright_vaporisation(cylinder, inputs.get("contents")?, temperature)?;
        let mut outcome = Outcome::new(draw);
        if cylinder != UprightCylinder::Pounds100 {
            outcome = outcome.part("low", 0.7 * draw).part("high", 1.3 * draw).note(
                "an estimate, ±30 %: nothing is published for small cylinders; scaled from the 100-lb table by \
                 the area that the liquid wets",
            );
        }
        Ok(with_cautions(outcome, draw))
    },
};

/// Adds what holds for every container.
fn with_cautions(mut outcome: Outcome, draw: Power) -> Outcome {
    if draw.base() <= 0.0 {
        outcome = outcome
            .note("at -20 degF and below count on no vapour: the figures rest on cooling the liquid to -20 degF");
    }
    outcome
        .note("two cylinders on an automatic changeover do not add: one supplies at a time")
        .note("for continuous draw; a frost line on the container means more is drawn than it can make")
}

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{call, check, check_part, refuses};

    const NAME: &str = "gas.vaporisation";

    fn upright<'a>(
        container: &'a str,
        contents: &'a str,
        temperature: &'a str,
    ) -> [(&'a str, &'a str); 3] {
        [("container", container), ("contents", contents), ("temperature", temperature)]
    }

    fn lying<'a>(
        size: (&'a str, &'a str),
        fill: &'a str,
        temperature: &'a str,
    ) -> [(&'a str, &'a str); 5] {
        [
            ("container", "horizontal"),
            ("diameter", size.0),
            ("length", size.1),
            ("fill", fill),
            ("temperature", temperature),
        ]
    }

    /// Manual TP-6727, appendix D, every cell in thousands of Btu/h; and 35 lb at 30 °F worked bilinearly.
    #[test]
    fn a_hundred_pound_cylinder_follows_the_published_table() {
        for (pounds, thousands) in [
            (100, [113, 167, 214, 277, 300]),
            (90, [104, 152, 200, 247, 277]),
            (80, [94, 137, 180, 214, 236]),
            (70, [83, 122, 160, 199, 214]),
            (60, [75, 109, 140, 176, 192]),
            (50, [64, 94, 125, 154, 167]),
            (40, [55, 79, 105, 131, 141]),
            (30, [45, 66, 85, 107, 118]),
            (20, [36, 51, 68, 83, 92]),
            (10, [28, 38, 49, 60, 66]),
        ] {
            for (fahrenheit, power) in [0, 20, 40, 60, 70].into_iter().zip(thousands) {
                let (contents, temperature) =
                    (format!("{pounds} lb"), format!("{fahrenheit} degF"));
                let given = upright("upright_100lb", &contents, &temperature);
                check(NAME, &given, f64::from(power) * 1_000.0, "Btu/h", 0.01);
            }
        }
        check(NAME, &upright("upright_100lb", "35 lb", "30 degF"), 83_750.0, "Btu/h", 0.01);
    }

    /// The same appendix plans 50,000 Btu/h for each 100-lb cylinder at 0 °F, four for 200,000: a half-full one gives
    /// that and more.
    #[test]
    fn a_half_full_cylinder_gives_what_the_manual_plans_with() {
        check(NAME, &upright("upright_100lb", "50 lb", "0 degF"), 64_000.0, "Btu/h", 0.01);
        check(NAME, &upright("upright_100lb", "36 lb", "0 degF"), 51_000.0, "Btu/h", 0.01);
    }

    /// The same appendix: capacity = D·L·K, times (t + 20)/20; K by fill.
    #[test]
    fn a_horizontal_container_follows_its_size_and_fill() {
        for (given, power) in [
            (lying(("24 in", "68 in"), "60 %", "0 degF"), 163_200.0),
            (lying(("24 in", "68 in"), "40 %", "0 degF"), 130_560.0),
            (lying(("16 in", "40 in"), "20 %", "20 degF"), 76_800.0),
            (lying(("12 in", "24 in"), "10 %", "-10 degF"), 6_480.0),
        ] {
            check(NAME, &given, power, "Btu/h", 0.01);
        }
        for (fill, factor) in [
            ("60 %", 100.0),
            ("50 %", 90.0),
            ("40 %", 80.0),
            ("30 %", 70.0),
            ("20 %", 60.0),
            ("10 %", 45.0),
        ] {
            check(NAME, &lying(("10 in", "10 in"), fill, "0 degF"), factor * 100.0, "Btu/h", 0.01);
        }
    }

    /// Wetted areas with 12.2 in and 14.7 in diameters: 0.286 of a full and 0.324 of a half-full one.
    #[test]
    fn a_twenty_pound_cylinder_is_scaled_by_wetted_area() {
        for (contents, temperature, power) in [
            ("20 lb", "0 degF", 32_000.0),
            ("20 lb", "40 degF", 61_000.0),
            ("10 lb", "0 degF", 21_000.0),
            ("10 lb", "40 degF", 40_500.0),
        ] {
            let given = upright("small_20lb", contents, temperature);
            check(NAME, &given, power, "Btu/h", power * 0.02);
            check_part(NAME, &given, "low", power * 0.7, "Btu/h", power * 0.02);
            assert!(call(NAME, &given).unwrap().notes[0].starts_with("an estimate"));
        }
    }

    #[test]
    fn two_cylinders_on_a_changeover_do_not_add() {
        let outcome = call(NAME, &upright("upright_100lb", "50 lb", "40 degF")).unwrap();
        assert!(outcome.notes.iter().any(|note| note.contains("do not add")));
    }

    #[test]
    fn in_deep_cold_there_is_none_and_between_there_is_no_figure() {
        for cold in ["-20 degF", "-31 degF"] {
            check(NAME, &upright("upright_100lb", "50 lb", cold), 0.0, "Btu/h", 0.0);
            check(NAME, &lying(("24 in", "68 in"), "60 %", cold), 0.0, "Btu/h", 0.0);
        }
        for (contents, temperature) in [
            ("50 lb", "-10 degF"),
            ("50 lb", "71 degF"),
            ("9 lb", "40 degF"),
            ("101 lb", "40 degF"),
        ] {
            let problem = refuses(NAME, &upright("upright_100lb", contents, temperature), "valid");
            assert!(matches!(problem, Problem::OutOfRange { .. }), "{problem}");
        }
        for fill in ["5 %", "80 %"] {
            let problem = refuses(NAME, &lying(("24 in", "68 in"), fill, "0 degF"), "10 % to 60 %");
            assert!(matches!(problem, Problem::OutOfRange { .. }), "{problem}");
        }
    }

    #[test]
    fn each_container_needs_its_own_inputs() {
        for (given, input) in [
            (vec![("container", "upright_100lb"), ("temperature", "0 degF")], "contents"),
            (vec![("container", "horizontal"), ("temperature", "0 degF")], "diameter"),
            (
                vec![("container", "horizontal"), ("temperature", "0 degF"), ("contents", "9 lb")],
                "contents",
            ),
            (
                vec![
                    ("container", "small_20lb"),
                    ("temperature", "0 degF"),
                    ("contents", "9 lb"),
                    ("fill", "50 %"),
                ],
                "fill",
            ),
        ] {
            let problem = refuses(NAME, &given, "");
            assert!(
                matches!(problem, Problem::Input { ref name, .. } if name == input),
                "{problem}"
            );
        }
    }
}
