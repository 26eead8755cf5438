//! The scheduling problem of a visit: acts, places, site states, waits, what comes before what, and people.
//!
//! Everything is named by id, so that a problem can be written down, read and explained. Times are
//! half minutes from the start of the visit ([`Ticks`]).
//!
//! What the words mean exactly, for the solver and for the validator alike:
//!
//! - An act's `needs` hold from its start to its end. A state's old value is gone from the start of
//!   the change that leaves it; the new one is there from that change's end.
//! - A wait runs from the end of the act that opens it to the start of the act that closes it. So
//!   long its `keeps` hold and nothing stirs its `quiet` channels. What it `claims` is its own from
//!   the start of the opening act to the end of the closing one.
//! - One person does one thing at a time, and walks between places.

mod check;
mod file;
mod progress;

pub use check::{Fault, FaultKind, check};
pub use file::{read_problem, write_problem};
pub use progress::{Blocked, Progress, Span, blocked};

use crate::Ticks;

/// A visit to be planned.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Problem {
    /// A name for messages.
    pub name: String,
    /// Where acts happen, by id.
    pub places: Vec<String>,
    /// `walks[from][to]`: time on foot, by the order of [`Problem::places`].
    pub walks: Vec<Vec<Ticks>>,
    /// The place where everybody starts.
    pub start: String,
    /// The place where everybody ends.
    pub end: String,
    /// Who works: one or two people.
    pub people: Vec<Person>,
    /// What is on or off, open or shut.
    pub states: Vec<SiteState>,
    /// What is to be done.
    pub acts: Vec<Act>,
    /// Unattended spans between two acts.
    pub waits: Vec<Wait>,
    /// Which act comes before which.
    pub orders: Vec<Order>,
}

/// Somebody who works on the visit.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Person {
    /// Name.
    pub name: String,
    /// What they may do that not everybody may; acts name it.
    pub skills: Vec<String>,
}

/// One thing to do at one place without a break.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Act {
    /// Its id.
    pub id: String,
    /// Where.
    pub place: String,
    /// How long.
    pub ticks: Ticks,
    /// Site states that it needs.
    pub needs: Vec<Need>,
    /// Channels that it disturbs, such as drawing water: what a wait may want quiet.
    pub stirs: Vec<String>,
    /// When it may happen, wholly inside one of these; empty for any time. Light, dry weather, an
    /// owner who is there from ten to eleven, an appointment.
    pub windows: Vec<Window>,
    /// A skill that whoever does it has.
    pub skill: Option<String>,
    /// Whether it takes everybody at once.
    pub together: bool,
}

/// A span of time on the visit's clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Window {
    /// From this tick on.
    pub from: Ticks,
    /// Up to this tick.
    pub to: Ticks,
}

/// A site state that has to have one of some values.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Need {
    /// The state's id.
    pub state: String,
    /// The values that will do.
    pub any_of: Vec<String>,
}

/// Something at the site that is in one of a few states, such as shore power on or off.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SiteState {
    /// Its id.
    pub id: String,
    /// Its value at the start.
    pub found: String,
    /// Its value at the end of the visit; none where that does not matter.
    pub leave: Option<String>,
    /// How each value is reached, from whatever other value.
    pub changes: Vec<Change>,
}

/// The work of bringing a site state to a value.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Change {
    /// The value that it brings.
    pub to: String,
    /// Where it is done.
    pub place: String,
    /// How long it takes; at least one tick.
    pub ticks: Ticks,
    /// Other site states that it needs.
    pub needs: Vec<Need>,
    /// Acts that guard it: all done before it may happen.
    pub after: Vec<String>,
    /// Channels that nobody may stir meanwhile, such as being underneath.
    pub clears: Vec<String>,
    /// A skill that whoever does it has.
    pub skill: Option<String>,
}

/// An unattended span: something runs, settles, cools, while people do other things.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Wait {
    /// The act that starts it.
    pub opens: String,
    /// The act that ends it.
    pub closes: String,
    /// Earliest return, from the end of the one to the start of the other.
    pub at_least: Ticks,
    /// Latest return; none where it does not matter.
    pub at_most: Option<Ticks>,
    /// Site states that must not change away meanwhile.
    pub keeps: Vec<Need>,
    /// Channels that must not be stirred meanwhile.
    pub quiet: Vec<String>,
    /// What only one wait at a time can have.
    pub claims: Vec<String>,
}

/// One act before another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Order {
    /// The earlier.
    pub first: String,
    /// The later.
    pub then: String,
    /// Why.
    pub why: Why,
}

/// Why an act comes before another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Why {
    /// It is the sensible order. A skipped first act sets the second free.
    #[default]
    Sequence,
    /// The first makes the second safe. A skipped first act blocks the second.
    Safety,
}

impl Problem {
    /// The act with this id.
    #[must_use]
    pub fn act(&self, id: &str) -> Option<&Act> {
        self.acts.iter().find(|act| act.id == id)
    }

    /// The site state with this id.
    #[must_use]
    pub fn state(&self, id: &str) -> Option<&SiteState> {
        self.states.iter().find(|state| state.id == id)
    }

    /// The sum of all acts' time.
    #[must_use]
    pub fn hands_on(&self) -> Ticks {
        self.acts.iter().map(|act| act.ticks).sum()
    }
}

impl SiteState {
    /// The change that brings this value.
    #[must_use]
    pub fn change(&self, to: &str) -> Option<&Change> {
        self.changes.iter().find(|change| change.to == to)
    }
}
