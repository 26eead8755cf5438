//! Fields into which two devices wrote different values at once: all values stay readable until
//! somebody settles it.

use automerge::{ObjId, ReadDoc};

use crate::{
    Hash, Record,
    author::device_in_hexadecimal,
    read::fact_from_value,
    schema::{Fact, Section, id_and_field, in_words, say_fact},
    trail::person_and_act,
};

/// A field of the record, for [`crate::Edit::Settle`].
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Field {
    pub(crate) section: Section,
    pub(crate) key: String,
}

impl Field {
    /// The kind of entry that it belongs to, such as `point`, and which one; no id where there is only one of the kind.
    #[must_use]
    pub fn entry(&self) -> (&'static str, Option<String>) {
        let word = self.section.entry_word();
        let id = self.section.has_entries().then(|| id_and_field(&self.key)).flatten();
        (word, id.map(|(id, _)| id.into_owned()))
    }
}

impl std::fmt::Display for Field {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(&in_words(self.section, &self.key))
    }
}

/// A field into which different values were written at once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Conflict {
    /// Which field; it displays in words.
    pub field: Field,
    /// All values, oldest first.
    pub values: Vec<ConflictingValue>,
}

/// One of several values that were written at once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ConflictingValue {
    /// The value in words.
    pub value: String,
    /// Whether this is the one that [`Record::inspection`] shows; the same on every device.
    pub shown: bool,
    /// The change that wrote it.
    pub change: Hash,
    /// The device that wrote it, in hexadecimal.
    pub device: String,
    /// The person who wrote it.
    pub person: String,
    /// When, in seconds since 1970-01-01 00:00 UTC.
    pub at_unix_seconds: i64,
}

impl Record {
    /// Every field into which different values were written at once and that nobody has settled.
    #[must_use]
    pub fn conflicts(&self) -> Vec<Conflict> {
        let mut conflicts = Vec::new();
        for (section, id) in &self.sections {
            for item in self.doc.map_range(id, ..).filter(|item| item.conflict) {
                let field = Field { section: *section, key: item.key.into_owned() };
                let mut values = self.values_of(&field);
                // The last one is shown; two that say the same are no conflict.
                let Some((shown, _)) = values.last().cloned() else { continue };
                let mut said: Vec<Fact> = Vec::new();
                values.reverse();
                values.retain(|(fact, _)| {
                    let new = !said.contains(fact);
                    if new {
                        said.push(fact.clone());
                    }
                    new
                });
                values.reverse();
                if values.len() < 2 {
                    continue;
                }
                let values = values
                    .into_iter()
                    .filter_map(|(fact, writer)| self.conflicting(&fact, fact == shown, &writer))
                    .collect();
                conflicts.push(Conflict { field, values });
            }
        }
        conflicts
    }

    /// All values that stand in a field, the shown one last.
    pub(crate) fn values_of(&self, field: &Field) -> Vec<(Fact, ObjId)> {
        let Some(id) = self.sections.get(&field.section) else { return Vec::new() };
        self.doc
            .get_all(id, field.key.as_str())
            .unwrap_or_default()
            .iter()
            .map(|(value, writer)| (fact_from_value(value), writer.clone()))
            .collect()
    }

    /// The value that a change wrote into a field, if it still stands there.
    pub(crate) fn value_by(&self, field: &Field, change: Hash) -> Option<Fact> {
        self.values_of(field)
            .into_iter()
            .find(|(_, writer)| self.doc.hash_for_opid(writer).map(Hash::from) == Some(change))
            .map(|(fact, _)| fact)
    }

    fn conflicting(&self, fact: &Fact, shown: bool, writer: &ObjId) -> Option<ConflictingValue> {
        let hash = self.doc.hash_for_opid(writer)?;
        let change = self.doc.get_change_meta_by_hash(&hash)?;
        let (person, _) = person_and_act(change.message.as_deref());
        Some(ConflictingValue {
            value: say_fact(fact),
            shown,
            change: hash.into(),
            device: device_in_hexadecimal(change.actor.to_bytes()),
            person,
            at_unix_seconds: change.timestamp,
        })
    }
}
