//! What a moisture meter's reading means, by its scale and material.

use quantity::uom::si::ratio::percent;
use quantity::{Kind, Ratio};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

/// What was read with the meter's wood scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Material {
    /// Solid wood: what the scale is for.
    SolidWood,
    /// Plywood or strand board: glue moves the reading.
    Panel,
    /// Anything else.
    Other,
}

/// Band of a reading in percent of the dry wood's mass.
///
/// # Errors
/// [`Problem::OutOfRange`] for a material that the percent scale is not made for.
pub fn screen(reading: Ratio, material: Material) -> Result<&'static str, Problem> {
    if material == Material::Other {
        return Err(Problem::out_of_range(
            "the percent scale is for wood: on other materials read the meter's relative scale and compare it \
             with a dry place of the same material",
        ));
    }
    // Rounded far below any meter, so that 20 % in whatever unit is 20 %.
    let moisture = (reading.get::<percent>() * 1e9).round() / 1e9;
    Ok(match moisture {
        ..7.0 => "below the meter's range",
        7.0..16.0 => "dry",
        16.0..=20.0 => "watch",
        28.0.. => "saturated",
        _ => "elevated",
    })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "moisture.screen",
    summary: "Band of a moisture meter's reading on its wood scale.",
    inputs: &[
        Input::quantity("reading", Kind::Ratio, "on the percent scale")
            .accepting(Accepts::AtLeast("0 %")),
        Input::word(
            "material",
            &["solid wood", "plywood or strand board", "other"],
            "what the pins were in",
        ),
    ],
    result: Gives::words("band", "below the meter's range, dry, watch, elevated, or saturated"),
    parts: &[],
    valid: "the percent scale of a meter for wood; about 7 % to 30 % is a number, above it only \"saturated\"",
    sources: &[
        Source {
            document: "",
            section: "below 16 % dry, 16 % to 20 % watch, above 20 % elevated, from 28 % saturated",
            confirmed: Confirmed::CommonPractice,
        },
        Source {
            document: "Forest Products Laboratory, FPL-GTR-6; USDA Forest Service, publication 55905",
            section: "meters vary consistently below 30 %; fibre saturation about 30 %, serious decay above it",
            confirmed: Confirmed::Read,
        },
        Source { document: "labels of the bands", section: "", confirmed: Confirmed::OwnChoice },
    ],
    example: &[("reading", "17.5 %"), ("material", "solid wood")],
    compute: |inputs| {
        let material = match inputs.words("material")? {
            "solid wood" => Material::SolidWood,
            "plywood or strand board" => Material::Panel,
            _ => Material::Other,
        };
        let band = screen(inputs.get("reading")?, material)?;
        let mut outcome = Outcome::new(Output::words(band));
        if material == Material::Panel {
            outcome = outcome.note(
                "glue and pressing move the reading of plywood and strand board: compare it with a dry place \
                 of the same board",
            );
        }
        if band == "saturated" {
            outcome = outcome.note("above about 30 % the number means no more than \"saturated\"");
        }
        Ok(outcome.note(
            "salt, preservative, foil and metal behind the surface make a meter read high; a high reading is a \
             question, not yet a leak",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "moisture.screen";

    /// Bands of the trade, with their edges.
    #[test]
    fn readings_fall_into_the_trades_bands() {
        for (reading, band) in [
            ("6.9 %", "below the meter's range"),
            ("7 %", "dry"),
            ("15.9 %", "dry"),
            ("16 %", "watch"),
            ("20 %", "watch"),
            ("20.1 %", "elevated"),
            ("27.9 %", "elevated"),
            ("28 %", "saturated"),
            ("45 %", "saturated"),
        ] {
            let outcome = call(NAME, &[("reading", reading), ("material", "solid wood")]).unwrap();
            assert_eq!(outcome.result, Output::words(band), "{reading}");
        }
    }

    #[test]
    fn the_percent_scale_is_for_wood_only() {
        let gypsum = [("reading", "18 %"), ("material", "other")];
        let problem = refuses(NAME, &gypsum, "relative scale");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
        let board = [("reading", "18 %"), ("material", "plywood or strand board")];
        let notes = call(NAME, &board).unwrap().notes;
        assert!(notes.iter().any(|note| note.contains("glue")), "{notes:?}");
    }

    #[test]
    fn moisture_below_nothing_is_an_input_error() {
        let problem =
            refuses(NAME, &[("reading", "-1 %"), ("material", "solid wood")], "at least 0 %");
        assert!(matches!(problem, Problem::Input { .. }));
    }
}
