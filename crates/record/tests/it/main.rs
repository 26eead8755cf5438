//! What the record promises: nothing lost, nothing altered unseen, everything readable read.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod agreement;
mod conflicts;
mod damage;
mod edits;
mod findings;
mod fixtures;
mod forged;
mod golden;
mod golden_record;
mod links;
mod memos;
mod merging;
mod plan;
mod strange;
mod trail;
