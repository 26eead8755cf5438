//! How long to leave a server alone that does not answer: longer each time, spread by chance, so that
//! a hundred phones coming back at once do not come back at once.

use crate::{dice::Dice, limits};

#[derive(Debug, Clone, Default)]
pub(crate) struct Backoff {
    failures: u32,
    until: u64,
}

impl Backoff {
    /// Something failed: waits from `now`, at least `at_least` milliseconds, and beyond that a time
    /// drawn from all of a span that doubles with each failure.
    pub(crate) fn failed(&mut self, now: u64, at_least: u64, dice: &mut Dice) {
        let doubled = limits::FIRST_RETRY_MS.saturating_mul(1 << self.failures.min(16));
        let span = doubled.min(limits::LONGEST_RETRY_MS);
        let wait = at_least.min(limits::LONGEST_RETRY_AFTER_MS).saturating_add(dice.up_to(span));
        self.failures = self.failures.saturating_add(1);
        self.until = self.until.max(now.saturating_add(wait));
    }

    /// Something worked, or there is reason to think that it will now.
    pub(crate) fn reset(&mut self) {
        *self = Self::default();
    }

    pub(crate) fn until(&self) -> u64 {
        self.until
    }

    pub(crate) fn failures(&self) -> u32 {
        self.failures
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn waits_grow_are_spread_and_end() {
        let mut dice = Dice::new(7);
        let mut backoff = Backoff::default();
        let mut longest = 0;
        let mut waits = Vec::new();
        for _ in 0..40 {
            let now = backoff.until();
            backoff.failed(now, 0, &mut dice);
            waits.push(backoff.until() - now);
            longest = longest.max(backoff.until() - now);
        }
        assert!(waits[0] <= limits::FIRST_RETRY_MS);
        assert!(longest > limits::LONGEST_RETRY_MS / 2, "{longest}");
        assert!(longest <= limits::LONGEST_RETRY_MS, "{longest}");
        waits.dedup();
        assert!(waits.len() > 30, "spread: {waits:?}");
    }

    #[test]
    fn what_the_server_asks_for_is_kept_but_not_for_ever() {
        let mut dice = Dice::new(7);
        let mut backoff = Backoff::default();
        backoff.failed(1_000, 5_000, &mut dice);
        assert!(backoff.until() >= 6_000);
        let mut forever = Backoff::default();
        forever.failed(0, u64::MAX, &mut dice);
        assert!(forever.until() <= limits::LONGEST_RETRY_AFTER_MS + limits::LONGEST_RETRY_MS);
    }
}
