//! Whether the 95 % intervals of the trade's own formulas hold the truth: 10,000 simulated measurements of each.

use quantity::{Kind, Value};

use crate::registry::random::Normal;
use crate::{Argument, Arguments, Formula, Output, find};

const CASES: u32 = 10_000;

/// Name, kind, true value and standard uncertainty of an input, SI base units.
type Measured = (&'static str, Kind, f64, f64);

/// Linear: 2,700 lb and 3,500 lb coupled, 3,000 lb and 2,400 lb alone, each to 10 lb.
const WEIGHTS: [Measured; 4] = [
    ("alone_front", Kind::Mass, 1_360.8, 4.5),
    ("alone_rear", Kind::Mass, 1_088.6, 4.5),
    ("coupled_front", Kind::Mass, 1_224.7, 4.5),
    ("coupled_rear", Kind::Mass, 1_587.6, 4.5),
];
/// Curved: air at 77 °F to 1 °F and 55 % to 2 %.
const AIR: [Measured; 2] =
    [("dry_bulb", Kind::Temperature, 298.15, 0.3), ("relative_humidity", Kind::Ratio, 0.55, 0.02)];
/// Curved: propane at 68 °F to 2 °F.
const PROPANE: [Measured; 1] = [("temperature", Kind::Temperature, 293.15, 1.0)];
/// With a corner: 240 V over 1,500 W and 1,100 W, each to 100 W; the legs' voltages are equal three standard
/// uncertainties away.
const LEGS: [Measured; 3] = [
    ("across", Kind::Voltage, 240.0, 1.0),
    ("first_load", Kind::Power, 1_500.0, 100.0),
    ("second_load", Kind::Power, 1_100.0, 100.0),
];

fn arguments(inputs: &[Measured], mut error: impl FnMut(f64) -> f64) -> Arguments {
    inputs.iter().fold(Arguments::default(), |arguments, (name, kind, truth, standard)| {
        let value = Value::new(*kind, truth + error(*standard)).with_uncertainty(*standard);
        arguments.with(name, Argument::Quantity(value))
    })
}

fn result(formula: &Formula, arguments: &Arguments) -> Value {
    match formula.evaluate(arguments).unwrap().result {
        Output::Quantity(value) => value,
        other => panic!("{other:?} is no quantity"),
    }
}

/// The formula, and its result for the true values, which carry no uncertainty.
fn truth(name: &str, inputs: &[Measured]) -> (&'static Formula, f64) {
    let formula = find(name).unwrap();
    let exact: Vec<Measured> = inputs.iter().map(|one| (one.0, one.1, one.2, 0.0)).collect();
    (formula, result(formula, &arguments(&exact, |_| 0.0)).base)
}

/// Of value ± 2u by [`Formula::evaluate`], whichever way it takes.
fn first_order(name: &str, inputs: &[Measured]) -> f64 {
    let (formula, truth) = truth(name, inputs);
    assert!(!formula.is_simulated());
    let mut errors = Normal::seeded(23);
    let held = (0..CASES).filter(|_| {
        let measured = arguments(inputs, |standard| standard * errors.draw());
        let value = result(formula, &measured);
        (value.base - truth).abs() <= 2.0 * value.standard_uncertainty().unwrap()
    });
    f64::from(u32::try_from(held.count()).unwrap()) / f64::from(CASES)
}

/// Of the 95 % interval of a simulation.
fn simulated(name: &str, inputs: &[Measured]) -> f64 {
    let (formula, truth) = truth(name, inputs);
    let mut errors = Normal::seeded(29);
    let held = (0..CASES).filter(|case| {
        let measured = arguments(inputs, |standard| standard * errors.draw());
        // One less than a multiple of forty: the ranks then leave exactly 5 % outside.
        let simulation = formula.simulate(&measured, 39, u64::from(*case)).unwrap().unwrap();
        let number = simulation.numbers[0];
        (number.low..=number.high).contains(&truth)
    });
    f64::from(u32::try_from(held.count()).unwrap()) / f64::from(CASES)
}

fn within(what: &str, coverage: f64) {
    assert!((0.94..=0.96).contains(&coverage), "{what}: {coverage}");
}

#[test]
fn tongue_weights_to_first_order_and_by_simulation_hold_the_truth() {
    within("first order", first_order("weights.tongue", &WEIGHTS));
    within("simulated", simulated("weights.tongue", &WEIGHTS));
}

#[test]
fn dew_points_to_first_order_hold_the_truth() {
    within("first order", first_order("air.state", &AIR));
}

#[test]
fn saturation_pressures_to_first_order_and_by_simulation_hold_the_truth() {
    within("first order", first_order("gas.saturation_pressure", &PROPANE));
    within("simulated", simulated("gas.saturation_pressure", &PROPANE));
}

#[test]
fn the_higher_of_two_legs_by_simulation_holds_the_truth() {
    assert!(find("mains.open_neutral").unwrap().is_simulated());
    within("simulated", simulated("mains.open_neutral", &LEGS));
}
