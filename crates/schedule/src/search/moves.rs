//! Small alterations of a priority order.

use super::dice::Dice;
use crate::compact::{Compact, Item};
use crate::decode::Changed;

/// An item goes at most this far, unless it goes anywhere.
const NEAR: usize = 25;
/// Changes of site states beyond this many in an order are too many.
const MOST_CHANGES: usize = 24;

/// Alters orders of one problem.
pub(super) struct Moves {
    /// Every change of a site state that there is.
    changes: Vec<Item>,
    /// Where each act is, and each change: eight values a state.
    act_places: Vec<u8>,
    change_places: Vec<u8>,
    /// Memory for items that are set aside.
    aside: Vec<Item>,
}

impl Moves {
    pub(super) fn new(problem: &Compact) -> Self {
        let mut changes = Vec::new();
        let mut change_places = vec![problem.start; 8 * problem.states.len()];
        for (state, one) in (0_u8..).zip(&problem.states) {
            for (to, change) in (0_u8..).zip(&one.changes) {
                if let Some(change) = change {
                    changes.push(Item::Change { state, to });
                    change_places[usize::from(state) * 8 + usize::from(to)] = change.place;
                }
            }
        }
        let act_places = problem.acts.iter().map(|act| act.place).collect();
        Self { changes, act_places, change_places, aside: Vec::new() }
    }

    /// Alters an order; says where.
    pub(super) fn alter(&mut self, dice: &mut Dice, order: &mut Vec<Item>) -> Changed {
        if order.len() < 2 {
            return Changed::ALL;
        }
        match dice.below(100) {
            0..10 => self.carry_a_stay(dice, order),
            10..40 => carry_a_run(dice, order),
            40..65 => self.carry_to_its_place(dice, order),
            65..75 => swap_two(dice, order),
            75..80 => turn_a_run_round(dice, order),
            80..85 => self.gather_a_place(dice, order),
            85..93 => self.put_a_change_in(dice, order),
            _ => move_a_change(dice, order),
        }
    }

    /// Puts everything in a stretch of the order that is at one place together.
    fn gather_a_place(&mut self, dice: &mut Dice, order: &mut [Item]) -> Changed {
        let from = dice.below(order.len());
        let to = (from + 10 + dice.below(30)).min(order.len());
        let place = self.place_of(order[from]);
        self.aside.clear();
        let mut filled = from;
        for index in from..to {
            if self.place_of(order[index]) == place {
                order[filled] = order[index];
                filled += 1;
            } else {
                self.aside.push(order[index]);
            }
        }
        order[filled..to].copy_from_slice(&self.aside);
        Changed { from, tail: order.len() - to }
    }

    fn put_a_change_in(&mut self, dice: &mut Dice, order: &mut Vec<Item>) -> Changed {
        let there = order.iter().filter(|item| matches!(item, Item::Change { .. })).count();
        if self.changes.is_empty() || there >= MOST_CHANGES {
            return swap_two(dice, order);
        }
        let change = self.changes[dice.below(self.changes.len())];
        let at = dice.below(order.len() + 1);
        order.insert(at, change);
        Changed { from: at, tail: order.len() - at - 1 }
    }

    /// Carries all that follows each other at one place elsewhere: beside more of that place, which saves walking
    /// there twice, or anywhere near.
    fn carry_a_stay(&self, dice: &mut Dice, order: &mut [Item]) -> Changed {
        let chosen = dice.below(order.len());
        let place = self.place_of(order[chosen]);
        let is_there = |item: &&Item| self.place_of(**item) == place;
        let from = chosen - order[..chosen].iter().rev().take_while(is_there).count();
        let length = order[from..].iter().take_while(is_there).count();
        let rest = order.len() - length;
        if rest == 0 {
            return Changed { from: order.len(), tail: 0 };
        }
        if dice.one_in(2) {
            let without = |index: usize| if index < from { index } else { index + length };
            let start = dice.below(rest);
            let mut others = (start..rest).chain(0..start);
            let other = others.find(|&index| self.place_of(order[without(index)]) == place);
            if let Some(other) = other {
                return carry(order, from, length, other + dice.below(2));
            }
        }
        let by = 1 + dice.below(NEAR);
        let to = if dice.one_in(2) { from.saturating_sub(by) } else { (from + by).min(rest) };
        carry(order, from, length, to)
    }

