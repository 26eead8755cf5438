//! What all formulas have in common, and the checks that their own tests use.

use quantity::{Value, units};

use crate::{Arguments, Evaluation, Form, Formula, Gives, Output, Problem, Takes, all, find};

/// Calls a formula by name with texts, as the command line does.
pub(crate) fn call(name: &str, pairs: &[(&str, &str)]) -> Result<Evaluation, Problem> {
    let formula = find(name).unwrap_or_else(|| panic!("no formula {name}"));
    Arguments::read(formula, pairs.iter().copied())
        .and_then(|arguments| formula.evaluate(&arguments))
}

fn number(output: &Output, unit: &str) -> f64 {
    let Output::Quantity(value) = output else { panic!("{output:?} is no quantity") };
    in_unit(*value, unit)
}

/// A value's number in a unit.
pub(crate) fn in_unit(value: Value, unit: &str) -> f64 {
    let unit = units::find_of(value.kind, unit)
        .unwrap_or_else(|| panic!("no unit {unit} of {:?}", value.kind));
    value.to_unit(unit).unwrap()
}

fn near(what: &str, got: f64, want: f64, unit: &str, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{what}: {got} {unit}, expected {want} ± {tolerance}");
}

/// The main result, in a unit, is this number within this tolerance (same unit).
pub(crate) fn check(name: &str, pairs: &[(&str, &str)], want: f64, unit: &str, tolerance: f64) {
    let outcome = call(name, pairs).unwrap_or_else(|problem| panic!("{name} {pairs:?}: {problem}"));
    near(&format!("{name} {pairs:?}"), number(&outcome.result, unit), want, unit, tolerance);
}

/// A named part, in a unit, is this number within this tolerance (same unit).
pub(crate) fn check_part(
    name: &str,
    pairs: &[(&str, &str)],
    part: &str,
    want: f64,
    unit: &str,
    tolerance: f64,
) {
    let outcome = call(name, pairs).unwrap_or_else(|problem| panic!("{name} {pairs:?}: {problem}"));
    near(
        &format!("{name} {pairs:?} {part}"),
        number(part_of(&outcome, part), unit),
        want,
        unit,
        tolerance,
    );
}

/// A named part.
pub(crate) fn part_of<'a>(outcome: &'a Evaluation, part: &str) -> &'a Output {
    outcome
        .parts
        .iter()
        .find_map(|(name, output)| (*name == part).then_some(output))
        .unwrap_or_else(|| panic!("no part {part} in {outcome:?}"))
}

/// The call is refused with a sentence that contains these words.
pub(crate) fn refuses(name: &str, pairs: &[(&str, &str)], words: &str) -> Problem {
    match call(name, pairs) {
        Ok(outcome) => panic!("{name} {pairs:?} gave {outcome:?}"),
        Err(problem) => {
            assert!(problem.to_string().contains(words), "{name} {pairs:?}: {problem}");
            problem
        }
    }
}

fn check_output(formula: &Formula, gives: &Gives, output: &Output) {
    let what = format!("{}: {}", formula.name, gives.name);
    match (gives.form, output) {
        (Form::Quantity(unit) | Form::QuantityOrWords(unit), Output::Quantity(value)) => {
            assert!(units::find_of(value.kind, unit).is_some(), "{what} in {unit}: {value:?}");
        }
        (Form::Quantity(unit), Output::Quantities(values)) => {
            for value in values {
                assert!(units::find_of(value.kind, unit).is_some(), "{what} in {unit}: {value:?}");
            }
        }
        (Form::LikeInput(name), Output::Quantity(_)) => {
            assert!(formula.input(name).is_some(), "{what}: no input is called {name}");
        }
        (Form::QuantityOrWords(_), Output::Words(_)) => {}
        (Form::Words, Output::Words(_) | Output::Texts(_) | Output::Truth(_) | Output::Day(_)) => {}
        (form, output) => panic!("{what} is declared {form:?} but gives {output:?}"),
    }
}

