//! A surface through scattered readings: what a map of them may show between, and where it must stay blank.

use quantity::Length;
use quantity::uom::si::length::meter;

use crate::Problem;

const MOST: usize = 200;

/// A place on the wall, metres.
type Place = [f64; 2];

/// A surface through readings of one scale, at places on one flat panel: `z(p) = c + Σ wᵢ·|p − pᵢ|`, through every
/// reading, Σ wᵢ = 0.
///
/// A radial basis function of the distance itself, with a constant; the same as ordinary kriging with a
/// linear variogram and no nugget. It hardly passes the highest reading, where smoother ones invent peaks.
#[derive(Clone, Debug)]
pub struct MoistureSurface {
    corners: Vec<Place>,
    places: Vec<Place>,
    weights: Vec<f64>,
    constant: f64,
    least: f64,
    greatest: f64,
}

impl MoistureSurface {
    /// The surface through these readings: along, up, and the number on its scale. Readings at one place are averaged.
    ///
    /// # Errors
    /// [`Problem::OutOfRange`] for fewer than three readings, readings on one line, or more than 200.
    pub fn through(readings: &[(Length, Length, f64)]) -> Result<Self, Problem> {
        if readings.len() > MOST {
            return Err(Problem::out_of_range(format!("valid for up to {MOST} readings")));
        }
        let readings: Vec<(Place, f64)> =
            readings.iter().map(|(along, up, value)| (place(*along, *up), *value)).collect();
        let readings = merged(&readings);
        let places: Vec<Place> = readings.iter().map(|(place, _)| *place).collect();
        let corners = hull(&places);
        if corners.len() < 3 {
            return Err(Problem::out_of_range(
                "valid for three or more readings that do not lie on one line",
            ));
        }
        let mut rows: Vec<Vec<f64>> = readings
            .iter()
            .map(|(place, value)| {
                let mut row: Vec<f64> =
                    places.iter().map(|other| distance(*place, *other)).collect();
                row.extend([1.0, *value]);
                row
            })
            .collect();
        let mut last = vec![1.0; places.len()];
        last.extend([0.0, 0.0]);
        rows.push(last);
        let mut weights = solve(rows).ok_or_else(|| {
            Problem::out_of_range("these places cannot be told apart; valid for others")
        })?;
        let constant = weights.pop().unwrap_or(0.0);
        let (least, greatest) = readings
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, greatest), (_, value)| {
                (value.min(least), value.max(greatest))
            });
        Ok(Self { corners, places, weights, constant, least, greatest })
    }

    /// The surface's own number at a place.
    ///
    /// # Errors
    /// [`Problem::OutOfRange`] outside the hull of the readings.
    pub fn at(&self, along: Length, up: Length) -> Result<f64, Problem> {
        let at = place(along, up);
        if !inside(&self.corners, at) {
            return Err(Problem::out_of_range(
                "this place lies outside the readings: valid only inside the hull of the places that were read",
            ));
        }
        let sum: f64 =
            self.places.iter().zip(&self.weights).map(|(place, w)| w * distance(at, *place)).sum();
        Ok(sum + self.constant)
    }

    /// What a map shows at a place: the surface's number, but nowhere more than the highest or less than the lowest
    /// reading, since nobody read that; none outside the hull.
    #[must_use]
    pub fn shown_at(&self, along: Length, up: Length) -> Option<f64> {
        self.at(along, up).ok().map(|value| value.max(self.least).min(self.greatest))
    }

    /// Corners of the hull of the readings, counter-clockwise.
    #[must_use]
    pub fn corners(&self) -> Vec<(Length, Length)> {
        let length = |metres: f64| Length::new::<meter>(metres);
        self.corners.iter().map(|[along, up]| (length(*along), length(*up))).collect()
    }
}

fn place(along: Length, up: Length) -> Place {
    [along.get::<meter>(), up.get::<meter>()]
}

fn distance(a: Place, b: Place) -> f64 {
    libm::hypot(a[0] - b[0], a[1] - b[1])
}

/// Twice the area of the triangle, positive where the turn is to the left.
fn turn(a: Place, b: Place, c: Place) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/// Convex hull, counter-clockwise (Andrew's monotone chain); fewer than three corners for points on a line.
fn hull(places: &[Place]) -> Vec<Place> {
    let mut sorted = places.to_vec();
    sorted.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let extent = sorted.iter().flatten().fold(0.0_f64, |most, it| most.max(it.abs()));
    let flat = 1e-12 * extent * extent;
    let half = |places: &mut dyn Iterator<Item = Place>| {
        let mut chain: Vec<Place> = Vec::new();
        for place in places {
            while let [.., a, b] = chain.as_slice()
                && turn(*a, *b, place) <= flat
            {
                chain.pop();
            }
            chain.push(place);
        }
        chain.pop();
        chain
    };
    let mut corners = half(&mut sorted.iter().copied());
    corners.extend(half(&mut sorted.iter().rev().copied()));
    corners
}

