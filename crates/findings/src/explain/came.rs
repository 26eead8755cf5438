//! How one value came about: entered by a person, or computed from others, each with the same account.

use formulas::{Argument, Formula, Propagation, Share, Simulated};
use inspection::{Inspection, InstrumentId, Moment, PointId, ReadingId};
use plan::{Derivation, InputFrom, Point};
use quantity::Unit;

use crate::accuracy::{self, Accuracy};
use crate::values::{Known, Values, words};
use crate::{Content, Origin};

/// Accounts within accounts stop here; a plan nests three deep.
const DEEPEST: usize = 12;

/// One value, and how it came about.
#[derive(Clone, Debug)]
pub struct Came {
    /// The point that it belongs to.
    pub point: PointId,
    /// Its name within the point.
    pub name: String,
    /// What it is, in words.
    pub title: String,
    /// Which of several; empty where there is only one.
    pub position: String,
    /// The unit it is usually written in; none for words.
    pub unit: Option<&'static Unit>,
    /// The value.
    pub content: Content,
    /// How it came about.
    pub how: How,
    /// What a reader must know beside it, in sentences.
    pub notes: Vec<String>,
}

/// The two ways to a value.
#[derive(Clone, Debug)]
pub enum How {
    /// A person entered it.
    Entered(Entered),
    /// A formula computed it.
    Computed(Computation),
    /// The plan or the record does not say.
    Unknown,
}

/// An entry of the record.
#[derive(Clone, Debug)]
pub struct Entered {
    /// The record's id.
    pub id: ReadingId,
    /// What was typed.
    pub entry: String,
    /// Who typed it.
    pub by: String,
    /// When it was read.
    pub at: Option<Moment>,
    /// The instrument named with it.
    pub instrument: Option<InstrumentId>,
    /// How many entries there are at this place; the last counts.
    pub entries: usize,
    /// Where its uncertainty comes from.
    pub accuracy: Accuracy,
}

/// One call of a formula.
#[derive(Clone, Debug)]
pub struct Computation {
    /// The formula.
    pub formula: &'static Formula,
    /// Which part of its outcome is meant; empty for the main result.
    pub part: String,
    /// Its inputs, in its own order; those left out are not listed.
    pub inputs: Vec<InputStep>,
    /// How the uncertainty came about.
    pub budget: Budget,
}

/// One input of a call.
#[derive(Clone, Debug)]
pub struct InputStep {
    /// Its name, which is its symbol.
    pub name: String,
    /// What it is.
    pub about: &'static str,
    /// Where the plan takes it from, in words.
    pub from: String,
    /// What the formula was given; none where it was missing.
    pub argument: Option<Argument>,
    /// The values of this visit that it is fed with; empty for facts and fixed texts.
    pub sources: Vec<Came>,
}

/// How the uncertainty of a computed value came about, in SI base units.
#[derive(Clone, Debug, PartialEq)]
pub enum Budget {
    /// No input carries one, or the value is no number.
    Nothing,
    /// It could not be told; a note says why.
    Untold,
    /// To first order (JCGM 100:2008, eq. 10 and 13).
    FirstOrder {
        /// What each independent error contributes, the largest first.
        parts: Vec<BudgetPart>,
        /// The standard uncertainty: the root of the sum of their squares.
        standard: f64,
    },
    /// By simulation (JCGM 101:2008).
    Simulated {
        /// How many times the formula was computed.
        trials: usize,
        /// What the draws begin with.
        seed: u64,
        /// Trials that the formula refused.
        refused: usize,
        /// Standard deviation and the 95 % interval.
        simulated: Simulated,
    },
}

/// What one independent error contributes.
#[derive(Clone, Debug, PartialEq)]
pub struct BudgetPart {
    /// The inputs that carry it; several where they share it.
    pub inputs: Vec<String>,
    /// The instrument whose readings share it; none for a reading's own error.
    pub shared_by: Option<InstrumentId>,
    /// What it adds, as a standard uncertainty of the result.
    pub standard: f64,
    /// Its part of the variance, 0 to 1.
    pub share: f64,
}

/// The account of one value.
pub(crate) fn about<'a>(
    values: &mut Values<'a>,
    inspection: &Inspection,
    point: &'a Point,
    name: &str,
    position: &str,
    known: &Known,
) -> Came {
    within(values, inspection, point, name, position, known, 0)
}

fn within<'a>(
    values: &mut Values<'a>,
    inspection: &Inspection,
    point: &'a Point,
    name: &str,
    position: &str,
    known: &Known,
    depth: usize,
) -> Came {
    let derivation = point.derived.iter().find(|derived| derived.id == name);
    let title = super::title_of(point, name).unwrap_or(name).to_owned();
    let how = match (&known.origin, derivation) {
        (Origin::Read(id), _) => entered(values, inspection, point, name, position, id),
        (Origin::Computed { .. }, Some(derivation)) if depth < DEEPEST => {
            computed(values, inspection, point, derivation, position, depth)
        }
        (Origin::Computed { .. }, _) => None,
    };
    Came {
        point: PointId::from(point.id.as_str()),
        name: name.to_owned(),
        title,
        position: position.to_owned(),
        unit: point.unit_of(name),
        content: known.content.clone(),
        how: how.unwrap_or(How::Unknown),
        notes: known.notes.clone(),
    }
}

