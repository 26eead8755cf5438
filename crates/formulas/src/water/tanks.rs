//! Volume of water in a tank, by its shape and the depth of the water, level or not.

use quantity::{Kind, Length, Quantity, Ratio, Volume};

use super::properties::weight;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Inputs, Outcome, Problem, Source};

/// Volume of a box: length times width times depth.
#[must_use]
pub fn box_tank(length: Length, width: Length, depth: Length) -> Volume {
    length * width * depth
}

/// Volume in a standing cylinder: `π/4·D²·h`.
#[must_use]
pub fn upright_tank(diameter: Length, depth: Length) -> Volume {
    full_cylinder(diameter, depth)
}

/// Share of a lying cylinder that is filled to a depth.
///
/// `[r²·acos((r − h)/r) − (r − h)·√(2rh − h²)]/(πr²)`, h the depth, r the radius.
///
/// # Errors
/// [`Problem::Input`] for a depth over the diameter.
pub fn filled_fraction(diameter: Length, depth: Length) -> Result<Ratio, Problem> {
    if depth > diameter {
        return Err(Problem::input(
            "depth",
            "is more than the diameter; accepted: 0 up to the diameter",
        ));
    }
    Ok(Ratio::from_base(segment(diameter.base(), depth.base())))
}

/// The same for a depth that is known to lie between 0 and the diameter.
fn segment(diameter: f64, depth: f64) -> f64 {
    let (r, h) = (diameter / 2.0, depth);
    let area = r * r * libm::acos((r - h) / r) - (r - h) * (2.0 * r * h - h * h).max(0.0).sqrt();
    area / (std::f64::consts::PI * r * r)
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

/// A tank that stands off level along its length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lean {
    /// Difference of depth between its two ends.
    pub rise: Length,
}

impl Lean {
    /// Depth in the middle of the length, from a depth at an end or in the middle.
    ///
    /// # Errors
    /// [`Problem::OutOfRange`] if the water does not reach the high end.
    fn depth_in_the_middle(self, depth: Length, measured_at: &str) -> Result<Length, Problem> {
        let half = self.rise / 2.0;
        let middle = match measured_at {
            "low_end" => depth - half,
            "high_end" => depth + half,
            _ => depth,
        };
        if middle.base() < half.base() - 1e-9 {
            return Err(Problem::out_of_range(
                "the water does not reach the high end of the leaning tank, so its depth alone does not tell the \
                 volume; level the unit and measure again",
            ));
        }
        Ok(middle)
    }
}

/// Volume in a lying cylinder that leans along its length: the mean of the filled shares along it.
///
/// # Errors
/// [`Problem::OutOfRange`] if the water touches the crown at the low end but not at the high one.
pub fn leaning_cylinder(
    diameter: Length,
    length: Length,
    middle: Length,
    lean: Lean,
) -> Result<Volume, Problem> {
    let (d, half) = (diameter.base(), lean.rise.base() / 2.0);
    let (least, most) = ((middle.base() - half).max(0.0), middle.base() + half);
    if most > d + 1e-9 {
        return Err(Problem::out_of_range(
            "the water touches the top of the leaning tank at its low end, so its depth alone does not tell the \
             volume; level the unit and measure again",
        ));
    }
    // Simpson's rule on 200 slices; the shares are smooth but for the very bottom and top.
    let slices = 200_u8;
    let at = |slice: u8| {
        let share = f64::from(slice) / f64::from(slices);
        segment(d, (least + (most - least) * share).min(d))
    };
    let inner: f64 =
        (1..slices).map(|slice| if slice % 2 == 1 { 4.0 } else { 2.0 } * at(slice)).sum();
    let mean = (at(0) + inner + at(slices)) / (3.0 * f64::from(slices));
    Ok(full_cylinder(diameter, length) * mean)
}

const GEOMETRY: Source = Source {
    document: "geometry of the box, the circle and the circular segment",
    section: "",
    confirmed: Confirmed::Derived,
};

const WEIGHT: Gives = Gives::quantity("weight", "lb", "of cold water, at 8.34 lb/gal");
const MIDDLE: Gives = Gives::quantity("middle_depth", "in", "depth in the middle; only off level");

const SLOPE: Input = Input::quantity(
    "slope",
    Kind::Ratio,
    "how far the tank stands off level along its length, such as 1/8 in/ft or 1 %; level without it",
)
.optional()
.accepting(Accepts::Between("0 %", "20 %"));
const MEASURED_AT: Input = Input::word(
    "measured_at",
    &["middle", "low_end", "high_end"],
    "where along the length the depth was measured: middle (without it), low_end or high_end",
)
.optional();

