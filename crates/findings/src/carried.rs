//! Findings carried from the job that is inspected again: which stand, what became of each, and what is still to be said.
//!
//! A carried finding stands, and holds what it holds, until a person says that it is corrected. What today's readings
//! bring up under the same key is the same finding, unless it was said to be corrected: then it stands by itself.

use std::collections::BTreeMap;

use inspection::{
    Carried, FindingId, FindingState, Inspection, Moment, PhotoId, PointId, Recheck,
    RecordedFinding, Use,
};

use crate::drafts::{add_place, extend};
use crate::sentence::Voice;
use crate::{Finding, Ground};

/// What became of a carried finding.
#[derive(Clone, Debug, PartialEq)]
pub struct CarriedResult {
    /// The record's entry.
    pub finding: FindingId,
    /// Its number in the earlier report.
    pub number_then: u32,
    /// Its number in this one; none where it stands no more.
    pub number: Option<usize>,
    /// Its point.
    pub point: Option<PointId>,
    /// Its heading then.
    pub title: String,
    /// Where it was; empty where there was only one place.
    pub position: String,
    /// Its statement then, in the language in which it was written.
    pub statement: String,
    /// Uses that it stops, or stopped.
    pub stops: Vec<Use>,
    /// What became of it.
    pub state: CarriedState,
    /// Why it was not seen, or was withdrawn; what was seen of one that was looked at; else empty.
    pub reason: String,
    /// What its statement ends with where it stands: said by itself, and no part of a person's own words.
    pub again: String,
    /// Who said so; empty where nobody did.
    pub by: String,
    /// When.
    pub at: Option<Moment>,
    /// Photos that showed it then.
    pub photos_then: Vec<PhotoId>,
    /// Photos of today that show it, or its place: those a person attached first.
    pub photos_now: Vec<PhotoId>,
}

/// Where a carried finding stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CarriedState {
    /// It is there no more.
    Corrected,
    /// It is there still.
    NotCorrected,
    /// It was not looked at.
    NotSeen,
    /// Nobody has said yet.
    Open,
    /// A person withdrew it: it should not have been reported.
    Withdrawn,
}

impl CarriedState {
    /// All, in the order of the report.
    pub const ALL: [Self; 5] =
        [Self::NotCorrected, Self::NotSeen, Self::Open, Self::Corrected, Self::Withdrawn];

    /// The words in data, reports and on the screen.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Corrected => "corrected",
            Self::NotCorrected => "not corrected",
            Self::NotSeen => "not seen",
            Self::Open => "not yet said",
            Self::Withdrawn => "withdrawn",
        }
    }

    fn of(recorded: &RecordedFinding, carried: &Carried) -> Self {
        if matches!(recorded.state, FindingState::Withdrawn { .. }) {
            return Self::Withdrawn;
        }
        match carried.mark.as_ref().map(|mark| &mark.recheck) {
            None => Self::Open,
            Some(Recheck::Corrected) => Self::Corrected,
            Some(Recheck::NotCorrected) => Self::NotCorrected,
            Some(Recheck::NotSeen { .. }) => Self::NotSeen,
        }
    }
}

/// A carried finding that stands, with what today's readings bring up under its key.
pub(crate) fn standing(
    (id, recorded, carried): (&FindingId, &RecordedFinding, &Carried),
    today: Option<Finding>,
    photos_of_point: &[PhotoId],
    inspection: &Inspection,
    voice: Voice<'_>,
) -> Finding {
    let state = CarriedState::of(recorded, carried);
    let say = &voice.plan.words;
    let mut photos = photos_of_point.to_vec();
    photos.retain(|photo| !recorded.photos_out.contains(photo));
    extend(&mut photos, &recorded.photos);
    let planned = carried.key.split_once('/').and_then(|(point, defect)| {
        let defect = voice.plan.point(point)?.defect(defect)?;
        Some(defect.stop_work.clone())
    });
    let mut finding = Finding {
        number: 0,
        key: id.to_string(),
        recorded: Some(id.clone()),
        point: recorded.point.clone(),
        position: say.say(&carried.position),
        title: say.say_with(&recorded.title, &[]),
        statement: String::new(),
        stops: recorded.stops.clone(),
        when: recorded.when,
        who: say.say_with(&recorded.who, &[]),
        stop_work: planned.unwrap_or_default(),
        ground: Ground::Seen,
        readings: recorded.readings.clone(),
        photos,
        confirmed: recorded.state == FindingState::Confirmed,
        merged: Vec::new(),
        carried: Some(state),
    };
    let mut statement = recorded.statement.clone();
    if let Some(today) = today {
        extend(&mut finding.stops, &today.stops);
        extend(&mut finding.readings, &today.readings);
        add_place(&mut finding.position, &today.position);
        finding.when = finding.when.min(today.when);
        finding.ground = today.ground;
        if finding.stop_work.is_empty() {
            finding.stop_work = today.stop_work;
        }
        if statement.is_empty() {
            statement = today.statement;
        }
        finding.merged.push(today.key);
    }
    if statement.is_empty() {
        let job = inspection.job.earlier.as_ref().map_or("", |earlier| earlier.number.as_str());
        statement = say.say_with(
            "Found in job {job}: {statement}",
            &[("job", job), ("statement", &say.say(&carried.statement))],
        );
    }
    let again = seen_again(carried, voice);
    finding.statement = [statement.trim(), &again].join(" ").trim().to_owned();
    finding
}

