//! The document's keys: the only folder that knows what stands where in a record.
//!
//! Schema 1. The root holds `kind` = `nearside-record`, `schema` = `1`, and one flat map a section
//! (`job`, `plan`, `dwelling`, `points`, `readings`, `findings`, `photos`, `waits`, `site_states`,
//! `instruments`). Each section was made in the job's first change and holds scalars alone:
//!
//! - `job` and `dwelling`: the key is the field, such as `client/name`. What was put to the client for consent is
//!   `job`'s `agreement/…`, each consent one `consents/<id>`.
//! - the others: the key is `<id>/<field>`, such as `regulator_lockup/outcome`. There is no map inside
//!   a section, so two devices that begin the same entry at once write into one place, and neither
//!   hides the other's fields. `%` and `/` inside an id are written `%25` and `%2F`.
//! - things of which there may be several are one key each, so that adding at once keeps both:
//!   `visits/<date>`, `equipment/<word>`, `ratings/<name>`, `defects/<defect>/<position>`,
//!   `reading/<id>`, `photo/<id>`, `photo_out/<id>`, `then/<id>`, `stops/<use>`, `mark/<id>`, `consents/<id>`. Their value is their rank where
//!   order matters. Taking one away removes the key. A point's `memo/<id>` is of this kind: a section
//!   of their own could not be made later without two devices making it twice.
//! - what is decided at once is one scalar, so that a merge cannot mix two decisions. It is a text of
//!   several lines: an outcome is word, time, person, reason; a struck-out reading or memo is person,
//!   reason; a memo is time, person, media type, seconds; a fee is currency, taxes and lines; a consent is time, person,
//!   way, network address, hash, who entered it, drawn lines, and the text that was agreed to;
//!   a finding's state is word, reason (of a merged one: word, the other's key); a photo's place in the plan is point, position.
//! - texts are strings, dates and times ISO 8601, counts integers, measures of a photo floats. A
//!   field that was emptied is `null`, which reads as if it were not there.
//!
//! A change of these keys is a new schema: raise [`SCHEMA`], keep reading the old one, and add its
//! golden document (`tests/golden/README.md`).

mod agreement;
mod dwelling;
mod entry;
mod finding;
mod instrument;
mod job;
mod memo;
mod photo;
mod point;
mod reading;
mod say;
mod visit;

use std::{borrow::Cow, collections::BTreeMap};

use crate::{Refusal, RefusalKind};

pub(crate) use agreement::{agreement_facts, consent_fact, consent_key};
pub(crate) use dwelling::{dwelling_facts, read_dwelling};
pub(crate) use entry::Entry;
pub(crate) use finding::{STATE, finding_facts, read_finding, state_fact};
pub(crate) use instrument::{instrument_facts, read_instrument};
pub(crate) use job::{PLAN_HASH, PLAN_TEXT, job_facts, read_job};
pub(crate) use memo::{memo_fact, memo_field, memo_out_field, take_memos};
pub(crate) use photo::{
    CAPTION, PLACE, POINT_AND_POSITION, mark_field, mark_text, photo_facts, place_fact,
    point_and_position_fact, read_photo,
};
pub(crate) use point::{point_facts, read_point};
pub(crate) use reading::{STRUCK_OUT, read_reading, reading_facts, struck_out_fact};
pub(crate) use say::{in_words, say_fact};
pub(crate) use visit::{ENDED, read_site_state, read_wait, site_state_facts, wait_facts};

/// The newest schema that this version reads and the one it writes.
pub(crate) const SCHEMA: u64 = 1;
/// Root key of the schema's number.
pub(crate) const SCHEMA_KEY: &str = "schema";
/// Root key of what the document is.
pub(crate) const KIND_KEY: &str = "kind";
/// What the document is.
pub(crate) const KIND: &str = "nearside-record";

/// One flat map at the document's root.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Section {
    Job,
    Plan,
    Dwelling,
    Points,
    Readings,
    Findings,
    Photos,
    Waits,
    SiteStates,
    Instruments,
}

impl Section {
    /// All sections, in the order in which the first change makes them.
    pub(crate) const ALL: [Self; 10] = [
        Self::Job,
        Self::Plan,
        Self::Dwelling,
        Self::Points,
        Self::Readings,
        Self::Findings,
        Self::Photos,
        Self::Waits,
        Self::SiteStates,
        Self::Instruments,
    ];

    /// The section's root key.
    pub(crate) fn key(self) -> &'static str {
        match self {
            Self::Job => "job",
            Self::Plan => "plan",
            Self::Dwelling => "dwelling",
            Self::Points => "points",
            Self::Readings => "readings",
            Self::Findings => "findings",
            Self::Photos => "photos",
            Self::Waits => "waits",
            Self::SiteStates => "site_states",
            Self::Instruments => "instruments",
        }
    }

    /// What one entry of the section is called; the section itself where it has no entries.
    pub(crate) fn entry_word(self) -> &'static str {
        match self {
            Self::Job => "job",
            Self::Plan => "plan",
            Self::Dwelling => "dwelling",
            Self::Points => "point",
            Self::Readings => "reading",
            Self::Findings => "finding",
            Self::Photos => "photo",
            Self::Waits => "wait",
            Self::SiteStates => "change of site state",
            Self::Instruments => "instrument",
        }
    }

    /// Whether keys begin with an entry's id.
    pub(crate) fn has_entries(self) -> bool {
        !matches!(self, Self::Job | Self::Plan | Self::Dwelling)
    }
}

