//! The load that a tyre's load index stands for.

use quantity::uom::si::mass::kilogram;
use quantity::{Kind, Mass, Quantity};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source, table::Table};

static TABLE: Table = Table::of(include_str!("../../../../data/tables/load_index.csv"));

/// The load of a load index, from the table of ISO 4000-1; the table is rounded, so the rule behind it,
/// `45 kg · 10^(index/80)`, only comes within 2 % and is not used.
///
/// # Errors
/// [`Problem::Input`] if the index is no whole number; [`Problem::OutOfRange`] above 119.
pub fn load_index(index: f64) -> Result<Mass, Problem> {
    let table = &TABLE;
    let row = table.rows().find(|row| (row.number("index") - index).abs() < 1e-9);
    match row {
        Some(row) => Ok(Mass::new::<kilogram>(row.number("load"))),
        None if (index - index.round()).abs() > 1e-9 => {
            Err(Problem::input("index", "is no whole number; accepted: 0 to 279"))
        }
        None => Err(Problem::out_of_range(
            "the table ends at load index 119; higher ones are not judged",
        )),
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "tyres.load_index",
    summary: "Greatest load of a tyre by the load index on its sidewall.",
    inputs: &[Input::quantity(
        "index",
        Kind::Number,
        "the number before the speed letter, such as 113",
    )
    .accepting(Accepts::Between("0", "279"))],
    result: Gives::quantity("load", "lb", "greatest load of one tyre in single fitment"),
    parts: &[],
    valid: "load index 0 to 119",
    sources: &[Source {
        document: "ISO 4000-1, ECE Regulation 30",
        section: "table of load indices, as two published tables restate it",
        confirmed: Confirmed::Quoted,
    }],
    example: &[("index", "113")],
    compute: |inputs| {
        let load = load_index(inputs.get("index")?)?;
        Ok(Outcome::new(load)
            .note(format!(
                "the table is in kilograms ({} kg); makers round the pounds: the sidewall goes before it",
                load.base()
            ))
            .note("two indices on a tyre are for single and for dual fitment, in this order"))
    },
};

#[cfg(test)]
mod tests {
    use super::TABLE;
    use crate::{
        Problem,
        tests::{check, refuses},
    };

    const NAME: &str = "tyres.load_index";

    fn loads() -> Vec<f64> {
        TABLE.rows().map(|row| row.number("load")).collect()
    }

    /// ISO 4000-1 as restated; one published table misprints 62 as 165 kg.
    #[test]
    fn indices_have_their_published_loads() {
        for (index, kilograms) in [
            ("0", 45.0),
            ("20", 80.0),
            ("40", 140.0),
            ("60", 250.0),
            ("62", 265.0),
            ("75", 387.0),
            ("80", 450.0),
            ("88", 560.0),
            ("91", 615.0),
            ("95", 690.0),
            ("99", 775.0),
            ("100", 800.0),
            ("101", 825.0),
            ("103", 875.0),
            ("105", 925.0),
            ("107", 975.0),
            ("110", 1_060.0),
            ("113", 1_150.0),
            ("115", 1_215.0),
            ("117", 1_285.0),
            ("119", 1_360.0),
        ] {
            check(NAME, &[("index", index)], kilograms, "kg", 1e-9);
        }
        check(NAME, &[("index", "100")], 1_764.0, "lb", 0.5);
        check(NAME, &[("index", "105")], 2_039.0, "lb", 0.5);
    }

    /// The rule behind the table: 45 kg times ten for every 80 indices, rounded.
    #[test]
    fn the_table_follows_its_rule_within_two_percent() {
        let mut largest = 0.0_f64;
        for (index, load) in (0_u32..).zip(loads()) {
            let rule = 45.0 * libm::pow(10.0, f64::from(index) / 80.0);
            largest = largest.max((rule / load - 1.0).abs());
        }
        assert!(largest < 0.02, "{largest}");
        assert!(
            largest > 0.0197,
            "a table that follows its rule closer is another table: {largest}"
        );
    }

    /// Values of the rule itself: 800.23, 1163.36 and 1382.65 kg, where the table has round ones.
    #[test]
    fn the_rule_is_no_substitute_for_the_table() {
        let loads = loads();
        for (index, rule, table) in
            [(100_u32, 800.23, 800.0), (113, 1_163.36, 1_150.0), (119, 1_382.65, 1_360.0)]
        {
            let by_rule = 45.0 * libm::pow(10.0, f64::from(index) / 80.0);
            assert!((by_rule - rule).abs() < 0.005, "{index}: {by_rule}");
            assert!((loads[index as usize] - table).abs() < 1e-9, "{index}");
        }
    }

    #[test]
    fn eighty_indices_are_a_factor_of_ten() {
        let loads = loads();
        assert_eq!(loads.len(), 120);
        assert!(loads.windows(2).all(|pair| pair[0] < pair[1]));
        let odd: Vec<usize> = (0..40)
            .filter(|index| (loads[index + 80] - 10.0 * loads[*index]).abs() > 1e-9)
            .collect();
        // 121 and 128 kg were rounded where 1215 and 1285 kg were not.
        assert_eq!(odd, [35, 37]);
    }

    #[test]
    fn what_the_table_lacks_is_not_judged() {
        assert!(matches!(
            refuses(NAME, &[("index", "120")], "ends at load index 119"),
            Problem::OutOfRange { .. }
        ));
        assert!(matches!(
            refuses(NAME, &[("index", "99.5")], "no whole number"),
            Problem::Input { .. }
        ));
        assert!(matches!(refuses(NAME, &[("index", "-1")], "not possible"), Problem::Input { .. }));
        assert!(matches!(
            refuses(NAME, &[("index", "280")], "not possible"),
            Problem::Input { .. }
        ));
    }
}
