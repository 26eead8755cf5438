//! The plane that a floor comes nearest to: its tilt, and how far the points lie off it.

use quantity::{Angle, Kind, Length, Quantity};

use crate::{Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Points whose spread in one direction is less than a thousandth of that in the other are on a line.
const LINE: f64 = 1e-6;

/// A plane `z = a x + b y + c` through points, by least squares.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    /// Rise along x: atan a.
    pub pitch: Angle,
    /// Rise along y: atan b.
    pub roll: Angle,
    /// Steepest tilt: the angle to the horizontal.
    pub tilt: Angle,
    /// Height at x = y = 0.
    pub height: Length,
    /// Largest distance of a point above or below the plane.
    pub residual: Length,
}

impl Plane {
    /// Height of the plane at a place.
    #[must_use]
    pub fn level_at(&self, x: Length, y: Length) -> Length {
        self.height + x * libm::tan(self.pitch.base()) + y * libm::tan(self.roll.base())
    }
}

/// The plane with the least sum of squared heights off it.
///
/// # Errors
/// [`Problem::Input`] unless the lists are as long, hold three points or more, and not all on a line.
pub fn plane(x: &[Length], y: &[Length], z: &[Length]) -> Result<Plane, Problem> {
    for (name, list) in [("y", y), ("z", z)] {
        if list.len() != x.len() {
            return Err(Problem::input(
                name,
                format!("holds {} values and x {}; accepted: as many", list.len(), x.len()),
            ));
        }
    }
    if x.len() < 3 {
        return Err(Problem::input("x", "holds fewer than three points; accepted: three or more"));
    }
    let (mean_x, mean_y, mean_z) = (mean(x), mean(y), mean(z));
    let (mut xx, mut xy, mut yy, mut xz, mut yz) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for ((x, y), z) in x.iter().zip(y).zip(z) {
        let (x, y, z) = (x.base() - mean_x, y.base() - mean_y, z.base() - mean_z);
        xx += x * x;
        xy += x * y;
        yy += y * y;
        xz += x * z;
        yz += y * z;
    }
    // Least and greatest of the two principal spreads.
    let half_sum = (xx + yy) / 2.0;
    let half_difference = ((xx - yy) * (xx - yy) / 4.0 + xy * xy).sqrt();
    if half_sum - half_difference <= LINE * (half_sum + half_difference) {
        return Err(Problem::input(
            "x",
            "and y put all points on one line: no plane is fixed; accepted: points that spread both ways",
        ));
    }
    let determinant = xx * yy - xy * xy;
    let a = (xz * yy - yz * xy) / determinant;
    let b = (yz * xx - xz * xy) / determinant;
    let c = mean_z - a * mean_x - b * mean_y;
    let residual = x
        .iter()
        .zip(y)
        .zip(z)
        .map(|((x, y), z)| (z.base() - (a * x.base() + b * y.base() + c)).abs())
        .fold(0.0, f64::max);
    // Below a nanometre it is the arithmetic's own rounding: the points lie in the plane, as three always do.
    let residual = if residual < 1e-9 { 0.0 } else { residual };
    Ok(Plane {
        pitch: Angle::from_base(libm::atan(a)),
        roll: Angle::from_base(libm::atan(b)),
        tilt: Angle::from_base(libm::atan((a * a + b * b).sqrt())),
        height: Length::from_base(c),
        residual: Length::from_base(residual),
    })
}

fn mean(list: &[Length]) -> f64 {
    let (sum, count) =
        list.iter().fold((0.0, 0.0), |(sum, count), value| (sum + value.base(), count + 1.0));
    sum / count
}

