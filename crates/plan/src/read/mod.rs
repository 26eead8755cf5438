//! Reading the data files: every problem of every file is collected, none stops the rest.

mod derivation;
mod example;
mod input_from;
mod limits;
mod picture;
mod plan_file;
mod point;
mod reading;
mod table;
mod words;

pub(crate) use input_from::parse as parse_input_from;
pub(crate) use limits::placeholders;
pub(crate) use picture::{PlacedPicture, read_picture};
pub(crate) use plan_file::{PlanFile, read_plan};
pub(crate) use point::{PlacedPoint, read_point};
pub(crate) use table::{At, Spot, Table, TomlFile};
pub(crate) use words::{Words, nearest, read_equipment, read_sources, read_stops, read_words};
