//! Who does something, and when they can start.

use super::Decoder;
use crate::Ticks;
use crate::ticks::NEVER;

/// Who does something and when.
#[derive(Clone, Copy)]
pub(super) struct Turn {
    /// The person, or the first of all.
    pub(super) person: usize,
    /// Whether everybody does it.
    pub(super) everybody: bool,
    pub(super) start: Ticks,
}

impl Decoder<'_> {
    /// When a person can be at a place.
    #[inline]
    pub(super) fn arrival(&self, person: usize, place: u8) -> Ticks {
        self.at.free[person] + self.problem.walk(self.at.places[person], place)
    }

    /// The person who can start first, from a time on; of equals the one with less to walk.
    #[inline]
    pub(super) fn turn(&self, place: u8, ready: Ticks, skill: u32, everybody: bool) -> Turn {
        if !self.several {
            let start = self.arrival(0, place).max(ready);
            return Turn { person: 0, everybody: false, start };
        }
        self.turn_among_several(place, ready, skill, everybody)
    }

    /// The same where there are several.
    fn turn_among_several(&self, place: u8, ready: Ticks, skill: u32, everybody: bool) -> Turn {
        let people = 0..self.problem.skills.len();
        if everybody {
            let last = people.map(|person| self.arrival(person, place)).max().unwrap_or(ready);
            return Turn { person: 0, everybody: true, start: last.max(ready) };
        }
        let able = people.filter(|&person| skill & !self.problem.skills[person] == 0);
        let key = |person: usize| {
            let walk = self.problem.walk(self.at.places[person], place);
            (self.arrival(person, place).max(ready), walk, person)
        };
        let (start, _, person) = able.map(key).min().unwrap_or((ready, 0, 0));
        Turn { person, everybody: false, start }
    }

    /// Sends whoever's turn it is to a place, where they are busy until a time.
    pub(super) fn send(&mut self, turn: Turn, place: u8, end: Ticks) {
        let people = if turn.everybody {
            0..self.problem.skills.len()
        } else {
            turn.person..turn.person + 1
        };
        for person in people {
            let walk = self.problem.walk(self.at.places[person], place);
            self.at.walking += walk;
            self.at.idle += turn.start - self.at.free[person] - walk;
            self.at.places[person] = place;
            self.at.free[person] = end;
        }
    }

    /// A running wait that nobody could end in time once this turn is over at a time and place.
    #[inline]
    pub(super) fn missed_return(
        &mut self,
        turn: Turn,
        place: u8,
        end: Ticks,
        me: u16,
    ) -> Option<u16> {
        if end + self.facts.longest_return[usize::from(place)] <= self.at.soonest {
            return None;
        }
        self.missed_return_of(turn, place, end, me)
    }

    /// The same where the first latest return is near.
    fn missed_return_of(&mut self, turn: Turn, place: u8, end: Ticks, me: u16) -> Option<u16> {
        let late = |decoder: &Self, index: usize| {
            let number = decoder.at.running[index];
            let wait = &decoder.facts.waits[usize::from(number)];
            let idle = wait.closes == me || decoder.in_hand[usize::from(wait.closes)];
            if wait.at_most == NEVER || idle {
                return None;
            }
            let latest = decoder.at.waits[usize::from(number)].since + wait.at_most;
            let mut back = end + decoder.problem.walk(place, wait.place);
            if decoder.several && !turn.everybody {
                back = back.min(decoder.arrival(1 - turn.person, wait.place));
            }
            Some((number, back - latest))
        };
        let is_late = |index: &usize| late(self, *index).is_some_and(|(_, late)| late > 0);
        let missed = (0..self.at.running.len()).find(is_late)?;
        // What was in time before it has to be so again. Elsewhere that need not be noted: the end of a wait
        // comes no sooner than any way back to it, and says the same of it.
        for index in 0..missed {
            if let Some((number, late)) = late(self, index) {
                self.at.waits[usize::from(number)].leeway.at_least(late);
            }
        }
        let (number, late) = late(self, missed)?;
        self.at.waits[usize::from(number)].leeway.at_most(late - 1);
        Some(self.facts.waits[usize::from(number)].closes)
    }

    /// The people of a turn, one bit each.
    pub(super) fn people_bits(&self, turn: Turn) -> u8 {
        if turn.everybody { (1 << self.problem.skills.len()) - 1 } else { 1 << turn.person }
    }
}
