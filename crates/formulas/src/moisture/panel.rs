//! Where on a wall, floor or roof a reading was taken, as people write it: `left wall at 6.5, 2 ft`.

use quantity::uom::si::length::meter;
use quantity::{Kind, Length, Unit, Value, parse_list, units};

/// No panel of a dwelling on wheels reaches farther.
const FARTHEST: f64 = 30.0; // m

/// A place on a flat panel.
#[derive(Clone, Debug)]
pub struct OnPanel {
    /// The panel's name.
    pub panel: String,
    /// Along it: from the left as one faces a wall, from the front of a floor, ceiling or roof.
    pub along: Length,
    /// Up it: from the floor of a wall, from the left side of a floor, ceiling or roof.
    pub up: Length,
    /// The unit that it was written in.
    pub unit: &'static Unit,
}

impl OnPanel {
    /// Reads a position such as `left wall at 6.5, 2 ft`: the panel, then along and up.
    ///
    /// # Errors
    /// A sentence that says what is accepted.
    pub fn read(position: &str) -> Result<Self, String> {
        let refuse = |why: &str| {
            format!(
                "`{position}` is no place on a panel: {why}; accepted: the panel, `at`, then along and up, such \
                 as left wall at 6.5, 2 ft"
            )
        };
        let (panel, place) =
            position.rsplit_once(" at ").ok_or_else(|| refuse("there is no ` at `"))?;
        let panel = panel.trim();
        if panel.is_empty() {
            return Err(refuse("no panel is named"));
        }
        let unit = place.rsplit(|letter: char| letter.is_ascii_digit() || letter == ' ').next();
        let unit = unit
            .and_then(|unit| units::find_of(Kind::Length, unit))
            .ok_or_else(|| refuse("it does not end with a unit of length"))?;
        let lengths: Vec<Length> = parse_list(place, Kind::Length)
            .map_err(|error| refuse(&error.to_string()))?
            .into_iter()
            .filter_map(Value::typed)
            .collect();
        let [along, up] = lengths.as_slice() else {
            return Err(refuse("two lengths are wanted"));
        };
        if [along, up].iter().any(|length| !(0.0..=FARTHEST).contains(&length.get::<meter>())) {
            return Err(refuse("a panel reaches from 0 to 98 ft"));
        }
        Ok(Self { panel: panel.to_owned(), along: *along, up: *up, unit })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_the_panel_then_along_and_up() {
        for (position, panel, along, up, unit) in [
            ("left wall at 6.5, 2 ft", "left wall", 1.981_2, 0.609_6, "ft"),
            ("left wall at 4 ft 6 in, 2 ft", "left wall", 1.371_6, 0.609_6, "ft"),
            ("roof at 3.2, 0.4 m", "roof", 3.2, 0.4, "m"),
            ("floor at the galley at 40 in; 12 in", "floor at the galley", 1.016, 0.304_8, "in"),
            ("left wall at 0, 0ft", "left wall", 0.0, 0.0, "ft"),
        ] {
            let place = OnPanel::read(position).unwrap();
            assert_eq!((place.panel.as_str(), place.unit.spelling), (panel, unit));
            let metres = [place.along, place.up].map(|it| it.get::<meter>());
            assert!(
                (metres[0] - along).abs() < 1e-9 && (metres[1] - up).abs() < 1e-9,
                "{metres:?}"
            );
        }
    }

    #[test]
    fn what_is_no_place_is_told_how_to_write_one() {
        for position in [
            "",
            "front left corner",
            "ceiling at bathroom vent",
            "left wall at 6.5 ft",
            "left wall at 6.5, 2",
            "left wall at 1, 2, 3 ft",
            "left wall at 6.5, 2 psi",
            "left wall at -1, 2 ft",
            "left wall at 400, 2 ft",
            " at 1, 2 ft",
        ] {
            let sentence = OnPanel::read(position).unwrap_err();
            assert!(sentence.contains("such as left wall at 6.5, 2 ft"), "{sentence}");
        }
    }
}
