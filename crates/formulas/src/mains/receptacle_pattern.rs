//! What three voltages at a 120 V receptacle say of its wiring.

use quantity::{Kind, Quantity, Voltage};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

const DARK_BELOW: f64 = 60.0; // V
const LIT_ABOVE: f64 = 80.0; // V
const HIGHEST: f64 = 132.0; // V

/// A pattern, and the faults that look the same from outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ReceptaclePattern {
    /// The legend's word.
    pub pattern: &'static str,
    /// What else gives the same three voltages.
    pub also_possible: &'static [&'static str],
}

const OVER_VOLTAGE: ReceptaclePattern = ReceptaclePattern {
    pattern: "over voltage",
    also_possible: &[
        "240 V wired to a 120 V receptacle",
        "open neutral of the 120/240 V supply",
        "wrong meter range",
    ],
};

/// The pattern of a three-lamp tester, from the voltages between its three pairs of slots.
///
/// A pair counts as lit above 80 V and as dark below 60 V. A "correct" pattern does not prove the ground:
/// no test of three voltages can.
///
/// # Errors
/// [`Problem::OutOfRange`] for a voltage from 60 V to 80 V, where a lamp may or may not light.
pub fn receptacle_pattern(
    hot_neutral: Voltage,
    hot_ground: Voltage,
    neutral_ground: Voltage,
) -> Result<ReceptaclePattern, Problem> {
    let pairs = [neutral_ground, hot_neutral, hot_ground];
    if pairs.iter().any(|pair| pair.base() > HIGHEST) {
        return Ok(OVER_VOLTAGE);
    }
    if pairs.iter().any(|pair| (DARK_BELOW..=LIT_ABOVE).contains(&pair.base())) {
        return Err(Problem::out_of_range(
            "a voltage from 60 V to 80 V is neither on nor off: measure again with a low-impedance meter, \
             other loads on the circuit unplugged; a floating conductor picks up such voltages",
        ));
    }
    let (pattern, also_possible): (_, &'static [&'static str]) =
        match pairs.map(|pair| pair.base() > LIT_ABOVE) {
            [false, true, true] => (
                "correct",
                &[
                    "ground joined to neutral at the receptacle (bootleg ground)",
                    "neutral and ground exchanged",
                    "hot and neutral exchanged with a bootleg ground",
                    "ground of high resistance",
                ],
            ),
            [false, true, false] => ("open ground", &["ground of far too high resistance"]),
            [false, false, true] => ("open neutral", &[]),
            [false, false, false] => ("open hot", &["no power: breaker off or supply dead"]),
            [true, false, true] => (
                "hot/ground reversed",
                &["open neutral with a load plugged in on the same circuit, which is commoner"],
            ),
            [true, true, false] => ("hot/neutral reversed", &[]),
            [true, true, true] => (
                "not in legend",
                &[
                    "loose neutral with feedback through a load",
                    "two supplies at once",
                    "inverter or generator without a bonded neutral",
                ],
            ),
            [true, false, false] => ("not in legend", &["hot on the neutral slot, hot slot open"]),
        };
    Ok(ReceptaclePattern { pattern, also_possible })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "mains.receptacle_pattern",
    summary: "Wiring of a 120 V receptacle, from the voltages between its three slots.",
    inputs: &[
        Input::quantity("hot_neutral", Kind::Voltage, "voltage from the hot to the neutral slot")
            .accepting(Accepts::AtLeast("0 V")),
        Input::quantity("hot_ground", Kind::Voltage, "voltage from the hot slot to ground")
            .accepting(Accepts::AtLeast("0 V")),
        Input::quantity("neutral_ground", Kind::Voltage, "voltage from the neutral slot to ground")
            .accepting(Accepts::AtLeast("0 V")),
    ],
    result: Gives::words(
        "pattern",
        "correct, open ground, open neutral, open hot, hot/ground reversed, hot/neutral reversed, not in \
         legend, or over voltage",
    ),
    parts: &[Gives::words("also_possible", "faults that give the same voltages")],
    valid: "voltages below 60 V or above 80 V, read at a 120 V receptacle with the meter's leads placed",
    sources: &[
        Source {
            document: "a tester maker's answers on its three-lamp tester",
            section: "legend of the lamps and what it cannot detect",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "neon lamps' striking voltage",
            section: "60 V to 80 V",
            confirmed: Confirmed::FromMemory,
        },
        Source {
            document: "above 132 V the outlet is no 120 V outlet",
            section: "",
            confirmed: Confirmed::OwnChoice,
        },
    ],
    example: &[("hot_neutral", "120 V"), ("hot_ground", "120 V"), ("neutral_ground", "0.4 V")],
    compute: |inputs| {
        let neutral_ground: Voltage = inputs.get("neutral_ground")?;
        let found = receptacle_pattern(
            inputs.get("hot_neutral")?,
            inputs.get("hot_ground")?,
            neutral_ground,
        )?;
        let also = found.also_possible.iter().map(|&also| also.to_owned()).collect();
        let mut outcome =
            Outcome::new(Output::words(found.pattern)).part("also_possible", Output::Texts(also));
        outcome = match found.pattern {
            "over voltage" => outcome.note(
                "stop: use nothing on this supply and plug nothing in; disconnect it and call a licensed \
                 electrician",
            ),
            "correct" => outcome.note(
                "three voltages cannot tell a bootleg ground, an exchanged neutral and ground, or the \
                 quality of the ground; \"correct\" is no proof of a safe ground",
            ),
            "open hot" => outcome.note("no voltage read is no proof of a dead circuit"),
            _ => outcome.note(
                "leave the receptacle unused until a licensed electrician has found the cause; unplug other \
                 loads and test again first",
            ),
        };
        if found.pattern == "correct" && neutral_ground.base() < 0.05 {
            outcome = outcome.note(
                "neutral to ground reads nothing at all: with a load on the circuit that hints at a bootleg \
                 ground",
            );
        }
        Ok(outcome.note(
            "a generator or inverter whose neutral is not bonded reads oddly: ask how the source is bonded",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, part_of, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "mains.receptacle_pattern";

    fn pattern(voltages: [&str; 3]) -> (String, Vec<String>, Vec<String>) {
        let [hot_neutral, hot_ground, neutral_ground] = voltages;
        let outcome = call(
            NAME,
            &[
                ("hot_neutral", hot_neutral),
                ("hot_ground", hot_ground),
                ("neutral_ground", neutral_ground),
            ],
        )
        .unwrap();
        let Output::Words(words) = &outcome.result else { panic!("no words") };
        let Output::Texts(also) = part_of(&outcome, "also_possible") else { panic!("no list") };
        (words.clone(), also.clone(), outcome.notes.clone())
    }

    /// The lamp table that a tester's maker prints; the voltages follow from where the lamps sit.
    #[test]
    fn each_pattern_of_lamps_has_its_word_in_the_legend() {
        for (voltages, want, also) in [
            (["120 V", "120 V", "0.4 V"], "correct", 4),
            (["120 V", "3 V", "1 V"], "open ground", 1),
            (["0 V", "120 V", "0 V"], "open neutral", 0),
            (["12 V", "120 V", "0 V"], "open neutral", 0),
            (["0 V", "0 V", "0 V"], "open hot", 1),
            (["0 V", "120 V", "120 V"], "hot/ground reversed", 1),
            (["120 V", "0 V", "120 V"], "hot/neutral reversed", 0),
            (["120 V", "120 V", "120 V"], "not in legend", 3),
            (["0 V", "0 V", "120 V"], "not in legend", 1),
        ] {
            let (words, possible, _) = pattern(voltages);
            assert_eq!(words, want, "{voltages:?}");
            assert_eq!(possible.len(), also, "{voltages:?}");
        }
    }

    #[test]
    fn a_correct_pattern_names_the_faults_it_hides() {
        let (_, also, notes) = pattern(["120 V", "120 V", "0 V"]);
        for hidden in ["bootleg ground", "neutral and ground exchanged", "high resistance"] {
            assert!(also.iter().any(|fault| fault.contains(hidden)), "{hidden}: {also:?}");
        }
        assert!(notes.iter().any(|note| note.contains("no proof of a safe ground")));
        assert!(notes.iter().any(|note| note.contains("reads nothing at all")));
    }

    /// An open neutral with a load plugged in looks like hot and ground reversed, and is commoner.
    #[test]
    fn hot_and_ground_reversed_names_the_commoner_open_neutral() {
        let (_, also, _) = pattern(["0 V", "120 V", "119 V"]);
        assert!(also[0].contains("open neutral"), "{also:?}");
    }

    #[test]
    fn two_hundred_and_forty_volts_is_a_reason_to_stop() {
        for hot_neutral in ["240 V", "160 V"] {
            let (words, _, notes) = pattern([hot_neutral, "120 V", "120 V"]);
            assert_eq!(words, "over voltage");
            assert!(notes[0].starts_with("stop"), "{notes:?}");
        }
    }

    #[test]
    fn a_voltage_at_which_a_lamp_may_strike_or_not_is_read_again() {
        let problem = refuses(
            NAME,
            &[("hot_neutral", "120 V"), ("hot_ground", "67 V"), ("neutral_ground", "55 V")],
            "neither on nor off",
        );
        assert!(matches!(problem, Problem::OutOfRange { .. }));
    }
}
