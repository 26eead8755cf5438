//! Whether a person fits through an escape window.

use quantity::uom::si::length::inch;
use quantity::{Area, Kind, Length};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Source};

/// The opening that a manufactured home's bedroom had to have when built. in, in²
const LEAST_SIDE: f64 = 22.0;
const LEAST_AREA: f64 = 720.0;

/// The ellipse that passes a recreational vehicle's escape opening, its long axis held level. in
const LONG_AXIS: f64 = 24.0;
const SHORT_AXIS: f64 = 17.0;

/// A clear opening and what it lets through.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EscapeOpening {
    /// Width times height.
    pub area: Area,
    /// The smaller of the two.
    pub smallest: Length,
    /// At least 22 in and five square feet (24 CFR 3280.106(a), 3280.404).
    pub fits_home: bool,
    /// An ellipse of 24 in by 17 in passes with its long axis level (NFPA 1192, from memory).
    pub fits_trailer: bool,
}

/// A rectangular clear opening.
#[must_use]
pub fn escape_opening(width: Length, height: Length) -> EscapeOpening {
    let inches = |length: Length| length.get::<inch>();
    let smallest = if width < height { width } else { height };
    // Room for rounding in conversions: 24 in by 30 in are five square feet exactly.
    let reaches = |value: f64, limit: f64| value >= limit * (1.0 - 1e-12);
    EscapeOpening {
        area: width * height,
        smallest,
        fits_home: reaches(inches(smallest), LEAST_SIDE)
            && reaches(inches(width) * inches(height), LEAST_AREA),
        fits_trailer: reaches(inches(width), LONG_AXIS) && reaches(inches(height), SHORT_AXIS),
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "life_safety.escape_opening",
    summary: "Clear area of an escape opening, and what it lets through.",
    inputs: &[
        Input::quantity("width", Kind::Length, "clear width with the window fully open")
            .accepting(Accepts::AboveUpTo("0 in", "120 in")),
        Input::quantity("height", Kind::Length, "clear height with the window fully open")
            .accepting(Accepts::AboveUpTo("0 in", "120 in")),
    ],
    result: Gives::quantity("area", "in2", "width times height"),
    parts: &[
        Gives::quantity("smallest", "in", "the smaller of the two"),
        Gives::words("fits_home", "at least 22 in and 5 ft2, as a manufactured home was built to"),
        Gives::words("fits_trailer", "an ellipse of 24 in by 17 in passes, its long axis level"),
    ],
    valid: "rectangular openings",
    sources: &[
        Source {
            document: "24 CFR 3280",
            section: "3280.106(a), 3280.404: 22 in and 5 square feet",
            confirmed: Confirmed::Quoted,
        },
        Source {
            document: "NFPA 1192",
            section: "ellipse of 24 in by 17 in",
            confirmed: Confirmed::FromMemory,
        },
        Source {
            document: "NHTSA interpretation of 49 CFR 571.217",
            section: "S5.4.1: the same way of testing, the long axis held level",
            confirmed: Confirmed::Read,
        },
    ],
    example: &[("width", "24 in"), ("height", "30 in")],
    compute: |inputs| {
        let opening = escape_opening(inputs.get("width")?, inputs.get("height")?);
        Ok(Outcome::new(opening.area)
            .part("smallest", opening.smallest)
            .part("fits_home", Output::Truth(opening.fits_home))
            .part("fits_trailer", Output::Truth(opening.fits_trailer))
            .note("measured clear: what the sash, a screen or a bed leaves free"))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Output,
        tests::{call, check, part_of, refuses},
    };

    const NAME: &str = "life_safety.escape_opening";

    fn fits(part: &str, width: &str, height: &str) -> bool {
        let outcome = call(NAME, &[("width", width), ("height", height)]).unwrap();
        part_of(&outcome, part) == &Output::Truth(true)
    }

    /// 24 CFR 3280.106(a) and 3280.404, worked by hand: 726, 704, 720 and 720 square inches; at 22 in the
    /// other side is 32.73 in.
    #[test]
    fn a_home_asks_for_the_side_and_the_area() {
        for (width, height, area, passes) in [
            ("22 in", "33 in", 726.0, true),
            ("22 in", "32 in", 704.0, false),
            ("24 in", "30 in", 720.0, true),
            ("20 in", "36 in", 720.0, false),
            ("36 in", "20 in", 720.0, false),
            ("22 in", "32.73 in", 720.06, true),
            ("22 in", "32.72 in", 719.84, false),
            ("2 ft", "2.5 ft", 720.0, true),
        ] {
            check(NAME, &[("width", width), ("height", height)], area, "in2", 0.001);
            assert_eq!(fits("fits_home", width, height), passes, "{width} by {height}");
        }
    }

    /// The long axis stays level: a tall opening does not do for a wide one.
    #[test]
    fn a_trailers_ellipse_lies_level() {
        for (width, height, passes) in [
            ("24 in", "17 in", true),
            ("17 in", "24 in", false),
            ("23.9 in", "30 in", false),
            ("30 in", "16.9 in", false),
            ("609.6 mm", "431.8 mm", true),
        ] {
            assert_eq!(fits("fits_trailer", width, height), passes, "{width} by {height}");
        }
        refuses(NAME, &[("width", "0 in"), ("height", "30 in")], "not possible");
    }
}