/// What is said by itself of the second look at it; empty for one that is corrected.
fn seen_again(carried: &Carried, voice: Voice<'_>) -> String {
    let say = &voice.plan.words;
    let note = carried.mark.as_ref().map_or("", |mark| mark.note.trim());
    match carried.mark.as_ref().map(|mark| &mark.recheck) {
        None => say.say("Nobody has looked at it again yet."),
        Some(Recheck::NotSeen { reason }) => {
            say.say_with("Not seen again: {reason}", &[("reason", &sentence(reason))])
        }
        Some(Recheck::NotCorrected) if !note.is_empty() => {
            format!("{} {}", say.say("Seen again, and not corrected."), sentence(note))
        }
        Some(Recheck::NotCorrected) => say.say("Seen again, and not corrected."),
        Some(Recheck::Corrected) => String::new(),
    }
}

/// A reason as a sentence.
fn sentence(reason: &str) -> String {
    let reason = reason.trim();
    if reason.ends_with(['.', '!', '?']) { reason.to_owned() } else { format!("{reason}.") }
}

/// What became of every carried finding, in the order of the earlier report.
pub(crate) fn results(
    inspection: &Inspection,
    findings: &[Finding],
    photos: &BTreeMap<&PointId, Vec<PhotoId>>,
    voice: Voice<'_>,
) -> Vec<CarriedResult> {
    let mut results: Vec<CarriedResult> = inspection
        .findings
        .iter()
        .filter_map(|(id, recorded)| {
            let carried = recorded.carried.as_ref()?;
            let own = |finding: &&Finding| {
                finding.key == id.as_str() || finding.merged.iter().any(|key| key == id.as_str())
            };
            let standing = findings.iter().find(own);
            let mut photos_now = recorded.photos.clone();
            let of_point = recorded.point.as_ref().and_then(|point| photos.get(point));
            let of_point: Vec<PhotoId> = of_point
                .into_iter()
                .flatten()
                .filter(|photo| !recorded.photos_out.contains(photo))
                .cloned()
                .collect();
            extend(&mut photos_now, &of_point);
            let mark = carried.mark.as_ref();
            Some(CarriedResult {
                finding: id.clone(),
                number_then: carried.number,
                number: standing.map(|finding| finding.number),
                point: recorded.point.clone(),
                title: voice.plan.words.say_with(&carried.title, &[]),
                position: voice.plan.words.say(&carried.position),
                statement: voice.plan.words.say(&carried.statement),
                stops: standing.map_or_else(|| recorded.stops.clone(), |one| one.stops.clone()),
                state: CarriedState::of(recorded, carried),
                reason: match (&recorded.state, mark.map(|mark| &mark.recheck)) {
                    (FindingState::Withdrawn { reason }, _)
                    | (_, Some(Recheck::NotSeen { reason })) => reason.clone(),
                    _ => mark.map_or_else(String::new, |mark| mark.note.clone()),
                },
                again: seen_again(carried, voice),
                by: mark.map_or_else(String::new, |mark| mark.by.clone()),
                at: mark.and_then(|mark| mark.at),
                photos_then: carried.photos.clone(),
                photos_now,
            })
        })
        .collect();
    results.sort_by_key(|one| (one.number_then, one.finding.clone()));
    results
}
