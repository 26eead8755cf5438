//! Readings and derived values of all points, each computed once.

use std::ops::Range;
use std::rc::Rc;

use formulas::{Argument, Arguments, Evaluation, Formula, Output};
use inspection::{Inspection, Reading, ReadingId};
use jiff::civil::Date;
use plan::{Derivation, InputFrom, Plan, Point, Positions, ReadingPlan};
use quantity::{Unit, Value, write_value};

use crate::accuracy::{self, Entry};
use crate::index::Index;
use crate::{Content, Origin};

/// One value at one position.
#[derive(Clone, Debug)]
pub(crate) struct Known {
    pub content: Content,
    pub origin: Origin,
    pub notes: Vec<String>,
}

/// Values by position; the order is that of the plan, then of the entries.
pub(crate) type ByPosition = Rc<Vec<(String, Known)>>;

/// What a formula is given at one position.
pub(crate) struct Gathered {
    pub arguments: Arguments,
    /// The readings that went in, each once.
    pub readings: Vec<ReadingId>,
    /// What is missing, in sentences.
    absent: Vec<String>,
}

impl Gathered {
    /// The arguments, if nothing is missing; else the sentence that says what.
    pub(crate) fn ready(&self) -> Result<&Arguments, String> {
        if self.absent.is_empty() {
            return Ok(&self.arguments);
        }
        Err(format!("not computed: {}", self.absent.join("; ")))
    }
}

/// Values that feed an input: some of those of one name, by position.
#[derive(Clone, Default)]
pub(crate) struct Found {
    values: ByPosition,
    range: Range<usize>,
}

impl Found {
    fn all(values: ByPosition) -> Self {
        Self { range: 0..values.len(), values }
    }

    /// One text that is not of this visit.
    fn text(text: String) -> Self {
        let origin = Origin::Computed { formula: String::new(), readings: Vec::new() };
        let known = Known { content: Content::Words(text), origin, notes: Vec::new() };
        Self::all(Rc::new(vec![(String::new(), known)]))
    }

    /// Each with its position.
    pub(crate) fn with_places(&self) -> &[(String, Known)] {
        self.values.get(self.range.clone()).unwrap_or_default()
    }

    fn known(&self) -> impl Iterator<Item = &Known> {
        self.with_places().iter().map(|(_, known)| known)
    }

    /// The first of them.
    pub(crate) fn first(&self) -> Option<&Known> {
        self.known().next()
    }
}

/// What is known of one name of a point.
#[derive(Clone, Default)]
struct Slot<'a> {
    /// Readings that count.
    readings: Vec<(&'a ReadingId, &'a Reading)>,
    /// Its values, once they were asked for.
    known: Option<ByPosition>,
    /// Being derived: a plan that refers to itself gets a sentence, not an endless loop.
    under_way: bool,
}

/// All values, computed when first asked for.
pub(crate) struct Values<'a> {
    points: Index<'a>,
    inspection: &'a Inspection,
    /// By the number of the point; in each its readings, then its derived values.
    slots: Vec<Vec<Slot<'a>>>,
    /// Entries that could not be read or used.
    pub problems: Vec<String>,
}

/// Which of a point's names it is: readings first, then derived values.
fn number_of(point: &Point, name: &str) -> Option<usize> {
    let readings = || point.readings.iter().map(|reading| reading.id.as_str());
    let derived = point.derived.iter().map(|derived| derived.id.as_str());
    readings().chain(derived).position(|id| id == name)
}

impl<'a> Values<'a> {
    pub(crate) fn new(plan: &'a Plan, inspection: &'a Inspection) -> Self {
        let points = Index::of(plan);
        let empty =
            |point: &Point| vec![Slot::default(); point.readings.len() + point.derived.len()];
        let slots: Vec<Vec<Slot<'a>>> = plan.points.iter().map(empty).collect();
        let mut values = Self { points, inspection, slots, problems: Vec::new() };
        // Readings come mostly point by point.
        let mut last = ("", None);
        for (id, reading) in &inspection.readings {
            if reading.struck_out.is_none() {
                if last.0 != reading.point.as_str() || last.1.is_none() {
                    last = (reading.point.as_str(), values.points.number(reading.point.as_str()));
                }
                values.count_in(last.1, id, reading);
            }
        }
        values
    }

