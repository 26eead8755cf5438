//! A schedule: what is done when, where and by whom.

use crate::Ticks;

/// What is done when, where and by whom, from the moment it was planned.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Schedule {
    /// The steps by their starts. Acts that were done before are not among them.
    pub steps: Vec<Step>,
    /// When the last person is back at the end.
    pub finish: Ticks,
    /// Time on foot, all people together.
    pub walking: Ticks,
    /// Time with nothing to do between a person's first and last step, all people together.
    pub idle: Ticks,
    /// Changes of site states.
    pub switches: u32,
    /// How badly the planner had to break rules, in half minutes of lateness that would be as bad; 0 for
    /// a good schedule. [`validate`](crate::validate()) says which rules.
    pub penalty: i64,
}

/// One thing done without a break.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What.
    pub task: Task,
    /// Where.
    pub place: String,
    /// Who, by the order of [`Problem::people`](crate::Problem::people).
    pub people: Vec<usize>,
    /// Start.
    pub start: Ticks,
    /// End.
    pub end: Ticks,
}

/// What a step does.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Task {
    /// An act, by its id.
    Act(String),
    /// A change of a site state.
    Change {
        /// The state.
        state: String,
        /// Its new value.
        to: String,
    },
}

impl std::fmt::Display for Task {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Act(id) => write!(formatter, "`{id}`"),
            Self::Change { state, to } => write!(formatter, "changing `{state}` to `{to}`"),
        }
    }
}

impl Schedule {
    /// The step that does this act.
    #[must_use]
    pub fn step_of(&self, act: &str) -> Option<&Step> {
        self.steps.iter().find(|step| matches!(&step.task, Task::Act(id) if id == act))
    }

    /// The order of the tasks: what a later planning starts from.
    #[must_use]
    pub fn order(&self) -> Vec<Task> {
        self.steps.iter().map(|step| step.task.clone()).collect()
    }
}
