//! A problem in numbers, for the planner: what is left to do, seen from where the visit stands.

use std::collections::BTreeMap;

use crate::Ticks;
use crate::problem::{Act, Need, Problem, Progress, blocked};
use crate::ticks::NEVER;

/// No person, place, state or act has this end: it is not done yet.
pub(crate) const UNDONE: Ticks = Ticks::MIN;

/// One thing that a priority order holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Item {
    /// An act.
    Act(u16),
    /// A change of a site state to a value.
    Change {
        /// The state.
        state: u8,
        /// The value.
        to: u8,
    },
}

/// A site state and the values that will do, one bit each.
pub(crate) type NeedMask = (u8, u8);

/// A problem in numbers. What was skipped or is blocked is not in it.
#[derive(Clone, Debug)]
pub(crate) struct Compact {
    pub(crate) places: usize,
    walks: Vec<Ticks>,
    pub(crate) start: u8,
    pub(crate) end: u8,
    /// Skills of each person, one bit each.
    pub(crate) skills: Vec<u32>,
    pub(crate) states: Vec<CompactState>,
    pub(crate) acts: Vec<CompactAct>,
    pub(crate) waits: Vec<CompactWait>,
    /// Where the visit stands.
    pub(crate) standing: Now,
}

/// Where the visit stands, in numbers.
#[derive(Clone, Debug)]
pub(crate) struct Now {
    pub(crate) time: Ticks,
    /// Place of each person and when they are free.
    pub(crate) people: Vec<(u8, Ticks)>,
    /// Value of each state.
    pub(crate) values: Vec<u8>,
    /// End of each act, or [`UNDONE`].
    pub(crate) ends: Vec<Ticks>,
}

#[derive(Clone, Debug)]
pub(crate) struct CompactState {
    /// Its index in the problem.
    pub(crate) source: usize,
    pub(crate) values: Vec<String>,
    pub(crate) leave: Option<u8>,
    /// The change to each value; none where there is none, or where its guard was left out.
    pub(crate) changes: Vec<Option<CompactChange>>,
}

#[derive(Clone, Debug)]
pub(crate) struct CompactChange {
    pub(crate) place: u8,
    pub(crate) ticks: Ticks,
    pub(crate) needs: Vec<NeedMask>,
    pub(crate) guards: Vec<u16>,
    pub(crate) clears: u32,
    pub(crate) skill: u32,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct CompactAct {
    /// Its index in the problem, and those of the acts that are done with it in one go.
    pub(crate) sources: Vec<usize>,
    pub(crate) place: u8,
    pub(crate) ticks: Ticks,
    pub(crate) needs: Vec<NeedMask>,
    pub(crate) stirs: u32,
    pub(crate) windows: Vec<(Ticks, Ticks)>,
    pub(crate) before: Vec<u16>,
    pub(crate) opens: Vec<u16>,
    pub(crate) closes: Vec<u16>,
    pub(crate) skill: u32,
    pub(crate) together: bool,
    /// Whether a change waits for it.
    pub(crate) is_guard: bool,
}

#[derive(Clone, Debug)]
pub(crate) struct CompactWait {
    pub(crate) opens: u16,
    pub(crate) closes: u16,
    pub(crate) at_least: Ticks,
    /// [`NEVER`] where it does not matter.
    pub(crate) at_most: Ticks,
    pub(crate) keeps: Vec<NeedMask>,
    pub(crate) quiet: u32,
    pub(crate) claims: u32,
}

impl Compact {
    /// Time on foot.
    pub(crate) fn walk(&self, from: u8, to: u8) -> Ticks {
        self.walks[usize::from(from) * self.places + usize::from(to)]
    }

    /// The same problem, each walk by the shortest way, be it through other places.
    pub(crate) fn with_short_cuts(mut self) -> Self {
        let count = self.places;
        for through in 0..count {
            for from in 0..count {
                for to in 0..count {
                    let way = self.walks[from * count + through] + self.walks[through * count + to];
                    let walk = &mut self.walks[from * count + to];
                    *walk = way.min(*walk);
                }
            }
        }
        self
    }

