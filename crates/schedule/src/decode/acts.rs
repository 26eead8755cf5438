//! An act's turn in the replay: what it waits for first, then the act itself.

use super::people::Turn;
use super::standing::{latest, raise};
use super::{DEEPEST, Decoder, ROUNDS, RawStep, penalty};
use crate::Ticks;
use crate::compact::Item;

impl Decoder<'_> {
    /// Does an act, with all that it waits for before it.
    pub(super) fn perform(&mut self, number: u16) {
        let index = usize::from(number);
        if self.at.is_done(number) || self.in_hand[index] {
            return;
        }
        if self.depth > DEEPEST {
            self.at.broken += penalty::CIRCLE;
            return;
        }
        self.in_hand[index] = true;
        self.depth += 1;
        let problem = self.problem;
        for &earlier in &problem.acts[index].before {
            self.perform(earlier);
        }
        for _ in 0..ROUNDS {
            if !self.clear_the_way_for(number) {
                break;
            }
        }
        self.do_it(number);
        self.in_hand[index] = false;
        self.depth -= 1;
    }

    /// Does one thing that the act needs done first; says whether there was any.
    fn clear_the_way_for(&mut self, number: u16) -> bool {
        let problem = self.problem;
        let act = &problem.acts[usize::from(number)];
        if let Some(closing) = self.disturbed_wait(number) {
            self.perform(closing);
            return true;
        }
        let mut something = false;
        let keeps = act.opens.iter().flat_map(|&wait| &problem.waits[usize::from(wait)].keeps);
        for &need in act.needs.iter().chain(keeps) {
            if !self.at.meets(need) {
                self.bring_about(need);
                something = true;
            }
        }
        if something {
            return true;
        }
        let turn = self.turn_for(number);
        if let Some(closing) = self.missed_return(turn, act.place, turn.start + act.ticks, number) {
            self.perform(closing);
            return true;
        }
        false
    }

    /// The closing act of a running wait that this act would disturb.
    fn disturbed_wait(&self, number: u16) -> Option<u16> {
        let act = &self.problem.acts[usize::from(number)];
        let claims = act
            .opens
            .iter()
            .fold(0, |all, &wait| all | self.problem.waits[usize::from(wait)].claims);
        self.at.running.iter().find_map(|&running| {
            let wait = &self.problem.waits[usize::from(running)];
            let disturbs = wait.quiet & act.stirs != 0 || wait.claims & claims != 0;
            let free = wait.closes != number && !self.in_hand[usize::from(wait.closes)];
            (disturbs && free).then_some(wait.closes)
        })
    }

    /// Whose turn an act is, and when.
    fn turn_for(&self, number: u16) -> Turn {
        let act = &self.problem.acts[usize::from(number)];
        let at = &self.at;
        let mut ready = self.problem.standing.time;
        for &number in &act.closes {
            let wait = &self.problem.waits[usize::from(number)];
            if at.is_done(wait.opens) {
                ready = ready.max(at.ends[usize::from(wait.opens)] + wait.at_least);
            }
        }
        if self.several {
            // One person's past may be another's future.
            for &earlier in &act.before {
                ready = ready.max(at.ends[usize::from(earlier)]);
            }
            for &(state, _) in &act.needs {
                ready = ready.max(at.settled[usize::from(state)]);
            }
            ready = ready.max(latest(&at.quiet_until, act.stirs));
            for &number in &act.opens {
                let wait = &self.problem.waits[usize::from(number)];
                for &(state, _) in &wait.keeps {
                    ready = ready.max(at.settled[usize::from(state)]);
                }
                ready = ready.max(latest(&at.claimed_until, wait.claims));
                let stirred = latest(&at.stirred_until, wait.quiet);
                ready = ready.max(stirred.saturating_sub(act.ticks));
            }
        }
        let turn = self.turn(act.place, ready, act.skill, act.together);
        let inside = act.windows.iter().find(|&&(from, to)| turn.start.max(from) + act.ticks <= to);
        match inside {
            Some(&(from, _)) => Turn { start: turn.start.max(from), ..turn },
            None => turn,
        }
    }

    /// Does the act now, and counts the rules that it breaks.
    fn do_it(&mut self, number: u16) {
        let problem = self.problem;
        let act = &problem.acts[usize::from(number)];
        let turn = self.turn_for(number);
        let end = turn.start + act.ticks;
        self.at.broken += self.breaches_of(number, turn.start);
        self.send(turn, act.place, end);
        self.at.ends[usize::from(number)] = end;
        self.at.completion += i64::from(end);
        if self.several {
            for &(state, _) in &act.needs {
                let until = &mut self.at.needed_until[usize::from(state)];
                *until = end.max(*until);
            }
            raise(&mut self.at.stirred_until, act.stirs, end);
        }
        for &closed in &act.closes {
            self.close(closed, turn.start, end);
        }
        for &opened in &act.opens {
            if !self.at.is_done(problem.waits[usize::from(opened)].closes) {
                self.at.running.push(opened);
            }
        }
        let people = self.people_bits(turn);
        if let Some(steps) = &mut self.steps {
            steps.push(RawStep { item: Item::Act(number), start: turn.start, end, people });
        }
    }

    /// Ends a wait; what it kept and wanted quiet was so until now.
    fn close(&mut self, number: u16, start: Ticks, end: Ticks) {
        self.at.running.retain(|&running| running != number);
        if self.several {
            let wait = &self.problem.waits[usize::from(number)];
            for &(state, _) in &wait.keeps {
                let until = &mut self.at.needed_until[usize::from(state)];
                *until = start.max(*until);
            }
            raise(&mut self.at.quiet_until, wait.quiet, start);
            raise(&mut self.at.claimed_until, wait.claims, end);
        }
    }

    /// How badly the act breaks rules when it starts at this time.
    fn breaches_of(&self, number: u16, start: Ticks) -> i64 {
        let problem = self.problem;
        let act = &problem.acts[usize::from(number)];
        let at = &self.at;
        let mut broken = 0;
        if !act.needs.iter().all(|&need| at.meets(need)) {
            broken += penalty::NEED;
        }
        for &earlier in &act.before {
            if !at.is_done(earlier) {
                broken += penalty::NEED;
            }
        }
        let claims =
            act.opens.iter().fold(0, |all, &wait| all | problem.waits[usize::from(wait)].claims);
        for &number_of_wait in &at.running {
            let wait = &problem.waits[usize::from(number_of_wait)];
            let disturbs = wait.quiet & act.stirs != 0 || wait.claims & claims != 0;
            if wait.closes != number && disturbs {
                broken += penalty::WAIT;
            }
        }
        for &opened in &act.opens {
            let keeps = &problem.waits[usize::from(opened)].keeps;
            if !keeps.iter().all(|&need| at.meets(need)) {
                broken += penalty::WAIT;
            }
        }
        for &closed in &act.closes {
            let wait = &problem.waits[usize::from(closed)];
            if at.is_done(wait.opens) {
                let latest = at.ends[usize::from(wait.opens)] + wait.at_most;
                broken += i64::from((start - latest).max(0));
            }
        }
        let end = start + act.ticks;
        if let Some(&(_, last)) = act.windows.last()
            && !act.windows.iter().any(|&(from, to)| from <= start && end <= to)
        {
            broken += i64::from((end - last).max(1));
        }
        broken
    }
}
