//! Photos of a filled sheet: into the record, and to their points by name or by time.

use std::collections::{BTreeMap, BTreeSet};
use std::io::Write;

use inspection::{Inspection, Moment, Photo, PhotoId, PointId};
use record::Edit;
use serde_json::{Value as Json, json};

use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::photos::{Outcome, Taken, nearest_point};
use crate::sheet::{Filled, NamedPhoto, PhotoShelf};

/// The point whose sheet names a photo, and the caption there.
type Named<'a> = (&'a PointId, Option<&'a str>);

/// What became of one photo.
#[derive(Clone, Debug)]
pub(crate) struct Placed {
    name: String,
    id: Option<PhotoId>,
    point: Option<PointId>,
    /// How it got there: `name`, `time`, or empty where it was there before or is nowhere.
    by: &'static str,
    new: bool,
    /// Why it was not taken in, or what is wrong with it.
    problem: String,
}

impl Placed {
    pub(crate) fn to_json(&self) -> Json {
        json!({
            "name": self.name,
            "photo": self.id.as_ref().map(PhotoId::as_str),
            "point": self.point.as_ref().map(PointId::as_str),
            "placed_by": if self.by.is_empty() { Json::Null } else { json!(self.by) },
            "new": self.new,
            "problem": if self.problem.is_empty() { Json::Null } else { json!(self.problem) },
        })
    }
}

/// The photos of the record that these names mean; refused files are left out.
pub(crate) fn ids(names: &[NamedPhoto], taken: &[Taken], shelf: &PhotoShelf) -> Vec<PhotoId> {
    names.iter().filter_map(|photo| id_of(&photo.name, taken, shelf)).collect()
}

fn id_of(name: &str, taken: &[Taken], shelf: &PhotoShelf) -> Option<PhotoId> {
    let incoming = taken.iter().find(|one| one.name == name).map(Taken::id);
    match incoming {
        Some(id) => id.cloned(),
        None => shelf.recorded(name).cloned(),
    }
}

/// Puts photos into the record and to their points: the record is looked at once, however many they are.
pub(crate) fn place(
    job: &mut OpenJob,
    filled: &Filled,
    taken: &[Taken],
    shelf: &PhotoShelf,
) -> Result<Vec<Placed>, Failure> {
    let mut named: BTreeMap<&str, Named<'_>> = BTreeMap::new();
    for point in &filled.points {
        for photo in &point.photos {
            let here = (&point.id, photo.caption.as_deref());
            named.entry(&photo.name).or_insert(here);
        }
    }
    let incoming: BTreeSet<&str> = taken.iter().map(|one| one.name.as_str()).collect();
    let mut placed = Vec::new();
    job.edit_each(|record, _| {
        let inspection = record.inspection().0;
        let times = times(filled, &inspection);
        let mut photos = inspection.photos;
        let mut acts = Vec::new();
        for one in taken {
            let named = named.get(one.name.as_str()).copied();
            let (result, edit) = place_one(&mut photos, one, named, &times);
            placed.push(result);
            acts.push(edit.into_iter().collect());
        }
        // Photos of the record that the sheet names and the folder does not hold.
        for point in &filled.points {
            for photo in &point.photos {
                if incoming.contains(photo.name.as_str()) {
                    continue;
                }
                let Some(id) = shelf.recorded(&photo.name).cloned() else { continue };
                let known = Taken { name: photo.name.clone(), outcome: Outcome::Known(id) };
                let named = Some((&point.id, photo.caption.as_deref()));
                let (result, edit) = place_one(&mut photos, &known, named, &[]);
                if !result.by.is_empty() {
                    placed.push(result);
                }
                acts.push(edit.into_iter().collect());
            }
        }
        acts
    })?;
    Ok(placed)
}

