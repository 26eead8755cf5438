//! What comes next: the rest of the visit planned from now, with the reasons for its order.

use inspection::PointId;
use schedule::{
    Budget, Circumstances, Person, Preference, Schedule, Step, TICKS_PER_MINUTE, Task, Ticks,
};

use super::why;
use crate::{Day, Now, Said, Visit, states, trouble};

/// Stops ahead that are shown for each person.
const STOPS: usize = 4;
/// Reasons that are given for what is to be done now.
const REASONS_NOW: usize = 3;

/// What comes next.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Ahead {
    /// What each person does now, in the order of people; nobody who is done.
    pub now: Vec<NextStep>,
    /// The next stops, in time.
    pub stops: Vec<NextStop>,
    /// When everything is done, as a clock shows it; empty when nothing is left.
    pub ends: String,
    /// Minutes until then.
    pub minutes: u32,
    /// Another order than before was taken, because it saves time or keeps what the old one would break.
    pub reordered: bool,
    /// What cannot be done any more because of what was left out: point, heading, why.
    pub blocked: Vec<(PointId, String, Said)>,
    /// What is wrong with the plan of the day.
    pub trouble: Option<Said>,
}

/// Something to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NextStep {
    /// What.
    pub doing: Doing,
    /// The point's heading, or the state's.
    pub title: String,
    /// What can hurt, where it is the change of a state; a point says its own.
    pub caution: Option<Said>,
    /// The stop, by id and title.
    pub stop: (String, String),
    /// Who, counted from 0.
    pub person: usize,
    /// When, as a clock shows it.
    pub starts: String,
    /// Hands-on minutes, rounded up.
    pub minutes: u32,
    /// Minutes until it can begin; 0 where it can begin now or after the step before.
    pub idle_minutes: u32,
    /// Why it comes here, the weightiest first.
    pub why: Vec<Said>,
}

/// What a step does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Doing {
    /// A point.
    Point(PointId),
    /// The rest of a point, after its wait.
    Return(PointId),
    /// A change at the site.
    Change {
        /// The state's word, for [`crate::Act::SetState`] and [`crate::Act::UnsetState`].
        state: String,
        /// Whether the state holds afterwards.
        set: bool,
    },
}

/// Some steps at one stop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NextStop {
    /// Its id and title.
    pub stop: (String, String),
    /// Who, counted from 0.
    pub person: usize,
    /// When, as a clock shows it.
    pub starts: String,
    /// What is done there.
    pub steps: Vec<NextStep>,
}

impl Visit {
    /// Plans the rest of the visit from now and says what comes next. `day` gets the order; `tries` orders are tried to
    /// better it, from `seed`; with 0 the old order is only mended.
    #[must_use]
    pub fn ahead(&self, day: &mut Day, now: Now, tries: u32, seed: u64) -> Ahead {
        let start = now.moment.local.with().second(0).subsec_nanosecond(0).build();
        let start = start.unwrap_or(now.moment.local);
        let people =
            (0..day.people()).map(|number| Person { name: number.to_string(), skills: Vec::new() });
        let circumstances = Circumstances {
            start,
            now: start,
            light: None,
            dry: None,
            owner: None,
            people: people.collect(),
        };
        let prepared = match schedule::prepare(self.plan(), self.inspection(), &circumstances) {
            Ok(prepared) => prepared,
            Err(faults) => {
                let trouble = faults.first().map(|fault| self.clash(fault));
                return Ahead { trouble, ..Ahead::default() };
            }
        };
        let (problem, progress) = (&prepared.problem, &prepared.progress);
        let budget = Budget { decodes: tries, seed };
        let soonest = Preference::FinishSoonest;
        let (found, reordered) = if day.is_planned() {
            let mended = schedule::replan(problem, progress, &day.order, soonest, budget);
            (mended.schedule, mended.reordered)
        } else {
            (schedule::plan(problem, progress, soonest, budget), false)
        };
        day.order = found.order();
        let looking = Looking { visit: self, prepared: &prepared, found: &found };
        let (now, stops) = looking.steps(day.people());
        let in_hand = self.in_hand();
        Ahead {
            now: if in_hand.is_empty() { now } else { in_hand },
            stops,
            ends: if found.steps.is_empty() { String::new() } else { looking.clock(found.finish) },
            minutes: minutes(found.finish - progress.now),
            reordered,
            blocked: looking.blocked(),
            trouble: (found.penalty > 0).then(|| Said::new("ahead-late")),
        }
    }

