//! Whether a dwelling has the size of a manufactured home.

use quantity::uom::si::{area::square_foot, length::foot};
use quantity::{Area, Kind, Length};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Source};

/// One of the three sizes, any of which makes a dwelling of the class.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SizeClause {
    /// 8 body feet or more wide when travelling.
    Width,
    /// 40 body feet or more long when travelling.
    Length,
    /// 320 square feet or more when erected.
    Area,
}

impl SizeClause {
    fn words(self) -> &'static str {
        match self {
            Self::Width => "width: 8 body feet or more in the travelling mode",
            Self::Length => "length: 40 body feet or more in the travelling mode",
            Self::Area => "area: 320 square feet or more when erected",
        }
    }
}

/// The clauses of the size test that a dwelling meets; one is enough (42 USC 5402(6)). Without the
/// erected area, it is taken as width times length.
#[must_use]
pub fn manufactured_home_size(
    width: Length,
    length: Length,
    area: Option<Area>,
) -> Vec<SizeClause> {
    let area = area.unwrap_or(width * length);
    [
        (SizeClause::Width, reaches(width.get::<foot>(), 8.0)),
        (SizeClause::Length, reaches(length.get::<foot>(), 40.0)),
        (SizeClause::Area, reaches(area.get::<square_foot>(), 320.0)),
    ]
    .into_iter()
    .filter_map(|(clause, met)| met.then_some(clause))
    .collect()
}

/// At least the limit; 96 inches are 8 feet, whatever their binary fractions.
fn reaches(value: f64, limit: f64) -> bool {
    value >= limit * (1.0 - 1e-12)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "identity.manufactured_home_size",
    summary: "Whether a dwelling meets the size test of a manufactured home, and by which clause.",
    inputs: &[
        Input::quantity("width", Kind::Length, "body width when travelling")
            .accepting(Accepts::AboveUpTo("0 ft", "60 ft")),
        Input::quantity("length", Kind::Length, "body length when travelling, without the hitch")
            .accepting(Accepts::AboveUpTo("0 ft", "200 ft")),
        Input::quantity("area", Kind::Area, "area when erected; without it, width times length")
            .optional()
            .accepting(Accepts::AboveUpTo("0 ft2", "10000 ft2")),
    ],
    result: Gives::words("meets", "whether one of the three sizes is reached"),
    parts: &[
        Gives::words("clauses", "which sizes are reached"),
        Gives::quantity("area", "ft2", "the area that was judged"),
    ],
    valid: "",
    sources: &[
        Source { document: "42 USC 5402", section: "(6)", confirmed: Confirmed::Read },
        Source {
            document: "24 CFR 3282.15",
            section: "recreational vehicles of up to 400 square feet",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("width", "7.9 ft"), ("length", "40 ft")],
    compute: |inputs| {
        let (width, length): (Length, Length) = (inputs.get("width")?, inputs.get("length")?);
        let area: Option<Area> = inputs.optional("area")?;
        let clauses = manufactured_home_size(width, length, area);
        let area = area.unwrap_or(width * length);
        let mut outcome = Outcome::new(Output::Truth(!clauses.is_empty()))
            .part(
                "clauses",
                Output::Texts(clauses.iter().map(|clause| clause.words().to_owned()).collect()),
            )
            .part("area", area)
            .note(
                "the size is one of several conditions: a permanent chassis, transportable in \
                 sections, made to be dwelt in, not self-propelled",
            );
        if !clauses.is_empty() && area.get::<square_foot>() <= 400.0 * (1.0 + 1e-12) {
            outcome = outcome.note(
                "of 400 square feet or less: a recreational vehicle or park trailer is exempt (24 CFR \
                 3282.15, from memory); its labels decide",
            );
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Output,
        tests::{call, part_of, refuses},
    };

    const NAME: &str = "identity.manufactured_home_size";

    /// Worked from 42 USC 5402(6): 8 ft wide or 40 ft long or 320 square feet, each inclusive.
    #[test]
    fn one_of_the_three_sizes_is_enough() {
        for (width, length, first) in [
            ("8.0 ft", "20 ft", Some("width")),
            ("96 in", "240 in", Some("width")),
            ("7.9 ft", "40 ft", Some("length")),
            ("7.9 ft", "480 in", Some("length")),
            ("7.9 ft", "39.9 ft", None),
            ("12 ft", "33 ft", Some("width")),
        ] {
            let outcome = call(NAME, &[("width", width), ("length", length)]).unwrap();
            assert_eq!(outcome.result, Output::Truth(first.is_some()), "{width} by {length}");
            let Output::Texts(clauses) = part_of(&outcome, "clauses") else { panic!("no texts") };
            assert_eq!(
                clauses.first().map(|text| text.starts_with(first.unwrap_or("-"))),
                first.map(|_| true)
            );
        }
    }

    #[test]
    fn slide_outs_may_reach_the_area() {
        let outcome =
            call(NAME, &[("width", "7.9 ft"), ("length", "39 ft"), ("area", "320 ft2")]).unwrap();
        assert_eq!(outcome.result, Output::Truth(true));
    }

    #[test]
    fn a_small_one_is_told_of_the_exemption() {
        let says = |length| {
            let outcome = call(NAME, &[("width", "12 ft"), ("length", length)]).unwrap();
            outcome.notes.iter().any(|note| note.contains("exempt"))
        };
        assert!(says("33 ft"));
        assert!(!says("34 ft"));
    }

    #[test]
    fn no_size_is_no_dwelling() {
        refuses(NAME, &[("width", "0 ft"), ("length", "20 ft")], "width: 0 ft is not possible");
    }
}
