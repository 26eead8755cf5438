//! The unit from above and from its sides, with numbered pins: schematic, places and not measures.

mod elevation;
mod pins;
mod plan;

pub use pins::Pin;

use ::plan::Phrases;

use crate::content::{Content, Face, Finding};

use super::{Svg, escaped, number};

/// The unit seen from one direction, with a pin for each finding that has its place there.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitView {
    /// What its file is called: `plan`, `left`, `right`, `front`, `rear`.
    pub name: &'static str,
    /// What it is called in a sentence: `from above`, `left side` …
    pub title: String,
    /// What it shows, in words.
    pub alt: String,
    /// Width of the drawing.
    pub width: f64,
    /// Height of the drawing.
    pub height: f64,
    /// The pins, in the order of their numbers.
    pub pins: Vec<Pin>,
    drawn: String,
}

impl UnitView {
    /// The drawing with its pins.
    #[must_use]
    pub fn svg(&self) -> String {
        let mut svg = Svg::new(self.width, self.height);
        svg.0.push_str(&self.drawn);
        self.pins.iter().for_each(|pin| pin.draw_leader(&mut svg));
        self.pins.iter().for_each(|pin| pin.draw(&mut svg));
        svg.finish()
    }

    /// The drawing to stand in a web page: each pin links to its finding's address, and has an id of its own, as
    /// [`Self::pin_id`] gives it.
    #[must_use]
    pub fn linked(&self, address: &dyn Fn(usize) -> String) -> String {
        let empty = Phrases::default();
        let mut svg = Svg(
            format!(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\" role=\"group\" aria-label=\"{}\">",
                number(self.width),
                number(self.height),
                escaped(&self.alt)
            ),
            empty,
        );
        svg.0.push_str(&self.drawn);
        self.pins.iter().for_each(|pin| pin.draw_leader(&mut svg));
        for pin in &self.pins {
            svg.0.push_str(&format!(
                "<a id=\"{}\" href=\"{}\" aria-label=\"{}\">",
                self.pin_id(pin.number),
                escaped(&address(pin.number)),
                escaped(&pin.words())
            ));
            pin.draw_target(&mut svg);
            pin.draw(&mut svg);
            svg.0.push_str("</a>");
        }
        super::for_the_web(&svg.finish())
    }

    /// The place of a finding's pin, to be linked to.
    #[must_use]
    pub fn pin_id(&self, finding: usize) -> String {
        format!("pin-{}-{finding}", self.name)
    }
}

/// All views that have something to show.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Views {
    /// From above first; then the sides on which a finding stands.
    pub drawn: Vec<UnitView>,
    /// Numbers of the findings that have no place on any of them.
    pub nowhere: Vec<usize>,
    /// Numbers of those that stand from above and on no side.
    pub no_side: Vec<usize>,
}

/// Draws the views, where the size of the unit is known; nothing otherwise.
#[must_use]
pub fn views(content: &Content) -> Views {
    let Some(outline) = &content.unit.outline else { return Views::default() };
    let numbers = |keep: &dyn Fn(&Finding) -> bool| {
        let findings = content.findings.iter().enumerate();
        findings.filter(|(_, finding)| keep(finding)).map(|(at, _)| at + 1).collect()
    };
    let mut drawn = vec![plan::view(&content.findings, outline, &content.drawn)];
    for face in Face::ALL {
        let here = |finding: &Finding| finding.side.is_some_and(|side| side.face == face);
        if content.findings.iter().any(here) {
            drawn.push(elevation::view(face, &content.findings, outline, &content.drawn));
        }
    }
    Views {
        drawn,
        nowhere: numbers(&|finding| finding.place.is_none()),
        no_side: numbers(&|finding| finding.place.is_some() && finding.side.is_none()),
    }
}

/// What pins show, for a text alternative.
fn list(pins: &[Pin], say: &Phrases) -> String {
    if pins.is_empty() {
        return say.say("no findings placed");
    }
    let words: Vec<String> =
        pins.iter().map(|pin| format!("{} {}", pin.number, pin.title)).collect();
    words.join("; ")
}
