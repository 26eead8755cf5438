//! What is missing, for the desk: by kind, each with what would close it and the place where that is done.

use findings::{
    About, Deciding, FactKind, Gap, Missing, OtherJob, TextPlace, deciding, left_over, promises,
};
use inspection::{InstrumentId, PhotoId, PointId, Use};
use limit::Verdict;
use quantity::UnitSystem;

use crate::entry::words;
use crate::{Said, Visit};

/// What is missing.
#[derive(Clone, Debug, PartialEq)]
pub struct MissingList {
    /// How many things are missing.
    pub count: usize,
    /// They, by kind; kinds of which nothing is missing are left out.
    pub groups: Vec<MissingGroup>,
}

/// All gaps of one kind.
#[derive(Clone, Debug, PartialEq)]
pub struct MissingGroup {
    /// The kind.
    pub gap: Gap,
    /// The kind in words.
    pub what: Said,
    /// Each of them.
    pub rows: Vec<MissingRow>,
}

/// One thing that is missing.
#[derive(Clone, Debug, PartialEq)]
pub struct MissingRow {
    /// What it is about.
    pub title: String,
    /// What is missing of it.
    pub what: Said,
    /// For an undecided verdict: what would decide it, in numbers.
    pub decides: Vec<Said>,
    /// Uses that it keeps open.
    pub keeps_open: Vec<Use>,
    /// Where a person closes it.
    pub target: Target,
    /// The gap in the core's own sentence, as a release names it.
    pub sentence: String,
}

/// A place to go with one press.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Target {
    /// A point.
    Point(PointId),
    /// A reading of a point.
    Reading {
        /// The point.
        point: PointId,
        /// The reading's or the value's name.
        name: String,
        /// Which of several; empty where there is only one.
        position: String,
    },
    /// A finding, by its key.
    Finding(String),
    /// A photo.
    Photo(PhotoId),
    /// An instrument.
    Instrument(InstrumentId),
    /// The job's facts.
    Job,
}

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

impl Visit {
    /// What is missing, by kind.
    #[must_use]
    pub fn missing(&self, units: UnitSystem) -> MissingList {
        let assessment = self.assessment(units);
        let decisions = deciding(self.plan(), self.inspection(), &assessment, units);
        let mut groups: Vec<MissingGroup> = Vec::new();
        for gap in Gap::ALL {
            let rows: Vec<MissingRow> = assessment
                .missing
                .iter()
                .filter(|missing| missing.what == gap)
                .map(|missing| {
                    let (title, what) = self.missing_in_words(missing, &assessment.findings);
                    let keeps_open = assessment.uses.iter().filter(|one| {
                        missing.point.as_ref().is_some_and(|id| one.open_for.contains(id))
                    });
                    MissingRow {
                        title,
                        what,
                        decides: decided_by(missing, &decisions),
                        keeps_open: keeps_open.map(|one| one.which).collect(),
                        target: target(missing),
                        sentence: missing.sentence.clone(),
                    }
                })
                .collect();
            if !rows.is_empty() {
                groups.push(MissingGroup { gap, what: Said::new(heading_of(gap)), rows });
            }
        }
        MissingList { count: assessment.missing.len(), groups }
    }

    /// Remarks on the job's own texts: words that promise too much, and what is left over from other jobs.
    #[must_use]
    pub fn remarks(&self, others: &[OtherJob]) -> Vec<Remark> {
        let mut remarks = Vec::new();
        for one in promises(self.plan(), self.inspection()) {
            let what = Said::new("remark-promise")
                .with("word", one.word)
                .with_text("what", promise_key(one.promises));
            remarks.push(self.remark(one.place, what));
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

fn target(missing: &Missing) -> Target {
    match (&missing.about, &missing.point) {
        (About::Value { name, position, .. }, Some(point)) => {
            Target::Reading { point: point.clone(), name: name.clone(), position: position.clone() }
        }
        (About::Finding(key), _) => Target::Finding(key.clone()),
        (About::Photo(id), _) => Target::Photo(id.clone()),
        (About::Instrument(id), _) => Target::Instrument(id.clone()),
        (About::Point | About::Wait(_), Some(point)) => Target::Point(point.clone()),
        (About::Agreement, _) | (About::Point | About::Value { .. } | About::Wait(_), None) => {
            Target::Job
        }
    }
}

/// What would decide an undecided verdict.
fn decided_by(missing: &Missing, decisions: &[Deciding]) -> Vec<Said> {
    let About::Value { name, position, limit } = &missing.about else { return Vec::new() };
    let own = |one: &&Deciding| {
        missing.point.as_ref() == Some(&one.point)
            && one.name == *name
            && one.position == *position
            && one.limit == *limit
    };
    if missing.what != Gap::Undecided {
        return Vec::new();
    }
    let Some(one) = decisions.iter().find(own) else { return Vec::new() };
    let at = Said::new("decides-now").with("value", &one.value).with("bound", &one.bound);
    let Some(needed) = one.needed_in_words() else {
        return vec![at, Said::new("decides-other-value")];
    };
    let verdict = match one.verdict {
        Verdict::Conforms => "decides-conforms",
        Verdict::DoesNotConform => "decides-does-not-conform",
        Verdict::BeyondGuidance => "decides-beyond",
        Verdict::Undecided | Verdict::WithinGuidance | Verdict::NoLimit => "decides-within",
    };
    let known = Said::new("decides-known-to")
        .with("needed", needed)
        .with_text("verdict", verdict)
        .with("now", one.now_in_words());
    let mut said = vec![at, known];
    if let Some(better) = &one.better {
        let what = match better.position.as_str() {
            "" => better.title.clone(),
            position => format!("{}, {}", better.title, words(position)),
        };
        said.push(
            Said::new("decides-reading")
                .with("what", what)
                .with("needed", better.needed_in_words())
                .with("now", better.now_in_words()),
        );
    }
    if !one.instruments.is_empty() {
        let names: Vec<&str> = one.instruments.iter().map(|id| id.as_str()).collect();
        said.push(Said::new("decides-instrument").with("which", names.join(", ")));
    }
    said
}

/// The heading of a group: many of a kind, where the row says the one.
fn heading_of(gap: Gap) -> &'static str {
    match gap {
        Gap::NotSettled => "gaps-not-settled",
        Gap::NoReason => "gaps-no-reason",
        Gap::NoReading => "gaps-no-reading",
        Gap::NoPhoto => "gaps-no-photo",
        Gap::Undecided => "gaps-undecided",
        Gap::NoEvidence => "gaps-no-evidence",
        Gap::Calibration => "gaps-calibration",
        Gap::WaitRunning => "gaps-wait-running",
        Gap::PhotoNotPlaced => "gaps-photo-not-placed",
        Gap::NotAgreed => "gaps-not-agreed",
        Gap::AgreedOtherwise => "gaps-agreed-otherwise",
        Gap::NotRechecked => "gaps-not-rechecked",
        Gap::CorrectedButFound => "gaps-corrected-but-found",
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
