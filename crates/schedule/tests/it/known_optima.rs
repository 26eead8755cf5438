//! Published problems with known optima, planned as visits of walking alone.
//!
//! - gr17: symmetric travelling salesman, 17 cities, optimum 2085. TSPLIB (G. Reinelt, "TSPLIB, a
//!   traveling salesman problem library", ORSA Journal on Computing 3, 1991), problem by M. Grötschel;
//!   the figures here are those of `tests/data/gr17.tsp` in the source distribution of the Python package
//!   tsplib95 0.7.1. The optimum is proved again here.
//! - br17.10: sequential ordering with precedence, 18 nodes. TSPLIB `br17.10.sop`, taken from the copy in
//!   the public repository tasuka98/Parallel_SOP, not from TSPLIB itself. Its optimum of 55 is proved
//!   again here by dynamic programming over all subsets.

use schedule::{
    Act, Budget, Order, Person, Preference, Problem, Progress, Ticks, Why, lower_bound, plan,
    validate,
};

/// Lower triangle with its diagonal, row by row.
const GR17: &str = include_str!("../optima/gr17.txt");
/// Full matrix; -1 in row i and column j says that j comes before i.
const BR17_10: &str = include_str!("../optima/br17_10.txt");

/// Longer than any tour: an arc that is not there.
const NO_ARC: Ticks = 10_000;

fn rows(text: &str) -> Vec<Vec<Ticks>> {
    let lines = text.lines().filter(|line| !line.starts_with('#'));
    lines.map(|line| line.split_whitespace().map(|one| one.parse().unwrap()).collect()).collect()
}

fn gr17() -> Vec<Vec<Ticks>> {
    let triangle = rows(GR17);
    let side = triangle.len();
    let walk = |from: usize, to: usize| triangle[from.max(to)][from.min(to)];
    (0..side).map(|from| (0..side).map(|to| walk(from, to)).collect()).collect()
}

/// A visit that only walks: one act of no length at each place but the start.
fn walking(walks: Vec<Vec<Ticks>>, end: usize, orders: &[(usize, usize)]) -> Problem {
    let id = |place: usize| format!("place_{place}");
    Problem {
        places: (0..walks.len()).map(id).collect(),
        acts: (1..walks.len())
            .map(|place| Act { id: id(place), place: id(place), ..Act::default() })
            .collect(),
        orders: orders
            .iter()
            .map(|&(first, then)| Order { first: id(first), then: id(then), why: Why::Sequence })
            .collect(),
        people: vec![Person { name: "one".to_owned(), skills: Vec::new() }],
        start: id(0),
        end: id(end),
        walks,
        ..Problem::default()
    }
}

/// The shortest way from place 0 over all others, by dynamic programming over subsets (Held and Karp,
/// 1962); back to the start if `back`, else to where it ends.
fn shortest(walks: &[Vec<Ticks>], before: &[(usize, usize)], back: bool) -> Ticks {
    let others = walks.len() - 1;
    let wanted: Vec<usize> = (1..=others)
        .map(|place| {
            let first = before.iter().filter(|(_, then)| *then == place);
            first.filter(|(first, _)| *first > 0).fold(0, |set, (first, _)| set | 1 << (first - 1))
        })
        .collect();
    let mut best = vec![NO_ARC; others << others];
    for set in 1..1_usize << others {
        for last in (0..others).filter(|last| set >> last & 1 == 1) {
            let rest = set & !(1 << last);
            if wanted[last] & !rest != 0 {
                continue;
            }
            let arrive = |from: usize| best[rest * others + from] + walks[from + 1][last + 1];
            best[set * others + last] = if rest == 0 {
                walks[0][last + 1]
            } else {
                (0..others).filter(|from| rest >> from & 1 == 1).map(arrive).min().unwrap()
            };
        }
    }
    let all = (1 << others) - 1;
    (0..others)
        .map(|last| best[all * others + last] + if back { walks[last + 1][0] } else { 0 })
        .min()
        .unwrap()
}

#[test]
fn gr17_is_walked_in_2085() {
    let walks = gr17();
    assert_eq!(shortest(&walks, &[], true), 2085);
    let problem = walking(walks, 0, &[]);
    for seed in 1..=3 {
        let budget = Budget { decodes: 60_000, seed };
        let found = plan(&problem, &Progress::default(), Preference::FinishSoonest, budget);
        assert_eq!(validate(&problem, &Progress::default(), &found), []);
        assert_eq!(found.finish, 2085, "seed {seed}");
    }
    let bound = lower_bound(&problem, &Progress::default(), None, 1_000);
    assert!(bound.finish == 2085 && bound.complete, "{bound:?}");
}

#[test]
fn br17_10_is_walked_in_55() {
    let matrix = rows(BR17_10);
    let last = matrix.len() - 1;
    let mut before = Vec::new();
    for (then, row) in matrix.iter().enumerate() {
        for (first, &length) in row.iter().enumerate() {
            if length == -1 && first != 0 {
                before.push((first, then));
            }
        }
    }
    let arc = |length: Ticks| if length < 0 { NO_ARC } else { length.min(NO_ARC) };
    let mut walks: Vec<Vec<Ticks>> =
        matrix.iter().map(|row| row.iter().map(|&length| arc(length)).collect()).collect();
    for (place, row) in walks.iter_mut().enumerate() {
        row[place] = 0;
    }
    assert_eq!(shortest(&walks, &before, false), 55);
    let problem = walking(walks, last, &before);
    for seed in 1..=3 {
        let budget = Budget { decodes: 60_000, seed };
        let found = plan(&problem, &Progress::default(), Preference::FinishSoonest, budget);
        assert_eq!(validate(&problem, &Progress::default(), &found), []);
        assert_eq!(found.finish, 55, "seed {seed}");
    }
    let bound = lower_bound(&problem, &Progress::default(), None, 20_000);
    assert!(bound.finish <= 55, "{bound:?}");
}
