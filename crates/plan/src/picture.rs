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
    /// Weights on a side view, and each against its rating.
    Loads,
    /// Heights of the floor from the side and from behind, with the plane that fits them.
    Levels,
    /// Heights along one rail, against the straight line between its ends.
    Rail,
    /// Piers from above, each with its load and what bears it.
    Piers,
    /// Tanks, each with its true level and what the unit's gauge shows.
    Tanks,
    /// Water pressure, and the flow of each fixture.
    WaterFlow,
}

impl PictureKind {
    /// All kinds.
    pub const ALL: [Self; 11] = [
        Self::Tyres,
        Self::GasLine,
        Self::PressureDecay,
        Self::Outlets,
        Self::MoistureMap,
        Self::Loads,
        Self::Levels,
        Self::Rail,
        Self::Piers,
        Self::Tanks,
        Self::WaterFlow,
    ];

    /// The word in data files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Tyres => "tyres",
            Self::GasLine => "gas_line",
            Self::PressureDecay => "pressure_decay",
            Self::Outlets => "outlets",
            Self::MoistureMap => "moisture_map",
            Self::Loads => "loads",
            Self::Levels => "levels",
            Self::Rail => "rail",
            Self::Piers => "piers",
            Self::Tanks => "tanks",
            Self::WaterFlow => "water_flow",
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
            Self::Loads => {
                const {
                    &[
                        needed("gross", "weight of the whole unit"),
                        extra("gross_rating", "the most that the whole unit may weigh"),
                        extra("tongue", "load on the tow vehicle"),
                        extra("share", "share of the weight that rests on the tow vehicle"),
                        extra("axle", "load of each axle"),
                        extra("axle_rating", "the most that an axle may carry"),
                        extra("wheel", "load of each wheel"),
                        extra("capacity", "what each tyre carries at its pressure"),
                        extra("sidewall", "the most that each tyre carries at full pressure"),
                        extra("imbalance", "difference between the sides"),
                    ]
                }
            }
            Self::Levels => {
                const {
                    &[
                        needed("along", "place of each height along the unit, from the front"),
                        needed("across", "place of each height across the unit, from the left"),
                        needed("height", "height of the floor there, up is more"),
                        extra("tilt", "steepest tilt of the plane that fits best"),
                        extra("pitch", "rise of that plane from front to rear"),
                        extra("roll", "rise of that plane from left to right"),
                        extra("residual", "largest distance of a height from that plane"),
                    ]
                }
            }
            Self::Rail => {
                const {
                    &[
                        needed("height", "height of the rail at each place, up is more"),
                        extra("at", "place along the rail; without it, equal steps in order"),
                        extra("sag", "largest distance from the straight line between the ends"),
                        extra("ratio", "length over that distance"),
                        extra("step", "largest step between neighbours"),
                    ]
                }
            }
            Self::Piers => {
                const {
                    &[
                        needed("load", "load of each pier; positions such as left 2 are placed"),
                        extra("rated", "load that each pier is rated for"),
                        extra("spacing", "distance from each pier to the next of its rail"),
                        extra("pressure", "pressure of each footing on the soil"),
                        extra("soil", "pressure that the soil bears"),
                    ]
                }
            }
            Self::Tanks => {
                const {
                    &[
                        needed("true", "true level of each tank"),
                        needed("shown", "level that the unit's gauge shows"),
                        extra("contents", "what is in each tank"),
                        extra("capacity", "volume of each tank"),
                        extra("error", "shown less true"),
                        extra("size", "the same without its sign; its limit gives the verdict"),
                    ]
                }
            }
            Self::WaterFlow => {
                const {
                    &[
                        needed("standing", "pressure with no water flowing"),
                        extra("flowing", "pressure with water flowing"),
                        extra("setting", "pressure that the regulator is set to"),
                        extra("flow", "flow of each fixture"),
                        extra("designed", "flow that each fixture is sized for"),
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
