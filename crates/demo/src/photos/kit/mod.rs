//! The property box: paints, letters, fasteners, hoses and displays that scenes are built from.

mod displays;
mod grounds;
mod marks;

pub(crate) use displays::{Dial, dial, lcd, seven_segments};
pub(crate) use grounds::Ground;
pub(crate) use marks::{
    crack, drips, hex_bolt, hose, polygon, rivet, screw, spots, sticker, washer_screw,
};

/// Gradients that every drawing may use. Plain colours are overlaid with the shading ones:
/// `roundh` and `roundv` make a cylinder, `ball` a knob, `sheen` a lit flat surface.
pub(crate) const PAINTS: &str = include_str!("paints.svg");

/// A line of letters; `anchor` is `start`, `middle` or `end`.
pub(crate) struct Letters<'a> {
    /// Where the line stands.
    pub(crate) at: (f32, f32),
    /// Height of the type.
    pub(crate) size: f32,
    /// 400, 600 or 700.
    pub(crate) weight: u16,
    /// Colour.
    pub(crate) fill: &'a str,
    /// `start`, `middle` or `end`.
    pub(crate) anchor: &'a str,
}

impl Letters<'_> {
    /// The line as SVG.
    pub(crate) fn line(&self, text: &str) -> String {
        let Letters { at: (x, y), size, weight, fill, anchor } = self;
        format!(
            r##"<text x="{x}" y="{y}" font-size="{size}" font-weight="{weight}" fill="{fill}" text-anchor="{anchor}">{}</text>"##,
            escape(text)
        )
    }
}

/// Letters from the left.
pub(crate) fn letters(x: f32, y: f32, size: f32, weight: u16, fill: &str, text: &str) -> String {
    Letters { at: (x, y), size, weight, fill, anchor: "start" }.line(text)
}

/// Letters about a middle.
pub(crate) fn centred(x: f32, y: f32, size: f32, weight: u16, fill: &str, text: &str) -> String {
    Letters { at: (x, y), size, weight, fill, anchor: "middle" }.line(text)
}

/// The size of type at which a line fits a width, but at most `size`; widths are those of IBM Plex
/// Sans Bold by class of letter, rounded up.
pub(crate) fn fitting(text: &str, size: f32, width: f32) -> f32 {
    let letters = text.chars().fold(0.0f32, |sum, letter| {
        sum + match letter {
            'i' | 'j' | 'l' | 'I' | '.' | ',' | ':' | '\'' | ' ' => 0.33,
            'm' | 'w' | 'M' | 'W' | '%' => 0.92,
            'A'..='Z' => 0.68,
            '0'..='9' => 0.62,
            _ => 0.6,
        }
    });
    if letters * size > width { width / letters } else { size }
}

/// Text with the characters that XML keeps for itself written out; characters XML forbids are left out.
pub(crate) fn escape(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\u{fffe}' | '\u{ffff}' => {}
            other if other.is_control() => safe.push(' '),
            other => safe.push(other),
        }
    }
    safe
}
