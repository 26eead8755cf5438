//! `nearside job again`: a new job that inspects the unit of an old one again, with that one's findings carried.

use std::io::Write;

use clap::Args;
use findings::{Assessment, Finding};
use inspection::{
    Carried, ChangeHash, Client, EarlierJob, Engagement, FindingId, FindingState, Inspection, Job,
    Photo, PhotoId, RecordedFinding,
};
use plan::Plan;
use record::{Author, Edit};
use serde_json::json;
use store::Sha256Hex;

use super::new::{day, make};
use crate::bags::releases;
use crate::commands::assess::assessed;
use crate::commands::near_hint;
use crate::counting::at_position;
use crate::data_folder::{Place, device};
use crate::failure::Failure;
use crate::open_job::{self, OpenJob};
use crate::today;

/// Makes a new job that inspects the unit of an old one again.
///
/// The new job has a record of its own, with the old one's client, site, unit, equipment and instruments, and names the old
/// job with its record's heads. Every finding that stands there is carried, with its photos as they were: say of each
/// whether it is corrected, not corrected or not seen (`nearside finding JOB recheck`). Until it is corrected it goes on stopping
/// the uses that it stops. The report of the new job says what became of each, with photos of then and now.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside job again 2026-001\n  \
        nearside job again 2026-001 2026-009 --visit 2026-08-03\n  \
        nearside job again 2026-001 --plan purchase")]
