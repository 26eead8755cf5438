//! People: one thing at a time, walks between, skills, nothing in the past, and the sums.

use super::{Replay, Rule};
use crate::Ticks;
use crate::schedule::{Step, Task};

impl<'a> Replay<'a> {
    fn walk(&self, from: &str, to: &str) -> Ticks {
        let at = |place: &str| self.problem.places.iter().position(|one| one == place);
        match (at(from), at(to)) {
            (Some(from), Some(to)) => self.problem.walks[from][to],
            _ => 0,
        }
    }

    /// A person's steps by their starts.
    fn steps_of(&self, person: usize) -> Vec<&'a Step> {
        let all = &self.schedule.steps;
        let mut steps: Vec<&Step> =
            all.iter().filter(|step| step.people.contains(&person)).collect();
        steps.sort_by_key(|step| (step.start, step.end));
        steps
    }

    /// Where a person is, and from when on they are free.
    fn standing(&self, person: usize) -> (&'a str, Ticks) {
        let progress = self.progress;
        let place = progress.at.get(person).unwrap_or(&self.problem.start);
        let busy = progress.done.values().filter(|span| span.person == person);
        (place, busy.map(|span| span.end).chain([progress.now]).max().unwrap_or(0))
    }

    pub(super) fn people(&mut self) {
        for person in 0..self.problem.people.len() {
            let (mut place, mut free) = self.standing(person);
            for step in self.steps_of(person) {
                let there = free + self.walk(place, &step.place);
                if step.start < there {
                    let sentence = format!(
                        "{} starts at {}, and {} can be there at {there} at the earliest",
                        step.task, step.start, self.problem.people[person].name
                    );
                    self.say(Rule::Walking, &[&step.place], sentence);
                }
                place = &step.place;
                free = step.end;
            }
        }
        for step in &self.schedule.steps {
            if step.start < self.progress.now {
                self.say(Rule::Past, &[], format!("{} starts in the past", step.task));
            }
            let (skill, together) = match &step.task {
                Task::Act(id) => self
                    .problem
                    .act(id)
                    .map_or((None, false), |act| (act.skill.as_ref(), act.together)),
                Task::Change { state, to } => {
                    let change = self.problem.state(state).and_then(|state| state.change(to));
                    (change.and_then(|change| change.skill.as_ref()), false)
                }
            };
            let people = &self.problem.people;
            let known = step.people.iter().filter_map(|&person| people.get(person));
            let has = |skill: &String| known.clone().any(|person| person.skills.contains(skill));
            let wanted = if together { people.len() } else { 1 };
            if known.clone().count() != wanted || step.people.len() != wanted {
                let sentence = format!("{} takes {wanted} people", step.task);
                self.say(Rule::Skill, &[], sentence);
            }
            if let Some(skill) = skill
                && !has(skill)
            {
                let sentence = format!("nobody who does {} has the skill `{skill}`", step.task);
                self.say(Rule::Skill, &[skill], sentence);
            }
        }
    }

    /// What the schedule says of itself.
    pub(super) fn sums(&mut self) {
        let mut finish = self.progress.now;
        let (mut walking, mut idle) = (0, 0);
        for person in 0..self.problem.people.len() {
            let (mut place, mut free) = self.standing(person);
            for step in self.steps_of(person) {
                let walk = self.walk(place, &step.place);
                walking += walk;
                idle += step.start - free - walk;
                place = &step.place;
                free = step.end;
            }
            let home = self.walk(place, &self.problem.end);
            walking += home;
            finish = finish.max(free + home);
        }
        let switches = u32::try_from(self.changes.len()).unwrap_or(u32::MAX);
        let said = self.schedule;
        if (said.finish, said.walking, said.idle, said.switches)
            != (finish, walking, idle, switches)
        {
            let sentence = format!(
                "the schedule says finish {}, walking {}, idle {}, switches {}, and it is {finish}, \
                 {walking}, {idle}, {switches}",
                said.finish, said.walking, said.idle, said.switches
            );
            self.say(Rule::Sums, &[], sentence);
        }
    }
}
