//! Sides and axles of a trailer from the loads of its wheels.

use quantity::{Kind, Mass, Ratio};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

use super::side_imbalance::{heavier_side, side_imbalance};

/// The two wheels of one axle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleWheels {
    /// Load of the left wheel.
    pub left: Mass,
    /// Load of the right wheel.
    pub right: Mass,
}

impl AxleWheels {
    /// Load of the axle.
    #[must_use]
    pub fn sum(self) -> Mass {
        self.left + self.right
    }
}

/// What the wheels carry together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WheelSums {
    /// All wheels of the left side.
    pub left: Mass,
    /// All wheels of the right side.
    pub right: Mass,
    /// Difference of the sides as a share of their sum.
    pub imbalance: Ratio,
    /// Load of the axle that carries most, and which one it is, counted from the front from 0.
    pub heaviest: (Mass, usize),
}

/// Sums of one to three axles, from the front.
///
/// # Errors
/// [`Problem::Input`] if there is no axle, or nothing on any wheel.
pub fn by_wheel(axles: &[AxleWheels]) -> Result<WheelSums, Problem> {
    let (first, others) = axles.split_first().ok_or_else(|| {
        Problem::input(
            "left_front",
            "and all others are missing; accepted: both wheels of an axle at least",
        )
    })?;
    let (mut left, mut right) = (first.left, first.right);
    let mut heaviest = (first.sum(), 0);
    for (at, axle) in others.iter().enumerate() {
        left += axle.left;
        right += axle.right;
        if axle.sum() > heaviest.0 {
            heaviest = (axle.sum(), at + 1);
        }
    }
    let imbalance = side_imbalance(left, right).map_err(|_| {
        Problem::input(
            "left_front",
            "and all others are zero; accepted: a weight on one wheel at least",
        )
    })?;
    Ok(WheelSums { left, right, imbalance, heaviest })
}

const AXLES: [(&str, &str, &str); 3] = [
    ("front", "left_front", "right_front"),
    ("middle", "left_middle", "right_middle"),
    ("rear", "left_rear", "right_rear"),
];

const fn wheel(name: &'static str, about: &'static str) -> Input {
    Input::quantity(name, Kind::Mass, about).optional().accepting(Accepts::AtLeast("0 lb"))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "weights.by_wheel",
    summary: "Sides, axles and the whole weight on the wheels, from the load of each wheel.",
    inputs: &[
        wheel("left_front", "load of the wheel; both wheels of an axle, or neither"),
        wheel("right_front", "load of the wheel"),
        wheel("left_middle", "load of the wheel, where there are three axles"),
        wheel("right_middle", "load of the wheel, where there are three axles"),
        wheel("left_rear", "load of the wheel"),
        wheel("right_rear", "load of the wheel"),
    ],
    result: Gives::quantity("total", "lb", "on all wheels together"),
    parts: &[
        Gives::quantity("left", "lb", "all wheels of the left side"),
        Gives::quantity("right", "lb", "all wheels of the right side"),
        Gives::quantity("imbalance", "%", "difference of the sides, as a share of their sum"),
        Gives::words("heavier", "the heavier side"),
        Gives::quantity("heaviest_axle", "lb", "the axle that carries most"),
        Gives::words("which_axle", "front, middle or rear"),
    ],
    valid: "all axles weighed in the same state: coupled or not, level, nothing moved between",
    sources: &[Source {
        document: "definition: sums, and difference divided by sum",
        section: "",
        confirmed: Confirmed::Derived,
    }],
    example: &[
        ("left_front", "1650 lb"),
        ("right_front", "1350 lb"),
        ("left_rear", "1650 lb"),
        ("right_rear", "1350 lb"),
    ],
    compute: |inputs| {
        let mut names = Vec::new();
        let mut axles = Vec::new();
        for (name, left, right) in AXLES {
            match (inputs.optional(left)?, inputs.optional(right)?) {
                (Some(left), Some(right)) => {
                    names.push(name);
                    axles.push(AxleWheels { left, right });
                }
                (None, None) => {}
                (Some(_), None) => return Err(one_wheel(right, left)),
                (None, Some(_)) => return Err(one_wheel(left, right)),
            }
        }
        let sums = by_wheel(&axles)?;
        let which = names.get(sums.heaviest.1).copied().unwrap_or("front");
        Ok(Outcome::new(sums.left + sums.right)
            .part("left", sums.left)
            .part("right", sums.right)
            .part("imbalance", sums.imbalance)
            .part("heavier", Output::words(heavier_side(sums.left, sums.right)))
            .part("heaviest_axle", sums.heaviest.0)
            .part("which_axle", Output::words(which))
            .note("without what rests on the tongue or pin: that belongs to the gross weight too")
            .note("each wheel is held to its tyre, each axle to its rating: an even sum can hide both"))
    },
};