#[test]
fn every_formula_is_described_and_its_example_runs() {
    let mut names = std::collections::BTreeSet::new();
    for formula in all() {
        assert!(names.insert(formula.name), "{} is there twice", formula.name);
        assert!(formula.summary.ends_with('.'), "{}: {}", formula.name, formula.summary);
        assert!(!formula.sources.is_empty(), "{} names no source", formula.name);
        for input in formula.inputs {
            assert!(!input.about.is_empty(), "{}: {} is not described", formula.name, input.name);
        }
        let outcome = call(formula.name, formula.example)
            .unwrap_or_else(|problem| panic!("{}: {problem}", formula.name));
        check_output(formula, &formula.result, &outcome.result);
        for (name, output) in &outcome.parts {
            let gives = formula.parts.iter().find(|part| part.name == *name);
            check_output(
                formula,
                gives.unwrap_or_else(|| panic!("{}: part {name} is not described", formula.name)),
                output,
            );
        }
    }
}

#[test]
fn every_required_input_is_missed_by_name() {
    for formula in all() {
        for input in formula.inputs.iter().filter(|input| input.required) {
            let pairs: Vec<_> =
                formula.example.iter().copied().filter(|(name, _)| *name != input.name).collect();
            match call(formula.name, &pairs) {
                Err(Problem::Input { name, .. }) => {
                    assert_eq!(name, input.name, "{}", formula.name);
                }
                other => panic!("{} without {}: {other:?}", formula.name, input.name),
            }
        }
    }
}

#[test]
fn wrong_kinds_and_unknown_names_are_input_errors() {
    for formula in all() {
        let unknown = [("no_such_input", "1")];
        assert!(
            matches!(call(formula.name, &unknown), Err(Problem::Input { .. })),
            "{}",
            formula.name
        );
        for input in formula.inputs {
            let wrong = match input.takes {
                Takes::Text => continue,
                Takes::Quantity(_)
                | Takes::Quantities(_)
                | Takes::AnyQuantity
                | Takes::AnyQuantities
                | Takes::AnyDifference
                | Takes::Word(_)
                | Takes::Date
                | Takes::Instant => "neither",
            };
            let pairs: Vec<_> = formula
                .example
                .iter()
                .map(
                    |(name, text)| {
                        if *name == input.name { (*name, wrong) } else { (*name, *text) }
                    },
                )
                .chain(
                    formula
                        .example
                        .iter()
                        .all(|(name, _)| *name != input.name)
                        .then_some((input.name, wrong)),
                )
                .collect();
            match call(formula.name, &pairs) {
                Err(Problem::Input { name, sentence }) => {
                    assert_eq!(name, input.name, "{}: {sentence}", formula.name);
                }
                other => panic!("{} with {} = {wrong}: {other:?}", formula.name, input.name),
            }
        }
    }
}

/// u(a/b) = sqrt((u_a/b)² + (a·u_b/b²)²) (JCGM 100:2008, 5.1.2).
#[test]
fn uncertainty_is_carried_to_first_order() {
    let outcome =
        call("weights.tongue_percent", &[("tongue", "800 lb ± 10"), ("gross", "7000 lb ± 70")])
            .unwrap();
    let Output::Quantity(value) = outcome.result else { panic!("no quantity") };
    let (own, other) = (10.0_f64 / 7_000.0, 800.0 * 70.0 / 49.0e6_f64);
    let want = (own * own + other * other).sqrt();
    near("u", value.standard_uncertainty().unwrap(), want, "ratio", want * 1e-3);
}

/// One scale weighs both: its gain error cancels in the share.
#[test]
fn a_shared_gain_error_cancels_in_a_ratio() {
    use crate::Argument;
    use quantity::{Kind, Uncertainty};
    let formula = find("weights.tongue_percent").unwrap();
    let weighed = |base: f64| {
        let mut value = Value::new(Kind::Mass, base);
        value.uncertainty = Some(Uncertainty { independent: 0.0, shared: base * 0.01, source: 3 });
        Argument::Quantity(value)
    };
    let arguments =
        Arguments::default().with("tongue", weighed(400.0)).with("gross", weighed(3_500.0));
    let Output::Quantity(value) = formula.evaluate(&arguments).unwrap().result else {
        panic!("no quantity")
    };
    assert!(value.standard_uncertainty().unwrap() < 1e-6, "{value:?}");
}
