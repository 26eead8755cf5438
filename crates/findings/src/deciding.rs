//! What would decide an undecided verdict, in numbers: how well the value, and which reading, must be known.

use std::collections::BTreeMap;

use inspection::{Inspection, InstrumentId, PointId};
use limit::{Limit, Verdict};
use plan::{Plan, Point};
use quantity::{Unit, UnitSystem, Value};

use crate::explain::{Budget, Came, Computation, How, came};
use crate::sentence::{Voice, bound_in_words};
use crate::values::{Values, at_position};
use crate::{Assessment, Content, LimitResult, ValueResult, accuracy, write_content};

/// What would decide one verdict, if the value stays where it is.
#[derive(Clone, Debug)]
pub struct Deciding {
    /// The point.
    pub point: PointId,
    /// The value's name within it.
    pub name: String,
    /// Which of several; empty where there is only one.
    pub position: String,
    /// The limit's id.
    pub limit: String,
    /// The value with its uncertainty, as it is written.
    pub value: String,
    /// The limit's bound, as it is written.
    pub bound: String,
    /// The unit of the two uncertainties; none for a bare number.
    pub unit: Option<&'static Unit>,
    /// Expanded uncertainty (k = 2) of the value now.
    pub now: f64,
    /// Expanded uncertainty at which the verdict would be decided; none where the value lies on the limit, or the limit's own
    /// uncertainty is too large: then only another value decides.
    pub needed: Option<f64>,
    /// What the verdict would be then.
    pub verdict: Verdict,
    /// The reading that contributes most, and how well it must be read, all others as they are. None where the value was read
    /// itself, or where one better reading alone is not enough.
    pub better: Option<Better>,
    /// Instruments of the job that would read the value well enough.
    pub instruments: Vec<InstrumentId>,
    /// All of it in a sentence.
    pub sentence: String,
}

/// A reading that must be better.
#[derive(Clone, Debug)]
pub struct Better {
    /// Its point.
    pub point: PointId,
    /// Its name within the point.
    pub name: String,
    /// What it is, in words.
    pub title: String,
    /// Which of several; empty where there is only one.
    pub position: String,
    /// The unit of the two uncertainties; none for a bare number.
    pub unit: Option<&'static Unit>,
    /// Expanded uncertainty (k = 2) now.
    pub now: f64,
    /// Expanded uncertainty that would decide.
    pub needed: f64,
}

/// What would decide each undecided verdict of an assessment, in walking order. Verdicts of words are left out.
#[must_use]
pub fn deciding(
    plan: &Plan,
    inspection: &Inspection,
    assessment: &Assessment,
    units: UnitSystem,
) -> Vec<Deciding> {
    let mut values = Values::new(plan, inspection);
    let mut all = Vec::new();
    for result in &assessment.points {
        let Some(point) = plan.point(result.point.as_str()) else { continue };
        for value in &result.values {
            for judged in &value.judgements {
                if judged.judgement.verdict == Verdict::Undecided {
                    all.extend(one(
                        &mut values,
                        inspection,
                        point,
                        value,
                        judged,
                        Voice { plan, units },
                    ));
                }
            }
        }
    }
    all
}

fn one<'a>(
    values: &mut Values<'a>,
    inspection: &Inspection,
    point: &'a Point,
    value: &ValueResult,
    judged: &LimitResult,
    voice: Voice<'_>,
) -> Option<Deciding> {
    let Content::Quantity(quantity) = value.content else { return None };
    let standard = quantity.standard_uncertainty()?;
    let (needed, meets) = room(quantity, &judged.limit)?;
    let unit = value.unit.map(|unit| unit.in_system(voice.units));
    let verdict = match (meets, judged.limit.can_condemn()) {
        (true, true) => Verdict::Conforms,
        (false, true) => Verdict::DoesNotConform,
        (true, false) => Verdict::WithinGuidance,
        (false, false) => Verdict::BeyondGuidance,
    };
    let known = values.of(point, &value.name);
    let came = known
        .iter()
        .find(|(place, _)| *place == value.position)
        .map(|(place, known)| came::about(values, inspection, point, &value.name, place, known));
    let better = needed.zip(came.as_ref()).and_then(|(needed, came)| better(came, needed, voice));
    let read = matches!(came.as_ref().map(|came| &came.how), Some(How::Entered(_)));
    let instruments = match (needed, value.unit) {
        (Some(needed), Some(unit)) if read => good_enough(inspection, quantity, unit, needed),
        _ => Vec::new(),
    };
    let mut deciding = Deciding {
        point: PointId::from(point.id.as_str()),
        name: value.name.clone(),
        position: value.position.clone(),
        limit: judged.limit.id.clone(),
        value: write_content(value, voice.units),
        bound: bound_in_words(voice.plan, &judged.limit.bound, unit),
        unit,
        now: expanded(standard, unit),
        needed: needed.map(|needed| expanded(needed, unit)),
        verdict,
        better,
        instruments,
        sentence: String::new(),
    };
    deciding.sentence = sentence(&deciding, &value.title, &judged.limit, inspection);
    Some(deciding)
}

