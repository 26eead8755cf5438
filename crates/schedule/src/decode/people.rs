//! Who does something, and when they can start.

use super::Decoder;
use crate::Ticks;

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
    fn arrival(&self, person: usize, place: u8) -> Ticks {
        self.at.free[person] + self.problem.walk(self.at.places[person], place)
    }

    /// The person who can start first, from a time on; of equals the one with less to walk.
    pub(super) fn turn(&self, place: u8, ready: Ticks, skill: u32, everybody: bool) -> Turn {
        if !self.several {
            let start = self.arrival(0, place).max(ready);
            return Turn { person: 0, everybody: false, start };
        }
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
    pub(super) fn missed_return(&self, turn: Turn, place: u8, end: Ticks, me: u16) -> Option<u16> {
        for &number in &self.at.running {
            let wait = &self.problem.waits[usize::from(number)];
            let never = crate::ticks::NEVER;
            if wait.at_most == never || wait.closes == me || self.in_hand[usize::from(wait.closes)]
            {
                continue;
            }
            let latest = self.at.ends[usize::from(wait.opens)] + wait.at_most;
            let return_to = self.problem.acts[usize::from(wait.closes)].place;
            let mut back = end + self.problem.walk(place, return_to);
            if self.several && !turn.everybody {
                back = back.min(self.arrival(1 - turn.person, return_to));
            }
            if back > latest {
                return Some(wait.closes);
            }
        }
        None
    }

    /// The people of a turn, one bit each.
    pub(super) fn people_bits(&self, turn: Turn) -> u8 {
        if turn.everybody { (1 << self.problem.skills.len()) - 1 } else { 1 << turn.person }
    }
}
