//! What to bring: the instruments that the unit's own points measure with.

use inspection::InstrumentId;
use jiff::civil::Date;
use plan::{Point, ReadingForm};
use quantity::Kind;

use super::{Calibration, InstrumentRow};
use crate::{Language, Texts, Visit};

/// One thing to bring.
#[derive(Clone, Debug, PartialEq)]
pub struct KitItem {
    /// The key of its name on the screen.
    pub key: &'static str,
    /// How many points measure with it.
    pub points: usize,
    /// Headings of the first few of them.
    pub for_points: Vec<String>,
    /// The job's instruments of that kind; empty where none is listed yet.
    pub instruments: Vec<InstrumentRow>,
}

impl KitItem {
    /// Instruments are listed, and none of them is in calibration.
    #[must_use]
    pub fn out_of_calibration(&self) -> bool {
        !self.instruments.is_empty()
            && self.instruments.iter().all(|row| matches!(row.calibration, Calibration::RanOut(_)))
    }
}

/// Names of instruments: what a job's list may call them, and the key on the screen.
const NAMES: [(&str, &[&str]); 19] = [
    ("kit-multimeter", &["multimeter"]),
    ("kit-clamp-meter", &["clamp"]),
    ("kit-manometer", &["manometer"]),
    ("kit-pressure-gauge", &["pressure gauge", "water gauge"]),
    ("kit-tyre-gauge", &["tyre gauge", "tire gauge"]),
    ("kit-tape", &["tape", "tread", "rule"]),
    ("kit-scale", &["scale"]),
    ("kit-thermometer", &["thermometer"]),
    ("kit-moisture-meter", &["moisture", "hygrometer"]),
    ("kit-carbon-monoxide-meter", &["carbon-monoxide", "carbon monoxide"]),
    ("kit-torque-wrench", &["torque"]),
    ("kit-level", &["level", "inclinometer"]),
    ("kit-watch", &["timer", "watch", "tester with timer"]),
    ("kit-ohmmeter", &["ohm", "bonding"]),
    ("kit-frequency-meter", &["frequency"]),
    ("kit-measuring-jug", &["jug", "bucket", "flow"]),
    ("kit-air-flow-meter", &["anemometer", "air flow", "air-flow"]),
    ("kit-sun-meter", &["irradiance", "pyranometer", "sun meter"]),
    ("kit-hydrometer", &["hydrometer", "refractometer"]),
];

/// What instruments are called: the key on the screen, and the words to record, by which one is found again.
pub fn kinds_of_instruments() -> impl Iterator<Item = (&'static str, String)> {
    let english = Texts::new(Language::English);
    NAMES.iter().map(move |(key, _)| (*key, english.say(key).to_lowercase()))
}

/// The instrument that measures a reading of this kind at a point of this system; common practice of the trade.
fn instrument_for(system: &str, kind: Kind, unit: &str) -> Option<&'static str> {
    Some(match kind {
        Kind::Voltage => "kit-multimeter",
        Kind::Current => "kit-clamp-meter",
        Kind::Pressure if unit == "inH2O" => "kit-manometer",
        Kind::Pressure if system == "running_gear" => "kit-tyre-gauge",
        Kind::Pressure => "kit-pressure-gauge",
        Kind::Length | Kind::Area => "kit-tape",
        Kind::Mass | Kind::Force => "kit-scale",
        Kind::Temperature | Kind::TemperatureDifference => "kit-thermometer",
        Kind::Ratio if unit == "ppm" => "kit-carbon-monoxide-meter",
        Kind::Ratio if unit == "%" && matches!(system, "climate" | "interior" | "shell") => {
            "kit-moisture-meter"
        }
        Kind::Torque => "kit-torque-wrench",
        Kind::Angle => "kit-level",
        Kind::Time => "kit-watch",
        Kind::Resistance => "kit-ohmmeter",
        Kind::Frequency => "kit-frequency-meter",
        Kind::Volume => "kit-measuring-jug",
        Kind::VolumeFlow | Kind::Speed => "kit-air-flow-meter",
        Kind::Irradiance => "kit-sun-meter",
        Kind::Number if system == "battery_sun" => "kit-hydrometer",
        Kind::Number
        | Kind::Ratio
        | Kind::MassFlow
        | Kind::Charge
        | Kind::Energy
        | Kind::Power
        | Kind::PowerPerLength
        | Kind::Density
        | Kind::SpecificEnergy
        | Kind::SpecificVolume
        | Kind::ThermalConductivity
        | Kind::HeatTransfer => return None,
    })
}

/// The keys of the instruments that a point measures with. A reading without a usual uncertainty is read off a plate.
fn instruments_of(point: &Point) -> Vec<&'static str> {
    let mut keys = Vec::new();
    for reading in &point.readings {
        if let ReadingForm::Quantity { kind, unit, usual: Some(_) } = &reading.form
            && let Some(key) = instrument_for(&point.system, *kind, unit.spelling)
            && !keys.contains(&key)
        {
            keys.push(key);
        }
    }
    keys
}

/// How many headings stand beside an item.
const SHOWN: usize = 3;

impl Visit {
    /// What to bring, by what most points need first.
    #[must_use]
    pub fn kit(&self, day: Date) -> Vec<KitItem> {
        let mut kit: Vec<KitItem> = Vec::new();
        for point in self.points() {
            for key in instruments_of(point) {
                let at = kit.iter().position(|item| item.key == key).unwrap_or_else(|| {
                    let instruments = self.named(key, day);
                    kit.push(KitItem { key, points: 0, for_points: Vec::new(), instruments });
                    kit.len() - 1
                });
                kit[at].points += 1;
                if kit[at].for_points.len() < SHOWN {
                    kit[at].for_points.push(point.title.clone());
                }
            }
        }
        kit.sort_by_key(|item| (std::cmp::Reverse(item.points), item.key));
        kit
    }

    /// The job's instruments that go by one of a thing's names.
    fn named(&self, key: &str, day: Date) -> Vec<InstrumentRow> {
        let names = NAMES.iter().find(|(known, _)| *known == key).map_or(&[][..], |(_, it)| it);
        let goes_by = |id: &InstrumentId, kind: &str| {
            let kind = kind.to_lowercase();
            let id = id.as_str().replace('_', " ");
            names.iter().any(|name| kind.contains(name) || (kind.is_empty() && id.contains(name)))
        };
        self.inspection()
            .instruments
            .iter()
            .filter(|(id, instrument)| goes_by(id, &instrument.kind))
            .map(|(id, instrument)| InstrumentRow::of(id, instrument, day))
            .collect()
    }
}
