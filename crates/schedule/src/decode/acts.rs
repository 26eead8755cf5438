//! An act's turn in the replay: what it waits for first, then the act itself.

use super::people::Turn;
use super::standing::{Leeway, latest, raise, raise_one};
use super::{DEEPEST, Decoder, ROUNDS, RawStep, penalty};
use crate::Ticks;
use crate::compact::{Item, UNDONE};

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
        if self.goes_at_once(number) {
            return;
        }
        self.in_hand[index] = true;
        self.depth += 1;
        for &earlier in &self.problem.acts[index].before {
            if !self.at.is_done(earlier) {
                self.perform(earlier);
            }
        }
        if !self.goes_in_the_end(number) {
            let turn = self.turn_for(number);
            self.at.broken += self.needs_broken_by(number);
            self.take(turn, number);
        }
        self.in_hand[index] = false;
        self.depth -= 1;
    }

    /// Clears the way for an act until it goes or nothing more helps; says whether it was done.
    fn goes_in_the_end(&mut self, number: u16) -> bool {
        for _ in 0..ROUNDS {
            if self.goes_at_once(number) {
                return true;
            }
            if !self.clear_the_way_for(number) {
                return false;
            }
        }
        false
    }

    /// Does an act if one person has nothing in the way, as is usual; says whether it did. Without it the
    /// rest of [`Self::perform`] comes to the same, only slower.
    #[inline]
    fn goes_at_once(&mut self, number: u16) -> bool {
        let act = &self.facts.acts[usize::from(number)];
        let at = &self.at;
        let clear = !self.several
            && act.refuses & at.shown == 0
            && act.stirs & at.quiet == 0
            && act.claims & at.claimed == 0
            && self.facts.befores(act).iter().all(|&(word, bits)| at.done[word] & bits == bits);
        if !clear {
            return false;
        }
        let (place, ticks, opens, closes) = (act.place, act.ticks, act.opens, act.closes);
        let (windows, (from, to)) = (act.windows, act.window);
        let walk = self.problem.walk(at.places[0], place);
        let arrival = at.free[0] + walk;
        let start = if closes { self.waited_for(number).max(arrival) } else { arrival };
        let end = start + ticks;
        if windows && (start < from || end > to) {
            return false;
        }
        let turn = Turn { person: 0, everybody: false, start };
        if self.missed_return(turn, place, end, number).is_some() {
            return false;
        }
        if closes {
            self.at.broken += self.lateness_of(number, start);
        }
        if windows {
            self.leeway.at_least(from - start);
            self.leeway.at_most(to - end);
        }
        let at = &mut self.at;
        at.walking += walk;
        at.idle += start - arrival;
        at.places[0] = place;
        at.free[0] = end;
        at.mark_done(number);
        at.completion += i64::from(end);
        if opens || closes {
            self.turn_waits(number, start, end);
        }
        if let Some(steps) = &mut self.steps {
            steps.push(RawStep { item: Item::Act(number), start, end, people: 1 });
        }
        true
    }

    /// Ends the waits that an act closes, and begins those that it opens.
    fn turn_waits(&mut self, number: u16, start: Ticks, end: Ticks) {
        let act = &self.problem.acts[usize::from(number)];
        for &closed in &act.closes {
            self.close(closed, start, end);
        }
        for &opened in &act.opens {
            let runs = !self.at.is_done(self.facts.waits[usize::from(opened)].closes);
            self.at.begin(opened, end, runs, &self.facts);
        }
    }

    /// Does one thing that the act needs done first; says whether there was any.
    fn clear_the_way_for(&mut self, number: u16) -> bool {
        let problem = self.problem;
        let act = &problem.acts[usize::from(number)];
        let facts = self.facts.acts[usize::from(number)];
        if let Some(closing) = self.disturbed_wait(number) {
            self.perform(closing);
            return true;
        }
        if facts.refuses & self.at.shown != 0 {
            let keeps = act.opens.iter().flat_map(|&wait| &problem.waits[usize::from(wait)].keeps);
            for &need in act.needs.iter().chain(keeps) {
                if !self.at.meets(need) {
                    self.bring_about(need);
                }
            }
            return true;
        }
        let turn = self.turn_for(number);
        match self.missed_return(turn, facts.place, turn.start + facts.ticks, number) {
            Some(closing) => {
                self.perform(closing);
                true
            }
            None => false,
        }
    }

    /// The closing act of a running wait that this act would disturb.
    fn disturbed_wait(&self, number: u16) -> Option<u16> {
        let act = &self.facts.acts[usize::from(number)];
        if act.stirs & self.at.quiet == 0 && act.claims & self.at.claimed == 0 {
            return None;
        }
        self.at.running.iter().find_map(|&running| {
            let wait = &self.facts.waits[usize::from(running)];
            let disturbs = wait.quiet & act.stirs != 0 || wait.claims & act.claims != 0;
            let free = wait.closes != number && !self.in_hand[usize::from(wait.closes)];
            (disturbs && free).then_some(wait.closes)
        })
    }

    /// Whose turn an act is, and when.
    fn turn_for(&mut self, number: u16) -> Turn {
        let facts = &self.facts.acts[usize::from(number)];
        let (place, closes, windows) = (facts.place, facts.closes, facts.windows);
        let mut ready = self.problem.standing.time;
        if self.several {
            ready = self.ready_in_company(number);
        }
        if closes {
            ready = ready.max(self.waited_for(number));
        }
        let turn = if self.several {
            let act = &self.problem.acts[usize::from(number)];
            self.turn(place, ready, act.skill, act.together)
        } else {
            self.turn(place, ready, 0, false)
        };
        if windows { self.within_a_window(turn, number) } else { turn }
    }

    /// From when on the waits are long enough that an act ends.
    fn waited_for(&mut self, number: u16) -> Ticks {
        let act = &self.problem.acts[usize::from(number)];
        let arrival = self.arrival(0, act.place);
        let mut ready = self.problem.standing.time;
        for &number in &act.closes {
            let wait = &mut self.at.waits[usize::from(number)];
            if wait.since == UNDONE {
                continue;
            }
            let earliest = wait.since + self.facts.waits[usize::from(number)].at_least;
            ready = ready.max(earliest);
            if arrival < earliest {
                wait.leeway = Leeway::NONE;
            } else {
                wait.leeway.at_most(arrival - earliest);
            }
        }
        ready
    }

    /// From when on an act may be done, as far as that is a question of two people.
    fn ready_in_company(&self, number: u16) -> Ticks {
        let mut ready = self.problem.standing.time;
        let Some(company) = &self.at.company else { return ready };
        let act = &self.problem.acts[usize::from(number)];
        for &earlier in &act.before {
            ready = ready.max(company.ends[usize::from(earlier)]);
        }
        for &(state, _) in &act.needs {
            ready = ready.max(company.settled[usize::from(state)]);
        }
        ready = ready.max(latest(&company.quiet_until, act.stirs));
        for &number in &act.opens {
            let wait = &self.problem.waits[usize::from(number)];
            for &(state, _) in &wait.keeps {
                ready = ready.max(company.settled[usize::from(state)]);
            }
            ready = ready.max(latest(&company.claimed_until, wait.claims));
            let stirred = latest(&company.stirred_until, wait.quiet);
            ready = ready.max(stirred.saturating_sub(act.ticks));
        }
        ready
    }

    /// The turn put off until the first window into which the act still fits.
    fn within_a_window(&mut self, turn: Turn, number: u16) -> Turn {
        let start = turn.start;
        let facts = &self.facts.acts[usize::from(number)];
        let (from, to) = facts.window;
        if from <= start && start + facts.ticks <= to {
            self.leeway.at_least(from - start);
            self.leeway.at_most(to - facts.ticks - start);
            return turn;
        }
        let act = &self.problem.acts[usize::from(number)];
        for &(from, to) in &act.windows {
            if start.max(from) + act.ticks > to {
                self.leeway.at_least(to - act.ticks - start + 1);
                continue;
            }
            if start < from {
                self.leeway = Leeway::NONE;
                return Turn { start: from, ..turn };
            }
            self.leeway.at_least(from - start);
            self.leeway.at_most(to - act.ticks - start);
            return turn;
        }
        self.leeway = Leeway::NONE;
        turn
    }

    /// Does the act now, and counts how far it is too late.
    fn take(&mut self, turn: Turn, number: u16) {
        let facts = self.facts.acts[usize::from(number)];
        let act = &self.problem.acts[usize::from(number)];
        let end = turn.start + facts.ticks;
        if facts.closes || facts.windows {
            self.at.broken += self.lateness_of(number, turn.start);
        }
        self.send(turn, facts.place, end);
        self.at.mark_done(number);
        self.at.completion += i64::from(end);
        if let Some(company) = &mut self.at.company {
            company.ends[usize::from(number)] = end;
            for &(state, _) in &act.needs {
                raise_one(&mut company.needed_until[usize::from(state)], end);
            }
            raise(&mut company.stirred_until, act.stirs, end);
        }
        self.turn_waits(number, turn.start, end);
        if self.steps.is_some() {
            let people = self.people_bits(turn);
            let steps = self.steps.get_or_insert_default();
            steps.push(RawStep { item: Item::Act(number), start: turn.start, end, people });
        }
    }

    /// Ends a wait; what it kept and wanted quiet was so until now.
    fn close(&mut self, number: u16, start: Ticks, end: Ticks) {
        self.at.end(number, &self.facts);
        if let Some(company) = &mut self.at.company {
            let wait = &self.problem.waits[usize::from(number)];
            for &(state, _) in &wait.keeps {
                raise_one(&mut company.needed_until[usize::from(state)], start);
            }
            raise(&mut company.quiet_until, wait.quiet, start);
            raise(&mut company.claimed_until, wait.claims, end);
        }
    }

    /// How badly the act breaks rules now, whenever it starts.
    fn needs_broken_by(&self, number: u16) -> i64 {
        let problem = self.problem;
        let act = &problem.acts[usize::from(number)];
        let facts = &self.facts.acts[usize::from(number)];
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
        for &running in &at.running {
            let wait = &self.facts.waits[usize::from(running)];
            let disturbs = wait.quiet & act.stirs != 0 || wait.claims & facts.claims != 0;
            if wait.closes != number && disturbs {
                broken += penalty::WAIT;
            }
        }
        for &opened in &act.opens {
            if self.facts.waits[usize::from(opened)].refuses & at.shown != 0 {
                broken += penalty::WAIT;
            }
        }
        broken
    }

    /// How far the act is out of its windows or after the latest return if it starts at this time.
    fn lateness_of(&mut self, number: u16, start: Ticks) -> i64 {
        let act = &self.problem.acts[usize::from(number)];
        let mut broken = 0;
        for &closed in &act.closes {
            let wait = &mut self.at.waits[usize::from(closed)];
            if wait.since != UNDONE {
                let latest = wait.since + self.facts.waits[usize::from(closed)].at_most;
                if start > latest {
                    wait.leeway = Leeway::NONE;
                    broken += i64::from(start - latest);
                } else {
                    wait.leeway.at_least(start - latest);
                }
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
