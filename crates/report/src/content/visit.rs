//! The visit as it was kept: what was settled when, what ran unattended meanwhile, where nothing was entered.

use serde::{Deserialize, Serialize};

/// The visit by its times, beside the order of the plan.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Kept {
    /// The days on which something was entered, earliest first.
    pub days: Vec<Day>,
    /// The stops in the plan's walking order, those that a day has.
    pub stops: Vec<String>,
    /// How the order compares with the plan's, in a sentence; empty where nothing has a time.
    pub order: String,
    /// Points that were settled, and the record does not say when.
    pub untimed: Vec<String>,
}

/// One day.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Day {
    /// The day as printed.
    pub day: String,
    /// What was entered, in the order of its times.
    pub steps: Vec<Step>,
    /// What ran unattended, in the order of its starts.
    pub waits: Vec<WaitKept>,
    /// When the state of the site was changed.
    pub changes: Vec<SiteChange>,
    /// Spans in which nothing was entered.
    pub gaps: Vec<Gap>,
}

/// A point that was settled.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Step {
    /// Minute of the day.
    pub minute: u16,
    /// The time as printed.
    pub time: String,
    /// The point.
    pub point: String,
    /// Its stop.
    pub stop: String,
    /// Its place in the plan's walking order, from 1.
    pub planned: usize,
    /// What became of it, in words, where it was not examined; empty otherwise.
    pub outcome: String,
    /// Who entered it; empty where one person entered everything.
    pub by: String,
}

/// Something that ran unattended.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct WaitKept {
    /// The point it belongs to.
    pub point: String,
    /// Minute of the day when it was started; 0 where it began on an earlier day.
    pub from: u16,
    /// Minute of the day when it was ended; none where the record has no end on that day.
    pub to: Option<u16>,
    /// When and how long, and what ran, in words.
    pub words: String,
}

/// A change of the site's state.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct SiteChange {
    /// Minute of the day.
    pub minute: u16,
    /// What was changed and when, in words.
    pub words: String,
}

/// A span in which nothing was entered.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Gap {
    /// Minute of the day after which nothing came.
    pub from: u16,
    /// Minute of the day of what came next.
    pub to: u16,
    /// When and how long, and what ran meanwhile, in words.
    pub words: String,
}
