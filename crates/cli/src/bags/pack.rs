//! From a job to the files of its bag.

use ::report::{Beside, Options, Typeset};
use bag::{
    Bag, BagInfo, Description, File, Release, ReportFile, Sha256, State, crate_metadata, memo_path,
    place, readme, record_bytes,
};
use inspection::Inspection;

use super::photos::{Photos, kept, photos, size};
use crate::commands::assess;
use crate::commands::report::{paper_word, units_word};
use crate::failure::Failure;
use crate::json;
use crate::open_job::{OpenJob, unit_in_words};
use crate::report_pages::Pages;
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

/// Packs a job as it stands, with its report: what that says, and how it was typeset with these options.
pub(crate) fn pack(
    job: &OpenJob,
    pages: &Pages,
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
    let content = pages.content.to_json().map_err(Failure::failed)?;
    let mut photos = photos(job, &inspection)?;
    let mut files = Vec::new();
    add_page(job, pages, &photos, &mut files)?;
    files.append(&mut photos.files);
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
            content_sha256: Some(Sha256::of(&content)),
            pages: u32::try_from(typeset.pages).unwrap_or(u32::MAX),
            paper: paper_word(options.paper).to_owned(),
            units: units_word(options.units).to_owned(),
            language: Some(spoken.plan.language.clone()).filter(|language| language != "en"),
            texts_sha256: spoken.texts.as_deref().and_then(Sha256::parse),
        },
        absent_photos: photos.absent,
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
        File::new(place::RECORD_JSON, json::record(&inspection, &trail)),
        File::new(place::PLAN, plan),
        File::new(place::ASSESSMENT, assessed),
        File::new(place::REPORT, typeset.pdf.clone()),
        File::new(place::REPORT_JSON, content),
        File::new(place::README, readme(&name, state.release.is_some())),
        File::new("data/schema/assessment.schema.json", bag::ASSESSMENT_SCHEMA),
        File::new("data/schema/record.schema.json", bag::RECORD_SCHEMA),
        File::new("data/schema/report.schema.json", bag::REPORT_SCHEMA),
        File::new("data/schema/state.schema.json", bag::STATE_SCHEMA),
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
    let remarks = typeset.remarks.iter().cloned().chain(photos.remarks).collect();
    Ok(Packed { bag, state, remarks })
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

/// Adds the client's page. Report, data and photos lie in the bag already: it shows them where they are.
fn add_page(
    job: &OpenJob,
    pages: &Pages,
    photos: &Photos,
    files: &mut Vec<File>,
) -> Result<(), Failure> {
    let above = |path: &str| path.strip_prefix("data/").map(|path| format!("../{path}"));
    let in_bag = |id: &str| photos.captioned.get(id).and_then(|path| above(path));
    let (pdf, data) = (above(place::REPORT), above(place::REPORT_JSON));
    let beside = Beside { pdf: pdf.as_deref(), data: data.as_deref(), photo: &in_bag };
    let bytes = |id: &str| photos.captioned_bytes(id).or_else(|| pages.photo(job, id));
    let page = ::report::page_beside(&pages.content, &bytes, beside)
        .map_err(|error| Failure::failed(format!("no page could be made: {error}")))?;
    let named = page.files.into_iter();
    files.extend(named.map(|file| File::new(format!("{}{}", place::PAGE, file.name), file.bytes)));
    Ok(())
}
