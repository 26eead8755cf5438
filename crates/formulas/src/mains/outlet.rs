//! All that was read at one outlet of a survey, as one state that sorts the worst first.

use quantity::uom::si::ratio::percent;
use quantity::{Kind, Quantity, Ratio, Voltage};

use super::receptacle_pattern;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

/// Drop under load from which a circuit is worth a look: the recommendation for feeder and branch together.
const MUCH: f64 = 5.0; // %

/// How an outlet stands, from the best to the worst.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OutletState {
    /// Nothing found by what was read.
    NothingFound,
    /// Works, but something is worth a look.
    LookInto,
    /// No power: find out why.
    Dead,
    /// Not to be used until repaired.
    DoNotUse,
    /// Disconnect the supply.
    Stop,
}

impl OutletState {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::NothingFound => "nothing found",
            Self::LookInto => "look into",
            Self::Dead => "dead",
            Self::DoNotUse => "do not use",
            Self::Stop => "stop",
        }
    }

    /// A number to sort by, the worst the highest.
    fn rank(self) -> f64 {
        match self {
            Self::NothingFound => 0.0,
            Self::LookInto => 1.0,
            Self::Dead => 2.0,
            Self::DoNotUse => 3.0,
            Self::Stop => 4.0,
        }
    }
}

/// What the trip of a ground-fault device said at an outlet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GroundFault {
    /// It went dead when the device was tried.
    Trips,
    /// It stayed live.
    DoesNotTrip,
    /// No device, or not tried.
    NotTold,
}

