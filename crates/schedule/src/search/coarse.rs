//! A coarser problem: acts at one place that nothing outside tells apart are one act.
//!
//! A long visit has many small looks at each place that nothing waits for, and looks that only lead to
//! the next one there. Moving them about one by one is most of a search's work and hardly ever its gain.

use std::collections::{BTreeMap, BTreeSet};

use crate::Ticks;
use crate::compact::{Compact, CompactAct, Item, NeedMask, UNDONE, small};
use crate::decode::Decoder;
use crate::preference::Weights;

/// A coarser problem, and which acts of the fine one each of its acts stands for, in their order.
pub(super) struct Coarse {
    pub(super) problem: Compact,
    members: Vec<Vec<u16>>,
}

/// Acts that are put together.
#[derive(Clone)]
struct Group {
    /// The acts, in their order.
    members: Vec<u16>,
    /// Groups that come before it and after it, by their numbers.
    before: BTreeSet<u16>,
    after: BTreeSet<u16>,
    /// Whether it stays by itself.
    alone: bool,
}

/// What tells acts apart, whatever comes before and after them.
type Likeness = (u8, Vec<NeedMask>, u32, Vec<(Ticks, Ticks)>, u32, bool);

impl Coarse {
    /// The coarser problem; none where nothing can be put together.
    pub(super) fn new(fine: &Compact) -> Option<Self> {
        let groups = grouped(fine);
        if groups.len() == fine.acts.len() {
            return None;
        }
        let mut group_of: Vec<u16> = vec![0; fine.acts.len()];
        for (number, group) in groups.iter().enumerate() {
            for &act in &group.members {
                group_of[usize::from(act)] = small(number);
            }
        }
        let members: Vec<Vec<u16>> = groups.into_iter().map(|group| group.members).collect();
        let mut problem = fine.clone();
        problem.acts = members.iter().map(|group| merged(fine, group, &group_of)).collect();
        problem.standing.ends =
            members.iter().map(|group| fine.standing.ends[usize::from(group[0])]).collect();
        for wait in &mut problem.waits {
            wait.opens = group_of[usize::from(wait.opens)];
            wait.closes = group_of[usize::from(wait.closes)];
        }
        let changes = problem.states.iter_mut().flat_map(|state| &mut state.changes).flatten();
        for guard in changes.flat_map(|change| &mut change.guards) {
            *guard = group_of[usize::from(*guard)];
        }
        Some(Self { problem, members })
    }

    /// What is done with an order of the coarse problem, in the order in which it is done, as an order of the fine
    /// problem: replayed, it comes to the same. The order itself may not: a wait that is ended before a long act
    /// would be ended between its parts.
    pub(super) fn expand(&self, weights: Weights, order: &[Item]) -> Vec<Item> {
        let (_, steps) = Decoder::new(&self.problem, weights).steps(order);
        let fine = |item: Item| match item {
            Item::Act(group) => {
                self.members[usize::from(group)].iter().map(|&act| Item::Act(act)).collect()
            }
            Item::Change { .. } => vec![item],
        };
        steps.into_iter().flat_map(|step| fine(step.item)).collect()
    }
}

/// The acts put together, by their first ones.
fn grouped(fine: &Compact) -> Vec<Group> {
    let mut groups: BTreeMap<u16, Group> = BTreeMap::new();
    for (number, act) in fine.acts.iter().enumerate() {
        let done = fine.standing.ends[number] != UNDONE;
        let alone = done || act.is_guard || !act.opens.is_empty() || !act.closes.is_empty();
        let before: BTreeSet<u16> = act.before.iter().copied().collect();
        let members = vec![small(number)];
        let group = Group { members, before, after: BTreeSet::new(), alone };
        groups.insert(small(number), group);
    }
    for (number, act) in (0_u16..).zip(&fine.acts) {
        for earlier in &act.before {
            groups.entry(*earlier).and_modify(|group| _ = group.after.insert(number));
        }
    }
    while put_alike_together(fine, &mut groups) | put_chains_together(fine, &mut groups) {}
    groups.into_values().collect()
}

/// Puts acts together that come before and after the same ones; says whether there were any.
fn put_alike_together(fine: &Compact, groups: &mut BTreeMap<u16, Group>) -> bool {
    let mut first = BTreeMap::new();
    let mut pairs = Vec::new();
    for (&number, group) in &*groups {
        if !group.alone {
            let key = (likeness(fine, number), group.before.clone(), group.after.clone());
            let &mut first = first.entry(key).or_insert(number);
            if first != number {
                pairs.push((first, number));
            }
        }
    }
    for &(one, other) in &pairs {
        put_together(groups, one, other);
    }
    !pairs.is_empty()
}

