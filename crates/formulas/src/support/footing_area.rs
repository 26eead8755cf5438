//! The footing that a load needs on a soil.

use quantity::{Area, Force, Kind, Pressure};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Source};

/// `A = P/q`, q the pressure that is allowed for the load alone.
#[must_use]
pub fn footing_area(load: Force, allowable: Pressure) -> Area {
    load / allowable
}

pub(crate) static FORMULA: Formula = Formula {
    name: "support.footing_area",
    summary: "Area of footing that a pier's load needs on a soil.",
    inputs: &[
        Input::quantity("load", Kind::Force, "load of the pier")
            .accepting(Accepts::AtLeast("0 lbf")),
        Input::quantity("allowable", Kind::Pressure, "pressure that the soil is taken to bear")
            .accepting(Accepts::AboveUpTo("0 psf", "12000 psf")),
    ],
    result: Gives::quantity("area", "in2", "area for the load alone"),
    parts: &[],
    valid: "",
    sources: &[
        Source {
            document: "definition: load divided by pressure",
            section: "",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "77 Ill. Adm. Code 870",
            section: "Table B, which has no footing below 144 in2",
            confirmed: Confirmed::Read,
        },
    ],
    example: &[("load", "4250 lbf"), ("allowable", "1500 psf")],
    compute: |inputs| {
        Ok(Outcome::new(footing_area(inputs.get("load")?, inputs.get("allowable")?))
            .note("for the load alone: a footing's own weight, 12.5 psf for each inch of concrete, is first taken off the allowable pressure")
            .note("Illinois has no footing below 144 in2; other States have their own least"))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Problem,
        table::Table,
        tests::{check, refuses},
    };

    const NAME: &str = "support.footing_area";
    static TABLE: Table = Table::of(include_str!("../../../../data/tables/footing_areas.csv"));

    /// 77 Ill. Adm. Code 870, Table B: whole square inches, once rounded down and once up; its least of
    /// 144 in² stands for the 115 in² that 3200 lbf on 4000 psf need.
    #[test]
    fn the_published_table_is_met() {
        let mut least = 0;
        for row in TABLE.rows() {
            let load = format!("{} lbf", row.text("load"));
            let allowable = format!("{} psf", row.text("allowable"));
            let pairs = [("load", load.as_str()), ("allowable", allowable.as_str())];
            if row.text("load") == "3200" && row.text("allowable") == "4000" {
                check(NAME, &pairs, 115.2, "in2", 1e-6);
                assert!((row.number("area") - 144.0).abs() < 1e-9);
                least += 1;
            } else {
                check(NAME, &pairs, row.number("area"), "in2", 0.81);
            }
        }
        assert_eq!(least, 1);
    }

    #[test]
    fn a_soil_that_bears_nothing_or_too_much_is_refused() {
        for allowable in ["0 psf", "-1 psf", "12001 psf"] {
            let problem =
                refuses(NAME, &[("load", "3200 lbf"), ("allowable", allowable)], "not possible");
            assert!(matches!(problem, Problem::Input { .. }));
        }
    }
}
