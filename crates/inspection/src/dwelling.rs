//! The dwelling on wheels: what it is, what is fitted, and its outline for drawings.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;

/// The four kinds of dwelling on wheels that plans know.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DwellingKind {
    /// Towed by a ball coupling.
    #[default]
    TravelTrailer,
    /// Towed by a pin over the tow vehicle's bed.
    FifthWheel,
    /// A recreational park trailer, sited for long stays.
    ParkTrailer,
    /// A home built to the federal manufactured-home standards.
    ManufacturedHome,
}

impl DwellingKind {
    /// All kinds, in the order of the data files.
    pub const ALL: [Self; 4] =
        [Self::TravelTrailer, Self::FifthWheel, Self::ParkTrailer, Self::ManufacturedHome];

    /// The word in data files and records.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::TravelTrailer => "travel_trailer",
            Self::FifthWheel => "fifth_wheel",
            Self::ParkTrailer => "park_trailer",
            Self::ManufacturedHome => "manufactured_home",
        }
    }

    /// The words in a report.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::TravelTrailer => "travel trailer",
            Self::FifthWheel => "fifth wheel",
            Self::ParkTrailer => "park trailer",
            Self::ManufacturedHome => "manufactured home",
        }
    }

    /// The kind with this word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.word() == word)
    }
}

/// The unit that was inspected.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Dwelling {
    /// What kind of unit it is.
    pub kind: DwellingKind,
    /// Maker, as on the plate.
    pub maker: String,
    /// Model, as on the plate.
    pub model: String,
    /// Model year, if known.
    pub model_year: Option<i16>,
    /// First day that the build date can mean: a plate that says 06/2019 gives 2019-06-01.
    pub built: Option<Date>,
    /// Vehicle identification number or serial number, as read.
    pub identification: String,
    /// What is fitted, by the words of `data/equipment.toml`; points are chosen by it.
    pub equipment: BTreeSet<String>,
    /// Facts of the plates, by name: `gross_rating = "7600 lb"`, `axle_rating = "3500 lb"` …
    pub ratings: BTreeMap<String, String>,
    /// Size and layout for the drawings.
    pub outline: Outline,
}

/// Size and layout of the unit for its drawings; lengths as typed, with their units.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Outline {
    /// Body length.
    pub length: String,
    /// Body width.
    pub width: String,
    /// Side of the entry door: `left` or `right`, facing the direction of travel.
    pub door_side: String,
    /// Number of axles, 0 where there are none.
    pub axles: u8,
}
