//! The agreement of a job as the client reads it, and the consent that is taken to it.

use findings::{Agreed, agreed, agreed_sha256};
use inspection::{Consent, ConsentId, ConsentWay, DrawnSignature, Inspection, Job};
use plan::Plan;
use record::Edit;
use report::content::Paper;
use report::letter::{Letter, agreement};
use store::Sha256Hex;

use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::report_pages::last_change;
use crate::speaking::Speaking;
use crate::today;

/// The program's name and version, as papers name it.
pub(crate) fn program() -> String {
    format!("Nearside {}", env!("CARGO_PKG_VERSION"))
}

/// The plan in the agreement's language, in the firm's words where it has its own.
pub(crate) fn spoken_plan(place: &Place, plan: &Plan, language: &str) -> Result<Plan, Failure> {
    let code = if language.is_empty() { "en" } else { language };
    Ok(Speaking::in_language(code).of(place, plan)?.plan)
}

/// The agreement as it stands, with the consent under it that holds.
pub(crate) fn letter(place: &Place, job: &OpenJob, paper: Paper) -> Result<Letter, Failure> {
    let inspection = job.inspection();
    let plan = spoken_plan(place, &job.plan, language(&inspection.job))?;
    letter_of(&plan, &inspection, holding(&inspection.job).map(|(_, consent)| consent), paper, job)
}

fn letter_of(
    plan: &Plan,
    inspection: &Inspection,
    consent: Option<&Consent>,
    paper: Paper,
    job: &OpenJob,
) -> Result<Letter, Failure> {
    let issued = last_change(&job.record.trail());
    agreement(plan, &inspection.job, consent, (paper, issued, program())).map_err(Failure::input)
}

/// The language of what was put to the client.
pub(crate) fn language(job: &Job) -> &str {
    job.engagement.agreement.as_ref().map_or("", |agreement| agreement.language.as_str())
}

/// The consent that holds.
pub(crate) fn holding(job: &Job) -> Option<(&ConsentId, &Consent)> {
    match agreed(job) {
        Agreed::Holds(id) => job.engagement.consents.get_key_value(&id),
        Agreed::Nothing | Agreed::InWords | Agreed::Waiting | Agreed::Otherwise(_) => None,
    }
}

/// The word for where an agreement stands, in JSON.
pub(crate) fn state_word(job: &Job) -> &'static str {
    match agreed(job) {
        Agreed::Nothing => "nothing",
        Agreed::InWords => "in_words",
        Agreed::Waiting => "waiting",
        Agreed::Holds(_) => "agreed",
        Agreed::Otherwise(_) => "agreed_otherwise",
    }
}

/// Where an agreement stands, in a sentence.
pub(crate) fn state_in_words(job: &Job) -> String {
    let who = |id: &ConsentId| {
        job.engagement
            .consents
            .get(id)
            .map_or_else(String::new, |consent| format!("{} on {}", consent.name, consent.at))
    };
    match agreed(job) {
        Agreed::Nothing => "nothing was put to the client".to_owned(),
        Agreed::InWords => format!("recorded in words: {}", job.engagement.consent),
        Agreed::Waiting => "waits for the client's consent".to_owned(),
        Agreed::Holds(id) => format!("agreed by {}", who(&id)),
        Agreed::Otherwise(id) => {
            format!("changed since it was agreed by {}; needs a new consent", who(&id))
        }
    }
}

/// A consent that somebody gives.
pub(crate) struct Given<'a> {
    pub(crate) name: &'a str,
    pub(crate) how: ConsentWay,
    pub(crate) at: inspection::Moment,
    pub(crate) address: &'a str,
    pub(crate) drawn: DrawnSignature,
    pub(crate) by: &'a str,
    /// The text that was read, by its SHA-256; none where it is the one that holds now.
    pub(crate) text_sha256: Option<&'a str>,
}

/// What became of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Taken {
    /// It is in the record, on disk.
    Kept,
    /// The same person agreed to the same already.
    Known,
    /// The text that was read is not the one that holds.
    Outdated,
}

/// Takes a consent into the job's record: held against the record as it is at that very moment, and on disk when this
/// returns.
pub(crate) fn take(place: &Place, job: &mut OpenJob, given: &Given<'_>) -> Result<Taken, Failure> {
    let code = language(&job.inspection().job).to_owned();
    let plan = spoken_plan(place, &job.plan, &code)?;
    let mut outcome: Result<Taken, Failure> = Ok(Taken::Known);
    let kept = job.edit(|record, author| {
        let (inspection, _) = record.inspection();
        let made = (Paper::Letter, report::content::Issued::default(), String::new());
        let text = match agreement(&plan, &inspection.job, None, made) {
            Ok(letter) => letter.text(),
            Err(why) => {
                outcome = Err(Failure::input(why));
                return Vec::new();
            }
        };
        let sha256 = Sha256Hex::of(text.as_bytes());
        // Whoever changed the language meanwhile changed the text.
        let same_language = language(&inspection.job) == code;
        if !same_language || given.text_sha256.is_some_and(|read| read != sha256.as_str()) {
            outcome = Ok(Taken::Outdated);
            return Vec::new();
        }
        let now = agreed_sha256(&inspection.job);
        let mut known = inspection.job.engagement.consents.values();
        if known.any(|consent| consent.agreed == now && consent.name == given.name) {
            return Vec::new();
        }
        let consent = Consent {
            name: given.name.to_owned(),
            at: given.at,
            how: given.how,
            address: given.address.to_owned(),
            drawn: given.drawn.clone(),
            agreed: now,
            text,
            by: given.by.to_owned(),
        };
        let id = ConsentId::from(record.fresh_id(author, 0));
        vec![Edit::AddConsent { id, consent: Box::new(consent) }]
    })?;
    if kept { Ok(Taken::Kept) } else { outcome }
}

/// Now, or the time that was named, with the offset from universal time.
pub(crate) fn moment(text: Option<&str>) -> Result<inspection::Moment, Failure> {
    let now = today::now();
    let Some(text) = text else { return Ok(now) };
    let read = inspection::Moment::parse(text)
        .or_else(|sentence| match text.parse::<jiff::civil::Date>() {
            Ok(day) => inspection::Moment::parse(&format!("{day}T12:00")),
            Err(_) => Err(sentence),
        })
        .map_err(|sentence| Failure::input(format!("--at: {sentence}")))?;
    let offset_minutes = read.offset_minutes.or_else(|| {
        let zoned = read.local.to_zoned_datetime(jiff::tz::TimeZone::system()).ok()?;
        i16::try_from(zoned.offset().seconds() / 60).ok()
    });
    Ok(inspection::Moment { offset_minutes, ..read })
}

/// A person's name on one line.
pub(crate) fn name(text: &str) -> Option<String> {
    let name = text.trim();
    let fits = (1..=200).contains(&name.chars().count()) && !name.chars().any(char::is_control);
    (fits && name.chars().any(char::is_alphabetic)).then(|| name.to_owned())
}
