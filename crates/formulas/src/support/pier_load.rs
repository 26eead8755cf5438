//! The load on a pier under a manufactured home's frame.

use quantity::exact::{force::standard_pound_force, pressure::pound_per_square_foot};
use quantity::uom::si::length::foot;
use quantity::{Force, Kind, Length, Pressure};

use crate::{
    Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source,
    table::{Table, between},
};

static TABLE: Table = Table::of(include_str!("../../../../data/tables/pier_loads.csv"));

// The design assumptions printed with Table 1 to 24 CFR 3285.303.
const ROOF_DEAD: f64 = 10.0; // psf
const FLOOR_LIVE: f64 = 40.0; // psf
const FLOOR_DEAD: f64 = 6.0; // psf
const WALL: f64 = 35.0; // lbf/ft
const CHASSIS: f64 = 10.0; // lbf/ft
const PIER: f64 = 300.0; // lbf
const TABLE_WIDTH: f64 = 15.0; // ft
const TABLE_EAVE: f64 = 1.0; // ft

/// A pier's load, as the table states it and before rounding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PierLoad {
    /// Rounded up to 100 lbf, as the table is.
    pub rounded: Force,
    /// Not rounded.
    pub exact: Force,
    /// Read between the rows of the published table, for the table's own width and eave.
    pub interpolated: Option<Force>,
}

/// Load on a frame pier of a single-section home from the assumptions printed with Table 1 to 24 CFR
/// 3285.303.
///
/// `P = s [(L + 10)(W/2 + e) + (40 + 6) W/2 + 35 + 10] + 300`: s spacing, W width and e eave in ft, L roof
/// live load in psf, P in lbf. Rounded up to 100 lbf it gives every cell of the table.
///
/// # Errors
/// [`Problem::OutOfRange`] outside spacings of 4 to 10 ft, roof live loads of 20 to 40 psf, or above 16 ft
/// of width.
pub fn pier_load(
    spacing: Length,
    roof_live_load: Pressure,
    width: Length,
    eave: Length,
) -> Result<PierLoad, Problem> {
    let s = spacing.get::<foot>();
    let live = roof_live_load.get::<pound_per_square_foot>();
    let w = width.get::<foot>();
    let e = eave.get::<foot>();
    if !within(s, 4.0, 10.0) {
        return Err(Problem::out_of_range(
            "valid for pier spacings of 4 ft to 10 ft; piers are never farther apart than 10 ft on centre",
        ));
    }
    if !within(live, 20.0, 40.0) {
        return Err(Problem::out_of_range("valid for roof live loads of 20 psf to 40 psf"));
    }
    if !within(w, 0.0, 16.0) {
        return Err(Problem::out_of_range("valid for single sections of at most 16 ft"));
    }
    let exact = s
        * ((live + ROOF_DEAD) * (w / 2.0 + e)
            + (FLOOR_LIVE + FLOOR_DEAD) * w / 2.0
            + WALL
            + CHASSIS)
        + PIER;
    let as_table = near(w, TABLE_WIDTH) && near(e, TABLE_EAVE);
    Ok(PierLoad {
        // 7600 lbf stay 7600, whatever their binary fraction.
        rounded: pound_force((exact / 100.0 - 1e-9).ceil() * 100.0),
        exact: pound_force(exact),
        interpolated: as_table.then(|| interpolated(s, live)).flatten().map(pound_force),
    })
}

/// The table read between its rows and columns, which its note 3 permits.
fn interpolated(spacing: f64, roof: f64) -> Option<f64> {
    let table = &TABLE;
    let column = |load: f64| -> Vec<(f64, f64)> {
        table
            .rows()
            .filter(|row| near(row.number("roof"), load))
            .map(|row| (row.number("spacing"), row.number("load")))
            .collect()
    };
    // A spacing that is 4 or 10 ft but for its binary fraction is in the table.
    let spacing = snapped(spacing);
    let across: Option<Vec<(f64, f64)>> = [20.0, 30.0, 40.0]
        .into_iter()
        .map(|load| between(&column(load), spacing).map(|value| (load, value)))
        .collect();
    between(&across?, snapped(roof))
}

fn snapped(value: f64) -> f64 {
    let whole = value.round();
    if near(value, whole) { whole } else { value }
}

fn near(value: f64, other: f64) -> bool {
    (value - other).abs() < 1e-9
}

fn within(value: f64, least: f64, most: f64) -> bool {
    value >= least - 1e-9 && value <= most + 1e-9
}

