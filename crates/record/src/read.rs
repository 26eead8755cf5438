//! Reading the document into plain data: everything readable, and a list of what is not.

use std::borrow::Cow;

use automerge::{ReadDoc, ScalarValueRef, ValueRef};
use inspection::{Inspection, PhotoId};

use crate::{
    Problem, Record,
    hash::listed,
    schema::{self, Entry, Fact, SCHEMA, Section, id_and_field},
};

impl Record {
    /// Everything recorded, and what could not be read.
    #[must_use]
    pub fn inspection(&self) -> (Inspection, Vec<Problem>) {
        let mut problems = self.problems_of_the_whole();
        let mut inspection = Inspection {
            job: schema::read_job(Entry::new(
                "job".into(),
                self.facts(Section::Job),
                &mut problems,
            )),
            dwelling: schema::read_dwelling(Entry::new(
                "dwelling".into(),
                self.facts(Section::Dwelling),
                &mut problems,
            )),
            ..Inspection::default()
        };
        self.each(Section::Points, &mut problems, |id, mut entry| {
            inspection.memos.extend(schema::take_memos(&mut entry, id));
            inspection.points.extend(schema::read_point(entry).map(|point| (id.into(), point)));
        });
        self.each(Section::Readings, &mut problems, |id, entry| {
            inspection.readings.extend(schema::read_reading(entry).map(|read| (id.into(), read)));
        });
        self.each(Section::Findings, &mut problems, |id, entry| {
            drop(inspection.findings.insert(id.into(), schema::read_finding(entry)));
        });
        self.each(Section::Photos, &mut problems, |id, entry| {
            drop(inspection.photos.insert(id.into(), schema::read_photo(entry).0));
        });
        self.each(Section::Waits, &mut problems, |id, entry| {
            inspection.waits.extend(schema::read_wait(entry).map(|wait| (id.into(), wait)));
        });
        self.each(Section::SiteStates, &mut problems, |_, entry| {
            inspection.site_states.extend(schema::read_site_state(entry));
        });
        // In time; those of one moment in the order of their ids.
        inspection.site_states.sort_by_key(|change| change.at);
        self.each(Section::Instruments, &mut problems, |id, entry| {
            drop(inspection.instruments.insert(id.into(), schema::read_instrument(entry)));
        });
        (inspection, problems)
    }

    /// The ids of a photo's marks, in the order of [`inspection::Photo::marks`].
    #[must_use]
    pub fn mark_ids(&self, photo: &PhotoId) -> Vec<String> {
        let mut ids = Vec::new();
        self.each(Section::Photos, &mut Vec::new(), |id, entry| {
            let (_, found) = schema::read_photo(entry);
            if id == photo.as_str() {
                ids = found;
            }
        });
        ids
    }

    fn problems_of_the_whole(&self) -> Vec<Problem> {
        let mut problems = Vec::new();
        let mut trouble = |place: &str, trouble: String| {
            problems.push(Problem { place: place.to_owned(), trouble });
        };
        if self.schema > SCHEMA {
            trouble(
                "record",
                format!(
                    "another device wrote it with a newer version (schema {}; this version knows up to {SCHEMA}), so something may be missing here; update Nearside on this device",
                    self.schema
                ),
            );
        }
        for section in
            Section::ALL.into_iter().filter(|section| !self.sections.contains_key(section))
        {
            trouble("record", format!("the section `{}` is missing", section.key()));
        }
        let missing = self.missing();
        if !self.waiting.is_empty() {
            trouble(
                "record",
                format!(
                    "{} change(s) are here but not shown, because they wait for {}",
                    self.waiting.len(),
                    listed(&missing)
                ),
            );
        }
        for (hash, error) in &self.unfit {
            trouble("record", format!("change {hash} was left out: {error}"));
        }
        problems
    }

    /// All facts of a section by key, in the order of keys.
    fn facts(&self, section: Section) -> Vec<(Cow<'_, str>, Fact)> {
        let Some(id) = self.sections.get(&section) else { return Vec::new() };
        self.doc.map_range(id, ..).map(|item| (item.key, fact_from(item.value))).collect()
    }