/// The standard uncertainty of the value below which it would be decided (SI base units), and whether it would meet the
/// limit then. The rule is that of [`limit::judge`], solved for the value's own uncertainty.
fn room(value: Value, limit: &Limit) -> Option<(Option<f64>, bool)> {
    let (least, most) = limit.bound.ends()?;
    let margins = [
        least.map(|least| (value.base - least.base, least)),
        most.map(|most| (most.base - value.base, most)),
    ];
    // Twice the root of the sum of squares must be less than the distance to the end.
    let own = |(inside, end): (f64, Value)| {
        let of_end = end.standard_uncertainty().unwrap_or(0.0);
        let square = inside * inside / 4.0 - of_end * of_end;
        (square > 0.0).then(|| libm::sqrt(square))
    };
    let margins = || margins.iter().flatten().copied();
    let beyond: Vec<(f64, Value)> = margins().filter(|(inside, _)| *inside < 0.0).collect();
    if beyond.is_empty() {
        let mut all = margins().map(own);
        let needed = all.try_fold(f64::INFINITY, |least, one| Some(least.min(one?)));
        return Some((needed.filter(|needed| needed.is_finite()), true));
    }
    Some((beyond.into_iter().filter_map(own).reduce(f64::max), false))
}

/// The largest contribution to a computed value, and how much smaller it must become; to first order it shrinks as its
/// reading's uncertainty does.
fn better(came: &Came, needed: f64, voice: Voice<'_>) -> Option<Better> {
    let How::Computed(computation) = &came.how else { return None };
    let Budget::FirstOrder { parts, standard } = &computation.budget else { return None };
    let largest = parts.first()?;
    let others = standard * standard - largest.standard * largest.standard;
    let left = needed * needed - others.max(0.0);
    // What an instrument adds to all its readings at once gets no smaller by reading one of them better.
    if left <= 0.0 || largest.standard <= 0.0 || largest.inputs.len() != 1 {
        return None;
    }
    let factor = libm::sqrt(left) / largest.standard;
    let source = source(computation, largest.inputs.first()?)?;
    let Content::Quantity(quantity) = source.content else { return None };
    let uncertainty = quantity.uncertainty?;
    let (own, rest) = match largest.shared_by {
        None => (uncertainty.independent, uncertainty.shared),
        Some(_) => (uncertainty.shared, uncertainty.independent),
    };
    let unit = source.unit.map(|unit| unit.in_system(voice.units));
    let reduced = libm::sqrt(own * own * factor * factor + rest * rest);
    Some(Better {
        point: source.point.clone(),
        name: source.name.clone(),
        title: source.title.clone(),
        position: source.position.clone(),
        unit,
        now: expanded(uncertainty.standard(), unit),
        needed: expanded(reduced, unit),
    })
}

/// The value that feeds an input: `pressure`, or `pressure 2` where the input takes several.
fn source<'c>(computation: &'c Computation, input: &str) -> Option<&'c Came> {
    let named = |name: &str| computation.inputs.iter().find(|step| step.name == name);
    if let Some(step) = named(input) {
        let [source] = step.sources.as_slice() else { return None };
        return Some(source);
    }
    let (name, number) = input.rsplit_once(' ')?;
    let index = number.parse::<usize>().ok()?.checked_sub(1)?;
    named(name)?.sources.get(index)
}

