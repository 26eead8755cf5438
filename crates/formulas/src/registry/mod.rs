//! How a formula is described, called by name, and given its uncertainty.

mod argument;
mod date;
mod evaluate;
mod formula;
mod inputs;
mod monte_carlo;
mod outcome;
mod problem;
mod random;

pub use argument::{Argument, Arguments};
pub use date::CalendarDate;
pub use evaluate::{Evaluation, Propagation, Share};
pub use formula::{Accepts, Confirmed, Form, Formula, Gives, Input, Source, Takes};
pub use inputs::Inputs;
pub use monte_carlo::{Simulated, Simulation};
pub use outcome::{Outcome, Output};
pub use problem::Problem;
