//! What is done with photos: taken, placed, said in words, marked, their times corrected.

use inspection::{Crop, Mark, Photo, PhotoId, PointId};
use jiff::SignedDuration;
use record::Edit;

use crate::act::{PhotoPlaced, PhotoTaken};
use crate::{Now, Said, Visit};

/// A mark smaller than this part of the picture, both ways, is a slip of the finger.
const SMALLEST_MARK: f64 = 0.004;
/// A part narrower or lower than this part of the picture shows nothing that a reader could make out.
const SMALLEST_CROP: f64 = 0.02;

pub(crate) fn taken(visit: &Visit, taken: PhotoTaken, now: Now) -> Result<Vec<Edit>, Said> {
    let PhotoTaken { id, photo, look } = taken;
    if let Some(point) = &photo.point {
        visit.point_here(point)?;
    }
    if visit.inspection().photos.contains_key(&id) {
        return Err(Said::new("refusal-photo-there"));
    }
    let photo = Photo {
        taken: photo.taken.or(Some(now.moment)),
        sharpness: look.map_or(0.0, |look| look.sharpness),
        brightness: look.map_or(0.0, |look| look.brightness * 255.0),
        likeness: look.map_or(0, |look| look.fingerprint.0),
        marks: Vec::new(),
        crop: None,
        place: None,
        earlier: String::new(),
        ..*photo
    };
    Ok(vec![Edit::AddPhoto { id, photo: Box::new(photo) }])
}

/// None if the photo stands there already.
pub(crate) fn placed(visit: &Visit, placed: PhotoPlaced) -> Result<Option<Edit>, Said> {
    let PhotoPlaced { photo, point, position } = placed;
    Ok(placed_and_said(visit, photo, point, position, None)?.pop())
}

pub(crate) fn placed_and_said(
    visit: &Visit,
    photo: PhotoId,
    point: Option<PointId>,
    position: String,
    caption: Option<String>,
) -> Result<Vec<Edit>, Said> {
    let known = of_today(visit, &photo)?;
    if let Some(point) = &point {
        visit.point_here(point)?;
    }
    let same = known.point == point
        && known.position == position
        && caption.as_ref().is_none_or(|caption| *caption == known.caption);
    if same {
        return Ok(Vec::new());
    }
    Ok(vec![Edit::PlacePhoto { id: photo, point, position, caption }])
}

pub(crate) fn marked(
    visit: &Visit,
    photo: PhotoId,
    mark_id: Option<String>,
    mark: Mark,
) -> Result<Vec<Edit>, Said> {
    let known = known(visit, &photo)?;
    let mark = within(mark)?;
    let ids = visit.record().mark_ids(&photo);
    let mark_id = match mark_id {
        None => visit.record().fresh_id(visit.author(), 0),
        Some(id) => {
            let at = ids.iter().position(|one| *one == id);
            let before = at.and_then(|at| known.marks.get(at));
            match before.ok_or_else(|| Said::new("refusal-no-mark"))? {
                before if *before == mark => return Ok(Vec::new()),
                _ => id,
            }
        }
    };
    Ok(vec![Edit::MarkPhoto { id: photo, mark_id, mark }])
}

pub(crate) fn erased(visit: &Visit, photo: PhotoId, mark_id: String) -> Result<Vec<Edit>, Said> {
    known(visit, &photo)?;
    if !visit.record().mark_ids(&photo).contains(&mark_id) {
        return Err(Said::new("refusal-no-mark"));
    }
    Ok(vec![Edit::EraseMark { id: photo, mark_id }])
}

/// What is shown of a photo.
pub(crate) fn cropped(
    visit: &Visit,
    photo: PhotoId,
    crop: Option<Crop>,
) -> Result<Vec<Edit>, Said> {
    let before = known(visit, &photo)?;
    if let Some(crop) = crop {
        let on = |place: f64| (0.0..=1.0).contains(&place);
        if ![crop.from.0, crop.from.1, crop.to.0, crop.to.1].into_iter().all(on) {
            return Err(Said::new("refusal-mark-beyond"));
        }
        let [left, top, right, bottom] = crop.edges();
        if right - left < SMALLEST_CROP || bottom - top < SMALLEST_CROP {
            return Err(Said::new("refusal-crop-small"));
        }
    }
    // All of it as it stands needs no entry.
    let crop = crop
        .map(|crop| Crop { turns: crop.turns % 4, ..crop })
        .filter(|crop| crop.cuts() || crop.turns > 0);
    if before.crop == crop {
        return Ok(Vec::new());
    }
    let after = Photo { crop, ..before.clone() };
    Ok(vec![Edit::ChangePhoto {
        id: photo,
        before: Box::new(before.clone()),
        after: Box::new(after),
    }])
}

pub(crate) fn corrected(
    visit: &Visit,
    photos: Vec<PhotoId>,
    add_seconds: i64,
) -> Result<Vec<Edit>, Said> {
    let mut edits = Vec::new();
    for id in photos {
        let before = of_today(visit, &id)?;
        let Some(mut taken) = before.taken.filter(|_| add_seconds != 0) else { continue };
        taken.local = taken
            .local
            .checked_add(SignedDuration::from_secs(add_seconds))
            .map_err(|_| Said::new("refusal-no-such-time"))?;
        let after = Photo { taken: Some(taken), ..before.clone() };
        edits.push(Edit::ChangePhoto {
            id,
            before: Box::new(before.clone()),
            after: Box::new(after),
        });
    }
    Ok(edits)
}

/// A photo of this job: one of an earlier job stays as it was there.
fn of_today<'v>(visit: &'v Visit, id: &PhotoId) -> Result<&'v Photo, Said> {
    let photo = known(visit, id)?;
    if photo.earlier.is_empty() {
        Ok(photo)
    } else {
        Err(Said::new("refusal-photo-earlier").with("job", &photo.earlier))
    }
}

fn known<'v>(visit: &'v Visit, photo: &PhotoId) -> Result<&'v Photo, Said> {
    visit.inspection().photos.get(photo).ok_or_else(|| Said::new("refusal-no-photo"))
}

/// The mark as it can be drawn: on the photo, large enough to be seen, words that say something.
fn within(mark: Mark) -> Result<Mark, Said> {
    let on =
        |(across, down): (f64, f64)| (0.0..=1.0).contains(&across) && (0.0..=1.0).contains(&down);
    let (from, to) = match &mark {
        Mark::Words { at, text } => {
            if text.trim().is_empty() {
                return Err(Said::new("refusal-mark-no-words"));
            }
            if !on(*at) {
                return Err(Said::new("refusal-mark-beyond"));
            }
            return Ok(Mark::Words {
                at: *at,
                text: text.split_whitespace().collect::<Vec<_>>().join(" "),
            });
        }
        Mark::Arrow { from, to }
        | Mark::Box { from, to }
        | Mark::Circle { from, to }
        | Mark::Blur { from, to } => (*from, *to),
    };
    if !on(from) || !on(to) {
        return Err(Said::new("refusal-mark-beyond"));
    }
    let (wide, high) = ((to.0 - from.0).abs(), (to.1 - from.1).abs());
    let seen = match mark {
        Mark::Arrow { .. } => wide.max(high) > SMALLEST_MARK,
        _ => wide > SMALLEST_MARK && high > SMALLEST_MARK,
    };
    if seen { Ok(mark) } else { Err(Said::new("refusal-mark-small")) }
}
