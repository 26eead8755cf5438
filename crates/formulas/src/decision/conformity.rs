//! Probability that a true value meets its limits, and the verdicts that follow from it.

use quantity::uom::si::ratio::ratio;
use quantity::{Ratio, Value};

use crate::{Confirmed, Formula, Gives, Input, Inputs, Outcome, Output, Problem, Source};

/// Coverage factor of the guard band: the expanded uncertainty of about 95 %.
const COVERAGE_FACTOR: f64 = 2.0;

/// What a value, its uncertainty and its limits say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conformity {
    /// Probability that the true value meets the limits.
    pub probability: Ratio,
    /// Whether the value alone meets them (simple acceptance, a value on a limit included).
    pub meets: bool,
    /// Whether the value meets them with the expanded uncertainty on either side; none where the
    /// uncertainty straddles a limit.
    pub guarded: Option<bool>,
    /// The expanded uncertainty is wider than the limits allow: no value could be proved to conform.
    pub instrument_unfit: bool,
}

impl Conformity {
    /// Pass, conditional pass, conditional fail or fail (ILAC-G8:09/2019, guard band w = U).
    #[must_use]
    pub fn four_way(self) -> &'static str {
        match (self.meets, self.guarded) {
            (true, Some(_)) => "pass",
            (true, None) => "conditional pass",
            (false, None) => "conditional fail",
            (false, Some(_)) => "fail",
        }
    }
}

/// Conformity of a value with standard uncertainty `u`, all in one unit.
///
/// `p = Φ((T_U − y)/u) − Φ((T_L − y)/u)` (JCGM 106:2012, 7, flat prior); an absent limit lies at
/// infinity. The guard band is the expanded uncertainty, `w = U = 2u`. Without uncertainty the
/// probability is a step.
#[must_use]
pub fn conformity(value: f64, u: f64, lower: Option<f64>, upper: Option<f64>) -> Conformity {
    let (least, most) = (lower.unwrap_or(f64::NEG_INFINITY), upper.unwrap_or(f64::INFINITY));
    let meets = value >= least && value <= most;
    if u <= 0.0 {
        let share = if meets { 1.0 } else { 0.0 };
        return Conformity {
            probability: Ratio::new::<ratio>(share),
            meets,
            guarded: Some(meets),
            instrument_unfit: false,
        };
    }
    let expanded = COVERAGE_FACTOR * u;
    // A value that lies on an acceptance limit is inside; a hair for the rounding of sums.
    let hair = 1e-12 * (value.abs() + expanded);
    let inside = value - expanded >= least - hair && value + expanded <= most + hair;
    let outside = value + expanded < least - hair || value - expanded > most + hair;
    Conformity {
        probability: Ratio::new::<ratio>(normal_between((least - value) / u, (most - value) / u)),
        meets,
        guarded: (inside || outside).then_some(inside),
        instrument_unfit: 2.0 * expanded > (most - least) + hair,
    }
}

/// Probability of a standard normal variable between two values, without cancellation in the far tail.
fn normal_between(from: f64, to: f64) -> f64 {
    let below = |z: f64| 0.5 * libm::erfc(-z / std::f64::consts::SQRT_2);
    if from > 0.0 { below(-from) - below(-to) } else { below(to) - below(from) }
}

