//! The tyres by position, the unit from above: front to the left, its left side below, the spare at the rear.

use plan::Phrases;

use crate::content::{Picture, Shown, Unit};

use super::{Drawn, INK, SOFT, Sign, Svg, number, sign};

const WIDTH: f64 = 500.0;
/// The roles in the order of their lines, with the words before each value.
const LINES: [(&str, &str); 5] = [
    ("pressure", ""),
    ("age", "age in years"),
    ("tread", "tread"),
    ("load", "carries"),
    ("used", "uses"),
];
const LINE: f64 = 12.5;
const TYRE: (f64, f64) = (50.0, 17.0);
const FIRST_COLUMN: f64 = 78.0;
const COLUMN: f64 = 112.0;

/// Draws the tyres; none where no tyre stands at a known place.
pub(super) fn draw(picture: &Picture, unit: &Unit, say: &Phrases) -> Option<Drawn> {
    let roles: Vec<&str> = LINES.iter().map(|(role, _)| *role).collect();
    let tyres: Vec<Tyre<'_>> = picture
        .positions(&roles)
        .into_iter()
        .filter_map(|position| Tyre::at(picture, position))
        .collect();
    let mut axles: Vec<&str> = tyres.iter().filter_map(|tyre| tyre.axle()).collect();
    axles.sort_by_key(|axle| AXLES.iter().position(|known| known == axle));
    axles.dedup();
    if axles.is_empty() {
        return None;
    }
    let most = tyres.iter().map(|tyre| tyre.lines.len()).max().unwrap_or(0);
    let lines = LINE * f64::from(u8::try_from(most).unwrap_or(u8::MAX));
    let frame = Frame { axles, body: lines + TYRE.1 + 28.0, lines };

    let mut svg = Svg::new(WIDTH, 2.0 * frame.body + BODY - TYRE.1).in_words(say);
    frame.draw(&mut svg, unit);
    let mut words = Vec::new();
    for tyre in &tyres {
        if let Some(place) = frame.place(tyre) {
            tyre.draw(&mut svg, place);
            words.push(tyre.words());
        }
    }
    let alt = format!("The tyres by position, front to the left: {}.", words.join("; "));
    Some(Drawn { svg: svg.finish(), alt })
}

const AXLES: [&str; 3] = ["front", "middle", "rear"];
/// Height of the body between the two rows of wheels.
const BODY: f64 = 84.0;

/// One tyre with its lines.
struct Tyre<'a> {
    position: &'a str,
    lines: Vec<(&'static str, &'a Shown)>,
}

impl<'a> Tyre<'a> {
    fn at(picture: &'a Picture, position: &'a str) -> Option<Self> {
        let lines: Vec<_> = LINES
            .iter()
            .filter_map(|(role, words)| Some((*words, picture.at(role, position)?)))
            .collect();
        (!lines.is_empty()).then_some(Self { position, lines })
    }

    /// The axle, for a wheel on the road.
    fn axle(&self) -> Option<&'a str> {
        let (side, axle) = self.position.split_once(' ')?;
        (matches!(side, "left" | "right") && AXLES.contains(&axle)).then_some(axle)
    }

    fn is_left(&self) -> bool {
        self.position.starts_with("left ")
    }

    fn words(&self) -> String {
        let values = self.lines.iter().map(|(words, shown)| {
            let verdict = match Sign::of(shown.verdict) {
                Sign::NoLimit => String::new(),
                sign => format!(" ({})", sign.words()),
            };
            format!("{words} {}{verdict}", shown.text).trim().to_owned()
        });
        format!("{}: {}", self.position, values.collect::<Vec<_>>().join(", "))
    }

    fn draw(&self, svg: &mut Svg, place: Place) {
        let (x, y) = place.tyre;
        svg.element(
            "rect",
            &[
                ("x", &number(x)),
                ("y", &number(y)),
                ("width", &number(TYRE.0)),
                ("height", &number(TYRE.1)),
                ("rx", "5"),
                ("fill", SOFT),
            ],
        );
        let mut baseline = place.words.1;
        svg.words(
            (place.words.0, baseline),
            self.position,
            &[("font-size", "8.5"), ("fill", SOFT), ("font-weight", "600")],
        );
        for (words, shown) in &self.lines {
            baseline += LINE;
            svg.inset((place.words.0, baseline - 7.2), 8.0, &sign(Sign::of(shown.verdict)));
            svg.words(
                (place.words.0 + 11.5, baseline),
                format!("{words} {}", shown.text).trim(),
                &[("font-size", "9"), ("fill", INK)],
            );
        }
    }
}

/// Where a tyre and its words stand.
#[derive(Clone, Copy)]
struct Place {
    tyre: (f64, f64),
    words: (f64, f64),
}

