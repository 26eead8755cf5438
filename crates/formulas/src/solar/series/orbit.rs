//! What the moment alone decides of the sun's place: computed every second day, joined by polynomials.

use crate::Problem;
use crate::solar::sun::{self, DAY};

/// Days from one knot to the next. Whole, so that every knot lies at midnight, where the earth has turned by nothing.
const STEP: f64 = 2.0;

/// Where the sun is as seen from the middle of the earth.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Moment {
    /// Equation of time, degrees: how far the sun is ahead of a clock that shows mean time, never more than 5°.
    pub(super) equation: f64,
    /// Sine of the declination.
    pub(super) sine: f64,
    /// Sine of the horizontal parallax.
    pub(super) parallax: f64,
}

impl Moment {
    /// By the whole algorithm, at a midnight UTC.
    fn midnight(seconds: f64) -> Result<Self, Problem> {
        let earth = sun::prepared(seconds)?;
        // At the pole, on the meridian of Greenwich, the azimuth is the hour angle of Greenwich and half a turn, and
        // at midnight that is the equation of time.
        let azimuth = sun::azimuth_at_the_pole(&earth)?;
        Ok(Self {
            equation: if azimuth > 180.0 { azimuth - 360.0 } else { azimuth },
            sine: sun::sine(earth.declination()),
            parallax: sun::sine(8.794 / (3_600.0 * earth.earth_radius_vector().unwrap_or(1.0))),
        })
    }
}

/// The knots that a series of moments needs.
#[derive(Debug)]
pub(super) struct Orbit {
    /// Seconds since 1970 of the first knot.
    first: f64,
    knots: Vec<Moment>,
}

impl Orbit {
    /// The knots for these moments, seconds since 1970; none if there would be as many knots as moments.
    pub(super) fn spanning(seconds: impl Iterator<Item = f64>) -> Result<Option<Self>, Problem> {
        let (mut count, mut earliest, mut latest) = (0.0, f64::INFINITY, f64::NEG_INFINITY);
        for seconds in seconds {
            sun::checked_year(seconds)?;
            count += 1.0;
            earliest = earliest.min(seconds);
            latest = latest.max(seconds);
        }
        let step = STEP * DAY;
        // A polynomial goes through three knots on either side.
        let first = (earliest / step).floor() - 2.0;
        let last = (latest / step).floor() + 3.0;
        if count <= last - first {
            return Ok(None);
        }
        let mut orbit = Self { first: first * step, knots: Vec::new() };
        let mut knot = first;
        while knot <= last {
            orbit.knots.push(Moment::midnight(knot * step)?);
            knot += 1.0;
        }
        Ok(Some(orbit))
    }

    /// At one of the moments: the polynomial through the six nearest knots, by Lagrange.
    pub(super) fn at(&self, seconds: f64) -> Moment {
        let steps = (seconds - self.first) / (STEP * DAY);
        let x = steps - steps.floor();
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "the first knot is two before the earliest moment, and 150 years have few days"
        )]
        let near = self.knots.get(steps as usize - 2..).unwrap_or_default();
        let (a, b, c, d, e) = (x + 2.0, x + 1.0, x - 1.0, x - 2.0, x - 3.0);
        let (left, right) = (a * b * x, c * d * e);
        let weights = [
            -b * x * right / 120.0,
            a * x * right / 24.0,
            -a * b * right / 12.0,
            left * d * e / 12.0,
            -left * c * e / 24.0,
            left * c * d / 120.0,
        ];
        let mut moment = Moment::default();
        for (knot, weight) in near.iter().zip(weights) {
            moment.equation += weight * knot.equation;
            moment.sine += weight * knot.sine;
            moment.parallax += weight * knot.parallax;
        }
        moment
    }
}
