//! `nearside release`: freezes a job's state and signs it.

use std::io::Write;

use ::report::{Options, Stage};
use bag::{
    Accepted, Correction, PdfSigner, PublicKey, Release, Role, SigningKey, Statement, sign,
    sign_pdf,
};
use clap::Args;
use serde_json::json;
use server::ReleaseStep;

use crate::bags::keys::KeyArguments;
use crate::bags::pack::{Packed, pack};
use crate::bags::time_stamps::{self, Service};
use crate::bags::{matters, releases};
use crate::commands::finding;
use crate::commands::report::{PaperSize, Units};
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::progress;
use crate::report_pages::{OfRelease, Pages};
use crate::speaking::{Speaking, Spoken};
use crate::today;

/// Releases a job: freezes record, plan, photos, assessment and report as they stand, and signs them with your key.
///
/// Every matter that is open (a point that nobody settled, a missing reading or photo, a verdict that is undecided, a
/// finding that is only a draft) must be settled first, or accepted in words with --accept; the words go into the release
/// beside the matter. What is released never changes; a correction is another release, which says with --because what
/// changed.
///
/// With --time-stamp a service that you name (RFC 3161) confirms when the release was there; only a hash is sent. If it
/// cannot be reached, the release is made all the same, and `nearside stamp` asks again later.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  nearside release 2026-001\n  \
                        nearside release 2026-001 --accept \"2,3: the owner had no key to that compartment\"\n  \
                        nearside release 2026-001 --accept \"all of them are told to the client\"\n  \
                        nearside release 2026-001 --because \"the serial number was misread\"\n  \
                        nearside release 2026-001 --time-stamp http://time.example/stamp")]
