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
    /// The gas system as a line, from the cylinders to the burners.
    GasLine,
    /// The leak check of gas piping over time.
    PressureDecay,
    /// The outlet survey, the worst first.
    Outlets,
    /// Moisture readings at their places on a panel, and between.
    MoistureMap,
}

impl PictureKind {
    /// All kinds.
    pub const ALL: [Self; 5] =
        [Self::Tyres, Self::GasLine, Self::PressureDecay, Self::Outlets, Self::MoistureMap];

    /// The word in data files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Tyres => "tyres",
            Self::GasLine => "gas_line",
            Self::PressureDecay => "pressure_decay",
            Self::Outlets => "outlets",
            Self::MoistureMap => "moisture_map",
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
            Self::GasLine => {
                const {
                    &[
                        needed("lockup", "pressure behind the regulator with no gas flowing"),
                        extra("contents", "gas in each cylinder"),
                        extra("filled", "share of the most that each cylinder may hold"),
                        extra("cylinder_temperature", "temperature of each cylinder"),
                        extra("cylinder_pressure", "pressure in each cylinder at that temperature"),
                        extra("seen", "what the gauge did in the leak check"),
                        extra("working", "pressure at about half load"),
                        extra("all_on", "pressure with all appliances on"),
                        extra("at_appliance", "pressure at each appliance"),
                        extra("flame", "flame of each appliance"),
                    ]
                }
            }
            Self::PressureDecay => {
                const {
                    &[
                        needed("start", "pressure at the start"),
                        needed("end", "pressure at the end"),
                        needed("time", "time between the two"),
                        extra("start_temperature", "temperature of the pipe at the start"),
                        extra("end_temperature", "temperature of the pipe at the end"),
                        extra(
                            "between",
                            "pressures meanwhile; their positions are times since the start",
                        ),
                        extra("between_temperature", "temperatures of the pipe at those times"),
                        extra("expected", "pressure at the end, had nothing leaked"),
                        extra("expected_between", "pressures at those times, had nothing leaked"),
                        extra("seen", "what the gauge did; its limit is the codes' rule"),
                        extra("leak", "gas lost, the temperature taken out"),
                        extra("least", "smallest leak that this test could have seen"),
                    ]
                }
            }
            Self::Outlets => {
                const {
                    &[
                        needed("hot_neutral", "voltage from hot to neutral at each outlet"),
                        extra("hot_ground", "voltage from hot to ground"),
                        extra("neutral_ground", "voltage from neutral to ground"),
                        extra("loaded", "voltage from hot to neutral under load"),
                        extra("ground_fault", "what it did when its ground-fault device was tried"),
                        extra("pattern", "wiring by its voltages, in words"),
                        extra("state", "how the outlet stands, in words"),
                        extra("reasons", "why, in words"),
                        extra("rank", "a number that is highest for the worst"),
                    ]
                }
            }
            Self::MoistureMap => {
                const {
                    &[
                        needed(
                            "reading",
                            "moisture; positions such as left wall at 6.5, 2 ft are placed",
                        ),
                        extra("near", "what lies near each place, in words"),
                        extra("at_rest", "moisture that wood comes to in the room's air"),
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