fn pound_force(pounds: f64) -> Force {
    Force::new::<standard_pound_force>(pounds)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "support.pier_load",
    summary: "Load on a pier under the frame of a single-section manufactured home.",
    inputs: &[
        Input::quantity("spacing", Kind::Length, "piers along the rail, centre to centre")
            .accepting(Accepts::Above("0 ft")),
        Input::quantity(
            "roof_live_load",
            Kind::Pressure,
            "roof load of the home's zone: 20, 30 or 40 psf",
        )
        .accepting(Accepts::AtLeast("0 psf")),
        Input::quantity(
            "width",
            Kind::Length,
            "actual width; the table is for 15 ft, 16 ft nominal",
        )
        .accepting(Accepts::Above("0 ft")),
        Input::quantity(
            "eave",
            Kind::Length,
            "overhang of the roof on one side; the table is for 12 in",
        )
        .accepting(Accepts::Between("0 in", "4 ft")),
    ],
    result: Gives::quantity("load", "lbf", "rounded up to 100 lbf, as the table is"),
    parts: &[
        Gives::quantity("exact", "lbf", "the same, not rounded"),
        Gives::quantity(
            "interpolated",
            "lbf",
            "between the table's rows, for its own width and eave only",
        ),
    ],
    valid: "spacing 4 ft to 10 ft, roof 20 psf to 40 psf, single sections up to 16 ft; not in flood or seismic areas",
    sources: &[
        Source {
            document: "24 CFR 3285.303",
            section: "Table 1 with its notes: design assumptions, interpolation, where it holds",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "worked from the design assumptions of Table 1",
            section: "gives all twelve cells when rounded up to 100 lbf",
            confirmed: Confirmed::Derived,
        },
    ],
    example: &[
        ("spacing", "8 ft"),
        ("roof_live_load", "20 psf"),
        ("width", "15 ft"),
        ("eave", "12 in"),
    ],
    compute: |inputs| {
        let load = pier_load(
            inputs.get("spacing")?,
            inputs.get("roof_live_load")?,
            inputs.get("width")?,
            inputs.get("eave")?,
        )?;
        let outcome = Outcome::new(load.rounded).part("exact", load.exact);
        let outcome = match load.interpolated {
            Some(interpolated) => outcome
                .part("interpolated", interpolated)
                .note("between the table's rows interpolation is permitted (note 3), and may give a little more than the exact load"),
            None => outcome.note("worked from the table's assumptions for another width or eave: this is no cell of the table"),
        };
        Ok(outcome
            .note("not for flood or seismic areas; the home's own installation manual goes before the table")
            .note("this sizes piers: never go under a home that rests on jacks alone"))
    },
};

#[cfg(test)]
mod tests {
    use super::TABLE;
    use crate::{
        Problem,
        tests::{call, check, check_part, refuses},
    };

    const NAME: &str = "support.pier_load";

    fn home<'a>(spacing: &'a str, roof: &'a str) -> [(&'a str, &'a str); 4] {
        [("spacing", spacing), ("roof_live_load", roof), ("width", "15 ft"), ("eave", "12 in")]
    }

    /// Table 1 to 24 CFR 3285.303, all twelve cells.
    #[test]
    fn every_cell_of_the_published_table_is_met() {
        let mut cells = 0;
        for row in TABLE.rows() {
            let spacing = format!("{} ft", row.text("spacing"));
            let roof = format!("{} psf", row.text("roof"));
            check(NAME, &home(&spacing, &roof), row.number("load"), "lbf", 1e-6);
            check_part(
                NAME,
                &home(&spacing, &roof),
                "interpolated",
                row.number("load"),
                "lbf",
                1e-6,
            );
            cells += 1;
        }
        assert_eq!(cells, 12);
    }

    /// Worked by hand from the assumptions printed with the table.
    #[test]
    fn the_exact_load_is_what_was_rounded_up() {
        for (spacing, roof, exact) in [
            ("4 ft", "20 psf", 2_880.0),
            ("4 ft", "30 psf", 3_220.0),
            ("4 ft", "40 psf", 3_560.0),
            ("6 ft", "20 psf", 4_170.0),
            ("6 ft", "30 psf", 4_680.0),
            ("6 ft", "40 psf", 5_190.0),
            ("8 ft", "20 psf", 5_460.0),
            ("8 ft", "30 psf", 6_140.0),
            ("8 ft", "40 psf", 6_820.0),
            ("10 ft", "20 psf", 6_750.0),
            ("10 ft", "30 psf", 7_600.0),
            ("10 ft", "40 psf", 8_450.0),
        ] {
            check_part(NAME, &home(spacing, roof), "exact", exact, "lbf", 1e-6);
        }
    }

    /// 120 in and 1.436 kPa are the table's 10 ft and 30 psf: 7600 lbf are not rounded up again.
    #[test]
    fn a_whole_hundred_stays() {
        check(NAME, &home("120 in", "30 psf"), 7_600.0, "lbf", 1e-6);
        check(NAME, &home("3.048 m", "30 psf"), 7_600.0, "lbf", 1e-6);
    }

    /// Note 3 of the table permits interpolation: halfway between 4700 and 6200.
    #[test]
    fn between_the_rows_interpolation_is_a_little_higher() {
        let pairs = home("7 ft", "30 psf");
        check_part(NAME, &pairs, "interpolated", 5_450.0, "lbf", 1e-6);
        check_part(NAME, &pairs, "exact", 5_410.0, "lbf", 1e-6);
        check(NAME, &pairs, 5_500.0, "lbf", 1e-6);
    }

    #[test]
    fn another_width_is_worked_but_no_cell_of_the_table() {
        let pairs = [
            ("spacing", "8 ft"),
            ("roof_live_load", "20 psf"),
            ("width", "12 ft"),
            ("eave", "6 in"),
        ];
        check_part(
            NAME,
            &pairs,
            "exact",
            8.0 * (30.0 * 6.5 + 46.0 * 6.0 + 45.0) + 300.0,
            "lbf",
            1e-6,
        );
        let outcome = call(NAME, &pairs).unwrap();
        assert!(outcome.parts.iter().all(|(name, _)| *name != "interpolated"));
        assert!(outcome.notes[0].contains("no cell of the table"));
    }

    #[test]
    fn outside_the_table_there_is_no_load() {
        for pairs in [
            home("3.9 ft", "20 psf"),
            home("10.1 ft", "20 psf"),
            home("8 ft", "19 psf"),
            home("8 ft", "41 psf"),
        ] {
            assert!(matches!(refuses(NAME, &pairs, "valid for"), Problem::OutOfRange { .. }));
        }
        let wide = [
            ("spacing", "8 ft"),
            ("roof_live_load", "20 psf"),
            ("width", "28 ft"),
            ("eave", "6 in"),
        ];
        assert!(matches!(refuses(NAME, &wide, "at most 16 ft"), Problem::OutOfRange { .. }));
        assert!(matches!(
            refuses(NAME, &home("0 ft", "20 psf"), "not possible"),
            Problem::Input { .. }
        ));
    }
}
