//! What a replay asks of acts and waits all the time, close together in memory and in single words.

use std::collections::BTreeMap;

use crate::Ticks;
use crate::compact::{Compact, NeedMask};
use crate::ticks::NEVER;

/// The facts of one problem.
pub(super) struct Facts {
    pub(super) acts: Vec<ActFacts>,
    pub(super) waits: Vec<WaitFacts>,
    /// What comes before the acts, one act's after the other's: bits of a word of the acts that are done.
    befores: Vec<(usize, u64)>,
    /// From each place the longest walk to where a wait with a latest return is ended.
    pub(super) longest_return: Vec<Ticks>,
    /// Whether no walk is longer than one through another place, as far as that matters.
    pub(super) straight: bool,
}

/// The facts of an act.
#[derive(Clone, Copy)]
pub(super) struct ActFacts {
    /// Values of site states that it cannot be done with, one bit each; see [`bit`].
    pub(super) refuses: u128,
    pub(super) stirs: u32,
    /// What the waits claim that it opens.
    pub(super) claims: u32,
    pub(super) ticks: Ticks,
    befores: (u32, u32),
    pub(super) place: u8,
    /// Whether it opens a wait, closes one, has windows.
    pub(super) opens: bool,
    pub(super) closes: bool,
    pub(super) windows: bool,
    /// Its first window.
    pub(super) window: (Ticks, Ticks),
}

/// The facts of a wait.
#[derive(Clone, Copy)]
pub(super) struct WaitFacts {
    /// Values of site states that would break it.
    pub(super) refuses: u128,
    pub(super) quiet: u32,
    pub(super) claims: u32,
    pub(super) at_least: Ticks,
    pub(super) at_most: Ticks,
    pub(super) closes: u16,
    /// Where it is ended.
    pub(super) place: u8,
}

impl Facts {
    pub(super) fn new(problem: &Compact) -> Self {
        let mut befores = Vec::new();
        let mut acts = Vec::new();
        for act in &problem.acts {
            let opened = || act.opens.iter().map(|&wait| &problem.waits[usize::from(wait)]);
            let from = length(&befores);
            let mut words: BTreeMap<usize, u64> = BTreeMap::new();
            for &earlier in &act.before {
                *words.entry(usize::from(earlier >> 6)).or_default() |= 1 << (earlier & 63);
            }
            befores.extend(words);
            acts.push(ActFacts {
                refuses: opened().fold(refused(&act.needs), |all, wait| all | refused(&wait.keeps)),
                stirs: act.stirs,
                claims: opened().fold(0, |all, wait| all | wait.claims),
                ticks: act.ticks,
                befores: (from, length(&befores)),
                place: act.place,
                opens: !act.opens.is_empty(),
                closes: !act.closes.is_empty(),
                windows: !act.windows.is_empty(),
                window: act.windows.first().copied().unwrap_or_default(),
            });
        }
        let waits = problem.waits.iter().map(|wait| WaitFacts {
            refuses: refused(&wait.keeps),
            quiet: wait.quiet,
            claims: wait.claims,
            at_least: wait.at_least,
            at_most: wait.at_most,
            closes: wait.closes,
            place: problem.acts[usize::from(wait.closes)].place,
        });
        let waits: Vec<WaitFacts> = waits.collect();
        let places = 0..u8::try_from(problem.places).unwrap_or(u8::MAX);
        let returns = || waits.iter().filter(|wait| wait.at_most != NEVER).map(|wait| wait.place);
        let longest = |from: u8| returns().map(|to| problem.walk(from, to)).max().unwrap_or(0);
        let longest_return: Vec<Ticks> = places.clone().map(longest).collect();
        let straight = returns().next().is_none()
            || places.clone().all(|from| {
                places.clone().all(|to| {
                    let through = |by| problem.walk(from, by) + problem.walk(by, to);
                    places.clone().all(|by| problem.walk(from, to) <= through(by))
                })
            });
        Self { acts, waits, befores, longest_return, straight }
    }

    /// What comes before an act, as bits of words of [`Standing::done`](super::standing::Standing).
    #[inline]
    pub(super) fn befores(&self, act: &ActFacts) -> &[(usize, u64)] {
        &self.befores[act.befores.0 as usize..act.befores.1 as usize]
    }
}

/// The bit of a value of a site state, of 16 states with 8 values each.
pub(super) fn bit(state: u8, value: u8) -> u128 {
    1 << (u32::from(state) * 8 + u32::from(value))
}

fn refused(needs: &[NeedMask]) -> u128 {
    let refused = |&(state, wanted): &NeedMask| u128::from(!wanted) << (u32::from(state) * 8);
    needs.iter().fold(0, |all, need| all | refused(need))
}

fn length(list: &[(usize, u64)]) -> u32 {
    u32::try_from(list.len()).expect("a visit has at most 4,000 acts, each after a few others")
}
