//! What the template reads: the content, and the ways back that it does not state: which findings show a photo, which
//! readings rest on a source.

use serde::Serialize;

use crate::content::{Content, Reading};
use crate::drawing::PlanView;
use crate::photos::Slot;

/// The template's data.
#[derive(Serialize)]
pub(crate) struct View<'a> {
    content: &'a Content,
    /// All readings in the order of their numbers.
    pub(crate) readings: Vec<&'a Reading>,
    photos: &'a [Slot],
    pub(crate) plan_view: Option<Drawn>,
    /// For each picture: what it shows, in words; none where there is too little to draw.
    pictures: Vec<Option<String>>,
    /// For each photo: the findings that name it.
    pub(crate) photo_findings: Vec<Vec<usize>>,
    /// For each photo: the finding beside which it stands; none stands among the further photos.
    pub(crate) photo_shown: Vec<Option<usize>>,
    /// Photos that no finding names.
    pub(crate) further_photos: Vec<usize>,
    /// For each reading: the findings that name it.
    pub(crate) reading_findings: Vec<Vec<usize>>,
    /// For each source: the findings that rest on it.
    pub(crate) source_findings: Vec<Vec<usize>>,
    /// For each source: the readings whose limit rests on it.
    pub(crate) source_readings: Vec<Vec<usize>>,
    /// How many characters could not be set.
    unset_characters: usize,
}

/// The plan view's words.
#[derive(Serialize)]
pub(crate) struct Drawn {
    pub(crate) alt: String,
    pub(crate) unplaced: Vec<usize>,
}

impl<'a> View<'a> {
    /// The view of a content without [`problems`](Content::problems).
    pub(crate) fn new(
        content: &'a Content,
        photos: &'a [Slot],
        plan_view: Option<PlanView>,
        pictures: Vec<Option<String>>,
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
        let further_photos = photo_shown
            .iter()
            .enumerate()
            .filter(|(_, shown)| shown.is_none())
            .map(|(index, _)| index + 1)
            .collect();
        let reading_sources: Vec<Vec<usize>> = readings
            .iter()
            .map(|reading| reading.judged.iter().flat_map(|one| one.sources.clone()).collect())
            .collect();
        let source_count = content.sources.len();
        Self {
            content,
            photos,
            plan_view: plan_view.map(|PlanView { svg: _, alt, unplaced }| Drawn { alt, unplaced }),
            pictures,
            photo_findings,
            photo_shown,
            further_photos,
            reading_findings: from_findings(readings.len(), |finding| &finding.readings),
            source_findings: from_findings(source_count, |finding| &finding.sources),
            source_readings: ways_back(source_count, reading_sources.iter().map(Vec::as_slice)),
            readings,
            unset_characters,
        }
    }
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
