//! Remarks on what is left over from other jobs, as they travel from the server, which alone knows the other jobs.

use inspection::{PhotoId, PointId};
use serde_json::{Value, json};

use super::{Remark, Target};
use crate::Said;
use crate::said::Word;

/// Texts of a job, as the remarks name them.
const PLACES: [&str; 11] = [
    "text-of-job",
    "text-note",
    "text-not-examined",
    "text-struck-out",
    "text-heading",
    "text-statement",
    "text-who",
    "text-withdrawn",
    "text-rechecked",
    "text-caption",
    "text-words",
];

/// Facts that tell one job from another.
const FACTS: [&str; 6] =
    ["fact-client", "fact-contact", "fact-site", "fact-identification", "fact-maker", "fact-model"];

impl Remark {
    /// A remark on what is left over, as it travels; none for another remark.
    #[must_use]
    pub fn left_over_to_json(&self) -> Option<Value> {
        if self.what.key != "remark-left-over" {
            return None;
        }
        let word = |wanted: &str| {
            let found = self.what.with.iter().find(|(name, _)| *name == wanted);
            found.map_or("", |(_, word)| match word {
                Word::Plain(text) => text.as_str(),
                Word::Key(key) => key,
            })
        };
        let (about, id) = match &self.target {
            Target::Finding(key) => ("finding", key.as_str()),
            Target::Point(point) | Target::Reading { point, .. } => ("point", point.as_str()),
            Target::Photo(photo) => ("photo", photo.as_str()),
            Target::Instrument(_) | Target::Job => ("job", ""),
        };
        Some(json!({
            "about": about,
            "id": id,
            "title": self.title,
            "place": self.place.key,
            "word": word("word"),
            "fact": word("what"),
            "job": word("job"),
        }))
    }

    /// The same read back; none for what a newer server says of a text or a fact that is not known here.
    #[must_use]
    pub fn left_over_from_json(json: &Value) -> Option<Self> {
        let text = |name: &str| json.get(name)?.as_str();
        let known =
            |keys: &[&'static str], key: &str| keys.iter().find(|one| **one == key).copied();
        let id = text("id")?;
        let what = Said::new("remark-left-over")
            .with("word", text("word")?)
            .with_text("what", known(&FACTS, text("fact")?)?)
            .with("job", text("job")?);
        Some(Self {
            title: text("title")?.to_owned(),
            place: Said::new(known(&PLACES, text("place")?)?),
            what,
            target: match text("about")? {
                "finding" => Target::Finding(id.to_owned()),
                "point" => Target::Point(PointId::from(id)),
                "photo" => Target::Photo(PhotoId::from(id)),
                _ => Target::Job,
            },
        })
    }
}
