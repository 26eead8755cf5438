//! From a job to the files of its bag.

use ::report::content::Paper;
use ::report::{Options, Typeset};
use bag::{
    Bag, BagInfo, Caption, Description, File, Release, ReportFile, Sha256, State, captioned,
    captioned_path, crate_metadata, display_path, memo_path, original_path, place, readme,
    record_bytes, record_json, thumbnail_path,
};
use inspection::{Inspection, Photo, PhotoId};
use quantity::UnitSystem;
use store::Sha256Hex;

use crate::commands::{assess, report};
use crate::failure::Failure;
use crate::json;
use crate::open_job::{OpenJob, unit_in_words};
use crate::speaking::Spoken;
use crate::today;

/// A job's bag as it would be written, with the state it freezes.
pub(crate) struct Packed {
    pub(crate) bag: Bag,
    pub(crate) state: State,
    /// What whoever hands the report out should know first.
    pub(crate) remarks: Vec<String>,
}

impl Packed {
    /// The report's file.
    pub(crate) fn report(&self) -> &[u8] {
        let file = self.bag.files.iter().find(|file| file.path == place::REPORT);
        file.and_then(|file| file.bytes.as_deref()).unwrap_or_default()
    }

    /// The name of its folder, and of the folder at the top of its zip file.
    pub(crate) fn name(&self) -> String {
        name(&self.state)
    }
}

/// The name of a bag's folder.
pub(crate) fn name(state: &State) -> String {
    match &state.release {
        Some(release) => format!("{}-release-{}", state.job, release.number),
        None => format!("{}-working-copy", state.job),
    }
}

/// Program and version, as bags and reports name it.
pub(crate) const PROGRAM: &str = concat!("Nearside ", env!("CARGO_PKG_VERSION"));

/// Packs a job as it stands, with its report, which was typeset with these options.
pub(crate) fn pack(
    job: &OpenJob,
    typeset: &Typeset,
    spoken: &Spoken,
    options: Options,
    release: Option<Release>,
) -> Result<Packed, Failure> {
    let inspection = job.inspection();
    let assessment = assess::assessed(job, &inspection);
    let record = record_bytes(&job.record)?;
    let plan = job.record.plan()?;
    let assessed = format!("{}\n", json::assessment(&job.plan, &inspection, &assessment));
    let trail = job.record.trail();
    let (mut files, absent_photos) = photos(job, &inspection)?;
    let absent_memos = add_memos(job, &inspection, &mut files)?;
    let mut heads: Vec<String> = job.record.heads().iter().map(ToString::to_string).collect();
    heads.sort();
    let state = State {
        format: State::FORMAT,
        job: inspection.job.number.clone(),
        record_beginning: job.record.beginning().to_string(),
        record_heads: heads,
        record_changes: u64::try_from(trail.len()).unwrap_or(u64::MAX),
        record_sha256: Sha256::of(&record),
        plan_sha256: Sha256::of(plan.as_bytes()),
        data_revision: job.plan.data_revision.clone(),
        program: PROGRAM.to_owned(),
        assessment_sha256: Sha256::of(assessed.as_bytes()),
        report: ReportFile {
            sha256: Sha256::of(&typeset.pdf),
            pages: u32::try_from(typeset.pages).unwrap_or(u32::MAX),
            paper: match options.paper {
                Paper::Letter => "letter".to_owned(),
                Paper::A4 => "a4".to_owned(),
            },
            units: match options.units {
                UnitSystem::Us => "us".to_owned(),
                UnitSystem::Si => "si".to_owned(),
            },
            language: Some(spoken.plan.language.clone()).filter(|language| language != "en"),
            texts_sha256: spoken.texts.as_deref().and_then(Sha256::parse),
        },
        absent_photos,
        absent_memos,
        release,
    };
    // A working copy is dated by the record's last change, so that the same record gives the same bag.
    let last = trail.iter().map(|entry| entry.at_unix_seconds).max().unwrap_or(0);
    let published = match &state.release {
        Some(release) => release.released_at.clone(),
        None => today::in_universal_time(last),
    };
    let title = match &state.release {
        Some(release) => format!("Job {}, release {}", state.job, release.number),
        None => format!("Job {}, working copy", state.job),
    };
    let name = format!("{title}: {}", unit_in_words(&inspection.dwelling));
    files.extend([
        File::new(place::STATE, state.to_json()),
        File::new(place::RECORD, record),
        File::new(place::RECORD_JSON, format!("{:#}\n", record_json(&inspection, &trail))),
        File::new(place::PLAN, plan),
        File::new(place::ASSESSMENT, assessed),
        File::new(place::REPORT, typeset.pdf.clone()),
        File::new(place::README, readme(&name, state.release.is_some())),
        File::new("data/schema/assessment.schema.json", bag::ASSESSMENT_SCHEMA),
        File::new("data/schema/record.schema.json", bag::RECORD_SCHEMA),
        File::new("data/tables/readings.csv", bag::readings_table(&inspection)),
        File::new("data/tables/values.csv", bag::values_table(&assessment)),
        File::new("data/tables/findings.csv", bag::findings_table(&assessment)),
    ]);
    let description = Description {
        description: format!(
            "Record, photos, assessment and report of the inspection of a dwelling on wheels. {name}."
        ),
        name: name.clone(),
        published: published.clone(),
        inspector: inspection.job.inspector.clone(),
        program: PROGRAM.to_owned(),
    };
    files.push(File::new(place::CRATE, crate_metadata(&files, &description)));
    let info = BagInfo {
        identifier: title,
        description: name,
        contact: inspection.job.inspector,
        date: published.chars().take(10).collect(),
        program: PROGRAM.to_owned(),
    };
    let bag = Bag::assemble(files, &info).map_err(Failure::failed)?;
    Ok(Packed { bag, state, remarks: typeset.remarks.clone() })
}