/// How the tank leans, and the depth in its middle; none where it is level.
fn lean(inputs: &Inputs<'_>, along: &str) -> Result<Option<(Lean, Length)>, Problem> {
    let slope: Option<Ratio> = inputs.optional("slope")?;
    let measured_at = inputs.optional_words("measured_at");
    match slope {
        Some(slope) if slope.base() > 0.0 => {
            let lean = Lean { rise: inputs.get::<Length>(along)? * slope };
            let depth = inputs.get("depth")?;
            let middle = lean.depth_in_the_middle(depth, measured_at.unwrap_or("middle"))?;
            Ok(Some((lean, middle)))
        }
        _ => Ok(None),
    }
}

/// The outcome of a volume, with what a leaning tank adds.
fn outcome(volume: Volume, lean: Option<(Lean, Length)>) -> Outcome {
    let outcome = Outcome::new(volume).part("weight", weight(volume));
    match lean {
        Some((_, middle)) => outcome.part("middle_depth", middle),
        None => outcome,
    }
}

pub(crate) static BOX: Formula = Formula {
    name: "water.box_tank",
    summary: "Volume of a box-shaped tank, full or to a depth, level or not.",
    inputs: &[
        Input::quantity("length", Kind::Length, "inside length").accepting(Accepts::Above("0 in")),
        Input::quantity("width", Kind::Length, "inside width").accepting(Accepts::Above("0 in")),
        Input::quantity("depth", Kind::Length, "inside height, or depth of the water")
            .accepting(Accepts::AtLeast("0 in")),
        SLOPE,
        MEASURED_AT,
    ],
    result: Gives::quantity("volume", "gal", "length times width times depth"),
    parts: &[WEIGHT, MIDDLE],
    valid: "water that covers the bottom from end to end",
    sources: &[GEOMETRY],
    example: &[("length", "40 in"), ("width", "24 in"), ("depth", "9 in")],
    compute: |inputs| {
        let lean = lean(inputs, "length")?;
        let depth = match lean {
            Some((_, middle)) => middle,
            None => inputs.get("depth")?,
        };
        Ok(outcome(box_tank(inputs.get("length")?, inputs.get("width")?, depth), lean))
    },
};

pub(crate) static UPRIGHT: Formula = Formula {
    name: "water.upright_tank",
    summary: "Volume of water in a standing cylindrical tank, by its depth, level or not.",
    inputs: &[
        Input::quantity("diameter", Kind::Length, "inside diameter")
            .accepting(Accepts::Above("0 in")),
        Input::quantity("depth", Kind::Length, "depth of the water")
            .accepting(Accepts::AtLeast("0 in")),
        SLOPE,
        MEASURED_AT,
    ],
    result: Gives::quantity("volume", "gal", "area of its circle times the depth"),
    parts: &[WEIGHT, MIDDLE],
    valid: "water that covers the bottom from end to end",
    sources: &[GEOMETRY],
    example: &[("diameter", "23 in"), ("depth", "28 in")],
    compute: |inputs| {
        let lean = lean(inputs, "diameter")?;
        let depth = match lean {
            Some((_, middle)) => middle,
            None => inputs.get("depth")?,
        };
        Ok(outcome(upright_tank(inputs.get("diameter")?, depth), lean))
    },
};