struct Frame<'a> {
    axles: Vec<&'a str>,
    /// Upper edge of the body.
    body: f64,
    /// Height of the longest list of values.
    lines: f64,
}

impl Frame<'_> {
    fn column(&self, axle: &str) -> Option<f64> {
        let at = self.axles.iter().position(|known| *known == axle)?;
        Some(FIRST_COLUMN + COLUMN * f64::from(u8::try_from(at).ok()?))
    }

    /// The right edge of the body.
    fn end(&self) -> f64 {
        let columns = f64::from(u8::try_from(self.axles.len()).unwrap_or(u8::MAX));
        (FIRST_COLUMN + COLUMN * columns + 10.0).min(WIDTH - COLUMN)
    }

    fn place(&self, tyre: &Tyre<'_>) -> Option<Place> {
        let below = self.body + BODY;
        if tyre.position == "spare" {
            let x = self.end() + 12.0;
            let middle = self.body + BODY / 2.0;
            return Some(Place { tyre: (x, middle - TYRE.1 - 24.0), words: (x, middle - 10.0) });
        }
        let x = self.column(tyre.axle()?)?;
        Some(if tyre.is_left() {
            Place { tyre: (x, below - 6.0), words: (x, below + TYRE.1 + 8.0) }
        } else {
            Place {
                tyre: (x, self.body - TYRE.1 + 6.0),
                words: (x, self.body - self.lines - TYRE.1 - 4.0),
            }
        })
    }

    fn draw(&self, svg: &mut Svg, unit: &Unit) {
        let (top, end) = (self.body, self.end());
        let middle = top + BODY / 2.0;
        let line = [("fill", "none"), ("stroke", INK), ("stroke-width", "1.6")];
        if unit.outline.as_ref().is_none_or(|outline| outline.drawbar) {
            let path = format!(
                "M52 {}L12 {}L52 {}",
                number(middle - 24.0),
                number(middle),
                number(middle + 24.0)
            );
            svg.path(&path, &line);
            svg.circle(
                12.0,
                middle,
                4.0,
                &[("fill", "#ffffff"), ("stroke", INK), ("stroke-width", "1.6")],
            );
        }
        let path = format!(
            "M52 {top}H{end}V{bottom}H52Z",
            top = number(top),
            end = number(end),
            bottom = number(top + BODY)
        );
        svg.path(&path, &[("fill", "#ffffff"), ("stroke", INK), ("stroke-width", "1.6")]);
        let quiet = [("font-size", "9"), ("fill", SOFT)];
        svg.words((60.0, middle - 14.0), "right side", &quiet);
        svg.words((60.0, middle + 3.0), "front to the left", &quiet);
        svg.words((60.0, middle + 20.0), "left side", &quiet);
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use crate::content::Verdict;

    use super::*;

    fn shown(position: &str, text: &str, verdict: Verdict) -> Shown {
        Shown {
            position: position.to_owned(),
            number: Some(1.0),
            uncertainty: None,
            unit: String::new(),
            spread: String::new(),
            text: text.to_owned(),
            verdict,
            bounds: Vec::new(),
        }
    }

    fn picture() -> Picture {
        Picture {
            kind: "tyres".to_owned(),
            shown: BTreeMap::from([
                (
                    "pressure".to_owned(),
                    vec![
                        shown("left front", "50 psi", Verdict::Conforms),
                        shown("right rear", "32 psi", Verdict::DoesNotConform),
                        shown("spare", "20 psi", Verdict::NoLimit),
                        shown("roof", "1 psi", Verdict::NoLimit),
                    ],
                ),
                ("age".to_owned(), vec![shown("left front", "9.6", Verdict::BeyondGuidance)]),
            ]),
            ..Picture::default()
        }
    }

    #[test]
    fn each_tyre_stands_at_its_place_with_its_values_and_verdicts() {
        let drawn = draw(&picture(), &Unit::default(), &Phrases::default()).unwrap();
        for words in ["50 psi", "age in years 9.6", "32 psi", "20 psi"] {
            assert!(drawn.svg.contains(words), "{words}");
        }
        assert!(drawn.alt.contains("right rear: 32 psi (does not conform)"), "{}", drawn.alt);
        assert!(
            drawn.alt.contains("left front: 50 psi (conforms), age in years 9.6"),
            "{}",
            drawn.alt
        );
    }

    #[test]
    fn a_place_that_no_wheel_has_is_not_drawn() {
        let drawn = draw(&picture(), &Unit::default(), &Phrases::default()).unwrap();
        assert!(!drawn.svg.contains("1 psi<") && !drawn.alt.contains("roof"), "{}", drawn.alt);
        assert_eq!(draw(&Picture::default(), &Unit::default(), &Phrases::default()), None);
    }
}
