//! The search for a good order, counted in replays: no clock, so the same answer everywhere.

mod anneal;
mod coarse;
mod dice;
mod first;
mod moves;

use anneal::Annealing;
use coarse::Coarse;

use crate::compact::{Compact, Item};
use crate::preference::{Score, Weights};

/// Temperatures, in half minutes.
const HOT: f64 = 3.0;
const WARM: f64 = 1.0;
const COLD: f64 = 0.05;

/// Replays for each pair of acts that let a search cool slowly enough.
const ENOUGH: u32 = 20;
/// More searches than this from the start are no gain over slower ones; of few acts many are done quickly.
const MOST_ROUNDS: u32 = 8;
const MOST_ROUNDS_OF_FEW: u32 = 40;
const FEW: u32 = 20;

/// How much is searched, and from which seed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// Orders replayed in all.
    pub decodes: u32,
    /// The seed: another one tries other orders.
    pub seed: u64,
}

impl Default for Budget {
    fn default() -> Self {
        Self { decodes: 200_000, seed: 1 }
    }
}

/// The best order found, with its score. From an order to start with it is mended; without one the search
/// begins anew several times, as often as the budget allows each of them to cool slowly.
pub(crate) fn search(
    problem: &Compact,
    weights: Weights,
    budget: Budget,
    start: Option<Vec<Item>>,
) -> (Vec<Item>, Score) {
    if let Some(order) = start {
        return cooled(problem, weights, order, budget, WARM);
    }
    if budget.decodes == 0 {
        return cooled(problem, weights, first::first_order(problem), budget, WARM);
    }
    let Some(coarse) = Coarse::new(problem) else {
        return begun_anew(problem, weights, budget);
    };
    let most = Budget { decodes: budget.decodes / 10 * 7, ..budget };
    let (order, _) = begun_anew(&coarse.problem, weights, most);
    let rest = Budget { decodes: budget.decodes - most.decodes, ..budget };
    cooled(problem, weights, coarse.expand(&order), rest, WARM)
}

/// The best of several searches from the same greedy order, each hot at first.
fn begun_anew(problem: &Compact, weights: Weights, budget: Budget) -> (Vec<Item>, Score) {
    let acts = u32::try_from(problem.acts.len().max(1)).unwrap_or(u32::MAX);
    let enough = acts.saturating_mul(acts).saturating_mul(ENOUGH);
    let most = if acts < FEW { MOST_ROUNDS_OF_FEW } else { MOST_ROUNDS };
    let rounds = (budget.decodes / enough).clamp(1, most);
    let round = |number: u32| {
        let seed =
            budget.seed.wrapping_mul(u64::from(MOST_ROUNDS_OF_FEW)).wrapping_add(u64::from(number));
        let share = Budget { decodes: budget.decodes / rounds, seed };
        cooled(problem, weights, first::first_order(problem), share, HOT)
    };
    let mut best = round(0);
    for number in 1..rounds {
        let other = round(number);
        if other.1.cost < best.1.cost {
            best = other;
        }
    }
    best
}

/// One search that cools from a temperature.
fn cooled(
    problem: &Compact,
    weights: Weights,
    order: Vec<Item>,
    budget: Budget,
    from: f64,
) -> (Vec<Item>, Score) {
    let mut annealing = Annealing::new(problem, weights, order, budget.seed);
    annealing.cool(budget.decodes, from, COLD);
    (annealing.best, annealing.best_score)
}
