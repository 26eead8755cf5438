//! The bound: never above any schedule, and worth having.

use schedule::{Act, Budget, Person, Preference, Problem, Progress, lower_bound, plan, validate};

use crate::dice::Dice;
use crate::random_visits::{Kind, random_visit};
use crate::visits::visit;

#[test]
fn the_bound_exceeds_no_schedule_of_a_thousand_random_visits() {
    let mut dice = Dice::new(55);
    let (mut visits, mut tight) = (0, 0);
    for round in 0..1_300 {
        let kind = Kind {
            acts: 3 + dice.below(14),
            people: 1 + usize::from(dice.one_in(4)),
            waits: dice.below(4),
            states: dice.below(4),
        };
        let problem = random_visit(&mut dice, kind);
        let bound = lower_bound(&problem, &Progress::default(), None, 20_000);
        for decodes in [0, 60, 2_000] {
            let budget = Budget { decodes, seed: round };
            let found = plan(&problem, &Progress::default(), Preference::FinishSoonest, budget);
            if found.penalty > 0 {
                continue;
            }
            assert_eq!(validate(&problem, &Progress::default(), &found), []);
            assert!(bound.finish <= found.finish, "{bound:?} {found:#?} {problem:#?}");
            visits += usize::from(decodes == 2_000);
            tight += usize::from(decodes == 2_000 && bound.finish == found.finish);
        }
    }
    println!("{visits} visits, the bound reached by {tight} of them");
    assert!(visits >= 1_000 && tight >= 400, "{visits} {tight}");
}

#[test]
fn a_plan_says_how_far_it_is_from_the_best_possible() {
    let problem = visit("sixty_acts_a");
    let budget = Budget { decodes: 60_000, seed: 1 };
    let found = plan(&problem, &Progress::default(), Preference::FinishSoonest, budget);
    let bound = lower_bound(&problem, &Progress::default(), Some(&found), 30_000);
    // A search that may come to its end proves 318 for this visit.
    assert!(bound.finish >= 295 && bound.finish <= 318, "{bound:?}");
    assert!(!bound.complete);
    let gap = bound.gap_in_words(&found);
    assert!(gap.starts_with("at most ") && gap.ends_with(" min from the best possible"), "{gap}");
}

/// What was proved before with some four million states is proved with seventy thousand since the search does
/// not look at ways past work.
#[test]
fn the_bounds_of_the_two_short_visits_are_proved_to_the_end() {
    for (name, proved) in [("sixty_acts_a", 318), ("sixty_acts_b", 315)] {
        let bound = lower_bound(&visit(name), &Progress::default(), None, 100_000);
        assert!(bound.complete && bound.finish == proved, "{name}: {bound:?}");
    }
}

/// Two acts in the middle, so that both ways lead through it, and no straight way that is worth going.
#[test]
fn a_way_through_a_third_place_that_is_shorter_than_the_straight_one_counts() {
    let act = |id: &str, place: &str| Act {
        id: id.to_owned(),
        place: place.to_owned(),
        ticks: 1,
        ..Act::default()
    };
    let problem = Problem {
        places: ["gate", "middle", "far"].map(str::to_owned).to_vec(),
        walks: vec![vec![0, 1, 10], vec![1, 0, 1], vec![10, 1, 0]],
        start: "gate".to_owned(),
        end: "gate".to_owned(),
        people: vec![Person::default()],
        acts: vec![act("one", "middle"), act("two", "middle"), act("three", "far")],
        ..Problem::default()
    };
    let budget = Budget { decodes: 1_000, seed: 1 };
    let found = plan(&problem, &Progress::default(), Preference::FinishSoonest, budget);
    assert_eq!(found.finish, 7);
    let bound = lower_bound(&problem, &Progress::default(), None, 1_000);
    assert_eq!((bound.finish, bound.complete), (7, true));
}
