//! Readings and derived values of all points, each computed once.

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use formulas::{Argument, Arguments, Evaluation, Formula, Output};
use inspection::{Inspection, Reading, ReadingId};
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

/// One value that feeds an input, with where it belongs.
pub(crate) struct InputSource<'a> {
    pub point: &'a Point,
    pub name: &'a str,
    pub position: String,
    pub known: Known,
}

/// All values, computed when first asked for.
pub(crate) struct Values<'a> {
    points: Index<'a>,
    inspection: &'a Inspection,
    /// Readings that count, by point and name.
    readings: BTreeMap<(&'a str, &'a str), Vec<(&'a ReadingId, &'a Reading)>>,
    known: BTreeMap<(&'a str, &'a str), ByPosition>,
    /// Derivations under way: a plan that refers to itself gets a sentence, not an endless loop.
    under_way: BTreeSet<(&'a str, &'a str)>,
    /// Entries that could not be read or used.
    pub problems: Vec<String>,
}

impl<'a> Values<'a> {
    pub(crate) fn new(plan: &'a Plan, inspection: &'a Inspection) -> Self {
        let mut readings: BTreeMap<_, Vec<_>> = BTreeMap::new();
        for (id, reading) in &inspection.readings {
            if reading.struck_out.is_none() {
                readings
                    .entry((reading.point.as_str(), reading.name.as_str()))
                    .or_default()
                    .push((id, reading));
            }
        }
        Self {
            points: Index::of(plan),
            inspection,
            readings,
            known: BTreeMap::new(),
            under_way: BTreeSet::new(),
            problems: Vec::new(),
        }
    }

    /// Counts a reading in that the inspection does not have.
    pub(crate) fn suppose(&mut self, id: &'a ReadingId, reading: &'a Reading) {
        let key = (reading.point.as_str(), reading.name.as_str());
        self.readings.entry(key).or_default().push((id, reading));
    }

    /// Values of a reading or derived value of a point, by position.
    pub(crate) fn of(&mut self, point: &'a Point, name: &str) -> ByPosition {
        let known = &self.known;
        if let Some(known) = known.get(&(point.id.as_str(), name)) {
            return Rc::clone(known);
        }
        let (name, values) = if let Some(reading) = point.reading(name) {
            (reading.id.as_str(), self.read(point, reading))
        } else if let Some(derivation) = point.derived.iter().find(|one| one.id == name) {
            let key = (point.id.as_str(), derivation.id.as_str());
            if !self.under_way.insert(key) {
                return ByPosition::default();
            }
            let values = self.derive(point, derivation);
            self.under_way.remove(&key);
            (derivation.id.as_str(), values)
        } else {
            return ByPosition::default();
        };
        let values = Rc::new(values);
        self.known.insert((point.id.as_str(), name), Rc::clone(&values));
        values
    }

    fn read(&mut self, point: &'a Point, plan: &'a ReadingPlan) -> Vec<(String, Known)> {
        let Some(list) = self.readings.get(&(point.id.as_str(), plan.id.as_str())) else {
            return Vec::new();
        };
        // The last entry at a position counts; the record keeps the others.
        let mut last: Vec<(&ReadingId, &Reading, usize)> = Vec::new();
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
        let mut values = Vec::new();
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
    pub(crate) fn entries(&self, point: &str, name: &str, position: &str) -> usize {
        let list = self.readings.get(&(point, name)).map_or(&[][..], Vec::as_slice);
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
        let mut positions: Vec<String> = Vec::new();
        for (position, _) in own.iter().flat_map(|(_, values)| values.iter()) {
            if !position.is_empty() && !positions.contains(position) {
                positions.push(position.clone());
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
            positions.push(String::new());
        }
        let mut values = Vec::new();
        for position in positions {
            if let Some(known) = self.derive_at(point, derivation, formula, &position) {
                values.push((position, known));
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
                measured |= !found.is_empty();
            }
            for known in &found {
                match &known.origin {
                    Origin::Read(id) => readings.push(id.clone()),
                    Origin::Computed { readings: more, .. } => {
                        readings.extend(more.iter().cloned());
                    }
                }
            }
            match argument(&mut arguments, input, &found) {
                Ok(Some(argument)) => {
                    arguments.by_name.insert(name.clone(), argument);
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
    pub(crate) fn input(
        &mut self,
        point: &'a Point,
        from: &'a InputFrom,
        position: &str,
    ) -> Vec<Known> {
        let fixed = |text: String| {
            vec![Known {
                content: Content::Words(text),
                origin: Origin::Computed { formula: String::new(), readings: Vec::new() },
                notes: Vec::new(),
            }]
        };
        match from {
            InputFrom::Own(_)
            | InputFrom::AllOwn(_)
            | InputFrom::OwnAt { .. }
            | InputFrom::Other { .. } => {
                self.sources(point, from, position).into_iter().map(|source| source.known).collect()
            }
            InputFrom::Dwelling(fact) => self.dwelling_fact(fact).map_or_else(Vec::new, fixed),
            InputFrom::VisitDay => self
                .inspection
                .job
                .visits
                .last()
                .map_or_else(Vec::new, |day| fixed(day.to_string())),
            InputFrom::Fixed(text) => fixed(text.clone()),
        }
    }

    /// The values of this visit that an input is fed with; none for facts and fixed texts.
    pub(crate) fn sources(
        &mut self,
        point: &'a Point,
        from: &'a InputFrom,
        position: &str,
    ) -> Vec<InputSource<'a>> {
        let (owner, name, place) = match from {
            InputFrom::Own(name) => (Some(point), name, Some(position)),
            InputFrom::AllOwn(name) => (Some(point), name, None),
            InputFrom::OwnAt { name, position } => (Some(point), name, Some(position.as_str())),
            InputFrom::Other { point: id, name } => (self.points.point(id), name, Some(position)),
            InputFrom::Dwelling(_) | InputFrom::VisitDay | InputFrom::Fixed(_) => {
                return Vec::new();
            }
        };
        let Some(owner) = owner else { return Vec::new() };
        let values = self.of(owner, name);
        let chosen = match place {
            None => values.as_slice(),
            Some(place) => at(&values, place),
        };
        let source = |(position, known): &(String, Known)| InputSource {
            point: owner,
            name,
            position: position.clone(),
            known: known.clone(),
        };
        chosen.iter().map(source).collect()
    }

    /// All values of a name as one text, each behind its place: `label: 123; frame: 123`.
    fn with_places(&mut self, point: &'a Point, name: &str) -> Vec<Known> {
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
            return Vec::new();
        }
        vec![Known {
            content: Content::Words(items.join("; ")),
            origin: Origin::Computed { formula: String::new(), readings },
            notes: Vec::new(),
        }]
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
    found: &[Known],
) -> Result<Option<Argument>, String> {
    if found.is_empty() {
        return Ok(None);
    }
    let list =
        matches!(input.takes, formulas::Takes::Quantities(_) | formulas::Takes::AnyQuantities);
    let mut values = Vec::new();
    for known in found {
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

/// The value at a position; where it has none of its own, the only one there is.
fn at<'v>(values: &'v [(String, Known)], position: &str) -> &'v [(String, Known)] {
    let only = values.len() == 1
        && values.iter().all(|(place, _)| place.is_empty() || position.is_empty());
    match values.iter().position(|(place, _)| place == position) {
        Some(index) => values.get(index..=index).unwrap_or_default(),
        None if only => values,
        None => &[],
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
fn natural(text: &str) -> (String, u64) {
    let digits = text.len() - text.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    let (head, tail) = text.split_at(text.len() - digits);
    (head.to_owned(), tail.parse().unwrap_or(0))
}
