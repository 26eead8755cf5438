//! Drawings, written as SVG text: the same text serves the PDF and a web page.

mod axis;
mod bars;
#[cfg(test)]
mod checks;
mod gas_line;
mod heights;
mod lettering;
mod levels;
mod loads;
mod moisture_map;
mod outlets;
mod photo;
mod picture;
mod piers;
mod pressure_decay;
mod rail;
mod sign;
mod tanks;
mod tyres;
mod views;
mod visit;
mod water_flow;
mod words;

pub use photo::{marks, photo};
pub use picture::{Drawn, picture};
pub use sign::{Sign, sign};
pub use views::{Pin, UnitView, Views, views};
pub use visit::visit;

use std::fmt::Write as _;

use plan::Phrases;

/// Ink of lines and words.
pub(crate) const INK: &str = "#1c2430";
/// Quiet ink.
pub(crate) const SOFT: &str = "#4a5462";
/// Something is held or does not conform.
pub(crate) const HELD: &str = "#8f1d21";
/// Something is clear or conforms.
pub(crate) const CLEAR: &str = "#17603f";
/// Something is open or undecided.
pub(crate) const OPEN: &str = "#7a4f00";

/// A length for SVG: two decimals at most, so that the same drawing is always the same bytes.
pub(crate) fn number(value: f64) -> String {
    let rounded = (value * 100.0).round() / 100.0;
    // Negative zero would print its sign.
    format!("{}", rounded + 0.0)
}

/// A text between tags or in an attribute.
pub(crate) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&apos;"),
            other => out.push(other),
        }
    }
    out
}

/// A drawing for a web page, whose reader may not have the report's typeface: another without serifs stands in.
pub(crate) fn for_the_web(svg: &str) -> String {
    svg.replace(
        "font-family=\"IBM Plex Sans\"",
        "font-family=\"IBM Plex Sans, Segoe UI, Roboto, Arial, sans-serif\"",
    )
}

/// A drawing in the making, and the language of its words.
pub(crate) struct Svg(String, Phrases);

impl Svg {
    pub(crate) fn new(width: f64, height: f64) -> Self {
        let (width, height) = (number(width), number(height));
        Self(
            format!(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" \
             viewBox=\"0 0 {width} {height}\">"
            ),
            Phrases::default(),
        )
    }

    /// The same in another language: words that the phrasebook has are said in it.
    pub(crate) fn in_words(mut self, say: &Phrases) -> Self {
        self.1 = say.clone();
        self
    }

    /// A text as it will stand in the drawing.
    pub(crate) fn say(&self, english: &str) -> String {
        picture::pieces(&self.1, english)
    }

    /// An element without children; the attributes are ours, never the record's.
    pub(crate) fn element(&mut self, name: &str, attributes: &[(&str, &str)]) {
        self.0.push('<');
        self.0.push_str(name);
        for (attribute, value) in attributes {
            // Writing to a string cannot fail.
            let _ = write!(self.0, " {attribute}=\"{}\"", escaped(value));
        }
        self.0.push_str("/>");
    }

    pub(crate) fn path(&mut self, path: &str, attributes: &[(&str, &str)]) {
        let mut all = vec![("d", path)];
        all.extend_from_slice(attributes);
        self.element("path", &all);
    }

    pub(crate) fn circle(&mut self, x: f64, y: f64, radius: f64, attributes: &[(&str, &str)]) {
        let (x, y, radius) = (number(x), number(y), number(radius));
        let mut all = vec![("cx", x.as_str()), ("cy", y.as_str()), ("r", radius.as_str())];
        all.extend_from_slice(attributes);
        self.element("circle", &all);
    }

    pub(crate) fn line(&mut self, from: (f64, f64), to: (f64, f64), attributes: &[(&str, &str)]) {
        let path =
            format!("M{} {}L{} {}", number(from.0), number(from.1), number(to.0), number(to.1));
        self.path(&path, attributes);
    }

    pub(crate) fn words(&mut self, at: (f64, f64), text: &str, attributes: &[(&str, &str)]) {
        let _ = write!(
            self.0,
            "<text x=\"{}\" y=\"{}\" font-family=\"IBM Plex Sans\"",
            number(at.0),
            number(at.1)
        );
        for (attribute, value) in attributes {
            let _ = write!(self.0, " {attribute}=\"{}\"", escaped(value));
        }
        let _ = write!(self.0, ">{}</text>", escaped(&self.say(text)));
    }

    /// Opens a group: what follows until [`Self::close_group`] has these attributes, unless it says otherwise.
    pub(crate) fn open_group(&mut self, attributes: &[(&str, &str)]) {
        self.element("g", attributes);
        // A group is closed later, not at once.
        self.0.truncate(self.0.len() - "/>".len());
        self.0.push('>');
    }

    pub(crate) fn close_group(&mut self) {
        self.0.push_str("</g>");
    }

    /// Another drawing of ours, defined once under a name, for [`Self::again`].
    pub(crate) fn define(&mut self, name: &str, drawing: &str) {
        let _ = write!(self.0, "<defs><g id=\"{name}\">{drawing}</g></defs>");
    }

    /// A drawing that was defined, its upper left corner at a place, in half its size.
    pub(crate) fn again(&mut self, name: &str, at: (f64, f64)) {
        let place = format!("translate({} {}) scale(.5)", number(at.0), number(at.1));
        self.element("use", &[("href", &format!("#{name}")), ("transform", &place)]);
    }

    /// Words in a group that says their typeface.
    pub(crate) fn words_of_group(&mut self, at: (f64, f64), text: &str, size: &str) {
        let (x, y) = (number(at.0), number(at.1));
        let text = escaped(&self.say(text));
        let _ = write!(self.0, "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\">{text}</text>");
    }

    /// Another drawing of ours, set into this one with its upper left corner at a place, `size` wide and high.
    pub(crate) fn inset(&mut self, at: (f64, f64), size: f64, drawing: &str) {
        let (x, y, size) = (number(at.0), number(at.1), number(size));
        let own = drawing.replacen("<svg ", &format!("<svg x=\"{x}\" y=\"{y}\" "), 1);
        let own = own.replacen("width=\"16\"", &format!("width=\"{size}\""), 1).replacen(
            "height=\"16\"",
            &format!("height=\"{size}\""),
            1,
        );
        self.0.push_str(&own);
    }

    /// The finished drawing in a size that is only known when everything is drawn.
    pub(crate) fn finish_at(self, width: f64, height: f64) -> String {
        let mut sized = Self::new(width, height);
        sized.0.push_str(self.0.split_once('>').map_or("", |(_, drawn)| drawn));
        sized.finish()
    }

    pub(crate) fn finish(mut self) -> String {
        self.0.push_str("</svg>");
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_at_most_two_decimals_and_no_negative_zero() {
        assert_eq!(number(1.0 / 3.0), "0.33");
        assert_eq!(number(-0.001), "0");
        assert_eq!(number(12.0), "12");
    }

    #[test]
    fn text_cannot_leave_its_element() {
        let mut svg = Svg::new(10.0, 10.0);
        svg.words((0.0, 0.0), "</text><script>\"'&", &[]);
        assert!(svg.finish().contains("&lt;/text&gt;&lt;script&gt;&quot;&apos;&amp;</text>"));
    }
}
