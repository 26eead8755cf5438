//! A coarser problem: acts at one place that nothing tells apart are one act.
//!
//! A long visit has many small looks at each place that nothing waits for. Moving them about one by
//! one is most of a search's work and hardly ever its gain.

use std::collections::BTreeMap;

use crate::Ticks;
use crate::compact::{Compact, CompactAct, Item, NeedMask, UNDONE, small};

/// A coarser problem, and which acts of the fine one each of its acts stands for.
pub(super) struct Coarse {
    pub(super) problem: Compact,
    members: Vec<Vec<u16>>,
}

/// What tells acts apart; none for an act that stays by itself.
type Likeness = (u8, Vec<NeedMask>, u32, Vec<(Ticks, Ticks)>, Vec<u16>, Vec<u16>, u32, bool);

impl Coarse {
    /// The coarser problem; none where nothing can be put together.
    pub(super) fn new(fine: &Compact) -> Option<Self> {
        let mut after: Vec<Vec<u16>> = vec![Vec::new(); fine.acts.len()];
        for (number, act) in fine.acts.iter().enumerate() {
            for &earlier in &act.before {
                after[usize::from(earlier)].push(small(number));
            }
        }
        let mut group_of: Vec<u16> = Vec::with_capacity(fine.acts.len());
        let mut members: Vec<Vec<u16>> = Vec::new();
        let mut groups: BTreeMap<Likeness, u16> = BTreeMap::new();
        for (number, act) in fine.acts.iter().enumerate() {
            let done = fine.standing.ends[number] != UNDONE;
            let new = small(members.len());
            let group = if done || act.is_guard || !act.opens.is_empty() || !act.closes.is_empty() {
                new
            } else {
                *groups.entry(likeness(act, &after[number])).or_insert(new)
            };
            if group == new {
                members.push(Vec::new());
            }
            members[usize::from(group)].push(small(number));
            group_of.push(group);
        }
        if members.len() == fine.acts.len() {
            return None;
        }
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

    /// An order of the coarse problem as one of the fine problem.
    pub(super) fn expand(&self, order: &[Item]) -> Vec<Item> {
        let fine = |&item: &Item| match item {
            Item::Act(group) => {
                self.members[usize::from(group)].iter().map(|&act| Item::Act(act)).collect()
            }
            Item::Change { .. } => vec![item],
        };
        order.iter().flat_map(fine).collect()
    }
}

fn likeness(act: &CompactAct, after: &[u16]) -> Likeness {
    let mut before = act.before.clone();
    before.sort_unstable();
    let windows = act.windows.clone();
    let after = after.to_vec();
    (act.place, act.needs.clone(), act.stirs, windows, before, after, act.skill, act.together)
}

/// One act for a group.
fn merged(fine: &Compact, group: &[u16], group_of: &[u16]) -> CompactAct {
    let mut act = fine.acts[usize::from(group[0])].clone();
    for &other in &group[1..] {
        let other = &fine.acts[usize::from(other)];
        act.ticks += other.ticks;
        act.sources.extend_from_slice(&other.sources);
    }
    let mut before: Vec<u16> =
        act.before.iter().map(|&earlier| group_of[usize::from(earlier)]).collect();
    before.sort_unstable();
    before.dedup();
    act.before = before;
    act
}