    /// Counts a reading in that the inspection does not have.
    pub(crate) fn suppose(&mut self, id: &'a ReadingId, reading: &'a Reading) {
        self.count_in(self.points.number(reading.point.as_str()), id, reading);
    }

    fn count_in(&mut self, point: Option<usize>, id: &'a ReadingId, reading: &'a Reading) {
        let slot = point.and_then(|number| {
            let name = number_of(self.points.at(number)?, &reading.name)?;
            self.slots.get_mut(number)?.get_mut(name)
        });
        if let Some(slot) = slot {
            slot.readings.push((id, reading));
        }
    }

    fn slot(&mut self, point: usize, name: usize) -> Option<&mut Slot<'a>> {
        self.slots.get_mut(point)?.get_mut(name)
    }

    /// Values of a reading or derived value of a point, by position.
    pub(crate) fn of(&mut self, point: &'a Point, name: &str) -> ByPosition {
        let at = self.points.number(&point.id).zip(number_of(point, name));
        let Some((number, name)) = at else { return ByPosition::default() };
        let Some(slot) = self.slot(number, name) else { return ByPosition::default() };
        if let Some(known) = &slot.known {
            return Rc::clone(known);
        }
        if std::mem::replace(&mut slot.under_way, true) {
            return ByPosition::default();
        }
        let values = Rc::new(if let Some(reading) = point.readings.get(name) {
            let entries = std::mem::take(&mut slot.readings);
            let values = self.read(point, reading, &entries);
            if let Some(slot) = self.slot(number, name) {
                slot.readings = entries;
            }
            values
        } else if let Some(derivation) = point.derived.get(name - point.readings.len()) {
            self.derive(point, derivation)
        } else {
            Vec::new()
        });
        if let Some(slot) = self.slot(number, name) {
            slot.under_way = false;
            slot.known = Some(Rc::clone(&values));
        }
        values
    }

    fn read(
        &mut self,
        point: &'a Point,
        plan: &'a ReadingPlan,
        list: &[(&'a ReadingId, &'a Reading)],
    ) -> Vec<(String, Known)> {
        // The last entry at a position counts; the record keeps the others.
        let mut last: Vec<(&ReadingId, &Reading, usize)> = Vec::with_capacity(list.len());
        for (id, reading) in list {
            match last.iter_mut().find(|(_, other, _)| other.position == reading.position) {
                Some(slot) => {
                    let newer = counts_over((id, reading), (slot.0, slot.1));
                    slot.2 += 1;
                    if newer {
                        (slot.0, slot.1) = (id, reading);
                    }
                }
                None => last.push((id, reading, 1)),
            }
        }
        if let Positions::Named(names) = &plan.positions {
            last.sort_by_key(|(_, reading, _)| {
                names.iter().position(|name| *name == reading.position).unwrap_or(names.len())
            });
        } else {
            last.sort_by(|(_, one, _), (_, other, _)| {
                (one.at, natural(&one.position)).cmp(&(other.at, natural(&other.position)))
            });
        }
        let mut values = Vec::with_capacity(last.len());
        for (id, reading, count) in last {
            match accuracy::entry(self.inspection, plan, reading) {
                Ok(Entry { content, mut notes, accuracy: _ }) => {
                    if count > 1 {
                        notes.push(format!("read {count} times; the last one counts"));
                    }
                    let known = Known { content, origin: Origin::Read(id.clone()), notes };
                    values.push((reading.position.clone(), known));
                }
                Err(sentence) => self.problems.push(format!(
                    "{}, {}{}: {sentence}",
                    point.title,
                    plan.title,
                    at_position(&reading.position)
                )),
            }
        }
        values
    }

    /// How many entries there are of a reading at a position, struck-out ones not counted.
    pub(crate) fn entries(&mut self, point: &Point, name: &str, position: &str) -> usize {
        let at = self.points.number(&point.id).zip(number_of(point, name));
        let slot = at.and_then(|(point, name)| self.slot(point, name));
        let list = slot.map_or(&[][..], |slot| slot.readings.as_slice());
        list.iter().filter(|(_, reading)| reading.position == position).count()
    }

    fn derive(&mut self, point: &'a Point, derivation: &'a Derivation) -> Vec<(String, Known)> {
        let Some(formula) = formulas::find(&derivation.formula) else {
            self.problems.push(format!("{}: no formula `{}`", point.title, derivation.formula));
            return Vec::new();
        };
        let mut own: Vec<(&str, ByPosition)> = Vec::new();
        for from in derivation.from.values() {
            if let InputFrom::Own(name) = from {
                own.push((name, self.of(point, name)));
            }
        }
        let mut positions: Vec<&str> = Vec::new();
        for (position, _) in own.iter().flat_map(|(_, values)| values.iter()) {
            if !position.is_empty() && !positions.contains(&position.as_str()) {
                positions.push(position);
            }
        }
        if positions.is_empty() {
            // Over places that may be left out, none of which was read, there is nothing to compute.
            let unread = derivation.from.iter().any(|(input, from)| match from {
                InputFrom::Own(name) => {
                    formula.input(input).is_some_and(|input| input.required)
                        && own.iter().any(|(own, values)| own == name && values.is_empty())
                        && point.reading(name).is_some_and(|reading| {
                            reading.optional && reading.positions != Positions::One
                        })
                }
                _ => false,
            });
            if unread {
                return Vec::new();
            }
            positions.push("");
        }
        let mut values = Vec::with_capacity(positions.len());
        for position in positions {
            if let Some(known) = self.derive_at(point, derivation, formula, position) {
                values.push((position.to_owned(), known));
            }
        }
        values
    }

    fn derive_at(
        &mut self,
        point: &'a Point,
        derivation: &'a Derivation,
        formula: &'static Formula,
        position: &str,
    ) -> Option<Known> {
        let gathered = self.gather(point, derivation, formula, position)?;
        let evaluation = gathered.ready().and_then(|arguments| {
            formula.evaluate(arguments).map_err(|problem| format!("not computed: {problem}"))
        });
        let origin =
            Origin::Computed { formula: formula.name.to_owned(), readings: gathered.readings };
        Some(match evaluation {
            Err(sentence) => Known { content: Content::None(sentence), origin, notes: Vec::new() },
            Ok(outcome) => {
                let content = content_of_outcome(formula, derivation, &outcome);
                Known { content, origin, notes: outcome.notes }
            }
        })
    }

    /// The arguments of a derivation at a position, and what is missing for it; none if nothing of it was read.
    pub(crate) fn gather(
        &mut self,
        point: &'a Point,
        derivation: &'a Derivation,
        formula: &'static Formula,
        position: &str,
    ) -> Option<Gathered> {
        let mut arguments = Arguments::default();
        let mut readings = Vec::new();
        let mut absent = Vec::new();
        let (mut measured, mut measurable) = (false, false);
        for (name, from) in &derivation.from {
            let input = formula.input(name)?;
            let found = match from {
                InputFrom::AllOwn(all) if input.takes == formulas::Takes::Text => {
                    self.with_places(point, all)
                }
                _ => self.input(point, from, position),
            };
            if is_read(from) {
                measurable = true;
                measured |= found.first().is_some();
            }
            for known in found.known() {
                match &known.origin {
                    Origin::Read(id) => readings.push(id.clone()),
                    Origin::Computed { readings: more, .. } => {
                        readings.extend(more.iter().cloned());
                    }
                }
            }
            match argument(&mut arguments, input, &found) {
                Ok(Some(argument)) => {
                    arguments.by_name.insert(input.name, argument);
                }
                Ok(None) if input.required => absent.push(describe(point, from)),
                Ok(None) => {}
                Err(sentence) => absent.push(sentence),
            }
        }
        if !measured && (measurable || !absent.is_empty()) {
            return None;
        }
        readings.sort();
        readings.dedup();
        Some(Gathered { arguments, readings, absent })
    }

    /// What an input is fed with: nothing if it is not known, several values for a list.
    pub(crate) fn input(&mut self, point: &'a Point, from: &'a InputFrom, position: &str) -> Found {
        let fixed = |text: Option<String>| text.map(Found::text).unwrap_or_default();
        match from {
            InputFrom::Own(_)
            | InputFrom::AllOwn(_)
            | InputFrom::OwnAt { .. }
            | InputFrom::Other { .. } => {
                self.sources(point, from, position).map_or_else(Found::default, |(_, _, it)| it)
            }
            InputFrom::Dwelling(fact) => fixed(self.dwelling_fact(fact)),
            InputFrom::VisitDay => fixed(self.inspection.job.visits.last().map(Date::to_string)),
            InputFrom::Fixed(text) => fixed(Some(text.clone())),
        }
    }

    /// The values of this visit that an input is fed with, with the point and the name that they belong to; none for
    /// facts and fixed texts.
    pub(crate) fn sources(
        &mut self,
        point: &'a Point,
        from: &'a InputFrom,
        position: &str,
    ) -> Option<(&'a Point, &'a str, Found)> {
        let (owner, name, place) = match from {
            InputFrom::Own(name) => (point, name, Some(position)),
            InputFrom::AllOwn(name) => (point, name, None),
            InputFrom::OwnAt { name, position } => (point, name, Some(position.as_str())),
            InputFrom::Other { point: id, name } => (self.points.point(id)?, name, Some(position)),
            InputFrom::Dwelling(_) | InputFrom::VisitDay | InputFrom::Fixed(_) => return None,
        };
        let values = self.of(owner, name);
        let range = match place {
            None => 0..values.len(),
            Some(place) => at(&values, place),
        };
        Some((owner, name, Found { values, range }))
    }

    /// All values of a name as one text, each behind its place: `label: 123; frame: 123`.
    fn with_places(&mut self, point: &'a Point, name: &str) -> Found {
        let mut readings = Vec::new();
        let mut items = Vec::new();
        for (position, known) in self.of(point, name).iter() {
            let Content::Words(text) = &known.content else { continue };
            // What ends an item cannot stand within one.
            items.push(format!("{position}: {}", text.replace(';', ",")));
            match &known.origin {
                Origin::Read(id) => readings.push(id.clone()),
                Origin::Computed { readings: more, .. } => readings.extend(more.iter().cloned()),
            }
        }
        if items.is_empty() {
            return Found::default();
        }
        let known = Known {
            content: Content::Words(items.join("; ")),
            origin: Origin::Computed { formula: String::new(), readings },
            notes: Vec::new(),
        };
        Found::all(Rc::new(vec![(String::new(), known)]))
    }

    fn dwelling_fact(&self, fact: &str) -> Option<String> {
        let dwelling = &self.inspection.dwelling;
        let text = match fact {
            "built" => dwelling.built?.to_string(),
            "model_year" => dwelling.model_year?.to_string(),
            "identification" => dwelling.identification.clone(),
            "kind" => dwelling.kind.word().to_owned(),
            "length" => dwelling.outline.length.clone(),
            "width" => dwelling.outline.width.clone(),
            "altitude" => format!("{} m", self.inspection.job.site.altitude_metres?),
            "latitude" => format!("{} deg", self.inspection.job.site.position?.0),
            "longitude" => format!("{} deg", self.inspection.job.site.position?.1),
            other => dwelling.ratings.get(other)?.clone(),
        };
        (!text.is_empty()).then_some(text)
    }
}

