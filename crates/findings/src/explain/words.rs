//! An explanation as a person reads it: numbered steps, each with its figures.

use formulas::Argument;
use limit::{Judgement, SectionRead};
use plan::Plan;
use quantity::{Unit, UnitSystem, Value, write_number, write_value};

use super::{Budget, BudgetPart, Came, Computation, Consequence, Entered, Explanation, Fate, How};
use super::{LimitStep, Standing};
use crate::Content;
use crate::accuracy::{Accuracy, Sheet};
use crate::values::at_position;

/// The whole explanation, a step a line, deeper ones further in.
#[must_use]
pub fn explanation_in_words(plan: &Plan, explanation: &Explanation, units: UnitSystem) -> String {
    let writer = Writer { plan, units };
    let mut lines = vec![format!(
        "{}, {}{}: {}",
        explanation.point_title,
        explanation.value.title,
        at_position(&explanation.value.position),
        writer.content(&explanation.value)
    )];
    lines.push("how it came about".to_owned());
    writer.came(&explanation.value, 1, &mut lines);
    lines.push("what it is held to".to_owned());
    if explanation.limits.is_empty() {
        lines.push("  no limit: a figure worth reporting".to_owned());
    }
    for step in &explanation.limits {
        writer.limit(&explanation.value, step, &mut lines);
    }
    lines.push("what follows".to_owned());
    let mut follows = explanation.limits.iter().filter_map(|step| step.consequence.as_ref());
    let first = follows.next();
    if first.is_none() {
        lines.push("  nothing: no verdict here drafts a finding".to_owned());
    }
    for consequence in first.into_iter().chain(follows) {
        follow(consequence, &mut lines);
    }
    lines.join("\n") + "\n"
}

struct Writer<'a> {
    plan: &'a Plan,
    units: UnitSystem,
}

fn put(lines: &mut Vec<String>, depth: usize, line: &str) {
    lines.push(format!("{}{line}", "  ".repeat(depth)));
}