pub(crate) static CYLINDER: Formula = Formula {
    name: "water.cylinder_tank",
    summary: "Volume of water in a lying cylindrical tank, by its depth, level or not.",
    inputs: &[
        Input::quantity("diameter", Kind::Length, "inside diameter")
            .accepting(Accepts::Above("0 in")),
        Input::quantity("length", Kind::Length, "inside length, flat ends")
            .accepting(Accepts::Above("0 in")),
        Input::quantity("depth", Kind::Length, "depth of the water")
            .accepting(Accepts::AtLeast("0 in")),
        SLOPE,
        MEASURED_AT,
    ],
    result: Gives::quantity("volume", "gal", "volume of the water"),
    parts: &[
        Gives::quantity("fraction", "%", "share of the full tank"),
        Gives::quantity("full", "gal", "volume of the full tank"),
        WEIGHT,
        MIDDLE,
    ],
    valid: "flat ends; off level, water that covers the bottom and stays under the top from end to end",
    sources: &[GEOMETRY],
    example: &[("diameter", "48 in"), ("length", "96 in"), ("depth", "19.2 in")],
    compute: |inputs| {
        let (diameter, length) = (inputs.get("diameter")?, inputs.get("length")?);
        let depth = inputs.get("depth")?;
        // A depth over the diameter is impossible, leaning or not.
        let mut volume = full_cylinder(diameter, length) * filled_fraction(diameter, depth)?;
        let lean = lean(inputs, "length")?;
        if let Some((lean, middle)) = lean {
            volume = leaning_cylinder(diameter, length, middle, lean)?;
        }
        let full = full_cylinder(diameter, length);
        let mut outcome = outcome(volume, lean).part("fraction", volume / full).part("full", full);
        if lean.is_none() {
            outcome = outcome.note(
                "for a level tank; off level, give its slope and where the depth was measured",
            );
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::table::Table;
    use crate::tests::{check, check_part, refuses};

    const CYLINDER: &str = "water.cylinder_tank";
    static TANKS: Table = Table::of(include_str!("../../../../reference/pipe_flow/tanks.csv"));

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

    /// Computed with fluids 1.3.1: `A_partial_circle(D=96, h=22)` is 1251.20181 square inches.
    #[test]
    fn the_segment_has_the_librarys_area() {
        let thin = lying("96 in", "1 in", "22 in");
        check(CYLINDER, &thin, 1_251.201_81, "in3", 0.000_01);
    }

    /// π/4·D²·h: 23 in across and 28 in deep, worked by hand.
    #[test]
    fn a_standing_cylinder_holds_its_circle_times_the_depth() {
        let given = [("diameter", "23 in"), ("depth", "28 in")];
        check("water.upright_tank", &given, 50.361, "gal", 0.000_6);
        check_part("water.upright_tank", &given, "weight", 420.0, "lb", 0.05);
    }

    /// Half the length times the slope is what the depth at an end is off: 40 in at 1 in/ft are ±1.667 in.
    #[test]
    fn off_level_the_depth_in_the_middle_counts() {
        let boxed = |depth, at| {
            [
                ("length", "40 in"),
                ("width", "24 in"),
                ("depth", depth),
                ("slope", "1 in/ft"),
                ("measured_at", at),
            ]
        };
        for (depth, at) in
            [("9 in", "middle"), ("10.6666666667 in", "low_end"), ("7.3333333333 in", "high_end")]
        {
            check("water.box_tank", &boxed(depth, at), 37.40, "gal", 0.005);
            check_part("water.box_tank", &boxed(depth, at), "middle_depth", 9.0, "in", 1e-6);
        }
        let problem = refuses("water.box_tank", &boxed("3 in", "low_end"), "does not reach");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
    }

    #[test]
    fn a_leaning_half_full_cylinder_is_half_full() {
        let given = [lying("20 in", "60 in", "10 in").as_slice(), &[("slope", "5 %")]].concat();
        check_part(CYLINDER, &given, "fraction", 50.0, "%", 1e-9);
    }

    /// The mean of level slices, a thousand of them, each by the segment.
    #[test]
    fn a_leaning_cylinder_is_the_mean_of_its_slices() {
        use quantity::{Length, Quantity};
        for (depth, at) in [("6 in", "middle"), ("8 in", "low_end"), ("3.5 in", "high_end")] {
            let given = [
                lying("20 in", "60 in", depth).as_slice(),
                &[("slope", "5 %"), ("measured_at", at)],
            ]
            .concat();
            let middle = match (at, depth) {
                ("low_end", _) => 8.0 - 1.5,
                ("high_end", _) => 3.5 + 1.5,
                _ => 6.0,
            };
            let inches = |number: f64| Length::from_base(number * 0.0254);
            let mean = (0..1_000)
                .map(|slice| {
                    let depth = middle - 1.5 + 3.0 * (f64::from(slice) + 0.5) / 1_000.0;
                    super::filled_fraction(inches(20.0), inches(depth)).unwrap().base()
                })
                .sum::<f64>()
                / 1_000.0;
            check_part(CYLINDER, &given, "fraction", mean * 100.0, "%", 1e-4);
        }
    }

    #[test]
    fn water_that_leaves_an_end_dry_or_touches_the_top_tells_no_volume() {
        for (depth, at, words) in
            [("1 in", "middle", "does not reach"), ("19 in", "high_end", "touches the top")]
        {
            let given = [
                lying("20 in", "60 in", depth).as_slice(),
                &[("slope", "5 %"), ("measured_at", at)],
            ]
            .concat();
            let problem = refuses(CYLINDER, &given, words);
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
    }

    /// 200 tanks computed with fluids 1.3.1 (`V_from_h`, flat ends).
    #[test]
    fn two_hundred_tanks_agree_with_the_library() {
        let mut count = 0;
        for row in TANKS.rows() {
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