fn entered(
    values: &mut Values<'_>,
    inspection: &Inspection,
    point: &Point,
    name: &str,
    position: &str,
    id: &ReadingId,
) -> Option<How> {
    let reading = inspection.readings.get(id)?;
    let entry = accuracy::entry(inspection, point.reading(name)?, reading).ok()?;
    Some(How::Entered(Entered {
        id: id.clone(),
        entry: reading.entry.clone(),
        by: reading.by.clone(),
        at: reading.at,
        instrument: reading.instrument.clone(),
        entries: values.entries(point, name, position),
        accuracy: entry.accuracy,
    }))
}

fn computed<'a>(
    values: &mut Values<'a>,
    inspection: &Inspection,
    point: &'a Point,
    derivation: &'a Derivation,
    position: &str,
    depth: usize,
) -> Option<How> {
    let formula = formulas::find(&derivation.formula)?;
    let gathered = values.gather(point, derivation, formula, position)?;
    let mut inputs = Vec::new();
    for input in formula.inputs {
        let Some(from) = derivation.from.get(input.name) else { continue };
        let mut sources = Vec::new();
        if let Some((point, name, found)) = values.sources(point, from, position) {
            for (place, known) in found.with_places() {
                sources.push(within(values, inspection, point, name, place, known, depth + 1));
            }
        }
        inputs.push(InputStep {
            name: input.name.to_owned(),
            about: input.about,
            from: from_words(from),
            argument: gathered.arguments.by_name.get(input.name).cloned(),
            sources,
        });
    }
    let evaluation = gathered
        .ready()
        .ok()
        .and_then(|arguments| formula.evaluate_with_propagation(arguments).ok());
    let budget = evaluation.map_or(Budget::Nothing, |(outcome, propagation)| {
        match outcome.number_of(&derivation.part) {
            Some(number) => budget(inspection, number, propagation),
            None => Budget::Nothing,
        }
    });
    Some(How::Computed(Computation { formula, part: derivation.part.clone(), inputs, budget }))
}

fn budget(inspection: &Inspection, number: usize, propagation: Propagation) -> Budget {
    match propagation {
        Propagation::Nothing => Budget::Nothing,
        Propagation::Untold => Budget::Untold,
        Propagation::Simulated { trials, seed, simulation } => {
            match simulation.numbers.get(number) {
                Some(simulated) => Budget::Simulated {
                    trials,
                    seed,
                    refused: simulation.refused,
                    simulated: *simulated,
                },
                None => Budget::Untold,
            }
        }
        Propagation::FirstOrder(shares) => first_order(inspection, number, &shares),
    }
}

fn first_order(inspection: &Inspection, number: usize, shares: &[Share]) -> Budget {
    let mut parts: Vec<BudgetPart> = Vec::new();
    // By source: the inputs that share its error, and the sum of what they make of it, signs kept.
    let mut common: Vec<(u32, Vec<String>, f64)> = Vec::new();
    for share in shares {
        let slope = share.slopes.get(number).copied().unwrap_or(0.0);
        let name = match share.index {
            Some(index) => format!("{} {}", share.input, index + 1),
            None => share.input.to_owned(),
        };
        let own = (slope * share.uncertainty.independent).abs();
        if own > 0.0 {
            let inputs = vec![name.clone()];
            parts.push(BudgetPart { inputs, shared_by: None, standard: own, share: 0.0 });
        }
        if share.uncertainty.shared > 0.0 {
            let source = share.uncertainty.source;
            let amount = slope * share.uncertainty.shared;
            match common.iter_mut().find(|(other, ..)| *other == source) {
                Some((_, inputs, sum)) => {
                    inputs.push(name);
                    *sum += amount;
                }
                None => common.push((source, vec![name], amount)),
            }
        }
    }
    for (source, inputs, sum) in common {
        let shared_by = accuracy::instrument_of(inspection, source).cloned();
        parts.push(BudgetPart { inputs, shared_by, standard: sum.abs(), share: 0.0 });
    }
    let variance: f64 = parts.iter().map(|part| part.standard * part.standard).sum();
    if variance > 0.0 {
        for part in &mut parts {
            part.share = part.standard * part.standard / variance;
        }
    }
    parts.sort_by(|one, other| other.standard.total_cmp(&one.standard));
    Budget::FirstOrder { parts, standard: variance.sqrt() }
}

fn from_words(from: &InputFrom) -> String {
    match from {
        InputFrom::Own(name) => words(name),
        InputFrom::AllOwn(name) => format!("all of {}", words(name)),
        InputFrom::OwnAt { name, position } => words(&format!("{name} at {position}")),
        InputFrom::Other { point, name } => words(&format!("{point}, {name}")),
        InputFrom::Dwelling(fact) => format!("the unit's {}", words(fact)),
        InputFrom::VisitDay => "the day of the visit".to_owned(),
        InputFrom::Fixed(text) => format!("`{text}`, fixed in the plan"),
    }
}
