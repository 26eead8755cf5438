//! Checkpoints along the accepted order.

use super::facts::Facts;
use super::standing::{Leeway, Standing};
use crate::Ticks;

/// Checkpoints along an order, the first at its start.
pub(super) struct Marks {
    marks: Vec<Mark>,
    /// Those of a new order from where it differs, while it is being accepted; where they go.
    fresh: Vec<Mark>,
    kept: usize,
    /// Memory to be used again.
    spare: Vec<Mark>,
}

/// A checkpoint.
pub(super) struct Mark {
    /// Its index in the order.
    at: usize,
    standing: Standing,
    /// By how much the clock may be off from here to the next checkpoint, and from here to the end.
    to_next: Leeway,
    to_end: Leeway,
}

impl Marks {
    pub(super) fn new(start: &Standing) -> Self {
        let (standing, any) = (start.clone(), Leeway::ANY);
        let first = Mark { at: 0, standing, to_next: any, to_end: any };
        Self { marks: vec![first], fresh: Vec::new(), kept: 1, spare: Vec::new() }
    }

    /// Takes up the last checkpoint at or before an index; gives its index and its number.
    pub(super) fn resume(&self, index: usize, at: &mut Standing) -> (usize, usize) {
        let number = self.marks.partition_point(|mark| mark.at <= index) - 1;
        let mark = &self.marks[number];
        at.copy_from(&mark.standing);
        (mark.at, number)
    }

    /// The checkpoint at an index, if there is one; `from` is the number of one before it, and is moved on.
    pub(super) fn at(&self, from: &mut usize, index: usize) -> Option<&Mark> {
        while self.marks.get(*from).is_some_and(|mark| mark.at < index) {
            *from += 1;
        }
        self.marks.get(*from).filter(|mark| mark.at == index)
    }

    pub(super) fn standing(&self, number: usize) -> &Standing {
        &self.marks[number].standing
    }

    /// Begins to accept an order that is the same as the accepted one up to this checkpoint.
    pub(super) fn begin_anew(&mut self, number: usize) {
        self.kept = number + 1;
    }

    /// Adds a checkpoint of it; `leeway` is what there was since the one before it.
    pub(super) fn push(&mut self, index: usize, standing: &Standing, leeway: Leeway) {
        self.last().to_next = leeway;
        let any = Leeway::ANY;
        let mark = match self.spare.pop() {
            Some(mut mark) => {
                mark.standing.copy_from(standing);
                Mark { at: index, to_next: any, to_end: any, ..mark }
            }
            None => Mark { at: index, standing: standing.clone(), to_next: any, to_end: any },
        };
        self.fresh.push(mark);
    }

    /// The order is replayed to its end; `leeway` is what there was since the last checkpoint.
    pub(super) fn close(&mut self, leeway: Leeway) {
        self.last().to_next = leeway;
        self.spare.extend(self.marks.drain(self.kept..));
        self.marks.append(&mut self.fresh);
        self.sum_up();
    }

    /// From an index on the order goes on as the accepted one from a checkpoint, but for the clock.
    pub(super) fn go_on_from(
        &mut self,
        number: usize,
        index: usize,
        now: &Standing,
        leeway: Leeway,
        ended: &mut Standing,
        facts: &Facts,
    ) {
        if number < self.kept {
            // Nothing is different.
            return;
        }
        if self.fresh.last().is_some_and(|mark| mark.at == index) {
            self.spare.extend(self.fresh.pop());
        } else {
            self.last().to_next = leeway;
        }
        let (before, after) = self.marks.split_at_mut(number + 1);
        let mark = &mut before[number];
        let later = now.free[0] - mark.standing.free[0];
        for other in after {
            other.at = other.at - mark.at + index;
            other.standing.shift(&mark.standing, now, facts);
            other.to_next = other.to_next.after(later);
        }
        ended.shift(&mark.standing, now, facts);
        mark.standing.copy_from(now);
        mark.to_next = mark.to_next.after(later);
        mark.at = index;
        self.spare.extend(self.marks.splice(self.kept..number, self.fresh.drain(..)));
        self.sum_up();
    }

    /// The checkpoint before what comes next of the order that is being accepted.
    fn last(&mut self) -> &mut Mark {
        self.fresh.last_mut().unwrap_or(&mut self.marks[self.kept - 1])
    }

    fn sum_up(&mut self) {
        let mut to_end = Leeway::ANY;
        for mark in self.marks.iter_mut().rev() {
            to_end = to_end.and(mark.to_next);
            mark.to_end = to_end;
        }
    }
}

impl Mark {
    /// Whether a replay that stands here after another beginning goes on as the accepted one did, whose
    /// end is given, but for the clock. Then all that depends on the clock is decided alike: acts lie in the
    /// same windows, waits are long enough on arrival, and nobody has to return to one earlier.
    pub(super) fn goes_on_alike(&self, now: &Standing, ended: &Standing) -> bool {
        if !self.standing.is_like(now) {
            return false;
        }
        let later: Ticks = now.free[0] - self.standing.free[0];
        self.to_end.allows(later)
            && now.running.iter().all(|&number| {
                let number = usize::from(number);
                let begun_later = now.waits[number].since - self.standing.waits[number].since;
                ended.waits[number].leeway.allows(begun_later - later)
            })
    }
}
