//! Volume of water in a box-shaped tank, and in a lying cylinder.

use quantity::{Kind, Length, Quantity, Ratio, Volume};

use super::properties::weight;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Volume of a box: length times width times depth.
#[must_use]
pub fn box_tank(length: Length, width: Length, depth: Length) -> Volume {
    length * width * depth
}

/// Share of a lying cylinder that is filled to a depth.
///
/// `[r²·acos((r − h)/r) − (r − h)·√(2rh − h²)]/(πr²)`, h the depth, r the radius.
///
/// # Errors
/// [`Problem::Input`] for a depth over the diameter.
pub fn filled_fraction(diameter: Length, depth: Length) -> Result<Ratio, Problem> {
    let (r, h) = (diameter.base() / 2.0, depth.base());
    if h > 2.0 * r {
        return Err(Problem::input(
            "depth",
            "is more than the diameter; accepted: 0 up to the diameter",
        ));
    }
    let segment = r * r * libm::acos((r - h) / r) - (r - h) * (2.0 * r * h - h * h).max(0.0).sqrt();
    Ok(Ratio::from_base(segment / (std::f64::consts::PI * r * r)))
}

/// Volume in a lying cylinder with flat ends, filled to a depth.
///
/// # Errors
/// As [`filled_fraction`].
pub fn cylinder_tank(diameter: Length, length: Length, depth: Length) -> Result<Volume, Problem> {
    Ok(full_cylinder(diameter, length) * filled_fraction(diameter, depth)?)
}

fn full_cylinder(diameter: Length, length: Length) -> Volume {
    std::f64::consts::FRAC_PI_4 * diameter * diameter * length
}

const GEOMETRY: Source = Source {
    document: "geometry of the box and of the circular segment",
    section: "",
    confirmed: Confirmed::Derived,
};

const WEIGHT: Gives = Gives::quantity("weight", "lb", "of cold water, at 8.34 lb/gal");

pub(crate) static BOX: Formula = Formula {
    name: "water.box_tank",
    summary: "Volume of a box-shaped tank, full or to a depth.",
    inputs: &[
        Input::quantity("length", Kind::Length, "inside length").accepting(Accepts::Above("0 in")),
        Input::quantity("width", Kind::Length, "inside width").accepting(Accepts::Above("0 in")),
        Input::quantity("depth", Kind::Length, "inside height, or depth of the water")
            .accepting(Accepts::AtLeast("0 in")),
    ],
    result: Gives::quantity("volume", "gal", "length times width times depth"),
    parts: &[WEIGHT],
    valid: "",
    sources: &[GEOMETRY],
    example: &[("length", "40 in"), ("width", "24 in"), ("depth", "9 in")],
    compute: |inputs| {
        let volume = box_tank(inputs.get("length")?, inputs.get("width")?, inputs.get("depth")?);
        Ok(Outcome::new(volume).part("weight", weight(volume)))
    },
};

