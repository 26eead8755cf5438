//! One point of a plan: one thing to examine at a stop, with all there is to know of it.

use std::collections::{BTreeMap, BTreeSet};

use inspection::{DwellingKind, TimeToAct, Use};
use limit::Limit;
use quantity::{Kind, Unit, Value};

use crate::HalfMinutes;

/// One thing to examine at a stop; one file in the data.
#[derive(Clone, Debug)]
pub struct Point {
    /// Its id, never renamed: old records refer to it.
    pub id: String,
    /// The system it belongs to: the folder of its file.
    pub system: String,
    /// Heading in the walk and the report.
    pub title: String,
    /// Id of the stop it is examined at.
    pub stop: String,
    /// What can hurt, and what to do about it; said before the acts. Empty where nothing can.
    pub caution: String,
    /// What to look at.
    pub look: Vec<String>,
    /// What to operate.
    pub operate: Vec<String>,
    /// What to measure, in words.
    pub measure: Vec<String>,
    /// Hands-on time of one experienced person; waits are not in it.
    pub minutes: HalfMinutes,
    /// An unattended span between its first and last act.
    pub wait: Option<PlannedWait>,
    /// Points that must come before it.
    pub after: Vec<String>,
    /// Site states it needs, such as `gas_on`.
    pub needs: Vec<String>,
    /// Uses that stay open while this point was not examined.
    pub essential: Vec<Use>,
    /// Kinds of unit that have it; empty for all.
    pub kinds: BTreeSet<DwellingKind>,
    /// Equipment that must all be fitted for the point to exist.
    pub fitted: BTreeSet<String>,
    /// Equipment that must not be fitted.
    pub not_fitted: BTreeSet<String>,
    /// What a photo should show; empty where none is wanted.
    pub photo: String,
    /// What is read.
    pub readings: Vec<ReadingPlan>,
    /// What is computed.
    pub derived: Vec<Derivation>,
    /// What the values are held to.
    pub limits: Vec<PlannedLimit>,
    /// What can be wrong here, with the sentences for the report.
    pub defects: Vec<Defect>,
    /// Worked examples; each is a test.
    pub examples: Vec<Example>,
    /// The file it came from, for messages.
    pub file: String,
}

/// An unattended span.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlannedWait {
    /// Shortest time until the last act, minutes.
    pub minutes: u32,
    /// Longest useful time, minutes; none where it does not matter.
    pub at_most: Option<u32>,
    /// What runs meanwhile, in words: "the refrigerator cools".
    pub what: String,
    /// What must not be touched meanwhile, in words.
    pub untouched: Vec<String>,
}

/// One reading of a point.
#[derive(Clone, Debug)]
pub struct ReadingPlan {
    /// Its name within the point.
    pub id: String,
    /// What to read, in words.
    pub title: String,
    /// What form it has.
    pub form: ReadingForm,
    /// Which of several it is taken at; empty where there is only one.
    pub positions: Positions,
    /// Whether the point counts as examined without it.
    pub optional: bool,
    /// What people read for a choice in another language; empty where they read the recorded words themselves.
    pub shown: BTreeMap<String, String>,
}

/// The form of a reading.
#[derive(Clone, Debug)]
pub enum ReadingForm {
    /// A quantity, usually written in this unit, with the standard uncertainty of the usual instrument.
    Quantity {
        /// Its kind.
        kind: Kind,
        /// The unit it is usually written in.
        unit: &'static Unit,
        /// Standard uncertainty of the usual instrument, in SI base units; an instrument in the record
        /// overrides it. None where no usual one is known.
        usual: Option<f64>,
    },
    /// One of these words.
    Choice(Vec<String>),
    /// A day or a month.
    Date,
    /// Free text, such as a serial number.
    Text,
}

/// Where a reading is taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Positions {
    /// In one place only.
    One,
    /// At these, such as the wheels.
    Named(Vec<String>),
    /// At as many as there are; people name them.
    Any,
}

/// A value that a formula computes from readings.
#[derive(Clone, Debug)]
pub struct Derivation {
    /// Its name within the point.
    pub id: String,
    /// What it is, in words.
    pub title: String,
    /// The formula's name.
    pub formula: String,
    /// Which part of its outcome is meant; empty for the main result.
    pub part: String,
    /// Where each input comes from.
    pub from: BTreeMap<String, InputFrom>,
    /// The unit it is usually written in; none for words.
    pub unit: Option<&'static Unit>,
}

/// Where an input of a formula comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum InputFrom {
    /// A reading or derived value of the same point; at the same position where it has several.
    Own(String),
    /// All readings of the same point with this name, in the order of their positions, as a list; for an
    /// input that takes text as `place: text; place: text`.
    AllOwn(String),
    /// A reading or derived value of the same point at one position, whatever position is derived.
    OwnAt {
        /// The name.
        name: String,
        /// The position.
        position: String,
    },
    /// A reading or derived value of another point.
    Other {
        /// The other point.
        point: String,
        /// The name there.
        name: String,
    },
    /// A fact of the dwelling: `model_year`, `built`, or a name among its ratings.
    Dwelling(String),
    /// The day of the visit.
    VisitDay,
    /// A fixed text, read as the input takes it.
    Fixed(String),
}

