//! Random small visits that can be done, and whether the validator accepts every plan of them.

use std::collections::BTreeMap;

use schedule::{
    Act, Budget, Change, Need, Order, Person, Preference, Problem, Progress, SiteState, Wait, Why,
    Window, check, plan, validate,
};

use crate::dice::Dice;

/// What a random visit may have.
#[derive(Clone, Copy)]
pub(crate) struct Kind {
    pub(crate) acts: usize,
    pub(crate) people: usize,
    pub(crate) waits: usize,
    pub(crate) states: usize,
}

/// A random visit. Guards and waits never need what they guard, latest returns are generous and
/// windows late: it can be done.
pub(crate) fn random_visit(dice: &mut Dice, kind: Kind) -> Problem {
    let names = ["gate", "side", "rear", "door", "galley", "bath"];
    let count = 2 + dice.below(names.len() - 1);
    let places: Vec<String> = names[..count].iter().map(|&name| name.to_owned()).collect();
    let at: Vec<(i32, i32)> =
        places.iter().map(|_| (dice.below(5) as i32, dice.below(4) as i32)).collect();
    let walks = at
        .iter()
        .map(|one| at.iter().map(|two| (one.0 - two.0).abs() + (one.1 - two.1).abs()).collect())
        .collect();
    let place = |dice: &mut Dice| places[dice.below(count)].clone();
    let id = |index: usize| format!("act_{index}");
    let mut acts: Vec<Act> = (0..kind.acts)
        .map(|index| Act {
            id: id(index),
            place: place(dice),
            ticks: 1 + dice.below(5) as i32,
            stirs: if dice.one_in(4) { vec!["water".to_owned()] } else { Vec::new() },
            windows: if dice.one_in(8) { vec![Window { from: 0, to: 900 }] } else { Vec::new() },
            together: kind.people > 1 && dice.one_in(9),
            skill: (kind.people > 1 && dice.one_in(7)).then(|| "gas".to_owned()),
            ..Act::default()
        })
        .collect();
    let states: Vec<SiteState> =
        (0..kind.states).map(|number| random_state(dice, number, &places)).collect();
    // The first two acts guard and need nothing; the rest may need a state.
    for act in acts.iter_mut().skip(2) {
        for state in &states {
            if dice.one_in(4) {
                let any_of = if dice.one_in(3) { vec!["off"] } else { vec!["on", "half"] };
                act.needs.push(Need {
                    state: state.id.clone(),
                    any_of: any_of.into_iter().map(str::to_owned).collect(),
                });
            }
        }
    }
    let mut waits = Vec::new();
    // Each wait has acts of its own.
    for number in 0..kind.waits.min(kind.acts.saturating_sub(2) / 2) {
        let (opens, closes) = (2 + 2 * number, 3 + 2 * number);
        let at_least = dice.below(15) as i32;
        let keeps = acts[opens].needs.clone();
        acts[closes].needs = keeps.clone();
        waits.push(Wait {
            opens: id(opens),
            closes: id(closes),
            at_least,
            at_most: dice.one_in(2).then_some(at_least + 120),
            keeps: if dice.one_in(2) { keeps } else { Vec::new() },
            quiet: if dice.one_in(2) { vec!["water".to_owned()] } else { Vec::new() },
            claims: if dice.one_in(3) { vec!["air".to_owned()] } else { Vec::new() },
        });
    }
    let mut orders = Vec::new();
    for _ in 0..kind.acts / 3 {
        let (one, two) = (dice.below(kind.acts), dice.below(kind.acts));
        let inside = |act: usize| act >= 2 && act < 2 + 2 * waits.len();
        // Nothing has to come into a wait, and guards stay first.
        if one < two && !inside(one) && !inside(two) {
            let why = if dice.one_in(3) { Why::Safety } else { Why::Sequence };
            orders.push(Order { first: id(one), then: id(two), why });
        }
    }
    let person = |name: &str, skills: &[&str]| Person {
        name: name.to_owned(),
        skills: skills.iter().map(|&one| one.to_owned()).collect(),
    };
    let people = [person("one", &["gas"]), person("two", &[])];
    Problem {
        name: "random".to_owned(),
        start: places[0].clone(),
        end: places[dice.below(count)].clone(),
        places,
        walks,
        people: people[..kind.people].to_vec(),
        states,
        acts,
        waits,
        orders,
    }
}

fn random_state(dice: &mut Dice, number: usize, places: &[String]) -> SiteState {
    let mut change = |to: &str, guards: &[&str]| Change {
        to: to.to_owned(),
        place: places[dice.below(places.len())].clone(),
        ticks: 1 + dice.below(3) as i32,
        after: guards.iter().map(|&guard| guard.to_owned()).collect(),
        clears: if dice.one_in(3) { vec!["water".to_owned()] } else { Vec::new() },
        ..Change::default()
    };
    SiteState {
        id: format!("state_{number}"),
        found: "off".to_owned(),
        leave: Some("off".to_owned()),
        changes: vec![
            change("on", &[["act_0", "act_1"][number % 2]]),
            change("half", &["act_0"]),
            change("off", &[]),
        ],
    }
}

fn random_kind(dice: &mut Dice) -> Kind {
    Kind {
        acts: 3 + dice.below(22),
        people: 1 + dice.below(2),
        waits: dice.below(4),
        states: dice.below(4),
    }
}

#[test]
fn the_validator_accepts_two_thousand_random_plans_and_agrees_with_the_planner() {
    let mut dice = Dice::new(2026);
    let (mut accepted, mut with_two, mut refused) = (0, 0, BTreeMap::new());
    for round in 0..2_400 {
        let kind = random_kind(&mut dice);
        let problem = random_visit(&mut dice, kind);
        assert_eq!(check(&problem), [], "{problem:#?}");
        let decodes = [0, 50, 300][round % 3];
        let budget = Budget { decodes, seed: round as u64 };
        let preference = Preference::ALL[round % Preference::ALL.len()];
        let found = plan(&problem, &Progress::default(), preference, budget);
        let broken = validate(&problem, &Progress::default(), &found);
        if found.penalty == 0 {
            assert_eq!(broken, [], "round {round}: {problem:#?}\n{found:#?}");
            accepted += 1;
            with_two += usize::from(kind.people == 2);
        } else {
            assert_ne!(broken, [], "round {round}: a penalty without a broken rule");
            *refused.entry(broken[0].rule).or_insert(0) += 1;
        }
    }
    println!("{accepted} accepted, {with_two} of them with two people; broken: {refused:?}");
    assert!(accepted >= 2_000 && with_two >= 800, "{accepted} {with_two} {refused:?}");
}
