//! From one job's record to its rows and the texts that are searched.

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use findings::Assessment;
use inspection::{Inspection, Mark, Outcome, PointId};
use plan::Plan;

use crate::age::{age, first_visit};
use crate::region::region;
use crate::rows::{FindingSeen, Held, JobRow, PointOutcome, PointRow, WorstVerdict};
use crate::search::texts::{Text, Texts};
use crate::search::{PlaceKind, Wording};

/// All that the archive keeps of a job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Derived {
    /// Its row.
    pub job: JobRow,
    /// A row for each point that its unit has, in walking order.
    pub points: Vec<PointRow>,
    /// Its client's name, for lists.
    pub client: String,
    /// Texts that people and the assessment wrote.
    pub(crate) texts: Texts,
    /// What the plan calls the points and their readings, and a name for it.
    pub(crate) wording: Rc<(String, Wording)>,
}

/// A plan with what is worked out from it once for all its jobs.
#[derive(Debug)]
pub struct KnownPlan {
    plan: Plan,
    wording: Rc<(String, Wording)>,
}

impl KnownPlan {
    /// Takes a plan.
    #[must_use]
    pub fn new(plan: Plan) -> Self {
        let wording = Wording::of(&plan);
        Self { plan, wording: Rc::new((wording.key(), wording)) }
    }
}

/// Works a job out from its record and its plan.
#[must_use]
pub fn derive(plan: &KnownPlan, inspection: &Inspection) -> Derived {
    let assessment = findings::assess(&plan.plan, inspection);
    let points = point_rows(&assessment);
    let dwelling = &inspection.dwelling;
    let examined = points.iter().filter(|row| row.outcome == PointOutcome::Examined).count();
    let confirmed = assessment.findings.iter().filter(|finding| finding.confirmed).count();
    let job = JobRow {
        job: inspection.job.number.clone(),
        kind: dwelling.kind,
        maker: dwelling.maker.trim().to_owned(),
        model: dwelling.model.trim().to_owned(),
        model_year: dwelling.model_year,
        built: dwelling.built,
        visited: first_visit(inspection),
        age: age(inspection),
        region: region(&inspection.job.site.address).to_owned(),
        purpose: inspection.job.purpose.clone(),
        points: count(points.len()),
        examined: count(examined),
        findings: count(confirmed),
    };
    Derived {
        job,
        points,
        client: inspection.job.client.name.clone(),
        texts: texts(inspection, &assessment),
        wording: Rc::clone(&plan.wording),
    }
}

fn count(length: usize) -> u32 {
    u32::try_from(length).unwrap_or(u32::MAX)
}

fn point_rows(assessment: &Assessment) -> Vec<PointRow> {
    let mut found: BTreeMap<&PointId, (FindingSeen, Held)> = BTreeMap::new();
    for finding in &assessment.findings {
        let Some(point) = &finding.point else { continue };
        let (seen, held) = found.entry(point).or_default();
        let this = if finding.confirmed { FindingSeen::Confirmed } else { FindingSeen::Draft };
        *seen = (*seen).max(this);
        for one in &finding.stops {
            held.add(*one);
        }
    }
    assessment
        .points
        .iter()
        .map(|result| {
            let (finding, held) = found.get(&result.point).copied().unwrap_or_default();
            let verdicts = result.values.iter().map(|value| {
                let judged = value.judgements.iter().map(|it| it.judgement.verdict.into());
                judged.max().unwrap_or(WorstVerdict::NoLimit)
            });
            PointRow {
                point: result.point.as_str().to_owned(),
                outcome: match &result.outcome {
                    None => PointOutcome::NothingEntered,
                    Some(Outcome::Examined) => PointOutcome::Examined,
                    Some(Outcome::NotExamined { reason: _ }) => PointOutcome::NotExamined,
                    Some(Outcome::NotFitted) => PointOutcome::NotFitted,
                },
                verdict: verdicts.max().unwrap_or_default(),
                finding,
                held,
            }
        })
        .collect()
}

fn texts(inspection: &Inspection, assessment: &Assessment) -> Texts {
    let mut all = Vec::new();
    let mut add = |kind, point: Option<&PointId>, reference: &str, text: String| {
        if !text.trim().is_empty() {
            let point = point.map_or("", |point| point.as_str()).to_owned();
            all.push(Text { kind, point, reference: reference.to_owned(), text });
        }
    };
    let (job, dwelling) = (&inspection.job, &inspection.dwelling);
    let year = dwelling.model_year.map(|year| year.to_string()).unwrap_or_default();
    let unit = [
        year.as_str(),
        dwelling.kind.title(),
        &dwelling.maker,
        &dwelling.model,
        &dwelling.identification,
    ];
    add(PlaceKind::Unit, None, "", joined(&unit));
    add(PlaceKind::Job, None, "", joined(&[&job.number, &job.purpose, &job.inspector]));
    let client = &job.client;
    add(PlaceKind::Client, None, "", joined(&[&client.name, &client.role, &client.contact]));
    add(PlaceKind::Site, None, "", job.site.address.clone());
    for note in [&job.engagement.scope, &job.engagement.limits, &job.weather] {
        add(PlaceKind::Job, None, "", note.clone());
    }
    for finding in &assessment.findings {
        let text = joined_by(". ", &[&finding.title, &finding.statement]);
        add(PlaceKind::Finding, finding.point.as_ref(), &finding.key, text);
    }
    for (point, entry) in &inspection.points {
        add(PlaceKind::Note, Some(point), "", entry.notes.clone());
        if let Outcome::NotExamined { reason } = &entry.outcome {
            add(PlaceKind::Note, Some(point), "", reason.clone());
        }
    }
    for (id, photo) in &inspection.photos {
        let point = photo.point.as_ref();
        add(PlaceKind::Photo, point, id.as_str(), photo.caption.clone());
        for mark in &photo.marks {
            if let Mark::Words { at: _, text } = mark {
                add(PlaceKind::Photo, point, id.as_str(), text.clone());
            }
        }
    }
    let mut points: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for point in inspection.points.keys() {
        points.entry(point.as_str().to_owned()).or_default();
    }
    for reading in inspection.readings.values().filter(|reading| reading.struck_out.is_none()) {
        let names = points.entry(reading.point.as_str().to_owned()).or_default();
        names.insert(reading.name.clone());
    }
    let points = points.into_iter().map(|(point, names)| (point, names.into_iter().collect()));
    Texts { texts: all, points: points.collect() }
}

fn joined(parts: &[&str]) -> String {
    joined_by(", ", parts)
}

fn joined_by(between: &str, parts: &[&str]) -> String {
    let parts: Vec<&str> =
        parts.iter().map(|part| part.trim()).filter(|part| !part.is_empty()).collect();
    parts.join(between)
}
