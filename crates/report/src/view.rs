//! What the template reads: the content, and the ways back that it does not state: which findings show a photo, which
//! readings rest on a source.

use serde::Serialize;

use crate::content::{Content, Reading};
use crate::drawing::{UnitView, Views};
use crate::photos::Slot;

/// The template's data.
#[derive(Serialize)]
pub(crate) struct View<'a> {
    content: &'a Content,
    /// All readings in the order of their numbers.
    pub(crate) readings: Vec<&'a Reading>,
    photos: &'a [Slot],
    /// The unit from above and from its sides.
    pub(crate) views: Vec<Drawn>,
    /// Numbers of the findings that stand on none of the views.
    pub(crate) nowhere: Vec<usize>,
    /// Numbers of those that stand from above and on no side.
    pub(crate) no_side: Vec<usize>,
    /// For each finding: the views with its pin, by their places in the list.
    pub(crate) finding_views: Vec<Vec<usize>>,
    /// For each picture: what it shows, in words; none where there is too little to draw.
    pictures: Vec<Option<String>>,
    /// For each day of the visit: what its drawing shows, in words.
    days: Vec<Option<String>>,
    /// For each photo: the findings that name it.
    pub(crate) photo_findings: Vec<Vec<usize>>,
    /// For each photo: the finding beside which it stands; none stands among the further photos.
    pub(crate) photo_shown: Vec<Option<usize>>,
    /// For each photo that no finding names: the place of the earlier finding that it showed then, from 1.
    pub(crate) photo_then: Vec<Option<usize>>,
    /// Photos that no finding names, of today or of then.
    pub(crate) further_photos: Vec<usize>,
    /// For each reading: the findings that name it.
    pub(crate) reading_findings: Vec<Vec<usize>>,
    /// For each photo: the readings of its point.
    pub(crate) photo_readings: Vec<Vec<usize>>,
    /// For each source: the findings that rest on it.
    pub(crate) source_findings: Vec<Vec<usize>>,
    /// For each source: the readings whose limit rests on it.
    pub(crate) source_readings: Vec<Vec<usize>>,
    /// How many characters could not be set.
    unset_characters: usize,
}

/// The words of what was drawn; none where there was too little to draw.
#[derive(Default)]
pub(crate) struct Pictured {
    /// For each picture of values.
    pub(crate) pictures: Vec<Option<String>>,
    /// For each day of the visit.
    pub(crate) days: Vec<Option<String>>,
}

/// A view of the unit as the template places it.
#[derive(Serialize)]
pub(crate) struct Drawn {
    name: &'static str,
    pub(crate) title: String,
    alt: String,
    width: f64,
    height: f64,
    /// Number, and where it is shown from the drawing's upper left corner.
    pins: Vec<(usize, f64, f64)>,
}

impl<'a> View<'a> {
    /// The view of a content without [`problems`](Content::problems).
    pub(crate) fn new(
        content: &'a Content,
        photos: &'a [Slot],
        views: &Views,
        pictured: Pictured,
        unset_characters: usize,
    ) -> Self {
        let readings: Vec<&Reading> =
            content.systems.iter().flat_map(|system| &system.readings).collect();
        let from_findings = |count, numbers: fn(&crate::content::Finding) -> &[usize]| {
            ways_back(count, content.findings.iter().map(numbers))
        };
        let photo_findings = from_findings(content.photos.len(), |finding| &finding.photos);
        let photo_shown: Vec<Option<usize>> =
            photo_findings.iter().map(|findings| findings.first().copied()).collect();
        let earlier = content.again.iter().flat_map(|again| &again.findings);
        let then = ways_back(content.photos.len(), earlier.map(|one| one.photos_then.as_slice()));
        let photo_then: Vec<Option<usize>> = then
            .iter()
            .zip(&photo_shown)
            .map(|(then, shown)| then.first().copied().filter(|_| shown.is_none()))
            .collect();
        let further_photos = photo_shown
            .iter()
            .zip(&photo_then)
            .enumerate()
            .filter(|(_, (shown, then))| shown.is_none() && then.is_none())
            .map(|(index, _)| index + 1)
            .collect();
        let reading_sources: Vec<Vec<usize>> = readings
            .iter()
            .map(|reading| reading.judged.iter().flat_map(|one| one.sources.clone()).collect())
            .collect();
        let photos_of_readings = readings.iter().map(|reading| reading.photos.as_slice());
        let photo_readings = ways_back(content.photos.len(), photos_of_readings);
        let source_count = content.sources.len();
        Self {
            content,
            photos,
            finding_views: finding_views(content, views),
            views: views.drawn.iter().map(drawn).collect(),
            nowhere: views.nowhere.clone(),
            no_side: views.no_side.clone(),
            pictures: pictured.pictures,
            days: pictured.days,
            photo_findings,
            photo_readings,
            photo_shown,
            photo_then,
            further_photos,
            reading_findings: from_findings(readings.len(), |finding| &finding.readings),
            source_findings: from_findings(source_count, |finding| &finding.sources),
            source_readings: ways_back(source_count, reading_sources.iter().map(Vec::as_slice)),
            readings,
            unset_characters,
        }
    }
}

fn drawn(view: &UnitView) -> Drawn {
    let pins = view.pins.iter().map(|pin| (pin.number, pin.shown.0, pin.shown.1)).collect();
    Drawn {
        name: view.name,
        title: view.title.clone(),
        alt: view.alt.clone(),
        width: view.width,
        height: view.height,
        pins,
    }
}

fn finding_views(content: &Content, views: &Views) -> Vec<Vec<usize>> {
    let shows = |view: &UnitView, number| view.pins.iter().any(|pin| pin.number == number);
    (1..=content.findings.len())
        .map(|number| {
            let all = views.drawn.iter().enumerate();
            all.filter(|(_, view)| shows(view, number)).map(|(at, _)| at).collect()
        })
        .collect()
}

/// Turns "one names these" into "these name it": for each of `count` entries the numbers of those that name it.
fn ways_back<'n>(count: usize, naming: impl Iterator<Item = &'n [usize]>) -> Vec<Vec<usize>> {
    let mut back = vec![Vec::new(); count];
    for (index, numbers) in naming.enumerate() {
        for &number in numbers {
            let entry: Option<&mut Vec<usize>> =
                number.checked_sub(1).and_then(|place| back.get_mut(place));
            if let Some(entry) = entry
                && entry.last() != Some(&(index + 1))
            {
                entry.push(index + 1);
            }
        }
    }
    back
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ways_back_name_each_origin_once() {
        let naming: [&[usize]; 3] = [&[1, 3, 1], &[], &[3]];
        assert_eq!(ways_back(3, naming.into_iter()), [vec![1], vec![], vec![1, 3]]);
    }
}
