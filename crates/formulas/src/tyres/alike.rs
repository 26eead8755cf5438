//! Whether the tyres of each axle are alike.

use crate::placed::{self, Placed};
use crate::{Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

/// What was read of the tyres, by position; a position that was not read is not compared.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TyreFigures {
    /// Sizes.
    pub sizes: Vec<(String, String)>,
    /// Load ranges.
    pub ranges: Vec<(String, String)>,
    /// Radial or bias.
    pub constructions: Vec<(String, String)>,
    /// Makes.
    pub makes: Vec<(String, String)>,
}

/// How the tyres of the axles compare.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Likeness {
    /// What differs in size, load range or construction on one axle, in words.
    pub differing: Vec<String>,
    /// What differs in make on one axle, in words.
    pub other_makes: Vec<String>,
    /// How the spare differs from the tyres on the road, in words.
    pub spare: Vec<String>,
    /// How many pairs of figures were compared on the axles.
    pub compared: usize,
}

/// Compares the tyres of each axle, and the spare with the others.
///
/// `left front` and `right front` stand on one axle, with `inner` and `outer` where it has four. Figures are
/// compared in capitals, without blanks.
#[must_use]
pub fn alike(figures: &TyreFigures) -> Likeness {
    let mut likeness = Likeness::default();
    for (what, entries, is_make) in [
        ("size", &figures.sizes, false),
        ("load range", &figures.ranges, false),
        ("construction", &figures.constructions, false),
        ("make", &figures.makes, true),
    ] {
        let mut axles: Vec<&str> = Vec::new();
        for (position, _) in entries {
            if let Some(axle) = axle(position).filter(|axle| !axles.contains(axle)) {
                axles.push(axle);
            }
        }
        for wanted in axles {
            let on_axle: Vec<&(String, String)> =
                entries.iter().filter(|(position, _)| axle(position) == Some(wanted)).collect();
            let Some(((_, first), others)) = on_axle.split_first().map(|(one, more)| (*one, more))
            else {
                continue;
            };
            likeness.compared += others.len();
            if others.iter().all(|(_, other)| same(first, other)) {
                continue;
            }
            let each: Vec<String> =
                on_axle.iter().map(|(position, text)| format!("{text} {position}")).collect();
            let words = format!("{wanted} axle, {what}: {}", each.join(", "));
            if is_make { likeness.other_makes.push(words) } else { likeness.differing.push(words) }
        }
        if let Some((_, spare)) = entries.iter().find(|(position, _)| position == "spare")
            && !is_make
        {
            let on_road = entries.iter().filter(|(position, _)| axle(position).is_some());
            let on_road: Vec<&str> = on_road.map(|(_, text)| text.as_str()).collect();
            if !on_road.is_empty() && on_road.iter().all(|text| !same(text, spare)) {
                likeness.spare.push(format!("{what} {spare}, on the road {}", on_road[0]));
            }
        }
    }
    likeness
}

/// The axle of a position: `front` of `left front`; none of the spare.
fn axle(position: &str) -> Option<&str> {
    let place = position.strip_prefix("left ").or_else(|| position.strip_prefix("right "))?;
    let single = place.strip_suffix(" inner").or_else(|| place.strip_suffix(" outer"));
    Some(single.unwrap_or(place))
}

/// Whether two figures are the same.
fn same(one: &str, other: &str) -> bool {
    let plain = |text: &str| {
        text.chars()
            .filter(|character| !character.is_whitespace())
            .map(|character| character.to_ascii_uppercase())
            .collect::<String>()
    };
    plain(one) == plain(other)
}

fn entries(inputs: &crate::Inputs<'_>, name: &str) -> Result<Vec<(String, String)>, Problem> {
    let Some(text) = inputs.optional_words(name) else { return Ok(Vec::new()) };
    let places = placed::read(name, text)?;
    for Placed { place, .. } in &places.read {
        if place != "spare" && axle(place).is_none() {
            return Err(Problem::input(
                name,
                format!(
                    "`{place}` is no place of a tyre; accepted: left_front, right_front, left_rear and so on, spare"
                ),
            ));
        }
    }
    Ok(places.read.into_iter().map(|Placed { place, text }| (place, text)).collect())
}

