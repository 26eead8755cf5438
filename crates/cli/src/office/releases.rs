//! Releases as the server shows and makes them at the desk: the same as `nearside release` on the command line.

use std::io::Write;

use ::report::Options;
use ::report::content::Paper;
use bag::{Accepted, Bag, KeyError, SigningKey, State, place};
use plan::Files;
use quantity::UnitSystem;
use server::{
    AcceptedMatter, Differing, KnownKey, NotReleased, OpenMatter, ReleaseKept, ReleaseOffice,
    ReleaseStanding, ReleaseStep, ReleaseWanted, Since,
};
use store::{JobId, Sha256Hex, Store};

use crate::bags::{self, keys, matters, pack, releases};
use crate::commands::release::{Terms, drafted, inspector, release as freeze};
use crate::commands::share::invoiced;
use crate::commands::{compare, finding};
use crate::data_folder::{Place, read_text};
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::speaking::Speaking;

use super::{pages, shares};

/// What the server asks for releases.
pub(super) fn office() -> ReleaseOffice {
    ReleaseOffice { standing, release, report, bag, since, share: shares::share }
}

/// A failure as a person reads it at the desk: what happened, then what to do.
pub(super) fn said(failure: &Failure) -> String {
    match failure.hinted() {
        "" => failure.message().to_owned(),
        hint => format!("{}; {hint}", failure.message()),
    }
}

pub(super) fn refused(failure: &Failure) -> NotReleased {
    NotReleased::Refused(said(failure))
}

/// A job to look at: nothing is entered under this name.
pub(super) fn look(store: &Store, job: &JobId) -> Result<(Place, OpenJob), Failure> {
    pages::open(store, job, Some("desk".to_owned()))
}

/// The heads of the record, as a release names them.
pub(super) fn heads(job: &OpenJob) -> Vec<String> {
    let mut heads: Vec<String> = job.record.heads().iter().map(ToString::to_string).collect();
    heads.sort();
    heads
}

fn standing(store: &Store, job: &JobId) -> Result<ReleaseStanding, String> {
    stand(store, job).map_err(|failure| said(&failure))
}

fn stand(store: &Store, job: &JobId) -> Result<ReleaseStanding, Failure> {
    let (_, job) = look(store, job)?;
    let inspection = job.inspection();
    let known = keys::known(job.store.folder()).into_iter();
    let (absent_photos, absent_memos) = absent(&job)?;
    let mut kept = Vec::new();
    let mut frozen = None;
    for one in releases::list(&job.store, &job.id)? {
        let bag = releases::bag(&job.store, &one)?;
        let state = releases::state(&job.store, &bag)?;
        frozen = Some(state.record_heads.clone());
        kept.push(as_kept(&state, &bag));
    }
    Ok(ReleaseStanding {
        head: job.read_to(),
        inspector: inspection.job.inspector.clone(),
        matters: matters::open(&job),
        absent_photos,
        absent_memos,
        remarks: finding::remarks(&job, &inspection)?,
        keys: known
            .map(|key| KnownKey { key: key.thumbprint, name: key.name, made: key.made })
            .collect(),
        languages: Files::languages().map(str::to_owned).collect(),
        releases: kept,
        unchanged: frozen.is_some_and(|frozen| frozen == heads(&job)),
        invoiced: invoiced(&job)?,
    })
}

/// How many photos and voice memos of the record are not in this data folder.
fn absent(job: &OpenJob) -> Result<(usize, usize), Failure> {
    let inspection = job.inspection();
    let photos = inspection.photos.keys().map(|id| id.as_str());
    let standing = inspection.memos.iter().filter(|(_, memo)| memo.struck_out.is_none());
    let memos = standing.map(|(id, _)| id.as_str());
    Ok((absent_of(&job.store, photos)?, absent_of(&job.store, memos)?))
}

