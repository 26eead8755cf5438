//! Moisture between scattered readings on a wall or floor.

use quantity::uom::si::ratio::percent;
use quantity::{Kind, Length, Ratio};

use super::MoistureSurface;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Inputs, Outcome, Problem, Source};

/// Above this a pin meter's number means no more than "saturated".
const SATURATED: f64 = 30.0; // %
/// Below this a pin meter reads out of its range.
const BELOW_RANGE: f64 = 7.0; // %
/// Fewer readings than this show little.
const FEW: usize = 5;

/// Moisture content at a place between scattered readings.
///
/// # Errors
/// [`Problem::Input`] for lists of different lengths; [`Problem::OutOfRange`] outside the hull of the
/// readings, for fewer than three, or for readings on one line.
pub fn map(readings: &[(Length, Length, Ratio)], at: (Length, Length)) -> Result<Ratio, Problem> {
    let readings: Vec<(Length, Length, f64)> =
        readings.iter().map(|(x, y, value)| (*x, *y, value.get::<percent>())).collect();
    MoistureSurface::through(&readings)?.at(at.0, at.1).map(Ratio::new::<percent>)
}

type Reading = (Length, Length, Ratio);

fn read(inputs: &Inputs<'_>) -> Result<(Vec<Reading>, (Length, Length)), Problem> {
    let (x, y): (Vec<Length>, Vec<Length>) = (inputs.list("x")?, inputs.list("y")?);
    let values: Vec<Ratio> = inputs.list("percent")?;
    for (name, count) in [("y", y.len()), ("percent", values.len())] {
        if count != x.len() {
            return Err(Problem::input(
                name,
                format!("has {count} values and x has {}; accepted: as many", x.len()),
            ));
        }
    }
    let at: Vec<Length> = inputs.list("at")?;
    let [at_x, at_y] = at.as_slice() else {
        return Err(Problem::input("at", "accepted: two lengths, x and y, such as 1 m, 0.75 m"));
    };
    let readings = x.into_iter().zip(y).zip(values).map(|((x, y), value)| (x, y, value));
    Ok((readings.collect(), (*at_x, *at_y)))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "moisture.map",
    summary: "Moisture content between scattered readings on one surface.",
    inputs: &[
        Input::list("x", Kind::Length, "places of the readings, along"),
        Input::list("y", Kind::Length, "places of the readings, up"),
        Input::list("percent", Kind::Ratio, "readings, in the order of the places")
            .accepting(Accepts::AtLeast("0 %")),
        Input::list("at", Kind::Length, "the place asked for: x, y"),
    ],
    result: Gives::quantity("moisture", "%", "between the readings"),
    parts: &[],
    valid: "places inside the hull of three or more readings not on one line, one meter, one material",
    sources: &[
        Source {
            document: "radial basis functions and ordinary kriging",
            section: "linear kernel with a constant, the same as a linear variogram without nugget",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "Forest Products Laboratory, FPL-GTR-6",
            section: "pin meters: consistent below 30 %; about 7 % to 30 %",
            confirmed: Confirmed::Read,
        },
    ],
    example: &[
        ("x", "0, 2, 0, 2, 1 m"),
        ("y", "0, 0, 1.5, 1.5, 0.75 m"),
        ("percent", "9, 11, 10, 12, 18 %"),
        ("at", "1, 0.4 m"),
    ],
    compute: |inputs| {
        let (readings, at) = read(inputs)?;
        let found = map(&readings, at)?;
        let mut outcome = Outcome::new(found).note(
            "an illustration between the readings, no evidence of what lies there; never mix meters, scales \
             or materials",
        );
        if readings.len() < FEW {
            outcome = outcome.note("fewer than five readings show little of a surface");
        }
        let percents = || readings.iter().map(|(_, _, value)| value.get::<percent>());
        if percents().any(|value| value > SATURATED) {
            outcome = outcome.note(
                "a reading above 30 % means saturated, not a number: the map there is a least value at best",
            );
        }
        if percents().any(|value| value < BELOW_RANGE) {
            outcome = outcome.note("a reading below 7 % lies below a pin meter's range");
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::table::Table;
    use crate::tests::{call, check, refuses};

    const NAME: &str = "moisture.map";
    const X: &str = "0, 2, 0, 2, 1, 1.6, 0.4 m";
    const Y: &str = "0, 0, 1.5, 1.5, 0.75, 0.4, 1.1 m";
    const PERCENT: &str = "9, 11, 10, 12, 18, 22, 10 %";

    fn pairs<'a>(
        x: &'a str,
        y: &'a str,
        percent: &'a str,
        at: &'a str,
    ) -> [(&'static str, &'a str); 4] {
        [("x", x), ("y", y), ("percent", percent), ("at", at)]
    }

    /// Computed with SciPy 1.17.1, `RBFInterpolator(kernel="linear")`; PyKrige 1.7.3 with a linear
    /// variogram gives the same.
    #[test]
    fn the_map_agrees_with_linear_radial_functions_and_kriging() {
        for (at, percent) in [
            ("1, 0.75 m", 18.0),
            ("1, 0.4 m", 17.450_70),
            ("1.5 m, 0.5 m", 21.046_55),
            ("0.2, 0.2 m", 10.567_73),
            ("1.9, 1.4 m", 13.021_83),
            ("74.803149606 in, 1.4 m", 13.021_83),
            ("0, 0 m", 9.0),
            ("2, 1.5 m", 12.0),
        ] {
            check(NAME, &pairs(X, Y, PERCENT, at), percent, "%", 6e-6);
        }
    }

    #[test]
    fn outside_the_hull_there_is_no_value() {
        for at in ["3, 3 m", "2.001, 1 m", "-0.001, 0.5 m", "1, 1.501 m"] {
            let problem = refuses(NAME, &pairs(X, Y, PERCENT, at), "outside the readings");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
    }

    #[test]
    fn readings_on_a_line_and_too_few_are_refused() {
        for (x, y, percent) in [
            ("0, 1, 2, 3 m", "0, 1, 2, 3 m", "9, 10, 11, 12 %"),
            ("0, 1 m", "0, 1 m", "9, 10 %"),
            ("0, 0, 1 m", "0, 0, 1 m", "9, 10, 11 %"),
        ] {
            let problem = refuses(NAME, &pairs(x, y, percent, "1, 1 m"), "do not lie on one line");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
    }

    #[test]
    fn two_readings_at_one_place_are_averaged() {
        let at = "0, 0 m";
        let twice = pairs("0, 0, 2, 0 m", "0, 0, 0, 2 m", "9, 11, 12, 13 %", at);
        check(NAME, &twice, 10.0, "%", 1e-9);
    }

    #[test]
    fn lists_that_do_not_match_are_input_errors() {
        for (pairs, words) in [
            (pairs("0, 1 m", "0, 1, 2 m", "9, 10, 11 %", "1, 1 m"), "y: has 3 values and x has 2"),
            (pairs("0, 1 m", "0, 1 m", "9, 10, 11 %", "1, 1 m"), "percent: has 3 values"),
            (pairs(X, Y, PERCENT, "1 m"), "two lengths"),
            (pairs(X, Y, "9, 11, 10, 12, -18, 22, 10 %", "1, 1 m"), "at least 0 %"),
        ] {
            assert!(matches!(refuses(NAME, &pairs, words), Problem::Input { .. }));
        }
    }

    #[test]
    fn saturated_readings_are_said_to_be_no_numbers() {
        let wet = pairs(X, Y, "9, 11, 10, 12, 18, 42, 10 %", "1, 1 m");
        assert!(call(NAME, &wet).unwrap().notes.iter().any(|note| note.contains("saturated")));
    }

    /// Computed with SciPy 1.17.1 (`RBFInterpolator`, linear) and PyKrige 1.7.3 (ordinary kriging, linear
    /// variogram): 200 questions between 40 sets of readings.
    #[test]
    fn two_hundred_values_agree_with_radial_functions_and_with_kriging() {
        let table = Table::of(include_str!("../../../../reference/interpolation/values.csv"));
        assert_eq!(table.rows().count(), 200);
        for row in table.rows() {
            let list = |column: &str, unit: &str| {
                format!("{} {unit}", row.text(column).replace(' ', "; "))
            };
            let (x, y, percent) = (list("x", "m"), list("y", "m"), list("percent", "%"));
            let at = format!("{}; {} m", row.text("at_x"), row.text("at_y"));
            let pairs = pairs(&x, &y, &percent, &at);
            check(NAME, &pairs, row.number("radial"), "%", 1e-6);
            check(NAME, &pairs, row.number("kriging"), "%", 1e-6);
        }
    }
}