/// One scalar of the document.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Fact {
    /// A field that was emptied.
    Nothing,
    Text(String),
    Whole(i64),
    /// A pattern of 64 bits.
    Bits(u64),
    Number(f64),
    Yes(bool),
    /// A type that no field of the schema has, in words.
    Strange(&'static str),
}

impl Fact {
    pub(crate) fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    /// What type it is, in words.
    pub(crate) fn type_in_words(&self) -> &'static str {
        match self {
            Self::Nothing => "nothing",
            Self::Text(_) => "a text",
            Self::Whole(_) => "a whole number",
            Self::Bits(_) => "a pattern of bits",
            Self::Number(_) => "a number",
            Self::Yes(_) => "yes or no",
            Self::Strange(words) => words,
        }
    }
}

/// Fields with their facts, without the entry's id.
pub(crate) type Facts = BTreeMap<String, Fact>;

/// Fields of which there may be several; taking one away removes its key.
const SEVERAL: [&str; 13] = [
    "visits/",
    "equipment/",
    "ratings/",
    "defects/",
    "reading/",
    "photo/",
    "photo_out/",
    "then/",
    "stops/",
    "mark/",
    "memo/",
    "memo_out/",
    "consents/",
];

/// What happens to a field when its value is taken away: the key goes, or stays with nothing in it.
pub(crate) fn is_one_of_several(field: &str) -> bool {
    SEVERAL.iter().any(|prefix| field.starts_with(prefix))
}

/// The key of an entry's field.
pub(crate) fn key_of(id: &str, field: &str) -> String {
    format!("{}/{field}", escaped(id))
}

/// An entry's id and field from a key; none for a key that [`key_of`] does not write.
pub(crate) fn id_and_field(key: &str) -> Option<(Cow<'_, str>, &str)> {
    let (written, field) = key.split_once('/')?;
    if written.is_empty() || field.is_empty() {
        return None;
    }
    if !written.contains('%') {
        return Some((Cow::Borrowed(written), field));
    }
    let id = unescaped(written);
    (escaped(&id) == written).then_some((Cow::Owned(id), field))
}

/// A part of a key with `%` and `/` written out of the way.
pub(crate) fn escaped(part: &str) -> String {
    part.replace('%', "%25").replace('/', "%2F")
}

/// A part of a key as it was before [`escaped`].
pub(crate) fn unescaped(part: &str) -> String {
    part.replace("%2F", "/").replace("%25", "%")
}

/// Facts under way to the document: empty texts are left out, so that an unused field costs nothing.
#[derive(Debug, Default)]
pub(crate) struct Writing {
    pub(crate) facts: Facts,
}

impl Writing {
    pub(crate) fn put(&mut self, field: &str, fact: Fact) {
        self.facts.insert(field.to_owned(), fact);
    }

    pub(crate) fn text(&mut self, field: &str, text: &str) {
        if !text.is_empty() {
            self.put(field, Fact::text(text));
        }
    }

    /// A number that must be finite.
    pub(crate) fn number(&mut self, field: &str, number: f64) -> Result<(), Refusal> {
        self.put(field, Fact::Number(finite(field, number)?));
        Ok(())
    }

    pub(crate) fn date(&mut self, field: &str, date: Option<jiff::civil::Date>) {
        if let Some(date) = date {
            self.put(field, Fact::text(date.to_string()));
        }
    }

    pub(crate) fn moment(
        &mut self,
        field: &str,
        moment: Option<inspection::Moment>,
    ) -> Result<(), Refusal> {
        if let Some(moment) = moment {
            self.put(field, Fact::text(moment_text(moment)?));
        }
        Ok(())
    }

    /// Things of which there may be several, with their rank; each may be named once.
    pub(crate) fn ranked<'a>(
        &mut self,
        prefix: &str,
        parts: impl IntoIterator<Item = &'a str>,
    ) -> Result<(), Refusal> {
        for (rank, part) in (0_i64..).zip(parts) {
            let field = format!("{prefix}{}", escaped(part));
            if self.facts.insert(field, Fact::Whole(rank)).is_some() {
                return Err(
                    RefusalKind::Twice.refusal(format!("`{part}` is named twice; name it once"))
                );
            }
        }
        Ok(())
    }
}

/// The number itself, unless it is infinite or no number.
pub(crate) fn finite(what: &str, number: f64) -> Result<f64, Refusal> {
    if number.is_finite() {
        return Ok(number);
    }
    Err(RefusalKind::Number
        .refusal(format!("{what} is {number}; only finite numbers are accepted")))
}

/// A moment as text, unless it would not read back as the same moment.
pub(crate) fn moment_text(moment: inspection::Moment) -> Result<String, Refusal> {
    let text = moment.to_string();
    if inspection::Moment::parse(&text) == Ok(moment) {
        return Ok(text);
    }
    Err(RefusalKind::Time.refusal(format!(
        "the time {text} cannot be kept; offsets from UTC up to 15:59 are accepted"
    )))
}

/// A text that must stand on one line because others follow it.
pub(crate) fn one_line<'a>(what: &str, text: &'a str) -> Result<&'a str, Refusal> {
    if text.contains('\n') {
        return Err(RefusalKind::LineBreak
            .refusal(format!("{what} {text:?} has a line break; write it on one line")));
    }
    Ok(text)
}
