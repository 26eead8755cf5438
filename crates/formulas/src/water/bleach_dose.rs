//! How much household bleach disinfects a fresh-water system.

use quantity::{Kind, Quantity, Ratio, Volume};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Volume of bleach that gives a system's water a concentration of chlorine.
///
/// `V_bleach = V·ppm/(10,000·%)`, % the label's sodium hypochlorite (grams in 100 mL), taken as available
/// chlorine, which truly is about 0.95 of it.
///
/// # Errors
/// [`Problem::OutOfRange`] over 200 ppm, or for a strength outside 1 % to 12.5 %.
pub fn bleach_dose(volume: Volume, target: Ratio, strength: Ratio) -> Result<Volume, Problem> {
    // A hair's breadth for the rounding of the unit conversions.
    if target.base() > 200e-6 + 1e-12 {
        return Err(Problem::out_of_range(
            "valid up to 200 ppm, the strongest dose that plumbing codes name",
        ));
    }
    if !(0.01 - 1e-12..=0.125 + 1e-12).contains(&strength.base()) {
        return Err(Problem::out_of_range(
            "valid for plain bleach of 1 % to 12.5 %; read the label again, and never use pool chlorine, gel, \
             scented or splash-less bleach",
        ));
    }
    Ok(volume * (target.base() / strength.base()))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "water.bleach_dose",
    summary: "Household bleach that disinfects a fresh-water system.",
    inputs: &[
        Input::quantity("volume", Kind::Volume, "volume of the tank and pipes")
            .accepting(Accepts::Above("0 gal")),
        Input::quantity(
            "target_ppm",
            Kind::Ratio,
            "wanted chlorine, such as 50 ppm; a bare 50 is read as ppm",
        )
        .accepting(Accepts::Above("0 ppm")),
        Input::quantity(
            "strength",
            Kind::Ratio,
            "sodium hypochlorite on the label, such as 6 %; a bare 6 is read as percent",
        )
        .accepting(Accepts::Above("0 %")),
    ],
    result: Gives::quantity("bleach", "floz", "plain, unscented bleach"),
    parts: &[
        Gives::quantity("cups", "cup", "the same in cups"),
        Gives::words("stand", "how long it stands, where the recipe says so"),
    ],
    valid: "up to 200 ppm; plain bleach of 1 % to 12.5 %",
    sources: &[
        Source {
            document: "definition: chlorine in the water over chlorine in the bleach",
            section: "",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "a recreational-vehicle maker’s owner manual of 2019",
            section: "plumbing: 1/4 cup for 15 gal stands 4 h, 1/2 cup 1 h",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "California Plumbing Code 2013",
            section: "609.9: 50 ppm 24 h or 200 ppm 3 h for piping",
            confirmed: Confirmed::Read,
        },
    ],
    example: &[("volume", "50 gal"), ("target_ppm", "50 ppm"), ("strength", "5.25 %")],
    compute: |inputs| {
        let mut notes = Vec::new();
        // A concentration of one and more can only be a number without its unit.
        let mut read = |name: &'static str, unit: &str, factor: f64| -> Result<Ratio, Problem> {
            let given: Ratio = inputs.get(name)?;
            if given.base() < 1.0 {
                return Ok(given);
            }
            notes.push(format!(
                "{name}: {} without a unit is read as {unit}",
                quantity::write_number(given.base())
            ));
            Ok(given * factor)
        };
        let (target, strength) = (read("target_ppm", "ppm", 1e-6)?, read("strength", "%", 1e-2)?);
        let bleach = bleach_dose(inputs.get("volume")?, target, strength)?;
        let stand = match target.base() * 1e6 {
            ..45.0 => "no recipe for so weak a dose",
            45.0..90.0 => "4 h or longer",
            _ => "1 h or longer",
        };
        let mut outcome = Outcome::new(bleach)
            .part("cups", bleach)
            .part("stand", crate::Output::words(stand))
            .note(
                "first take out or bypass carbon filters and shut off the heater; never mix bleach with acid or \
                 ammonia; then flush every tap, hot too, until the smell is gone",
            )
            .note("a heater that is bypassed is not disinfected")
            .note("the label’s strength falls with age, so the true dose may be weaker");
        outcome.notes.splice(0..0, notes);
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{call, check, check_part, refuses};

    const NAME: &str = "water.bleach_dose";

    fn dose<'a>(volume: &'a str, ppm: &'a str, strength: &'a str) -> [(&'a str, &'a str); 3] {
        [("volume", volume), ("target_ppm", ppm), ("strength", strength)]
    }

    /// Worked from the definition.
    #[test]
    fn the_dose_is_the_wanted_chlorine_over_the_strength() {
        for (volume, ppm, strength, ounces) in [
            ("50 gal", "50 ppm", "5.25 %", 6.10),
            ("50 gal", "100 ppm", "5.25 %", 12.19),
            ("40 gal", "50 ppm", "8.25 %", 3.10),
            ("100 gal", "50 ppm", "6.0 %", 10.67),
        ] {
            check(NAME, &dose(volume, ppm, strength), ounces, "floz", 0.005);
        }
        check_part(NAME, &dose("50 gal", "50 ppm", "5.25 %"), "cups", 0.76, "cup", 0.005);
    }

    /// The recipe of ¼ cup for 15 gal is 54.7 ppm only with bleach of 5.25 %; today's 8.25 % makes it 85.9.
    #[test]
    fn a_quarter_cup_for_fifteen_gallons_depends_on_the_bleach() {
        for (ppm, strength) in [("54.7 ppm", "5.25 %"), ("62.5 ppm", "6 %"), ("85.9 ppm", "8.25 %")]
        {
            check(NAME, &dose("15 gal", ppm, strength), 0.25, "cup", 0.000_3);
        }
    }

    /// The recipe of a recreational-vehicle standard of 0.13 fl oz a gallon is 53 ppm at 5.25 %; the emergency
    /// doses of a leaflet for drinking water, 8 drops of 6 % or 6 drops of 8.25 % a gallon, are 6.3 and 6.5 ppm.
    #[test]
    fn published_recipes_come_to_their_concentration() {
        check(NAME, &dose("1 gal", "53.3 ppm", "5.25 %"), 0.13, "floz", 0.000_1);
        check(NAME, &dose("1 gal", "6.34 ppm", "6 %"), 8.0 * 0.05, "mL", 0.000_1);
        check(NAME, &dose("1 gal", "6.54 ppm", "8.25 %"), 6.0 * 0.05, "mL", 0.000_1);
    }

    /// ½ cup for 15 gal stands 1 h, ¼ cup 4 h (a recreational-vehicle maker's manual of 2019).
    #[test]
    fn the_stronger_dose_stands_for_less_long() {
        for (ppm, stand) in [
            ("50 ppm", "4 h or longer"),
            ("100 ppm", "1 h or longer"),
            ("20 ppm", "no recipe for so weak a dose"),
        ] {
            let outcome = call(NAME, &dose("15 gal", ppm, "5.25 %")).unwrap();
            assert_eq!(crate::tests::part_of(&outcome, "stand"), &crate::Output::words(stand));
        }
    }

    #[test]
    fn bare_numbers_are_read_as_their_names_say_and_said() {
        check(NAME, &dose("50 gal", "50", "5.25"), 6.10, "floz", 0.005);
        let notes = call(NAME, &dose("50 gal", "50", "5.25")).unwrap().notes;
        assert!(notes[0].contains("50 without a unit is read as ppm"), "{notes:?}");
        assert!(notes[1].contains("read as %"), "{notes:?}");
    }

    #[test]
    fn too_strong_a_dose_and_odd_bleach_are_out_of_range() {
        for (given, words) in [
            (dose("50 gal", "201 ppm", "5.25 %"), "200 ppm"),
            (dose("50 gal", "50 ppm", "0.9 %"), "label"),
            (dose("50 gal", "50 ppm", "65 %"), "pool chlorine"),
        ] {
            let problem = refuses(NAME, &given, words);
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
        check(NAME, &dose("10 gal", "200 ppm", "1 %"), 25.6, "floz", 0.01);
        refuses(NAME, &dose("50 gal", "0 ppm", "6 %"), "not possible");
    }
}
