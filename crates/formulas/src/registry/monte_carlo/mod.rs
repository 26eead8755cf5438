//! Uncertainty by simulation, where first order is not good enough.
//!
//! JCGM 101:2008: the inputs are drawn from their distributions many times, the formula is computed each
//! time, and the results are looked at. The seed is fixed, so the same call gives the same answer.

use std::collections::BTreeMap;

use quantity::{units, write_number};

use super::evaluate::{each_number, numbers_of, uncertain_places};
use super::inputs::Bounds;
use super::random::Normal;
use super::{Arguments, Evaluation, Form, Formula, Inputs, Problem, Propagation};

/// Formulas whose result has corners, steps or a vertical slope within the reach of their inputs'
/// uncertainty, so that a sensitivity says nothing.
pub(crate) const NOT_SMOOTH: &[&str] = &[
    // The arc cosine is vertical where two legs are in line, which is where a good supply lies.
    "mains.leg_angle",
    // The higher of two voltages has a corner where they are equal.
    "mains.open_neutral",
    // Steps of the range, rounding to whole amperes, the heavier of two legs.
    "mains.dwelling_load",
    // The largest of several differences has a corner wherever two of them are equal.
    "support.level_steps",
    "support.sag",
];

/// Trials of a call by name: the standard uncertainty is good to about 1 %.
const TRIALS: usize = 3_999;
const SEED: u64 = 0x6a63_676d_3130_3100;

/// What a simulation says of one number, in SI base units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Simulated {
    /// Standard deviation of the trials: the standard uncertainty (JCGM 101:2008, 7.6).
    pub standard: f64,
    /// Lower end of the probabilistically symmetric 95 % interval (7.7).
    pub low: f64,
    /// Its upper end.
    pub high: f64,
}

/// What a simulation says of all numbers of an outcome, in the order of result and parts.
#[derive(Clone, Debug, PartialEq)]
pub struct Simulation {
    /// One for each number.
    pub numbers: Vec<Simulated>,
    /// Trials that the formula refused.
    pub refused: usize,
}

impl Formula {
    /// Whether a call of this formula by name carries its uncertainty by simulation.
    #[must_use]
    pub fn is_simulated(&self) -> bool {
        NOT_SMOOTH.contains(&self.name)
    }

    /// Draws the uncertain inputs from normal distributions and computes the formula each time. Readings
    /// that share a source are moved together by what they share.
    ///
    /// With `trials` one less than a multiple of forty, the interval holds a further draw with a
    /// probability of exactly 95 %. None if fewer than half the trials have an answer.
    ///
    /// # Errors
    /// An input error, or inputs outside the formula's range, at the values themselves.
    pub fn simulate(
        &self,
        arguments: &Arguments,
        trials: usize,
        seed: u64,
    ) -> Result<Option<Simulation>, Problem> {
        let bounds = Bounds::of(self, arguments);
        let count = numbers_of(&self.compute_once(arguments, &bounds)?).len();
        let places = uncertain_places(self, arguments);
        let mut generator = Normal::seeded(seed);
        let mut moved = arguments.clone();
        let mut values = Vec::with_capacity(places.len());
        let mut drawn: Vec<Vec<f64>> = vec![Vec::with_capacity(trials); count];
        for _ in 0..trials {
            let mut common: BTreeMap<u32, f64> = BTreeMap::new();
            values.clear();
            for place in &places {
                let own = generator.draw() * place.uncertainty.independent;
                let shared = if place.uncertainty.shared > 0.0 {
                    let source = place.uncertainty.source;
                    *common.entry(source).or_insert_with(|| generator.draw())
                        * place.uncertainty.shared
                } else {
                    0.0
                };
                values.push((place.at, place.set(&mut moved, own + shared)));
            }
            let inputs = Inputs::check_moved(self, &moved, &bounds, values.iter().copied());
            let Ok(outcome) = inputs.and_then(|inputs| self.compute_checked(&inputs)) else {
                continue;
            };
            let numbers = numbers_of(&outcome);
            if numbers.len() == count {
                for (list, number) in drawn.iter_mut().zip(numbers) {
                    list.push(number);
                }
            }
        }
        let answered = drawn.first().map_or(trials, Vec::len);
        if answered * 2 < trials || answered < 2 {
            return Ok(None);
        }
        Ok(Some(Simulation {
            numbers: drawn.into_iter().map(summary).collect(),
            refused: trials - answered,
        }))
    }

    /// The outcome with the uncertainties of a simulation.
    pub(super) fn evaluate_by_simulation(
        &self,
        arguments: &Arguments,
        mut outcome: Evaluation,
    ) -> Result<(Evaluation, Propagation), Problem> {
        let Some(simulation) = self.simulate(arguments, TRIALS, SEED)? else {
            outcome.notes.push(
                "no uncertainty is stated: beside these values the formula mostly has no answer"
                    .to_owned(),
            );
            return Ok((outcome, Propagation::Untold));
        };
        let mut numbers = simulation.numbers.iter();
        each_number(&mut outcome, |value| {
            if let Some(simulated) = numbers.next() {
                *value = value.with_uncertainty(simulated.standard);
            }
        });
        outcome.notes.extend(self.interval_note(&outcome, &simulation));
        if simulation.refused > 0 {
            outcome.notes.push(format!(
                "in {} of {TRIALS} trials of the simulation the formula had no answer",
                simulation.refused
            ));
        }
        Ok((outcome, Propagation::Simulated { trials: TRIALS, seed: SEED, simulation }))
    }

    /// The interval of the main result in its unit: it need not lie evenly about the value.
    fn interval_note(&self, outcome: &Evaluation, simulation: &Simulation) -> Option<String> {
        let super::Output::Quantity(value) = &outcome.result else { return None };
        let Form::Quantity(spelling) = self.result.form else { return None };
        let unit = units::find_of(value.kind, spelling)?;
        let simulated = simulation.numbers.first()?;
        let written = |base: f64| {
            let steps = (unit.from_base(base) * 1_000.0).round() / 1_000.0;
            write_number(steps)
        };
        Some(format!(
            "by simulation of {TRIALS} trials (JCGM 101:2008): 95 % of them lie from {} {spelling} to {} \
             {spelling}",
            written(simulated.low),
            written(simulated.high)
        ))
    }
}

#[allow(clippy::cast_precision_loss, reason = "counts of trials are far below 2^53")]
fn summary(mut numbers: Vec<f64>) -> Simulated {
    numbers.sort_by(f64::total_cmp);
    let count = numbers.len();
    let mean = numbers.iter().sum::<f64>() / count as f64;
    let squares: f64 = numbers.iter().map(|number| (number - mean) * (number - mean)).sum();
    // The ranks that leave a fortieth of count + 1 on either side.
    let rank = ((count + 1) / 40).max(1);
    Simulated {
        standard: (squares / (count - 1) as f64).sqrt(),
        low: numbers[rank - 1],
        high: numbers[count - rank],
    }
}

#[cfg(test)]
mod coverage;
#[cfg(test)]
mod tests;
