//! What was measured: a table for people, an object for programs, and whether every goal was met.

use serde_json::{Value as Json, json};

use super::Outcome;

/// One measure.
#[derive(Debug)]
pub(super) struct Measured {
    /// Its key.
    pub(super) id: &'static str,
    /// What it is, in words.
    pub(super) what: String,
    /// Best of several runs, in `unit`.
    pub(super) best: f64,
    /// Median of several runs, in `unit`.
    pub(super) median: f64,
    /// What the figures count: `ms`, `changes/s`, `times as fast`.
    pub(super) unit: &'static str,
    /// What was promised, if anything.
    pub(super) goal: Option<Goal>,
    /// What a reader must know beside the figure.
    pub(super) note: String,
}

/// A promise about the median.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Goal {
    Under(f64),
    #[cfg_attr(
        not(feature = "whole"),
        allow(dead_code, reason = "the schedules alone are held to nothing like it")
    )]
    AtLeast(f64),
}

impl Goal {
    fn met(self, figure: f64) -> bool {
        match self {
            Self::Under(most) => figure < most,
            Self::AtLeast(least) => figure >= least,
        }
    }

    fn words(self) -> String {
        match self {
            Self::Under(most) => format!("under {most}"),
            Self::AtLeast(least) => format!("at least {least}"),
        }
    }
}

/// Everything that was measured, and what could not be.
#[derive(Debug, Default)]
pub(super) struct Results {
    measured: Vec<Measured>,
    skipped: Vec<String>,
}

impl Results {
    pub(super) fn push(&mut self, measured: Measured) {
        self.measured.push(measured);
    }

    pub(super) fn skip(&mut self, sentence: impl Into<String>) {
        self.skipped.push(sentence.into());
    }

    pub(super) fn table(&self) -> String {
        let mut text =
            format!("{:<46} {:>9} {:>9}  {:<14} goal\n", "what", "median", "best", "unit");
        for one in &self.measured {
            let goal = one.goal.map_or(String::new(), |goal| {
                let fate = if goal.met(one.median) { "met" } else { "MISSED" };
                format!("{}: {fate}", goal.words())
            });
            let line = format!(
                "{:<46} {:>9} {:>9}  {:<14} {goal}",
                one.what,
                figure(one.median),
                figure(one.best),
                one.unit
            );
            text.push_str(line.trim_end());
            text.push('\n');
            if !one.note.is_empty() {
                text.push_str(&format!("    {}\n", one.note));
            }
        }
        for sentence in &self.skipped {
            text.push_str(&format!("not measured: {sentence}\n"));
        }
        text
    }

    pub(super) fn json(&self) -> Json {
        let measured: serde_json::Map<String, Json> = self
            .measured
            .iter()
            .map(|one| {
                let goal = one
                    .goal
                    .map(|goal| json!({"words": goal.words(), "met": goal.met(one.median)}));
                let object = json!({
                    "what": one.what, "median": one.median, "best": one.best, "unit": one.unit,
                    "goal": goal, "note": one.note,
                });
                (one.id.to_owned(), object)
            })
            .collect();
        json!({"measured": measured, "not_measured": self.skipped})
    }

    /// An error that names the goals missed, if any was.
    pub(super) fn verdict(&self) -> Outcome {
        let missed: Vec<&str> = self
            .measured
            .iter()
            .filter(|one| one.goal.is_some_and(|goal| !goal.met(one.median)))
            .map(|one| one.what.as_str())
            .collect();
        if missed.is_empty() { Ok(()) } else { Err(format!("goals missed: {}", missed.join("; "))) }
    }
}

/// Three significant digits, or a whole number.
fn figure(number: f64) -> String {
    match number.abs() {
        100.0.. => format!("{number:.0}"),
        10.0.. => format!("{number:.1}"),
        1.0.. => format!("{number:.2}"),
        _ => format!("{number:.3}"),
    }
}

#[cfg(test)]
mod tests {
    use super::{Goal, Measured, Results};

    fn measured(median: f64, goal: Goal) -> Results {
        let mut results = Results::default();
        results.push(Measured {
            id: "one",
            what: "one thing".to_owned(),
            best: 1.0,
            median,
            unit: "ms",
            goal: Some(goal),
            note: String::new(),
        });
        results
    }

    #[test]
    fn a_missed_goal_is_named_and_a_met_one_passes() {
        assert_eq!(measured(4.9, Goal::Under(5.0)).verdict(), Ok(()));
        assert_eq!(measured(3.0, Goal::AtLeast(3.0)).verdict(), Ok(()));
        let missed = measured(5.0, Goal::Under(5.0));
        assert_eq!(missed.verdict(), Err("goals missed: one thing".to_owned()));
        assert!(missed.table().contains("under 5: MISSED"), "{}", missed.table());
        assert_eq!(missed.json()["measured"]["one"]["goal"]["met"], false);
    }
}