/// Whether an input comes from what was read on the visit.
fn is_read(from: &InputFrom) -> bool {
    match from {
        InputFrom::Own(_)
        | InputFrom::AllOwn(_)
        | InputFrom::OwnAt { .. }
        | InputFrom::Other { .. } => true,
        InputFrom::Dwelling(_) | InputFrom::VisitDay | InputFrom::Fixed(_) => false,
    }
}

/// The argument that an input gets from what is known; none if nothing is.
fn argument(
    arguments: &mut Arguments,
    input: &formulas::Input,
    found: &Found,
) -> Result<Option<Argument>, String> {
    if found.first().is_none() {
        return Ok(None);
    }
    let list =
        matches!(input.takes, formulas::Takes::Quantities(_) | formulas::Takes::AnyQuantities);
    let mut values = Vec::new();
    for known in found.known() {
        let argument = match &known.content {
            Content::None(why) => return Err(why.clone()),
            Content::Quantity(value) => Argument::for_input(input, *value)
                .ok_or_else(|| format!("{} is no value for {}", value.kind.word(), input.name))?,
            Content::Words(text) => {
                arguments.read_one(input, text).map_err(|problem| problem.to_string())?
            }
        };
        match argument {
            Argument::Quantities(more) if list => values.extend(more),
            other => return Ok(Some(other)),
        }
    }
    Ok(Some(Argument::Quantities(values)))
}

