//! From one job's record and invoices to its rows and the texts that are searched.

use std::collections::BTreeMap;
use std::rc::Rc;

use findings::Assessment;
use inspection::{Inspection, Outcome, PointId};
use plan::Plan;
use store::StoredInvoice;

use crate::age::{age, first_visit};
use crate::region::region;
use crate::rows::{FindingSeen, Held, JobRow, PointOutcome, PointRow, WorstVerdict};
use crate::search::Wording;
use crate::search::texts::Texts;
use crate::searched::texts;

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

/// Works a job out from its record, its plan and its invoices.
#[must_use]
pub fn derive(plan: &KnownPlan, inspection: &Inspection, invoices: &[StoredInvoice]) -> Derived {
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
        texts: texts(inspection, &assessment, invoices),
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