fn one_wheel(missing: &str, given: &str) -> Problem {
    Problem::input(
        missing,
        format!("is missing while {given} is given; accepted: both wheels of an axle, or neither"),
    )
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use quantity::{Mass, Quantity};

    use super::{AxleWheels, by_wheel};
    use crate::{
        Output, Problem,
        tests::{call, check, check_part, part_of, refuses},
    };

    const NAME: &str = "weights.by_wheel";

    const TANDEM: [(&str, &str); 4] = [
        ("left_front", "1600 lb"),
        ("right_front", "1400 lb"),
        ("left_rear", "1700 lb"),
        ("right_rear", "1300 lb"),
    ];

    /// A tandem of 6000 lb, 3300 lb on the left and 2700 lb on the right: from the definition.
    #[test]
    fn wheels_add_up_to_sides_and_axles() {
        check(NAME, &TANDEM, 6_000.0, "lb", 1e-6);
        for (part, want, unit) in [
            ("left", 3_300.0, "lb"),
            ("right", 2_700.0, "lb"),
            ("imbalance", 10.0, "%"),
            ("heaviest_axle", 3_000.0, "lb"),
        ] {
            check_part(NAME, &TANDEM, part, want, unit, 1e-6);
        }
        let outcome = call(NAME, &TANDEM).unwrap();
        assert_eq!(part_of(&outcome, "heavier"), &Output::words("left"));
        assert_eq!(part_of(&outcome, "which_axle"), &Output::words("front"));
    }

    #[test]
    fn the_axle_that_carries_most_is_named() {
        let pairs = [
            ("left_front", "1000 lb"),
            ("right_front", "1000 lb"),
            ("left_middle", "1000 lb"),
            ("right_middle", "1100 lb"),
            ("left_rear", "1000 lb"),
            ("right_rear", "1050 lb"),
        ];
        check_part(NAME, &pairs, "heaviest_axle", 2_100.0, "lb", 1e-6);
        assert_eq!(part_of(&call(NAME, &pairs).unwrap(), "which_axle"), &Output::words("middle"));
    }

    #[test]
    fn one_wheel_of_an_axle_alone_is_refused() {
        let problem =
            refuses(NAME, &TANDEM[..3], "right_rear: is missing while left_rear is given");
        assert!(matches!(problem, Problem::Input { .. }));
        refuses(NAME, &[], "both wheels of an axle at least");
        refuses(NAME, &[("left_front", "0 lb"), ("right_front", "0 lb")], "are zero");
        refuses(NAME, &[("left_front", "-5 lb"), ("right_front", "5 lb")], "-5 lb is not possible");
    }

    proptest! {
        #[test]
        fn sides_and_axles_add_up_to_the_same(
            loads in prop::collection::vec((1.0..5_000.0_f64, 0.0..5_000.0_f64), 1..=3)
        ) {
            let axles: Vec<AxleWheels> = loads
                .iter()
                .map(|(left, right)| AxleWheels {
                    left: Mass::from_base(*left),
                    right: Mass::from_base(*right),
                })
                .collect();
            let sums = by_wheel(&axles).unwrap();
            let whole: f64 = loads.iter().map(|(left, right)| left + right).sum();
            prop_assert!(((sums.left + sums.right).base() - whole).abs() < 1e-6);
            prop_assert!(axles.iter().all(|axle| axle.sum() <= sums.heaviest.0));
            prop_assert!((0.0..=1.0).contains(&sums.imbalance.base()));
        }
    }
}
