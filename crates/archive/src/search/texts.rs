//! The texts of a job that are searched, as the index keeps them, and their words.

use std::collections::BTreeMap;

use plan::Plan;
use serde_json::{Value as Json, json};
use sha2::{Digest, Sha256};
use store::index::COLUMNS;

use super::PlaceKind;
use crate::fold::folded;

/// Stands between texts in the words of a column, so that no phrase reaches from one into the next: it is no letter.
const BORDER: &str = " \u{e000} ";

/// One text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Text {
    pub(crate) kind: PlaceKind,
    /// The point it belongs to; empty for none.
    pub(crate) point: String,
    /// A finding's key, a photo's id, an invoice's number; empty elsewhere.
    pub(crate) reference: String,
    pub(crate) text: String,
}

/// All texts of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Texts {
    pub(crate) texts: Vec<Text>,
    /// Points with an entry or a reading, and the names of the readings taken: their words are the plan's.
    pub(crate) points: Vec<(String, Vec<String>)>,
}

impl Texts {
    /// As the index keeps them, with the key of their plan's wording.
    pub(crate) fn to_json(&self, wording: &str) -> String {
        let texts: Vec<Json> = self
            .texts
            .iter()
            .map(|it| json!([it.kind.word(), it.point, it.reference, it.text]))
            .collect();
        let points: Vec<Json> = self.points.iter().map(|it| json!([it.0, it.1])).collect();
        json!({"texts": texts, "points": points, "wording": wording}).to_string()
    }

    /// The same read back, with that key; what cannot be read is left out.
    pub(crate) fn from_json(text: &str) -> (Self, String) {
        let json: Json = serde_json::from_str(text).unwrap_or_default();
        let word = |json: &Json| json.as_str().unwrap_or_default().to_owned();
        let list = |json: &Json| json.as_array().cloned().unwrap_or_default();
        let texts = list(&json["texts"])
            .iter()
            .filter_map(|it| {
                Some(Text {
                    kind: PlaceKind::from_word(it[0].as_str()?)?,
                    point: word(&it[1]),
                    reference: word(&it[2]),
                    text: word(&it[3]),
                })
            })
            .collect();
        let points = list(&json["points"])
            .iter()
            .map(|it| (word(&it[0]), list(&it[1]).iter().map(word).collect()))
            .collect();
        (Self { texts, points }, word(&json["wording"]))
    }

    /// Every text with its place, those of the plan too.
    pub(crate) fn places(&self, wording: &Wording) -> Vec<Text> {
        let mut all = self.texts.clone();
        for (point, readings) in &self.points {
            let Some((title, names)) = wording.0.get(point) else { continue };
            let mut add = |text: &str| {
                all.push(Text {
                    kind: PlaceKind::Point,
                    point: point.clone(),
                    reference: String::new(),
                    text: text.to_owned(),
                });
            };
            add(title);
            for reading in readings {
                if let Some(name) = names.get(reading) {
                    add(name);
                }
            }
        }
        all
    }

    /// The words for the index, by column.
    pub(crate) fn words(&self, wording: &Wording) -> [String; COLUMNS] {
        let mut columns: [String; COLUMNS] = Default::default();
        for text in self.places(wording) {
            if let Some(column) = columns.get_mut(text.kind.column()) {
                if !column.is_empty() {
                    column.push_str(BORDER);
                }
                column.push_str(&folded(&text.text));
            }
        }
        columns
    }
}

/// What a plan calls its points and their readings, by their ids.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Wording(BTreeMap<String, (String, BTreeMap<String, String>)>);

impl Wording {
    pub(crate) fn of(plan: &Plan) -> Self {
        let points = plan.points.iter().map(|point| {
            let readings = point.readings.iter().map(|it| (it.id.clone(), it.title.clone()));
            (point.id.clone(), (point.title.clone(), readings.collect()))
        });
        Self(points.collect())
    }

    /// The titles of the points, by their ids.
    pub(crate) fn titles(&self) -> impl Iterator<Item = (&str, &str)> {
        self.0.iter().map(|(id, (title, _))| (id.as_str(), title.as_str()))
    }

    pub(crate) fn title(&self, point: &str) -> Option<&str> {
        self.0.get(point).map(|(title, _)| title.as_str())
    }

    pub(crate) fn to_json(&self) -> String {
        let points: serde_json::Map<String, Json> =
            self.0.iter().map(|(id, (title, names))| (id.clone(), json!([title, names]))).collect();
        Json::Object(points).to_string()
    }

    pub(crate) fn from_json(text: &str) -> Self {
        let json: Json = serde_json::from_str(text).unwrap_or_default();
        let word = |json: &Json| json.as_str().unwrap_or_default().to_owned();
        let points = json.as_object().into_iter().flatten().map(|(id, point)| {
            let names = point[1].as_object().into_iter().flatten();
            let names = names.map(|(id, name)| (id.clone(), word(name))).collect();
            (id.clone(), (word(&point[0]), names))
        });
        Self(points.collect())
    }

    /// A name that the same wording alone has.
    pub(crate) fn key(&self) -> String {
        let digest = Sha256::digest(self.to_json());
        digest.iter().take(16).map(|byte| format!("{byte:02x}")).collect()
    }
}