    /// Points whose wait was ended and that are not done: the schedule counts them as over, and so they come first.
    fn in_hand(&self) -> Vec<NextStep> {
        let rows = self.point_rows();
        let ended = |point: &str| {
            let mut waits =
                self.inspection().waits.values().filter(|it| it.point.as_str() == point);
            waits.clone().all(|wait| wait.ended.is_some()) && waits.next().is_some()
        };
        rows.iter()
            .filter(|(_, row)| !row.state.is_done() && ended(row.id.as_str()))
            .filter_map(|(_, row)| {
                let point = self.plan().point(row.id.as_str())?;
                Some(NextStep {
                    doing: Doing::Return(row.id.clone()),
                    title: point.title.clone(),
                    caution: None,
                    stop: self.stop_of(&point.stop),
                    person: 0,
                    starts: String::new(),
                    minutes: (point.minutes.whole_minutes() / 2).max(1),
                    idle_minutes: 0,
                    why: vec![Said::new("why-wait-ended")],
                })
            })
            .collect()
    }

    /// Why the rest of the visit cannot be planned.
    fn clash(&self, fault: &schedule::Fault) -> Said {
        trouble::of_schedule(fault, |id| {
            // The act after a point's wait goes by the point's name.
            let point = self.plan().point(id).or_else(|| self.plan().point(id.rsplit_once('.')?.0));
            let state = self.plan().site_states.iter().find(|state| state.id == id);
            let title = point.map(|point| &point.title).or(state.map(|state| &state.title));
            title.cloned().unwrap_or_else(|| crate::entry::words(id))
        })
    }

    fn stop_of(&self, id: &str) -> (String, String) {
        let title = self.plan().stop(id).map_or_else(String::new, |stop| stop.title.clone());
        (id.to_owned(), title)
    }
}

/// A schedule beside the visit it was made for.
struct Looking<'a> {
    visit: &'a Visit,
    prepared: &'a schedule::Visit,
    found: &'a Schedule,
}

