//! A pin meter's reading, corrected by the instrument's own tables.

use quantity::uom::si::{ratio::percent, thermodynamic_temperature::degree_celsius};
use quantity::{Kind, Quantity, Ratio, Temperature};

use crate::table::between;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Above this a pin meter's number means no more than "saturated".
const SATURATED: f64 = 30.0; // %

/// Reading with the correction for species, then that for the wood's temperature, to whole percents.
///
/// Both corrections are percent points of moisture from the instrument's own tables, the second at the
/// wood's temperature between the table's temperatures.
///
/// # Errors
/// [`Problem::Input`] for a table that is none; [`Problem::OutOfRange`] for a temperature outside it, a
/// saturated reading, or a corrected one below nothing.
pub fn corrected(
    reading: Ratio,
    species: Ratio,
    wood: Temperature,
    table: &[(Temperature, Ratio)],
) -> Result<Ratio, Problem> {
    if reading.get::<percent>() > SATURATED {
        return Err(Problem::out_of_range(
            "above 30 % the number means no more than \"saturated\": there is nothing to correct",
        ));
    }
    let points: Vec<(f64, f64)> =
        table.iter().map(|(at, by)| (at.get::<degree_celsius>(), by.get::<percent>())).collect();
    if points.is_empty() || points.windows(2).any(|pair| pair[0].0 >= pair[1].0) {
        return Err(Problem::input(
            "temperatures",
            "accepted: one or more temperatures of the instrument's table, rising",
        ));
    }
    let by_temperature = between(&points, wood.get::<degree_celsius>()).ok_or_else(|| {
        Problem::out_of_range(
            "the wood's temperature lies outside the instrument's table: report the reading uncorrected",
        )
    })?;
    let moisture = (reading + species).get::<percent>() + by_temperature;
    if moisture < 0.0 {
        return Err(Problem::out_of_range(
            "corrected below nothing: outside what the instrument's table is for",
        ));
    }
    Ok(Ratio::new::<percent>(moisture.round()))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "moisture.corrected",
    summary: "Pin meter's reading corrected for species and temperature by the instrument's own tables.",
    inputs: &[
        Input::quantity("reading", Kind::Ratio, "on the wood scale, as read")
            .accepting(Accepts::AtLeast("0 %")),
        Input::quantity(
            "species",
            Kind::Ratio,
            "percent points that the species table adds; 0 if left out",
        )
        .accepting(Accepts::Between("-15 %", "15 %"))
        .optional(),
        Input::quantity("wood", Kind::Temperature, "of the wood")
            .accepting(Accepts::AtLeast("0 K")),
        Input::list("temperatures", Kind::Temperature, "of the instrument's table, rising")
            .accepting(Accepts::AtLeast("0 K")),
        Input::list(
            "corrections",
            Kind::Ratio,
            "percent points that the table adds at these, for this reading",
        )
        .accepting(Accepts::Between("-15 %", "15 %")),
    ],
    result: Gives::quantity("moisture", "%", "corrected, to whole percents"),
    parts: &[],
    valid: "readings to 30 %, temperatures inside the instrument's table",
    sources: &[Source {
        document: "a moisture-meter maker's guide",
        section: "species first, then temperature, to whole percents; reference 20 degC",
        confirmed: Confirmed::Read,
    }],
    example: &[
        ("reading", "15 %"),
        ("wood", "10 degC"),
        ("temperatures", "10; 20; 40; 50 degC"),
        ("corrections", "2; 0; -3; -4 %"),
    ],
    compute: |inputs| {
        let (temperatures, corrections): (Vec<Temperature>, Vec<Ratio>) =
            (inputs.list("temperatures")?, inputs.list("corrections")?);
        if temperatures.len() != corrections.len() {
            return Err(Problem::input(
                "corrections",
                format!(
                    "has {} values and temperatures has {}; accepted: as many",
                    corrections.len(),
                    temperatures.len()
                ),
            ));
        }
        let table: Vec<_> = temperatures.into_iter().zip(corrections).collect();
        let species = inputs.optional("species")?.unwrap_or(Ratio::from_base(0.0));
        let found = corrected(inputs.get("reading")?, species, inputs.get("wood")?, &table)?;
        Ok(Outcome::new(found).note(
            "by the instrument's own tables only: general equations differ from makers' tables by more than a \
             percent. Cold wood reads low, warm wood high",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "moisture.corrected";

    fn pairs<'a>(
        reading: &'a str,
        species: &'a str,
        wood: &'a str,
        corrections: &'a str,
    ) -> [(&'static str, &'a str); 5] {
        [
            ("reading", reading),
            ("species", species),
            ("wood", wood),
            ("temperatures", "10; 20; 40; 50 degC"),
            ("corrections", corrections),
        ]
    }

    /// The four examples of a meter maker's guide: 15 % at 10 °C is 17, at 50 °C 11; 15 % with a species that
    /// makes it 16, at 40 °C 13; 24 % with one that makes it 20, at 10 °C 22.
    #[test]
    fn the_examples_of_a_makers_guide_are_reproduced() {
        for (reading, species, wood, corrections, percent) in [
            ("15 %", "0 %", "10 degC", "2; 0; -3; -4 %", 17.0),
            ("15 %", "0 %", "50 degC", "2; 0; -3; -4 %", 11.0),
            ("15 %", "1 %", "40 degC", "2; 0; -3; -4 %", 13.0),
            ("24 %", "-4 %", "10 degC", "2; 0; -3; -4 %", 22.0),
            ("15 %", "0 %", "20 degC", "2; 0; -3; -4 %", 15.0),
        ] {
            check(NAME, &pairs(reading, species, wood, corrections), percent, "%", 1e-9);
        }
    }

    #[test]
    fn outside_the_instruments_table_nothing_is_corrected() {
        for (reading, wood, words) in [
            ("15 %", "5 degC", "uncorrected"),
            ("34 %", "20 degC", "saturated"),
            ("2 %", "50 degC", "below"),
        ] {
            let problem = refuses(NAME, &pairs(reading, "0 %", wood, "2; 0; -3; -4 %"), words);
            assert!(matches!(problem, Problem::OutOfRange { .. }), "{reading} {wood}");
        }
    }

    #[test]
    fn a_table_that_does_not_match_is_an_input_error() {
        let short = pairs("15 %", "0 %", "20 degC", "2; 0; -3 %");
        assert!(matches!(refuses(NAME, &short, "as many"), Problem::Input { .. }));
        let mut falling = pairs("15 %", "0 %", "20 degC", "2; 0; -3; -4 %");
        falling[3] = ("temperatures", "50; 40; 20; 10 degC");
        assert!(matches!(refuses(NAME, &falling, "rising"), Problem::Input { .. }));
    }
}
