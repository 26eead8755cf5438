//! Classes of acts: those that nothing tells apart count as one, for a set of them fits one number.

use std::collections::BTreeMap;

use crate::compact::{Compact, NeedMask, UNDONE};

/// As many classes as a set has bits.
const MOST_CLASSES: usize = 128;

/// Acts of one class.
pub(super) struct Class {
    pub(super) place: u8,
    pub(super) needs: Vec<NeedMask>,
    pub(super) stirs: u32,
    /// Classes that come before it.
    pub(super) before: u128,
    /// Waits that it opens, by their number in [`Classes::waits`].
    pub(super) opens: Vec<usize>,
    /// Whether doing it restricts what else may be done: when to do it is a choice.
    pub(super) is_choice: bool,
}

/// A wait between two classes.
pub(super) struct ClassWait {
    pub(super) opens: usize,
    pub(super) closes: usize,
    pub(super) keeps: Vec<NeedMask>,
    pub(super) quiet: u32,
    pub(super) claims: u32,
}

/// All classes.
pub(super) struct Classes {
    pub(super) classes: Vec<Class>,
    pub(super) waits: Vec<ClassWait>,
    /// The class of each act; none for those that are left out, which only makes the bound lower.
    pub(super) of_act: Vec<Option<usize>>,
    /// Classes that were done before.
    pub(super) done: u128,
}

/// What tells acts apart.
type Likeness = (u8, Vec<NeedMask>, u32, Vec<u16>, Vec<u16>, bool);

impl Classes {
    /// The classes of a problem; none if there are more than a set can hold.
    pub(super) fn new(problem: &Compact) -> Option<Self> {
        let mut after: Vec<Vec<u16>> = vec![Vec::new(); problem.acts.len()];
        for (number, act) in (0_u16..).zip(&problem.acts) {
            for &earlier in &act.before {
                after[usize::from(earlier)].push(number);
            }
        }
        // Acts that nothing waits for can be left out: first those that need nothing.
        for leave_out in [Leave::Nothing, Leave::WithoutNeeds, Leave::WithNeeds] {
            if let Some(classes) = Self::leaving_out(problem, &after, leave_out) {
                return Some(classes);
            }
        }
        None
    }

    fn leaving_out(problem: &Compact, after: &[Vec<u16>], leave: Leave) -> Option<Self> {
        let mut groups: BTreeMap<Likeness, usize> = BTreeMap::new();
        let mut of_act = vec![None; problem.acts.len()];
        let mut first_of: Vec<usize> = Vec::new();
        for (number, act) in problem.acts.iter().enumerate() {
            let own = act.is_guard || !act.opens.is_empty() || !act.closes.is_empty();
            let loose = !own && after[number].is_empty();
            let left_out = match leave {
                Leave::Nothing => false,
                Leave::WithoutNeeds => loose && act.needs.is_empty(),
                Leave::WithNeeds => loose,
            };
            if left_out {
                continue;
            }
            let new = first_of.len();
            let class = if own {
                new
            } else {
                let mut before = act.before.clone();
                before.sort_unstable();
                let done = problem.standing.ends[number] != UNDONE;
                let likeness =
                    (act.place, act.needs.clone(), act.stirs, before, after[number].clone(), done);
                *groups.entry(likeness).or_insert(new)
            };
            if class == new {
                first_of.push(number);
            }
            of_act[number] = Some(class);
        }
        if first_of.len() > MOST_CLASSES {
            return None;
        }
        let waits: Vec<ClassWait> = problem
            .waits
            .iter()
            .filter_map(|wait| {
                Some(ClassWait {
                    opens: of_act[usize::from(wait.opens)]?,
                    closes: of_act[usize::from(wait.closes)]?,
                    keeps: wait.keeps.clone(),
                    quiet: wait.quiet,
                    claims: wait.claims,
                })
            })
            .collect();
        let class = |(class, &number): (usize, &usize)| {
            let act = &problem.acts[number];
            let opens: Vec<usize> = (0..waits.len()).filter(|&w| waits[w].opens == class).collect();
            let restricts = |&wait: &usize| {
                let wait = &waits[wait];
                !wait.keeps.is_empty() || wait.quiet != 0 || wait.claims != 0
            };
            Class {
                place: act.place,
                needs: act.needs.clone(),
                stirs: act.stirs,
                before: act
                    .before
                    .iter()
                    .filter_map(|&earlier| of_act[usize::from(earlier)])
                    .fold(0, |set, class| set | 1 << class),
                is_choice: opens.iter().any(restricts),
                opens,
            }
        };
        let classes = first_of.iter().enumerate().map(class).collect();
        let done = first_of
            .iter()
            .enumerate()
            .filter(|&(_, &number)| problem.standing.ends[number] != UNDONE)
            .fold(0, |set, (class, _)| set | 1 << class);
        Some(Self { classes, waits, of_act, done })
    }

    /// Whether these acts are done; those that are left out count as done.
    pub(super) fn all_done(&self, acts: &[u16], done: u128) -> bool {
        let class_done = |class: usize| done >> class & 1 == 1;
        acts.iter().all(|&act| self.of_act[usize::from(act)].is_none_or(class_done))
    }

    /// The set of all classes.
    pub(super) fn all(&self) -> u128 {
        match self.classes.len() {
            MOST_CLASSES => u128::MAX,
            count => (1 << count) - 1,
        }
    }
}

/// Which acts are left out.
#[derive(Clone, Copy)]
enum Leave {
    Nothing,
    WithoutNeeds,
    WithNeeds,
}
