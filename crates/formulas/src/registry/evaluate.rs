//! Calling a formula by name, with its uncertainty carried through.

use std::collections::BTreeMap;

use quantity::{Uncertainty, Value};

use super::inputs::Bounds;
use super::{Argument, Arguments, Formula, Input, Inputs, Outcome, Output, Problem, Simulation};

/// What a call gave: the outcome, with uncertainties on every quantity where inputs carried any.
pub type Evaluation = Outcome;

/// How a call's uncertainty came about.
#[derive(Clone, Debug, PartialEq)]
pub enum Propagation {
    /// No input carries an uncertainty.
    Nothing,
    /// To first order: what each uncertain input does to the numbers of the outcome.
    FirstOrder(Vec<Share>),
    /// By simulation.
    Simulated {
        /// How many times the formula was computed.
        trials: usize,
        /// What the draws begin with; the same seed gives the same draws.
        seed: u64,
        /// What the trials gave.
        simulation: Simulation,
    },
    /// It could not be told, and a note of the outcome says why.
    Untold,
}

/// One uncertain input, with the slope of every number of the outcome along it.
#[derive(Clone, Debug, PartialEq)]
pub struct Share {
    /// The input's name.
    pub input: &'static str,
    /// Which of a list; none for a single value.
    pub index: Option<usize>,
    /// Its uncertainty, SI base units.
    pub uncertainty: Uncertainty,
    /// Sensitivities, SI base units, in the order of [`Outcome::number_of`].
    pub slopes: Vec<f64>,
}

/// Where one uncertain number stands among the arguments.
pub(super) struct Place {
    /// Which of the formula's inputs.
    pub(super) at: usize,
    pub(super) name: &'static str,
    pub(super) index: Option<usize>,
    /// The value itself.
    pub(super) value: Value,
    pub(super) uncertainty: Uncertainty,
}

impl Place {
    /// Moves the value among the arguments away from where it is by an offset; gives it as moved.
    pub(super) fn set(&self, arguments: &mut Arguments, offset: f64) -> Value {
        let moved = Value { base: self.value.base + offset, ..self.value };
        match (arguments.by_name.get_mut(self.name), self.index) {
            (Some(Argument::Quantity(value)), None) => *value = moved,
            (Some(Argument::Quantities(values)), Some(index)) => {
                if let Some(value) = values.get_mut(index) {
                    *value = moved;
                }
            }
            _ => {}
        }
        moved
    }
}

impl Formula {
    /// The input with this name.
    #[must_use]
    pub fn input(&self, name: &str) -> Option<&Input> {
        self.inputs.iter().find(|input| input.name == name)
    }

    /// Computes the result, its parts and their uncertainties.
    ///
    /// Uncertainty is carried to first order (JCGM 100:2008, eq. 10 and 13) with sensitivities by
    /// central differences over one standard uncertainty; readings that share a source are summed
    /// before they are squared. A side that the formula refuses is replaced by a one-sided difference.
    /// Formulas that are not smooth are simulated instead: [`Formula::is_simulated`].
    ///
    /// # Errors
    /// An input error, or inputs outside the formula's range.
    pub fn evaluate(&self, arguments: &Arguments) -> Result<Evaluation, Problem> {
        self.evaluate_with_propagation(arguments).map(|(outcome, _)| outcome)
    }

    /// The same, with how the uncertainty came about.
    ///
    /// # Errors
    /// An input error, or inputs outside the formula's range.
    pub fn evaluate_with_propagation(
        &self,
        arguments: &Arguments,
    ) -> Result<(Evaluation, Propagation), Problem> {
        let bounds = Bounds::of(self, arguments);
        let mut outcome = self.compute_once(arguments, &bounds)?;
        outcome.notes.splice(0..0, arguments.notes.iter().cloned());
        let places = uncertain_places(self, arguments);
        if places.is_empty() {
            return Ok((outcome, Propagation::Nothing));
        }
        if self.is_simulated() {
            return self.evaluate_by_simulation(arguments, outcome);
        }
        let numbers = numbers_of(&outcome);
        let mut independent = vec![0.0; numbers.len()];
        let mut shared: BTreeMap<u32, Vec<f64>> = BTreeMap::new();
        let mut shares = Vec::with_capacity(places.len());
        let mut moved = arguments.clone();
        for place in places {
            let Some(slopes) = self.sensitivities(&mut moved, &bounds, &place, &numbers) else {
                outcome.notes.push(format!(
                    "no uncertainty is stated: the formula has no answer beside this value of {}",
                    place.name
                ));
                return Ok((outcome, Propagation::Untold));
            };
            let sums =
                shared.entry(place.uncertainty.source).or_insert_with(|| vec![0.0; numbers.len()]);
            for (at, slope) in slopes.iter().enumerate() {
                let own = slope * place.uncertainty.independent;
                independent[at] += own * own;
                sums[at] += slope * place.uncertainty.shared;
            }
            let Place { name, index, uncertainty, .. } = place;
            shares.push(Share { input: name, index, uncertainty, slopes });
        }
        let mut at = 0;
        each_number(&mut outcome, |value| {
            let common: f64 = shared.values().map(|sums| sums[at] * sums[at]).sum();
            *value = value.with_uncertainty((independent[at] + common).sqrt());
            at += 1;
        });
        Ok((outcome, Propagation::FirstOrder(shares)))
    }