/// Which value is at a position; where there is none of its own, the only one there is.
fn at(values: &[(String, Known)], position: &str) -> Range<usize> {
    let only = values.len() == 1
        && values.iter().all(|(place, _)| place.is_empty() || position.is_empty());
    match values.iter().position(|(place, _)| place == position) {
        Some(index) => index..index + 1,
        None if only => 0..1,
        None => 0..0,
    }
}

/// The outcome's main result, or the part that the plan means.
fn content_of_outcome(formula: &Formula, derivation: &Derivation, outcome: &Evaluation) -> Content {
    let output = if derivation.part.is_empty() {
        Some(&outcome.result)
    } else {
        outcome.parts.iter().find_map(|(name, output)| (*name == derivation.part).then_some(output))
    };
    output.map_or_else(
        || Content::None(format!("{} gave no `{}` here", formula.name, derivation.part)),
        |output| content_of_output(output, derivation.unit),
    )
}

fn content_of_output(output: &Output, unit: Option<&'static Unit>) -> Content {
    let write = |value: &Value| match unit {
        Some(unit) => write_value(*value, unit),
        None => quantity::write_number(value.base),
    };
    match output {
        Output::Quantity(value) => Content::Quantity(*value),
        Output::Quantities(values) => {
            Content::Words(values.iter().map(write).collect::<Vec<_>>().join(", "))
        }
        Output::Words(words) => Content::Words(words.clone()),
        Output::Texts(texts) => Content::Words(texts.join(", ")),
        Output::Truth(yes) => Content::Words(if *yes { "yes" } else { "no" }.to_owned()),
        Output::Day(day) => Content::Words(day.to_string()),
    }
}