/// Times of points, from the sheet or the record.
fn times(filled: &Filled, inspection: &Inspection) -> Vec<(PointId, Moment)> {
    let mut times: Vec<(PointId, Moment)> =
        filled.points.iter().filter_map(|point| Some((point.id.clone(), point.at?))).collect();
    for (id, entry) in &inspection.points {
        if let Some(at) = entry.at
            && !times.iter().any(|(known, _)| known == id)
        {
            times.push((id.clone(), at));
        }
    }
    times
}

/// What becomes of a photo, and the edit for it; `photos` are those of the record as this edit leaves them.
fn place_one(
    photos: &mut BTreeMap<PhotoId, Photo>,
    taken: &Taken,
    named: Option<Named<'_>>,
    times: &[(PointId, Moment)],
) -> (Placed, Option<Edit>) {
    let mut placed = Placed {
        name: taken.name.clone(),
        id: taken.id().cloned(),
        point: None,
        by: "",
        new: false,
        problem: String::new(),
    };
    let (id, entry): (&PhotoId, Option<&Photo>) = match &taken.outcome {
        Outcome::Refused(sentence) => {
            placed.problem.clone_from(sentence);
            return (placed, None);
        }
        Outcome::New(id, photo) => (id, Some(photo)),
        Outcome::Known(id) => (id, None),
    };
    let known = photos.get(id);
    let Some(photo) = known.or(entry) else { return (placed, None) };
    placed.new = known.is_none();
    placed.problem.clone_from(&photo.damage);
    let by_time = || {
        let near = times.iter().map(|(point, at)| (point, *at));
        nearest_point(photo.taken?, near)
    };
    let (point, caption, by) = match (named, &photo.point) {
        (Some((point, caption)), _) => (Some(point), caption, "name"),
        (None, Some(point)) => (Some(point), None, ""),
        (None, None) => (by_time(), None, "time"),
    };
    placed.point = point.cloned();
    let moves = point.filter(|point| photo.point.as_ref() != Some(*point));
    let caption = caption.filter(|caption| *caption != photo.caption);
    if moves.is_some() || (point.is_some() && caption.is_some()) {
        placed.by = by;
    }
    let mut after = photo.clone();
    if let Some(point) = moves {
        after.point = Some(point.clone());
        after.position = String::new();
    }
    if let Some(caption) = caption {
        caption.clone_into(&mut after.caption);
    }
    let edit = if placed.new {
        Some(Edit::AddPhoto { id: id.clone(), photo: Box::new(after.clone()) })
    } else if moves.is_none() && caption.is_none() {
        None
    } else {
        Some(Edit::PlacePhoto {
            id: id.clone(),
            point: after.point.clone(),
            position: after.position.clone(),
            caption: caption.map(ToOwned::to_owned),
        })
    };
    photos.insert(id.clone(), after);
    (placed, edit)
}

/// The photos in words: counts, then those that need a look.
pub(crate) fn print(out: &mut impl Write, photos: &[Placed]) -> Result<(), Failure> {
    if photos.is_empty() {
        return Ok(());
    }
    let count = |test: &dyn Fn(&Placed) -> bool| photos.iter().filter(|one| test(one)).count();
    let taken = count(&|one| one.new);
    let known = count(&|one| one.id.is_some() && !one.new);
    let (by_name, by_time) = (count(&|one| one.by == "name"), count(&|one| one.by == "time"));
    let refused = count(&|one| one.id.is_none());
    writeln!(
        out,
        "photos taken in {taken}, known before {known}, not taken in {refused}; placed by name {by_name}, by time {by_time}"
    )?;
    for photo in photos.iter().filter(|photo| photo.by == "time") {
        if let Some(point) = &photo.point {
            writeln!(out, "  {}: at {point}, by its time", photo.name)?;
        }
    }
    for photo in photos.iter().filter(|photo| photo.id.is_some() && photo.point.is_none()) {
        writeln!(
            out,
            "  {}: at no point; name it in the sheet, or give the point its time",
            photo.name
        )?;
    }
    for photo in photos.iter().filter(|photo| !photo.problem.is_empty()) {
        writeln!(out, "  {}", photo.problem)?;
    }
    Ok(())
}