impl Looking<'_> {
    /// What each person does now, and the next stops.
    fn steps(&self, people: usize) -> (Vec<NextStep>, Vec<NextStop>) {
        let (mut now, mut all) = (Vec::new(), Vec::new());
        for person in 0..people {
            let mut stops: Vec<NextStop> = Vec::new();
            let mut busy_until = self.prepared.progress.now;
            let mine = self.found.steps.iter().enumerate();
            for (index, step) in mine.filter(|(_, step)| step.people.contains(&person)) {
                let first = index == self.first(person);
                let next = self.next(index, step, person, busy_until, first);
                busy_until = step.end;
                if first {
                    now.push(next);
                    continue;
                }
                let full = stops.len() == STOPS;
                match stops.last_mut().filter(|stop| stop.stop == next.stop) {
                    Some(stop) => stop.steps.push(next),
                    None if full => break,
                    None => stops.push(NextStop {
                        stop: next.stop.clone(),
                        person,
                        starts: next.starts.clone(),
                        steps: vec![next],
                    }),
                }
            }
            all.extend(stops);
        }
        all.sort_by(|one, other| (&one.starts, one.person).cmp(&(&other.starts, other.person)));
        (now, all)
    }

    fn first(&self, person: usize) -> usize {
        schedule::what_now(self.found, person).map_or(usize::MAX, |(index, _)| index)
    }

    fn next(
        &self,
        index: usize,
        step: &Step,
        person: usize,
        busy_until: Ticks,
        now: bool,
    ) -> NextStep {
        let (doing, title, caution) = self.doing(&step.task);
        let reasons =
            schedule::reasons(&self.prepared.problem, &self.prepared.progress, self.found, index);
        let why = reasons.iter().map(|reason| {
            why::said(reason, &|id| self.name(id), &|state, value| self.state_name(state, value))
        });
        // A step that comes later than the walk to it takes waits for something.
        let walk = self.walk(index, step, person);
        NextStep {
            doing,
            title,
            caution,
            stop: self.visit.stop_of(&step.place),
            person,
            starts: self.clock(step.start),
            minutes: minutes(step.end - step.start),
            idle_minutes: minutes((step.start - busy_until - walk).max(0)),
            why: why.take(if now { REASONS_NOW } else { 1 }).collect(),
        }
    }

    /// The walk of a person to a step.
    fn walk(&self, index: usize, step: &Step, person: usize) -> Ticks {
        let problem = &self.prepared.problem;
        let before = self.found.steps[..index].iter().rev();
        let before = before.clone().find(|one| one.people.contains(&person));
        let from = match before {
            Some(before) => &before.place,
            None => self.prepared.progress.at.get(person).unwrap_or(&problem.start),
        };
        let at = |place: &String| problem.places.iter().position(|one| one == place);
        match (at(from), at(&step.place)) {
            (Some(from), Some(to)) => problem.walks[from][to],
            _ => 0,
        }
    }

    fn doing(&self, task: &Task) -> (Doing, String, Option<Said>) {
        match task {
            Task::Act(id) => {
                let (point, returns) = self.point_of(id);
                let doing = if returns { Doing::Return(point) } else { Doing::Point(point) };
                (doing, self.name(id), None)
            }
            Task::Change { state, to } => {
                let (word, set) = self.word_of(state, to);
                let title = self.word_title(&word);
                (Doing::Change { state: word, set }, title, why::site_caution(state, to))
            }
        }
    }

    /// The point of an act, and whether it is the act after its wait.
    fn point_of(&self, act: &str) -> (PointId, bool) {
        let plan = self.visit.plan();
        match act.rsplit_once('.') {
            Some((point, _)) if plan.point(act).is_none() && plan.point(point).is_some() => {
                (point.into(), true)
            }
            _ => (act.into(), false),
        }
    }

    /// What people read for an act's id.
    fn name(&self, act: &str) -> String {
        let (point, _) = self.point_of(act);
        let point = self.visit.plan().point(point.as_str());
        point.map_or_else(|| self.prepared.title(act), |point| point.title.clone())
    }

    /// The word to be recorded when a state is brought to a value, and whether it holds then.
    fn word_of(&self, state: &str, value: &str) -> (String, bool) {
        let mut words = schedule::site_words(state);
        // A plan need not have a word for each value.
        words.retain(|(word, _)| self.visit.plan().site_states.iter().any(|it| it.id == *word));
        if let Some((word, _)) = words.iter().find(|(_, one)| *one == value) {
            return (word.clone(), true);
        }
        // A value without a word of its own is the end of another one: of the one that holds, or else of the first.
        let holds = |word: &str| states::holds(self.visit.inspection(), word) == Some(true);
        let ends = words.iter().find(|(word, _)| holds(word)).or(words.first());
        (ends.map_or_else(|| state.to_owned(), |(word, _)| word.clone()), false)
    }

    fn word_title(&self, word: &str) -> String {
        let known = self.visit.plan().site_states.iter().find(|known| known.id == word);
        known.map_or_else(|| crate::entry::words(word), |known| known.title.clone())
    }

    /// A state's value in words, and whether the words say that it is so.
    fn state_name(&self, state: &str, value: &str) -> (String, bool) {
        let (word, set) = self.word_of(state, value);
        (self.word_title(&word), set)
    }

    fn blocked(&self) -> Vec<(PointId, String, Said)> {
        let mut rows: Vec<(PointId, String, Said)> = Vec::new();
        for (act, reason) in schedule::blocked(&self.prepared.problem, &self.prepared.progress) {
            let (point, _) = self.point_of(&act);
            if rows.iter().any(|(known, ..)| *known == point) {
                continue;
            }
            let said = why::blocked(&reason, &|id| self.name(id), &|state, value| {
                self.state_name(state, value)
            });
            rows.push((point, self.name(&act), said));
        }
        rows
    }

    fn clock(&self, ticks: Ticks) -> String {
        self.prepared.time(ticks).strftime("%H:%M").to_string()
    }
}

/// Whole minutes, rounded up.
fn minutes(ticks: Ticks) -> u32 {
    let minutes = ticks / TICKS_PER_MINUTE + i32::from(ticks % TICKS_PER_MINUTE != 0);
    u32::try_from(minutes).unwrap_or_default()
}
