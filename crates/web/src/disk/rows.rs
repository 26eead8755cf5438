//! What the short tables hold, at hand: a write need not read first.

use std::collections::BTreeMap;

use js_sys::Array;
use sync::{BlobHash, Cursor, Hash, JobId, Rank};
use wasm_bindgen::JsValue;

/// A change or a photo: which of its job's it is, and what is known of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Row {
    /// Counts up in the order of writing.
    pub(super) number: u32,
    pub(super) copied: bool,
    pub(super) refused: Option<String>,
}

/// A photo's row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct PhotoRow {
    pub(super) row: Row,
    pub(super) size: u64,
    pub(super) rank: Rank,
}

/// One job.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct JobRows {
    pub(super) cursor: Cursor,
    pub(super) changes: BTreeMap<Hash, Row>,
    pub(super) photos: BTreeMap<BlobHash, PhotoRow>,
}

/// All jobs.
#[derive(Debug, Clone, Default)]
pub(super) struct Rows {
    pub(super) jobs: BTreeMap<JobId, JobRows>,
}

impl JobRows {
    /// The number after all others of this job.
    pub(super) fn next_number(&self) -> u32 {
        let changes = self.changes.values().map(|row| row.number);
        let photos = self.photos.values().map(|photo| photo.row.number);
        changes.chain(photos).max().map_or(0, |last| last.saturating_add(1))
    }
}

impl Row {
    fn cells(&self) -> Array {
        let refused = self.refused.as_deref().map_or(JsValue::NULL, JsValue::from_str);
        Array::of3(&JsValue::from_f64(self.number.into()), &self.copied.into(), &refused)
    }

    pub(super) fn to_value(&self) -> JsValue {
        self.cells().into()
    }

    pub(super) fn from_value(value: &JsValue) -> Option<Self> {
        let cells = Array::from(value);
        Some(Self {
            number: u32::try_from(whole(&cells.get(0))?).ok()?,
            copied: cells.get(1).as_bool()?,
            refused: cells.get(2).as_string(),
        })
    }
}

impl PhotoRow {
    pub(super) fn to_value(&self) -> JsValue {
        let cells = self.row.cells();
        cells.push(&number(self.size));
        cells.push(&JsValue::from_f64(self.rank.number().into()));
        cells.into()
    }

    pub(super) fn from_value(value: &JsValue) -> Option<Self> {
        let cells = Array::from(value);
        Some(Self {
            row: Row::from_value(value)?,
            size: whole(&cells.get(3))?,
            rank: Rank::from_number(u8::try_from(whole(&cells.get(4))?).ok()?)?,
        })
    }
}

/// A cursor as it is stored.
pub(super) fn cursor_value(cursor: Cursor) -> JsValue {
    Array::of2(&number(cursor.seq), &cursor.chain.to_string().into()).into()
}

/// A cursor as it was stored.
pub(super) fn cursor_of(value: &JsValue) -> Option<Cursor> {
    let cells = Array::from(value);
    let chain = hash_of(&cells.get(1).as_string()?)?;
    Some(Cursor { seq: whole(&cells.get(0))?, chain })
}

/// The key of something of a job.
pub(super) fn key(job: &JobId, hash: impl std::fmt::Display) -> JsValue {
    JsValue::from_str(&format!("{job}/{hash}"))
}

/// A job and a hash from their key.
pub(super) fn parts(key: &JsValue) -> Option<(JobId, Hash)> {
    let text = key.as_string()?;
    let (job, hash) = text.split_once('/')?;
    Some((JobId::new(job).ok()?, hash_of(hash)?))
}

fn hash_of(text: &str) -> Option<Hash> {
    BlobHash::new(text).ok().map(|hash| Hash(hash.0))
}

/// JavaScript's numbers are whole up to 2^53; no count of ours comes near.
#[allow(clippy::cast_precision_loss, reason = "sizes and counts stay far below 2^53")]
fn number(value: u64) -> JsValue {
    JsValue::from_f64(value as f64)
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "checked to be a whole number that fits"
)]
fn whole(value: &JsValue) -> Option<u64> {
    let value = value.as_f64()?;
    let fits =
        value.fract().abs() < f64::EPSILON && (0.0..9_007_199_254_740_992.0).contains(&value);
    fits.then_some(value as u64)
}
