//! A plan: which points, in which walking order, for a purpose.

use std::collections::BTreeSet;

use inspection::DwellingKind;

use crate::{Phrases, Picture, Point};

/// A plan with everything it refers to.
#[derive(Clone, Debug, Default)]
pub struct Plan {
    /// Its id, such as `purchase`.
    pub id: String,
    /// Title in the report.
    pub title: String,
    /// What it is for, in a sentence or two.
    pub purpose: String,
    /// What this kind of inspection is and is not, for the report's terms; one paragraph each.
    pub terms: Vec<String>,
    /// General cautions before the visit, one sentence each.
    pub cautions: Vec<String>,
    /// The stops, in walking order.
    pub stops: Vec<Stop>,
    /// The points, in walking order: by stop, then by precedence, then as the plan lists them.
    pub points: Vec<Point>,
    /// Pictures drawn from the values of its points, in the order of their ids.
    pub pictures: Vec<Picture>,
    /// Words for equipment that can be fitted.
    pub equipment: Vec<Named>,
    /// Words for states of the site.
    pub site_states: Vec<Named>,
    /// Documents that limits refer to.
    pub sources: Vec<SourceDocument>,
    /// The language its texts are in, as in a page's `lang`; data files are in English.
    pub language: String,
    /// What people read in that language for positions, for words that formulas give, and for what the program itself
    /// says; empty in English.
    pub words: Phrases,
    /// The same with the words of drawings, and with those of choices, which drawings know by the recorded word.
    pub drawn: Phrases,
    /// SHA-256 of every data file the plan was loaded from: the data revision.
    pub data_revision: String,
}

/// A place in or around the unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop {
    /// Its id.
    pub id: String,
    /// What people call it.
    pub title: String,
    /// Where it is on the plan view: fraction of the length from the front, fraction of the width from the left.
    pub place: (f64, f64),
    /// On which side of the unit one sees it from outside; none inside, on the roof or underneath.
    pub side: Option<StopSide>,
    /// About how high on the body it is, 0 to 1; for schematic drawings.
    pub height: f64,
}

/// On which side of the unit one sees a stop, facing the direction of travel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StopSide {
    /// Left.
    Left,
    /// Right.
    Right,
    /// Front.
    Front,
    /// Rear.
    Rear,
    /// The side of the entry door.
    Door,
    /// Left or right, as the position of a reading or a finding says.
    Either,
}

impl StopSide {
    /// All of them.
    pub const ALL: [Self; 6] =
        [Self::Left, Self::Right, Self::Front, Self::Rear, Self::Door, Self::Either];

    /// The word in `stops.toml`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Front => "front",
            Self::Rear => "rear",
            Self::Door => "door",
            Self::Either => "either",
        }
    }
}

/// A word of the data files with what people read for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// The word in data files and records.
    pub id: String,
    /// What people read.
    pub title: String,
}

/// A published document.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceDocument {
    /// Its key.
    pub key: String,
    /// Title.
    pub title: String,
    /// Who published it.
    pub publisher: String,
    /// Edition or year.
    pub edition: String,
    /// How much of it was read, in a sentence.
    pub read: String,
}

impl Plan {
    /// The points that a unit of this kind with this equipment has, in walking order.
    pub fn points_for<'a>(
        &'a self,
        kind: DwellingKind,
        equipment: &'a BTreeSet<String>,
    ) -> impl Iterator<Item = &'a Point> {
        self.points.iter().filter(move |point| point.exists_on(kind, equipment))
    }

    /// The point with this id.
    #[must_use]
    pub fn point(&self, id: &str) -> Option<&Point> {
        self.points.iter().find(|point| point.id == id)
    }

    /// The stop with this id.
    #[must_use]
    pub fn stop(&self, id: &str) -> Option<&Stop> {
        self.stops.iter().find(|stop| stop.id == id)
    }

    /// What people read for the words of a value: of a choice as the point says it, of a formula as the phrasebook does.
    #[must_use]
    pub fn shown(&self, point: &str, name: &str, words: &str) -> String {
        let reading = self.point(point).and_then(|point| point.reading(name));
        match reading.and_then(|reading| reading.shown.get(words)) {
            Some(shown) => shown.clone(),
            // What a person wrote stays as it was written.
            None if reading.is_some() => words.to_owned(),
            None => self.words.say(words),
        }
    }

    /// The source with this key.
    #[must_use]
    pub fn source(&self, key: &str) -> Option<&SourceDocument> {
        self.sources.iter().find(|source| source.key == key)
    }
}
