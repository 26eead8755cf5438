//! A schedule as text: the day by person with the waits beneath, and why each step comes where it comes.

use std::fmt::Write;

use super::Visit;
use crate::Ticks;
use crate::reasons::reasons;
use crate::schedule::{Schedule, Task};
use crate::ticks::length_in_words;

/// The day by person, stop by stop, with the waits beneath.
#[must_use]
pub fn timeline(visit: &Visit, schedule: &Schedule) -> String {
    let mut text = String::new();
    for (number, person) in visit.problem.people.iter().enumerate() {
        if visit.problem.people.len() > 1 {
            line(&mut text, format_args!("{}", person.name));
        }
        let mut place = "";
        for step in schedule.steps.iter().filter(|step| step.people.contains(&number)) {
            if step.place != place {
                line(&mut text, format_args!("{}", visit.title(&step.place)));
                place = &step.place;
            }
            let mark = match step.task {
                Task::Act(_) => ' ',
                Task::Change { .. } => '*',
            };
            // Points have their cautions with them; a change of the site has no other page.
            let caution = visit.caution(&step.task);
            if mark == '*' && !caution.is_empty() {
                line(&mut text, format_args!("          caution: {caution}"));
            }
            line(
                &mut text,
                format_args!(
                    "  {} {mark} {} ({})",
                    clock(visit, step.start),
                    visit.task_title(&step.task),
                    length_in_words(step.end - step.start)
                ),
            );
        }
    }
    let waits = waits(visit, schedule);
    if !waits.is_empty() {
        line(&mut text, format_args!("waits"));
    }
    for wait in waits {
        line(&mut text, format_args!("  {wait}"));
    }
    text
}

/// The waits in the order of their starts.
fn waits(visit: &Visit, schedule: &Schedule) -> Vec<String> {
    let mut waits: Vec<(Ticks, String)> = Vec::new();
    for wait in &visit.problem.waits {
        let before = visit.progress.done.get(&wait.opens).map(|span| span.end);
        let from = before.or_else(|| schedule.step_of(&wait.opens).map(|step| step.end));
        let to = schedule.step_of(&wait.closes).map(|step| step.start);
        let (Some(from), Some(to)) = (from, to) else { continue };
        let (what, untouched) = visit.meanwhile(&wait.closes).unwrap_or(("", &[]));
        let alone = if untouched.is_empty() {
            String::new()
        } else {
            format!("; leave alone: {}", untouched.join(", "))
        };
        let (from_clock, to_clock) = (clock(visit, from), clock(visit, to));
        waits.push((from, format!("{from_clock} to {to_clock} {what}{alone}")));
    }
    waits.sort();
    waits.into_iter().map(|(_, words)| words).collect()
}

/// Each step with the reasons for its place, its caution before it.
#[must_use]
pub fn explanation(visit: &Visit, schedule: &Schedule) -> String {
    let mut text = String::new();
    let name = |id: &str| visit.title(id);
    for (index, step) in schedule.steps.iter().enumerate() {
        let caution = visit.caution(&step.task);
        if !caution.is_empty() {
            line(&mut text, format_args!("      caution: {caution}"));
        }
        let reasons: Vec<String> = reasons(&visit.problem, &visit.progress, schedule, index)
            .iter()
            .map(|reason| reason.in_words(&name))
            .collect();
        line(
            &mut text,
            format_args!(
                "{} {}: {}",
                clock(visit, step.start),
                visit.task_title(&step.task),
                reasons.join("; ")
            ),
        );
    }
    text
}

fn clock(visit: &Visit, ticks: Ticks) -> String {
    let time = visit.time(ticks);
    format!("{:02}:{:02}", time.hour(), time.minute())
}

/// Adds a line; a text takes whatever is written to it.
fn line(text: &mut String, words: std::fmt::Arguments<'_>) {
    text.write_fmt(words).ok();
    text.push('\n');
}
