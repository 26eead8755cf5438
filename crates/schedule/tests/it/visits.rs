//! The six invented visits of `tests/visits`.

use schedule::{
    Budget, Preference, Problem, Progress, check, plan, read_problem, validate, write_problem,
};

/// Name and text of each.
pub(crate) const VISITS: [(&str, &str); 6] = [
    ("sixty_acts_a", include_str!("../visits/sixty_acts_a.json")),
    ("sixty_acts_b", include_str!("../visits/sixty_acts_b.json")),
    ("hundred_fifty_acts_a", include_str!("../visits/hundred_fifty_acts_a.json")),
    ("hundred_fifty_acts_b", include_str!("../visits/hundred_fifty_acts_b.json")),
    ("two_hundred_acts", include_str!("../visits/two_hundred_acts.json")),
    ("two_hundred_twenty_acts", include_str!("../visits/two_hundred_twenty_acts.json")),
];

pub(crate) fn visit(name: &str) -> Problem {
    let (_, text) = VISITS.iter().find(|(one, _)| *one == name).unwrap();
    read_problem(text).unwrap()
}

#[test]
fn a_visit_reads_back_as_it_was_written() {
    for (name, text) in VISITS {
        let problem = read_problem(text).unwrap();
        assert_eq!(problem.name, name);
        assert_eq!(check(&problem), []);
        assert_eq!(read_problem(&write_problem(&problem)).unwrap(), problem);
    }
}

/// Ends in half minutes that a small search stays under from any of three seeds: 5 % above the best
/// that longer ones have found.
#[test]
fn a_small_search_keeps_every_rule_and_comes_near_the_best_known() {
    let near = [338, 334, 778, 774, 1000, 1018];
    for ((name, text), near) in VISITS.into_iter().zip(near) {
        let problem = read_problem(text).unwrap();
        for seed in 1..=3 {
            let budget = Budget { decodes: 60_000, seed };
            let found = plan(&problem, &Progress::default(), Preference::FinishSoonest, budget);
            assert_eq!(validate(&problem, &Progress::default(), &found), [], "{name}");
            assert_eq!(found.penalty, 0);
            assert!(found.finish <= near, "{name}, seed {seed}: {} over {near}", found.finish);
        }
    }
}

#[test]
fn the_same_seed_gives_the_same_schedule() {
    let problem = visit("hundred_fifty_acts_a");
    let budget = Budget { decodes: 10_000, seed: 7 };
    let once = plan(&problem, &Progress::default(), Preference::FinishSoonest, budget);
    let again = plan(&problem, &Progress::default(), Preference::FinishSoonest, budget);
    assert_eq!(once, again);
    let other = Budget { seed: 8, ..budget };
    assert_ne!(once, plan(&problem, &Progress::default(), Preference::FinishSoonest, other));
}

#[test]
fn what_is_preferred_is_what_there_is_less_of() {
    let problem = visit("sixty_acts_a");
    let budget = Budget { decodes: 60_000, seed: 1 };
    let [soonest, walking, switching] = Preference::ALL.map(|preference| {
        let found = plan(&problem, &Progress::default(), preference, budget);
        assert_eq!(validate(&problem, &Progress::default(), &found), []);
        found
    });
    assert!(walking.walking < soonest.walking, "{} {}", walking.walking, soonest.walking);
    assert!(walking.finish > soonest.finish);
    assert!(switching.switches <= soonest.switches);
}

#[test]
fn a_text_that_is_no_visit_is_refused_with_its_line() {
    let error = read_problem("{\n\"name\": 3}").unwrap_err();
    assert!(error.contains("line 2"), "{error}");
    let error = read_problem("{\"nam\": \"x\"}").unwrap_err();
    assert!(error.contains("unknown field `nam`"), "{error}");
}