pub(crate) struct AgainArguments {
    /// The old job's number
    old: String,
    /// The new job's number; the next free one of the year if left out
    new: Option<String>,
    /// The plan: `kept` for the old job's own, or one of those that ship, as it is now
    #[arg(long, default_value = "kept")]
    plan: String,
    /// Day of the visit, such as 2026-08-03; today if left out
    #[arg(long, value_name = "DATE")]
    visit: Option<String>,
    /// Who asks for it now; the old job's client if left out
    #[arg(long)]
    client: Option<String>,
    /// How to reach them
    #[arg(long, requires = "client")]
    contact: Option<String>,
    /// What they are to the unit: buyer, owner, lender …
    #[arg(long, requires = "client")]
    role: Option<String>,
    /// The inspector who signs; the old job's if left out
    #[arg(long)]
    inspector: Option<String>,
    /// Their licence, certificate or membership
    #[arg(long, requires = "inspector")]
    credentials: Option<String>,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &AgainArguments) -> Result<(), Failure> {
    let old = OpenJob::open(place, &arguments.old)?;
    let inspection = old.inspection();
    let assessment = assessed(&old, &inspection);
    let (plan_id, plan_text, plan) = plan(&old, &inspection, &arguments.plan)?;
    let visit = match &arguments.visit {
        Some(text) => day(text, "--visit")?,
        None => today::today(),
    };
    if let Some(number) = &arguments.new {
        open_job::job_id(number)?;
    }
    let inspector = arguments.inspector.as_deref().unwrap_or(&inspection.job.inspector).trim();
    let job = Job {
        inspector: inspector.to_owned(),
        credentials: match (&arguments.inspector, &arguments.credentials) {
            (None, _) => inspection.job.credentials.clone(),
            (Some(_), credentials) => credentials.clone().unwrap_or_default(),
        },
        client: client(arguments, &inspection),
        visits: vec![visit],
        weather: String::new(),
        // What was agreed then was agreed for then.
        engagement: Engagement::default(),
        plan: plan_id.clone(),
        plan_hash: String::new(),
        earlier: Some(earlier(&old, &inspection)?),
        ..inspection.job.clone()
    };
    let author = Author::new(device(&old.store)?, place.person(inspector)?);
    let edits = carried(&old, &inspection, &assessment, &plan);
    let given = arguments.new.as_deref();
    let store = &old.store;
    let number = make(store, &author, given, &job, &inspection.dwelling, &plan_text, &edits)?;
    let absent = link_photos(&old, &number, &edits)?;
    for photo in &absent {
        eprintln!("note: the photo {photo} of then is not in this data folder");
    }
    let mut out = std::io::stdout().lock();
    let count = assessment.findings.len();
    if arguments.json {
        let object = json!({
            "job": number,
            "earlier": old.id.as_str(),
            "plan": plan_id,
            "carried": count,
            "visit": visit.to_string(),
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    let unit = open_job::unit_in_words(&inspection.dwelling);
    writeln!(out, "job {number}: {unit}, again after job {}, visit on {visit}", old.id)?;
    writeln!(out, "{count} findings carried; say what became of each:")?;
    writeln!(out, "  nearside finding {number} list")?;
    writeln!(out, "  nearside finding {number} recheck carried-1 corrected")?;
    Ok(())
}

/// Id, text and points of the plan: the old job's own, or one that ships.
fn plan(
    old: &OpenJob,
    inspection: &Inspection,
    wanted: &str,
) -> Result<(String, String, Plan), Failure> {
    if wanted == "kept" {
        return Ok((inspection.job.plan.clone(), old.record.plan()?, old.plan.clone()));
    }
    let library = crate::commands::plan::shipped()?;
    match (library.frozen(wanted), library.plan(wanted)) {
        (Some(text), Some(plan)) => Ok((wanted.to_owned(), text, plan)),
        _ => {
            let known = library.plans().map(|(id, _)| id).chain(["kept"]);
            Err(Failure::input(format!("no plan is called `{wanted}`"))
                .hint(near_hint(wanted, known)))
        }
    }
}

fn client(arguments: &AgainArguments, inspection: &Inspection) -> Client {
    match &arguments.client {
        None => inspection.job.client.clone(),
        Some(name) => Client {
            name: name.clone(),
            contact: arguments.contact.clone().unwrap_or_default(),
            role: arguments.role.clone().unwrap_or_default(),
        },
    }
}

fn earlier(old: &OpenJob, inspection: &Inspection) -> Result<EarlierJob, Failure> {
    let release = releases::list(&old.store, &old.id)?;
    Ok(EarlierJob {
        number: old.id.to_string(),
        visited: inspection.job.visits.last().copied(),
        heads: old.record.heads().iter().map(|head| ChangeHash(head.to_string())).collect(),
        release: release.last().map(|last| (last.number, last.tag_manifest.to_string())),
    })
}

/// What the new job begins with: photos of then, findings, instruments.
fn carried(
    old: &OpenJob,
    inspection: &Inspection,
    assessment: &Assessment,
    plan: &Plan,
) -> Vec<Edit> {
    let mut edits = Vec::new();
    let mut photos: Vec<PhotoId> = Vec::new();
    let mut findings = Vec::new();
    for finding in &assessment.findings {
        let recorded = carried_finding(inspection, finding, plan);
        for id in recorded.carried.iter().flat_map(|carried| &carried.photos) {
            if !photos.contains(id) {
                photos.push(id.clone());
            }
        }
        let id = FindingId(format!("carried-{}", finding.number));
        findings.push(Edit::AddFinding { id, finding: Box::new(recorded) });
    }
    for id in photos {
        if let Some(photo) = inspection.photos.get(&id) {
            let photo = Box::new(photo_of_then(old, photo));
            edits.push(Edit::AddPhoto { id, photo });
        }
    }
    edits.extend(findings);
    for (id, instrument) in &inspection.instruments {
        let after = instrument.clone();
        edits.push(Edit::SetInstrument { id: id.clone(), before: None, after });
    }
    edits
}

fn carried_finding(inspection: &Inspection, finding: &Finding, plan: &Plan) -> RecordedFinding {
    let dwelling = &inspection.dwelling;
    let here = |id: &&inspection::PointId| {
        plan.point(id.as_str())
            .is_some_and(|point| point.exists_on(dwelling.kind, &dwelling.equipment))
    };
    let recorded = finding.recorded.as_ref().and_then(|id| inspection.findings.get(id));
    let before = recorded.and_then(|recorded| recorded.carried.as_ref());
    let known = |id: &&PhotoId| inspection.photos.contains_key(*id);
    let mut photos: Vec<PhotoId> = finding.photos.iter().filter(known).cloned().collect();
    // One that was carried before and not seen since is shown as it was first.
    if let (true, Some(before)) = (photos.is_empty(), before) {
        photos = before.photos.iter().filter(known).cloned().collect();
    }
    let line = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    RecordedFinding {
        point: finding.point.as_ref().filter(here).cloned(),
        title: finding.title.clone(),
        stops: finding.stops.clone(),
        when: finding.when,
        who: finding.who.clone(),
        state: if finding.confirmed { FindingState::Confirmed } else { FindingState::Draft },
        carried: Some(Carried {
            number: u32::try_from(finding.number).unwrap_or(u32::MAX),
            key: before.map_or_else(|| finding.key.clone(), |before| before.key.clone()),
            position: line(&finding.position),
            title: line(&finding.title),
            statement: finding.statement.clone(),
            photos,
            mark: None,
        }),
        ..RecordedFinding::blank(
            recorded.map_or(inspection.job.inspector.as_str(), |recorded| recorded.by.as_str()),
            recorded.and_then(|recorded| recorded.at),
        )
    }
}

/// A photo of the old job as the new one keeps it: at no point of today, with its marks, and with words for what it shows.
fn photo_of_then(old: &OpenJob, photo: &Photo) -> Photo {
    let title = photo.point.as_ref().map(|id| {
        old.plan.point(id.as_str()).map_or_else(|| id.to_string(), |point| point.title.clone())
    });
    let shown = format!("{}{}", title.unwrap_or_default(), at_position(&photo.position));
    let earlier = if photo.earlier.is_empty() { old.id.to_string() } else { photo.earlier.clone() };
    Photo {
        caption: if photo.caption.is_empty() { shown } else { photo.caption.clone() },
        point: None,
        position: String::new(),
        place: None,
        earlier,
        ..photo.clone()
    }
}

/// Lets the new job's devices have the photos of then; those that are not here are answered.
fn link_photos(old: &OpenJob, number: &str, edits: &[Edit]) -> Result<Vec<PhotoId>, Failure> {
    let id = open_job::job_id(number)?;
    let mut absent = Vec::new();
    for edit in edits {
        let Edit::AddPhoto { id: photo_id, photo } = edit else { continue };
        for name in [photo_id.as_str(), &photo.copy, &photo.thumbnail] {
            let Ok(hash) = Sha256Hex::new(name) else { continue };
            if old.store.has_blob(&hash)? {
                old.store.add_job_blob(&id, &hash)?;
            } else if name == photo_id.as_str() {
                absent.push(photo_id.clone());
            }
        }
    }
    Ok(absent)
}