    pub(super) fn compute_once(
        &self,
        arguments: &Arguments,
        bounds: &Bounds,
    ) -> Result<Outcome, Problem> {
        self.compute_checked(&Inputs::check(self, arguments, bounds)?)
    }

    /// The outcome of checked inputs, if its numbers are finite.
    pub(super) fn compute_checked(&self, inputs: &Inputs<'_>) -> Result<Outcome, Problem> {
        let outcome = (self.compute)(inputs)?;
        if all_numbers(&outcome).all(f64::is_finite) {
            Ok(outcome)
        } else {
            Err(Problem::out_of_range("these inputs give no finite number"))
        }
    }

    /// Slope of every number of the outcome along one uncertain input, over one standard uncertainty to either side;
    /// none if it cannot be told. The arguments are moved, and put back.
    fn sensitivities(
        &self,
        arguments: &mut Arguments,
        bounds: &Bounds,
        place: &Place,
        centre: &[f64],
    ) -> Option<Vec<f64>> {
        let step = place.uncertainty.standard();
        let mut at = |offset: f64| {
            let moved = (place.at, place.set(arguments, offset));
            let inputs = Inputs::check_moved(self, arguments, bounds, [moved]).ok()?;
            let numbers = numbers_of(&self.compute_checked(&inputs).ok()?);
            (numbers.len() == centre.len()).then_some(numbers)
        };
        let (high, low) = (at(step), at(-step));
        place.set(arguments, 0.0);
        let (high, low, width) = match (high, low) {
            (Some(high), Some(low)) => (high, low, 2.0 * step),
            (Some(high), None) => (high, centre.to_vec(), step),
            (None, Some(low)) => (centre.to_vec(), low, step),
            (None, None) => return None,
        };
        Some(high.iter().zip(&low).map(|(high, low)| (high - low) / width).collect())
    }
}

/// Every uncertain number among the arguments, in the order of their names.
pub(super) fn uncertain_places(formula: &Formula, arguments: &Arguments) -> Vec<Place> {
    let mut places = Vec::new();
    for (name, argument) in &arguments.by_name {
        let Some(at) = formula.inputs.iter().position(|input| input.name == *name) else {
            continue;
        };
        let mut push = |index, value: &Value| {
            if let Some(uncertainty) = value.uncertainty.filter(|it| it.standard() > 0.0) {
                places.push(Place { at, name, index, value: *value, uncertainty });
            }
        };
        match argument {
            Argument::Quantity(value) => push(None, value),
            Argument::Quantities(values) => {
                for (index, value) in values.iter().enumerate() {
                    push(Some(index), value);
                }
            }
            Argument::Word(_) | Argument::Date(_) | Argument::Instant(_) | Argument::Text(_) => {}
        }
    }
    places
}

/// The numbers of an outcome, those of the main result first.
fn all_numbers(outcome: &Outcome) -> impl Iterator<Item = f64> {
    let outputs =
        std::iter::once(&outcome.result).chain(outcome.parts.iter().map(|(_, part)| part));
    let values = outputs.flat_map(|output| match output {
        Output::Quantity(value) => std::slice::from_ref(value),
        Output::Quantities(values) => values,
        Output::Words(_) | Output::Texts(_) | Output::Truth(_) | Output::Day(_) => &[],
    });
    values.map(|value| value.base)
}

pub(super) fn numbers_of(outcome: &Outcome) -> Vec<f64> {
    all_numbers(outcome).collect()
}

pub(super) fn each_number(outcome: &mut Outcome, mut change: impl FnMut(&mut Value)) {
    let parts = outcome.parts.iter_mut().map(|(_, part)| part);
    for output in std::iter::once(&mut outcome.result).chain(parts) {
        match output {
            Output::Quantity(value) => change(value),
            Output::Quantities(values) => values.iter_mut().for_each(&mut change),
            Output::Words(_) | Output::Texts(_) | Output::Truth(_) | Output::Day(_) => {}
        }
    }
}
