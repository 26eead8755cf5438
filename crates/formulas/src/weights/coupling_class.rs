//! The coupling that a trailer of some weight needs.

use quantity::exact::{force::standard_pound_force, mass::avoirdupois_pound};
use quantity::uom::si::length::inch;
use quantity::{Force, Kind, Length, Mass};

use crate::{
    Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source,
    table::{Row, Table},
};

static TABLE: Table = Table::of(include_str!("../../../../data/tables/coupling_classes.csv"));

/// Gross weight up to which class 4 reaches. lb
const CLASS_4: f64 = 10_000.0;

/// What a coupling of a class must be and stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CouplingClass {
    /// The class, 1 to 4.
    pub class: f64,
    /// Least ball; in class 4 it is sized to the coupling.
    pub ball: Option<Length>,
    /// Tension and compression along the road.
    pub longitudinal: Force,
    /// Across the road.
    pub transverse: Force,
    /// Upward.
    pub vertical_tension: Force,
    /// Downward.
    pub vertical_compression: Force,
    /// Breaking strength of each safety chain.
    pub chain: Force,
}

/// The class by gross weight: 1 to 2000 lb, 2 to 3500, 3 to 5000, 4 to 10,000, where the strengths are 3,
/// 1, 1.3 and 1.4 times the gross weight.
///
/// # Errors
/// [`Problem::OutOfRange`] above 10,000 lb.
pub fn coupling_class(gross: Mass) -> Result<CouplingClass, Problem> {
    let pounds = gross.get::<avoirdupois_pound>();
    let reaches = |limit: f64| pounds <= limit * (1.0 + 1e-12);
    if let Some(row) = TABLE.rows().find(|row| reaches(row.number("up_to"))) {
        return Ok(of_row(row));
    }
    if !reaches(CLASS_4) {
        return Err(Problem::out_of_range(
            "valid up to 10,000 lb gross; above, and for fifth wheels, another standard applies",
        ));
    }
    let times = |factor: f64| pound_force(factor * pounds);
    Ok(CouplingClass {
        class: 4.0,
        ball: None,
        longitudinal: times(3.0),
        transverse: times(1.0),
        vertical_tension: times(1.3),
        vertical_compression: times(1.4),
        chain: times(1.0),
    })
}

fn of_row(row: Row<'_>) -> CouplingClass {
    CouplingClass {
        class: row.number("class"),
        ball: Some(Length::new::<inch>(row.number("ball"))),
        longitudinal: pound_force(row.number("longitudinal")),
        transverse: pound_force(row.number("transverse")),
        vertical_tension: pound_force(row.number("vertical_tension")),
        vertical_compression: pound_force(row.number("vertical_compression")),
        chain: pound_force(row.number("chain")),
    }
}

fn pound_force(pounds: f64) -> Force {
    Force::new::<standard_pound_force>(pounds)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "weights.coupling_class",
    summary: "Class of ball coupling that a trailer needs, with its ball and strengths.",
    inputs: &[Input::quantity("gross", Kind::Mass, "gross weight of the trailer")
        .accepting(Accepts::Above("0 lb"))],
    result: Gives::quantity("class", "", "coupling class"),
    parts: &[
        Gives::quantity(
            "ball",
            "in",
            "least ball; in class 4 sized to the coupling, and not given",
        ),
        Gives::quantity("longitudinal", "lbf", "tension and compression along the road"),
        Gives::quantity("transverse", "lbf", "across the road"),
        Gives::quantity("vertical_tension", "lbf", "upward"),
        Gives::quantity("vertical_compression", "lbf", "downward"),
        Gives::quantity("chain", "lbf", "breaking strength of each safety chain"),
    ],
    valid: "ball couplings up to 10,000 lb gross",
    sources: &[
        Source {
            document: "COMAR 11.13.08.10",
            section: "classes of couplings, in the scheme of SAE J684",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "SAE J684",
            section: "class limits and chains",
            confirmed: Confirmed::Quoted,
        },
    ],
    example: &[("gross", "4200 lb")],
    compute: |inputs| {
        let class = coupling_class(inputs.get("gross")?)?;
        let mut outcome = Outcome::new(class.class);
        if let Some(ball) = class.ball {
            outcome = outcome.part("ball", ball);
        }
        Ok(outcome
            .part("longitudinal", class.longitudinal)
            .part("transverse", class.transverse)
            .part("vertical_tension", class.vertical_tension)
            .part("vertical_compression", class.vertical_compression)
            .part("chain", class.chain)
            .note("the ball must match the coupler's size exactly; ball, mount and receiver must each carry the gross weight, and the least rating governs"))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Problem,
        tests::{call, check, check_part, refuses},
    };

    const NAME: &str = "weights.coupling_class";

    /// COMAR 11.13.08.10: limits are inclusive.
    #[test]
    fn classes_go_by_gross_weight() {
        for (gross, class) in [
            ("1 lb", 1.0),
            ("2000 lb", 1.0),
            ("2001 lb", 2.0),
            ("3500 lb", 2.0),
            ("5000 lb", 3.0),
            ("5001 lb", 4.0),
            ("10000 lb", 4.0),
        ] {
            check(NAME, &[("gross", gross)], class, "", 0.0);
        }
        assert!(matches!(
            refuses(NAME, &[("gross", "10001 lb")], "10,000 lb"),
            Problem::OutOfRange { .. }
        ));
    }

    /// COMAR 11.13.08.10, class 2 and class 4 at 7000 lb, then classes 1 and 3.
    #[test]
    fn strengths_are_fixed_up_to_class_three_and_then_grow() {
        for (part, two, four) in [
            ("longitudinal", 10_500.0, 21_000.0),
            ("transverse", 3_000.0, 7_000.0),
            ("vertical_tension", 4_500.0, 9_100.0),
            ("vertical_compression", 4_500.0, 9_800.0),
            ("chain", 3_500.0, 7_000.0),
        ] {
            check_part(NAME, &[("gross", "3000 lb")], part, two, "lbf", 1e-6);
            check_part(NAME, &[("gross", "7000 lb")], part, four, "lbf", 1e-6);
        }
        for (part, one, three) in [
            ("longitudinal", 6_000.0, 15_000.0),
            ("transverse", 2_000.0, 4_000.0),
            ("vertical_tension", 2_500.0, 7_000.0),
            ("vertical_compression", 2_500.0, 7_000.0),
            ("chain", 2_000.0, 5_000.0),
        ] {
            check_part(NAME, &[("gross", "2000 lb")], part, one, "lbf", 1e-6);
            check_part(NAME, &[("gross", "4000 lb")], part, three, "lbf", 1e-6);
        }
        check_part(NAME, &[("gross", "2000 lb")], "ball", 1.875, "in", 1e-9);
        check_part(NAME, &[("gross", "3500 lb")], "ball", 2.0, "in", 1e-9);
        check_part(NAME, &[("gross", "5000 lb")], "ball", 2.0, "in", 1e-9);
        let outcome = call(NAME, &[("gross", "7000 lb")]).unwrap();
        assert!(outcome.parts.iter().all(|(name, _)| *name != "ball"));
    }
}
