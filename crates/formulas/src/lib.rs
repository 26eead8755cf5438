//! The trade's arithmetic: typed, pure functions, each reachable by name.
//!
//! One file is one formula: the typed function that a Rust caller uses, the [`Formula`] that names
//! its inputs, results, ranges and sources for plan files and the command line, and the published
//! values it is tested against. A module is a system of the dwelling; systems do not know each
//! other. Uncertainty is carried through every formula by [`Formula::evaluate`], once for all.

mod age;
pub mod air;
pub mod battery;
pub mod decision;
pub mod freeze;
pub mod gas;
pub mod identity;
pub mod life_safety;
pub mod mains;
pub mod moisture;
mod placed;
mod registry;
pub mod solar;
pub mod support;
mod table;
pub mod tyres;
pub mod waste;
pub mod water;
pub mod weights;

pub use registry::{
    Accepts, Argument, Arguments, CalendarDate, Confirmed, Evaluation, Form, Formula, Gives, Input,
    Inputs, Outcome, Output, Problem, Propagation, Share, Simulated, Simulation, Source, Takes,
};

/// Every formula, system by system in the order of the walk.
pub fn all() -> impl Iterator<Item = &'static Formula> {
    [
        identity::FORMULAS,
        tyres::FORMULAS,
        weights::FORMULAS,
        support::FORMULAS,
        gas::FORMULAS,
        water::FORMULAS,
        waste::FORMULAS,
        freeze::FORMULAS,
        mains::FORMULAS,
        battery::FORMULAS,
        solar::FORMULAS,
        air::FORMULAS,
        moisture::FORMULAS,
        life_safety::FORMULAS,
        decision::FORMULAS,
    ]
    .into_iter()
    .flatten()
    .copied()
}

/// The formula with this name, such as `weights.tongue_percent`.
#[must_use]
pub fn find(name: &str) -> Option<&'static Formula> {
    all().find(|formula| formula.name == name)
}

#[cfg(test)]
mod tests;
