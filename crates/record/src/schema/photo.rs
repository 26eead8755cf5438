//! Keys of a photo's entry: what it shows, where, its copies' names, and the marks on it.

use inspection::{Crop, Mark, Moment, Photo, PlaceOnUnit, PointId};

use super::{
    Entry, Fact, Facts, Writing, entry::two_numbers, escaped, finite, one_line, unescaped,
};
use crate::{Refusal, RefusalKind};

const FILE_NAME: &str = "file_name";
const TAKEN: &str = "taken";
/// The point it shows and the position there, as lines of one text.
pub(crate) const POINT_AND_POSITION: &str = "point";
/// What it shows, in words.
pub(crate) const CAPTION: &str = "caption";
const COPY: &str = "copy";
const THUMBNAIL: &str = "thumbnail";
/// Width and height of the upright copy in pixels, as one text.
const SIZE: &str = "size";
const DAMAGE: &str = "damage";
const CAMERA: &str = "camera";
const SHARPNESS: &str = "sharpness";
const BRIGHTNESS: &str = "brightness";
const LIKENESS: &str = "likeness";
const MARKS: &str = "mark/";
/// The part that copies show: its corners as four numbers, and the quarter turns, as one text, so that a merge cannot mix two.
const CROP: &str = "crop";
/// Where on the unit it was taken: along and across, as one text.
pub(crate) const PLACE: &str = "place";
/// Number of the earlier job that it was taken for.
const EARLIER: &str = "earlier";

pub(crate) fn photo_facts(photo: &Photo) -> Result<Facts, Refusal> {
    let Photo {
        file_name,
        taken,
        point,
        position,
        caption,
        copy,
        thumbnail,
        size,
        damage,
        camera,
        sharpness,
        brightness,
        likeness,
        marks,
        crop,
        place,
        earlier,
    } = photo;
    let mut writing = Writing::default();
    writing.text(FILE_NAME, file_name);
    writing.moment(TAKEN, *taken)?;
    if point.is_some() || !position.is_empty() {
        writing.put(POINT_AND_POSITION, point_and_position_fact(point.as_ref(), position)?);
    }
    writing.text(CAPTION, caption);
    writing.text(COPY, copy);
    writing.text(THUMBNAIL, thumbnail);
    // Written always, so that every photo has an entry, however little is known of it.
    writing.put(SIZE, Fact::text(format!("{} {}", size.0, size.1)));
    writing.text(DAMAGE, damage);
    writing.text(CAMERA, camera);
    writing.number(SHARPNESS, *sharpness)?;
    writing.number(BRIGHTNESS, *brightness)?;
    writing.put(LIKENESS, Fact::Bits(*likeness));
    for (number, mark) in marks.iter().enumerate() {
        writing.put(&mark_field(&format!("{number:04}")), Fact::text(mark_text(mark)?));
    }
    if let Some(crop) = crop {
        writing.put(CROP, Fact::text(crop_text(*crop)?));
    }
    if let Some(place) = place {
        writing.put(PLACE, place_fact(*place)?);
    }
    writing.text(EARLIER, earlier);
    Ok(writing.facts)
}

pub(crate) fn point_and_position_fact(
    point: Option<&PointId>,
    position: &str,
) -> Result<Fact, Refusal> {
    let point = one_line("the point", point.map_or("", PointId::as_str))?;
    Ok(Fact::text(format!("{point}\n{}", one_line("the position", position)?)))
}

pub(crate) fn place_fact(place: PlaceOnUnit) -> Result<Fact, Refusal> {
    let along = finite("the place along the unit", place.along)?;
    let across = finite("the place across the unit", place.across)?;
    Ok(Fact::text(format!("{along} {across}")))
}

/// The field of a mark with this id.
pub(crate) fn mark_field(id: &str) -> String {
    format!("{MARKS}{}", escaped(id))
}

/// A mark as one text, so that a merge cannot mix the ends of two arrows.
pub(crate) fn mark_text(mark: &Mark) -> Result<String, Refusal> {
    let spot = |(across, down): (f64, f64)| -> Result<String, Refusal> {
        let across = finite("a mark's place", across)?;
        Ok(format!("{across} {}", finite("a mark's place", down)?))
    };
    Ok(match mark {
        Mark::Arrow { from, to } => format!("arrow {} {}", spot(*from)?, spot(*to)?),
        Mark::Box { from, to } => format!("box {} {}", spot(*from)?, spot(*to)?),
        Mark::Circle { from, to } => format!("circle {} {}", spot(*from)?, spot(*to)?),
        Mark::Blur { from, to } => format!("blur {} {}", spot(*from)?, spot(*to)?),
        Mark::Words { at, text } => format!("words {} {text}", spot(*at)?),
    })
}

