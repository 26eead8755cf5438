//! Photos in the order of the visit, and their marks.

use std::collections::{BTreeMap, BTreeSet};

use inspection::PhotoId;

use crate::content::{Mark, Photo, Point};

use super::{Source, words};

/// The photos and their numbers.
pub(super) struct Photos {
    pub(super) list: Vec<Photo>,
    pub(super) numbers: BTreeMap<PhotoId, usize>,
}

/// All photos, in time; those without a time last, and behind them those of an earlier job.
pub(super) fn photos(source: Source<'_>, unused: &mut Vec<String>) -> Photos {
    let mut order: Vec<(&PhotoId, &inspection::Photo)> = source.inspection.photos.iter().collect();
    order.sort_by_key(|(id, photo)| {
        (!photo.earlier.is_empty(), photo.taken.is_none(), photo.taken, *id)
    });
    let mut list = Vec::with_capacity(order.len());
    let mut numbers = BTreeMap::new();
    for (id, photo) in order {
        let number = list.len() + 1;
        let point = photo.point.as_ref().map_or("", |point| point.as_str());
        let title = if point.is_empty() { String::new() } else { source.point_title(point) };
        let position = source.say(&words::plain(&photo.position));
        let caption = if photo.caption.trim().is_empty() {
            words::joined([title.as_str(), position.as_str()], ", ")
        } else {
            photo.caption.clone()
        };
        let alt = if caption.is_empty() {
            source.say_with("Photo {number}, not described", &[("number", &number.to_string())])
        } else {
            caption.clone()
        };
        // What was cut off takes its marks with it.
        let shown: Vec<inspection::Mark> = match photo.crop {
            Some(crop) => photo.marks.iter().filter_map(|mark| crop.mark(mark)).collect(),
            None => photo.marks.clone(),
        };
        let drawn = shown.iter().filter(|mark| !is_blur(mark));
        let said: Vec<String> = [
            (shown.iter().any(is_blur), BLURRED),
            (photo.crop.is_some_and(inspection::Crop::cuts), CUT),
        ]
        .into_iter()
        .filter(|(so, _)| *so)
        .map(|(_, words)| source.say(words))
        .collect();
        let with_said = |text: String| {
            said.iter().fold(text, |text, said| words::joined([text.as_str(), said], ". "))
        };
        let marks: Vec<Mark> = drawn.clone().filter_map(mark).collect();
        if marks.len() < drawn.count() {
            unused.push(source.say_with(
                "photo {number} has marks beyond its edges; they are not drawn",
                &[("number", &number.to_string())],
            ));
        }
        list.push(Photo {
            id: id.as_str().to_owned(),
            caption: with_said(caption),
            alt: with_said(alt),
            taken: photo.taken.map_or_else(String::new, |taken| {
                words::moment(&source.plan.words, taken, source.units)
            }),
            place: if photo.earlier.is_empty() {
                source.stop_title(point)
            } else {
                source.say_with("Taken for job {job}", &[("job", &photo.earlier)])
            },
            marks,
        });
        numbers.insert(id.clone(), number);
    }
    Photos { list, numbers }
}

/// Said beside a photo of which a part was made unrecognizable.
const BLURRED: &str = "Parts of this copy are blurred";

/// Said beside a photo of which a part was cut off.
const CUT: &str = "This copy shows a part of the photo";

fn is_blur(mark: &inspection::Mark) -> bool {
    matches!(mark, inspection::Mark::Blur { .. })
}

/// A mark as it is drawn; none if it lies beyond the photo. A blur is not drawn: it is in the copy.
fn mark(mark: &inspection::Mark) -> Option<Mark> {
    Some(match mark {
        inspection::Mark::Arrow { from, to } => {
            Mark::Arrow { from: point(*from)?, to: point(*to)? }
        }
        inspection::Mark::Box { from, to } => Mark::Box { from: point(*from)?, to: point(*to)? },
        inspection::Mark::Circle { from, to } => {
            Mark::Circle { from: point(*from)?, to: point(*to)? }
        }
        inspection::Mark::Blur { .. } => return None,
        inspection::Mark::Words { at, text } => Mark::Words { at: point(*at)?, text: text.clone() },
    })
}

fn point((x, y): (f64, f64)) -> Option<Point> {
    (is_fraction(x) && is_fraction(y)).then_some(Point { x, y })
}

fn is_fraction(value: f64) -> bool {
    (0.0..=1.0).contains(&value)
}

/// The photo for the front page: the one asked for, else the first that shows no finding, else none.
pub(super) fn front_photo(
    source: Source<'_>,
    photos: &Photos,
    asked: Option<&str>,
) -> Option<usize> {
    if let Some(number) = asked.and_then(|id| photos.numbers.get(id)) {
        return Some(*number);
    }
    let evidence: BTreeSet<&PhotoId> =
        source.assessment.findings.iter().flat_map(|finding| &finding.photos).collect();
    photos
        .numbers
        .iter()
        .filter(|(id, _)| !evidence.contains(id))
        .filter(|(id, _)| {
            let photo = source.inspection.photos.get(*id);
            photo.is_some_and(|photo| photo.damage.is_empty() && photo.earlier.is_empty())
        })
        .map(|(_, number)| *number)
        .min()
}