    /// The problem in numbers. It must have passed [`check`](crate::check).
    pub(crate) fn new(problem: &Problem, progress: &Progress) -> Self {
        Builder::new(problem, progress).build()
    }
}

/// Numbers for names.
struct Builder<'a> {
    problem: &'a Problem,
    progress: &'a Progress,
    places: BTreeMap<&'a str, u8>,
    states: BTreeMap<&'a str, u8>,
    acts: BTreeMap<&'a str, u16>,
    /// Indices in the problem of the acts that are left in.
    kept: Vec<usize>,
    channels: BTreeMap<&'a str, u32>,
    skills: BTreeMap<&'a str, u32>,
}

impl<'a> Builder<'a> {
    fn new(problem: &'a Problem, progress: &'a Progress) -> Self {
        let blocked = blocked(problem, progress);
        let left_out = |id: &str| progress.skipped.contains_key(id) || blocked.contains_key(id);
        let kept: Vec<usize> =
            (0..problem.acts.len()).filter(|&index| !left_out(&problem.acts[index].id)).collect();
        let channels = problem
            .acts
            .iter()
            .flat_map(|act| &act.stirs)
            .chain(problem.waits.iter().flat_map(|wait| wait.quiet.iter().chain(&wait.claims)))
            .chain(problem.states.iter().flat_map(|one| &one.changes).flat_map(|one| &one.clears));
        let skills = problem.people.iter().flat_map(|person| &person.skills);
        Self {
            problem,
            progress,
            places: numbered(problem.places.iter().map(String::as_str)),
            states: numbered(problem.states.iter().map(|state| state.id.as_str())),
            acts: kept
                .iter()
                .enumerate()
                .map(|(number, &index)| (problem.acts[index].id.as_str(), small(number)))
                .collect(),
            channels: bits(channels),
            skills: bits(skills),
            kept,
        }
    }

    fn build(&self) -> Compact {
        let mut acts: Vec<CompactAct> = self.kept.iter().map(|&index| self.act(index)).collect();
        for order in &self.problem.orders {
            if let (Some(&first), Some(&then)) =
                (self.acts.get(&*order.first), self.acts.get(&*order.then))
            {
                let before = &mut acts[usize::from(then)].before;
                if !before.contains(&first) {
                    before.push(first);
                }
            }
        }
        let mut waits = Vec::new();
        for wait in &self.problem.waits {
            let (Some(&opens), Some(&closes)) =
                (self.acts.get(&*wait.opens), self.acts.get(&*wait.closes))
            else {
                continue;
            };
            let number = small(waits.len());
            acts[usize::from(opens)].opens.push(number);
            let closing = &mut acts[usize::from(closes)];
            closing.closes.push(number);
            if !closing.before.contains(&opens) {
                closing.before.push(opens);
            }
            waits.push(CompactWait {
                opens,
                closes,
                at_least: wait.at_least,
                at_most: wait.at_most.unwrap_or(NEVER),
                keeps: self.needs(&wait.keeps),
                quiet: self.channels(&wait.quiet),
                claims: self.channels(&wait.claims),
            });
        }
        let states: Vec<CompactState> =
            (0..self.problem.states.len()).map(|index| self.state(index)).collect();
        for change in states.iter().flat_map(|state| &state.changes).flatten() {
            for &guard in &change.guards {
                acts[usize::from(guard)].is_guard = true;
            }
        }
        Compact {
            places: self.problem.places.len(),
            walks: self.problem.walks.iter().flatten().copied().collect(),
            start: self.place(&self.problem.start),
            end: self.place(&self.problem.end),
            skills: self
                .problem
                .people
                .iter()
                .map(|person| person.skills.iter().fold(0, |all, one| all | self.skill(Some(one))))
                .collect(),
            standing: self.standing(&states),
            states,
            acts,
            waits,
        }
    }

    fn act(&self, index: usize) -> CompactAct {
        let act: &Act = &self.problem.acts[index];
        let mut windows: Vec<(Ticks, Ticks)> =
            act.windows.iter().map(|window| (window.from, window.to)).collect();
        windows.sort_unstable();
        CompactAct {
            sources: vec![index],
            place: self.place(&act.place),
            ticks: act.ticks,
            needs: self.needs(&act.needs),
            stirs: self.channels(&act.stirs),
            windows,
            skill: self.skill(act.skill.as_ref()),
            together: act.together,
            ..CompactAct::default()
        }
    }

