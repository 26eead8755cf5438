//! The angle between the two legs of a supply, from three voltages.

use quantity::{Angle, Kind, Quantity, Voltage};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

/// How far the cosine may pass ±1 by the meter's error.
const EXCESS: f64 = 0.02;

/// Angle between two legs, by the law of cosines.
///
/// `θ = acos((V₁² + V₂² − V₁₂²)/(2·V₁·V₂))`. A cosine that passes ±1 by no more than 0.02 is the meter's
/// error and is taken as ±1.
///
/// # Errors
/// [`Problem::OutOfRange`] for three voltages that form no triangle.
pub fn leg_angle(first: Voltage, second: Voltage, across: Voltage) -> Result<Angle, Problem> {
    let (v1, v2, v12) = (first.base(), second.base(), across.base());
    let cosine = (v1 * v1 + v2 * v2 - v12 * v12) / (2.0 * v1 * v2);
    if cosine.is_nan() || cosine.abs() > 1.0 + EXCESS {
        return Err(Problem::out_of_range(
            "these three voltages cannot be of one supply: the voltage across the legs is larger than \
             their sum or smaller than their difference; read all three again on one range",
        ));
    }
    Ok(Angle::from_base(libm::acos(cosine.clamp(-1.0, 1.0))))
}

/// What supply such legs are of.
#[must_use]
pub fn supply_of_legs(first: Voltage, second: Voltage, angle: Angle) -> &'static str {
    let degrees = angle.base().to_degrees();
    let unequal = (first.base() - second.base()).abs() > 0.05 * (first.base() + second.base());
    match degrees {
        // Unequal legs in line with each other: what the neutral should hold apart has moved.
        165.0.. if unequal => "120/240 V with unequal legs: suspect the neutral",
        165.0.. => "120/240 V",
        110.0..=130.0 => "two legs of 208Y/120 V",
        ..=15.0 => "both legs of one phase: the neutral carries the sum",
        _ => "not told",
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "mains.leg_angle",
    summary: "Angle between the two legs of a supply, which tells what kind of supply it is.",
    inputs: &[
        Input::quantity("first", Kind::Voltage, "first leg to neutral")
            .accepting(Accepts::Above("0 V")),
        Input::quantity("second", Kind::Voltage, "second leg to neutral")
            .accepting(Accepts::Above("0 V")),
        Input::quantity("across", Kind::Voltage, "leg to leg").accepting(Accepts::AtLeast("0 V")),
    ],
    result: Gives::quantity(
        "angle",
        "deg",
        "180 deg: 120/240 V; 120 deg: 208Y/120 V; 0 deg: one phase",
    ),
    parts: &[Gives::words("supply", "what supply such legs are of")],
    valid: "three voltages that form a triangle within 2 % of the cosine",
    sources: &[
        Source {
            document: "law of cosines",
            section: "voltages as phasors",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "2 % of excess taken as the meter's error; bands of the words",
            section: "",
            confirmed: Confirmed::OwnChoice,
        },
    ],
    example: &[("first", "120 V"), ("second", "120 V"), ("across", "208 V")],
    compute: |inputs| {
        let (first, second) = (inputs.get("first")?, inputs.get("second")?);
        let angle = leg_angle(first, second, inputs.get("across")?)?;
        let supply = supply_of_legs(first, second, angle);
        let outcome = Outcome::new(angle).part("supply", Output::words(supply));
        Ok(match supply {
            "two legs of 208Y/120 V" => outcome.note(
                "a permitted supply; what is made for 240 V heats with (208/240)² = 75 % of its rating",
            ),
            "both legs of one phase: the neutral carries the sum" => outcome.note(
                "a 240 V load gets nothing, and the neutral carries both legs' current: do not load it \
                 beyond one leg's rating",
            ),
            "120/240 V with unequal legs: suspect the neutral" => outcome.note(
                "stop loading the supply and have a licensed electrician look at the neutral: a lost \
                 neutral puts up to 240 V on 120 V appliances",
            ),
            _ => outcome,
        })
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check, part_of, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "mains.leg_angle";

    fn pairs<'a>(first: &'a str, second: &'a str, across: &'a str) -> [(&'static str, &'a str); 3] {
        [("first", first), ("second", second), ("across", across)]
    }

    /// Worked out by plane trigonometry.
    #[test]
    fn the_angle_tells_the_supply() {
        for (first, second, across, degrees, supply) in [
            ("120 V", "120 V", "240 V", 180.0, "120/240 V"),
            ("120 V", "120 V", "208 V", 120.147, "two legs of 208Y/120 V"),
            ("120 V", "120 V", "0 V", 0.0, "both legs of one phase"),
            ("96 V", "144 V", "240 V", 180.0, "120/240 V with unequal legs: suspect the neutral"),
        ] {
            let pairs = pairs(first, second, across);
            check(NAME, &pairs, degrees, "deg", 5e-4);
            let outcome = call(NAME, &pairs).unwrap();
            let Output::Words(words) = part_of(&outcome, "supply") else { panic!("no words") };
            assert!(words.starts_with(supply), "{words}");
        }
    }

    /// 241 V across legs of 120 V passes the cosine by 0.017; 245 V by 0.084.
    #[test]
    fn a_small_excess_is_the_meters_and_a_large_one_is_refused() {
        check(NAME, &pairs("120 V", "120 V", "241 V"), 180.0, "deg", 1e-9);
        for (first, second, across) in
            [("120 V", "120 V", "245 V"), ("120 V", "60 V", "10 V"), ("120 V", "120 V", "400 V")]
        {
            let problem = refuses(NAME, &pairs(first, second, across), "cannot be of one supply");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
    }
}