fn crop_text(crop: Crop) -> Result<String, Refusal> {
    let Crop { from, to, turns } = crop;
    let mut text = String::new();
    for number in [from.0, from.1, to.0, to.1] {
        text.push_str(&format!("{} ", finite("a corner of the part that is shown", number)?));
    }
    let text = format!("{text}{turns}");
    crop_from(&text).map(|_| text).ok_or_else(|| {
        RefusalKind::Unfit.refusal("the part of a photo that is shown has two corners on the photo, not on one line, and 0 to 3 quarter turns")
    })
}

/// A part that can be shown; none for anything else.
fn crop_from(text: &str) -> Option<Crop> {
    let mut words = text.split(' ');
    let mut number =
        || words.next()?.parse::<f64>().ok().filter(|number| (0.0..=1.0).contains(number));
    let (from, to) = ((number()?, number()?), (number()?, number()?));
    let turns = words.next()?.parse().ok().filter(|turns| *turns < 4)?;
    let crop = Crop { from, to, turns };
    let [left, top, right, bottom] = crop.edges();
    (words.next().is_none() && left < right && top < bottom).then_some(crop)
}

fn mark_from(text: &str) -> Option<Mark> {
    let (kind, rest) = text.split_once(' ')?;
    let second_space = rest.match_indices(' ').nth(1).map(|(index, _)| index)?;
    let from = two_numbers(&rest[..second_space])?;
    let rest = &rest[second_space + 1..];
    match kind {
        "arrow" => Some(Mark::Arrow { from, to: two_numbers(rest)? }),
        "box" => Some(Mark::Box { from, to: two_numbers(rest)? }),
        "circle" => Some(Mark::Circle { from, to: two_numbers(rest)? }),
        "blur" => Some(Mark::Blur { from, to: two_numbers(rest)? }),
        "words" => Some(Mark::Words { at: from, text: rest.to_owned() }),
        _ => None,
    }
}

/// The photo, and the ids of its marks in the same order.
pub(crate) fn read_photo(mut entry: Entry<'_, '_>) -> (Photo, Vec<String>) {
    let taken: Option<Moment> = entry.moment(TAKEN);
    let placed = entry.text(POINT_AND_POSITION);
    let (point, position) = placed.split_once('\n').unwrap_or((&placed, ""));
    let mut marks = Vec::new();
    let mut mark_ids = Vec::new();
    for (id, fact) in entry.several(MARKS) {
        let text = if let Fact::Text(text) = &fact { text.as_str() } else { fact.type_in_words() };
        match mark_from(text) {
            Some(mark) => {
                marks.push(mark);
                mark_ids.push(unescaped(&id));
            }
            None => entry.trouble(format!(
                "the mark `{id}` says `{text}`, where an arrow, a box, a circle, a blur or words with their places belong; it is left out"
            )),
        }
    }
    let crop = entry.text_if_any(CROP).and_then(|text| {
        let crop = crop_from(&text);
        if crop.is_none() {
            entry.trouble(format!(
                "the part that is shown is `{text}`, where two corners and quarter turns like `0.1 0.1 0.9 0.8 1` belong; the whole photo is shown"
            ));
        }
        crop
    });
    let photo = Photo {
        file_name: entry.text(FILE_NAME),
        taken,
        point: Some(point).filter(|point| !point.is_empty()).map(PointId::from),
        position: position.to_owned(),
        caption: entry.text(CAPTION),
        copy: entry.text(COPY),
        thumbnail: entry.text(THUMBNAIL),
        size: read_size(&mut entry),
        damage: entry.text(DAMAGE),
        camera: entry.text(CAMERA),
        sharpness: entry.number(SHARPNESS).unwrap_or_default(),
        brightness: entry.number(BRIGHTNESS).unwrap_or_default(),
        likeness: entry.bits(LIKENESS).unwrap_or_default(),
        marks,
        crop,
        place: entry.pair(PLACE).map(|(along, across)| PlaceOnUnit { along, across }),
        earlier: entry.text(EARLIER),
    };
    entry.finish();
    (photo, mark_ids)
}

fn read_size(entry: &mut Entry<'_, '_>) -> (u32, u32) {
    let text = entry.text(SIZE);
    let size = text
        .split_once(' ')
        .and_then(|(width, height)| Some((width.parse().ok()?, height.parse().ok()?)));
    size.unwrap_or_else(|| {
        entry.trouble(format!(
            "its size is `{text}`, where two whole numbers like `1600 1200` belong"
        ));
        (0, 0)
    })
}
