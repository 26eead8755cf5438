//! Small visits against every order there is.

use std::collections::BTreeMap;

use schedule::{Budget, Preference, Problem, Progress, Ticks, plan, validate};

use crate::dice::Dice;
use crate::random_visits::{Kind, random_visit};

/// Tries every order of acts and changes of one person, each at its earliest, and gives up what
/// cannot end before the best found. Written from the rules of the problem, not from the planner.
struct BruteForce<'a> {
    problem: &'a Problem,
    best: Ticks,
    /// The earliest time at which the same things were done, the same waits ran since the same times, and
    /// the site was the same.
    seen: BTreeMap<Alike, Ticks>,
}

/// What is done, how the site is, where one stands, and since when each wait runs.
type Alike = (Vec<bool>, Vec<String>, usize, Vec<Ticks>);

/// Where a try stands.
#[derive(Clone)]
struct At {
    place: usize,
    time: Ticks,
    values: Vec<String>,
    /// Start and end of what is done.
    done: Vec<Option<(Ticks, Ticks)>>,
}

impl BruteForce<'_> {
    fn place(&self, id: &str) -> usize {
        self.problem.places.iter().position(|place| place == id).unwrap()
    }

    fn index(&self, id: &str) -> usize {
        self.problem.acts.iter().position(|act| act.id == id).unwrap()
    }

    fn met(&self, needs: &[schedule::Need], values: &[String]) -> bool {
        needs.iter().all(|need| {
            let state = self.problem.states.iter().position(|one| one.id == need.state).unwrap();
            need.any_of.contains(&values[state])
        })
    }

    /// Whether a wait is running.
    fn runs(&self, wait: &schedule::Wait, at: &At) -> bool {
        at.done[self.index(&wait.opens)].is_some() && at.done[self.index(&wait.closes)].is_none()
    }

    fn search(&mut self, at: &At) {
        let problem = self.problem;
        let running = problem.waits.iter().filter(|wait| self.runs(wait, at));
        let since = running.map(|wait| at.done[self.index(&wait.opens)].unwrap().1).collect();
        let done = at.done.iter().map(Option::is_some).collect();
        let key = (done, at.values.clone(), at.place, since);
        if self.seen.get(&key).is_some_and(|&time| time <= at.time) {
            return;
        }
        self.seen.insert(key, at.time);
        let left: Vec<usize> =
            (0..problem.acts.len()).filter(|&act| at.done[act].is_none()).collect();
        let home = problem.walks[at.place][self.place(&problem.end)];
        let hands_on: Ticks = left.iter().map(|&act| problem.acts[act].ticks).sum();
        // Every state that is not as it should be left costs a change still.
        let mut changes = 0;
        for (state, value) in problem.states.iter().zip(&at.values) {
            if state.leave.as_ref() != Some(value) {
                changes += state.leave.as_ref().map_or(0, |to| state.change(to).unwrap().ticks);
            }
        }
        if at.time + hands_on + changes + if left.is_empty() { home } else { 0 } >= self.best {
            return;
        }
        if left.is_empty() && changes == 0 {
            self.best = at.time + home;
            return;
        }
        for act in left {
            if let Some(next) = self.after_act(at, act) {
                self.search(&next);
            }
        }
        for (number, state) in problem.states.iter().enumerate() {
            for change in &state.changes {
                let kept = problem.waits.iter().filter(|wait| self.runs(wait, at)).all(|wait| {
                    wait.keeps
                        .iter()
                        .all(|need| need.state != state.id || need.any_of.contains(&change.to))
                });
                let guarded = change.after.iter().all(|guard| at.done[self.index(guard)].is_some());
                if at.values[number] == change.to
                    || !kept
                    || !guarded
                    || !self.met(&change.needs, &at.values)
                {
                    continue;
                }
                let mut next = at.clone();
                let place = self.place(&change.place);
                next.time += problem.walks[at.place][place] + change.ticks;
                next.place = place;
                next.values[number].clone_from(&change.to);
                self.search(&next);
            }
        }
    }

    /// The act done next at its earliest; none if a rule forbids it.
    fn after_act(&self, at: &At, number: usize) -> Option<At> {
        let problem = self.problem;
        let act = &problem.acts[number];
        let place = self.place(&act.place);
        if !self.met(&act.needs, &at.values) {
            return None;
        }
        for order in problem.orders.iter().filter(|order| order.then == act.id) {
            at.done[self.index(&order.first)]?;
        }
        let mut start = at.time + problem.walks[at.place][place];
        for wait in &problem.waits {
            if wait.closes == act.id {
                let (_, end) = at.done[self.index(&wait.opens)]?;
                start = start.max(end + wait.at_least);
                if wait.at_most.is_some_and(|most| start > end + most) {
                    return None;
                }
            } else if self.runs(wait, at) {
                let opened = problem.waits.iter().filter(|other| other.opens == act.id);
                let mut claims = opened.flat_map(|other| &other.claims);
                if act.stirs.iter().any(|channel| wait.quiet.contains(channel))
                    || claims.any(|claim| wait.claims.contains(claim))
                {
                    return None;
                }
            }
            if wait.opens == act.id && !self.met(&wait.keeps, &at.values) {
                return None;
            }
        }
        let end = start + act.ticks;
        if !act.windows.is_empty()
            && !act.windows.iter().any(|window| window.from <= start && end <= window.to)
        {
            return None;
        }
        let mut next = at.clone();
        next.done[number] = Some((start, end));
        next.time = end;
        next.place = place;
        Some(next)
    }
}

#[test]
fn no_order_of_up_to_twelve_acts_is_better_than_the_plan() {
    let mut dice = Dice::new(12);
    let mut largest = 0;
    for round in 0..60 {
        let kind = Kind {
            acts: if round % 15 == 0 { 12 } else { 4 + dice.below(6) },
            people: 1,
            waits: dice.below(3),
            states: dice.below(3),
        };
        let problem = random_visit(&mut dice, kind);
        let budget = Budget { decodes: 60_000, seed: round };
        let found = plan(&problem, &Progress::default(), Preference::FinishSoonest, budget);
        assert_eq!(validate(&problem, &Progress::default(), &found), []);
        let at = At {
            place: 0,
            time: 0,
            values: problem.states.iter().map(|state| state.found.clone()).collect(),
            done: vec![None; problem.acts.len()],
        };
        let mut force =
            BruteForce { problem: &problem, best: found.finish + 1, seen: BTreeMap::new() };
        force.search(&at);
        assert_eq!(force.best, found.finish, "round {round}: {problem:#?}\n{found:#?}");
        largest = largest.max(kind.acts);
    }
    assert_eq!(largest, 12);
}
