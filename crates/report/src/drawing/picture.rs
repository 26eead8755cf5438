//! One place that knows which drawing belongs to which kind of picture.

use plan::{Phrases, PictureKind};

use crate::content::{Picture, Unit};

use super::{
    gas_line, levels, loads, moisture_map, outlets, piers, pressure_decay, rail, tanks, tyres,
    water_flow,
};

/// A drawing and what it shows in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// The drawing, 500 wide.
    pub svg: String,
    /// What it shows, for those who cannot see it.
    pub alt: String,
}

/// Draws a picture; none where its values are too few to draw, or its kind is not known here.
#[must_use]
pub fn picture(picture: &Picture, unit: &Unit, say: &Phrases) -> Option<Drawn> {
    let drawn = match PictureKind::find(&picture.kind)? {
        PictureKind::Tyres => tyres::draw(picture, unit, say),
        PictureKind::GasLine => gas_line::draw(picture, say),
        PictureKind::PressureDecay => pressure_decay::draw(picture, say),
        PictureKind::Outlets => outlets::draw(picture, say),
        PictureKind::MoistureMap => moisture_map::draw(picture, say),
        PictureKind::Loads => loads::draw(picture, unit, say),
        PictureKind::Levels => levels::draw(picture, say),
        PictureKind::Rail => rail::draw(picture, say),
        PictureKind::Piers => piers::draw(picture, unit, say),
        PictureKind::Tanks => tanks::draw(picture, say),
        PictureKind::WaterFlow => water_flow::draw(picture, say),
    }?;
    Some(Drawn { alt: pieces(say, &drawn.alt), ..drawn })
}

/// A list of things said, each by itself in the language of the phrasebook: what separates and encloses them stays.
pub(super) fn pieces(say: &Phrases, text: &str) -> String {
    if say.is_empty() {
        return text.to_owned();
    }
    // A verdict stands in brackets behind its value.
    let (bare, end) = text.strip_suffix('.').map_or((text, ""), |bare| (bare, "."));
    if let Some((outer, inner)) = bare.strip_suffix(')').and_then(|text| text.rsplit_once(" ("))
        && let Some(inner) = say.find(inner)
        && !outer.contains(['(', ';'])
        && !outer.contains(", ")
    {
        return format!("{} ({inner}){end}", pieces(say, outer));
    }
    if let Some(found) = say.find(text) {
        return found;
    }
    for between in [". ", "; ", " · ", ": ", ", ", " and "] {
        if text.contains(between) {
            let said: Vec<String> = text.split(between).map(|part| pieces(say, part)).collect();
            let and = say.say_with("{before} and {last}", &[("before", ""), ("last", "")]);
            return said.join(if between == " and " { and.as_str() } else { between });
        }
    }
    if let Some(whole) = text.strip_suffix('.') {
        return format!("{}.", pieces(say, whole));
    }
    match text.strip_suffix(')').and_then(|text| text.split_once(" (")) {
        Some((outer, inner)) => format!("{} ({})", pieces(say, outer), pieces(say, inner)),
        None => text.to_owned(),
    }
}
