//! Remarks on a job's own texts, each with the place where the text is mended: what promises too much, and what is left over
//! from other jobs.

use findings::{FactKind, OtherJob, TextPlace, left_over, promises};
use inspection::{PhotoId, PointId};

use super::Target;
use crate::{Said, Visit};

/// A remark on a text: it stops nothing.
#[derive(Clone, Debug, PartialEq)]
pub struct Remark {
    /// What the text belongs to: a point's heading, a finding's, a photo's name.
    pub title: String,
    /// Which of its texts.
    pub place: Said,
    /// The remark.
    pub what: Said,
    /// Where the text is mended.
    pub target: Target,
}

impl Remark {
    /// Remarks on words that are typed and not entered yet: what promises too much.
    #[must_use]
    pub fn on_typed(text: &str, place: &'static str, target: &Target) -> Vec<Self> {
        let found = plan::promises(text).into_iter().map(|(promises, word)| Self {
            title: String::new(),
            place: Said::new(place),
            what: promise(&word, promises),
            target: target.clone(),
        });
        found.collect()
    }
}

fn promise(word: &str, promises: &str) -> Said {
    Said::new("remark-promise").with("word", word).with_text("what", promise_key(promises))
}

impl Visit {
    /// Remarks on the job's own texts: words that promise too much, and what is left over from other jobs.
    #[must_use]
    pub fn remarks(&self, others: &[OtherJob]) -> Vec<Remark> {
        let mut remarks = Vec::new();
        // What its point's file gives a finding is recorded in the plan's own words.
        for one in promises(self.plan_as_carried(), self.inspection()) {
            remarks.push(self.remark(one.place, promise(&one.word, one.promises)));
        }
        remarks.extend(self.left_over(others));
        remarks
    }

    /// What is left over from other jobs in this one's own texts.
    #[must_use]
    pub fn left_over(&self, others: &[OtherJob]) -> Vec<Remark> {
        left_over(self.plan(), self.inspection(), others)
            .into_iter()
            .map(|one| {
                let what = Said::new("remark-left-over")
                    .with("word", one.word)
                    .with_text("what", fact_key(one.kind))
                    .with("job", one.job);
                self.remark(one.place, what)
            })
            .collect()
    }

    fn remark(&self, place: TextPlace<'_>, what: Said) -> Remark {
        let inspection = self.inspection();
        let point = |id: &PointId| (self.title_of(Some(id)), Target::Point(id.clone()));
        let finding = |id: &inspection::FindingId| {
            let recorded = inspection.findings.get(id);
            let key = recorded.and_then(|finding| finding.draft.clone());
            let title = recorded.map_or_else(String::new, |finding| finding.title.clone());
            (title, Target::Finding(key.unwrap_or_else(|| id.to_string())))
        };
        let photo = |id: &PhotoId| {
            let known = inspection.photos.get(id);
            let name = known.map_or_else(String::new, |photo| photo.file_name.clone());
            (name, Target::Photo(id.clone()))
        };
        let ((title, target), key) = match place {
            TextPlace::Job(_) => ((inspection.job.number.clone(), Target::Job), "text-of-job"),
            TextPlace::Note(id) => (point(id), "text-note"),
            TextPlace::NotExamined(id) => (point(id), "text-not-examined"),
            TextPlace::StruckOut(id) => {
                let read = inspection.readings.get(id).map(|reading| point(&reading.point));
                (read.unwrap_or((String::new(), Target::Job)), "text-struck-out")
            }
            TextPlace::Title(id) => (finding(id), "text-heading"),
            TextPlace::Statement(id) => (finding(id), "text-statement"),
            TextPlace::Who(id) => (finding(id), "text-who"),
            TextPlace::Withdrawn(id) => (finding(id), "text-withdrawn"),
            TextPlace::Rechecked(id) => (finding(id), "text-rechecked"),
            TextPlace::Caption(id) => (photo(id), "text-caption"),
            TextPlace::Words(id) => (photo(id), "text-words"),
        };
        Remark { title, place: Said::new(key), what, target }
    }
}

fn promise_key(promises: &str) -> &'static str {
    match promises {
        "a guarantee" => "promise-guarantee",
        "a certificate" => "promise-certificate",
        "that it is safe" => "promise-safe",
        "that nothing is wrong" => "promise-nothing-wrong",
        "what will be" => "promise-future",
        _ => "promise-code",
    }
}

fn fact_key(kind: FactKind) -> &'static str {
    match kind {
        FactKind::Client => "fact-client",
        FactKind::Contact => "fact-contact",
        FactKind::Site => "fact-site",
        FactKind::Identification => "fact-identification",
        FactKind::Maker => "fact-maker",
        FactKind::Model => "fact-model",
    }
}