    /// One fact.
    pub(crate) fn fact(&self, section: Section, key: &str) -> Option<Fact> {
        let (value, _) = self.doc.get(self.sections.get(&section)?, key).ok()??;
        Some(fact_from_value(&value))
    }

    /// Hands each entry of a section over, in the order of keys. The keys of one entry stand together,
    /// because they begin alike.
    fn each(
        &self,
        section: Section,
        problems: &mut Vec<Problem>,
        mut take: impl FnMut(&str, Entry<'_, '_>),
    ) {
        let mut facts = self.facts(section).into_iter().peekable();
        while let Some((key, fact)) = facts.next() {
            let Some((id, field)) = id_and_field(&key) else {
                problems.push(Problem {
                    place: format!("section `{}`", section.key()),
                    trouble: format!("`{key}` names no entry and field; it is kept but not shown"),
                });
                continue;
            };
            let start = key.len() - field.len();
            let mut fields = vec![(behind(&key, start), fact)];
            while let Some((next, fact)) =
                facts.next_if(|(next, _)| next.as_bytes().starts_with(&key.as_bytes()[..start]))
            {
                fields.push((behind(&next, start), fact));
            }
            // An entry that was emptied wholly was taken back.
            if fields.iter().all(|(_, fact)| *fact == Fact::Nothing) {
                continue;
            }
            let place = format!("{} {id}", section.entry_word());
            take(&id, Entry::new(place, fields, problems));
        }
    }
}

/// A key without its first bytes, borrowed from the document where the key is.
fn behind<'d>(key: &Cow<'d, str>, start: usize) -> Cow<'d, str> {
    match key {
        Cow::Borrowed(key) => Cow::Borrowed(&key[start..]),
        Cow::Owned(key) => Cow::Owned(key[start..].to_owned()),
    }
}

/// A value of the document as a fact.
fn fact_from(value: ValueRef<'_>) -> Fact {
    match value {
        ValueRef::Object(_) => Fact::Strange("a nested object"),
        ValueRef::Scalar(scalar) => match scalar {
            ScalarValueRef::Null => Fact::Nothing,
            ScalarValueRef::Str(text) => Fact::Text(text.into_owned()),
            ScalarValueRef::Int(number) => Fact::Whole(number),
            ScalarValueRef::Uint(bits) => Fact::Bits(bits),
            ScalarValueRef::F64(number) => Fact::Number(number),
            ScalarValueRef::Boolean(yes) => Fact::Yes(yes),
            ScalarValueRef::Bytes(_) => Fact::Strange("a run of bytes"),
            ScalarValueRef::Counter(_) => Fact::Strange("a counter"),
            ScalarValueRef::Timestamp(_) => Fact::Strange("a timestamp"),
            ScalarValueRef::Unknown { .. } => Fact::Strange("a value of an unknown type"),
        },
    }
}

/// As [`fact_from`], for the other form in which the document hands values out.
pub(crate) fn fact_from_value(value: &automerge::Value<'_>) -> Fact {
    use automerge::ScalarValue;
    match value.as_scalar() {
        None => Fact::Strange("a nested object"),
        Some(scalar) => match scalar {
            ScalarValue::Null => Fact::Nothing,
            ScalarValue::Str(text) => Fact::Text(text.to_string()),
            ScalarValue::Int(number) => Fact::Whole(*number),
            ScalarValue::Uint(bits) => Fact::Bits(*bits),
            ScalarValue::F64(number) => Fact::Number(*number),
            ScalarValue::Boolean(yes) => Fact::Yes(*yes),
            ScalarValue::Bytes(_) => Fact::Strange("a run of bytes"),
            ScalarValue::Counter(_) => Fact::Strange("a counter"),
            ScalarValue::Timestamp(_) => Fact::Strange("a timestamp"),
            ScalarValue::Unknown { .. } => Fact::Strange("a value of an unknown type"),
        },
    }
}