pub(crate) struct ReleaseArguments {
    /// The job's number
    job: String,
    /// Accepts open matters in words: `2,3: WORDS` those with these numbers, `WORDS` all that are left
    #[arg(long, value_name = "WORDS")]
    accept: Vec<String>,
    /// What this release corrects and why; needed from the second release on
    #[arg(long, value_name = "WORDS")]
    because: Option<String>,
    /// Who is to countersign, by name; until then `nearside verify` says that it is awaited
    #[arg(long, value_name = "NAME")]
    countersigner: Option<String>,
    /// The address of a time stamp service (RFC 3161) that is to confirm when the release was there; none if left out
    #[arg(long, value_name = "ADDRESS")]
    time_stamp: Option<String>,
    /// The policy under which that service is to stamp, an object identifier such as 1.2.3.4; its own if left out
    #[arg(long, value_name = "POLICY", requires = "time_stamp")]
    time_stamp_policy: Option<String>,
    /// Size of the report's pages
    #[arg(long, value_enum, default_value_t = PaperSize::Letter)]
    paper: PaperSize,
    /// Units of the report's values
    #[arg(long, value_enum, default_value_t = Units::Us)]
    units: Units,
    #[command(flatten)]
    speaking: Speaking,
    #[command(flatten)]
    key: KeyArguments,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

/// Steps of a release that are told.
const STEPS: usize = 5;

/// On what terms a job is released.
#[derive(Debug, Default)]
pub(crate) struct Terms {
    pub(crate) accept: Vec<String>,
    pub(crate) because: Option<String>,
    pub(crate) countersigner: Option<String>,
}

pub(crate) fn run(place: &Place, arguments: &ReleaseArguments) -> Result<(), Failure> {
    let policy = arguments.time_stamp_policy.as_deref();
    let service = arguments.time_stamp.as_deref().map(|it| Service::new(it, policy)).transpose()?;
    let job = OpenJob::open(place, &arguments.job)?;
    let terms = Terms {
        accept: arguments.accept.clone(),
        because: arguments.because.clone(),
        countersigner: arguments.countersigner.clone(),
    };
    for remark in finding::remarks(&job, &job.inspection())? {
        eprintln!("remark: {remark}");
    }
    // What must be true first is said before anybody types a passphrase.
    let draft = draft(&job, &terms)?;
    let spoken = arguments.speaking.of(place, &job.plan)?;
    let key = arguments.key.open(place)?;
    let made = arguments.key.made(place)?;
    let options = Options {
        paper: arguments.paper.paper(),
        units: arguments.units.system(),
        ..Options::default()
    };
    let bar = progress::bar(STEPS, "release");
    let mut packed = release(&job, &spoken, options, draft, &key, &made, &|_| bar.inc(1))?;
    bar.finish_and_clear();
    let Some(release) = packed.state.release.clone() else {
        return Err(Failure::failed("the release got lost on its way"));
    };
    // The release is kept by now: whatever becomes of the stamp, it stands.
    let stamp = service.map(|service| {
        let stamped = service.stamp(&job.store, &job.id, release.number, &mut packed.bag);
        stamped.unwrap_or_else(|failure| Err(failure.message().to_owned()))
    });
    if let Some(Err(why)) = &stamp {
        eprintln!(
            "note: the release has no time stamp yet: {why}\n\
             note: it stands without one; `nearside stamp {} ADDRESS` asks again",
            packed.state.job
        );
    }
    for remark in &packed.remarks {
        eprintln!("note: {remark}");
    }
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let object = json!({
            "job": packed.state.job,
            "release": release.number,
            "released_at": release.released_at,
            "key": release.key,
            "tag_manifest_sha256": packed.bag.tag_manifest_sha256(),
            "report_sha256": packed.state.report.sha256,
            "accepted": release.accepted.len(),
            "time_stamp": stamp.and_then(Result::ok).as_ref().map(time_stamps::object),
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    writeln!(
        out,
        "job {}, release {}, signed by key {}",
        packed.state.job, release.number, release.key
    )?;
    for accepted in &release.accepted {
        writeln!(out, "  open and accepted: {}", accepted.matter)?;
    }
    writeln!(out, "hash of everything: {}", packed.bag.tag_manifest_sha256())?;
    for line in stamp.iter().flatten().flat_map(time_stamps::lines) {
        writeln!(out, "{line}")?;
    }
    writeln!(out, "write it out: nearside export {}", packed.state.job)?;
    Ok(())
}

/// A release that lacks only its key.
pub(crate) struct Draft {
    number: u32,
    accepted: Vec<Accepted>,
    corrects: Option<Correction>,
    countersigner: Option<String>,
    by: String,
}

/// Checks what must be true before a release.
pub(crate) fn draft(job: &OpenJob, terms: &Terms) -> Result<Draft, Failure> {
    let by = inspector(job)?;
    let open = matters::open(job).into_iter().map(|one| one.matter).collect();
    let accepted = accepted(&job.id.to_string(), open, &terms.accept)?;
    drafted(job, by, accepted, terms)
}

/// Who releases the job: its inspector, and nobody else.
pub(crate) fn inspector(job: &OpenJob) -> Result<String, Failure> {
    let inspector = job.inspection().job.inspector;
    if inspector.trim().is_empty() {
        return Err(Failure::input("the job names no inspector, and nobody else can release it")
            .hint("enter the inspector on the job's sheet"));
    }
    Ok(inspector)
}

/// The same where every open matter was accepted already.
pub(crate) fn drafted(
    job: &OpenJob,
    by: String,
    accepted: Vec<Accepted>,
    terms: &Terms,
) -> Result<Draft, Failure> {
    let known = releases::list(&job.store, &job.id)?;
    let words =
        |words: &Option<String>| words.as_deref().map(str::trim).unwrap_or_default().to_owned();
    let because = words(&terms.because);
    let corrects = match known.last() {
        None if because.is_empty() => None,
        None => {
            return Err(Failure::input(
                "the job was never released, so there is nothing to correct",
            )
            .hint("leave out --because"));
        }
        Some(last) if because.is_empty() => {
            return Err(Failure::input(format!(
                "job {} has release {} already; another one corrects it and says why",
                job.id, last.number
            ))
            .hint(
                "add --because \"what changed and why\"; `nearside compare` shows what changed",
            ));
        }
        Some(last) => {
            let state = releases::state(&job.store, &releases::bag(&job.store, last)?)?;
            Some(Correction {
                release: last.number,
                tag_manifest_sha256: last.tag_manifest,
                released_at: state.release.map(|release| release.released_at),
                because,
            })
        }
    };
    let countersigner = words(&terms.countersigner);
    Ok(Draft {
        number: known.last().map_or(1, |last| last.number + 1),
        accepted,
        corrects,
        countersigner: Some(countersigner).filter(|name| !name.is_empty()),
        by,
    })
}

/// Freezes, signs and keeps a release. `made` is the day of the key, from which on the certificate in the report holds; `at`
/// is told how far it has come.
pub(crate) fn release(
    job: &OpenJob,
    spoken: &Spoken,
    options: Options,
    draft: Draft,
    key: &SigningKey,
    made: &str,
    at: &dyn Fn(ReleaseStep),
) -> Result<Packed, Failure> {
    let public = key.public();
    let released_at = today::in_universal_time(today::unix_seconds());
    let stage = |stage| {
        at(match stage {
            Stage::Photos => ReleaseStep::Photos,
            Stage::Layout => ReleaseStep::Layout,
            Stage::Writing => ReleaseStep::Writing,
        });
    };
    let release = Release {
        number: draft.number,
        released_at: released_at.clone(),
        released_by: draft.by.clone(),
        key: public.thumbprint(),
        accepted: draft.accepted,
        corrects: draft.corrects,
        countersigner: draft.countersigner,
    };
    let signed = signed_words(spoken, &public, &released_at);
    let pages = Pages::of(job, spoken, options, OfRelease::new(&release, signed));
    let mut typeset = pages.typeset_told(job, &stage)?;
    at(ReleaseStep::Signing);
    let signer = PdfSigner {
        name: draft.by.clone(),
        thumbprint: public.thumbprint(),
        since: made.to_owned(),
        at: released_at.clone(),
    };
    typeset.pdf = sign_pdf(&typeset.pdf, key, &signer)
        .map_err(|why| Failure::failed(format!("the report could not be signed: {why}")))?;
    let mut packed = pack(job, &pages, &typeset, spoken, options, Some(release))?;
    if let Some(absent) = packed.state.absent_photos.first() {
        return Err(Failure::failed(format!(
            "{} photos of the record are not in this data folder, the first {absent}; a release holds every photo",
            packed.state.absent_photos.len()
        ))
        .hint("take them in again, or import a bag that has them"));
    }
    if let Some(absent) = packed.state.absent_memos.first() {
        return Err(Failure::failed(format!(
            "{} voice memos of the record are not in this data folder, the first {absent}; a release holds every one that was not struck out",
            packed.state.absent_memos.len()
        ))
        .hint("let the phone that recorded them copy them, or strike them out there"));
    }
    let statement = Statement {
        role: Role::Inspector,
        name: draft.by,
        signed_at: released_at,
        job: packed.state.job.clone(),
        release: draft.number,
        heads: packed.state.record_heads.clone(),
        tag_manifest_sha256: packed.bag.tag_manifest_sha256(),
    };
    packed.bag.add_signature(Role::Inspector, &public, &sign(key, &statement));
    at(ReleaseStep::Keeping);
    releases::keep(&job.store, &job.id, draft.number, &packed.bag)?;
    Ok(packed)
}

/// What the report's signature page says.
fn signed_words(spoken: &Spoken, key: &PublicKey, released_at: &str) -> String {
    let say = &spoken.plan.words;
    if key.is_demonstration() {
        return say.say_with(
            "Signed electronically on {moment} with the demonstration key, which everybody has: a sample, not a signature",
            &[("moment", released_at)],
        );
    }
    say.say_with(
        "Signed electronically on {moment} with key {key}; the bag of this release holds the signature",
        &[("moment", released_at), ("key", &key.thumbprint())],
    )
}

/// The matters with the words in which each is accepted.
fn accepted(job: &str, matters: Vec<String>, accept: &[String]) -> Result<Vec<Accepted>, Failure> {
    let mut words: Vec<String> = vec![String::new(); matters.len()];
    let mut for_the_rest = String::new();
    for given in accept {
        let (numbers, said) = numbered(given);
        if said.trim().is_empty() {
            return Err(Failure::input(
                "--accept has no words; say why the report is released all the same",
            ));
        }
        if numbers.is_empty() {
            said.trim().clone_into(&mut for_the_rest);
        }
        for number in numbers {
            let slot = number.checked_sub(1).and_then(|at| words.get_mut(at)).ok_or_else(|| {
                Failure::input(format!(
                    "no open matter has the number {number}; there are {}",
                    matters.len()
                ))
            })?;
            said.trim().clone_into(slot);
        }
    }
    words
        .iter_mut()
        .filter(|words| words.is_empty())
        .for_each(|words| words.clone_from(&for_the_rest));
    let open: Vec<String> = matters
        .iter()
        .zip(&words)
        .enumerate()
        .filter(|(_, (_, words))| words.is_empty())
        .map(|(at, (matter, _))| format!("{:>3}. {matter}", at + 1))
        .collect();
    if !open.is_empty() {
        let count = if open.len() == 1 {
            "one matter is".to_owned()
        } else {
            format!("{} matters are", open.len())
        };
        return Err(Failure::input(format!(
            "job {job} is not ready to be released; {count} open:\n{}",
            open.join("\n")
        ))
        .hint(
            "settle them, or accept them in words that go into the release: --accept \"1,2: WORDS\", --accept \"WORDS\" for \
             all that are left",
        ));
    }
    Ok(matters.into_iter().zip(words).map(|(matter, words)| Accepted { matter, words }).collect())
}

/// `2,3: words` as its numbers and words; no numbers where the text does not begin so.
fn numbered(text: &str) -> (Vec<usize>, &str) {
    let Some((before, words)) = text.split_once(':') else { return (Vec::new(), text) };
    let numbers: Option<Vec<usize>> =
        before.split(',').map(|number| number.trim().parse().ok()).collect();
    numbers.map_or((Vec::new(), text), |numbers| (numbers, words))
}

#[cfg(test)]
mod tests {
    use super::{accepted, numbered};

    fn matters() -> Vec<String> {
        ["one", "two", "three"].map(str::to_owned).to_vec()
    }

    #[test]
    fn a_matter_is_accepted_by_its_number_or_with_the_rest() {
        let words = |accept: &[&str]| {
            let accept: Vec<String> = accept.iter().map(|&it| it.to_owned()).collect();
            accepted("1", matters(), &accept)
                .map(|all| all.into_iter().map(|one| one.words).collect::<Vec<_>>())
        };
        assert_eq!(words(&["known"]).unwrap(), ["known", "known", "known"]);
        assert_eq!(words(&["1, 3: no key", "told"]).unwrap(), ["no key", "told", "no key"]);
        for refused in [&["1: x"][..], &[], &["4: x", "y"], &["0: x", "y"], &["  "], &["2:"]] {
            assert!(words(refused).is_err(), "{refused:?}");
        }
        assert!(accepted("1", Vec::new(), &[]).unwrap().is_empty());
    }

    #[test]
    fn words_with_a_colon_are_words() {
        assert_eq!(numbered("told by telephone: yes"), (vec![], "told by telephone: yes"));
        assert_eq!(numbered("2,3: it is so: yes"), (vec![2, 3], " it is so: yes"));
    }
}
