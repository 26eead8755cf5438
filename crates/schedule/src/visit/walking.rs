//! How far it is from stop to stop, from the outline of the unit: an estimate of ours, not a survey.
//!
//! A stop strictly inside the outline is indoors; on it or beyond, outdoors. Outdoors people go round the
//! unit, indoors straight along and across, and from one to the other through the entry door. The roof is
//! reached by a ladder at the rear, underneath from the nearest side.

use inspection::Outline;
use plan::Stop;
use quantity::Kind;

use crate::Ticks;

/// Where an outline does not say: a travel trailer of middling size.
const LENGTH: f64 = 8.0;
const WIDTH: f64 = 2.5;
/// Metres that a person with instruments walks in half a minute, with doors and steps on the way.
const PER_TICK: f64 = 20.0;
/// Picking the instruments up and setting them down again, half minutes.
const SETTING_DOWN: Ticks = 1;
/// The ladder to the roof and back to a safe stand, and getting down underneath, half minutes each way.
const LADDER: Ticks = 4;
const CRAWLING: Ticks = 2;

/// Where a stop is.
#[derive(Clone, Copy, PartialEq)]
enum Side {
    Indoors,
    Outdoors,
    Roof,
    Underneath,
}

/// A unit's size, metres.
struct Size {
    length: f64,
    width: f64,
}

/// Walking times between stops, row by row.
pub(super) fn walks(stops: &[&Stop], outline: &Outline) -> Vec<Vec<Ticks>> {
    let size =
        Size { length: metres(&outline.length, LENGTH), width: metres(&outline.width, WIDTH) };
    let named = |id: &str| stops.iter().find(|stop| stop.id == id).map(|stop| stop.place);
    let door = size.at(named("entry").unwrap_or((0.5, 1.0)));
    let rear = size.at(named("rear").unwrap_or((1.0, 0.5)));
    let walk = |from: &Stop, to: &Stop| -> Ticks {
        if from.id == to.id {
            return 0;
        }
        let (start, climb) = size.ground(from, rear);
        let (end, climb_too) = size.ground(to, rear);
        let indoors = |stop: &Stop| side(stop) == Side::Indoors;
        let metres = match (indoors(from), indoors(to)) {
            (true, true) => straight(start, end),
            (false, false) => size.round(start, end),
            (true, false) => straight(start, door) + size.round(door, end),
            (false, true) => size.round(start, door) + straight(door, end),
        };
        let both_up = side(from) == side(to) && climb > 0;
        let climbing = if both_up { 0 } else { climb + climb_too };
        SETTING_DOWN + climbing + half_minutes(metres)
    };
    stops.iter().map(|from| stops.iter().map(|to| walk(from, to)).collect()).collect()
}

/// Whether a stop is outdoors: it wants light.
pub(super) fn is_outdoors(stop: &Stop) -> bool {
    side(stop) != Side::Indoors
}

fn side(stop: &Stop) -> Side {
    let (along, across) = stop.place;
    match stop.id.as_str() {
        "roof" => Side::Roof,
        "underneath" => Side::Underneath,
        _ if along > 0.0 && along < 1.0 && across > 0.0 && across < 1.0 => Side::Indoors,
        _ => Side::Outdoors,
    }
}

impl Size {
    /// A place in metres from the front left corner, along and across.
    fn at(&self, (along, across): (f64, f64)) -> (f64, f64) {
        (along * self.length, across * self.width)
    }

    /// Where one stands on the ground for a stop, and the way up or down from there.
    fn ground(&self, stop: &Stop, rear: (f64, f64)) -> ((f64, f64), Ticks) {
        let place = self.at(stop.place);
        match side(stop) {
            Side::Indoors | Side::Outdoors => (place, 0),
            Side::Roof => (rear, LADDER),
            Side::Underneath => ((place.0, self.width), CRAWLING),
        }
    }

    /// The way round the unit from one place outdoors to another.
    fn round(&self, from: (f64, f64), to: (f64, f64)) -> f64 {
        let whole = 2.0 * (self.length + self.width);
        let (one, off_one) = self.on_the_outline(from);
        let (two, off_two) = self.on_the_outline(to);
        let along = (one - two).abs();
        off_one + off_two + along.min(whole - along)
    }

    /// The nearest place on the outline, as a way along it from the front left corner through the front
    /// right one, and how far off it the place is.
    fn on_the_outline(&self, (along, across): (f64, f64)) -> (f64, f64) {
        let x = along.clamp(0.0, self.length);
        let y = across.clamp(0.0, self.width);
        let off = straight((along, across), (x, y));
        let (front, rear) = (x, self.length - x);
        let (left, right) = (y, self.width - y);
        let nearest = front.min(rear).min(left).min(right);
        let way = if nearest >= front {
            y
        } else if nearest >= right {
            self.width + x
        } else if nearest >= rear {
            self.width + self.length + (self.width - y)
        } else {
            2.0 * self.width + self.length + (self.length - x)
        };
        (way, off)
    }
}

/// Along and across, not aslant.
fn straight(from: (f64, f64), to: (f64, f64)) -> f64 {
    (from.0 - to.0).abs() + (from.1 - to.1).abs()
}

fn half_minutes(metres: f64) -> Ticks {
    let ticks = (metres / PER_TICK).clamp(0.0, 100.0);
    #[allow(clippy::cast_possible_truncation, reason = "clamped to a hundred above")]
    let whole = ticks as Ticks;
    whole
}

/// A length as typed, in metres; `usual` if there is none that makes sense.
fn metres(text: &str, usual: f64) -> f64 {
    let length = quantity::parse_value(text, Kind::Length).map(|value| value.base);
    length.ok().filter(|metres| (1.0..=50.0).contains(metres)).unwrap_or(usual)
}

#[cfg(test)]
mod tests {
    use super::{Outline, Stop, walks};

    fn stop(id: &str, along: f64, across: f64) -> Stop {
        Stop {
            id: id.to_owned(),
            title: id.to_owned(),
            place: (along, across),
            side: None,
            height: 0.5,
        }
    }

    #[test]
    fn people_go_round_the_unit_and_through_its_door() {
        let stops = [
            stop("left", 0.5, -0.05),
            stop("right", 0.5, 1.05),
            stop("bedroom", 0.1, 0.5),
            stop("galley", 0.5, 0.3),
            stop("roof", 0.5, 0.5),
            stop("entry", 0.55, 1.0),
        ];
        let stops: Vec<&Stop> = stops.iter().collect();
        let home =
            Outline { length: "70 ft".to_owned(), width: "14 ft".to_owned(), ..Outline::default() };
        let walks = walks(&stops, &home);
        // 21 m round one end, not 4 m through the walls.
        assert_eq!(walks[0][1], 1 + 1);
        // Along and across a home of 21 m.
        assert_eq!(walks[2][3], 1);
        // Through the door at the right side.
        assert!(walks[2][0] > walks[2][1]);
        // The ladder counts.
        assert!(walks[4][1] >= 5);
        for (from, row) in walks.iter().enumerate() {
            assert_eq!(row[from], 0);
            for (to, &walk) in row.iter().enumerate() {
                assert_eq!(walk, walks[to][from], "{from} {to}");
            }
        }
    }
}
