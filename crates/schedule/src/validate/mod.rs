//! An independent look at a finished schedule: every rule that it breaks, by name.
//!
//! Nothing here is shared with the planner, not even how a problem is held in memory: it replays the
//! steps with the ids and words of the [`Problem`].

mod people;
mod rules;
mod site;

use crate::Ticks;
use crate::problem::{Problem, Progress, blocked};
use crate::schedule::{Schedule, Task};

/// A rule that a schedule breaks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Broken {
    /// Which rule.
    pub rule: Rule,
    /// Ids of the acts, states or channels concerned.
    pub about: Vec<String>,
    /// What is wrong, in a sentence.
    pub sentence: String,
}

/// The rules that a schedule keeps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rule {
    /// Every act is there, unless it was done, skipped or is blocked.
    Missing,
    /// No act is there twice, or again after it was done.
    Twice,
    /// Every step does something that the problem knows, where and as long as it says.
    Unknown,
    /// Nothing starts in the past.
    Past,
    /// Nobody does two things at once, and walking takes its time.
    Walking,
    /// Who does it has the skill; what takes everybody has everybody.
    Skill,
    /// An act's or a change's needs hold as long as it takes.
    Need,
    /// What guards a change is done before it.
    Guard,
    /// A change changes something.
    NoChange,
    /// Everything is left as it should be.
    Leave,
    /// One act before another.
    Order,
    /// A safety step before what it protects.
    Safety,
    /// An act lies inside one of its windows.
    Window,
    /// A wait is not ended early.
    TooEarly,
    /// A wait is not ended late.
    TooLate,
    /// What a wait keeps is not changed meanwhile.
    Kept,
    /// What a wait wants quiet is not stirred meanwhile.
    Quiet,
    /// Two waits do not claim the same thing at once.
    Claim,
    /// Nobody is in the way of a change.
    InTheWay,
    /// What the schedule says of itself is right: its finish, its walking, its switches.
    Sums,
}

/// When an act is done: from the schedule, or from what was done before.
#[derive(Clone, Copy)]
struct Done<'a> {
    id: &'a str,
    start: Ticks,
    end: Ticks,
}

/// A change of a site state with its times.
struct Changed<'a> {
    state: &'a str,
    to: &'a str,
    start: Ticks,
    end: Ticks,
}

/// A schedule laid out for checking.
struct Replay<'a> {
    problem: &'a Problem,
    progress: &'a Progress,
    schedule: &'a Schedule,
    acts: Vec<Done<'a>>,
    changes: Vec<Changed<'a>>,
    broken: Vec<Broken>,
}

/// Every rule that a schedule breaks; none for a good one.
#[must_use]
pub fn validate(problem: &Problem, progress: &Progress, schedule: &Schedule) -> Vec<Broken> {
    let mut replay = Replay {
        problem,
        progress,
        schedule,
        acts: Vec::new(),
        changes: Vec::new(),
        broken: Vec::new(),
    };
    replay.lay_out();
    replay.everything_once();
    replay.people();
    replay.site();
    replay.rules();
    replay.sums();
    replay.broken
}

impl<'a> Replay<'a> {
    fn lay_out(&mut self) {
        for (id, span) in &self.progress.done {
            self.acts.push(Done { id, start: span.start, end: span.end });
        }
        for step in &self.schedule.steps {
            match &step.task {
                Task::Act(id) => {
                    self.acts.push(Done { id, start: step.start, end: step.end });
                    let known = self.problem.act(id);
                    let fits = known.is_some_and(|act| {
                        act.place == step.place && act.ticks == step.end - step.start
                    });
                    if !fits {
                        self.say(
                            Rule::Unknown,
                            &[id],
                            format!("`{id}` is not as the visit has it"),
                        );
                    }
                }
                Task::Change { state, to } => {
                    self.changes.push(Changed { state, to, start: step.start, end: step.end });
                    let change = self.problem.state(state).and_then(|state| state.change(to));
                    let fits = change.is_some_and(|change| {
                        change.place == step.place && change.ticks == step.end - step.start
                    });
                    if !fits {
                        self.say(
                            Rule::Unknown,
                            &[state],
                            format!("changing `{state}` to `{to}` is not as the visit has it"),
                        );
                    }
                }
            }
        }
        self.changes.sort_by_key(|change| (change.start, change.end));
    }

    fn say(&mut self, rule: Rule, about: &[&str], sentence: String) {
        let about = about.iter().map(|&id| id.to_owned()).collect();
        self.broken.push(Broken { rule, about, sentence });
    }

    fn done(&self, id: &str) -> Option<Done<'a>> {
        self.acts.iter().find(|done| done.id == id).copied()
    }

    fn everything_once(&mut self) {
        let blocked = blocked(self.problem, self.progress);
        for act in &self.problem.acts {
            let id = act.id.as_str();
            let times = self.acts.iter().filter(|done| done.id == id).count();
            let left_out = self.progress.skipped.contains_key(id) || blocked.contains_key(id);
            if times > 1 {
                self.say(Rule::Twice, &[id], format!("`{id}` is done {times} times"));
            } else if times == 0 && !left_out {
                self.say(Rule::Missing, &[id], format!("`{id}` is missing"));
            } else if left_out && self.schedule.step_of(id).is_some() {
                self.say(Rule::Safety, &[id], format!("`{id}` is planned, and it was left out"));
            }
        }
    }
}
