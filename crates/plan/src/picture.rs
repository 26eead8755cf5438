//! Pictures of the report: which values each kind of picture shows, and in which role.

use std::collections::BTreeMap;

/// A picture drawn from values of points; one file in the data.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// Its id.
    pub id: String,
    /// Heading in the report.
    pub title: String,
    /// What it shows and how to read it, in a sentence or two.
    pub caption: String,
    /// The system beside whose readings it stands.
    pub system: String,
    /// How it is drawn.
    pub kind: PictureKind,
    /// Which value plays which role.
    pub from: BTreeMap<String, ValueName>,
    /// The file it came from, for messages.
    pub file: String,
}

/// A reading or derived value of a point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ValueName {
    /// The point.
    pub point: String,
    /// The name within the point.
    pub name: String,
}

/// A role in a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Role {
    /// Its name in the data file.
    pub name: &'static str,
    /// Whether a picture of this kind is nothing without it. Where no value of a needed role was recorded, the
    /// report leaves the picture out.
    pub needed: bool,
    /// What plays it.
    pub about: &'static str,
}

const fn needed(name: &'static str, about: &'static str) -> Role {
    Role { name, needed: true, about }
}

const fn extra(name: &'static str, about: &'static str) -> Role {
    Role { name, needed: false, about }
}

/// How a picture is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PictureKind {
    /// The wheels from above, each with its tyre's pressure, age, tread and load.
    Tyres,
}

impl PictureKind {
    /// All kinds.
    pub const ALL: [Self; 1] = [Self::Tyres];

    /// The word in data files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Tyres => "tyres",
        }
    }

    /// The kind with this word.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.word() == word)
    }

    /// The roles that values play in it.
    #[must_use]
    pub fn roles(self) -> &'static [Role] {
        match self {
            Self::Tyres => {
                const {
                    &[
                        needed("pressure", "cold pressure of each tyre"),
                        extra("age", "age of each tyre"),
                        extra("tread", "least tread depth of each tyre"),
                        extra("load", "load of each wheel"),
                        extra("used", "share of each tyre's capacity that its load uses"),
                    ]
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn every_kind_has_its_word_and_something_to_show() {
        for kind in PictureKind::ALL {
            assert_eq!(PictureKind::find(kind.word()), Some(kind));
            assert!(kind.roles().iter().any(|role| role.needed), "{}", kind.word());
            let names: BTreeSet<&str> = kind.roles().iter().map(|role| role.name).collect();
            assert_eq!(names.len(), kind.roles().len(), "{}", kind.word());
        }
    }
}
