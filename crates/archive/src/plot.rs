//! Shares with their intervals as a drawing (SVG).

use std::error::Error;

use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

use crate::figures::Share;

const WIDTH: i32 = 960;
const LEFT: i32 = 330;
const RIGHT: i32 = 690;
const TOP: i32 = 86;
const ROW: i32 = 26;
const FONT: &str = "sans-serif";
const INK: RGBColor = RGBColor(0x1c, 0x1c, 0x1c);
const PALE: RGBColor = RGBColor(0xc8, 0xc8, 0xc8);
const MARK: RGBColor = RGBColor(0x0b, 0x4f, 0x8a);
/// Letters of a row's name that fit beside it.
const LETTERS: usize = 44;

/// Draws a line a row: the share as a dot, its 95 % interval as a bar, the counts in words; of too few, the words alone.
///
/// # Errors
/// If it cannot be drawn.
pub fn plot(title: &str, note: &str, rows: &[(String, Share)]) -> Result<String, Box<dyn Error>> {
    let count = i32::try_from(rows.len())?;
    let height = TOP + ROW * count + 56;
    let mut text = String::new();
    {
        let size = (u32::try_from(WIDTH)?, u32::try_from(height)?);
        let root = SVGBackend::with_string(&mut text, size).into_drawing_area();
        root.fill(&WHITE)?;
        let style = |size: i32, colour: &RGBColor, across: HPos| {
            (FONT, size).into_font().color(colour).pos(Pos::new(across, VPos::Center))
        };
        let write = |words: &str, at: (i32, i32), style: TextStyle<'_>| {
            root.draw(&Text::new(words.to_owned(), at, style))
        };
        write(title, (16, 24), style(20, &INK, HPos::Left))?;
        write(note, (16, 50), style(14, &INK, HPos::Left))?;
        let scale = Axis::of(rows.iter().map(|(_, share)| *share));
        let bottom = TOP + ROW * count;
        for step in 0..=scale.steps {
            let share = scale.end * f64::from(step) / f64::from(scale.steps);
            let x = across(share, &scale);
            root.draw(&PathElement::new(vec![(x, TOP - 8), (x, bottom)], PALE.stroke_width(1)))?;
            let words = format!("{} %", round(1_000.0 * share) / 10.0);
            write(&words, (x, bottom + 16), style(13, &INK, HPos::Center))?;
        }
        let explained = "share of the examined, with its 95 % interval (Wilson)";
        write(explained, ((LEFT + RIGHT) / 2, bottom + 40), style(13, &INK, HPos::Center))?;
        for (row, (name, share)) in (0..).zip(rows) {
            let y = TOP + ROW * row + ROW / 2 - 4;
            write(&shortened(name), (LEFT - 12, y), style(14, &INK, HPos::Right))?;
            if let (Some(value), Some(interval)) = (share.value(), share.interval()) {
                let bar =
                    vec![(across(interval.low, &scale), y), (across(interval.high, &scale), y)];
                root.draw(&PathElement::new(bar, MARK.stroke_width(3)))?;
                root.draw(&Circle::new((across(value, &scale), y), 5, MARK.filled()))?;
            }
            write(&share.words(), (RIGHT + 14, y), style(13, &INK, HPos::Left))?;
        }
        root.present()?;
    }
    Ok(named(&text, title))
}

/// The axis of a drawing of shares: where it ends, and in how many steps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Axis {
    pub(crate) end: f64,
    pub(crate) steps: i32,
}

impl Axis {
    /// The shortest one that every interval fits on.
    pub(crate) fn of(shares: impl IntoIterator<Item = Share>) -> Self {
        let shown = shares.into_iter().filter(|share| !share.is_of_few());
        let most = shown.filter_map(Share::interval).fold(0.0, |most, it| it.high.max(most));
        let (end, steps) = [(0.05, 5), (0.1, 5), (0.2, 4), (0.3, 3), (0.5, 5)]
            .into_iter()
            .find(|(end, _)| most <= *end)
            .unwrap_or((1.0, 5));
        Self { end, steps }
    }
}

fn across(share: f64, scale: &Axis) -> i32 {
    LEFT + whole(f64::from(RIGHT - LEFT) * share / scale.end)
}

/// The nearest whole number; shares and places are far from what an `i32` cannot hold.
fn whole(number: f64) -> i32 {
    #[allow(clippy::cast_possible_truncation, reason = "places on a drawing of a thousand pixels")]
    let whole = round(number) as i32;
    whole
}

fn round(number: f64) -> f64 {
    libm::round(number)
}

fn shortened(name: &str) -> String {
    if name.chars().count() <= LETTERS {
        return name.to_owned();
    }
    let mut short: String = name.chars().take(LETTERS - 1).collect();
    short.push('…');
    short
}

/// The drawing with its title as a name that is read aloud.
fn named(svg: &str, title: &str) -> String {
    let escaped = title.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
    match svg.split_once("<svg ").and_then(|(before, rest)| Some((before, rest.split_once('>')?))) {
        Some((before, (attributes, rest))) => {
            format!("{before}<svg role=\"img\" {attributes}>\n<title>{escaped}</title>{rest}")
        }
        None => svg.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows() -> Vec<(String, Share)> {
        vec![
            ("Tyre date".to_owned(), Share { part: 60, whole: 200 }),
            (
                "A <b> & \"c\" point with a name that is a good deal too long".to_owned(),
                Share { part: 2, whole: 7 },
            ),
            ("Never".to_owned(), Share { part: 0, whole: 0 }),
        ]
    }

    #[test]
    fn each_row_is_named_and_a_share_of_few_has_no_dot() {
        let svg = plot("Found <often>", "note", &rows()).unwrap();
        let document = roxmltree::Document::parse(&svg).unwrap();
        let count = |name: &str| document.descendants().filter(|it| it.has_tag_name(name)).count();
        assert_eq!(count("circle"), 1);
        let said: String =
            document.descendants().filter_map(|it| it.text()).collect::<Vec<_>>().join("|");
        for words in [
            "Found <often>",
            "60 of 200: 30 % (24 to 37 %)",
            "2 of 7 (too few for a percentage)",
            "never examined",
            "A <b> & \"c\" point",
            "50 %",
        ] {
            assert!(said.contains(words), "{words}: {said}");
        }
        assert_eq!(document.root_element().attribute("role"), Some("img"));
    }

    #[test]
    fn a_bar_lies_where_its_interval_does() {
        let scale = Axis::of(rows().into_iter().map(|(_, share)| share));
        assert!((scale.end - 0.5).abs() < f64::EPSILON);
        assert_eq!(
            (across(0.0, &scale), across(0.5, &scale), across(0.25, &scale)),
            (LEFT, RIGHT, (LEFT + RIGHT) / 2)
        );
    }

    #[test]
    fn nothing_and_hostile_names_are_drawn_too() {
        for name in testkit::HOSTILE {
            let svg = plot(name, name, &[(name.to_owned(), Share { part: 1, whole: 1 })]).unwrap();
            roxmltree::Document::parse(&svg).unwrap();
        }
        roxmltree::Document::parse(&plot("", "", &[]).unwrap()).unwrap();
    }
}
