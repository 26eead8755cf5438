//! A new job that inspects the unit of an old one again, with that one's findings carried: made by a command, or at the desk
//! through the server.

use findings::{Assessment, Finding};
use inspection::{
    Carried, ChangeHash, Client, EarlierJob, Engagement, FindingId, FindingState, Inspection, Job,
    Photo, PhotoId, RecordedFinding,
};
use jiff::civil::Date;
use plan::Plan;
use record::{Author, Edit};
use server::{AgainMade, AgainOffered, AgainOffice, AgainWanted, OfficeRefused};
use store::{JobId, Sha256Hex, Store};

use super::desk::{by, day, refused};
use super::pages::open;
use crate::bags::releases;
use crate::commands::assess::assessed;
use crate::commands::job::new::{make, next_free};
use crate::commands::near_hint;
use crate::counting::at_position;
use crate::data_folder::{Place, device};
use crate::failure::Failure;
use crate::open_job::{self, OpenJob};
use crate::today;

/// Names the old job's own plan, among those that ship.
const KEPT: &str = "kept";

/// What the new job is to be.
#[derive(Clone, Debug)]
pub(crate) struct Wanted {
    /// Its number; the next free one of the year if none.
    pub(crate) number: Option<String>,
    /// Its plan: `kept` for the old job's own, or one that ships.
    pub(crate) plan: String,
    /// The day of the visit.
    pub(crate) visit: Date,
    /// Who asks for it now; the old job's client if none.
    pub(crate) client: Option<Client>,
    /// Who signs, with their credentials; the old job's inspector if none.
    pub(crate) inspector: Option<(String, String)>,
}

/// The new job.
#[derive(Clone, Debug)]
pub(crate) struct Made {
    pub(crate) number: String,
    pub(crate) plan: String,
    /// How many findings it carries.
    pub(crate) carried: usize,
    /// Photos of then that are not in the data folder.
    pub(crate) absent: Vec<PhotoId>,
}

/// Makes it; when this returns it is on disk.
pub(crate) fn make_again(place: &Place, old: &OpenJob, wanted: &Wanted) -> Result<Made, Failure> {
    let inspection = old.inspection();
    let assessment = assessed(old, &inspection);
    let (plan_id, plan_text, plan) = plan(old, &inspection, &wanted.plan)?;
    if let Some(number) = &wanted.number {
        open_job::job_id(number)?;
    }
    let (inspector, credentials) = match &wanted.inspector {
        Some((inspector, credentials)) => (inspector.clone(), credentials.clone()),
        None => (inspection.job.inspector.trim().to_owned(), inspection.job.credentials.clone()),
    };
    let author = Author::new(device(&old.store)?, place.person(&inspector)?);
    let job = Job {
        inspector,
        credentials,
        client: wanted.client.clone().unwrap_or_else(|| inspection.job.client.clone()),
        visits: vec![wanted.visit],
        weather: String::new(),
        // What was agreed then was agreed for then.
        engagement: Engagement::default(),
        plan: plan_id.clone(),
        plan_hash: String::new(),
        earlier: Some(earlier(old, &inspection)?),
        ..inspection.job.clone()
    };
    let edits = carried(old, &inspection, &assessment, &plan);
    let given = wanted.number.as_deref();
    let number = make(&old.store, &author, given, &job, &inspection.dwelling, &plan_text, &edits)?;
    let absent = link_photos(old, &number, &edits)?;
    Ok(Made { number, plan: plan_id, carried: assessment.findings.len(), absent })
}

/// What the server asks.
pub(super) fn office() -> AgainOffice {
    AgainOffice { offer, make: make_at_desk }
}

fn offer(store: &Store, job: &JobId, person: &str) -> Result<AgainOffered, OfficeRefused> {
    let (_, old) = open(store, job, by(person))?;
    let inspection = old.inspection();
    Ok(AgainOffered {
        number: next_free(store, today::today().year())?,
        findings: assessed(&old, &inspection).findings.len(),
        inspector: inspection.job.inspector,
    })
}

fn make_at_desk(
    store: &Store,
    job: &JobId,
    person: &str,
    asked: &AgainWanted,
) -> Result<AgainMade, OfficeRefused> {
    let given = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
    let visit = match given(&asked.visit) {
        Some(text) => day(&text)?,
        None => today::today(),
    };
    let number = given(&asked.number);
    if let Some(number) = &number {
        let id = open_job::job_id(number)
            .map_err(|failure| refused("no_number", super::releases::said(&failure)))?;
        if store.job_exists(&id).map_err(Failure::from)? {
            return Err(refused("number_taken", format!("there is a job {number} already")));
        }
    }
    let (place, old) = open(store, job, by(person))?;
    let before = old.inspection().job.inspector;
    let inspector = given(&asked.inspector).filter(|name| *name != before.trim());
    let wanted = Wanted {
        number,
        plan: KEPT.to_owned(),
        visit,
        client: None,
        inspector: inspector.map(|name| (name, asked.credentials.trim().to_owned())),
    };
    let made = make_again(&place, &old, &wanted)?;
    Ok(AgainMade {
        job: made.number,
        earlier: old.id.to_string(),
        plan: made.plan,
        carried: made.carried,
        visit: visit.to_string(),
        absent_photos: made.absent.iter().map(ToString::to_string).collect(),
    })
}

/// Id, text and points of the plan: the old job's own, or one that ships.
fn plan(
    old: &OpenJob,
    inspection: &Inspection,
    wanted: &str,
) -> Result<(String, String, Plan), Failure> {
    if wanted == KEPT {
        return Ok((inspection.job.plan.clone(), old.record.plan()?, old.plan.clone()));
    }
    let library = crate::commands::plan::shipped()?;
    match (library.frozen(wanted), library.plan(wanted)) {
        (Some(text), Some(plan)) => Ok((wanted.to_owned(), text, plan)),
        _ => {
            let known = library.plans().map(|(id, _)| id).chain([KEPT]);
            Err(Failure::input(format!("no plan is called `{wanted}`"))
                .hint(near_hint(wanted, known)))
        }
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
