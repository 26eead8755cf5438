//! The site's states through the visit: what acts and changes need, guards, and how it is left.

use super::{Replay, Rule};
use crate::Ticks;
use crate::problem::Need;

impl Replay<'_> {
    /// The settled value of a state at a time: that of the last change that has ended by then.
    pub(super) fn value_at(&self, state: &str, time: Ticks) -> String {
        let ended = self
            .changes
            .iter()
            .filter(|change| change.state == state && change.end <= time)
            .max_by_key(|change| change.end);
        if let Some(change) = ended {
            return change.to.to_owned();
        }
        let before = self.progress.states.get(state);
        let found = || self.problem.state(state).map(|state| state.found.clone());
        before.cloned().or_else(found).unwrap_or_default()
    }

    /// Why a need does not hold all the time from `start` to `end`.
    fn unmet(&self, need: &Need, start: Ticks, end: Ticks) -> Option<String> {
        let value = self.value_at(&need.state, start);
        if !need.any_of.contains(&value) {
            let wanted = need.any_of.join(" or ");
            return Some(format!("needs `{}` {wanted}, and it is {value}", need.state));
        }
        let change = self.changes.iter().find(|change| {
            change.state == need.state && change.start < end && change.end > start
        })?;
        Some(format!("needs `{}`, which is being changed to {}", need.state, change.to))
    }

    pub(super) fn site(&mut self) {
        let mut found: Vec<(Rule, Vec<&str>, String)> = Vec::new();
        for step in &self.schedule.steps {
            let (needs, own) = match &step.task {
                crate::Task::Act(id) => {
                    let Some(act) = self.problem.act(id) else { continue };
                    (&act.needs, id)
                }
                crate::Task::Change { state, to } => {
                    let change = self.problem.state(state).and_then(|state| state.change(to));
                    let Some(change) = change else { continue };
                    for guard in &change.after {
                        if self.done(guard).is_none_or(|done| done.end > step.start) {
                            let sentence = format!("{} comes before `{guard}`", step.task);
                            found.push((Rule::Guard, vec![state, guard], sentence));
                        }
                    }
                    if self.value_at(state, step.start) == *to {
                        let sentence = format!("{} changes nothing", step.task);
                        found.push((Rule::NoChange, vec![state], sentence));
                    }
                    (&change.needs, state)
                }
            };
            for need in needs {
                if let Some(why) = self.unmet(need, step.start, step.end) {
                    found.push((
                        Rule::Need,
                        vec![own, &need.state],
                        format!("{} {why}", step.task),
                    ));
                }
            }
        }
        for (index, change) in self.changes.iter().enumerate() {
            for earlier in &self.changes[..index] {
                if earlier.state == change.state && earlier.end > change.start {
                    let sentence = format!("`{}` is changed twice at once", change.state);
                    found.push((Rule::Need, vec![change.state], sentence));
                }
            }
        }
        for state in &self.problem.states {
            let last = self.value_at(&state.id, Ticks::MAX);
            if let Some(leave) = &state.leave
                && last != *leave
            {
                let sentence = format!("`{}` is left at {last}, not at {leave}", state.id);
                found.push((Rule::Leave, vec![&state.id], sentence));
            }
        }
        for (rule, about, sentence) in found {
            self.say(rule, &about, sentence);
        }
    }
}
