//! The texts that people wrote into a job, where each stands, and words in them that promise what no inspection can.

use inspection::{
    FindingId, FindingState, Inspection, Mark, Outcome, PhotoId, PointId, ReadingId, Recheck,
};
use plan::Plan;

/// A text of a person's own.
#[derive(Clone, Copy, Debug)]
pub struct OwnText<'a> {
    /// Where it stands.
    pub place: TextPlace<'a>,
    /// What it says.
    pub text: &'a str,
}

/// Where a text stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextPlace<'a> {
    /// Among the job's facts, under this heading.
    Job(&'static str),
    /// The note at a point.
    Note(&'a PointId),
    /// Why a point was not examined.
    NotExamined(&'a PointId),
    /// Why a reading was struck out.
    StruckOut(&'a ReadingId),
    /// A finding's heading.
    Title(&'a FindingId),
    /// A finding's statement.
    Statement(&'a FindingId),
    /// Whom a finding says to call.
    Who(&'a FindingId),
    /// Why a finding was withdrawn.
    Withdrawn(&'a FindingId),
    /// Why a carried finding was not seen, or what was seen of it.
    Rechecked(&'a FindingId),
    /// A photo's caption.
    Caption(&'a PhotoId),
    /// Words drawn over a photo.
    Words(&'a PhotoId),
}

impl TextPlace<'_> {
    /// The place in words.
    #[must_use]
    pub fn words(self, plan: &Plan, inspection: &Inspection) -> String {
        let point = |id: &PointId| {
            plan.point(id.as_str()).map_or_else(|| id.to_string(), |point| point.title.clone())
        };
        let finding = |id: &FindingId| match inspection.findings.get(id) {
            Some(finding) if !finding.title.is_empty() => format!("finding “{}”", finding.title),
            _ => format!("finding {id}"),
        };
        let photo = |id: &PhotoId| match inspection.photos.get(id) {
            Some(photo) if !photo.file_name.is_empty() => format!("photo {}", photo.file_name),
            _ => format!("photo {id}"),
        };
        match self {
            Self::Job(heading) => format!("the job's {heading}"),
            Self::Note(id) => format!("note at {}", point(id)),
            Self::NotExamined(id) => format!("{}, why it was not examined", point(id)),
            Self::StruckOut(id) => {
                let read = inspection.readings.get(id).map(|reading| point(&reading.point));
                format!("{}, why a reading was struck out", read.unwrap_or_else(|| id.to_string()))
            }
            Self::Title(id) => format!("{}, heading", finding(id)),
            Self::Statement(id) => format!("{}, statement", finding(id)),
            Self::Who(id) => format!("{}, whom to call", finding(id)),
            Self::Withdrawn(id) => format!("{}, why it was withdrawn", finding(id)),
            Self::Rechecked(id) => format!("{}, what was seen of it again", finding(id)),
            Self::Caption(id) => format!("{}, caption", photo(id)),
            Self::Words(id) => format!("{}, words on it", photo(id)),
        }
    }
}

/// Every text of a person's own that is not empty: the job's, then those of points, readings, findings and photos.
#[must_use]
pub fn own_texts(inspection: &Inspection) -> Vec<OwnText<'_>> {
    let mut texts: Vec<OwnText<'_>> = Vec::new();
    let engagement = &inspection.job.engagement;
    for (heading, text) in [
        ("weather", &inspection.job.weather),
        ("scope", &engagement.scope),
        ("limits", &engagement.limits),
    ] {
        texts.push(OwnText { place: TextPlace::Job(heading), text });
    }
    for (id, entry) in &inspection.points {
        texts.push(OwnText { place: TextPlace::Note(id), text: &entry.notes });
        if let Outcome::NotExamined { reason } = &entry.outcome {
            texts.push(OwnText { place: TextPlace::NotExamined(id), text: reason });
        }
    }
    for (id, reading) in &inspection.readings {
        if let Some(out) = &reading.struck_out {
            texts.push(OwnText { place: TextPlace::StruckOut(id), text: &out.reason });
        }
    }
    for (id, finding) in &inspection.findings {
        texts.push(OwnText { place: TextPlace::Title(id), text: &finding.title });
        texts.push(OwnText { place: TextPlace::Statement(id), text: &finding.statement });
        texts.push(OwnText { place: TextPlace::Who(id), text: &finding.who });
        if let FindingState::Withdrawn { reason } = &finding.state {
            texts.push(OwnText { place: TextPlace::Withdrawn(id), text: reason });
        }
        if let Some(mark) = finding.carried.as_ref().and_then(|carried| carried.mark.as_ref()) {
            let text = match &mark.recheck {
                Recheck::NotSeen { reason } => reason,
                Recheck::Corrected | Recheck::NotCorrected => &mark.note,
            };
            texts.push(OwnText { place: TextPlace::Rechecked(id), text });
        }
    }
    for (id, photo) in &inspection.photos {
        texts.push(OwnText { place: TextPlace::Caption(id), text: &photo.caption });
        for mark in &photo.marks {
            if let Mark::Words { text, .. } = mark {
                texts.push(OwnText { place: TextPlace::Words(id), text });
            }
        }
    }
    texts.retain(|one| !one.text.trim().is_empty());
    texts
}

/// A word that promises what no inspection can.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Promise<'a> {
    /// Where it stands.
    pub place: TextPlace<'a>,
    /// The word, or the words, in small letters.
    pub word: String,
    /// What it promises.
    pub promises: &'static str,
}

impl Promise<'_> {
    /// The remark in a sentence.
    #[must_use]
    pub fn sentence(&self, plan: &Plan, inspection: &Inspection) -> String {
        format!(
            "{}: “{}” promises {}, and no inspection can",
            self.place.words(plan, inspection),
            self.word,
            self.promises
        )
    }
}

/// Every promise in the job's own texts. What a drafted finding took over from its point's file is not a person's own.
#[must_use]
pub fn promises<'a>(plan: &Plan, inspection: &'a Inspection) -> Vec<Promise<'a>> {
    let mut found = Vec::new();
    for OwnText { place, text } in own_texts(inspection) {
        if of_the_plan(place, text, plan, inspection) {
            continue;
        }
        for (promises, word) in plan::promises(text) {
            found.push(Promise { place, word, promises });
        }
    }
    found
}

/// Whether a finding's heading is the one that its point's file gives.
fn of_the_plan(place: TextPlace<'_>, text: &str, plan: &Plan, inspection: &Inspection) -> bool {
    let (TextPlace::Title(id) | TextPlace::Who(id)) = place else { return false };
    let key = inspection.findings.get(id).and_then(|finding| finding.draft.as_deref());
    let defect = key.and_then(|key| {
        let (point, defect) = key.split_once('/')?;
        plan.point(point)?.defect(defect)
    });
    defect.is_some_and(|defect| defect.title == text || defect.who == text)
}
