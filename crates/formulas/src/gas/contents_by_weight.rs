//! How much propane is in a cylinder, by weighing it.

use quantity::{Kind, Mass, Ratio, exact::mass::avoirdupois_pound};

use super::{cylinder_capacity, cylinder_capacity::FILLING_TABLE, propane};
use crate::{Accepts, Formula, Gives, Input, Outcome, Problem, Source};

/// Propane in a cylinder: gross weight less the tare stamped on it.
///
/// # Errors
/// [`Problem::Input`] if the cylinder weighs less than its tare, or more water than it holds is in it.
pub fn contents_by_weight(gross: Mass, tare: Mass, water_capacity: Mass) -> Result<Mass, Problem> {
    if gross < tare {
        return Err(Problem::input(
            "gross",
            "is less than the tare weight, so the scale or the tare is wrong; accepted: the tare \
             weight or more",
        ));
    }
    let contents = gross - tare;
    if contents > water_capacity {
        return Err(Problem::input(
            "gross",
            "would mean more contents than the cylinder holds of water, which is impossible; check the \
             scale, the stamped tare TW and the stamped water capacity WC",
        ));
    }
    Ok(contents)
}

/// Contents as a share of the most that the cylinder may hold; over 1 is overfilled.
#[must_use]
pub fn filled_fraction(contents: Mass, water_capacity: Mass) -> Ratio {
    contents / cylinder_capacity::cylinder_capacity(water_capacity)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.contents_by_weight",
    summary: "Propane left in a cylinder, by its weight.",
    inputs: &[
        Input::quantity(
            "gross",
            Kind::Mass,
            "weight of the cylinder with its gas, hose and cap off",
        )
        .accepting(Accepts::AtLeast("0 lb")),
        Input::quantity(
            "tare",
            Kind::Mass,
            "tare weight stamped TW: with valve, without cap and hose",
        )
        .accepting(Accepts::Above("0 lb")),
        Input::quantity("water_capacity", Kind::Mass, "water capacity stamped WC")
            .accepting(Accepts::Above("0 lb")),
    ],
    result: Gives::quantity("contents", "lb", "propane in the cylinder"),
    parts: &[
        Gives::quantity("fraction", "%", "share of the most it may hold; over 100 % is overfilled"),
        Gives::quantity("energy", "Btu", "heat of burning it, at 21,548 Btu/lb"),
        Gives::quantity("volume", "gal", "as liquid, at 4.24 lb/gal"),
        Gives::words("overfilled", "whether it holds more than it may"),
        Gives::quantity("excess", "lb", "how much over the limit; only where it is overfilled"),
    ],
    valid: "",
    sources: &[
        FILLING_TABLE,
        Source {
            document: "49 CFR 173.304a",
            section: "(c) and (d): filling by weight",
            confirmed: crate::Confirmed::Read,
        },
        propane::PROPERTIES,
    ],
    example: &[("gross", "39.5 lb"), ("tare", "24.5 lb"), ("water_capacity", "71.4 lb")],
    compute: |inputs| {
        let water_capacity = inputs.get("water_capacity")?;
        let contents =
            contents_by_weight(inputs.get("gross")?, inputs.get("tare")?, water_capacity)?;
        let most = cylinder_capacity::cylinder_capacity(water_capacity);
        let overfilled = contents > most;
        let outcome = Outcome::new(contents)
            .part("fraction", filled_fraction(contents, water_capacity))
            .part("energy", propane::energy(contents))
            .part("volume", propane::liquid_volume(contents))
            .part("overfilled", crate::Output::Truth(overfilled));
        if !overfilled {
            return Ok(outcome);
        }
        let excess = contents - most;
        Ok(outcome.part("excess", excess).note(format!(
            "overfilled: stop work on the gas system, keep the cylinder cool, upright and away from \
             ignition, and have a licensed supplier relieve it; it holds {} lb more than the legal 42 % of \
             its water capacity, and liquid that warms has no room to expand",
            quantity::write_number(excess.get::<avoirdupois_pound>())
        )))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check, check_part, part_of, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "gas.contents_by_weight";

    fn weighed<'a>(tare: &'a str, water: &'a str, gross: &'a str) -> [(&'a str, &'a str); 3] {
        [("gross", gross), ("tare", tare), ("water_capacity", water)]
    }

    /// Worked from the definitions: net = gross − tare, 42 % of the water capacity, 21,548 Btu/lb,
    /// 4.24 lb/gal.
    #[test]
    fn contents_are_what_is_over_the_tare() {
        let half = weighed("24.5 lb", "71.4 lb", "39.5 lb");
        check(NAME, &half, 15.0, "lb", 1e-9);
        check_part(NAME, &half, "fraction", 50.0, "%", 0.05);
        check_part(NAME, &half, "volume", 3.54, "gal", 0.005);
        check_part(NAME, &half, "energy", 323_220.0, "Btu", 0.5);
        let full = weighed("17.0 lb", "47.6 lb", "36.99 lb");
        check(NAME, &full, 19.99, "lb", 1e-9);
        check_part(NAME, &full, "fraction", 100.0, "%", 0.05);
        check(NAME, &weighed("29.0 lb", "95.2 lb", "29.0 lb"), 0.0, "lb", 0.0);
    }

    #[test]
    fn an_overfilled_cylinder_gives_its_excess_and_stops_the_work() {
        let over = weighed("17.0 lb", "47.6 lb", "38.5 lb");
        check_part(NAME, &over, "fraction", 107.5, "%", 0.05);
        check_part(NAME, &over, "excess", 1.508, "lb", 0.001);
        let outcome = call(NAME, &over).unwrap();
        assert_eq!(part_of(&outcome, "overfilled"), &Output::Truth(true));
        assert!(outcome.notes[0].starts_with("overfilled: stop work"), "{:?}", outcome.notes);
        let legal = call(NAME, &weighed("17.0 lb", "47.6 lb", "36.9 lb")).unwrap();
        assert_eq!(part_of(&legal, "overfilled"), &Output::Truth(false));
        assert!(legal.notes.is_empty() && legal.parts.iter().all(|(name, _)| *name != "excess"));
    }

    #[test]
    fn impossible_weights_are_input_errors() {
        for (given, words) in [
            (weighed("17.0 lb", "47.6 lb", "16.2 lb"), "the scale or the tare is wrong"),
            (weighed("17.0 lb", "47.6 lb", "65 lb"), "impossible"),
        ] {
            assert!(
                matches!(refuses(NAME, &given, words), Problem::Input { name, .. } if name == "gross")
            );
        }
    }

    /// A scale good to ±0.5 lb tells a 20-lb cylinder's fill to ±2.5 %.
    #[test]
    fn half_a_pound_is_two_and_a_half_percent_of_a_twenty_pound_cylinder() {
        let outcome = call(NAME, &weighed("17.0 lb", "47.6 lb", "27 lb ± 0.5")).unwrap();
        let Output::Quantity(fraction) = part_of(&outcome, "fraction") else {
            panic!("no quantity")
        };
        assert!((fraction.standard_uncertainty().unwrap() - 0.025).abs() < 2e-4);
    }
}
