//! When the temperature in a refrigerator may be held against advice at all.

use quantity::uom::si::{angle::degree, thermodynamic_temperature::degree_fahrenheit, time::hour};
use quantity::{Angle, Kind, Temperature, Time};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

const LONG_ENOUGH: f64 = 24.0; // h
const HOT_ROOM: f64 = 95.0; // degF
const OFF_LEVEL: f64 = 3.0; // degrees

/// The temperature of a box that has settled; the temperature itself, where it may be judged.
///
/// # Errors
/// [`Problem::OutOfRange`] within 24 h of the start, in a room above 95 °F, or for an absorption unit that
/// stands 3° or more off level.
pub fn settled(
    inside: Temperature,
    running: Time,
    room: Option<Temperature>,
    off_level: Option<Angle>,
    absorption: bool,
) -> Result<Temperature, Problem> {
    let refuse = |why: &str| Err(Problem::out_of_range(format!("not determinable: {why}")));
    if running.get::<hour>() < LONG_ENOUGH {
        return refuse(
            "it has not run for 24 h; report the reading and the hours, and look again next day",
        );
    }
    if room.is_some_and(|room| room.get::<degree_fahrenheit>() > HOT_ROOM) {
        return refuse("the room is hotter than 95 degF; look again when it is cooler");
    }
    if absorption && off_level.is_some_and(|angle| angle.get::<degree>().abs() >= OFF_LEVEL) {
        return refuse(
            "an absorption refrigerator does not cool off level, and can spoil; level the unit and look again",
        );
    }
    Ok(inside)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "air.refrigerator",
    summary: "Temperature in a refrigerator or freezer, where it has run long enough to be judged.",
    inputs: &[
        Input::quantity(
            "inside",
            Kind::Temperature,
            "of a glass of water on the middle shelf, or between packages",
        )
        .accepting(Accepts::AtLeast("0 K")),
        Input::quantity("running", Kind::Time, "since it was started")
            .accepting(Accepts::AtLeast("0 h")),
        Input::quantity("room", Kind::Temperature, "of the room round it")
            .accepting(Accepts::AtLeast("0 K"))
            .optional(),
        Input::quantity("off_level", Kind::Angle, "largest angle of the unit from the level")
            .optional(),
        Input::word("kind", &["compressor", "absorption"], "compressor if left out").optional(),
    ],
    result: Gives::quantity("settled", "degF", "the temperature inside"),
    parts: &[],
    valid: "24 h or more of running, a room to 95 degF, and an absorption unit that stands level",
    sources: &[
        Source {
            document: "United States Food and Drug Administration, Refrigerator Thermometers: Cold Facts",
            section: "a glass of water on the middle shelf, 5 h to 8 h; 40 degF, freezer 0 degF",
            confirmed: Confirmed::Quoted,
        },
        Source {
            document: "24 h of running, 95 degF, 3 deg off level for absorption units",
            section: "",
            confirmed: Confirmed::OwnChoice,
        },
    ],
    example: &[("inside", "37 degF"), ("running", "26 h")],
    compute: |inputs| {
        let absorption = inputs.optional_words("kind") == Some("absorption");
        let temperature = settled(
            inputs.get("inside")?,
            inputs.get("running")?,
            inputs.optional("room")?,
            inputs.optional("off_level")?,
            absorption,
        )?;
        let outcome = Outcome::new(temperature);
        Ok(if temperature.get::<degree_fahrenheit>() < 32.0 {
            outcome.note("below 32 degF food in a refrigerator freezes; a freezer may be so cold")
        } else {
            outcome
        })
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{call, check, refuses};

    const NAME: &str = "air.refrigerator";

    #[test]
    fn a_settled_box_has_the_temperature_that_was_read() {
        check(NAME, &[("inside", "40.1 degF"), ("running", "24 h")], 40.1, "degF", 1e-9);
        let cold = call(NAME, &[("inside", "31 degF"), ("running", "30 h")]).unwrap();
        assert!(cold.notes[0].contains("freezes"), "{cold:?}");
    }

    #[test]
    fn a_box_that_has_not_settled_is_not_determinable() {
        for (running, more, words) in [
            ("3 h", ("kind", "compressor"), "not run for 24 h"),
            ("30 h", ("room", "97 degF"), "hotter than 95 degF"),
        ] {
            let problem =
                refuses(NAME, &[("inside", "45 degF"), ("running", running), more], words);
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
        let tilted = |kind| {
            [("inside", "45 degF"), ("running", "30 h"), ("off_level", "-3.5 deg"), ("kind", kind)]
        };
        refuses(NAME, &tilted("absorption"), "off level");
        call(NAME, &tilted("compressor")).unwrap();
    }
}
