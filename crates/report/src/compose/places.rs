//! Where findings stand on the drawings: from above, and on the side where one sees them from outside.
//!
//! A place comes from the photo of the finding that was placed on the unit, else from its stop in the plan and the words of its
//! position. What neither says is not drawn.

use inspection::{Dwelling, DwellingKind};
use plan::StopSide;
use quantity::Kind;

use crate::content::{Face, OnFace, Outline, Place, Side};

use super::Source;

/// The outline, if its size is known and can be drawn.
pub(super) fn outline(source: Source<'_>) -> Option<Outline> {
    let dwelling = &source.inspection.dwelling;
    let outline = &dwelling.outline;
    let metres = |text: &str| {
        let value = quantity::parse_value(text, Kind::Length).ok()?.base;
        (0.5..=50.0).contains(&value).then_some(value)
    };
    let door = source.plan.stops.iter().find(|stop| stop.side == Some(StopSide::Door));
    Some(Outline {
        length_metres: metres(&outline.length)?,
        width_metres: metres(&outline.width)?,
        length_words: outline.length.clone(),
        width_words: outline.width.clone(),
        door_side: match outline.door_side.as_str() {
            "left" => Some(Side::Left),
            "right" => Some(Side::Right),
            _ => None,
        },
        door_along: door.map(|stop| stop.place.0).filter(|along| (0.0..=1.0).contains(along)),
        axles: outline.axles.min(6),
        drawbar: matches!(dwelling.kind, DwellingKind::TravelTrailer | DwellingKind::ParkTrailer),
        raised_front: dwelling.kind == DwellingKind::FifthWheel,
        undrawn: undrawn(source, dwelling),
    })
}

/// What stands out of a unit's side, in the words of the plan: the record says that it is fitted, and not where.
fn undrawn(source: Source<'_>, dwelling: &Dwelling) -> Vec<String> {
    const STANDING_OUT: [&str; 3] = ["slide_out", "awning", "ladder"];
    source
        .plan
        .equipment
        .iter()
        .filter(|named| STANDING_OUT.contains(&named.id.as_str()))
        .filter(|named| dwelling.equipment.contains(&named.id))
        .map(|named| named.title.clone())
        .collect()
}

/// A finding's places on the drawings.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Standing {
    /// From above.
    pub(super) place: Option<Place>,
    /// From outside.
    pub(super) side: Option<OnFace>,
}

/// Where a finding's pins stand.
pub(super) fn standing(
    source: Source<'_>,
    finding: &findings::Finding,
    outline: Option<&Outline>,
) -> Standing {
    let photographed = finding
        .photos
        .iter()
        .find_map(|id| source.inspection.photos.get(id)?.place)
        .map(|place| Place { along: place.along, across: place.across });
    let stop = || {
        let point = source.plan.point(finding.point.as_ref()?.as_str())?;
        source.plan.stop(&point.stop)
    };
    let Some(stop) = stop() else {
        return Standing { place: photographed.filter(|place| place.is_drawable()), side: None };
    };
    let at_stop = Place { along: stop.place.0, across: stop.place.1 };
    let (place, face) = match stop.side {
        None => (at_stop, None),
        Some(side) => on_side(side, at_stop, &finding.position, outline),
    };
    let place = photographed.unwrap_or(place);
    // What is before the body of a unit without a drawbar has nothing there to stand on.
    let nothing_before = outline.is_some_and(|outline| !outline.drawbar);
    let place = Place {
        along: if nothing_before { place.along.max(0.04) } else { place.along },
        across: place.across,
    };
    if !place.is_drawable() {
        return Standing::default();
    }
    Standing {
        place: Some(place),
        side: face.map(|face| OnFace { face, height: stop.height.clamp(0.0, 1.0) }),
    }
}

