//! Whether 95 % intervals hold the truth 95 times of a hundred, by first order and by simulation.

use quantity::Kind;

use super::NOT_SMOOTH;
use crate::registry::random::Normal;
use crate::tests::{call, part_of};
use crate::{Argument, Arguments, Confirmed, Formula, Gives, Input, Outcome, Output, Source, find};

const CASES: u32 = 10_000;
const SOURCES: &[Source] =
    &[Source { document: "a test", section: "", confirmed: Confirmed::Derived }];

static INPUTS: &[Input] =
    &[Input::quantity("a", Kind::Number, "a"), Input::quantity("b", Kind::Number, "b")];

const fn invented(
    name: &'static str,
    compute: fn(&crate::Inputs<'_>) -> Result<Outcome, crate::Problem>,
) -> Formula {
    Formula {
        name,
        summary: "An invented formula.",
        inputs: INPUTS,
        result: Gives::quantity("y", "", "y"),
        parts: &[],
        valid: "",
        sources: SOURCES,
        example: &[],
        compute,
    }
}

static LINEAR: Formula = invented("linear", |inputs| {
    let (a, b): (f64, f64) = (inputs.get("a")?, inputs.get("b")?);
    Ok(Outcome::new(3.0 * a - 2.0 * b + 1.0))
});
static CURVED: Formula = invented("curved", |inputs| {
    let (a, b): (f64, f64) = (inputs.get("a")?, inputs.get("b")?);
    Ok(Outcome::new(libm::exp(a + b)))
});

/// Values measured with an error, as arguments that know their uncertainty.
fn measured(truth: [f64; 2], standard: [f64; 2], errors: &mut Normal) -> Arguments {
    let mut arguments = Arguments::default();
    for ((name, truth), standard) in ["a", "b"].into_iter().zip(truth).zip(standard) {
        let value = quantity::Value::new(Kind::Number, truth + standard * errors.draw())
            .with_uncertainty(standard);
        arguments = arguments.with(name, Argument::Quantity(value));
    }
    arguments
}

fn truth_of(formula: &Formula, truth: [f64; 2]) -> f64 {
    let exact = measured(truth, [0.0, 0.0], &mut Normal::seeded(0));
    let Output::Quantity(value) = formula.evaluate(&exact).unwrap().result else {
        panic!("no number")
    };
    value.base
}

/// Share of 10,000 measurements whose interval of value ± 2u holds the truth.
fn first_order_coverage(formula: &Formula, truth: [f64; 2], standard: [f64; 2]) -> f64 {
    let want = truth_of(formula, truth);
    let mut errors = Normal::seeded(11);
    let held = (0..CASES)
        .filter(|_| {
            let outcome = formula.evaluate(&measured(truth, standard, &mut errors)).unwrap();
            let Output::Quantity(value) = outcome.result else { panic!("no number") };
            (value.base - want).abs() <= 2.0 * value.standard_uncertainty().unwrap()
        })
        .count();
    f64::from(u32::try_from(held).unwrap()) / f64::from(CASES)
}

/// The same for the 95 % interval of a simulation.
fn simulated_coverage(formula: &Formula, truth: [f64; 2], standard: [f64; 2]) -> f64 {
    let want = truth_of(formula, truth);
    let mut errors = Normal::seeded(13);
    let held = (0..CASES)
        .filter(|case| {
            let arguments = measured(truth, standard, &mut errors);
            // One less than a multiple of forty: the ranks then leave exactly 5 % outside.
            let simulation = formula.simulate(&arguments, 39, u64::from(*case)).unwrap().unwrap();
            let number = simulation.numbers[0];
            (number.low..=number.high).contains(&want)
        })
        .count();
    f64::from(u32::try_from(held).unwrap()) / f64::from(CASES)
}

fn within(what: &str, coverage: f64) {
    assert!((0.94..=0.96).contains(&coverage), "{what}: {coverage}");
}

#[test]
fn first_order_intervals_hold_the_truth_95_times_of_a_hundred() {
    within("linear", first_order_coverage(&LINEAR, [5.0, 2.0], [0.3, 0.4]));
    within("curved", first_order_coverage(&CURVED, [0.5, 0.5], [0.1, 0.1]));
}

#[test]
fn simulated_intervals_hold_the_truth_95_times_of_a_hundred() {
    within("linear", simulated_coverage(&LINEAR, [5.0, 2.0], [0.3, 0.4]));
    within("curved", simulated_coverage(&CURVED, [0.5, 0.5], [0.1, 0.1]));
}

/// With e^x and an uncertainty of 0.4, value ± 2u misses on one side; the simulation does not.
#[test]
fn a_strongly_curved_formula_needs_the_simulation() {
    let (truth, standard) = ([0.5, 0.5], [0.3, 0.3]);
    let first_order = first_order_coverage(&CURVED, truth, standard);
    assert!(first_order < 0.94, "{first_order}");
    within("simulated", simulated_coverage(&CURVED, truth, standard));
}

/// Share of 10,000 measured drops whose impedance holds 0.35 Ω within 2u: a formula of the trade, by first
/// order, with each reading's own error.
#[test]
fn a_trade_formula_holds_the_truth_95_times_of_a_hundred() {
    let formula = find("mains.drop").unwrap();
    let mut errors = Normal::seeded(17);
    let mut held = 0_u32;
    for _ in 0..CASES {
        let mut arguments = Arguments::default();
        for (name, kind, truth, standard) in [
            ("open", Kind::Voltage, 121.5, 0.05),
            ("loaded", Kind::Voltage, 117.3, 0.05),
            ("current", Kind::Current, 12.0, 0.12),
        ] {
            let value = quantity::Value::new(kind, truth + standard * errors.draw())
                .with_uncertainty(standard);
            arguments = arguments.with(name, Argument::Quantity(value));
        }
        let outcome = formula.evaluate(&arguments).unwrap();
        let Output::Quantity(value) = part_of(&outcome, "impedance") else { panic!("no number") };
        held += u32::from((value.base - 0.35).abs() <= 2.0 * value.standard_uncertainty().unwrap());
    }
    within("impedance", f64::from(held) / f64::from(CASES));
}

/// On a linear formula the two ways agree within the trials' own scatter, shared parts included.
#[test]
fn simulation_and_first_order_agree_where_the_formula_is_linear() {
    let value = |base: f64, independent: f64, shared: f64| {
        let mut value = quantity::Value::new(Kind::Number, base);
        value.uncertainty = Some(quantity::Uncertainty { independent, shared, source: 4 });
        Argument::Quantity(value)
    };
    let arguments =
        Arguments::default().with("a", value(5.0, 0.1, 0.4)).with("b", value(2.0, 0.2, 0.5));
    let Output::Quantity(first) = LINEAR.evaluate(&arguments).unwrap().result else {
        panic!("no number")
    };
    // 3·0.4 − 2·0.5 is left of what they share.
    let want = (0.3_f64 * 0.3 + 0.4 * 0.4 + 0.2 * 0.2).sqrt();
    assert!((first.standard_uncertainty().unwrap() - want).abs() < 1e-9);
    let simulation = LINEAR.simulate(&arguments, 20_000, 3).unwrap().unwrap();
    assert!((simulation.numbers[0].standard / want - 1.0).abs() < 0.02, "{simulation:?}");
}

/// At 180° the arc cosine is vertical: first order would state an uncertainty of nothing or of half a turn.
#[test]
fn legs_in_line_get_their_uncertainty_by_simulation() {
    let outcome = call(
        "mains.leg_angle",
        &[("first", "120 V ± 0.5"), ("second", "120 V ± 0.5"), ("across", "240 V ± 0.5")],
    )
    .unwrap();
    let Output::Quantity(value) = &outcome.result else { panic!("no number") };
    let degrees = value.standard_uncertainty().unwrap().to_degrees();
    assert!((1.0..8.0).contains(&degrees), "{degrees}");
    assert!(outcome.notes.iter().any(|note| note.contains("by simulation")), "{outcome:?}");
    let again = call(
        "mains.leg_angle",
        &[("first", "120 V ± 0.5"), ("second", "120 V ± 0.5"), ("across", "240 V ± 0.5")],
    )
    .unwrap();
    assert_eq!(outcome, again);
}

#[test]
fn every_simulated_formula_exists() {
    for name in NOT_SMOOTH {
        assert!(find(name).is_some_and(Formula::is_simulated), "{name}");
    }
}
