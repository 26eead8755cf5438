//! Parallel tempering: searches at several temperatures at a time, which exchange their orders.
//!
//! What a hot search comes across sinks to the colder ones, and an order that leads nowhere rises and melts. So there
//! is no moment after which all that is left is to polish one order, as there is when a search only cools.
//!
//! Geyer, "Markov chain Monte Carlo maximum likelihood", Computing Science and Statistics 23 (1991); Earl and Deem,
//! "Parallel tempering", Physical Chemistry Chemical Physics 7 (2005).

use super::Budget;
use super::anneal::Annealing;
use super::dice::Dice;
use crate::compact::{Compact, Item};
use crate::preference::{HALF_MINUTE, Score, Weights};

/// The coldest and the hottest temperature, in half minutes; each is so many times the one before.
const COLDEST: f64 = 0.3;
const HOTTEST: f64 = 1.5;
const SEARCHES: u32 = 6;
/// Replays of each search from one exchange to the next.
const STRETCH: u32 = 100;

/// The best order that the searches come across, all from the same one.
pub(super) fn tempered(
    problem: &Compact,
    weights: Weights,
    start: &[Item],
    budget: Budget,
) -> (Vec<Item>, Score) {
    // One seed for each search, and one for the exchanges.
    let seed = |number: u32| {
        budget.seed.wrapping_mul(u64::from(SEARCHES + 1)).wrapping_add(u64::from(number))
    };
    let share = |number: u32| f64::from(number) / f64::from(SEARCHES - 1);
    let temperature = |number: u32| COLDEST * libm::pow(HOTTEST / COLDEST, share(number));
    let temperatures: Vec<f64> = (0..SEARCHES).map(temperature).collect();
    let search = |number: u32| Annealing::new(problem, weights, start.to_vec(), seed(number));
    let mut searches: Vec<Annealing<'_>> = (0..SEARCHES).map(search).collect();
    let mut dice = Dice::new(seed(SEARCHES));
    let mut left = budget.decodes;
    let mut first = 0;
    while left > 0 {
        for (search, &temperature) in searches.iter_mut().zip(&temperatures) {
            let now = STRETCH.min(left);
            search.step(now, temperature);
            left -= now;
        }
        // Each with its neighbour, by turns the hotter and the colder one.
        for (pair, temperatures) in
            searches[first..].chunks_exact_mut(2).zip(temperatures[first..].chunks_exact(2))
        {
            let steepness = 1.0 / temperatures[0] - 1.0 / temperatures[1];
            let worse = pair[1].current_cost.saturating_sub(pair[0].current_cost);
            if worse <= dice.allowance(HALF_MINUTE / steepness) {
                pair.swap(0, 1);
            }
        }
        first = 1 - first;
    }
    let best = searches.into_iter().min_by_key(|search| search.best_score.cost);
    let best = best.expect("there are six searches");
    (best.best, best.best_score)
}
