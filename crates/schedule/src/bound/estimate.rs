//! What walking and changing come to at least: the shortest way over all places still to be seen, and every
//! change that cannot be avoided. Exact or too low, never too high.

use super::classes::Classes;
use super::search::STATES;
use super::tours::Tours;
use crate::Ticks;
use crate::compact::Compact;

pub(super) struct Estimate<'a> {
    problem: &'a Compact,
    tours: Tours,
}

impl<'a> Estimate<'a> {
    pub(super) fn new(problem: &'a Compact, classes: &Classes) -> Self {
        let mut wanted = vec![false; problem.places];
        wanted[usize::from(problem.standing.people[0].0)] = true;
        wanted[usize::from(problem.end)] = true;
        for class in &classes.classes {
            wanted[usize::from(class.place)] = true;
        }
        for change in problem.states.iter().flat_map(|state| &state.changes).flatten() {
            wanted[usize::from(change.place)] = true;
        }
        Self { problem, tours: Tours::new(problem, &wanted) }
    }

    /// From here to the end.
    pub(super) fn left(&self, classes: &Classes, place: u8, values: &[u8], done: u128) -> Ticks {
        let problem = self.problem;
        let mut places = 0;
        // Values that something still needs and nothing else will do, and the last need of several.
        let mut exact = [0_u8; STATES];
        let mut several = [0_u8; STATES];
        let mut undone = classes.all() & !done;
        while undone != 0 {
            let class = &classes.classes[undone.trailing_zeros() as usize];
            undone &= undone - 1;
            places |= self.tours.bit(class.place);
            for &(state, wanted) in &class.needs {
                let state = usize::from(state);
                if wanted.count_ones() == 1 {
                    exact[state] |= wanted;
                } else {
                    several[state] = wanted;
                }
            }
        }
        let mut ticks = 0;
        for (state, one) in problem.states.iter().enumerate() {
            let value = values[state];
            let leave = one.leave.unwrap_or(u8::MAX);
            let leaving = if leave == u8::MAX { 0 } else { 1 << leave };
            let wanted = exact[state] & !(1 << value);
            for to in bits(wanted & !leaving) {
                if let Some(change) = &one.changes[usize::from(to)] {
                    ticks += change.ticks;
                    places |= self.tours.bit(change.place);
                }
            }
            let choice = several[state];
            let mut moved = wanted & !leaving != 0;
            if !moved && choice != 0 && choice >> value & 1 == 0 && exact[state] & choice == 0 {
                // Whichever of them is cheapest; where it is done is open, unless it is what is left.
                if choice & leaving == 0 {
                    let changes =
                        bits(choice).filter_map(|to| one.changes[usize::from(to)].as_ref());
                    ticks += changes.map(|change| change.ticks).min().unwrap_or(0);
                    moved = true;
                }
            }
            if leave != u8::MAX
                && (moved || value != leave)
                && let Some(change) = &one.changes[usize::from(leave)]
            {
                ticks += change.ticks;
                places |= self.tours.bit(change.place);
            }
        }
        ticks + Ticks::from(self.tours.length(place, places))
    }
}

/// The numbers of the bits that are set.
fn bits(mask: u8) -> impl Iterator<Item = u8> {
    (0..8).filter(move |bit| mask >> bit & 1 == 1)
}