/// A limit of a point, with the defect it drafts when it is broken.
#[derive(Clone, Debug)]
pub struct PlannedLimit {
    /// The limit.
    pub limit: Limit,
    /// Id of the defect that is drafted when the limit is broken; empty for none.
    pub defect: String,
    /// A bound that is another value instead of a fixed number.
    pub bound_from: Option<BoundFrom>,
}

/// A bound taken from the record: a plate's range, a rating.
#[derive(Clone, Debug, PartialEq)]
pub enum BoundFrom {
    /// At most this value.
    AtMost(InputFrom),
    /// At least this value.
    AtLeast(InputFrom),
    /// Between these values.
    Between(InputFrom, InputFrom),
}

/// Something that can be wrong at a point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Defect {
    /// Its id within the point.
    pub id: String,
    /// Short heading.
    pub title: String,
    /// The statement for the report; `{name}` stands for a reading or derived value, `{position}` for
    /// where, `{limit}` for the broken bound.
    pub statement: String,
    /// Uses that it stops.
    pub stops: Vec<Use>,
    /// How soon to act.
    pub when: TimeToAct,
    /// Whom to call.
    pub who: String,
    /// What to do at once, where it must not wait: ventilate, leave, call. Empty elsewhere.
    pub stop_work: String,
}

/// A worked example of a point.
#[derive(Clone, Debug, Default)]
pub struct Example {
    /// What it shows, in words.
    pub title: String,
    /// Kind of unit; the first that the point applies to if none is given.
    pub kind: Option<DwellingKind>,
    /// Day the unit was built.
    pub built: Option<jiff::civil::Date>,
    /// Day of the visit.
    pub visited: Option<jiff::civil::Date>,
    /// Readings by name, or `name@position`, as typed; `other_point.name` for another point's.
    pub given: BTreeMap<String, String>,
    /// Facts of the dwelling by name, as typed.
    pub dwelling: BTreeMap<String, String>,
    /// Defects seen.
    pub found: Vec<String>,
    /// Reason why it was not examined.
    pub not_examined: Option<String>,
    /// Expected values: derived name (or `name@position`) to number and unit, compared within one unit of the last digit written.
    pub values: BTreeMap<String, String>,
    /// Expected verdicts: limit id (or `id@position`) to the verdict's words.
    pub verdicts: BTreeMap<String, String>,
    /// Expected uses stopped.
    pub stops: Option<Vec<Use>>,
    /// Expected uses left open.
    pub open: Option<Vec<Use>>,
    /// Expected drafted defects.
    pub drafts: Option<Vec<String>>,
}

impl Point {
    /// Whether a unit of this kind with this equipment has this point.
    #[must_use]
    pub fn exists_on(&self, kind: DwellingKind, equipment: &BTreeSet<String>) -> bool {
        (self.kinds.is_empty() || self.kinds.contains(&kind))
            && self.fitted.is_subset(equipment)
            && self.not_fitted.is_disjoint(equipment)
    }

    /// The reading with this name.
    #[must_use]
    pub fn reading(&self, name: &str) -> Option<&ReadingPlan> {
        self.readings.iter().find(|reading| reading.id == name)
    }

    /// The defect with this id.
    #[must_use]
    pub fn defect(&self, id: &str) -> Option<&Defect> {
        self.defects.iter().find(|defect| defect.id == id)
    }

    /// The unit that a reading or derived value of this point is usually written in.
    #[must_use]
    pub fn unit_of(&self, name: &str) -> Option<&'static Unit> {
        if let Some(reading) = self.reading(name) {
            return match reading.form {
                ReadingForm::Quantity { unit, .. } => Some(unit),
                ReadingForm::Choice(_) | ReadingForm::Date | ReadingForm::Text => None,
            };
        }
        self.derived.iter().find(|derived| derived.id == name).and_then(|derived| derived.unit)
    }
}

impl ReadingPlan {
    /// What people read for a recorded word of a choice.
    #[must_use]
    pub fn shown<'a>(&'a self, word: &'a str) -> &'a str {
        self.shown.get(word).map_or(word, String::as_str)
    }

    /// A typed entry as a value with the usual instrument's uncertainty, where it is a quantity.
    ///
    /// # Errors
    /// A sentence that says what is accepted.
    pub fn read(&self, entry: &str) -> Result<Option<Value>, String> {
        match &self.form {
            ReadingForm::Quantity { kind, usual, .. } => {
                let value =
                    quantity::parse_value(entry, *kind).map_err(|error| error.to_string())?;
                Ok(Some(match (value.uncertainty, usual) {
                    (None, Some(usual)) => value.with_uncertainty(*usual),
                    _ => value,
                }))
            }
            ReadingForm::Choice(words) => {
                let entry = entry.trim();
                if words.iter().any(|word| word.eq_ignore_ascii_case(entry)) {
                    Ok(None)
                } else {
                    Err(format!("`{entry}` is not accepted; accepted: {}", words.join(", ")))
                }
            }
            ReadingForm::Date => formulas::CalendarDate::parse(entry).map(|_| None),
            ReadingForm::Text if entry.trim().is_empty() => {
                Err("there is no text; write what is read".to_owned())
            }
            ReadingForm::Text => Ok(None),
        }
    }
}