/// Instruments of the job whose spec sheet gives this value at most that standard uncertainty.
fn good_enough(
    inspection: &Inspection,
    value: Value,
    unit: &'static Unit,
    needed: f64,
) -> Vec<InstrumentId> {
    let bare = Value { uncertainty: None, ..value };
    let reads = |id: &&InstrumentId| {
        // One without a step in this kind of unit measures something else.
        let stepped =
            inspection.instruments.get(*id).is_some_and(|one| !one.resolution.trim().is_empty());
        let read = accuracy::read_with(inspection, id, bare, unit);
        stepped
            && read.ok().flatten().is_some_and(|(read, _)| {
                read.standard_uncertainty().is_some_and(|standard| standard < needed)
            })
    };
    inspection.instruments.keys().filter(reads).cloned().collect()
}

/// Expanded uncertainty (k = 2) in a unit, from a standard one in SI base units.
fn expanded(standard: f64, unit: Option<&Unit>) -> f64 {
    2.0 * standard / unit.map_or(1.0, Unit::step)
}

fn sentence(one: &Deciding, title: &str, limit: &Limit, inspection: &Inspection) -> String {
    let mut sentence =
        format!("{title}{}: {} against {}", at_position(&one.position), one.value, one.bound);
    let Some(needed) = one.needed else {
        sentence.push_str("; no better reading of the same value decides it, only another value");
        return sentence;
    };
    sentence.push_str(&format!(
        "; known to ± {} or better it {} (now ± {})",
        down(needed, one.unit),
        would(one.verdict, limit),
        up(one.now, one.unit)
    ));
    if let Some(better) = &one.better {
        sentence.push_str(&format!(
            "; for that, {}{} to ± {} or better (now ± {})",
            better.title,
            at_position(&better.position),
            down(better.needed, better.unit),
            up(better.now, better.unit)
        ));
    }
    let names: BTreeMap<&InstrumentId, &str> =
        inspection.instruments.iter().map(|(id, one)| (id, one.name.as_str())).collect();
    let names: Vec<&str> = one.instruments.iter().filter_map(|id| names.get(id).copied()).collect();
    if !names.is_empty() {
        sentence.push_str(&format!("; {} would do", names.join(" or ")));
    }
    sentence
}

fn would(verdict: Verdict, limit: &Limit) -> String {
    match verdict {
        Verdict::Conforms => "would conform".to_owned(),
        Verdict::DoesNotConform => "would not conform".to_owned(),
        other => format!("would be {}", other.words(Some(limit.basis))),
    }
}

impl Deciding {
    /// The uncertainty that is needed, as it is written: rounded down, so that what is written does decide.
    #[must_use]
    pub fn needed_in_words(&self) -> Option<String> {
        self.needed.map(|needed| down(needed, self.unit))
    }

    /// The uncertainty now, as it is written.
    #[must_use]
    pub fn now_in_words(&self) -> String {
        up(self.now, self.unit)
    }
}

impl Better {
    /// The uncertainty that is needed, as it is written.
    #[must_use]
    pub fn needed_in_words(&self) -> String {
        down(self.needed, self.unit)
    }

    /// The uncertainty now, as it is written.
    #[must_use]
    pub fn now_in_words(&self) -> String {
        up(self.now, self.unit)
    }
}

/// Rounded down and never to the number itself: on the border nothing is decided.
fn down(number: f64, unit: Option<&Unit>) -> String {
    two_digits(number, unit, |steps, near| {
        near.map_or_else(|| libm::floor(steps), |near| near - 1.0)
    })
}

fn up(number: f64, unit: Option<&Unit>) -> String {
    two_digits(number, unit, |steps, near| near.unwrap_or_else(|| libm::ceil(steps)))
}

/// Two significant digits with the unit, rounded as asked: by how many steps of the second digit it is, and which whole
/// number of them where it is one but for the last bits.
fn two_digits(number: f64, unit: Option<&Unit>, round: fn(f64, Option<f64>) -> f64) -> String {
    let symbol = unit.map_or("", Unit::symbol);
    let text = format!("{number:e}");
    let power: i32 = text.split_once('e').and_then(|(_, it)| it.parse().ok()).unwrap_or(0);
    let step = libm::pow(10.0, f64::from(power - 1));
    let steps = number / step;
    let nearest = libm::round(steps);
    let steps = round(steps, ((steps - nearest).abs() < 1e-9).then_some(nearest));
    let decimals = usize::try_from(1 - power).unwrap_or(0).min(12);
    let written = format!("{:.decimals$}", steps * step);
    if symbol.is_empty() { written } else { format!("{written} {symbol}") }
}
