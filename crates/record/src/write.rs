//! Writing facts into the document: direct puts of single scalars, so that nothing else is touched.

use std::collections::BTreeMap;

use automerge::{
    AutomergeError, ObjId, ScalarValue,
    transaction::{Transactable, Transaction},
};

use crate::schema::{Fact, Facts, Section, is_one_of_several, key_of};

/// One write of an edit.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Write {
    Put(Section, String, Fact),
    Remove(Section, String),
}

impl Write {
    pub(crate) fn put(section: Section, key: impl Into<String>, fact: Fact) -> Self {
        Self::Put(section, key.into(), fact)
    }

    pub(crate) fn section(&self) -> Section {
        match self {
            Self::Put(section, ..) | Self::Remove(section, _) => *section,
        }
    }
}

/// The writes that turn some facts into others: fields that are the same in both are not touched,
/// so that another device's work on them stays.
pub(crate) fn difference(
    section: Section,
    id: Option<&str>,
    before: &Facts,
    after: &Facts,
) -> Vec<Write> {
    let key = |field: &str| id.map_or_else(|| field.to_owned(), |id| key_of(id, field));
    let gone = before.keys().filter(|field| !after.contains_key(*field)).map(|field| {
        if is_one_of_several(field) {
            Write::Remove(section, key(field))
        } else {
            Write::Put(section, key(field), Fact::Nothing)
        }
    });
    let new = after
        .iter()
        .filter(|(field, fact)| before.get(*field) != Some(*fact))
        .map(|(field, fact)| Write::Put(section, key(field), fact.clone()));
    gone.chain(new).collect()
}

/// Carries out the writes in an open transaction.
pub(crate) fn into(
    transaction: &mut Transaction<'_>,
    sections: &BTreeMap<Section, ObjId>,
    writes: &[Write],
) -> Result<(), AutomergeError> {
    for write in writes {
        let section = sections.get(&write.section()).ok_or(AutomergeError::NotAnObject)?;
        match write {
            Write::Put(_, key, fact) => transaction.put(section, key.as_str(), scalar(fact))?,
            Write::Remove(_, key) => transaction.delete(section, key.as_str())?,
        }
    }
    Ok(())
}

fn scalar(fact: &Fact) -> ScalarValue {
    match fact {
        // No code makes a strange fact; it only comes out of documents.
        Fact::Nothing | Fact::Strange(_) => ScalarValue::Null,
        Fact::Text(text) => ScalarValue::Str(text.as_str().into()),
        Fact::Whole(number) => ScalarValue::Int(*number),
        Fact::Bits(bits) => ScalarValue::Uint(*bits),
        Fact::Number(number) => ScalarValue::F64(*number),
        Fact::Yes(yes) => ScalarValue::Boolean(*yes),
    }
}
