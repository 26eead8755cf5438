//! Orders, windows, waits, and what must be left alone meanwhile.

use super::{Done, Replay, Rule};
use crate::Ticks;
use crate::problem::{Wait, Why};

/// A broken rule, before it is said.
type Found<'a> = (Rule, Vec<&'a str>, String);

impl<'a> Replay<'a> {
    pub(super) fn rules(&mut self) {
        let mut found = Vec::new();
        self.orders(&mut found);
        self.windows(&mut found);
        for (index, wait) in self.problem.waits.iter().enumerate() {
            if let (Some(opens), Some(closes)) = (self.done(&wait.opens), self.done(&wait.closes)) {
                self.lengths(wait, opens, closes, &mut found);
                self.meanwhile(wait, opens, closes, &mut found);
            }
            self.claims(index, wait, &mut found);
        }
        self.in_the_way(&mut found);
        for (rule, about, sentence) in found {
            self.say(rule, &about, sentence);
        }
    }

    /// Whether an act lies in the past: nothing can be done about it any more.
    fn is_past(&self, id: &str) -> bool {
        self.progress.done.contains_key(id)
    }

    fn orders(&self, found: &mut Vec<Found<'a>>) {
        for order in &self.problem.orders {
            if self.is_past(&order.then) {
                continue;
            }
            if let (Some(first), Some(then)) = (self.done(&order.first), self.done(&order.then))
                && first.end > then.start
            {
                let (rule, why) = match order.why {
                    Why::Sequence => (Rule::Order, "comes after"),
                    Why::Safety => (Rule::Safety, "is made safe by"),
                };
                let sentence =
                    format!("`{}` {why} `{}`, and starts first", order.then, order.first);
                found.push((rule, vec![&order.first, &order.then], sentence));
            }
        }
    }

    fn windows(&self, found: &mut Vec<Found<'a>>) {
        for act in self.problem.acts.iter().filter(|act| !act.windows.is_empty()) {
            let Some(done) = self.done(&act.id) else { continue };
            let inside = act.windows.iter().any(|one| one.from <= done.start && done.end <= one.to);
            if !inside && !self.is_past(&act.id) {
                let sentence = format!("`{}` lies outside its windows", act.id);
                found.push((Rule::Window, vec![&act.id], sentence));
            }
        }
    }

    fn lengths(
        &self,
        wait: &'a Wait,
        opens: Done<'a>,
        closes: Done<'a>,
        found: &mut Vec<Found<'a>>,
    ) {
        if self.is_past(&wait.closes) {
            return;
        }
        let gap = closes.start - opens.end;
        let (first, then) = (&wait.opens, &wait.closes);
        if gap < wait.at_least {
            let least = wait.at_least;
            let sentence = format!("`{then}` comes {gap} after `{first}`, earlier than {least}");
            found.push((Rule::TooEarly, vec![first, then], sentence));
        }
        if let Some(most) = wait.at_most
            && gap > most
        {
            let sentence = format!("`{then}` comes {gap} after `{first}`, later than {most}");
            found.push((Rule::TooLate, vec![first, then], sentence));
        }
    }

    /// What a wait keeps and what it wants quiet, from its opening act's end to its closing act's start.
    fn meanwhile(
        &self,
        wait: &'a Wait,
        opens: Done<'a>,
        closes: Done<'a>,
        found: &mut Vec<Found<'a>>,
    ) {
        if self.is_past(&wait.closes) {
            return;
        }
        let (from, to) = (opens.end, closes.start);
        for need in &wait.keeps {
            let value = self.value_at(&need.state, from.max(self.progress.now));
            let left = self.changes.iter().find(|change| {
                let away = !need.any_of.iter().any(|value| value == change.to);
                change.state == need.state && away && change.start < to && change.end > from
            });
            if !need.any_of.contains(&value) || left.is_some() {
                let sentence = format!(
                    "the wait from `{}` to `{}` keeps `{}` {}, and it does not stay so",
                    wait.opens,
                    wait.closes,
                    need.state,
                    need.any_of.join(" or ")
                );
                found.push((Rule::Kept, vec![&wait.opens, &need.state], sentence));
            }
        }
        for act in &self.problem.acts {
            if act.id == wait.opens || act.id == wait.closes || self.is_past(&act.id) {
                continue;
            }
            let Some(done) = self.done(&act.id) else { continue };
            let channel = act.stirs.iter().find(|channel| wait.quiet.contains(channel));
            if let Some(channel) = channel
                && overlap((from, to), (done.start, done.end))
            {
                let sentence = format!(
                    "`{}` stirs `{channel}` during the wait from `{}` to `{}`",
                    act.id, wait.opens, wait.closes
                );
                found.push((Rule::Quiet, vec![&act.id, &wait.opens], sentence));
            }
        }
    }

    fn claims(&self, index: usize, wait: &'a Wait, found: &mut Vec<Found<'a>>) {
        for other in &self.problem.waits[..index] {
            let shared = wait.claims.iter().find(|claim| other.claims.contains(claim));
            let Some(shared) = shared else { continue };
            let span = |wait: &Wait| {
                let opens = self.done(&wait.opens)?;
                Some((opens.start, self.done(&wait.closes)?.end))
            };
            let (Some(this), Some(that)) = (span(wait), span(other)) else { continue };
            let past = |wait: &Wait| self.is_past(&wait.opens);
            if overlap(this, that) && !(past(wait) && past(other)) {
                let sentence = format!(
                    "the waits from `{}` and from `{}` both claim `{shared}`",
                    wait.opens, other.opens
                );
                found.push((Rule::Claim, vec![&wait.opens, &other.opens], sentence));
            }
        }
    }

    fn in_the_way(&self, found: &mut Vec<Found<'a>>) {
        for changed in &self.changes {
            let state = self.problem.state(changed.state);
            let Some(change) = state.and_then(|state| state.change(changed.to)) else { continue };
            for act in &self.problem.acts {
                let Some(done) = self.done(&act.id) else { continue };
                let stirs = act.stirs.iter().any(|channel| change.clears.contains(channel));
                if stirs && overlap((changed.start, changed.end), (done.start, done.end)) {
                    let sentence = format!(
                        "`{}` is in the way of changing `{}` to `{}`",
                        act.id, changed.state, changed.to
                    );
                    found.push((Rule::InTheWay, vec![&act.id, changed.state], sentence));
                }
            }
        }
    }
}

/// Whether two spans of time have more than an end in common.
fn overlap(one: (Ticks, Ticks), other: (Ticks, Ticks)) -> bool {
    one.0 < other.1 && other.0 < one.1
}