impl Writer<'_> {
    fn unit(&self, unit: Option<&'static Unit>) -> Option<&'static Unit> {
        unit.map(|unit| unit.in_system(self.units))
    }

    fn value(&self, value: Value, unit: Option<&'static Unit>) -> String {
        match self.unit(unit) {
            Some(unit) => write_value(value, unit),
            None => write_number(value.base),
        }
    }

    /// A difference in SI base units, such as a standard uncertainty, in the unit's size.
    fn size(&self, base: f64, unit: Option<&'static Unit>) -> String {
        match self.unit(unit) {
            Some(unit) => format!("{} {}", three(base / unit.step()), unit.symbol()),
            None => three(base),
        }
        .trim_end()
        .to_owned()
    }

    fn content(&self, came: &Came) -> String {
        match &came.content {
            Content::Quantity(value) => self.value(*value, came.unit),
            Content::Words(text) | Content::None(text) => text.clone(),
        }
    }

    fn came(&self, came: &Came, depth: usize, lines: &mut Vec<String>) {
        match &came.how {
            How::Entered(entered) => self.entered(came, entered, depth, lines),
            How::Computed(computation) => self.computed(came, computation, depth, lines),
            How::Unknown => {}
        }
        for note in &came.notes {
            put(lines, depth, &format!("note: {note}"));
        }
    }

    fn entered(&self, came: &Came, entered: &Entered, depth: usize, lines: &mut Vec<String>) {
        let mut line = format!("typed: `{}`", entered.entry);
        if !entered.by.is_empty() {
            line.push_str(&format!(", by {}", entered.by));
        }
        if let Some(at) = entered.at {
            line.push_str(&format!(", {at}"));
        }
        if entered.entries > 1 {
            line.push_str(&format!("; the last of {} entries", entered.entries));
        }
        put(lines, depth, &format!("{line}; reading {}", entered.id));
        let Content::Quantity(value) = &came.content else { return };
        let bare = Value { uncertainty: None, ..*value };
        put(lines, depth, &format!("read as {}", self.value(bare, came.unit)));
        let standard = value.standard_uncertainty().unwrap_or(0.0);
        let size = |base: f64| self.size(base, came.unit);
        match &entered.accuracy {
            Accuracy::Words => {}
            Accuracy::Typed => put(
                lines,
                depth,
                &format!("uncertainty: typed behind ±, standard u = {}", size(standard)),
            ),
            Accuracy::Usual => put(
                lines,
                depth,
                &format!(
                    "uncertainty: that of the usual instrument, as the point states: u = {}",
                    size(standard)
                ),
            ),
            Accuracy::Unknown => put(lines, depth, "uncertainty: none is known"),
            Accuracy::Sheet(sheet) => self.sheet(came, *value, sheet, depth, lines),
        }
    }

    fn sheet(
        &self,
        came: &Came,
        value: Value,
        sheet: &Sheet,
        depth: usize,
        lines: &mut Vec<String>,
    ) {
        let symbol = sheet.unit.symbol();
        let shown = value.to_unit(sheet.unit).unwrap_or(f64::NAN).abs();
        let gain = sheet.percent / 100.0 * shown;
        let counts = sheet.counts * sheet.digit;
        let name =
            if sheet.name.is_empty() { sheet.instrument.as_str() } else { sheet.name.as_str() };
        put(
            lines,
            depth,
            &format!(
                "uncertainty: the spec sheet of {name}, ± ({} % of the reading + {} counts of {} {symbol})",
                write_number(sheet.percent),
                write_number(sheet.counts),
                write_number(sheet.digit)
            ),
        );
        put(
            lines,
            depth + 1,
            &format!(
                "half-width {} + {} = {} {symbol}, a rectangle: / √3 = {}",
                three(gain),
                three(counts),
                three(gain + counts),
                three((gain + counts) / 3.0_f64.sqrt())
            ),
        );
        put(
            lines,
            depth + 1,
            &format!(
                "resolution {} {symbol}, a rectangle of one digit: / √12 = {}",
                write_number(sheet.digit),
                three(sheet.digit / 12.0_f64.sqrt())
            ),
        );
        if let Some(uncertainty) = value.uncertainty {
            let mut line = format!(
                "together, by the root of the sum of squares: u = {}",
                self.size(uncertainty.standard(), came.unit)
            );
            if uncertainty.shared > 0.0 {
                line.push_str(&format!(
                    ", of which {} is the gain error that all readings of this instrument share",
                    self.size(uncertainty.shared, came.unit)
                ));
            }
            put(lines, depth + 1, &line);
        }
    }

    fn computed(
        &self,
        came: &Came,
        computation: &Computation,
        depth: usize,
        lines: &mut Vec<String>,
    ) {
        let formula = computation.formula;
        let part = if computation.part.is_empty() {
            String::new()
        } else {
            format!(", its part `{}`", computation.part)
        };
        put(lines, depth, &format!("formula {}{part}: {}", formula.name, formula.summary));
        for source in formula.sources {
            let named = [source.document, source.section]
                .into_iter()
                .filter(|text| !text.is_empty())
                .collect::<Vec<_>>()
                .join(", ");
            let named = if named.is_empty() { String::new() } else { format!("{named}; ") };
            put(lines, depth + 1, &format!("source: {named}{}", source.confirmed.words()));
        }
        for input in &computation.inputs {
            let unit = match input.sources.as_slice() {
                [source, ..] => source.unit,
                [] => None,
            };
            let given = match &input.argument {
                None => "not recorded".to_owned(),
                Some(argument) => self.argument(argument, unit),
            };
            put(
                lines,
                depth + 1,
                &format!("{} = {given} ({}), from {}", input.name, input.about, input.from),
            );
            for source in &input.sources {
                let title = format!(
                    "{}{}: {}",
                    source.title,
                    at_position(&source.position),
                    self.content(source)
                );
                put(lines, depth + 2, &title);
                self.came(source, depth + 3, lines);
            }
        }
        put(lines, depth, &format!("gives {}", self.content(came)));
        self.budget(came, &computation.budget, depth, lines);
    }

    fn argument(&self, argument: &Argument, unit: Option<&'static Unit>) -> String {
        let written = |value: &Value| match self.unit(unit).filter(|unit| unit.kind == value.kind) {
            Some(unit) => write_value(*value, unit),
            None => quantity::units::of_kind(value.kind)
                .next()
                .map_or_else(|| write_number(value.base), |unit| write_value(*value, unit)),
        };
        match argument {
            Argument::Quantity(value) => written(value),
            Argument::Quantities(values) => {
                values.iter().map(written).collect::<Vec<_>>().join("; ")
            }
            Argument::Word(text) | Argument::Text(text) => text.clone(),
            Argument::Date(date) => date.to_string(),
            Argument::Instant(seconds) => format!("{seconds} s since 1970"),
        }
    }

    fn budget(&self, came: &Came, budget: &Budget, depth: usize, lines: &mut Vec<String>) {
        let size = |base: f64| self.size(base, came.unit);
        match budget {
            Budget::Nothing => {}
            Budget::Untold => put(lines, depth, "uncertainty: it cannot be told"),
            Budget::Simulated { trials, seed, refused, simulated } => {
                put(
                    lines,
                    depth,
                    &format!(
                        "uncertainty: by simulation (JCGM 101:2008), since the formula is not smooth: {trials} \
                         trials from the seed {seed}, {refused} of them without an answer"
                    ),
                );
                let end = |base: f64| self.value(Value::new(kind_of(came), base), came.unit);
                put(
                    lines,
                    depth + 1,
                    &format!(
                        "standard deviation of the trials u = {}; 95 % of them from {} to {}",
                        size(simulated.standard),
                        end(simulated.low),
                        end(simulated.high)
                    ),
                );
            }
            Budget::FirstOrder { parts, standard } => {
                put(lines, depth, "uncertainty: to first order (JCGM 100:2008, eq. 10 and 13)");
                for part in parts {
                    put(lines, depth + 1, &format!("{}: {}", carried(part), self.part(came, part)));
                }
                put(
                    lines,
                    depth + 1,
                    &format!(
                        "together, by the root of the sum of squares: u = {}",
                        size(*standard)
                    ),
                );
            }
        }
    }

    fn part(&self, came: &Came, part: &BudgetPart) -> String {
        format!(
            "{}, {:.0} % of the variance",
            self.size(part.standard, came.unit),
            part.share * 100.0
        )
    }

    fn limit(&self, value: &Came, step: &LimitStep, lines: &mut Vec<String>) {
        let limit = &step.limit;
        let title = self
            .plan
            .source(&limit.source.key)
            .map_or(limit.source.key.as_str(), |source| source.title.as_str());
        let read = match limit.read {
            SectionRead::On(day) => format!("read {day}"),
            SectionRead::Quoted(day) => format!("read as quoted elsewhere, {day}"),
            SectionRead::No => "nobody on the project read the section".to_owned(),
        };
        let source = format!(
            "{title}, {}; {}; {}; {read}",
            limit.source.section,
            limit.basis.word(),
            limit.footing.title()
        );
        match &step.fate {
            Fate::NotHeld(why) => {
                put(lines, 1, &format!("not held to `{}` ({source}): {why}", limit.id));
            }
            Fate::Judged(judgement) => {
                let from = if step.bound_from_record { ", a bound from the record" } else { "" };
                put(
                    lines,
                    1,
                    &format!(
                        "limit `{}`: {}{from} ({source})",
                        limit.id,
                        limit.bound.words(self.unit(value.unit))
                    ),
                );
                self.decision(value, judgement, lines);
                if !limit.can_condemn() {
                    put(
                        lines,
                        2,
                        "it informs and cannot condemn: it is common practice, or its section was not read",
                    );
                }
                let words = judgement.verdict.words(Some(limit.basis));
                put(lines, 2, &format!("verdict: {words}"));
            }
        }
    }

    /// The rule with its figures.
    fn decision(&self, value: &Came, judgement: &Judgement, lines: &mut Vec<String>) {
        put(lines, 2, &format!("rule: {}", judgement.rule.words()));
        if let (Content::Quantity(quantity), Some(conformity)) =
            (&value.content, judgement.conformity)
        {
            let expanded = 2.0 * quantity.standard_uncertainty().unwrap_or(0.0);
            let end = |base: f64| self.value(Value::new(quantity.kind, base), value.unit);
            put(
                lines,
                2,
                &format!(
                    "guard band U = 2 u = {}: the true value lies between {} and {}; all of it must be inside \
                     to conform, and outside not to",
                    self.size(expanded, value.unit),
                    end(quantity.base - expanded),
                    end(quantity.base + expanded)
                ),
            );
            put(
                lines,
                2,
                &format!(
                    "probability that the true value meets the limit (JCGM 106:2012, 7): {}",
                    percent(conformity)
                ),
            );
        }
        if judgement.instrument_unfit {
            put(
                lines,
                2,
                "the uncertainty is wider than the tolerance: the instrument is too coarse",
            );
        }
    }
}

