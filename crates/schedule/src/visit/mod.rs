//! From a plan and what is recorded to a visit that can be scheduled, and back to what people read.

mod calendar;
mod kit;
mod owner;
mod policy;
mod prepare;
mod site;
mod walking;
mod words;

pub use calendar::calendar;
pub use kit::{Instrument, kit};
pub use owner::note_for_the_owner;
pub use prepare::prepare;
pub use site::site_words;
pub use words::{explanation, timeline};

use std::collections::BTreeMap;

use jiff::civil::DateTime;

use crate::Ticks;
use crate::problem::{Person, Problem, Progress, Window};
use crate::schedule::Task;
use crate::ticks::TICKS_PER_MINUTE;

/// What is known of the day beside plan and record.
#[derive(Clone, Debug)]
pub struct Circumstances {
    /// When the visit starts.
    pub start: DateTime,
    /// The time now, for a visit under way; its start if it has not begun.
    pub now: DateTime,
    /// When there is light enough outside; none for all day.
    pub light: Option<(DateTime, DateTime)>,
    /// When it is dry enough for the roof; none for all day.
    pub dry: Option<(DateTime, DateTime)>,
    /// When the owner is there to talk; none for all day.
    pub owner: Option<(DateTime, DateTime)>,
    /// Who works; one or two.
    pub people: Vec<Person>,
}

/// A visit that can be scheduled.
#[derive(Clone, Debug)]
pub struct Visit {
    /// The problem.
    pub problem: Problem,
    /// Where it stands.
    pub progress: Progress,
    /// When it starts: tick 0.
    pub start: DateTime,
    /// What people read for the ids of acts, places and states.
    titles: BTreeMap<String, String>,
    /// What can hurt at an act, by the act's id, and at a change, by state and value.
    cautions: BTreeMap<String, String>,
    /// What runs meanwhile and what must be left alone, by the id of the act that ends the wait.
    waits: BTreeMap<String, (String, Vec<String>)>,
    /// The acts in the plan's plain walking order.
    walking_order: Vec<Task>,
}

impl Visit {
    /// What people read for an id.
    #[must_use]
    pub fn title(&self, id: &str) -> String {
        self.titles.get(id).cloned().unwrap_or_else(|| id.replace('_', " "))
    }

    /// What people read for a task: a point's title, or the change of a site state.
    #[must_use]
    pub fn task_title(&self, task: &Task) -> String {
        match task {
            Task::Act(id) => self.title(id),
            Task::Change { state, to } => format!("{} {}", self.title(state), to),
        }
    }

    /// What can hurt at a task; empty where nothing can.
    #[must_use]
    pub fn caution(&self, task: &Task) -> &str {
        let key = match task {
            Task::Act(id) => id.clone(),
            Task::Change { state, to } => format!("{state} {to}"),
        };
        self.cautions.get(&key).map_or("", String::as_str)
    }

    /// What runs during the wait that this act ends, and what must be left alone meanwhile.
    #[must_use]
    pub fn meanwhile(&self, closes: &str) -> Option<(&str, &[String])> {
        let (what, untouched) = self.waits.get(closes)?;
        Some((what, untouched))
    }

    /// The acts as the plan lists them, by stop: each wait sat out where it was started.
    #[must_use]
    pub fn walking_order(&self) -> &[Task] {
        &self.walking_order
    }

    /// The same with every return after a wait left to the end: the other way to work by a list.
    #[must_use]
    pub fn walking_order_with_returns_last(&self) -> Vec<Task> {
        let returns = |task: &&Task| matches!(task, Task::Act(id) if self.waits.contains_key(id));
        let order = &self.walking_order;
        order
            .iter()
            .filter(|task| !returns(task))
            .chain(order.iter().filter(returns))
            .cloned()
            .collect()
    }

    /// A time on the visit's clock as a time of day.
    #[must_use]
    pub fn time(&self, ticks: Ticks) -> DateTime {
        let seconds = i64::from(ticks) * 60 / i64::from(TICKS_PER_MINUTE);
        let span = jiff::SignedDuration::from_secs(seconds);
        self.start.checked_add(span).unwrap_or(self.start)
    }
}

/// A span of the day on a visit's clock.
fn window(start: DateTime, span: (DateTime, DateTime)) -> Window {
    Window { from: ticks_between(start, span.0).max(0), to: ticks_between(start, span.1).max(0) }
}

/// From one moment to another in whole ticks, rounded towards the first.
fn ticks_between(from: DateTime, to: DateTime) -> Ticks {
    let seconds = from.duration_until(to).as_secs();
    let ticks = seconds * i64::from(TICKS_PER_MINUTE) / 60;
    Ticks::try_from(ticks)
        .unwrap_or(crate::ticks::NEVER)
        .clamp(-crate::ticks::NEVER, crate::ticks::NEVER)
}
