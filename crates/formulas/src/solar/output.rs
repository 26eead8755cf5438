//! What a panel gives, held against what it should: produces, weak, none, or not judgeable.

use quantity::uom::si::{angle::degree, ratio::ratio};
use quantity::{Angle, Kind, Power, Quantity, Ratio};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Inputs, Outcome, Output, Problem, Source};

/// Below this share of what is expected a panel is weak.
const WEAK: f64 = 0.50;
/// Below this share it gives nothing to speak of.
const NOTHING: f64 = 0.02;
/// How far a clear-sky model may be off on a cloudless day.
const MODEL: f64 = 0.15;
/// How far an expectation from a measured irradiance may be off.
const METER: f64 = 0.07;
/// The lowest sun by which a panel is judged.
const LOWEST_SUN: f64 = 15.0; // degrees

/// How a panel does, with the band of its share of the expected power.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PanelOutput {
    /// In words.
    pub judged: &'static str,
    /// Measured by expected.
    pub share: Ratio,
    /// The same, were the expectation too low.
    pub lowest: Ratio,
    /// The same, were the expectation too high.
    pub highest: Ratio,
}

/// Holds a measured power against an expected one that may be off by a share of itself.
///
/// # Errors
/// [`Problem::OutOfRange`] if nothing is expected.
pub fn panel_output(
    measured: Power,
    expected: Power,
    uncertainty: Ratio,
) -> Result<PanelOutput, Problem> {
    if expected.base() <= 0.0 {
        return Err(Problem::out_of_range("not judgeable: no power is expected in this light"));
    }
    let share = measured / expected;
    let off = uncertainty.get::<ratio>();
    let (lowest, highest) = (share / (1.0 + off), share / (1.0 - off));
    let judged = if share.base() < NOTHING {
        "none"
    } else if highest.base() < WEAK {
        "weak"
    } else if lowest.base() >= WEAK {
        "produces"
    } else {
        "weak or fair, not told"
    };
    Ok(PanelOutput { judged, share, lowest, highest })
}

