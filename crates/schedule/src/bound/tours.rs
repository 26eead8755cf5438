//! The shortest way from a place over a set of places to the end: exact, for all sets at once.

use crate::compact::Compact;

/// More places than this and the table would not fit a phone.
const MOST_PLACES: usize = 16;

/// Lengths of shortest ways, by the places still to be seen and the place at hand (Held and Karp, 1962).
pub(super) struct Tours {
    /// The number of each place among those that matter.
    number: Vec<Option<u8>>,
    count: usize,
    lengths: Vec<u16>,
}

impl Tours {
    /// Ways over these places; none are counted where there are too many.
    pub(super) fn new(problem: &Compact, wanted: &[bool]) -> Self {
        let places: Vec<u8> =
            (0_u8..).zip(wanted).filter(|&(_, &wanted)| wanted).map(|(place, _)| place).collect();
        let count = if places.len() > MOST_PLACES { 0 } else { places.len() };
        let mut number = vec![None; problem.places];
        for (index, &place) in (0_u8..).zip(&places[..count]) {
            number[usize::from(place)] = Some(index);
        }
        let mut lengths = vec![0_u16; count << count];
        let walk = |from: u8, to: u8| u16::try_from(problem.walk(from, to)).unwrap_or(u16::MAX);
        for set in 0..1_usize << count {
            for here in 0..count {
                lengths[set * count + here] = if set == 0 {
                    walk(places[here], problem.end)
                } else {
                    (0..count)
                        .filter(|next| set >> next & 1 == 1)
                        .map(|next| {
                            let rest = lengths[(set & !(1 << next)) * count + next];
                            rest.saturating_add(walk(places[here], places[next]))
                        })
                        .min()
                        .unwrap_or(0)
                };
            }
        }
        Self { number, count, lengths }
    }

    /// The bit of a place in a set of places.
    pub(super) fn bit(&self, place: u8) -> usize {
        self.number[usize::from(place)].map_or(0, |number| 1 << number)
    }

    /// The shortest way from a place over a set to the end.
    pub(super) fn length(&self, here: u8, set: usize) -> u16 {
        match self.number[usize::from(here)] {
            Some(number) => self.lengths[(set & !(1 << number)) * self.count + usize::from(number)],
            None => 0,
        }
    }
}
