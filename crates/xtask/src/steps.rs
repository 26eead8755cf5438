//! Steps in a row: announced, timed, stopped at the first failure, summed up at the end.

use crate::Outcome;
use std::{
    io::Write,
    time::{Duration, Instant},
};

/// One step: a short name to select it by, what it does, and the doing.
pub(crate) struct Step<'a> {
    pub(crate) name: &'static str,
    pub(crate) what: &'static str,
    pub(crate) act: Box<dyn Fn() -> Outcome + 'a>,
}

/// Which of the named steps to run: all, all from one on, or one alone.
pub(crate) fn selected(
    names: &[&str],
    from: Option<&str>,
    only: Option<&str>,
) -> Outcome<Vec<usize>> {
    let position = |wanted: &str| {
        names.iter().position(|name| *name == wanted).ok_or_else(|| {
            format!("there is no step `{wanted}`; the steps are {}", names.join(", "))
        })
    };
    match (from, only) {
        (Some(_), Some(_)) => Err("give --from or --only, not both".to_owned()),
        (Some(from), None) => Ok((position(from)?..names.len()).collect()),
        (None, Some(only)) => Ok(vec![position(only)?]),
        (None, None) => Ok((0..names.len()).collect()),
    }
}

/// Runs the steps in order and writes what happened; the error names the step that failed.
pub(crate) fn run_in_order(steps: &[Step<'_>], out: &mut dyn Write) -> Outcome {
    let start = Instant::now();
    let mut passed: Vec<Duration> = Vec::new();
    let mut failure = None;
    for (index, step) in steps.iter().enumerate() {
        say(out, &format!("\n== {} ({} of {}): {}", step.name, index + 1, steps.len(), step.what));
        let step_start = Instant::now();
        match (step.act)() {
            Ok(()) => {
                passed.push(step_start.elapsed());
                say(out, &format!("== {}: passed in {}", step.name, spoken(step_start.elapsed())));
            }
            Err(why) => {
                failure = Some((step.name, why));
                break;
            }
        }
    }

    say(out, "\n== summary");
    for (index, step) in steps.iter().enumerate() {
        let fate = match passed.get(index) {
            Some(took) => format!("passed {:>12}", spoken(*took)),
            None if index == passed.len() => "FAILED".to_owned(),
            None => "not run".to_owned(),
        };
        say(out, &format!("{:<10} {fate}", step.name));
    }
    say(out, &format!("total {:>23}", spoken(start.elapsed())));
    match failure {
        None => Ok(()),
        Some((name, why)) => Err(format!("step `{name}` failed: {why}")),
    }
}

/// A closed standard output must not stop the checks.
fn say(out: &mut dyn Write, line: &str) {
    drop(writeln!(out, "{line}"));
}

/// A duration as one says it: `4.2 s`, `3 min 07 s`.
pub(crate) fn spoken(duration: Duration) -> String {
    let seconds = duration.as_secs();
    if seconds < 60 {
        format!("{:.1} s", duration.as_secs_f64())
    } else {
        format!("{} min {:02} s", seconds / 60, seconds % 60)
    }
}

#[cfg(test)]
mod tests {
    use super::{Step, run_in_order, selected, spoken};
    use std::{cell::RefCell, time::Duration};

    const NAMES: &[&str] = &["format", "lint", "test"];

    #[test]
    fn all_steps_run_unless_told_otherwise() {
        assert_eq!(selected(NAMES, None, None), Ok(vec![0, 1, 2]));
        assert_eq!(selected(NAMES, Some("lint"), None), Ok(vec![1, 2]));
        assert_eq!(selected(NAMES, None, Some("lint")), Ok(vec![1]));
    }

    #[test]
    fn an_unknown_step_is_answered_with_the_known_ones() {
        let told = "there is no step `tests`; the steps are format, lint, test".to_owned();
        assert_eq!(selected(NAMES, Some("tests"), None), Err(told.clone()));
        assert_eq!(selected(NAMES, None, Some("tests")), Err(told));
        assert_eq!(
            selected(NAMES, Some("lint"), Some("lint")),
            Err("give --from or --only, not both".to_owned())
        );
    }

    #[test]
    fn the_first_failure_stops_the_row_and_is_named() {
        let ran = RefCell::new(Vec::new());
        let step = |name, outcome: Result<(), &'static str>| Step {
            name,
            what: "something cheap",
            act: Box::new({
                let ran = &ran;
                move || {
                    ran.borrow_mut().push(name);
                    outcome.map_err(str::to_owned)
                }
            }),
        };
        let steps = [step("one", Ok(())), step("two", Err("it broke")), step("three", Ok(()))];
        let mut out = Vec::new();
        let outcome = run_in_order(&steps, &mut out);
        assert_eq!(outcome, Err("step `two` failed: it broke".to_owned()));
        assert_eq!(*ran.borrow(), ["one", "two"]);
        let told = String::from_utf8(out).unwrap();
        assert!(told.contains("== two (2 of 3): something cheap"), "{told}");
        let summary = told.split_once("== summary\n").unwrap().1;
        let fates: Vec<&str> = summary.lines().collect();
        assert!(fates[0].starts_with("one        passed"), "{summary}");
        assert_eq!(fates[1], "two        FAILED");
        assert_eq!(fates[2], "three      not run");
        assert!(fates[3].starts_with("total"), "{summary}");
    }

    #[test]
    fn a_row_without_failures_passes() {
        let step = Step { name: "one", what: "nothing", act: Box::new(|| Ok(())) };
        assert_eq!(run_in_order(&[step], &mut Vec::new()), Ok(()));
    }

    #[test]
    fn durations_are_said_in_minutes_once_there_are_any() {
        assert_eq!(spoken(Duration::from_millis(4_240)), "4.2 s");
        assert_eq!(spoken(Duration::from_secs(187)), "3 min 07 s");
    }
}
