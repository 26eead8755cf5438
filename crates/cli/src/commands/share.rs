//! `nearside share`: the client's page at an address that nobody can guess.

use std::io::Write;

use clap::{Args, Subcommand};
use jiff::Timestamp;
use report::Options;
use report::letter::waiting_page;
use serde_json::json;
use store::{ClientFile, LeadsTo, Sha256Hex, Store, StoredClientLink};

use crate::arguments::print_help_of;
use crate::commands::near_hint;
use crate::commands::page::{PDF, made, pages_of};
use crate::commands::report::Units;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::office::links::{self, Address, time};
use crate::office::waiting::pages_wait;
use crate::open_job::OpenJob;
use crate::report_pages::Pages;
use crate::speaking::{Speaking, Spoken};

const HTML: &str = "text/html; charset=utf-8";

/// Gives a client an address at which they read their page, for a time; lists and revokes such addresses, also those of
/// agreements.
///
/// The address leads to what the job says now: a later change of the job needs a new one. Whoever has the address can read
/// the page, so send it as you would send the report. `nearside serve` must run where the client can reach it.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside share new 2026-001 --days 14\n  nearside share list\n  nearside share revoke 4f0c9a1be27d"
)]
pub(crate) struct ShareArguments {
    #[command(subcommand)]
    command: Option<ShareCommand>,
}

#[derive(Subcommand, Debug)]
enum ShareCommand {
    New(NewArguments),
    List(ListArguments),
    Revoke(RevokeArguments),
}

/// Makes an address for a job's page and prints it, this once.
///
/// With --after-payment the page says that the report is ready and waits, and shows nothing of it until every invoice of the
/// job is noted as paid (`nearside invoice paid`).
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside share new 2026-001 --days 14\n  nearside share new 2026-001 --language es\n  nearside share new 2026-001 --after-payment"
)]
struct NewArguments {
    /// The job's number
    job: String,
    /// For how many days it is good
    #[arg(long, value_name = "DAYS", default_value_t = 30, value_parser = clap::value_parser!(u16).range(1..=3660))]
    days: u16,
    /// Units of the values
    #[arg(long, value_enum, default_value_t = Units::Us)]
    units: Units,
    #[command(flatten)]
    speaking: Speaking,
    /// Leave the printed report out
    #[arg(long)]
    without_pdf: bool,
    /// Show nothing of it until the job's invoices are paid; then it opens by itself
    #[arg(long)]
    after_payment: bool,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

/// Lists the addresses: which job, until when, and when each page was opened.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  nearside share list\n  nearside share list --json")]
struct ListArguments {
    /// Print a JSON array
    #[arg(long)]
    json: bool,
}

/// Shuts an address at once.
#[derive(Args, Debug)]
#[command(after_help = "Example: nearside share revoke 4f0c9a1be27d")]
struct RevokeArguments {
    /// Its id, as `list` shows it
    link: String,
}

pub(crate) fn run(place: &Place, arguments: &ShareArguments) -> Result<(), Failure> {
    match &arguments.command {
        None => {
            print_help_of(&["share"]);
            Ok(())
        }
        Some(ShareCommand::New(new)) => self::new(place, new),
        Some(ShareCommand::List(list)) => self::list(place, list),
        Some(ShareCommand::Revoke(revoke)) => self::revoke(place, revoke),
    }
}

fn new(place: &Place, arguments: &NewArguments) -> Result<(), Failure> {
    let job = OpenJob::open(place, &arguments.job)?;
    links::server_address(&job.store)?;
    let after_payment = arguments.after_payment || pages_wait(&job.store, &job.id)?;
    if arguments.after_payment && !invoiced(&job)? {
        return Err(Failure::input(format!("job {} has no invoice that could be paid", job.id))
            .hint(format!("make it first: nearside invoice make {}", job.id)));
    }
    let options = Options { units: arguments.units.system(), ..Options::default() };
    let spoken = arguments.speaking.of(place, &job.plan)?;
    let (pages, pdf) = pages_of(&job, &spoken, options, !arguments.without_pdf)?;
    let terms = Terms { days: arguments.days, after_payment };
    let made = give(&job, &spoken, &pages, pdf.as_deref(), terms)?;
    for remark in &made.remarks {
        eprintln!("note: {remark}");
    }
    let Shared { address: Address { address, expires_ms }, files, .. } = made;
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let object = json!({"job": arguments.job, "address": address, "until": time(expires_ms), "files": files});
        writeln!(out, "{object}")?;
        return Ok(());
    }
    writeln!(out, "{address}")?;
    writeln!(out, "good until {}; it is shown this once, so copy it now", time(expires_ms))?;
    if after_payment {
        writeln!(out, "it shows nothing of the report until the job's invoices are paid")?;
    }
    Ok(())
}

/// On what terms an address is given.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Terms {
    /// For how many days it is good.
    pub(crate) days: u16,
    /// Whether it shows nothing of the report until the job's invoices are paid.
    pub(crate) after_payment: bool,
}

