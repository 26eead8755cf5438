//! The agreement's pages as the server shows them: it asks here, and opens no job's document itself.

use inspection::{ConsentWay, DrawnSignature};
use report::content::Paper;
use report::letter::{
    AgreementPage, Letter, Notice, agreement_file, agreement_page, letter_pdf, signed_by,
};
use server::{GivenConsent, Office, OfficeFile};
use store::{JobId, Sha256Hex, Store};

use super::agreements::{self, Given, Taken};
use super::desk;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::today;

const HTML: &str = "text/html; charset=utf-8";

/// What the server asks: the agreement's pages, and the desk's work around them.
pub(crate) fn office() -> Office {
    Office {
        file,
        agree,
        engagement: desk::engagement,
        name_seller: desk::name_seller,
        releases: super::releases::office(),
        again: super::again::office(),
        words: super::words::words(),
    }
}

/// A job of the server's store, for whoever acts in it.
pub(super) fn open(
    store: &Store,
    job: &JobId,
    by: Option<String>,
) -> Result<(Place, OpenJob), Failure> {
    let place = Place { data: Some(store.folder().to_owned()), by };
    let job = OpenJob::open(&place, job.as_str())?;
    Ok((place, job))
}

fn file(store: &Store, job: &JobId, name: &str) -> Result<Option<OfficeFile>, String> {
    let said = |failure: Failure| failure.message().to_owned();
    if let Some((media_type, bytes)) = agreement_file(name) {
        return Ok(Some(OfficeFile { media_type, bytes: bytes.to_vec() }));
    }
    if !["index.html", "agreement.pdf", "agreement.txt"].contains(&name) {
        return Ok(None);
    }
    let (place, job) = open(store, job, None).map_err(said)?;
    let letter = agreements::letter(&place, &job, Paper::Letter).map_err(said)?;
    let (media_type, bytes) = match name {
        "agreement.pdf" => {
            let made = letter_pdf(&letter).map_err(|error| error.to_string())?;
            ("application/pdf", made.pdf)
        }
        "agreement.txt" => ("text/plain; charset=utf-8", text(&letter).into_bytes()),
        _ => (HTML, page(&job, &letter, None, "", false).into_bytes()),
    };
    Ok(Some(OfficeFile { media_type, bytes }))
}

/// The text that was agreed to, or that is to be.
fn text(letter: &Letter) -> String {
    letter.attached.as_ref().map_or_else(|| letter.text(), |attached| attached.text.clone())
}

/// The page as things stand.
fn page(job: &OpenJob, letter: &Letter, notice: Option<Notice>, name: &str, now: bool) -> String {
    let inspection = job.inspection();
    let text_sha256 = Sha256Hex::of(text(letter).as_bytes());
    match agreements::holding(&inspection.job) {
        Some((_, consent)) => {
            let by = signed_by(&letter.words, consent);
            let state = AgreementPage::Agreed { by: &by, text_sha256: text_sha256.as_str(), now };
            agreement_page(letter, state)
        }
        None => {
            let state = AgreementPage::ToAgree { text_sha256: text_sha256.as_str(), notice, name };
            agreement_page(letter, state)
        }
    }
}

fn agree(store: &Store, job: &JobId, given: &GivenConsent) -> Result<(bool, OfficeFile), String> {
    let said = |failure: Failure| failure.message().to_owned();
    let name = agreements::name(&given.name);
    let (place, mut job) = open(store, job, name.clone()).map_err(said)?;
    let drawn = DrawnSignature::read(&given.drawn);
    let notice = match (&name, given.ticked, &drawn) {
        (None, ..) => Some(Notice::Name),
        (_, false, _) => Some(Notice::Box),
        (_, _, Err(_)) => Some(Notice::Drawing),
        (Some(_), true, Ok(_)) => None,
    };
    let already = agreements::holding(&job.inspection().job).is_some();
    let (notice, now) = match (notice, name) {
        // One consent to one text: whoever sends the form twice is shown what was agreed.
        _ if already => (None, false),
        (None, Some(name)) => {
            let drawn = drawn.unwrap_or_default();
            let how = if drawn.is_empty() { ConsentWay::Typed } else { ConsentWay::Drawn };
            let given = Given {
                name: &name,
                how,
                at: today::now(),
                address: &given.address,
                drawn,
                by: "",
                text_sha256: Some(&given.text_sha256),
            };
            match agreements::take(&place, &mut job, &given).map_err(said)? {
                Taken::Kept | Taken::Known => (None, true),
                Taken::Outdated => (Some(Notice::Changed), false),
            }
        }
        (notice, _) => (notice, false),
    };
    let letter = agreements::letter(&place, &job, Paper::Letter).map_err(said)?;
    let html = page(&job, &letter, notice, &given.name, now);
    Ok((notice.is_none(), OfficeFile { media_type: HTML, bytes: html.into_bytes() }))
}
