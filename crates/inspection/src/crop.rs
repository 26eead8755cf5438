//! The part of a photo that is shown, and how it is turned: kept beside the photo as marks are, never done to it.

use crate::Mark;

/// What copies of a photo show. Places are fractions of the width and height of the whole upright photo.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crop {
    /// One corner of the part.
    pub from: (f64, f64),
    /// The opposite one.
    pub to: (f64, f64),
    /// Quarter turns clockwise, 0 to 3, done after cutting.
    pub turns: u8,
}

impl Crop {
    /// All of the photo, as it stands.
    pub const WHOLE: Self = Self { from: (0.0, 0.0), to: (1.0, 1.0), turns: 0 };

    /// Left, upper, right and lower edge of the part.
    #[must_use]
    pub fn edges(self) -> [f64; 4] {
        let (from, to) = (self.from, self.to);
        [from.0.min(to.0), from.1.min(to.1), from.0.max(to.0), from.1.max(to.1)]
    }

    /// Whether something of the photo is left out.
    #[must_use]
    pub fn cuts(self) -> bool {
        let [left, top, right, bottom] = self.edges();
        left > 0.0 || top > 0.0 || right < 1.0 || bottom < 1.0
    }

    /// Where a place of the whole photo is on what is shown, in fractions of that; beyond 0 to 1 where it is left out.
    /// The part must have a width and a height.
    #[must_use]
    pub fn shown(self, (x, y): (f64, f64)) -> (f64, f64) {
        let [left, top, right, bottom] = self.edges();
        let cut = ((x - left) / (right - left), (y - top) / (bottom - top));
        (0..self.turns % 4).fold(cut, |(across, down), _| (1.0 - down, across))
    }

    /// Where a place of what is shown is on the whole photo.
    #[must_use]
    pub fn of_whole(self, shown: (f64, f64)) -> (f64, f64) {
        let [left, top, right, bottom] = self.edges();
        let (across, down) =
            (0..self.turns % 4).fold(shown, |(across, down), _| (down, 1.0 - across));
        (left + across * (right - left), top + down * (bottom - top))
    }

    /// Width and height of what is shown of a picture of this size, pixels; at least one of each.
    #[must_use]
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a fraction of a u32, held between one and it on the same line"
    )]
    pub fn size(self, (width, height): (u32, u32)) -> (u32, u32) {
        let [left, top, right, bottom] = self.edges();
        let part = |share: f64, length: u32| {
            (share * f64::from(length)).round().clamp(1.0, f64::from(length.max(1))) as u32
        };
        let cut = (part(right - left, width), part(bottom - top, height));
        if self.turns.is_multiple_of(2) { cut } else { (cut.1, cut.0) }
    }

    /// A mark as it lies on what is shown; none if all of it is left out. An arrow keeps its head and begins at the edge; of a
    /// box, a circle and a blur the part that is shown is left.
    #[must_use]
    pub fn mark(self, mark: &Mark) -> Option<Mark> {
        let on = |(x, y): (f64, f64)| (0.0..=1.0).contains(&x) && (0.0..=1.0).contains(&y);
        let held = |(x, y): (f64, f64)| (x.clamp(0.0, 1.0), y.clamp(0.0, 1.0));
        let rectangle = |from: (f64, f64), to: (f64, f64)| {
            let (from, to) = (held(self.shown(from)), held(self.shown(to)));
            // What lies beyond an edge is held to that edge, and has no width left.
            ((from.0 - to.0).abs() > 0.0 && (from.1 - to.1).abs() > 0.0).then_some((from, to))
        };
        Some(match mark {
            Mark::Arrow { from, to } => {
                let (from, to) = (self.shown(*from), self.shown(*to));
                if !on(to) {
                    return None;
                }
                Mark::Arrow { from: towards(from, to), to }
            }
            Mark::Box { from, to } => {
                let (from, to) = rectangle(*from, *to)?;
                Mark::Box { from, to }
            }
            Mark::Circle { from, to } => {
                let (from, to) = rectangle(*from, *to)?;
                Mark::Circle { from, to }
            }
            Mark::Blur { from, to } => {
                let (from, to) = rectangle(*from, *to)?;
                Mark::Blur { from, to }
            }
            Mark::Words { at, text } => {
                let at = self.shown(*at);
                if !on(at) {
                    return None;
                }
                Mark::Words { at, text: text.clone() }
            }
        })
    }
}

