//! Values with unit, uncertainty, limits, verdicts, sources and instruments, numbered through the report.

use std::collections::{BTreeMap, BTreeSet};

use findings::{Content, Origin, PointResult, ValueResult};
use inspection::ReadingId;
use limit::{Bound, Limit, SectionRead};
use quantity::{Unit, Value, write_value};

use crate::content::{Basis, Judged, Reading, Source as Document, System, Verdict};

use super::evidence::Photos;
use super::{Source, words};

/// The readings and what other parts need to refer to them.
pub(super) struct Readings {
    pub(super) systems: Vec<System>,
    pub(super) sources: Vec<Document>,
    /// For each printed reading, by number less one: what it was read or computed from, and its point.
    pub(super) origins: Vec<(BTreeSet<ReadingId>, String)>,
}

impl Readings {
    /// The printed reading with this number.
    pub(super) fn get(&self, number: usize) -> Option<&Reading> {
        self.systems.iter().flat_map(|system| &system.readings).nth(number.checked_sub(1)?)
    }
}

/// All values, grouped by system, points in walking order.
pub(super) fn readings(source: Source<'_>, photos: &Photos) -> Readings {
    let mut names: Vec<String> = Vec::new();
    let mut by_system: BTreeMap<String, Vec<(&PointResult, &ValueResult)>> = BTreeMap::new();
    for result in &source.assessment.points {
        let system = source.plan.point(result.point.as_str()).map(|point| point.system.clone());
        let system = system.unwrap_or_default();
        if !result.values.is_empty() && !names.contains(&system) {
            names.push(system.clone());
        }
        let values = result.values.iter().map(|value| (result, value));
        by_system.entry(system).or_default().extend(values);
    }
    let mut documents = Documents { source, keys: Vec::new(), list: Vec::new() };
    let mut origins = Vec::new();
    let mut systems = Vec::new();
    for name in names {
        let values = by_system.remove(&name).unwrap_or_default();
        let mut rows = Vec::with_capacity(values.len());
        for (result, value) in values {
            rows.push(Reading {
                photos: shown_by(source, result, value, photos),
                ..reading(source, result, value, &mut documents)
            });
            origins.push((read_from(value), result.point.as_str().to_owned()));
        }
        systems.push(System {
            name: system_title(source, &name),
            note: String::new(),
            readings: rows,
        });
    }
    Readings { systems, sources: documents.list, origins }
}

/// What people call a system: most are called as their folder in the data.
pub(super) fn system_title(source: Source<'_>, folder: &str) -> String {
    source.say(&match folder {
        "awnings_slides" => "Awnings and slide-outs".to_owned(),
        "battery_sun" => "Battery and solar".to_owned(),
        other => words::sentence_case(&words::plain(other)),
    })
}

/// The photos of a reading: those of its point, without those that say another position which the point has readings of.
fn shown_by(
    source: Source<'_>,
    result: &PointResult,
    value: &ValueResult,
    photos: &Photos,
) -> Vec<usize> {
    let elsewhere = |position: &str| {
        position != value.position && result.values.iter().any(|one| one.position == position)
    };
    let mut numbers: Vec<usize> = result
        .photos
        .iter()
        .filter(|id| {
            let photo = source.inspection.photos.get(*id);
            photo.is_some_and(|photo| photo.position.is_empty() || !elsewhere(&photo.position))
        })
        .filter_map(|id| photos.numbers.get(id).copied())
        .collect();
    numbers.sort_unstable();
    numbers
}

fn read_from(value: &ValueResult) -> BTreeSet<ReadingId> {
    match &value.origin {
        Origin::Read(id) => BTreeSet::from([id.clone()]),
        Origin::Computed { formula: _, readings } => readings.iter().cloned().collect(),
    }
}

fn reading(
    source: Source<'_>,
    result: &PointResult,
    value: &ValueResult,
    documents: &mut Documents<'_>,
) -> Reading {
    let unit = value.unit.map(|unit| unit.in_system(source.units));
    let point = result.point.as_str();
    let mut remarks: Vec<String> = value.notes.iter().map(|note| source.say(note)).collect();
    let printed = match &value.content {
        Content::Quantity(quantity) => printed(*quantity, unit),
        Content::Words(words) => {
            let shown = source.plan.shown(point, &value.name, words);
            Printed { value: words::plain(&shown), ..Printed::default() }
        }
        Content::None(why) => {
            remarks.insert(0, source.say(why));
            Printed { value: source.say("not computed"), ..Printed::default() }
        }
    };
    let used: BTreeSet<_> = read_from(value)
        .iter()
        .filter_map(|id| source.inspection.readings.get(id)?.instrument.clone())
        .collect();
    let instruments = source.inspection.instruments.keys().enumerate();
    Reading {
        point: source.point_title(result.point.as_str()),
        name: value.title.clone(),
        position: source.say(&words::plain(&value.position)),
        value: printed.value,
        unit: printed.unit,
        uncertainty: printed.uncertainty,
        judged: value
            .judgements
            .iter()
            .map(|judged| Judged {
                limit: match &judged.limit.bound {
                    Bound::OneOf(accepted) => accepted
                        .iter()
                        .map(|word| words::plain(&source.plan.shown(point, &value.name, word)))
                        .reduce(|one, other| {
                            let with = [("one", one.as_str()), ("other", other.as_str())];
                            source.say_with("{one} or {other}", &with)
                        })
                        .unwrap_or_default(),
                    bound => findings::bound_in_words(source.plan, bound, unit),
                },
                footing: source.say(judged.limit.footing.title()),
                verdict: verdict(judged.judgement.verdict),
                words: source.say(judged.judgement.verdict.words(Some(judged.limit.basis))),
                sources: vec![documents.number(&judged.limit)],
            })
            .collect(),
        remark: remarks.iter().map(|remark| words::sentence(remark)).collect::<Vec<_>>().join(" "),
        instruments: instruments
            .filter(|(_, id)| used.contains(*id))
            .map(|(at, _)| at + 1)
            .collect(),
        photos: Vec::new(),
    }
}