pub(crate) static FORMULA: Formula = Formula {
    name: "support.plane",
    summary: "Tilt of the plane that best fits readings of level, and how far they lie off it.",
    inputs: &[
        Input::list("x", Kind::Length, "places along the unit"),
        Input::list("y", Kind::Length, "places across the unit"),
        Input::list("z", Kind::Length, "level at each place; lower is less"),
    ],
    result: Gives::quantity("tilt", "deg", "steepest tilt of the plane"),
    parts: &[
        Gives::quantity("pitch", "deg", "rise along x"),
        Gives::quantity("roll", "deg", "rise along y"),
        Gives::quantity("residual", "in", "largest distance of a reading from the plane"),
        Gives::quantity("height", "in", "level of the plane at x = y = 0"),
    ],
    valid: "three or more places that are not on a line",
    sources: &[Source {
        document: "least squares, normal equations",
        section: "agrees with numpy 2.4.6",
        confirmed: Confirmed::Derived,
    }],
    example: &[("x", "0, 0, 32, 32 ft"), ("y", "0, 8, 0, 8 ft"), ("z", "0, 0.25, -0.50, -0.20 in")],
    compute: |inputs| {
        let found = plane(&inputs.list("x")?, &inputs.list("y")?, &inputs.list("z")?)?;
        Ok(Outcome::new(found.tilt)
            .part("pitch", found.pitch)
            .part("roll", found.roll)
            .part("residual", found.residual)
            .part("height", found.height)
            .note("older absorption refrigerators ask for 3 deg side to side and 6 deg front to back at most (from memory); newer manuals for level enough to live in"))
    },
};

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use quantity::{Length, Quantity};

    use super::plane;
    use crate::{
        Problem,
        tests::{check, check_part, refuses},
    };

    const NAME: &str = "support.plane";

    #[test]
    fn the_plane_through_three_points_passes_through_them() {
        let length = Length::from_base;
        let places = [(0.0, 0.0, 0.1), (9.0, 0.5, -0.02), (2.0, 2.4, 0.07)];
        let [x, y, z] = [
            places.map(|place| length(place.0)),
            places.map(|place| length(place.1)),
            places.map(|place| length(place.2)),
        ];
        let found = plane(&x, &y, &z).unwrap();
        for ((x, y), z) in x.into_iter().zip(y).zip(z) {
            assert!((found.level_at(x, y).base() - z.base()).abs() < 1e-12);
        }
        assert_eq!(found.residual, Length::default());
    }

    /// Written by reference/support/generate.py with numpy 2.4.6.
    const REFERENCE: &str = include_str!("../../../../reference/support/planes.csv");

    fn floor<'a>(x: &'a str, y: &'a str, z: &'a str) -> [(&'a str, &'a str); 3] {
        [("x", x), ("y", y), ("z", z)]
    }

    /// Four corners, worked by hand: a −0.01484 and b 0.034375 in/ft, c −0.0125 in.
    #[test]
    fn four_corners_have_their_pitch_and_roll() {
        let corners = floor("0, 0, 32, 32 ft", "0, 8, 0, 8 ft", "0, 0.25, -0.50, -0.20 in");
        check_part(NAME, &corners, "pitch", -0.0709, "deg", 5e-5);
        check_part(NAME, &corners, "roll", 0.1641, "deg", 5e-5);
        check_part(NAME, &corners, "residual", 0.0125, "in", 1e-9);
        check_part(NAME, &corners, "height", -0.0125, "in", 1e-9);
        check(NAME, &corners, 0.1788, "deg", 5e-5);
    }

    /// 1° is 0.2095 in/ft, 3° 0.629 and 6° 1.261: tangents.
    #[test]
    fn a_slope_has_its_angle() {
        for (inches, degrees) in [("0.2095", 1.0), ("0.629", 3.0), ("1.261", 6.0), ("0.5", 2.386)] {
            let z = format!("0, {inches}, 0 in");
            check_part(NAME, &floor("0, 1, 0 ft", "0, 0, 1 ft", &z), "pitch", degrees, "deg", 2e-3);
        }
    }

    /// numpy 2.4.6, least squares of 40 sets of points, written to the ninth decimal.
    #[test]
    fn planes_agree_with_numpy() {
        let mut rows = 0;
        for row in REFERENCE.lines().skip(1) {
            let cells: Vec<&str> = row.split(',').collect();
            let [x, y, z, pitch, roll, residual] = cells[..] else { panic!("{row}") };
            let list = |cell: &str, unit: &str| format!("{} {unit}", cell.replace(' ', "; "));
            let (x, y, z) = (list(x, "ft"), list(y, "ft"), list(z, "in"));
            let pairs = floor(&x, &y, &z);
            check_part(NAME, &pairs, "pitch", pitch.parse().unwrap(), "deg", 1e-8);
            check_part(NAME, &pairs, "roll", roll.parse().unwrap(), "deg", 1e-8);
            check_part(NAME, &pairs, "residual", residual.parse().unwrap(), "in", 1e-8);
            rows += 1;
        }
        assert_eq!(rows, 40);
    }

    #[test]
    fn points_that_fix_no_plane_are_refused() {
        for (x, y, z, said) in [
            ("0, 1 ft", "0, 1 ft", "0, 1 in", "three or more"),
            ("0, 1, 2 ft", "0, 1, 2 ft", "0, 1, 0 in", "on one line"),
            ("3, 3, 3 ft", "0, 1, 2 ft", "0, 1, 0 in", "on one line"),
            ("3, 3, 3 ft", "1, 1, 1 ft", "0, 1, 0 in", "on one line"),
            ("0, 1, 2 ft", "0, 1 ft", "0, 1, 0 in", "as many"),
            ("0, 1, 2 ft", "0, 1, 0 ft", "0, 1 in", "as many"),
        ] {
            let problem = refuses(NAME, &floor(x, y, z), said);
            assert!(matches!(problem, Problem::Input { .. }), "{x} {y}");
        }
    }

    proptest! {
        #[test]
        fn points_of_a_plane_give_it_back(
            a in -0.1..0.1_f64, b in -0.1..0.1_f64, c in -1.0..1.0_f64,
            inner in prop::collection::vec((0.0..12.0_f64, 0.0..4.0_f64), 0..10)
        ) {
            let mut points = vec![(0.0, 0.0), (12.0, 0.0), (0.0, 4.0)];
            points.extend(inner);
            let lengths = |of: &dyn Fn(f64, f64) -> f64| -> Vec<Length> {
                points.iter().map(|(x, y)| Length::from_base(of(*x, *y))).collect()
            };
            let found = plane(
                &lengths(&|x, _| x),
                &lengths(&|_, y| y),
                &lengths(&|x, y| a * x + b * y + c),
            ).unwrap();
            prop_assert!((found.pitch.base() - libm::atan(a)).abs() < 1e-12);
            prop_assert!((found.roll.base() - libm::atan(b)).abs() < 1e-12);
            prop_assert!((found.height.base() - c).abs() < 1e-12);
            prop_assert!(found.residual.base() < 1e-12);
        }
    }
}