pub(crate) static FORMULA: Formula = Formula {
    name: "tyres.alike",
    summary: "Whether the tyres of each axle are alike in size, load range, construction and make.",
    inputs: &[
        Input::text(
            "size",
            "place: size; place: size, such as left_front: ST225/75R15; right_front: ST225/75R15",
        )
        .optional(),
        Input::text("range", "place: load range; …").optional(),
        Input::text("construction", "place: radial; place: bias; …").optional(),
        Input::text("make", "place: make; …").optional(),
    ],
    result: Gives::words("likeness", "alike, makes differ, differ, or nothing to compare"),
    parts: &[
        Gives::words("differences", "what differs, axle by axle"),
        Gives::words("spare", "alike, not compared, or how the spare differs"),
        Gives::quantity("compared", "", "pairs of figures compared on the axles"),
    ],
    valid: "",
    sources: &[
        Source {
            document: "COMAR 11.22.04.06; Illinois 92-428",
            section: "rejected: radial and bias tyres mixed on an axle, sizes that do not match",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "one size, load range, construction and make on an axle",
            section: "",
            confirmed: Confirmed::CommonPractice,
        },
    ],
    example: &[
        (
            "size",
            "left_front: ST225/75R15; right_front: ST225/75R15; left_rear: ST225/75R15; right_rear: ST205/75R15",
        ),
        ("range", "left_front: D; right_front: D; left_rear: D; right_rear: C"),
    ],
    compute: |inputs| {
        let figures = TyreFigures {
            sizes: entries(inputs, "size")?,
            ranges: entries(inputs, "range")?,
            constructions: entries(inputs, "construction")?,
            makes: entries(inputs, "make")?,
        };
        if figures == TyreFigures::default() {
            return Err(Problem::input(
                "size",
                "and all others are missing; accepted: at least one list",
            ));
        }
        let has_spare = [&figures.sizes, &figures.ranges, &figures.constructions]
            .into_iter()
            .flatten()
            .any(|(place, _)| place == "spare");
        let likeness = alike(&figures);
        let words = if !likeness.differing.is_empty() {
            "differ"
        } else if !likeness.other_makes.is_empty() {
            "makes differ"
        } else if likeness.compared == 0 {
            "nothing to compare"
        } else {
            "alike"
        };
        let spare = match (has_spare, likeness.spare.is_empty()) {
            (false, _) => "not compared".to_owned(),
            (true, true) => "alike".to_owned(),
            (true, false) => likeness.spare.join("; "),
        };
        let compared = u32::try_from(likeness.compared).unwrap_or(u32::MAX);
        let mut outcome = Outcome::new(Output::words(words))
            .part("differences", Output::Texts([likeness.differing, likeness.other_makes].concat()))
            .part("spare", Output::words(spare))
            .part("compared", f64::from(compared));
        if words == "alike" {
            outcome = outcome.note("as far as compared: what was not read of a tyre was not");
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Evaluation, Output, Problem,
        tests::{call, check_part, part_of, refuses},
    };

    const NAME: &str = "tyres.alike";

    fn said(pairs: &[(&str, &str)]) -> Evaluation {
        call(NAME, pairs).unwrap()
    }

    fn differences(outcome: &Evaluation) -> Vec<String> {
        let Output::Texts(texts) = part_of(outcome, "differences") else { panic!("no texts") };
        texts.clone()
    }

    #[test]
    fn the_same_figures_on_each_axle_are_alike_whatever_the_other_axle_has() {
        let pairs = [
            (
                "size",
                "left_front: ST225/75R15; right_front: st225/75 R15; left_rear: ST205/75R15; right_rear: ST205/75R15",
            ),
            ("range", "left_front: D; right_front: D"),
        ];
        assert_eq!(said(&pairs).result, Output::words("alike"));
        check_part(NAME, &pairs, "compared", 3.0, "", 0.0);
    }

    #[test]
    fn the_axle_and_the_figure_that_differ_are_named() {
        let outcome = said(&[
            (
                "size",
                "left_front: ST225/75R15; right_front: ST225/75R15; left_rear: ST225/75R15; right_rear: ST205/75R15",
            ),
            ("construction", "left_front: radial; right_front: bias"),
            ("make", "left_front: A; right_front: B"),
        ]);
        assert_eq!(outcome.result, Output::words("differ"));
        assert_eq!(
            differences(&outcome),
            [
                "rear axle, size: ST225/75R15 left rear, ST205/75R15 right rear",
                "front axle, construction: radial left front, bias right front",
                "front axle, make: A left front, B right front",
            ]
        );
    }

    #[test]
    fn makes_alone_are_a_lesser_matter() {
        let outcome = said(&[
            ("range", "left_front: C; right_front: C"),
            ("make", "left_front: A; right_front: B"),
        ]);
        assert_eq!(outcome.result, Output::words("makes differ"));
    }

    #[test]
    fn all_four_tyres_of_a_dual_axle_are_compared() {
        let outcome = said(&[(
            "range",
            "left_rear_inner: E; left_rear_outer: E; right_rear_inner: E; right_rear_outer: D",
        )]);
        assert_eq!(outcome.result, Output::words("differ"));
    }

    #[test]
    fn a_spare_is_held_to_the_tyres_on_the_road_but_makes_no_axle_differ() {
        let outcome = said(&[(
            "size",
            "left_front: ST225/75R15; right_front: ST225/75R15; spare: ST205/75R15",
        )]);
        assert_eq!(outcome.result, Output::words("alike"));
        assert_eq!(
            part_of(&outcome, "spare"),
            &Output::words("size ST205/75R15, on the road ST225/75R15")
        );
        let outcome = said(&[("size", "left_front: ST225/75R15; spare: ST225/75R15")]);
        assert_eq!(part_of(&outcome, "spare"), &Output::words("alike"));
        assert_eq!(outcome.result, Output::words("nothing to compare"));
    }

    #[test]
    fn one_side_alone_is_nothing_to_compare() {
        let outcome =
            said(&[("size", "left_front: ST225/75R15; left_rear: ST205/75R15; right_front:")]);
        assert_eq!(outcome.result, Output::words("nothing to compare"));
        assert_eq!(part_of(&outcome, "spare"), &Output::words("not compared"));
    }

    #[test]
    fn what_names_no_tyre_is_refused() {
        for (pairs, words) in [
            (vec![], "at least one list"),
            (vec![("size", "front: ST225/75R15")], "no place of a tyre"),
            (vec![("size", "ST225/75R15")], "does not say where"),
        ] {
            assert!(matches!(refuses(NAME, &pairs, words), Problem::Input { .. }));
        }
    }
}