/// State of an outlet and the reasons for it.
///
/// The worst of its wiring pattern, its ground-fault device and its drop under load.
///
/// # Errors
/// As for [`receptacle_pattern`].
pub fn outlet(
    voltages: [Voltage; 3],
    loaded: Option<Voltage>,
    ground_fault: GroundFault,
) -> Result<(OutletState, Vec<String>, Option<Ratio>), Problem> {
    let [hot_neutral, hot_ground, neutral_ground] = voltages;
    let pattern = receptacle_pattern(hot_neutral, hot_ground, neutral_ground)?.pattern;
    let mut reasons = Vec::new();
    let mut state = match pattern {
        "correct" => OutletState::NothingFound,
        "open hot" => OutletState::Dead,
        "over voltage" => OutletState::Stop,
        _ => OutletState::DoNotUse,
    };
    if state != OutletState::NothingFound {
        reasons.push(pattern.to_owned());
    }
    if ground_fault == GroundFault::DoesNotTrip {
        state = state.max(OutletState::DoNotUse);
        reasons.push("ground-fault device does not trip".to_owned());
    }
    let drop = loaded
        .filter(|_| hot_neutral.base() > 0.0)
        .map(|loaded| (hot_neutral - loaded) / hot_neutral);
    if let Some(share) = drop.map(|drop| drop.get::<percent>())
        && share > MUCH
    {
        state = state.max(OutletState::LookInto);
        reasons.push("much drop under load".to_owned());
    }
    Ok((state, reasons, drop))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "mains.outlet",
    summary: "State of one outlet of a survey, by all that was read there; the worst have the highest rank.",
    inputs: &[
        Input::quantity("hot_neutral", Kind::Voltage, "voltage from the hot to the neutral slot")
            .accepting(Accepts::AtLeast("0 V")),
        Input::quantity("hot_ground", Kind::Voltage, "voltage from the hot slot to ground")
            .accepting(Accepts::AtLeast("0 V")),
        Input::quantity("neutral_ground", Kind::Voltage, "voltage from the neutral slot to ground")
            .accepting(Accepts::AtLeast("0 V")),
        Input::quantity(
            "loaded",
            Kind::Voltage,
            "hot to neutral with a load of 8 A or more plugged in",
        )
        .accepting(Accepts::AtLeast("0 V"))
        .optional(),
        Input::word(
            "ground_fault",
            &["trips", "does not trip", "not protected", "not tried"],
            "what this outlet did when its ground-fault device was tried; not tried if left out",
        )
        .optional(),
    ],
    result: Gives::words("state", "nothing found, look into, dead, do not use, or stop"),
    parts: &[
        Gives::quantity("rank", "", "0 nothing found to 4 stop: the worst the highest"),
        Gives::words("reasons", "why; empty where nothing was found"),
        Gives::quantity("drop", "%", "under load; only with a loaded voltage"),
    ],
    valid: "voltages below 60 V or above 80 V at a 120 V receptacle",
    sources: &[
        Source {
            document: "a tester maker's answers on its three-lamp tester",
            section: "legend of the lamps and what it cannot detect",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "NFPA 70 (2023)",
            section: "215.2, informational note: 5 % with the feeder; notes are not enforceable (90.5)",
            confirmed: Confirmed::Read,
        },
        Source { document: "order of the states", section: "", confirmed: Confirmed::OwnChoice },
    ],
    example: &[
        ("hot_neutral", "118.2 V"),
        ("hot_ground", "118.3 V"),
        ("neutral_ground", "0.2 V"),
        ("loaded", "110.3 V"),
        ("ground_fault", "trips"),
    ],
    compute: |inputs| {
        let ground_fault = match inputs.optional_words("ground_fault") {
            Some("trips") => GroundFault::Trips,
            Some("does not trip") => GroundFault::DoesNotTrip,
            _ => GroundFault::NotTold,
        };
        let voltages =
            [inputs.get("hot_neutral")?, inputs.get("hot_ground")?, inputs.get("neutral_ground")?];
        let loaded: Option<Voltage> = inputs.optional("loaded")?;
        let (state, reasons, drop) = outlet(voltages, loaded, ground_fault)?;
        let mut outcome = Outcome::new(Output::words(state.words()))
            .part("rank", state.rank())
            .part("reasons", Output::Texts(reasons));
        if let Some(drop) = drop {
            outcome = outcome.part("drop", drop);
        }
        Ok(outcome.note(
            "\"nothing found\" is no proof of a safe ground: three voltages cannot tell a bootleg ground, an \
             exchanged neutral and ground, or a ground of high resistance",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check_part, part_of, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "mains.outlet";

    fn pairs<'a>(
        voltages: [&'a str; 3],
        loaded: &'a str,
        ground_fault: &'a str,
    ) -> Vec<(&'static str, &'a str)> {
        ["hot_neutral", "hot_ground", "neutral_ground", "loaded", "ground_fault"]
            .into_iter()
            .zip([voltages[0], voltages[1], voltages[2], loaded, ground_fault])
            .filter(|(_, text)| !text.is_empty())
            .collect()
    }

    /// The pattern's legend decides first; the ranks are this project's own order.
    #[test]
    fn the_worst_of_what_was_read_decides() {
        for (voltages, loaded, ground_fault, state, rank) in [
            (["120 V", "120 V", "0.3 V"], "", "", "nothing found", 0.0),
            (["120 V", "120 V", "0.3 V"], "116 V", "trips", "nothing found", 0.0),
            (["120 V", "120 V", "0.3 V"], "111 V", "trips", "look into", 1.0),
            (["0 V", "0 V", "0 V"], "", "", "dead", 2.0),
            (["120 V", "0.3 V", "120 V"], "", "not protected", "do not use", 3.0),
            (["120 V", "120 V", "0.3 V"], "", "does not trip", "do not use", 3.0),
            (["240 V", "120 V", "120 V"], "", "does not trip", "stop", 4.0),
        ] {
            let pairs = pairs(voltages, loaded, ground_fault);
            let outcome = call(NAME, &pairs).unwrap();
            assert_eq!(outcome.result, Output::words(state), "{pairs:?}");
            check_part(NAME, &pairs, "rank", rank, "", 1e-12);
        }
    }

    #[test]
    fn reasons_and_drop_are_given_beside_the_state() {
        let bad = pairs(["120 V", "2 V", "1 V"], "108 V", "does not trip");
        let outcome = call(NAME, &bad).unwrap();
        let Output::Texts(reasons) = part_of(&outcome, "reasons") else { panic!("no list") };
        assert_eq!(
            *reasons,
            ["open ground", "ground-fault device does not trip", "much drop under load"]
        );
        check_part(NAME, &bad, "drop", 10.0, "%", 1e-9);
        assert!(outcome.notes[0].contains("no proof of a safe ground"));
    }

    #[test]
    fn a_voltage_that_is_neither_on_nor_off_has_no_state() {
        let floating = pairs(["120 V", "67 V", "55 V"], "", "");
        let problem = refuses(NAME, &floating, "neither on nor off");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
    }
}
