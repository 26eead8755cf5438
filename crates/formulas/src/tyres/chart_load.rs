//! The published load of a special trailer tyre at a pressure of its chart.

use quantity::exact::{mass::avoirdupois_pound, pressure::pound_per_square_inch};
use quantity::{Kind, Mass, Pressure};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source, table::Table};

static TABLE: Table = Table::of(include_str!("../../../../data/tables/tyre_loads.csv"));

const SIZES: &[&str] = &[
    "ST175/80R13",
    "ST185/80R13",
    "ST205/75R14",
    "ST215/75R14",
    "ST205/75R15",
    "ST225/75R15",
    "ST235/80R16",
];

/// The load of a size at a pressure, where the chart has that point.
///
/// # Errors
/// [`Problem::OutOfRange`] at a pressure that the chart does not have.
pub fn chart_load(size: &str, pressure: Pressure) -> Result<Mass, Problem> {
    let table = &TABLE;
    let psi = pressure.get::<pound_per_square_inch>();
    let of_size = || table.rows().filter(|row| row.text("size") == size);
    let row = of_size().find(|row| (row.number("pressure") - psi).abs() < 1e-6);
    row.map(|row| Mass::new::<avoirdupois_pound>(row.number("load"))).ok_or_else(|| {
        let points: Vec<&str> = of_size().map(|row| row.text("pressure")).collect();
        Problem::out_of_range(format!(
            "the chart has {size} at {} psi only; between them tyres.load_at_pressure gives a plausible load",
            points.join(", ")
        ))
    })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "tyres.chart_load",
    summary: "Published load of a special trailer tyre at a pressure of its chart.",
    inputs: &[
        Input::word("size", SIZES, "size on the sidewall"),
        Input::quantity("pressure", Kind::Pressure, "cold pressure")
            .accepting(Accepts::AboveUpTo("0 psi", "200 psi")),
    ],
    result: Gives::quantity("load", "lb", "load of one tyre"),
    parts: &[],
    valid: "pressures of the chart: 35, 50, 65 and 80 psi, as far as the size has them",
    sources: &[Source {
        document: "load and inflation chart of a tyre maker, published with a trade article",
        section: "ST metric sizes",
        confirmed: Confirmed::Quoted,
    }],
    example: &[("size", "ST225/75R15"), ("pressure", "65 psi")],
    compute: |inputs| {
        Ok(Outcome::new(chart_load(inputs.words("size")?, inputs.get("pressure")?)?).note(
            "charts differ by up to 5 %: the load and pressure on the sidewall go before this one",
        ))
    },
};

#[cfg(test)]
mod tests {
    use super::{SIZES, TABLE};
    use crate::{
        Problem,
        tests::{check, refuses},
    };

    const NAME: &str = "tyres.chart_load";

    #[test]
    fn every_size_of_the_chart_has_its_word() {
        let mut sizes: Vec<&str> = TABLE.rows().map(|row| row.text("size")).collect();
        sizes.dedup();
        assert_eq!(sizes, SIZES);
    }

    /// All points of the published chart; other charts print 2830 lb for ST225/75R15 at 80 psi.
    #[test]
    fn points_of_the_chart_are_given_as_printed() {
        for (size, pressure, pounds) in [
            ("ST175/80R13", "35 psi", 1_100.0),
            ("ST175/80R13", "50 psi", 1_360.0),
            ("ST185/80R13", "35 psi", 1_200.0),
            ("ST185/80R13", "50 psi", 1_480.0),
            ("ST205/75R14", "35 psi", 1_430.0),
            ("ST205/75R14", "50 psi", 1_760.0),
            ("ST205/75R14", "65 psi", 2_040.0),
            ("ST215/75R14", "35 psi", 1_520.0),
            ("ST215/75R14", "50 psi", 1_870.0),
            ("ST205/75R15", "35 psi", 1_480.0),
            ("ST205/75R15", "50 psi", 1_820.0),
            ("ST205/75R15", "65 psi", 2_150.0),
            ("ST225/75R15", "35 psi", 1_760.0),
            ("ST225/75R15", "50 psi", 2_150.0),
            ("ST225/75R15", "65 psi", 2_540.0),
            ("ST225/75R15", "80 psi", 2_840.0),
            ("ST235/80R16", "35 psi", 2_090.0),
            ("ST235/80R16", "50 psi", 2_600.0),
            ("ST235/80R16", "65 psi", 3_000.0),
            ("ST235/80R16", "80 psi", 3_420.0),
        ] {
            check(NAME, &[("size", size), ("pressure", pressure)], pounds, "lb", 1e-6);
        }
    }

    #[test]
    fn between_the_points_there_is_no_published_load() {
        for (size, pressure) in [("ST175/80R13", "65 psi"), ("ST225/75R15", "60 psi")] {
            let problem = refuses(NAME, &[("size", size), ("pressure", pressure)], "the chart has");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
    }
}
