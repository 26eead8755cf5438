//! An order to start from: what is free and near, what starts a wait first.

use crate::compact::{Compact, Item, small};

/// What a step seems to cost beside ten for each half minute of walking.
const WALK: i32 = 10;
const CHANGE: i32 = 60;
const STARTS_A_WAIT: i32 = -8;
const ENDS_A_WAIT: i32 = 25;

/// The acts that are not done, each after those before it, greedily from one place to the next.
pub(super) fn first_order(problem: &Compact) -> Vec<Item> {
    let now = &problem.standing;
    let mut done: Vec<bool> = now.ends.iter().map(|&end| end != crate::compact::UNDONE).collect();
    let mut left: Vec<usize> = (0..done.len()).filter(|&act| !done[act]).collect();
    let mut place = now.people[0].0;
    let mut values = now.values.clone();
    let mut order = Vec::new();
    while !left.is_empty() {
        let cost = |&act: &usize| {
            let act = &problem.acts[act];
            let changes = act
                .needs
                .iter()
                .filter(|&&(state, wanted)| wanted >> values[usize::from(state)] & 1 == 0)
                .count();
            WALK * problem.walk(place, act.place)
                + CHANGE * i32::try_from(changes).unwrap_or(0)
                + if act.opens.is_empty() { 0 } else { STARTS_A_WAIT }
                + if act.closes.is_empty() { 0 } else { ENDS_A_WAIT }
        };
        let free = |act: &usize| {
            problem.acts[*act].before.iter().all(|&earlier| done[usize::from(earlier)])
        };
        let next = (0..left.len()).filter(|&index| free(&left[index]));
        // In a circle nothing is free: the first one then, and the replay counts the breach.
        let next = next.min_by_key(|&index| (cost(&left[index]), index)).unwrap_or(0);
        let act = left.remove(next);
        done[act] = true;
        place = problem.acts[act].place;
        for &(state, wanted) in &problem.acts[act].needs {
            let value = &mut values[usize::from(state)];
            if wanted >> *value & 1 == 0 {
                *value = u8::try_from(wanted.trailing_zeros()).unwrap_or(0);
            }
        }
        order.push(Item::Act(small(act)));
    }
    order
}
