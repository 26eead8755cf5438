//! An assessment in words, for the terminal.

use std::io::Write;

use findings::{Assessment, Finding, UseState};
use plan::Plan;

use crate::failure::Failure;

/// The five uses, each with what holds it or leaves it open.
pub(crate) fn uses(
    out: &mut impl Write,
    plan: &Plan,
    assessment: &Assessment,
) -> Result<(), Failure> {
    for one in &assessment.uses {
        let why = match one.state {
            UseState::Held => {
                let numbers: Vec<String> = one.held_by.iter().map(ToString::to_string).collect();
                format!("by finding {}", numbers.join(", "))
            }
            UseState::Open => {
                let title =
                    |id: &str| plan.point(id).map_or(id.to_owned(), |point| point.title.clone());
                let points: Vec<String> =
                    one.open_for.iter().map(|id| title(id.as_str())).collect();
                format!("not examined: {}", points.join("; "))
            }
            UseState::Clear | UseState::NotFitted => String::new(),
        };
        writeln!(out, "  {:<6} {:<10} {why}", one.which.word(), one.state.word())?;
    }
    Ok(())
}

/// One finding: heading, statement, whom to call.
pub(crate) fn finding(out: &mut impl Write, finding: &Finding) -> Result<(), Failure> {
    let place = if finding.position.is_empty() {
        String::new()
    } else {
        format!(" ({})", finding.position)
    };
    let stops: Vec<&str> = finding.stops.iter().map(|one| one.word()).collect();
    let stops =
        if stops.is_empty() { String::new() } else { format!("; stops {}", stops.join(", ")) };
    let state = if finding.confirmed { "confirmed" } else { "not confirmed" };
    writeln!(out, "{:>3}  {}{place}", finding.number, finding.title)?;
    writeln!(
        out,
        "     {}{stops}; {}; {state}; key {}",
        finding.when.words(),
        finding.who,
        finding.key
    )?;
    if !finding.stop_work.is_empty() {
        writeln!(out, "     AT ONCE: {}", finding.stop_work)?;
    }
    writeln!(out, "     {}", finding.statement)?;
    Ok(())
}