fn absent_of<'a>(store: &Store, ids: impl Iterator<Item = &'a str>) -> Result<usize, Failure> {
    let mut absent = 0;
    for id in ids {
        let here = match Sha256Hex::new(id) {
            Ok(hash) => store.has_blob(&hash)?,
            Err(_) => false,
        };
        absent += usize::from(!here);
    }
    Ok(absent)
}

fn as_kept(state: &State, bag: &Bag) -> ReleaseKept {
    let release = state.release.clone();
    let of = |get: fn(&bag::Release) -> String| release.as_ref().map(get).unwrap_or_default();
    let accepted = release.iter().flat_map(|release| release.accepted.clone());
    ReleaseKept {
        number: release.as_ref().map_or(0, |release| release.number),
        released_at: of(|release| release.released_at.clone()),
        released_by: of(|release| release.released_by.clone()),
        key: of(|release| release.key.clone()),
        tag_manifest_sha256: bag.tag_manifest_sha256().to_string(),
        report_sha256: state.report.sha256.to_string(),
        pages: state.report.pages,
        paper: state.report.paper.clone(),
        units: state.report.units.clone(),
        language: state.report.language.clone().unwrap_or_else(|| "en".to_owned()),
        accepted: accepted
            .map(|one| AcceptedMatter { matter: one.matter, words: one.words })
            .collect(),
        because: of(|release| {
            release.corrects.as_ref().map_or_else(String::new, |it| it.because.clone())
        }),
        countersigner: of(|release| release.countersigner.clone().unwrap_or_default()),
        bag: pack::name(state),
        files: bag.files.len(),
    }
}

fn release(
    store: &Store,
    job: &JobId,
    wanted: &ReleaseWanted,
    at: &dyn Fn(ReleaseStep),
) -> Result<ReleaseKept, NotReleased> {
    let (place, job) = look(store, job).map_err(|failure| refused(&failure))?;
    if job.read_to() != wanted.head {
        let why = "the job has changed since what is open was shown; nothing was released";
        return Err(NotReleased::Changed(why.to_owned()));
    }
    match absent(&job).map_err(|failure| refused(&failure))? {
        (0, 0) => {}
        (photos, memos) => {
            let why = format!(
                "{photos} photos and {memos} voice memos of the record are not on the server yet; a release holds every \
                 one. The devices that took them copy them by themselves"
            );
            return Err(NotReleased::Refused(why));
        }
    }
    let accepted = accepted(matters::open(&job), &wanted.accepted)?;
    let opened = open_key(&job, wanted)?;
    made(&place, &job, wanted, accepted, &opened, at).map_err(|failure| refused(&failure))
}

fn made(
    place: &Place,
    job: &OpenJob,
    wanted: &ReleaseWanted,
    accepted: Vec<Accepted>,
    (key, made): &(SigningKey, String),
    at: &dyn Fn(ReleaseStep),
) -> Result<ReleaseKept, Failure> {
    let options = options(wanted)?;
    let terms = Terms {
        accept: Vec::new(),
        because: Some(wanted.because.clone()),
        countersigner: Some(wanted.countersigner.clone()),
    };
    let draft = drafted(job, inspector(job)?, accepted, &terms)?;
    let language = if wanted.language.is_empty() { "en" } else { &wanted.language };
    let spoken = Speaking::in_language(language).of(place, &job.plan)?;
    let packed = freeze(job, &spoken, options, draft, key, made, at)?;
    Ok(as_kept(&packed.state, &packed.bag))
}

fn options(wanted: &ReleaseWanted) -> Result<Options, Failure> {
    let paper = match wanted.paper.as_str() {
        "" | "letter" => Paper::Letter,
        "a4" => Paper::A4,
        other => return Err(Failure::input(format!("`{other}` is no size of paper"))),
    };
    let units = match wanted.units.as_str() {
        "" | "us" => UnitSystem::Us,
        "si" => UnitSystem::Si,
        other => return Err(Failure::input(format!("`{other}` is no system of units"))),
    };
    Ok(Options { paper, units, ..Options::default() })
}

