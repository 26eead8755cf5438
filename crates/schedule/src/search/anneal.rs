//! Simulated annealing over priority orders: worse orders are taken too, ever more seldom.
//!
//! Kirkpatrick, Gelatt and Vecchi, "Optimization by Simulated Annealing", Science 220 (1983).

use super::dice::Dice;
use super::moves::Moves;
use crate::compact::{Compact, Item};
use crate::decode::Decoder;
use crate::preference::{HALF_MINUTE, Score, Weights};

/// A search from one order over its neighbours.
pub(super) struct Annealing<'a> {
    decoder: Decoder<'a>,
    moves: Moves,
    dice: Dice,
    current: Vec<Item>,
    current_cost: i64,
    tried: Vec<Item>,
    pub(super) best: Vec<Item>,
    pub(super) best_score: Score,
}

impl<'a> Annealing<'a> {
    pub(super) fn new(problem: &'a Compact, weights: Weights, start: Vec<Item>, seed: u64) -> Self {
        let mut decoder = Decoder::new(problem, weights);
        let score = decoder.score(&start);
        let mut current = start;
        decoder.accept(&mut current);
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
            let problem = self.decoder.problem;
            let mut same = self.moves.alter(problem, &mut self.dice, &mut self.tried);
            if self.dice.one_in(4) {
                same = same.min(self.moves.alter(problem, &mut self.dice, &mut self.tried));
            }
            let enough = self.current_cost.saturating_add(self.dice.allowance(scale));
            let score = self.decoder.score_changed(&self.tried, same, enough);
            if score.cost > enough {
                continue;
            }
            self.current_cost = score.cost;
            std::mem::swap(&mut self.current, &mut self.tried);
            self.decoder.accept(&mut self.current);
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