/// The first place on the way from one place to another that is on the picture, as the other is.
fn towards(from: (f64, f64), to: (f64, f64)) -> (f64, f64) {
    let enters = |from: f64, to: f64| {
        if from < 0.0 {
            -from / (to - from)
        } else if from > 1.0 {
            (from - 1.0) / (from - to)
        } else {
            0.0
        }
    };
    let part = enters(from.0, to.0).max(enters(from.1, to.1));
    let at = |from: f64, to: f64| (from + part * (to - from)).clamp(0.0, 1.0);
    (at(from.0, to.0), at(from.1, to.1))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(one: (f64, f64), other: (f64, f64)) -> bool {
        // A place that went there and back loses a few units in the last place.
        (one.0 - other.0).abs() < 1e-12 && (one.1 - other.1).abs() < 1e-12
    }

    #[test]
    fn a_place_goes_to_the_shown_part_and_back() {
        let places = [(0.5, 0.25), (0.75, 0.75), (0.9, 0.3), (0.0, 1.0)];
        for turns in 0..4 {
            // Corners in any order.
            let crop = Crop { from: (1.0, 0.25), to: (0.5, 0.75), turns };
            for place in places {
                assert!(near(crop.of_whole(crop.shown(place)), place), "{turns} {place:?}");
            }
        }
        let turned = |turns| Crop { from: (0.5, 0.25), to: (1.0, 0.75), turns }.shown((0.5, 0.25));
        // The upper left corner walks clockwise.
        assert_eq!(
            [turned(0), turned(1), turned(2), turned(3)],
            [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
        );
    }

    #[test]
    fn the_size_follows_the_part_and_the_turn() {
        let crop = Crop { from: (0.25, 0.0), to: (0.75, 1.0), turns: 1 };
        assert_eq!(crop.size((1600, 1200)), (1200, 800));
        assert_eq!(Crop { turns: 2, ..crop }.size((1600, 1200)), (800, 1200));
        assert_eq!(
            Crop { from: (0.5, 0.5), to: (0.5001, 0.6), turns: 0 }.size((100, 100)),
            (1, 10)
        );
        assert!(crop.cuts() && !Crop { turns: 3, ..Crop::WHOLE }.cuts());
    }

    #[test]
    fn marks_are_cut_at_the_edge_and_those_left_out_are_gone() {
        let crop = Crop { from: (0.5, 0.0), to: (1.0, 1.0), turns: 0 };
        let check =
            |mark: Mark, shown: Option<Mark>| assert_eq!(crop.mark(&mark), shown, "{mark:?}");
        check(
            Mark::Arrow { from: (0.0, 0.5), to: (0.75, 0.5) },
            Some(Mark::Arrow { from: (0.0, 0.5), to: (0.5, 0.5) }),
        );
        check(Mark::Arrow { from: (0.75, 0.5), to: (0.25, 0.5) }, None);
        check(
            Mark::Box { from: (0.25, 0.25), to: (0.75, 0.5) },
            Some(Mark::Box { from: (0.0, 0.25), to: (0.5, 0.5) }),
        );
        check(Mark::Circle { from: (0.1, 0.1), to: (0.5, 0.9) }, None);
        let words = |x| Mark::Words { at: (x, 0.5), text: "here".into() };
        check(words(0.75), Some(words(0.5)));
        check(words(0.25), None);
    }
}