/// The matters with their words; those without any are named.
fn accepted(open: Vec<OpenMatter>, given: &[AcceptedMatter]) -> Result<Vec<Accepted>, NotReleased> {
    let words_of = |matter: &OpenMatter| {
        let found = given.iter().find(|one| one.matter == matter.matter);
        found.map(|one| one.words.trim()).filter(|words| !words.is_empty())
    };
    if open.iter().any(|matter| words_of(matter).is_none()) {
        let left = open.into_iter().filter(|matter| words_of(matter).is_none());
        return Err(NotReleased::Open(left.collect()));
    }
    let accepted = open.iter().filter_map(|matter| {
        Some(Accepted { matter: matter.matter.clone(), words: words_of(matter)?.to_owned() })
    });
    Ok(accepted.collect())
}

/// The key that is to sign, and the day when it was made.
fn open_key(job: &OpenJob, wanted: &ReleaseWanted) -> Result<(SigningKey, String), NotReleased> {
    let known = keys::known(job.store.folder());
    let Some(key) = known.into_iter().find(|key| key.thumbprint == wanted.key) else {
        let why = "that key is not in the server's data folder; `nearside key new` makes one there";
        return Err(NotReleased::Refused(why.to_owned()));
    };
    let pem = read_text(&key.path).map_err(|failure| refused(&failure))?;
    match SigningKey::from_encrypted_pem(&pem, &wanted.passphrase.0) {
        Ok(opened) if opened.public().thumbprint() == key.thumbprint => Ok((opened, key.made)),
        Ok(_) => {
            let why = "the key is not the one whose public half lies beside it; nothing was signed";
            Err(NotReleased::Refused(why.to_owned()))
        }
        Err(KeyError::Passphrase) => Err(NotReleased::Passphrase(KeyError::Passphrase.to_string())),
        Err(error) => Err(NotReleased::Refused(error.to_string())),
    }
}

/// A release that is kept.
fn of_number(store: &Store, job: &JobId, number: u32) -> Result<Option<Bag>, Failure> {
    let known = releases::list(store, job)?;
    let found = known.iter().find(|one| one.number == number);
    found.map(|kept| releases::bag(store, kept)).transpose()
}

fn report(store: &Store, job: &JobId, number: u32) -> Result<Option<Vec<u8>>, String> {
    let found = of_number(store, job, number).map_err(|failure| said(&failure))?;
    let pdf = found.map(|bag| releases::content(store, &bag, place::REPORT)).transpose();
    pdf.map_err(|failure| said(&failure))
}

fn bag(store: &Store, job: &JobId, number: u32, out: &mut dyn Write) -> Result<bool, String> {
    let mut written = || -> Result<bool, Failure> {
        let Some(bag) = of_number(store, job, number)? else { return Ok(false) };
        let name = pack::name(&releases::state(store, &bag)?);
        bags::write_zip_to(store, &bag, &name, out)?;
        Ok(true)
    };
    written().map_err(|failure| said(&failure))
}

fn since(store: &Store, job: &JobId, number: u32) -> Result<Option<Since>, String> {
    let compared = || -> Result<Option<Since>, Failure> {
        let known = releases::list(store, job)?;
        let Some(at) = known.iter().position(|one| one.number == number) else { return Ok(None) };
        let until = known.get(at + 1).map(|next| next.number);
        let place = Place { data: Some(store.folder().to_owned()), by: Some("desk".to_owned()) };
        let (same_record, differences) = compare::since(&place, job.as_str(), number, until)?;
        let differing = differences.into_iter().map(|one| Differing {
            what: one.what.to_owned(),
            key: one.key,
            before: one.before,
            after: one.after,
        });
        Ok(Some(Since { until, same_record, differences: differing.collect() }))
    };
    compared().map_err(|failure| said(&failure))
}