fn kind_of(came: &Came) -> quantity::Kind {
    match &came.content {
        Content::Quantity(value) => value.kind,
        Content::Words(_) | Content::None(_) => quantity::Kind::Number,
    }
}

/// Whose error it is.
fn carried(part: &BudgetPart) -> String {
    let inputs = part.inputs.join(", ");
    match &part.shared_by {
        None => format!("{inputs}, of its own"),
        Some(instrument) => format!(
            "{inputs}, the gain error of {} that they share, signs kept",
            crate::values::words(instrument.as_str())
        ),
    }
}

fn follow(consequence: &Consequence, lines: &mut Vec<String>) {
    let uses = |uses: &[inspection::Use]| {
        let words: Vec<&str> = uses.iter().map(|one| one.word()).collect();
        if words.is_empty() { "no use".to_owned() } else { words.join(", ") }
    };
    put(
        lines,
        1,
        &format!(
            "drafted `{}`: {}; {}; {}; stops {}",
            consequence.key,
            consequence.title,
            consequence.when.words(),
            consequence.who,
            uses(&consequence.stops)
        ),
    );
    if !consequence.stop_work.is_empty() {
        put(lines, 2, &format!("AT ONCE: {}", consequence.stop_work));
    }
    put(lines, 2, &format!("sentence: {}", consequence.statement));
    match &consequence.standing {
        Standing::Stands { number, confirmed, stops } => {
            let state = if *confirmed { "confirmed by a person" } else { "not confirmed yet" };
            put(
                lines,
                2,
                &format!("in the report as finding {number}, {state}; it stops {}", uses(stops)),
            );
        }
        Standing::Part { number } => {
            put(lines, 2, &format!("in the report as a part of finding {number}"));
        }
        Standing::Withdrawn { reason } => {
            put(lines, 2, &format!("a person withdrew it: {reason}"));
        }
    }
}

/// A probability in percent, never rounded to a certainty that it is not.
fn percent(probability: f64) -> String {
    match probability * 100.0 {
        number if number > 99.95 && number < 100.0 => "over 99.9 %".to_owned(),
        number if number < 0.05 && number > 0.0 => "under 0.1 %".to_owned(),
        number => format!("{number:.1} %"),
    }
}

/// Three significant digits.
fn three(number: f64) -> String {
    if number == 0.0 {
        return "0".to_owned();
    }
    let text = format!("{number:.2e}");
    let power: i32 = text.split_once('e').and_then(|(_, power)| power.parse().ok()).unwrap_or(0);
    if power >= 2 {
        return write_number(number.round());
    }
    let decimals = usize::try_from(2 - power).unwrap_or(0).min(12);
    format!("{number:.decimals$}")
}