pub(crate) static CYLINDER: Formula = Formula {
    name: "water.cylinder_tank",
    summary: "Volume of water in a lying cylindrical tank, by its depth.",
    inputs: &[
        Input::quantity("diameter", Kind::Length, "inside diameter")
            .accepting(Accepts::Above("0 in")),
        Input::quantity("length", Kind::Length, "inside length, flat ends")
            .accepting(Accepts::Above("0 in")),
        Input::quantity("depth", Kind::Length, "depth of the water in the middle")
            .accepting(Accepts::AtLeast("0 in")),
    ],
    result: Gives::quantity("volume", "gal", "volume of the water"),
    parts: &[
        Gives::quantity("fraction", "%", "share of the full tank"),
        Gives::quantity("full", "gal", "volume of the full tank"),
        WEIGHT,
    ],
    valid: "a level tank with flat ends",
    sources: &[GEOMETRY],
    example: &[("diameter", "48 in"), ("length", "96 in"), ("depth", "19.2 in")],
    compute: |inputs| {
        let (diameter, length, depth) =
            (inputs.get("diameter")?, inputs.get("length")?, inputs.get("depth")?);
        let volume = cylinder_tank(diameter, length, depth)?;
        Ok(Outcome::new(volume)
            .part("fraction", filled_fraction(diameter, depth)?)
            .part("full", full_cylinder(diameter, length))
            .part("weight", weight(volume))
            .note("for a level tank; off level, measure the depth in the middle of its length"))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, check_part, refuses};

    const CYLINDER: &str = "water.cylinder_tank";
    const TANKS: &str = include_str!("../../../../reference/pipe_flow/tanks.csv");

    fn lying<'a>(d: &'a str, l: &'a str, h: &'a str) -> [(&'a str, &'a str); 3] {
        [("diameter", d), ("length", l), ("depth", h)]
    }

    /// 231 in³ are a gallon (NIST SP 811, appendix B.8); 40 gal of water weigh 334 lb at 8.34 lb/gal.
    #[test]
    fn a_box_holds_length_times_width_times_depth() {
        let given = [("length", "24 in"), ("width", "40 in"), ("depth", "9 in")];
        check("water.box_tank", &given, 37.40, "gal", 0.005);
        let forty = [("length", "30 in"), ("width", "30.8 in"), ("depth", "10 in")];
        check("water.box_tank", &forty, 40.0, "gal", 1e-9);
        check_part("water.box_tank", &forty, "weight", 334.0, "lb", 0.5);
    }

    /// A published worked example prints 752 gal, 280.9 gal and 37.4 %; a published problem 15.138 m³; the
    /// third was computed with fluids 1.3.1 (`V_horiz_conical`, flat ends).
    #[test]
    fn a_lying_cylinder_holds_its_segment() {
        let worked = lying("48 in", "96 in", "19.2 in");
        check(CYLINDER, &worked, 280.903, "gal", 0.000_6);
        check_part(CYLINDER, &worked, "full", 752.024, "gal", 0.000_6);
        check_part(CYLINDER, &worked, "fraction", 37.35, "%", 0.005);
        check(CYLINDER, &lying("1.45 m", "10 m", "1.25 m"), 15.137_92, "m3", 0.000_01);
        check(CYLINDER, &lying("108 in", "156 in", "36 in"), 1_805.188_29, "gal", 0.000_01);
    }

    /// A published list of depth and volume, percent; recomputed from the segment.
    #[test]
    fn the_share_of_the_volume_is_not_the_share_of_the_depth() {
        for (depth, percent) in [
            (0.0, 0.0),
            (5.0, 1.87),
            (10.0, 5.20),
            (20.0, 14.24),
            (25.0, 19.55),
            (30.0, 25.23),
            (40.0, 37.35),
            (50.0, 50.0),
            (75.0, 80.45),
            (80.0, 85.76),
            (90.0, 94.80),
            (100.0, 100.0),
        ] {
            let depth = format!("{depth} in");
            check_part(CYLINDER, &lying("100 in", "9 in", &depth), "fraction", percent, "%", 0.005);
        }
    }

    /// 200 tanks computed with fluids 1.3.1 (`TANK`, flat ends).
    #[test]
    fn two_hundred_tanks_agree_with_the_library() {
        let mut count = 0;
        for row in crate::table::Table::read(TANKS).rows() {
            let cell = |column| format!("{} in", row.text(column));
            let (d, l, h) = (cell("diameter"), cell("length"), cell("depth"));
            let volume = row.number("volume");
            check(CYLINDER, &lying(&d, &l, &h), volume, "in3", volume * 1e-8 + 1e-6);
            count += 1;
        }
        assert_eq!(count, 200);
    }

    #[test]
    fn a_depth_below_zero_or_over_the_rim_is_impossible() {
        for depth in ["-1 in", "48.1 in"] {
            let problem = refuses(CYLINDER, &lying("48 in", "96 in", depth), "accepted");
            assert!(matches!(problem, Problem::Input { name, .. } if name == "depth"));
        }
    }
}