/// Whether a place lies in the hull, its edges included.
fn inside(corners: &[Place], at: Place) -> bool {
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).all(|(a, b)| {
        // Nanometres outside are the rounding of unit conversions.
        turn(*a, *b, at) >= -1e-9 * distance(*a, *b)
    })
}

/// Readings at places that differ, those at one place averaged.
fn merged(readings: &[(Place, f64)]) -> Vec<(Place, f64)> {
    let mut groups: Vec<(Place, Vec<f64>)> = Vec::new();
    for (place, value) in readings {
        match groups.iter_mut().find(|(other, _)| distance(*place, *other) < 1e-9) {
            Some((_, values)) => values.push(*value),
            None => groups.push((*place, vec![*value])),
        }
    }
    groups
        .into_iter()
        .map(|(place, values)| {
            let (sum, count) = values.iter().fold((0.0, 0.0), |(s, n), value| (s + value, n + 1.0));
            (place, sum / count)
        })
        .collect()
}

/// Solution of a linear system by elimination with row exchange; none if it is singular.
fn solve(mut rows: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    let size = rows.len();
    for column in 0..size {
        let pivot = (column..size)
            .max_by(|a, b| rows[*a][column].abs().total_cmp(&rows[*b][column].abs()))?;
        rows.swap(column, pivot);
        let (above, below) = rows.split_at_mut(column + 1);
        let lead = &above[column];
        if lead[column].abs() < 1e-12 {
            return None;
        }
        for row in below {
            let factor = row[column] / lead[column];
            for (cell, other) in row.iter_mut().zip(lead).skip(column) {
                *cell -= factor * other;
            }
        }
    }
    let mut solution = vec![0.0; size];
    for row in (0..size).rev() {
        let known: f64 = (row + 1..size).map(|other| rows[row][other] * solution[other]).sum();
        solution[row] = (rows[row][size] - known) / rows[row][row];
    }
    Some(solution)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn metres(places: &[(f64, f64, f64)]) -> Vec<(Length, Length, f64)> {
        let length = |metres: f64| Length::new::<meter>(metres);
        places.iter().map(|(along, up, value)| (length(*along), length(*up), *value)).collect()
    }

    fn surface(places: &[(f64, f64, f64)]) -> MoistureSurface {
        MoistureSurface::through(&metres(places)).unwrap()
    }

    /// Two wet readings side by side with dry ones around: the bare surface rises above both between them.
    const RIDGE: [(f64, f64, f64); 8] = [
        (0.0, 0.0, 10.0),
        (4.0, 0.0, 10.0),
        (0.0, 2.0, 10.0),
        (4.0, 2.0, 10.0),
        (1.6, 1.0, 24.0),
        (2.4, 1.0, 24.0),
        (2.0, 1.4, 23.0),
        (2.0, 0.6, 23.0),
    ];

    #[test]
    fn what_a_map_shows_never_leaves_the_range_of_the_readings() {
        let surface = surface(&RIDGE);
        let length = |metres: f64| Length::new::<meter>(metres);
        let mut highest = f64::NEG_INFINITY;
        for step in 0..=2_000_i32 {
            let (along, up) = (f64::from(step % 81) * 0.05, f64::from(step / 81) * 0.08);
            let shown = surface.shown_at(length(along), length(up)).unwrap();
            assert!((10.0..=24.0).contains(&shown), "{along}, {up}: {shown}");
            highest = highest.max(surface.at(length(along), length(up)).unwrap());
        }
        assert!(highest > 24.0, "the bare surface passes no reading: {highest}");
    }

    #[test]
    fn outside_the_hull_a_map_stays_blank() {
        let triangle = surface(&[(0.0, 0.0, 9.0), (2.0, 0.0, 11.0), (0.0, 1.0, 12.0)]);
        let length = |metres: f64| Length::new::<meter>(metres);
        assert!(triangle.shown_at(length(0.5), length(0.5)).is_some());
        assert_eq!(triangle.shown_at(length(1.1), length(0.5)), None);
        assert_eq!(triangle.corners().len(), 3);
    }

    #[test]
    fn readings_on_a_line_make_no_surface() {
        assert!(
            MoistureSurface::through(&metres(&[(0.0, 0.0, 9.0), (1.0, 1.0, 9.0), (2.0, 2.0, 9.0)]))
                .is_err()
        );
        assert!(MoistureSurface::through(&metres(&[(0.0, 0.0, 9.0), (1.0, 1.0, 9.0)])).is_err());
        assert!(MoistureSurface::through(&metres(&[(0.0, 0.0, 9.0); 201])).is_err());
    }
}
