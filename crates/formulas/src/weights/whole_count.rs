//! Counts of things, which are whole numbers.

use crate::Problem;

/// A count from 1 to this many.
pub(super) fn whole_count(name: &str, count: f64, most: f64) -> Result<f64, Problem> {
    let whole = count.round();
    if (count - whole).abs() < 1e-9 && whole >= 1.0 && whole <= most {
        Ok(whole)
    } else {
        Err(Problem::input(
            name,
            format!("{count} is no count; accepted: a whole number from 1 to {most}"),
        ))
    }
}