    fn state(&self, index: usize) -> CompactState {
        let state = &self.problem.states[index];
        let mut values = vec![state.found.clone()];
        for change in &state.changes {
            if !values.contains(&change.to) {
                values.push(change.to.clone());
            }
        }
        let changes = values.iter().map(|value| {
            let change = state.change(value)?;
            let guards: Option<Vec<u16>> =
                change.after.iter().map(|guard| self.acts.get(guard.as_str()).copied()).collect();
            Some(CompactChange {
                place: self.place(&change.place),
                ticks: change.ticks,
                needs: self.needs(&change.needs),
                guards: guards?,
                clears: self.channels(&change.clears),
                skill: self.skill(change.skill.as_ref()),
            })
        });
        let leave = state.leave.as_ref();
        CompactState {
            source: index,
            changes: changes.collect(),
            leave: leave.and_then(|leave| position(&values, leave)),
            values,
        }
    }

    fn standing(&self, states: &[CompactState]) -> Now {
        let progress = self.progress;
        let person = |index: usize| {
            let place = progress.at.get(index).unwrap_or(&self.problem.start);
            let busy = progress.done.values().filter(|span| span.person == index);
            let free = busy.map(|span| span.end).chain([progress.now]).max();
            (self.place(place), free.unwrap_or(progress.now))
        };
        Now {
            time: progress.now,
            people: (0..self.problem.people.len()).map(person).collect(),
            values: states
                .iter()
                .map(|state| {
                    let now = progress.states.get(&self.problem.states[state.source].id);
                    now.and_then(|value| position(&state.values, value)).unwrap_or(0)
                })
                .collect(),
            ends: self
                .kept
                .iter()
                .map(|&index| {
                    let span = progress.done.get(&self.problem.acts[index].id);
                    span.map_or(UNDONE, |span| span.end)
                })
                .collect(),
        }
    }

    fn place(&self, id: &str) -> u8 {
        self.places.get(id).copied().unwrap_or(0)
    }

    /// Needs in numbers; several of one state are one, with the values that all of them take.
    fn needs(&self, needs: &[Need]) -> Vec<NeedMask> {
        let mut masks: BTreeMap<u8, u8> = BTreeMap::new();
        for need in needs {
            let Some(&state) = self.states.get(need.state.as_str()) else { continue };
            let values = &self.problem.states[usize::from(state)];
            let mut known = vec![&values.found];
            for change in &values.changes {
                if !known.contains(&&change.to) {
                    known.push(&change.to);
                }
            }
            let mask = known
                .iter()
                .enumerate()
                .filter(|(_, value)| need.any_of.contains(value))
                .fold(0, |mask, (bit, _)| mask | 1 << bit);
            *masks.entry(state).or_insert(u8::MAX) &= mask;
        }
        masks.into_iter().collect()
    }

    fn channels(&self, names: &[String]) -> u32 {
        names
            .iter()
            .filter_map(|name| self.channels.get(name.as_str()))
            .fold(0, |all, bit| all | bit)
    }

    fn skill(&self, name: Option<&String>) -> u32 {
        name.and_then(|name| self.skills.get(name.as_str()).copied()).unwrap_or(0)
    }
}

fn numbered<'a>(names: impl Iterator<Item = &'a str>) -> BTreeMap<&'a str, u8> {
    names
        .enumerate()
        .map(|(number, name)| (name, u8::try_from(number).unwrap_or(u8::MAX)))
        .collect()
}

/// One bit for each name, in the order in which they first come.
fn bits<'a>(names: impl Iterator<Item = &'a String>) -> BTreeMap<&'a str, u32> {
    let mut bits = BTreeMap::new();
    for name in names {
        let next = 1_u32.checked_shl(u32::try_from(bits.len()).unwrap_or(u32::MAX)).unwrap_or(0);
        bits.entry(name.as_str()).or_insert(next);
    }
    bits
}

fn position(values: &[String], value: &str) -> Option<u8> {
    values.iter().position(|one| one == value).and_then(|index| u8::try_from(index).ok())
}

/// A number that [`check`](crate::check) keeps small.
pub(crate) fn small(number: usize) -> u16 {
    u16::try_from(number).expect("a visit has at most 4,000 acts and waits")
}
