//! Invented archives: rows for figures, and whole inspections for searching, by the shipped plan.

use std::collections::BTreeSet;

use archive::{FindingSeen, Held, JobRow, KnownPlan, PointOutcome, PointRow, WorstVerdict};
use inspection::{
    Agreement, ChargeLine, DwellingKind, FindingId, FindingState, Inspection, Outcome as Became,
    Photo, PhotoId, PointEntry, PointId, RecordedFinding, Taxed, TimeToAct,
};
use jiff::ToSpan;
use jiff::civil::date;
use plan::{Files, Plan, Point};
use serde_json::{Value as Json, json};
use store::{InvoiceId, JobId, StoredInvoice};

use super::chance::Chance;
use crate::native::Outcome;

/// Points that a made-up unit has at most.
const POINTS: usize = 150;
const REGIONS: [&str; 24] = [
    "US-TX", "US-CA", "US-FL", "US-AZ", "US-OH", "US-VT", "US-NY", "US-OR", "US-WA", "US-MI",
    "US-PA", "US-NC", "US-GA", "US-CO", "US-MN", "CA-ON", "CA-BC", "CA-QC", "CA-AB", "MX-SON",
    "ES", "NZ", "AU", "unknown",
];
const ADDRESSES: [&str; 6] = [
    "Some Town, TX 75001",
    "Other Town, CA 90001",
    "Third Town, VT 05701",
    "Un Pueblo, Sonora, México",
    "Some Town, ON K1A 0B1, Canada",
    "behind the barn",
];

/// The shipped plan, with which points each kind of unit has.
pub(super) struct MadeUp {
    plan: Plan,
    /// By kind, in the order of [`DwellingKind::ALL`].
    points: Vec<Vec<Point>>,
    equipment: Vec<BTreeSet<String>>,
    words: Vec<String>,
}

impl MadeUp {
    pub(super) fn new() -> Outcome<Self> {
        let library = plan::load(&Files::embedded()).map_err(|problems| {
            problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
        })?;
        let plan = library.plan("purchase").ok_or("the plan `purchase` is not there")?;
        let equipment: Vec<BTreeSet<String>> =
            DwellingKind::ALL.into_iter().map(|kind| library.typical(kind)).collect();
        let points: Vec<Vec<Point>> = DwellingKind::ALL
            .into_iter()
            .zip(&equipment)
            .map(|(kind, fitted)| plan.points_for(kind, fitted).take(POINTS).cloned().collect())
            .collect();
        let mut seen = BTreeSet::new();
        let mut words = Vec::new();
        for point in &plan.points {
            let texts = point.defects.iter().map(|defect| defect.statement.as_str());
            for word in texts.chain([point.title.as_str()]).flat_map(str::split_whitespace) {
                let word: String = word.chars().filter(|letter| letter.is_alphanumeric()).collect();
                if !word.is_empty() && seen.insert(word.to_lowercase()) {
                    words.push(word);
                }
            }
        }
        Ok(Self { plan, points, equipment, words })
    }

    pub(super) fn known_plan(&self) -> KnownPlan {
        KnownPlan::new(self.plan.clone())
    }

    /// The words of notes and captions, the frequent ones first.
    pub(super) fn words(&self) -> &[String] {
        &self.words
    }

    /// A job's rows.
    pub(super) fn rows(&self, number: u32) -> (JobRow, Vec<PointRow>) {
        let mut chance = Chance::new(u64::from(number) + 1);
        let at = chance.below(DwellingKind::ALL.len());
        let age = u16::try_from(chance.below(1_600) / 40).unwrap_or(0);
        let days = i32::try_from(chance.below(4_000)).unwrap_or(0);
        let visited = date(2015, 1, 5).checked_add(days.days()).ok();
        let known = chance.part() < 0.95;
        let risk = 0.02 + 0.004 * f64::from(age);
        let points: Vec<PointRow> = self.points[at]
            .iter()
            .enumerate()
            .map(|(place, point)| point_row(&mut chance, place, point, risk))
            .collect();
        let count = |length: usize| u32::try_from(length).unwrap_or(u32::MAX);
        let is = |row: &&PointRow| row.outcome == PointOutcome::Examined;
        let found = |row: &&PointRow| row.finding == FindingSeen::Confirmed;
        let job = JobRow {
            job: format!("B-{number:08}"),
            kind: DwellingKind::ALL[at],
            maker: format!("Maker {}", chance.below(40)),
            model: format!("Model {}", chance.below(400)),
            model_year: visited.map(|day| day.year() - i16::try_from(age).unwrap_or(0)),
            built: None,
            visited,
            age: known.then_some(age),
            region: chance.often(&REGIONS).to_string(),
            purpose: if chance.part() < 0.8 { "purchase" } else { "insurance" }.to_owned(),
            points: count(points.len()),
            examined: count(points.iter().filter(is).count()),
            findings: count(points.iter().filter(found).count()),
        };
        (job, points)
    }