fn describe(point: &Point, from: &InputFrom) -> String {
    match from {
        InputFrom::Own(name) | InputFrom::AllOwn(name) => {
            let title = point
                .reading(name)
                .map(|reading| reading.title.as_str())
                .or_else(|| {
                    point.derived.iter().find(|one| one.id == *name).map(|one| one.title.as_str())
                })
                .unwrap_or(name);
            format!("{title} was not read")
        }
        InputFrom::OwnAt { name, position } => {
            format!("{} was not read", words(&format!("{name} at {position}")))
        }
        InputFrom::Other { point, name } => {
            format!("{} was not recorded", words(&format!("{point}, {name}")))
        }
        InputFrom::Dwelling(fact) => format!("the unit's {} is not recorded", words(fact)),
        InputFrom::VisitDay => "the day of the visit is not recorded".to_owned(),
        InputFrom::Fixed(text) => format!("`{text}` cannot be used"),
    }
}

/// ` at left front`, or nothing.
pub(crate) fn at_position(position: &str) -> String {
    if position.is_empty() { String::new() } else { format!(" at {}", words(position)) }
}

/// A word of the data files as people read it.
pub(crate) fn words(id: &str) -> String {
    id.replace('_', " ")
}

/// Whether one entry counts in place of another of the same reading at the same position: the later
/// one by time; of the same time, the one that its device entered later.
#[must_use]
pub fn counts_over(one: (&ReadingId, &Reading), other: (&ReadingId, &Reading)) -> bool {
    // A device numbers its changes, and the number stands behind its id: 10 comes after 9.
    let turn = |(id, reading): (&ReadingId, &Reading)| {
        let (device, change) = id.as_str().split_once('-').unwrap_or((id.as_str(), ""));
        let numbers: Vec<u64> = change.split('-').filter_map(|part| part.parse().ok()).collect();
        (reading.at, device.to_owned(), numbers)
    };
    turn(one) >= turn(other)
}

/// Orders `outlet 2` before `outlet 10`.
fn natural(text: &str) -> (&str, u64) {
    let digits = text.len() - text.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    let (head, tail) = text.split_at(text.len() - digits);
    (head, tail.parse().unwrap_or(0))
}
