//! Simulated annealing over priority orders: worse orders are taken too, ever more seldom.
//!
//! Kirkpatrick, Gelatt and Vecchi, "Optimization by Simulated Annealing", Science 220 (1983).

use super::dice::Dice;
use super::moves::Moves;
use crate::compact::{Compact, Item};
use crate::decode::{Changed, Decoder};
use crate::preference::{HALF_MINUTE, Score, Weights};

/// A search from one order over its neighbours.
pub(super) struct Annealing<'a> {
    decoder: Decoder<'a>,
    moves: Moves,
    dice: Dice,
    current: Vec<Item>,
    pub(super) current_cost: i64,
    tried: Vec<Item>,
    pub(super) best: Vec<Item>,
    pub(super) best_score: Score,
}

impl<'a> Annealing<'a> {
    pub(super) fn new(problem: &'a Compact, weights: Weights, start: Vec<Item>, seed: u64) -> Self {
        let mut decoder = Decoder::new(problem, weights);
        let mut current = start;
        let score = decoder.accept(&mut current, Changed::ALL);
        Self {
            decoder,
            moves: Moves::new(problem),
            dice: Dice::new(seed),
            current_cost: score.cost,
            tried: Vec::new(),
            best: current.clone(),
            best_score: score,
            current,
        }
    }

    /// Tries so many neighbours at a temperature: an order that is worse by the temperature's half
    /// minutes is taken once in e = 2.718… times.
    pub(super) fn step(&mut self, decodes: u32, temperature: f64) {
        let scale = temperature * HALF_MINUTE;
        for _ in 0..decodes {
            self.tried.clear();
            self.tried.extend_from_slice(&self.current);
            let mut changed = self.moves.alter(&mut self.dice, &mut self.tried);
            if self.dice.one_in(4) {
                changed = changed.and(self.moves.alter(&mut self.dice, &mut self.tried));
            }
            let enough = self.current_cost.saturating_add(self.dice.allowance(scale));
            let score = self.decoder.score_changed(&self.tried, changed, enough);
            if score.cost > enough {
                continue;
            }
            self.current_cost = score.cost;
            std::mem::swap(&mut self.current, &mut self.tried);
            let accepted = self.decoder.accept(&mut self.current, changed);
            debug_assert_eq!(accepted, score, "a replay cut short comes to the same");
            if score.cost < self.best_score.cost {
                self.best_score = score;
                self.best.clear();
                self.best.extend_from_slice(&self.current);
            }
        }
    }

    /// Cools from one temperature to another over so many neighbours, in equal steps of their ratio.
    pub(super) fn cool(&mut self, decodes: u32, from: f64, to: f64) {
        const STEPS: u32 = 100;
        let ratio = to / from;
        for step in 0..STEPS {
            let share = f64::from(step) / f64::from(STEPS - 1);
            let temperature = from * libm::pow(ratio, share);
            let upto = |step: u32| u64::from(decodes) * u64::from(step) / u64::from(STEPS);
            let now = u32::try_from(upto(step + 1) - upto(step)).unwrap_or(u32::MAX);
            self.step(now, temperature);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::preference::Preference;
    use crate::problem::{Progress, Window, read_problem};
    use crate::search::first::first_order;

    /// From checkpoints, and cut short where it goes on as before, a replay comes to what one from start to
    /// end comes to.
    #[test]
    fn a_replay_of_the_difference_comes_to_the_same_as_a_whole_one() {
        let visits = [
            (include_str!("../../tests/visits/sixty_acts_a.json"), false),
            (include_str!("../../tests/visits/sixty_acts_b.json"), true),
            (include_str!("../../tests/visits/hundred_fifty_acts_b.json"), true),
        ];
        let weights = Preference::FinishSoonest.weights();
        for (text, in_two_windows) in visits {
            let mut visit = read_problem(text).unwrap();
            for act in visit.acts.iter_mut().filter(|act| in_two_windows && !act.windows.is_empty())
            {
                act.windows = vec![Window { from: 20, to: 120 }, Window { from: 180, to: 900 }];
            }
            let problem = Compact::new(&visit, &Progress::default());
            let mut dice = Dice::new(5);
            let mut moves = Moves::new(&problem);
            let mut decoder = Decoder::new(&problem, weights);
            let mut order = first_order(&problem);
            let mut cost = decoder.accept(&mut order, Changed::ALL).cost;
            for _ in 0..4_000 {
                let mut tried = order.clone();
                let changed = moves.alter(&mut dice, &mut tried);
                let whole =
                    Decoder::new(&problem, weights).accept(&mut tried.clone(), Changed::ALL);
                assert_eq!(decoder.score_changed(&tried, changed, i64::MAX), whole);
                if whole.cost <= cost + 2_000 {
                    assert_eq!(decoder.accept(&mut tried, changed), whole);
                    (order, cost) = (tried, whole.cost);
                }
            }
        }
    }
}
