//! The search for a good order, counted in replays: no clock, so the same answer everywhere.

mod anneal;
mod coarse;
mod dice;
mod first;
mod moves;

use anneal::Annealing;
use coarse::Coarse;

use crate::compact::{Compact, Item};
use crate::decode::Decoder;
use crate::preference::{Score, Weights};

/// Temperatures, in half minutes.
const HOT: f64 = 3.0;
const WARM: f64 = 1.0;
const COLD: f64 = 0.05;

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

/// The best order found, with its score.
pub(crate) fn search(
    problem: &Compact,
    weights: Weights,
    budget: Budget,
    start: Option<Vec<Item>>,
) -> (Vec<Item>, Score) {
    let fresh = start.is_none();
    let mut order = start.unwrap_or_else(|| first::first_order(problem));
    let mut left = budget.decodes;
    if left == 0 {
        let score = Decoder::new(problem, weights).score(&order);
        return (order, score);
    }
    let coarse = if fresh { Coarse::new(problem) } else { None };
    if let Some(coarse) = &coarse {
        let share = left / 10 * 7;
        let start = first::first_order(&coarse.problem);
        let mut annealing = Annealing::new(&coarse.problem, weights, start, budget.seed);
        annealing.cool(share, HOT, COLD);
        order = coarse.expand(&annealing.best);
        left -= share;
    }
    let from = if coarse.is_some() || !fresh { WARM } else { HOT };
    let mut annealing = Annealing::new(problem, weights, order, budget.seed ^ 0x5EED);
    annealing.cool(left, from, COLD);
    (annealing.best, annealing.best_score)
}
