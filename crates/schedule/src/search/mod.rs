//! The search for a good order, counted in replays: no clock, so the same answer everywhere.

mod anneal;
mod coarse;
mod dice;
mod first;
mod moves;
mod tempering;

use anneal::Annealing;
use coarse::Coarse;
use tempering::tempered;

use crate::compact::{Compact, Item};
use crate::preference::{Score, Weights};

/// Temperatures, in half minutes.
const HOT: f64 = 3.0;
const WARM: f64 = 1.0;
const COLD: f64 = 0.05;

/// Replays for each pair of acts that let a search cool slowly enough, and that let a tempering come to its best.
const ENOUGH_TO_COOL: u32 = 20;
const ENOUGH_TO_TEMPER: u32 = 40;
/// Of fewer acts than this many searches that cool are done quickly.
const FEW: u32 = 20;
/// More searches than this from the start are no gain over longer ones.
const MOST_ROUNDS_OF_FEW: u32 = 40;
const MOST_ROUNDS: u32 = 8;

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

/// The best order found, with its score. From an order to start with it is mended. Without one most of the
/// budget goes into the coarser problem, if there is one, and the rest into mending what was found for that.
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
    let rest = Budget { decodes: budget.decodes / 8, ..budget };
    let most = Budget { decodes: budget.decodes - rest.decodes, ..budget };
    let (order, _) = begun_anew(&coarse.problem, weights, most);
    cooled(problem, weights, coarse.expand(weights, &order), rest, WARM)
}

/// The best order of several searches, each from the same greedy one: what a search has not found after a while
/// it seldom finds later. They temper, unless there are few acts or the budget is small.
fn begun_anew(problem: &Compact, weights: Weights, budget: Budget) -> (Vec<Item>, Score) {
    let acts = u32::try_from(problem.acts.len().max(1)).unwrap_or(u32::MAX);
    let few = acts < FEW;
    let (enough, most) =
        if few { (ENOUGH_TO_COOL, MOST_ROUNDS_OF_FEW) } else { (ENOUGH_TO_TEMPER, MOST_ROUNDS) };
    let rounds = budget.decodes / acts.saturating_mul(acts).saturating_mul(enough);
    let tempers = !few && rounds > 0;
    let rounds = rounds.clamp(1, most);
    let start = first::first_order(problem);
    let round = |number: u32| {
        let seed =
            budget.seed.wrapping_mul(u64::from(MOST_ROUNDS_OF_FEW)).wrapping_add(u64::from(number));
        let share = Budget { decodes: budget.decodes / rounds, seed };
        if tempers {
            tempered(problem, weights, &start, share)
        } else {
            cooled(problem, weights, start.clone(), share, HOT)
        }
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