/// The place of a stop that is seen from outside, and on which side, as the position's words say.
fn on_side(
    side: StopSide,
    at_stop: Place,
    position: &str,
    outline: Option<&Outline>,
) -> (Place, Option<Face>) {
    let words = Words::of(position);
    let along = match words.end {
        Some(End::Front) => 0.1,
        Some(End::Rear) => 0.9,
        Some(End::Middle) | None => at_stop.along,
    };
    let sideways = match words.side {
        Some(Side::Left) => 0.15,
        Some(Side::Right) => 0.85,
        None => at_stop.across,
    };
    let (left, right) = (0.0, 1.0);
    match side {
        StopSide::Left => (Place { along, across: left }, Some(Face::Left)),
        StopSide::Right => (Place { along, across: right }, Some(Face::Right)),
        StopSide::Front => (Place { across: sideways, ..at_stop }, Some(Face::Front)),
        StopSide::Rear => (Place { across: sideways, ..at_stop }, Some(Face::Rear)),
        StopSide::Door => match outline.and_then(|outline| outline.door_side) {
            Some(Side::Left) => (Place { across: left, ..at_stop }, Some(Face::Left)),
            Some(Side::Right) => (Place { across: right, ..at_stop }, Some(Face::Right)),
            None => (Place { across: 0.5, ..at_stop }, None),
        },
        StopSide::Either => {
            let along = at_axle(words.end, outline).unwrap_or(at_stop.along);
            match words.side {
                Some(Side::Left) => (Place { along, across: left }, Some(Face::Left)),
                Some(Side::Right) => (Place { along, across: right }, Some(Face::Right)),
                None => (Place { along, across: 0.5 }, None),
            }
        }
    }
}

/// Where the front, middle or rear axle is drawn.
fn at_axle(end: Option<End>, outline: Option<&Outline>) -> Option<f64> {
    let outline = outline.filter(|outline| outline.axles > 0)?;
    let last = outline.axles - 1;
    Some(outline.axle_along(match end? {
        End::Front => 0,
        End::Middle => last / 2,
        End::Rear => last,
    }))
}

/// What the words of a position say of a place; what they say twice and differently counts as not said.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Words {
    side: Option<Side>,
    end: Option<End>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum End {
    Front,
    Middle,
    Rear,
}

impl Words {
    fn of(position: &str) -> Self {
        let says = |word: &str| {
            position.split(|letter: char| !letter.is_alphabetic()).any(|one| one == word)
        };
        let only = |words: &[bool]| words.iter().filter(|said| **said).count() == 1;
        let (left, right) = (says("left"), says("right"));
        let ends = [says("front"), says("middle"), says("rear")];
        let end = [End::Front, End::Middle, End::Rear].into_iter().zip(ends);
        Self {
            side: only(&[left, right]).then_some(if left { Side::Left } else { Side::Right }),
            end: end.filter(|_| only(&ends)).find_map(|(end, said)| said.then_some(end)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn two_axles() -> Outline {
        Outline {
            length_metres: 8.0,
            width_metres: 2.4,
            length_words: "8 m".into(),
            width_words: "2.4 m".into(),
            door_side: Some(Side::Left),
            door_along: None,
            axles: 2,
            drawbar: true,
            raised_front: false,
            undrawn: Vec::new(),
        }
    }

    const AT: Place = Place { along: 0.6, across: 1.05 };

    #[test]
    fn a_wheel_stands_at_its_axle_on_its_side() {
        let outline = two_axles();
        let (place, face) = on_side(StopSide::Either, AT, "right rear", Some(&outline));
        assert_eq!(face, Some(Face::Right));
        assert_eq!(place, Place { along: outline.axle_along(1), across: 1.0 });
        let (place, face) = on_side(StopSide::Either, AT, "left front", Some(&outline));
        assert_eq!((place.along, face), (outline.axle_along(0), Some(Face::Left)));
        assert!(outline.axle_along(0) < outline.axle_along(1));
    }

    #[test]
    fn what_the_words_do_not_say_or_say_twice_is_not_drawn_on_a_side() {
        for position in ["", "spare", "left front, right rear", "leftover"] {
            let (place, face) = on_side(StopSide::Either, AT, position, Some(&two_axles()));
            assert_eq!((place.across, face), (0.5, None), "{position}");
        }
    }

    #[test]
    fn the_door_is_on_the_side_that_the_record_says() {
        assert_eq!(on_side(StopSide::Door, AT, "", Some(&two_axles())).1, Some(Face::Left));
        let unsaid = Outline { door_side: None, ..two_axles() };
        assert_eq!(on_side(StopSide::Door, AT, "", Some(&unsaid)).1, None);
    }

    #[test]
    fn front_and_rear_of_a_side_and_left_and_right_of_the_front_are_read() {
        let place = |side, words| on_side(side, AT, words, None).0;
        let left = Place { along: 0.9, across: 0.0 };
        assert_eq!(place(StopSide::Left, "rear corner"), left);
        assert_eq!(place(StopSide::Front, "left"), Place { across: 0.15, ..AT });
        assert_eq!(place(StopSide::Right, "window"), Place { across: 1.0, ..AT });
    }
}