/// A page that has an address now.
pub(crate) struct Shared {
    pub(crate) address: Address,
    /// What whoever hands it out should know first.
    pub(crate) remarks: Vec<String>,
    /// How many files it has.
    pub(crate) files: usize,
}

/// Makes the page of a job, with the printed report beside it if there is one, keeps it and gives it an address.
pub(crate) fn give(
    job: &OpenJob,
    spoken: &Spoken,
    pages: &Pages,
    pdf: Option<&[u8]>,
    terms: Terms,
) -> Result<Shared, Failure> {
    let page = made(job, pages, pdf.is_some())?;
    let mut files = Vec::new();
    for file in &page.files {
        files.push(kept(&job.store, &file.name, file.media_type, &file.bytes)?);
    }
    if let Some(pdf) = pdf {
        files.push(kept(&job.store, PDF, "application/pdf", pdf)?);
    }
    // What stands for a page that waits is kept with each: whether it waits can be said later, too.
    let job_now = job.inspection().job;
    let say = &spoken.plan.words;
    let html = waiting_page(&spoken.plan.language, say, &job_now.number, &job_now.inspector);
    files.push(kept(&job.store, "waiting.html", HTML, html.as_bytes())?);
    if let Some(look) = page.files.iter().find(|file| file.name == "page.css") {
        files.push(kept(&job.store, "waiting.css", look.media_type, &look.bytes)?);
    }
    let leads_to = LeadsTo::Page { after_payment: terms.after_payment };
    let address = links::new(&job.store, &job.id, leads_to, terms.days, &files)?;
    Ok(Shared { address, remarks: page.remarks, files: files.len() })
}

/// Whether the job has an invoice that stands.
pub(crate) fn invoiced(job: &OpenJob) -> Result<bool, Failure> {
    let invoices = job.store.invoices()?;
    Ok(invoices
        .iter()
        .any(|one| one.job == job.id && one.cancels.is_none() && one.cancelled_by.is_none()))
}

/// A file of the page, on disk.
fn kept(store: &Store, name: &str, media_type: &str, bytes: &[u8]) -> Result<ClientFile, Failure> {
    let blob: Sha256Hex = store.put_blob(bytes)?;
    Ok(ClientFile { name: name.to_owned(), media_type: media_type.to_owned(), blob })
}

fn list(place: &Place, arguments: &ListArguments) -> Result<(), Failure> {
    let links = place.store()?.client_links()?;
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let all: Vec<_> = links
            .iter()
            .map(|link| {
                json!({
                    "link": link.id,
                    "job": link.job.as_str(),
                    "leads_to": match link.leads_to {
                        LeadsTo::Page { .. } => "page",
                        LeadsTo::Agreement => "agreement",
                    },
                    "waits_for_payment": link.waits,
                    "made": time(link.made_unix_ms),
                    "until": time(link.expires_unix_ms),
                    "revoked": link.revoked_unix_ms.map(time),
                    "views": link.views_unix_ms.iter().map(|at| time(*at)).collect::<Vec<_>>(),
                })
            })
            .collect();
        writeln!(out, "{}", serde_json::Value::Array(all))?;
        return Ok(());
    }
    if links.is_empty() {
        writeln!(out, "no page has been given an address; `nearside share new JOB` makes one")?;
    }
    let now = Timestamp::now().as_millisecond();
    for link in &links {
        let what = match (link.leads_to, link.waits) {
            (LeadsTo::Agreement, _) => ", agreement",
            (LeadsTo::Page { .. }, true) => ", waits for payment",
            (LeadsTo::Page { .. }, false) => "",
        };
        writeln!(
            out,
            "{}  job {}{what}, {}; {}",
            link.id,
            link.job,
            standing(link, now),
            views(link)
        )?;
    }
    Ok(())
}

fn standing(link: &StoredClientLink, now: i64) -> String {
    match link.revoked_unix_ms {
        Some(at) => format!("revoked {}", time(at)),
        None if link.expires_unix_ms <= now => format!("over since {}", time(link.expires_unix_ms)),
        None => format!("good until {}", time(link.expires_unix_ms)),
    }
}

fn views(link: &StoredClientLink) -> String {
    match link.views_unix_ms.as_slice() {
        [] => "not opened yet".to_owned(),
        [once] => format!("opened once, {}", time(*once)),
        [first, .., last] => format!(
            "opened {} times, first {}, last {}",
            link.views_unix_ms.len(),
            time(*first),
            time(*last)
        ),
    }
}

fn revoke(place: &Place, arguments: &RevokeArguments) -> Result<(), Failure> {
    let store = place.store()?;
    if store.revoke_client_link(&arguments.link, Timestamp::now().as_millisecond())? {
        writeln!(std::io::stdout().lock(), "{} shows nothing from now on", arguments.link)?;
        return Ok(());
    }
    let links = store.client_links()?;
    let good = links.iter().filter(|link| link.revoked_unix_ms.is_none());
    Err(Failure::input(format!("no address that is good has the id `{}`", arguments.link))
        .hint(near_hint(&arguments.link, good.map(|link| link.id.as_str()))))
}