#[derive(Debug, Default, PartialEq, Eq)]
struct Printed {
    value: String,
    unit: String,
    uncertainty: String,
}

/// The three parts of a written value, each for its own column.
fn printed(value: Value, unit: Option<&Unit>) -> Printed {
    let Some(unit) = unit else {
        return Printed { value: quantity::write_number(value.base), ..Printed::default() };
    };
    let whole = write_value(value, unit);
    let suffix = format!(" {}", unit.symbol());
    let (number, uncertainty) = whole.split_once(" ± ").unwrap_or((&whole, ""));
    let bare = |text: &str| text.strip_suffix(&suffix).unwrap_or(text).to_owned();
    let unit = if number.ends_with(&suffix) { unit.symbol() } else { "" };
    Printed { value: bare(number), unit: unit.to_owned(), uncertainty: bare(uncertainty) }
}

pub(super) fn verdict(verdict: limit::Verdict) -> Verdict {
    match verdict {
        limit::Verdict::Conforms => Verdict::Conforms,
        limit::Verdict::DoesNotConform => Verdict::DoesNotConform,
        limit::Verdict::Undecided => Verdict::Undecided,
        limit::Verdict::WithinGuidance => Verdict::WithinGuidance,
        limit::Verdict::BeyondGuidance => Verdict::BeyondGuidance,
        limit::Verdict::NoLimit => Verdict::NoLimit,
    }
}

/// The reference list in the making: a section is listed once, in the order of first use.
struct Documents<'a> {
    source: Source<'a>,
    keys: Vec<(String, String, String, limit::Basis)>,
    list: Vec<Document>,
}

impl Documents<'_> {
    fn number(&mut self, limit: &Limit) -> usize {
        let reference = &limit.source;
        let key = (
            reference.key.clone(),
            reference.section.clone(),
            reference.edition.clone(),
            limit.basis,
        );
        if let Some(at) = self.keys.iter().position(|known| *known == key) {
            return at + 1;
        }
        self.keys.push(key);
        let document = self.source.plan.source(&reference.key);
        let title = document.map_or(reference.key.clone(), |document| {
            words::joined([document.title.as_str(), document.publisher.as_str()], ", ")
        });
        let edition = if reference.edition.is_empty() {
            document.map_or_else(String::new, |document| document.edition.clone())
        } else {
            reference.edition.clone()
        };
        let on =
            |english: &str, day| self.source.say_with(english, &[("day", &self.source.day(day))]);
        let (read, how) = match limit.read {
            SectionRead::On(date) => (true, on("Section read on {day}.", date)),
            SectionRead::Quoted(date) => {
                (true, on("Section read as another text quotes it, on {day}.", date))
            }
            SectionRead::No => (false, String::new()),
        };
        self.list.push(Document {
            document: title,
            edition,
            section: reference.section.clone(),
            basis: match limit.basis {
                limit::Basis::Law => Basis::Law,
                limit::Basis::Standard => Basis::Standard,
                limit::Basis::Maker => Basis::Maker,
                limit::Basis::Practice => Basis::Practice,
            },
            read,
            note: how,
        });
        self.list.len()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unit(spelling: &str) -> &'static Unit {
        quantity::units::find(spelling).unwrap()
    }

    #[test]
    fn a_written_value_comes_apart_into_its_columns() {
        let volts = Value::in_unit(117.3, unit("V")).with_uncertainty(0.05);
        let printed = printed(volts, Some(unit("V")));
        assert_eq!(printed.value, "117.30");
        assert_eq!(printed.uncertainty, "0.10");
        assert_eq!(printed.unit, "V");
    }

    #[test]
    fn a_value_in_a_unit_of_another_kind_is_printed_whole() {
        let volts = Value::in_unit(12.0, unit("V"));
        let printed = printed(volts, Some(unit("lb")));
        assert!(printed.value.contains("SI base units"), "{}", printed.value);
        assert_eq!(printed.unit, "");
    }
}
