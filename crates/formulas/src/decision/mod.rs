//! Decisions: what an instrument's accuracy means, and how sure a verdict is.
//!
//! Symbols: y value, u standard uncertainty, U = 2u expanded uncertainty, T_L and T_U lower and upper limit,
//! w guard band, p probability of conformity.

mod conformity;
mod instrument;

pub use conformity::{Conformity, conformity};

use quantity::Kind;

use crate::{Formula, Problem};

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[&instrument::FORMULA, &conformity::FORMULA];

/// The kind of the difference of two values of a kind.
fn difference_kind(kind: Kind) -> Kind {
    if kind == Kind::Temperature { Kind::TemperatureDifference } else { kind }
}

/// An input of another kind than those it belongs with.
fn another_kind(name: &str, given: Kind, wanted: Kind) -> Problem {
    let words = |kind: Kind| kind.word().replace('_', " ");
    Problem::input(
        name,
        format!("is a {}; accepted: a {}, like the others", words(given), words(wanted)),
    )
}
