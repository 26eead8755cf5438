//! One file a command: its arguments, whose doc comments are its help, and what it does.

pub(crate) mod formula;
pub(crate) mod units;

use crate::arguments::{Arguments, Command};
use crate::failure::Failure;

/// Runs the command.
pub(crate) fn run(arguments: Arguments) -> Result<(), Failure> {
    match arguments.command {
        Command::Formula(formula) => formula::run(&formula),
        Command::Units(units) => units::run(&units),
    }
}

/// Edit distance of two words, for "the nearest are".
pub(crate) fn distance(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (at, letter) in one.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = at + 1;
        for (place, candidate) in other.iter().enumerate() {
            let kept = diagonal + usize::from(letter != *candidate);
            diagonal = row[place + 1];
            row[place + 1] = kept.min(diagonal + 1).min(row[place] + 1);
        }
    }
    row[other.len()]
}
