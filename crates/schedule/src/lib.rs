//! The order and the clock of a visit: what is done when, by whom, and why in that order.
//!
//! A [`Problem`] says what is to be done where, what it needs, what waits and what comes before what.
//! [`plan()`] finds a [`Schedule`] for it, and [`validate()`], which shares no code with it,
//! says whether it keeps every rule. [`lower_bound`] says how much better any schedule could be, and
//! [`clash()`] which requirements do not go together where none keeps them all. In the field [`replan`]
//! mends a schedule from the moment at hand, and [`reasons()`] says why a step comes where it comes.
//!
//! Time is counted in half minutes, a search in replays and from a seed: nothing here reads a clock,
//! so a phone and a desk come to the same schedule.

mod bound;
mod clash;
mod compact;
mod decode;
mod field;
mod planning;
mod preference;
mod problem;
mod reasons;
mod schedule;
mod search;
mod ticks;
mod validate;
mod visit;

pub use bound::{Bound, lower_bound};
pub use clash::{Requirement, clash};
pub use field::{Replanned, RunningWait, replan, running_waits, what_now};
pub use planning::{in_order, plan};
pub use preference::Preference;
pub use problem::{
    Act, Blocked, Change, Fault, FaultKind, Need, Order, Person, Problem, Progress, SiteState,
    Span, Wait, Why, Window, blocked, check, read_problem, write_problem,
};
pub use reasons::{Reason, reasons};
pub use schedule::{Schedule, Step, Task};
pub use search::Budget;
pub use ticks::{TICKS_PER_MINUTE, Ticks, length_in_words};
pub use validate::{Broken, Rule, validate};
pub use visit::{
    Circumstances, Instrument, Visit, calendar, explanation, kit, note_for_the_owner, prepare,
    site_words, timeline,
};
