//! Pictures drawn from values: what is shown, in which role and place, with its verdict.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::Verdict;

/// A picture of values, as data: `drawing` draws it, for the pages and for the web alike.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Picture {
    /// Heading.
    pub title: String,
    /// What it shows and how to read it.
    pub caption: String,
    /// Name of the system beside whose readings it stands.
    pub system: String,
    /// How it is drawn: a word of [`plan::PictureKind`].
    pub kind: String,
    /// The values by the role they play, in the order of their positions.
    pub shown: BTreeMap<String, Vec<Shown>>,
}

/// A value in a picture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Shown {
    /// Which of several places, as printed; empty where there is only one.
    pub position: String,
    /// Its number in the unit that it is written in; none for words. Numbers place things, the text is what is said.
    pub number: Option<f64>,
    /// Its standard uncertainty in the same unit, where it has one.
    pub uncertainty: Option<f64>,
    /// That unit as printed; empty for words and plain numbers.
    #[serde(default)]
    pub unit: String,
    /// Its expanded uncertainty (k = 2) as printed, `± 0.10 V`; empty where it has none.
    #[serde(default)]
    pub spread: String,
    /// What is printed: value and unit, or words.
    pub text: String,
    /// The gravest verdict of its limits; chooses the sign.
    pub verdict: Verdict,
    /// Its limits that are numbers, in the plan's order.
    #[serde(default)]
    pub bounds: Vec<Bounds>,
}

/// What a limit allows, in the unit that the value is written in.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Bounds {
    /// The least; none where only the most is limited.
    pub from: Option<f64>,
    /// The most; none where only the least is limited.
    pub to: Option<f64>,
    /// As printed: `at most 80 psi`, `40 psi to 60 psi`.
    pub text: String,
}

impl Picture {
    /// The values of a role.
    #[must_use]
    pub fn role(&self, role: &str) -> &[Shown] {
        self.shown.get(role).map_or(&[], Vec::as_slice)
    }

    /// The value of a role at a position.
    #[must_use]
    pub fn at(&self, role: &str, position: &str) -> Option<&Shown> {
        self.role(role).iter().find(|shown| shown.position == position)
    }

    /// The value of a role that has only one, or the first of several.
    #[must_use]
    pub fn one(&self, role: &str) -> Option<&Shown> {
        self.role(role).first()
    }

    /// All positions of these roles, each once, in the order they first come up.
    #[must_use]
    pub fn positions<'a>(&'a self, roles: &[&str]) -> Vec<&'a str> {
        let mut positions: Vec<&str> = Vec::new();
        for shown in roles.iter().flat_map(|role| self.role(role)) {
            if !positions.contains(&shown.position.as_str()) {
                positions.push(&shown.position);
            }
        }
        positions
    }
}
