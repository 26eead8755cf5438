//! Whether a load on one leg shows a poor neutral, or resistance in the leg itself.

use quantity::uom::si::electric_current::ampere;
use quantity::{Current, Kind, Quantity, Voltage};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

const LEAST_CURRENT: f64 = 10.0; // A
/// The other leg rises by more than this where the neutral shifts.
const RISE: f64 = 2.0; // V
/// The loaded leg falls by more than this where there is resistance worth a look.
const FALL: f64 = 2.0; // V
/// Leg to leg counts as steady within this share.
const STEADY: f64 = 0.01;
/// Above this, 120 V appliances are at risk.
const TOO_HIGH: f64 = 132.0; // V

/// Three voltages of a two-leg supply: first leg, second leg, leg to leg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Legs {
    /// First leg to neutral.
    pub first: Voltage,
    /// Second leg to neutral.
    pub second: Voltage,
    /// Leg to leg.
    pub across: Voltage,
}

/// What a load on the first leg shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NeutralTest {
    /// In words.
    pub shown: &'static str,
    /// How far the loaded leg fell.
    pub fall: Voltage,
    /// How far the other leg rose.
    pub rise: Voltage,
}

/// Reads a test with a load on the first leg alone.
///
/// A neutral of some resistance shifts: the loaded leg falls, the other rises, and leg to leg stays. Resistance
/// in the leg itself lets the loaded leg fall alone. The bounds are this project's own.
///
/// # Errors
/// [`Problem::OutOfRange`] below 10 A, or if the loaded leg did not fall.
pub fn neutral_test(open: Legs, loaded: Legs, current: Current) -> Result<NeutralTest, Problem> {
    if current.get::<ampere>() < LEAST_CURRENT {
        return Err(Problem::out_of_range(
            "not determinable: a shift shows only with 10 A or more on the first leg and little on the second",
        ));
    }
    let fall = open.first - loaded.first;
    let rise = loaded.second - open.second;
    if fall.base() <= 0.0 {
        return Err(Problem::out_of_range(
            "not determinable: the loaded leg did not fall; is the load on the first leg? Read all six again",
        ));
    }
    let steady = (loaded.across / open.across).base() - 1.0;
    let shown = if rise.base() > RISE && steady.abs() <= STEADY {
        "neutral suspect"
    } else if rise.base() > RISE {
        "not told: leg to leg moved as well"
    } else if fall.base() > FALL {
        "resistance in the loaded leg or its circuit"
    } else {
        "no shift shown"
    };
    Ok(NeutralTest { shown, fall, rise })
}

