//! An assessment in words, for the terminal.

use std::io::Write;

use findings::{Assessment, Content, Finding, LimitResult, UseState, ValueResult, write_content};
use limit::{SectionRead, Verdict};
use plan::Plan;
use quantity::UnitSystem;

use crate::counting::at_position;
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

/// One value with every verdict, each on a line.
pub(crate) fn value(
    out: &mut impl Write,
    plan: &Plan,
    value: &ValueResult,
    units: UnitSystem,
) -> Result<(), Failure> {
    let place = at_position(&value.position);
    writeln!(out, "    {}{place}: {}", value.title, write_content(value, units))?;
    for judged in &value.judgements {
        writeln!(out, "      {}", verdict(plan, value, judged, units))?;
    }
    if value.judgements.is_empty() && matches!(value.content, Content::Quantity(_)) {
        writeln!(out, "      {}", Verdict::NoLimit.words(None))?;
    }
    for note in &value.notes {
        writeln!(out, "      note: {note}")?;
    }
    Ok(())
}

/// A verdict with its limit and where that comes from.
fn verdict(plan: &Plan, value: &ValueResult, judged: &LimitResult, units: UnitSystem) -> String {
    let limit = &judged.limit;
    let unit = value.unit.map(|unit| unit.in_system(units));
    let title = plan
        .source(&limit.source.key)
        .map_or(limit.source.key.as_str(), |source| source.title.as_str());
    let read = match limit.read {
        SectionRead::On(day) => format!("read {day}"),
        SectionRead::Quoted(day) => format!("as quoted, {day}"),
        SectionRead::No => "section not read".to_owned(),
    };
    let mut line = format!(
        "{}: {} ({title}, {}; {}; {}; {read})",
        judged.judgement.verdict.words(Some(limit.basis)),
        limit.bound.words(unit),
        limit.source.section,
        limit.basis.word(),
        limit.footing.title(),
    );
    if let Some(conformity) = judged.judgement.conformity {
        line.push_str(&format!("; probability of conforming {} %", (conformity * 100.0).round()));
    }
    if judged.judgement.instrument_unfit {
        line.push_str("; the instrument is too coarse for this limit");
    }
    line
}
