//! The shortest way from a place over a set of places to the end: exact, for all sets at once.

use crate::compact::Compact;

/// Of more places than this the table would not fit a phone.
const MOST_PLACES: usize = 17;

/// Lengths of shortest ways, by the places still to be seen and the place at hand (Held and Karp, 1962).
pub(super) struct Tours {
    /// The number of each place among those that are counted.
    number: Vec<Option<u8>>,
    count: usize,
    lengths: Vec<u16>,
    /// From each place to each that is counted, and to the end.
    walks: Vec<u16>,
    home: Vec<u16>,
}

impl Tours {
    /// Ways over these places. Of too many those that are most out of the way are counted; the others only
    /// make the ways longer than told.
    pub(super) fn new(problem: &Compact, wanted: &[bool]) -> Self {
        let mut places: Vec<u8> =
            (0_u8..).zip(wanted).filter(|&(_, &wanted)| wanted).map(|(place, _)| place).collect();
        while places.len() > MOST_PLACES {
            let detours = (0..places.len()).map(|index| (detour(problem, &places, index), index));
            let least = detours.min().map_or(0, |(_, index)| index);
            places.remove(least);
        }
        let count = places.len();
        let mut number = vec![None; problem.places];
        for (index, &place) in (0_u8..).zip(&places) {
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
        let all = || 0..u8::try_from(problem.places).unwrap_or(u8::MAX);
        Self {
            number,
            count,
            lengths,
            walks: all().flat_map(|from| places.iter().map(move |&to| walk(from, to))).collect(),
            home: all().map(|from| walk(from, problem.end)).collect(),
        }
    }

    /// The bit of a place in a set of places.
    pub(super) fn bit(&self, place: u8) -> usize {
        self.number[usize::from(place)].map_or(0, |number| 1 << number)
    }

    /// The shortest way from a place over a set to the end.
    pub(super) fn length(&self, here: u8, set: usize) -> u16 {
        let here = usize::from(here);
        if let Some(number) = self.number[here] {
            return self.lengths[(set & !(1 << number)) * self.count + usize::from(number)];
        }
        (0..self.count)
            .filter(|next| set >> next & 1 == 1)
            .map(|next| {
                let rest = self.lengths[(set & !(1 << next)) * self.count + next];
                rest.saturating_add(self.walks[here * self.count + next])
            })
            .min()
            .unwrap_or(self.home[here])
    }
}

/// How far out of the way one of these places is: the least detour by it between two others.
fn detour(problem: &Compact, places: &[u8], index: usize) -> i32 {
    let place = places[index];
    let others = || places.iter().copied().filter(|&other| other != place);
    others()
        .flat_map(|from| others().map(move |to| (from, to)))
        .map(|(from, to)| {
            problem.walk(from, place) + problem.walk(place, to) - problem.walk(from, to)
        })
        .min()
        .unwrap_or(0)
}