/// Puts an act together with the one that it leads to if it leads to nothing else that does not come after
/// that one too, and that one waits for nothing else; says whether there were any.
fn put_chains_together(fine: &Compact, groups: &mut BTreeMap<u16, Group>) -> bool {
    let mut some = false;
    let numbers: Vec<u16> = groups.keys().copied().collect();
    for then in numbers {
        let Some(group) = groups.get(&then).filter(|group| !group.alone) else { continue };
        let leads_to_it = |&&first: &&u16| {
            let Some(earlier) = groups.get(&first).filter(|earlier| !earlier.alone) else {
                return false;
            };
            likeness(fine, first) == likeness(fine, then)
                && group.before.iter().all(|one| *one == first || earlier.before.contains(one))
                && earlier.after.iter().all(|one| *one == then || group.after.contains(one))
        };
        if let Some(&first) = group.before.iter().find(leads_to_it) {
            put_together(groups, first, then);
            some = true;
        }
    }
    some
}

/// Puts a second group behind a first one.
fn put_together(groups: &mut BTreeMap<u16, Group>, first: u16, then: u16) {
    let Some(other) = groups.remove(&then) else { return };
    for group in groups.values_mut() {
        for side in [&mut group.before, &mut group.after] {
            if side.remove(&then) {
                side.insert(first);
            }
        }
    }
    if let Some(group) = groups.get_mut(&first) {
        group.members.extend(other.members);
        group.before.extend(other.before);
        group.after.extend(other.after);
        group.before.remove(&first);
        group.after.remove(&first);
    }
}

fn likeness(fine: &Compact, number: u16) -> Likeness {
    let act = &fine.acts[usize::from(number)];
    let windows = act.windows.clone();
    (act.place, act.needs.clone(), act.stirs, windows, act.skill, act.together)
}

/// One act for a group.
fn merged(fine: &Compact, group: &[u16], group_of: &[u16]) -> CompactAct {
    let mut act = fine.acts[usize::from(group[0])].clone();
    for &other in &group[1..] {
        let other = &fine.acts[usize::from(other)];
        act.ticks += other.ticks;
        act.sources.extend_from_slice(&other.sources);
        act.before.extend_from_slice(&other.before);
    }
    let me = group_of[usize::from(group[0])];
    let mut before: Vec<u16> =
        act.before.iter().map(|&earlier| group_of[usize::from(earlier)]).collect();
    before.sort_unstable();
    before.dedup();
    before.retain(|&earlier| earlier != me);
    act.before = before;
    act
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::decode::Changed;
    use crate::preference::Preference;
    use crate::problem::{Progress, read_problem};
    use crate::search::anneal::Annealing;
    use crate::search::first::first_order;

    #[test]
    fn a_coarse_order_comes_to_the_same_in_its_parts() {
        let text = include_str!("../../tests/visits/two_hundred_acts.json");
        let fine = Compact::new(&read_problem(text).unwrap(), &Progress::default());
        let coarse = Coarse::new(&fine).unwrap();
        assert!(2 * coarse.problem.acts.len() < 3 * fine.acts.len());
        let weights = Preference::FinishSoonest.weights();
        let start = first_order(&coarse.problem);
        let mut annealing = Annealing::new(&coarse.problem, weights, start, 1);
        annealing.cool(3_000, 3.0, 0.1);
        let whole = annealing.best_score;
        assert_eq!(whole.broken, 0);
        let mut parts = coarse.expand(weights, &annealing.best);
        let mut acts: Vec<Item> =
            parts.iter().copied().filter(|item| matches!(item, Item::Act(_))).collect();
        let in_parts = Decoder::new(&fine, weights).accept(&mut parts, Changed::ALL);
        assert_eq!(
            (in_parts.broken, in_parts.finish, in_parts.walking, in_parts.switches),
            (whole.broken, whole.finish, whole.walking, whole.switches)
        );
        acts.sort_unstable_by_key(|item| match item {
            Item::Act(act) => *act,
            Item::Change { .. } => u16::MAX,
        });
        let every: Vec<Item> = (0..fine.acts.len()).map(|act| Item::Act(small(act))).collect();
        assert_eq!(acts, every);
    }
}