const fn voltage(name: &'static str, about: &'static str) -> Input {
    Input::quantity(name, Kind::Voltage, about).accepting(Accepts::Above("0 V"))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "mains.neutral_test",
    summary: "Whether a load on one leg of a 120/240 V supply shows a poor neutral.",
    inputs: &[
        voltage("first_open", "first leg to neutral, without the load"),
        voltage("second_open", "second leg to neutral, without the load"),
        voltage("across_open", "leg to leg, without the load"),
        voltage("first_loaded", "first leg to neutral, with the load on the first leg"),
        voltage("second_loaded", "second leg to neutral, with the same load"),
        voltage("across_loaded", "leg to leg, with the same load"),
        Input::quantity("current", Kind::Current, "of the load on the first leg, 10 A or more")
            .accepting(Accepts::AtLeast("0 A")),
    ],
    result: Gives::words(
        "shown",
        "neutral suspect, resistance in the loaded leg or its circuit, no shift shown, or not told",
    ),
    parts: &[
        Gives::quantity("fall", "V", "of the loaded leg"),
        Gives::quantity("rise", "V", "of the other leg"),
    ],
    valid: "a 120/240 V supply, 10 A or more on the first leg",
    sources: &[
        Source {
            document: "Kirchhoff's laws",
            section: "a neutral's resistance shifts the midpoint of the legs",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "10 A, a rise of more than 2 V, leg to leg steady within 1 %",
            section: "",
            confirmed: Confirmed::OwnChoice,
        },
    ],
    example: &[
        ("first_open", "120 V"),
        ("second_open", "120 V"),
        ("across_open", "240 V"),
        ("first_loaded", "112 V"),
        ("second_loaded", "128 V"),
        ("across_loaded", "240 V"),
        ("current", "10 A"),
    ],
    compute: |inputs| {
        let legs = |first, second, across| -> Result<Legs, Problem> {
            Ok(Legs {
                first: inputs.get(first)?,
                second: inputs.get(second)?,
                across: inputs.get(across)?,
            })
        };
        let open = legs("first_open", "second_open", "across_open")?;
        let loaded = legs("first_loaded", "second_loaded", "across_loaded")?;
        let found = neutral_test(open, loaded, inputs.get("current")?)?;
        let mut outcome = Outcome::new(Output::words(found.shown))
            .part("fall", found.fall)
            .part("rise", found.rise)
            .note(
                "a load that is the same on both legs hides even a lost neutral: switch everything else off, \
                 and load one leg alone",
            );
        if found.shown == "neutral suspect" || loaded.second.base() > TOO_HIGH {
            outcome = outcome.note(
                "take the load off and disconnect the supply: a neutral that opens puts up to 240 V on 120 V \
                 appliances. Call a licensed electrician",
            );
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::mains::open_neutral;
    use crate::tests::{call, check_part, refuses};
    use crate::{Output, Problem};
    use quantity::{Power, Quantity, Resistance, Voltage};

    const NAME: &str = "mains.neutral_test";

    fn shown(voltages: [&str; 6]) -> String {
        let outcome = call(NAME, &pairs(voltages, "10 A")).unwrap();
        let Output::Words(words) = outcome.result else { panic!("no words") };
        words
    }

    fn pairs<'a>(voltages: [&'a str; 6], current: &'a str) -> Vec<(&'static str, &'a str)> {
        [
            "first_open",
            "second_open",
            "across_open",
            "first_loaded",
            "second_loaded",
            "across_loaded",
        ]
        .into_iter()
        .zip(voltages)
        .chain([("current", current)])
        .collect()
    }

    /// The legs of `mains.open_neutral` with 12 Ω and 120 Ω: 1 Ω of neutral shifts them by 8.244 V, 0.05 Ω by
    /// 0.448 V.
    #[test]
    fn a_poor_neutral_lets_one_leg_fall_and_the_other_rise() {
        for (ohms, words) in [(1.0, "neutral suspect"), (0.05, "no shift shown")] {
            let (first, second) = open_neutral(
                Voltage::from_base(240.0),
                Power::from_base(1_200.0),
                Power::from_base(120.0),
                Some(Resistance::from_base(ohms)),
            )
            .unwrap();
            let (first, second) = (format!("{} V", first.base()), format!("{} V", second.base()));
            assert_eq!(shown(["120 V", "120 V", "240 V", &first, &second, "240 V"]), words);
        }
        let legs = ["120 V", "120 V", "240 V", "111.756 V", "128.244 V", "240 V"];
        check_part(NAME, &pairs(legs, "10 A"), "fall", 8.244, "V", 1e-9);
        check_part(NAME, &pairs(legs, "10 A"), "rise", 8.244, "V", 1e-9);
    }

    #[test]
    fn a_leg_that_falls_alone_has_resistance_of_its_own() {
        let words = shown(["120 V", "120 V", "240 V", "114 V", "120.2 V", "234.2 V"]);
        assert!(words.starts_with("resistance in the loaded leg"), "{words}");
        let words = shown(["120 V", "120 V", "240 V", "112 V", "123 V", "235 V"]);
        assert!(words.starts_with("not told"), "{words}");
    }

    /// 1000 W on both legs: a lost neutral leaves 120 V on each.
    #[test]
    fn the_balanced_load_that_hides_a_lost_neutral_is_named() {
        let legs = ["120 V", "120 V", "240 V", "119 V", "120 V", "239 V"];
        let notes = call(NAME, &pairs(legs, "12 A")).unwrap().notes;
        assert!(notes[0].contains("hides even a lost neutral"), "{notes:?}");
    }

    #[test]
    fn a_small_load_or_one_that_lowers_nothing_tells_nothing() {
        for (first, current) in [("112 V", "5 A"), ("120 V", "12 A")] {
            let legs = ["120 V", "120 V", "240 V", first, "128 V", "240 V"];
            let problem = refuses(NAME, &pairs(legs, current), "not determinable");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
    }
}