/// The four numbers in one unit; input errors where their kinds differ.
fn numbers(inputs: &Inputs<'_>) -> Result<(f64, f64, Option<f64>, Option<f64>), Problem> {
    let value = inputs.value("value")?;
    if value.uncertainty.is_some() {
        return Err(Problem::input(
            "value",
            "carries an uncertainty of its own; accepted: a bare value, with its standard uncertainty as u",
        ));
    }
    let u = inputs.value("u")?;
    let step = super::difference_kind(value.kind);
    if u.kind != step {
        return Err(super::another_kind("u", u.kind, step));
    }
    if u.base < 0.0 {
        return Err(Problem::input("u", "is below zero; accepted: zero or more"));
    }
    let bound = |name: &str| match inputs.optional_value(name) {
        Some(bound) if bound.kind != value.kind => {
            Err(super::another_kind(name, bound.kind, value.kind))
        }
        bound => Ok(bound.map(|bound: Value| bound.base)),
    };
    let (lower, upper) = (bound("lower")?, bound("upper")?);
    if lower.is_none() && upper.is_none() {
        return Err(Problem::input("lower", "is missing, and so is upper; accepted: one or both"));
    }
    if let (Some(least), Some(most)) = (lower, upper)
        && least > most
    {
        return Err(Problem::input("upper", "is below lower; accepted: lower or more"));
    }
    Ok((value.base, u.base, lower, upper))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "decision.conformity",
    summary: "Probability that the true value meets its limits, and the verdicts by two rules.",
    inputs: &[
        Input::any_quantity("value", "the value to judge, of any kind"),
        Input::any_difference("u", "its standard uncertainty, of the same kind; 0 if it has none"),
        Input::any_quantity("lower", "lower limit; leave out if there is none").optional(),
        Input::any_quantity("upper", "upper limit; leave out if there is none").optional(),
    ],
    result: Gives::quantity("probability", "ratio", "that the true value meets the limits"),
    parts: &[
        Gives::words("verdict", "conforms or does not conform, by the value alone"),
        Gives::words(
            "guarded_verdict",
            "conforms, does not conform or undecided, guarded by the expanded uncertainty",
        ),
        Gives::words("four_way", "pass, conditional pass, conditional fail or fail"),
    ],
    valid: "a normally distributed uncertainty",
    sources: &[
        Source {
            document: "JCGM 106:2012",
            section: "7, probability of conformity with a flat prior",
            confirmed: Confirmed::FromMemory,
        },
        Source {
            document: "ILAC-G8:09/2019",
            section: "4.2.1 simple acceptance, 4.2.2 guard band w = U, and the non-binary statement",
            confirmed: Confirmed::Read,
        },
    ],
    example: &[("value", "118.4 V"), ("u", "0.595 V"), ("lower", "114 V"), ("upper", "126 V")],
    compute: |inputs| {
        let (value, u, lower, upper) = numbers(inputs)?;
        let found = conformity(value, u, lower, upper);
        let word = |meets: bool| if meets { "conforms" } else { "does not conform" };
        let mut outcome = Outcome::new(found.probability)
            .part("verdict", Output::words(word(found.meets)))
            .part("guarded_verdict", Output::words(found.guarded.map_or("undecided", word)))
            .part("four_way", Output::words(found.four_way()))
            .note(
                "verdict: the value alone decides, one on a limit conforms; guarded_verdict: guard band of \
                 the expanded uncertainty, k = 2; agree on the rule before measuring",
            );
        if found.instrument_unfit {
            outcome = outcome.note(
                "the expanded uncertainty is wider than the limits allow: this instrument can prove \
                 conformity of no value",
            );
        }
        if u <= 0.0 {
            outcome = outcome
                .note("without an uncertainty the probability is a step, and the rules agree");
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use super::conformity;
    use crate::table::Table;
    use crate::tests::{call, check, part_of, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "decision.conformity";

    /// Computed with SciPy 1.17.1 `stats.norm`; the two-sided rows also with the outside check
    /// `specific_risk` of suncal 1.7.1 (0.158655 and 0.945201 are the complements).
    #[test]
    fn probability_verdict_and_guarded_verdict_agree_with_worked_cases() {
        for (value, u, lower, upper, probability, four_way) in [
            ("118.4 V", "0.595 V", "114 V", "126 V", 1.0, "pass"),
            ("115.19 V", "0.595 V", "114 V", "126 V", 0.977_250, "pass"),
            ("114.6 V", "0.595 V", "114 V", "126 V", 0.843_370, "conditional pass"),
            ("113.4 V", "0.595 V", "114 V", "126 V", 0.156_630, "conditional fail"),
            ("112.5 V", "0.595 V", "114 V", "126 V", 0.005_851, "fail"),
            ("38.9 degF", "0.5 ddegF", "", "40 degF", 0.986_097, "pass"),
            ("39.5 degF", "0.5 degF", "", "40 degF", 0.841_345, "conditional pass"),
            ("40 degF", "0.5 degF", "", "40 degF", 0.5, "conditional pass"),
            ("40.9 degF", "0.5 degF", "", "40 degF", 0.035_930, "conditional fail"),
            ("41.2 degF", "0.5 degF", "", "40 degF", 0.008_198, "fail"),
            ("114.5 V", "0.5 V", "114 V", "126 V", 0.841_345, "conditional pass"),
            ("125.8 V", "0.5 V", "114 V", "126 V", 0.655_422, "conditional pass"),
            ("113.2 V", "0.5 V", "114 V", "126 V", 0.054_799, "conditional fail"),
        ] {
            let pairs: Vec<_> = [("value", value), ("u", u), ("lower", lower), ("upper", upper)]
                .into_iter()
                .filter(|(_, text)| !text.is_empty())
                .collect();
            check(NAME, &pairs, probability, "ratio", 5.1e-7);
            let outcome = call(NAME, &pairs).unwrap();
            assert_eq!(*part_of(&outcome, "four_way"), Output::words(four_way), "{value}");
            let guarded = match four_way {
                "pass" => "conforms",
                "fail" => "does not conform",
                _ => "undecided",
            };
            assert_eq!(*part_of(&outcome, "guarded_verdict"), Output::words(guarded), "{value}");
            let simple = if four_way.ends_with("pass") { "conforms" } else { "does not conform" };
            assert_eq!(*part_of(&outcome, "verdict"), Output::words(simple), "{value}");
        }
    }

    /// JCGM 106:2012, worked examples: a Zener diode's breakdown voltage and a speed law.
    #[test]
    fn the_worked_examples_of_jcgm_106_are_reproduced() {
        check(
            NAME,
            &[("value", "-5.47 V"), ("u", "0.05 V"), ("upper", "-5.40 V")],
            0.919_24,
            "ratio",
            5e-6,
        );
        let speeding = [("value", "107 km/h"), ("u", "2.14 km/h"), ("upper", "100 km/h")];
        check(NAME, &speeding, 0.000_536, "ratio", 1e-6);
    }

    /// With a guard band of r·U a value at the acceptance limit is wrongly accepted this often: Φ(−2r).
    #[test]
    fn the_guard_band_sets_the_risk_of_wrong_acceptance() {
        for (r, risk) in [
            (0.0, 0.5),
            (0.5, 0.158_655),
            (0.83, 0.048_457),
            (1.0, 0.022_750),
            (1.25, 0.006_21),
            (1.5, 0.001_35),
        ] {
            let found = conformity(10.0 - 2.0 * r * 0.25, 0.25, None, Some(10.0));
            assert!((1.0 - found.probability.value - risk).abs() < 5e-6, "{r}");
        }
    }

    #[test]
    fn without_uncertainty_the_probability_is_a_step() {
        for (value, probability) in [("40 degF", 1.0), ("40.1 degF", 0.0)] {
            let pairs = [("value", value), ("u", "0 degF"), ("upper", "40 degF")];
            check(NAME, &pairs, probability, "ratio", 1e-15);
        }
    }

    #[test]
    fn a_wide_uncertainty_cannot_prove_conformity() {
        let outcome = call(
            NAME,
            &[("value", "120 V"), ("u", "3.1 V"), ("lower", "114 V"), ("upper", "126 V")],
        )
        .unwrap();
        assert!(outcome.notes.iter().any(|note| note.contains("no value")), "{outcome:?}");
    }

    #[test]
    fn kinds_that_differ_are_input_errors() {
        for (pairs, name) in [
            (vec![("value", "120 V"), ("u", "1 A"), ("upper", "126 V")], "u"),
            (vec![("value", "120 V"), ("u", "1 V"), ("upper", "126 A")], "upper"),
            (
                vec![("value", "120 V"), ("u", "1 V"), ("lower", "20 %"), ("upper", "126 V")],
                "lower",
            ),
            (vec![("value", "120 V"), ("u", "-1 V"), ("upper", "126 V")], "u"),
            (vec![("value", "120 V"), ("u", "1 V")], "lower"),
            (vec![("value", "120 V"), ("u", "1 V"), ("lower", "9 V"), ("upper", "8 V")], "upper"),
            (vec![("value", "120 V ± 1"), ("u", "1 V"), ("upper", "126 V")], "value"),
            (vec![("value", "120 volts or so"), ("u", "1 V"), ("upper", "126 V")], "value"),
        ] {
            match call(NAME, &pairs) {
                Err(Problem::Input { name: named, .. }) => assert_eq!(named, name, "{pairs:?}"),
                other => panic!("{pairs:?}: {other:?}"),
            }
        }
        refuses(NAME, &[("value", "3"), ("u", "1 V"), ("upper", "4")], "is a voltage");
    }

    /// Computed with SciPy 1.17.1, `stats.norm`: 500 values with one limit or two.
    #[test]
    fn five_hundred_probabilities_agree_with_the_library() {
        let table = Table::of(include_str!("../../../../reference/conformity/probabilities.csv"));
        assert_eq!(table.rows().count(), 500);
        for row in table.rows() {
            let volts: Vec<(&str, String)> = ["value", "u", "lower", "upper"]
                .into_iter()
                .filter(|name| !row.text(name).is_empty())
                .map(|name| (name, format!("{} V", row.text(name))))
                .collect();
            let pairs: Vec<(&str, &str)> =
                volts.iter().map(|(name, text)| (*name, text.as_str())).collect();
            check(NAME, &pairs, row.number("probability"), "ratio", 1e-9);
        }
    }
}