/// What makes a panel's power say nothing of the panel.
fn judgeable(inputs: &Inputs<'_>, measured_sun: bool) -> Result<(), Problem> {
    let refuse = |why: &str| Err(Problem::out_of_range(format!("not judgeable: {why}")));
    match inputs.words("controller")? {
        "float" | "battery full" => {
            return refuse(
                "the controller throttles the panel, the battery being full; load the battery and read again, \
                 or read the short-circuit current",
            );
        }
        "unknown" => {
            return refuse(
                "whether the controller throttles the panel is not known; read its display or the battery's \
                 voltage, load the battery and read again",
            );
        }
        _ => {}
    }
    match inputs.words("shade")? {
        "some" => {
            return refuse("a shaded corner can take away most of a panel's power; clear it first");
        }
        "unknown" => return refuse("whether the panel lies in shade was not seen"),
        _ => {}
    }
    let elevation: Angle = inputs.get("elevation")?;
    if elevation.get::<degree>() < LOWEST_SUN {
        return refuse("the sun stands lower than 15 deg");
    }
    match inputs.words("sky")? {
        "clear" => Ok(()),
        _ if measured_sun => Ok(()),
        _ => refuse(
            "under clouds the model of a clear sky says nothing; measure the irradiance on the panel, or come \
             back in sun",
        ),
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "solar.output",
    summary: "Measured power of a panel held against the expected: produces, weak, none, or not judgeable.",
    inputs: &[
        Input::quantity("measured", Kind::Power, "power at the controller")
            .accepting(Accepts::AtLeast("0 W")),
        Input::quantity("expected", Kind::Power, "by solar.expected_power")
            .accepting(Accepts::AtLeast("0 W")),
        Input::quantity("elevation", Kind::Angle, "of the sun above the horizon")
            .accepting(Accepts::Between("-90 deg", "90 deg")),
        Input::word("sky", &["clear", "thin cloud", "cloudy"], "round the sun, at the reading"),
        Input::word("shade", &["none", "some", "unknown"], "on any part of the panel"),
        Input::word(
            "controller",
            &["charging", "float", "battery full", "unknown"],
            "whether it takes all the panel can give",
        ),
        Input::word(
            "irradiance_by",
            &["model", "meter"],
            "where the irradiance behind the expected power is from; model if left out",
        )
        .optional(),
    ],
    result: Gives::words("judged", "produces, weak, none, or weak or fair, not told"),
    parts: &[
        Gives::quantity("share", "%", "measured by expected"),
        Gives::quantity(
            "lowest",
            "%",
            "the same, were the expectation too low by the day's uncertainty",
        ),
        Gives::quantity("highest", "%", "the same, were it too high"),
    ],
    valid: "sun of 15 deg or more on an unshaded panel, a controller that takes all it gives, and a clear sky or \
            a measured irradiance",
    sources: &[
        Source {
            document: "weak below 50 % of the expected, no judgement below 15 deg of sun",
            section: "",
            confirmed: Confirmed::OwnChoice,
        },
        Source {
            document: "a clear-sky model is good to 10 % to 15 % on a cloudless day",
            section: "15 % taken; 7 % with a meter",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[
        ("measured", "118 W"),
        ("expected", "150.798 W"),
        ("elevation", "52 deg"),
        ("sky", "clear"),
        ("shade", "none"),
        ("controller", "charging"),
    ],
    compute: |inputs| {
        let meter = inputs.optional_words("irradiance_by") == Some("meter");
        judgeable(inputs, meter)?;
        let uncertainty = Ratio::from_base(if meter { METER } else { MODEL });
        let found = panel_output(inputs.get("measured")?, inputs.get("expected")?, uncertainty)?;
        Ok(Outcome::new(Output::words(found.judged))
            .part("share", found.share)
            .part("lowest", found.lowest)
            .part("highest", found.highest)
            .note(
                "it tells a dead or half-dead panel from a working one, not a good one from a fair one; dirt, \
                 heat and wires take their part of every panel's power",
            ))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check_part, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "solar.output";

    fn pairs<'a>(changes: &[(&'static str, &'a str)]) -> Vec<(&'static str, &'a str)> {
        let mut pairs = vec![
            ("measured", "118 W"),
            ("expected", "150.798 W"),
            ("elevation", "52 deg"),
            ("sky", "clear"),
            ("shade", "none"),
            ("controller", "charging"),
        ];
        for change in changes {
            pairs.retain(|(name, _)| *name != change.0);
            pairs.push(*change);
        }
        pairs
    }

    /// 118 W of 150.798 W expected (200 W panel at 820 W/m² and 48 °C) is a share of 0.7825.
    #[test]
    fn the_share_of_the_expected_power_is_judged_with_the_days_uncertainty() {
        check_part(NAME, &pairs(&[]), "share", 78.25, "%", 5e-3);
        check_part(NAME, &pairs(&[]), "lowest", 78.25 / 1.15, "%", 5e-3);
        for (measured, judged) in [
            ("118 W", "produces"),
            ("80 W", "weak or fair, not told"),
            ("40 W", "weak"),
            ("2 W", "none"),
            ("0 W", "none"),
        ] {
            let outcome = call(NAME, &pairs(&[("measured", measured)])).unwrap();
            assert_eq!(outcome.result, Output::words(judged), "{measured}");
        }
        let metered = pairs(&[("measured", "82 W"), ("irradiance_by", "meter")]);
        assert_eq!(call(NAME, &metered).unwrap().result, Output::words("produces"));
    }

    #[test]
    fn cloud_low_sun_shade_and_a_full_battery_are_not_judgeable() {
        for (name, text, words) in [
            ("sky", "cloudy", "under clouds"),
            ("sky", "thin cloud", "under clouds"),
            ("elevation", "14.9 deg", "lower than 15 deg"),
            ("shade", "some", "a shaded corner"),
            ("shade", "unknown", "was not seen"),
            ("controller", "float", "throttles"),
            ("controller", "battery full", "throttles"),
            ("controller", "unknown", "is not known"),
            ("expected", "0 W", "no power is expected"),
        ] {
            let problem = refuses(NAME, &pairs(&[(name, text)]), "not judgeable");
            assert!(problem.to_string().contains(words), "{problem}");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
        let measured = pairs(&[("sky", "cloudy"), ("irradiance_by", "meter")]);
        call(NAME, &measured).unwrap();
    }
}
