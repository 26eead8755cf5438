//! A reading on a meter's relative scale, held against a dry place of the same material.

use quantity::Kind;

use crate::Confirmed;
use crate::{Accepts, Formula, Gives, Input, Outcome, Source};

/// Steps of the relative scale above the dry place: `reading − dry`.
#[must_use]
pub fn above_dry(reading: f64, dry: f64) -> f64 {
    reading - dry
}

pub(crate) static FORMULA: Formula = Formula {
    name: "moisture.relative",
    summary: "Reading of a meter's relative scale above that of a dry place of the same material.",
    inputs: &[
        Input::quantity(
            "reading",
            Kind::Number,
            "on the relative scale, a plain number from 0 to 999",
        )
        .accepting(Accepts::Between("0", "999")),
        Input::quantity(
            "dry",
            Kind::Number,
            "the same meter and mode on a dry place of the same material",
        )
        .accepting(Accepts::Between("0", "999")),
    ],
    result: Gives::quantity(
        "above_dry",
        "",
        "steps of the scale; no percent, and of this meter only",
    ),
    parts: &[],
    valid: "one meter, one mode, one material",
    sources: &[Source {
        document: "makers of moisture meters",
        section: "relative scales are no moisture content and cannot be converted or compared across meters",
        confirmed: Confirmed::CommonPractice,
    }],
    example: &[("reading", "62"), ("dry", "18")],
    compute: |inputs| {
        Ok(Outcome::new(above_dry(inputs.get("reading")?, inputs.get("dry")?)).note(
            "a relative scale shows where it is wetter than elsewhere, never how wet: it is no percent and is \
             not compared with another meter's",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "moisture.relative";

    #[test]
    fn a_relative_reading_is_told_by_its_distance_from_a_dry_place() {
        check(NAME, &[("reading", "62"), ("dry", "18")], 44.0, "", 1e-12);
        check(NAME, &[("reading", "15"), ("dry", "18")], -3.0, "", 1e-12);
    }

    #[test]
    fn a_percentage_is_no_relative_reading() {
        let problem = refuses(NAME, &[("reading", "22 %"), ("dry", "18")], "reading");
        assert!(matches!(problem, Problem::Input { .. }));
    }
}