/// The photos' files: originals, copies, and copies with their captions inside; and the photos whose original is not here.
fn photos(job: &OpenJob, inspection: &Inspection) -> Result<(Vec<File>, Vec<String>), Failure> {
    let mut in_time: Vec<(&PhotoId, &Photo)> = inspection.photos.iter().collect();
    in_time.sort_by_key(|(id, photo)| (photo.taken, *id));
    let (mut files, mut absent) = (Vec::new(), Vec::new());
    for (at, (id, photo)) in in_time.into_iter().enumerate() {
        match kept(job, id.as_str())? {
            Some((sha256, bytes)) => {
                let path = original_path(&sha256, &bytes);
                files.push(File::kept(path, sha256, size(&bytes)));
            }
            None => absent.push(id.to_string()),
        }
        if let Some((sha256, bytes)) = kept(job, &photo.thumbnail)? {
            files.push(File::kept(thumbnail_path(&sha256), sha256, size(&bytes)));
        }
        if let Some((sha256, bytes)) = kept(job, &photo.copy)? {
            files.push(File::kept(display_path(&sha256), sha256, size(&bytes)));
            let point = photo.point.as_ref().map_or("", |point| point.as_str());
            let caption = caption(job, inspection, id, photo);
            // What is blurred or cut off in the report is so here too.
            let shown = report::copy_to_hand_out(&job.store, photo);
            if let Some(copy) = shown.and_then(|shown| captioned(&shown, &caption)) {
                files.push(File::new(captioned_path(at + 1, point, &photo.position), copy));
            }
        }
    }
    // Two photos can share a copy, as when one file was taken in under two names.
    files.sort_by(|one, other| one.path.cmp(&other.path));
    files.dedup_by(|one, other| one.path == other.path);
    Ok((files, absent))
}

/// Adds the recordings of the voice memos that stand; answers those that are not here. One that was struck out stays
/// with its inspector: what was spoken by mistake goes to nobody.
fn add_memos(
    job: &OpenJob,
    inspection: &Inspection,
    files: &mut Vec<File>,
) -> Result<Vec<String>, Failure> {
    let mut absent = Vec::new();
    for (id, memo) in inspection.memos.iter().filter(|(_, memo)| memo.struck_out.is_none()) {
        match kept(job, id.as_str())? {
            Some((sha256, bytes)) => {
                let path = memo_path(&sha256, &memo.media_type);
                files.push(File::kept(path, sha256, size(&bytes)));
            }
            None => absent.push(id.to_string()),
        }
    }
    Ok(absent)
}

fn caption(job: &OpenJob, inspection: &Inspection, id: &PhotoId, photo: &Photo) -> Caption {
    let point = photo.point.as_ref().map_or("", |point| point.as_str());
    let title = job.plan.point(point).map_or(point, |point| &point.title);
    let place = crate::counting::at_position(&photo.position);
    Caption {
        title: format!("{title}{place}"),
        description: photo.caption.clone(),
        taken: photo.taken.map_or_else(String::new, |taken| taken.to_string()),
        creator: inspection.job.inspector.clone(),
        keywords: vec![inspection.job.number.clone(), point.to_owned(), photo.position.clone()],
        original: id.to_string(),
        marks: match photo.crop {
            Some(crop) => photo.marks.iter().filter_map(|mark| crop.mark(mark)).collect(),
            None => photo.marks.clone(),
        },
    }
}

/// A blob of the store, checked; none if the record names none or it was never here.
fn kept(job: &OpenJob, id: &str) -> Result<Option<(Sha256, Vec<u8>)>, Failure> {
    let (Ok(hash), Some(sha256)) = (Sha256Hex::new(id), Sha256::parse(id)) else { return Ok(None) };
    Ok(job.store.blob(&hash)?.map(|bytes| (sha256, bytes)))
}

fn size(bytes: &[u8]) -> u64 {
    u64::try_from(bytes.len()).unwrap_or(u64::MAX)
}
