//! The kinds of vehicle that the rules for identification numbers tell apart.

/// What kind of vehicle a number belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VehicleKind {
    /// A trailer of any weight.
    Trailer,
    /// A passenger car.
    Car,
    /// A truck or multipurpose vehicle rated at no more than 10,000 lb.
    LightTruck,
    /// A truck, bus or motor home rated at more than 10,000 lb.
    HeavyVehicle,
}

impl VehicleKind {
    /// The words that name a kind.
    pub(crate) const WORDS: &'static [&'static str] =
        &["trailer", "car", "light_truck", "heavy_vehicle"];

    /// The kind that a word names; a trailer where none is given.
    pub(crate) fn from_word(word: Option<&str>) -> Self {
        match word {
            Some("car") => Self::Car,
            Some("light_truck") => Self::LightTruck,
            Some("heavy_vehicle") => Self::HeavyVehicle,
            _ => Self::Trailer,
        }
    }

    /// Whether position 7 tells the cycle of the model year and position 13 is a digit: 49 CFR 565.15(b)
    /// says so of passenger cars and of trucks and multipurpose vehicles up to 10,000 lb only.
    #[must_use]
    pub fn is_light(self) -> bool {
        matches!(self, Self::Car | Self::LightTruck)
    }
}
