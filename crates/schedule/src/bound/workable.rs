//! What may be done in the search without a clock, and what follows at once from being somewhere.

use super::classes::Classes;
use crate::compact::NeedMask;

/// The classes of a problem, and where they are done.
pub(super) struct Workable {
    pub(super) classes: Classes,
    /// The classes at each place.
    pub(super) at_place: Vec<Vec<usize>>,
}

impl Workable {
    pub(super) fn new(classes: Classes, places: usize) -> Self {
        let mut at_place = vec![Vec::new(); places];
        for (number, class) in classes.classes.iter().enumerate() {
            at_place[usize::from(class.place)].push(number);
        }
        Self { classes, at_place }
    }

    fn runs(&self, wait: usize, done: u128) -> bool {
        let wait = &self.classes.waits[wait];
        done >> wait.opens & 1 == 1 && done >> wait.closes & 1 == 0
    }

    /// Whether a running wait keeps a state from having a value.
    pub(super) fn breaks_a_wait(&self, state: usize, to: u8, done: u128) -> bool {
        (0..self.classes.waits.len()).any(|wait| {
            let mut keeps = self.classes.waits[wait].keeps.iter();
            let broken =
                keeps.any(|&(kept, values)| usize::from(kept) == state && values >> to & 1 == 0);
            broken && self.runs(wait, done)
        })
    }

    /// Whether a class may be done now.
    fn may(&self, number: usize, values: &[u8], done: u128) -> bool {
        let class = &self.classes.classes[number];
        if done >> number & 1 == 1 || class.before & !done != 0 || !met(&class.needs, values) {
            return false;
        }
        let waits = &self.classes.waits;
        let claims = class.opens.iter().fold(0, |all, &wait| all | waits[wait].claims);
        let disturbs = (0..waits.len()).any(|running| {
            let wait = &waits[running];
            wait.closes != number
                && (wait.quiet & class.stirs != 0 || wait.claims & claims != 0)
                && self.runs(running, done)
        });
        !disturbs && class.opens.iter().all(|&wait| met(&waits[wait].keeps, values))
    }

    /// Whether a class may be done that restricts what comes after it.
    pub(super) fn may_begin(&self, number: usize, values: &[u8], done: u128) -> bool {
        self.classes.classes[number].is_choice && self.may(number, values, done)
    }

    /// Whether any such class at a place may be done.
    pub(super) fn may_begin_any(&self, place: u8, values: &[u8], done: u128) -> bool {
        let mut here = self.at_place[usize::from(place)].iter();
        here.any(|&number| self.may_begin(number, values, done))
    }

    /// What is done after everything at a place that restricts nothing, and every wait that can be both
    /// begun and ended there: without a clock that takes nothing and restricts nothing afterwards.
    pub(super) fn closure(&self, place: u8, values: &[u8], done: u128) -> u128 {
        let mut done = self.plain_closure(place, values, done);
        loop {
            let before = done;
            for &number in &self.at_place[usize::from(place)] {
                if self.may_begin(number, values, done) {
                    let then = self.plain_closure(place, values, done | 1 << number);
                    let opens = &self.classes.classes[number].opens;
                    if !opens.iter().any(|&wait| self.runs(wait, then)) {
                        done = then;
                    }
                }
            }
            if done == before {
                return done;
            }
        }
    }

    /// What is done after everything at a place that restricts nothing.
    fn plain_closure(&self, place: u8, values: &[u8], mut done: u128) -> u128 {
        loop {
            let before = done;
            for &number in &self.at_place[usize::from(place)] {
                if !self.classes.classes[number].is_choice && self.may(number, values, done) {
                    done |= 1 << number;
                }
            }
            if done == before {
                return done;
            }
        }
    }
}

/// Whether needs are met.
pub(super) fn met(needs: &[NeedMask], values: &[u8]) -> bool {
    needs.iter().all(|&(state, wanted)| wanted >> values[usize::from(state)] & 1 == 1)
}
