//! The texts of a job that are searched, each with where it stands: what people wrote, what the assessment says, what was
//! agreed, and what stands on the job's invoices.

use std::collections::{BTreeMap, BTreeSet};

use findings::Assessment;
use inspection::{
    Currency, Engagement, FindingState, Inspection, Mark, Outcome, PointId, Recheck,
    RecordedFinding,
};
use serde_json::Value as Json;
use store::StoredInvoice;

use crate::search::PlaceKind;
use crate::search::texts::{Text, Texts};

/// The texts as they are collected.
#[derive(Default)]
struct Collected(Vec<Text>);

impl Collected {
    /// Adds one, unless it says nothing.
    fn add(&mut self, kind: PlaceKind, point: Option<&PointId>, reference: &str, text: String) {
        if !text.trim().is_empty() {
            let point = point.map_or("", |point| point.as_str()).to_owned();
            self.0.push(Text { kind, point, reference: reference.to_owned(), text });
        }
    }
}

/// All of them.
pub(crate) fn texts(
    inspection: &Inspection,
    assessment: &Assessment,
    invoices: &[StoredInvoice],
) -> Texts {
    let mut all = Collected::default();
    about_the_job(&mut all, inspection);
    of_findings(&mut all, inspection, assessment);
    of_points(&mut all, inspection);
    of_photos(&mut all, inspection);
    of_the_agreement(&mut all, &inspection.job.engagement);
    for invoice in invoices {
        let (number, text) = invoice_text(invoice);
        all.add(PlaceKind::Invoice, None, &number, text);
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
    Texts { texts: all.0, points: points.collect() }
}

fn about_the_job(all: &mut Collected, inspection: &Inspection) {
    let (job, dwelling) = (&inspection.job, &inspection.dwelling);
    let year = dwelling.model_year.map(|year| year.to_string()).unwrap_or_default();
    let unit = [
        year.as_str(),
        dwelling.kind.title(),
        &dwelling.maker,
        &dwelling.model,
        &dwelling.identification,
    ];
    all.add(PlaceKind::Unit, None, "", joined(&unit));
    all.add(PlaceKind::Job, None, "", joined(&[&job.number, &job.purpose, &job.inspector]));
    let client = &job.client;
    all.add(PlaceKind::Client, None, "", joined(&[&client.name, &client.role, &client.contact]));
    all.add(PlaceKind::Site, None, "", job.site.address.clone());
    for note in [&job.engagement.scope, &job.engagement.limits, &job.weather] {
        all.add(PlaceKind::Job, None, "", note.clone());
    }
}

/// Findings that stand, as the assessment words them; then those that do not, with why; then what was said of carried ones.
fn of_findings(all: &mut Collected, inspection: &Inspection, assessment: &Assessment) {
    let mut standing = BTreeMap::new();
    for finding in &assessment.findings {
        let text = joined_by(". ", &[&finding.title, &finding.statement, &finding.who]);
        standing.extend(finding.recorded.as_ref().map(|id| (id, finding.statement.as_str())));
        all.add(PlaceKind::Finding, finding.point.as_ref(), &finding.key, text);
    }
    for (id, recorded) in &inspection.findings {
        let key = recorded.draft.as_deref().unwrap_or(id.as_str());
        let point = recorded.point.as_ref();
        let RecordedFinding { title, statement, who, .. } = recorded;
        if !standing.contains_key(id) {
            let reason = match &recorded.state {
                FindingState::Withdrawn { reason } => reason.as_str(),
                FindingState::Draft | FindingState::Confirmed | FindingState::Merged { .. } => "",
            };
            let text = joined_by(". ", &[title, statement, who, reason]);
            all.add(PlaceKind::Finding, point, key, text);
        }
        let Some(mark) = recorded.carried.as_ref().and_then(|carried| carried.mark.as_ref()) else {
            continue;
        };
        let said = match &mark.recheck {
            Recheck::NotSeen { reason } => reason,
            Recheck::Corrected | Recheck::NotCorrected => &mark.note,
        };
        // The statement of one that stands has it already, as a rule.
        if !standing.get(id).is_some_and(|statement| statement.contains(said.as_str())) {
            all.add(PlaceKind::Finding, point, key, said.clone());
        }
    }
}

fn of_points(all: &mut Collected, inspection: &Inspection) {
    for (point, entry) in &inspection.points {
        all.add(PlaceKind::Note, Some(point), "", entry.notes.clone());
        if let Outcome::NotExamined { reason } = &entry.outcome {
            all.add(PlaceKind::Note, Some(point), "", reason.clone());
        }
    }
    let readings = inspection.readings.values().map(|it| (&it.point, &it.struck_out));
    let memos = inspection.memos.values().map(|it| (&it.point, &it.struck_out));
    for (point, struck_out) in readings.chain(memos) {
        if let Some(struck_out) = struck_out {
            all.add(PlaceKind::Note, Some(point), "", struck_out.reason.clone());
        }
    }
}

fn of_photos(all: &mut Collected, inspection: &Inspection) {
    for (id, photo) in &inspection.photos {
        let point = photo.point.as_ref();
        all.add(PlaceKind::Photo, point, id.as_str(), photo.caption.clone());
        for mark in &photo.marks {
            if let Mark::Words { at: _, text } = mark {
                all.add(PlaceKind::Photo, point, id.as_str(), text.clone());
            }
        }
    }
}

/// The unit as it was spoken of, fee and payment, who agreed; and the terms, a paragraph each.
fn of_the_agreement(all: &mut Collected, engagement: &Engagement) {
    let mut add = |text: String| all.add(PlaceKind::Agreement, None, "", text);
    add(engagement.fee.clone());
    add(engagement.consent.clone());
    for consent in engagement.consents.values() {
        add(consent.name.clone());
    }
    let Some(agreement) = &engagement.agreement else { return };
    add(agreement.unit.clone());
    add(agreement.payment.clone());
    let currency = agreement.charges.currency;
    for line in &agreement.charges.lines {
        add(joined(&[&line.text, &currency.write_with_code(line.amount)]));
    }
    for tax in &agreement.charges.taxes {
        add(joined(&[&tax.name, &tax.rate.to_string()]));
    }
    for paragraph in &agreement.terms {
        all.add(PlaceKind::Terms, None, "", paragraph.clone());
    }
}

/// An invoice's printed number, and what stands on it in one line. Only what names it and what was written for it is taken:
/// who charges stands on every one. What cannot be read is left out.
fn invoice_text(invoice: &StoredInvoice) -> (String, String) {
    let json: Json = serde_json::from_slice(&invoice.body).unwrap_or_default();
    let word = |value: &Json| value.as_str().unwrap_or_default().to_owned();
    let currency = json["currency"].as_str().and_then(Currency::from_code).unwrap_or_default();
    let amount = |value: &Json| {
        value.as_i64().map(|minor| currency.write_with_code(minor)).unwrap_or_default()
    };
    let number = word(&json["number"]);
    let mut parts = vec![number.clone(), word(&json["buyer"]["name"])];
    for line in json["lines"].as_array().into_iter().flatten() {
        parts.push(joined_by(" ", &[&word(&line["text"]), &amount(&line["amount"])]));
    }
    parts.extend([amount(&json["total"]), word(&json["cancels"]), word(&json["because"])]);
    parts.extend(invoice.payments.iter().map(|payment| payment.how.clone()));
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    (number, joined(&parts))
}

fn joined(parts: &[&str]) -> String {
    joined_by(", ", parts)
}

fn joined_by(between: &str, parts: &[&str]) -> String {
    let parts: Vec<&str> =
        parts.iter().map(|part| part.trim()).filter(|part| !part.is_empty()).collect();
    parts.join(between)
}
