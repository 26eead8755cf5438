//! How a formula is described, called by name, and given its uncertainty.

mod argument;
mod date;
mod evaluate;
mod formula;
mod inputs;
mod outcome;
mod problem;

pub use argument::{Argument, Arguments};
pub use date::CalendarDate;
pub use evaluate::Evaluation;
pub use formula::{Accepts, Confirmed, Form, Formula, Gives, Input, Source, Takes};
pub use inputs::Inputs;
pub use outcome::{Outcome, Output};
pub use problem::Problem;