    /// Carries an item next to another one at the same place.
    fn carry_to_its_place(&self, dice: &mut Dice, order: &mut [Item]) -> Changed {
        let from = dice.below(order.len());
        let place = self.place_of(order[from]);
        let start = dice.below(order.len());
        let other = (start..order.len())
            .chain(0..start)
            .find(|&index| index != from && self.place_of(order[index]) == place);
        let Some(other) = other else { return swap_two(dice, order) };
        let other = if other > from { other - 1 } else { other };
        carry(order, from, 1, other + dice.below(2))
    }

    fn place_of(&self, item: Item) -> u8 {
        match item {
            Item::Act(act) => self.act_places[usize::from(act)],
            Item::Change { state, to } => {
                self.change_places[usize::from(state) * 8 + usize::from(to)]
            }
        }
    }
}

/// Carries a run to where it starts at an index of the order without it.
fn carry(order: &mut [Item], from: usize, length: usize, to: usize) -> Changed {
    if to < from {
        order[to..from + length].rotate_right(length);
    } else {
        order[from..to + length].rotate_left(length);
    }
    Changed { from: from.min(to), tail: order.len() - from.max(to) - length }
}

/// Carries one item, or a few that follow each other, elsewhere.
fn carry_a_run(dice: &mut Dice, order: &mut [Item]) -> Changed {
    let length = (if dice.one_in(2) { 1 } else { 1 + dice.below(8) }).min(order.len() - 1);
    let from = dice.below(order.len() - length + 1);
    let rest = order.len() - length;
    let to = if dice.one_in(3) {
        dice.below(rest + 1)
    } else {
        let by = 1 + dice.below(NEAR);
        if dice.one_in(2) { from.saturating_sub(by) } else { (from + by).min(rest) }
    };
    carry(order, from, length, to)
}

fn swap_two(dice: &mut Dice, order: &mut [Item]) -> Changed {
    let (one, other) = (dice.below(order.len()), dice.below(order.len()));
    order.swap(one, other);
    Changed { from: one.min(other), tail: order.len() - one.max(other) - 1 }
}

fn turn_a_run_round(dice: &mut Dice, order: &mut [Item]) -> Changed {
    let from = dice.below(order.len());
    let to = (from + 2 + dice.below(12)).min(order.len());
    order[from..to].reverse();
    Changed { from, tail: order.len() - to }
}

/// Takes a change of a site state out, and perhaps puts it in elsewhere.
fn move_a_change(dice: &mut Dice, order: &mut Vec<Item>) -> Changed {
    let there = order.iter().filter(|item| matches!(item, Item::Change { .. })).count();
    let chosen = dice.below(there);
    let mut changes =
        order.iter().enumerate().filter(|(_, one)| matches!(one, Item::Change { .. }));
    let Some((from, &change)) = changes.nth(chosen) else { return swap_two(dice, order) };
    order.remove(from);
    if dice.one_in(2) {
        return Changed { from, tail: order.len() - from };
    }
    let to = dice.below(order.len() + 1);
    order.insert(to, change);
    Changed { from: from.min(to), tail: order.len() - from.max(to) - 1 }
}

#[cfg(test)]
mod tests {
    use super::{Item, carry};

    #[test]
    fn a_carried_run_keeps_everything_and_stands_where_it_was_put() {
        let act = Item::Act;
        for from in 0..6 {
            for length in 1..=6 - from {
                for to in 0..=6 - length {
                    let mut order: Vec<Item> = (0..6).map(act).collect();
                    let run: Vec<Item> = order[from..from + length].to_vec();
                    let changed = carry(&mut order, from, length, to);
                    assert_eq!(&order[to..to + length], &run[..], "{from} {length} {to}");
                    let same = order.iter().zip(0..).map(|(&item, number)| item == act(number));
                    let same: Vec<bool> = same.collect();
                    let (before, after) = (&same[..changed.from], &same[6 - changed.tail..]);
                    assert!(before.iter().chain(after).all(|&same| same));
                    order.retain(|item| !run.contains(item));
                    assert!(order.is_sorted_by_key(|item| match item {
                        Item::Act(number) => *number,
                        Item::Change { .. } => 0,
                    }));
                }
            }
        }
    }
}