    /// A whole inspection with notes, captions and findings in invented sentences.
    pub(super) fn inspection(&self, number: u32) -> Inspection {
        let mut chance = Chance::new(u64::from(number) + 77);
        let at = chance.below(DwellingKind::ALL.len());
        let mut inspection = Inspection::default();
        let job = &mut inspection.job;
        job.number = format!("B-{number:08}");
        job.purpose = "purchase".to_owned();
        job.inspector = format!("{} Inspector", chance.one(&["A.", "B.", "C."]));
        job.client.name = name(&mut chance);
        job.client.contact = format!("client{number}@example.org");
        job.site.address = format!("{} Road, {}", name(&mut chance), chance.one(&ADDRESSES));
        job.visits = vec![date(2015, 1, 5)];
        let dwelling = &mut inspection.dwelling;
        dwelling.kind = DwellingKind::ALL[at];
        dwelling.equipment = self.equipment[at].clone();
        dwelling.maker = format!("Maker {}", name(&mut chance));
        dwelling.model = format!("Model {}", chance.below(400));
        dwelling.model_year = Some(1990 + i16::try_from(chance.below(25)).unwrap_or(0));
        dwelling.identification = format!("1ABCD{number:012}");
        for (place, point) in self.points[at].iter().enumerate() {
            let id = PointId::from(point.id.as_str());
            if chance.part() < 0.08 {
                let finding = self.finding(&mut chance, &id);
                inspection.findings.insert(FindingId(format!("f{place}")), finding);
            }
            for shot in 0..chance.below(3) {
                let photo = Photo {
                    point: Some(id.clone()),
                    caption: self.sentence(&mut chance, 5),
                    ..Photo::default()
                };
                let photo_id = PhotoId(format!("{number:032x}{place:016x}{shot:016x}"));
                inspection.photos.insert(photo_id, photo);
            }
            let notes =
                if chance.part() < 0.3 { self.sentence(&mut chance, 12) } else { String::new() };
            let outcome = if chance.part() < 0.9 {
                Became::Examined
            } else {
                Became::NotExamined { reason: self.sentence(&mut chance, 4) }
            };
            let entry =
                PointEntry { outcome, defects: Vec::new(), notes, by: String::new(), at: None };
            inspection.points.insert(id, entry);
        }
        // Last, so that what stands above is as it was in earlier measurements.
        let mut agreement = Agreement {
            unit: self.sentence(&mut chance, 4),
            payment: self.sentence(&mut chance, 8),
            terms: self.plan.terms.clone(),
            ..Agreement::default()
        };
        for _ in 0..=chance.below(3) {
            let text = self.sentence(&mut chance, 3);
            let amount = i64::try_from(chance.below(90_000)).unwrap_or(0);
            agreement.charges.lines.push(ChargeLine { text, amount, taxed: Taxed::All });
        }
        inspection.job.engagement.agreement = Some(agreement);
        let withdrawn = inspection.findings.values_mut().filter(|_| chance.part() < 0.2);
        for finding in withdrawn.collect::<Vec<_>>() {
            finding.who = "Licensed trade".to_owned();
            finding.state = FindingState::Withdrawn { reason: self.sentence(&mut chance, 6) };
        }
        inspection
    }

    /// An invoice of that inspection's fee.
    pub(super) fn invoice(&self, number: u32, inspection: &Inspection) -> Outcome<StoredInvoice> {
        let job = JobId::new(&inspection.job.number).map_err(|error| error.to_string())?;
        let charged = inspection.job.engagement.agreement.iter().flat_map(|it| &it.charges.lines);
        let lines: Vec<Json> =
            charged.map(|line| json!({"text": line.text, "amount": line.amount})).collect();
        let printed = format!("I-{number:06}");
        let client = &inspection.job.client.name;
        let body = json!({"number": printed, "buyer": {"name": client}, "currency": "USD", "lines": lines});
        Ok(StoredInvoice {
            id: InvoiceId { series: "I-".to_owned(), number },
            job,
            made_unix_ms: 0,
            due: 0,
            cancels: None,
            cancelled_by: None,
            body: body.to_string().into_bytes(),
            payments: Vec::new(),
        })
    }

    fn finding(&self, chance: &mut Chance, point: &PointId) -> RecordedFinding {
        RecordedFinding {
            point: Some(point.clone()),
            title: self.sentence(chance, 4),
            statement: self.sentence(chance, 18),
            when: TimeToAct::Soon,
            state: FindingState::Confirmed,
            ..RecordedFinding::blank("", None)
        }
    }

    fn sentence(&self, chance: &mut Chance, words: usize) -> String {
        let words: Vec<&str> = (0..words).map(|_| chance.often(&self.words).as_str()).collect();
        words.join(" ")
    }
}

fn point_row(chance: &mut Chance, place: usize, point: &Point, risk: f64) -> PointRow {
    let outcome = match chance.part() {
        ..0.86 => PointOutcome::Examined,
        ..0.93 => PointOutcome::NotExamined,
        ..0.98 => PointOutcome::NotFitted,
        _ => PointOutcome::NothingEntered,
    };
    let examined = outcome == PointOutcome::Examined;
    // Some points are wrong more often than others.
    let risk = risk * (1.0 + f64::from(u32::try_from(place % 7).unwrap_or(0)));
    let found = examined && chance.part() < risk;
    let finding = match (found, chance.part() < 0.9) {
        (false, _) => FindingSeen::None,
        (true, true) => FindingSeen::Confirmed,
        (true, false) => FindingSeen::Draft,
    };
    let verdict = match (examined && !point.readings.is_empty(), found) {
        (false, _) => WorstVerdict::None,
        (true, true) => *chance.one(&[WorstVerdict::DoesNotConform, WorstVerdict::BeyondGuidance]),
        (true, false) => *chance.often(&[
            WorstVerdict::Conforms,
            WorstVerdict::WithinGuidance,
            WorstVerdict::NoLimit,
            WorstVerdict::Undecided,
        ]),
    };
    let number = u8::try_from(chance.below(32)).unwrap_or(0);
    let held = if found && chance.part() < 0.3 { Held::numbered(number) } else { Held::default() };
    PointRow { point: point.id.clone(), outcome, verdict, finding, held }
}

/// A name that nobody has.
fn name(chance: &mut Chance) -> String {
    let syllables =
        ["bar", "den", "fos", "gil", "hun", "lor", "mab", "nol", "pek", "rus", "tev", "wim"];
    let mut name: String = (0..3).map(|_| *chance.one(&syllables)).collect();
    if let Some(first) = name.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    name
}
