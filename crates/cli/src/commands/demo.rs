//! `nearside demo`: a complete invented job, made the way a person makes one.

use std::io::Write;
use std::num::NonZero;
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use bag::SigningKey;
use clap::Args;
use inspection::{ConsentWay, Dwelling};
use record::Author;
use report::Options;
use report::content::Paper;
use report::letter::{Seller, letter_pdf};
use serde_json::json;
use store::Store;

use crate::bags::{self, pack::Packed};
use crate::commands::invoice::{make, show};
use crate::commands::{job::fill, page, release};
use crate::data_folder::{Place, device, write_file};
use crate::failure::Failure;
use crate::office::agreements::{self, Given};
use crate::office::charges::ChargeArguments;
use crate::office::invoices;
use crate::open_job::{self, OpenJob, unit_in_words};
use crate::report_pages::{OfRelease, Pages};
use crate::speaking::Spoken;
use crate::{photos, progress};

/// Makes a complete invented job in a folder of its own: photos, filled sheet, findings, report.
///
/// The job is released with a demonstration key, and its bag left beside the report, to try `nearside verify` with. Everybody
/// has that key: its signature shows how signing works, and nothing else.
///
/// Everybody and everything in it is invented; the program draws the photos itself. The folder is an
/// ordinary data folder afterwards: every command takes it with --data. The photos stay in its folder
/// `camera` and the filled sheet in `sheet.toml`, to try `nearside job fill` with.
///
/// With --stop-work it is the same visit with another end to its gas: one cylinder is overfilled and the piping
/// does not hold its pressure, so nothing is lit. The report then holds the use of gas on its front page, with
/// what to do at once.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside demo\n  nearside demo --into somewhere/else\n  nearside demo --stop-work \
                  --into demo-stop-work"
)]
pub(crate) struct DemoArguments {
    /// Folder to make it in: a new or empty one, or a data folder without this job
    #[arg(long, value_name = "DIR", default_value = "demo-job")]
    into: PathBuf,
    /// The same visit where work on the gas stopped: an overfilled cylinder, piping that loses pressure
    #[arg(long)]
    stop_work: bool,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &DemoArguments) -> Result<(), Failure> {
    let folder = arguments.into.as_path();
    let Made { job, camera, sheet } = make(place, folder, arguments.stop_work)?;
    let number = job.id.to_string();
    let report = folder.join("report.pdf");
    let (packed, bag) = release_for_show(&job, folder)?;
    let pdf = packed.report();
    write_file(&report, pdf)?;
    for remark in &packed.remarks {
        eprintln!("note: {remark}");
    }
    papers(&Place { data: Some(folder.to_owned()), by: place.by.clone() }, &job, folder)?;
    let page = folder.join("page");
    let of_release = packed.state.release.as_ref().map(|it| OfRelease::new(it, String::new()));
    let spoken = Spoken::plain(&job.plan);
    let says = Pages::of(&job, &spoken, Options::default(), of_release.unwrap_or_default());
    page::write(&job, &says, &page, Some(pdf))?;
    let page = page.join("index.html");
    let pages = packed.state.report.pages;

    let inspection = job.inspection();
    let readings = inspection.readings.values().filter(|one| one.struck_out.is_none()).count();
    let assessment = findings::assess(&job.plan, &inspection);
    let uses: Vec<(&str, &str)> =
        assessment.uses.iter().map(|one| (one.which.word(), one.state.word())).collect();
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let object = json!({
            "job": number,
            "folder": folder.display().to_string(),
            "report": report.display().to_string(),
            "pages": pages,
            "page": page.display().to_string(),
            "bag": bag.display().to_string(),
            "photos": inspection.photos.len(),
            "readings": readings,
            "findings": assessment.findings.len(),
            "uses": uses.into_iter().collect::<std::collections::BTreeMap<_, _>>(),
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    let uses: Vec<String> = uses.iter().map(|(which, state)| format!("{which} {state}")).collect();
    writeln!(out, "job {number}: {}, all invented", unit_in_words(&inspection.dwelling))?;
    writeln!(
        out,
        "  {} points, {} readings, {} photos, {} findings",
        assessment.points.len(),
        readings,
        inspection.photos.len(),
        assessment.findings.len()
    )?;
    writeln!(out, "  {}", uses.join(", "))?;
    writeln!(out, "report: {} ({} pages)", report.display(), pages)?;
    writeln!(out, "page for the client: {}", page.display())?;
    writeln!(out, "agreement and invoice: agreement.pdf, invoice.pdf in {}", folder.display())?;
    writeln!(out, "photos: {}; filled sheet: {}", camera.display(), sheet.display())?;
    writeln!(
        out,
        "bag:    {} (released with the demonstration key, which everybody has)",
        bag.display()
    )?;
    let data = as_typed(folder);
    writeln!(out, "look:   nearside --data {data} job show {number}")?;
    writeln!(out, "        nearside --data {data} assess {number}")?;
    writeln!(out, "        nearside verify {}", as_typed(&bag))?;
    Ok(())
}

/// The invented job, and where the files lie that it was filled from.
pub(crate) struct Made {
    job: OpenJob,
    camera: PathBuf,
    sheet: PathBuf,
}

/// Makes the job in a folder, all but its report.
pub(crate) fn make(place: &Place, folder: &Path, stop_work: bool) -> Result<Made, Failure> {
    ready(folder)?;
    let store = Store::open(folder)?;
    let number = begin(place, &store, folder)?;

    let camera = folder.join("camera");
    let (text, shots) = if stop_work {
        (demo::stop_work_sheet(), demo::stop_work_shots())
    } else {
        (demo::sheet().to_owned(), demo::shots())
    };
    draw(&camera, &shots)?;
    let sheet = folder.join("sheet.toml");
    write_file(&sheet, text.as_bytes())?;

    let here = Place { data: Some(folder.to_owned()), by: place.by.clone() };
    let mut job = OpenJob::open(&here, &number)?;
    let files = photos::files_in(&camera)?;
    fill::fill(&mut job, &sheet.display().to_string(), &text, &files)?;
    agree(&here, &mut job)?;
    Ok(Made { job, camera, sheet })
}

/// Lets the invented client agree, and charges for the visit.
fn agree(place: &Place, job: &mut OpenJob) -> Result<(), Failure> {
    let (name, at, address, drawn) = demo::consent();
    let given = Given {
        name: &name,
        how: ConsentWay::Drawn,
        at,
        address: &address,
        drawn,
        by: "",
        text_sha256: None,
    };
    agreements::take(place, job, &given)?;
    let own = |text: &str| text.to_owned();
    // A folder that has jobs of its own keeps who charges there, and counts on.
    if invoices::seller(&job.store)?.is_none() {
        let seller = Seller {
            name: job.inspection().job.inspector,
            address: vec![own("9 Larkfield Lane"), own("Ferry Hollow, Vermont (invented)")],
            contact: own("dane.hollworth@example.com, 802-555-0117"),
            tax_number: own("Tax number DEMO-0417"),
            payment: own("By card or cheque within 14 days."),
            prefix: own("DEMO-"),
        };
        invoices::keep_seller(&job.store, &seller)?;
    }
    let charges = ChargeArguments::default();
    let asked =
        make::Asked { date: demo::VISIT, days: Some(14), charges: &charges, another: false };
    let made = make::make(job, &asked)?;
    let kept = invoices::with_number(&job.store, &made.number)?;
    job.store.add_payment(&kept.stored.id, &demo::VISIT.to_string(), kept.left(), "card")?;
    Ok(())
}

/// Leaves the agreement and the invoice beside the report.
fn papers(place: &Place, job: &OpenJob, folder: &Path) -> Result<(), Failure> {
    let letter = agreements::letter(place, job, Paper::Letter)?;
    let made = letter_pdf(&letter)
        .map_err(|error| Failure::failed(format!("the agreement could not be made: {error}")))?;
    write_file(&folder.join("agreement.pdf"), &made.pdf)?;
    let own = |one: &invoices::Kept| one.stored.job == job.id;
    for kept in invoices::all(&job.store)?.iter().filter(|one| own(one)) {
        let file = folder.join("invoice.pdf");
        show::write_pdf(place, &kept.facts, &kept.paid(), Paper::Letter, &file)?;
    }
    Ok(())
}

/// Releases the job with the demonstration key and leaves its bag as a folder; gives where that is.
fn release_for_show(job: &OpenJob, folder: &Path) -> Result<(Packed, PathBuf), Failure> {
    let accept =
        "An invented job: what is open here is open on purpose, to show how a release names it.";
    let terms = release::Terms { accept: vec![accept.to_owned()], ..release::Terms::default() };
    let draft = release::draft(job, &terms)?;
    let packed = release::release(
        job,
        &Spoken::plain(&job.plan),
        Options::default(),
        draft,
        &SigningKey::demonstration(),
        "2026-01-01",
        &|_| {},
    )?;
    let into = folder.join(packed.name());
    bags::write(&job.store, &packed.bag, &packed.name(), &into)?;
    Ok((packed, into))
}

/// Refuses a folder with other things in it.
fn ready(folder: &Path) -> Result<(), Failure> {
    let refuse = |why: &dyn std::fmt::Display| {
        Failure::input(format!("{}: {why}", folder.display()))
            .hint("name another folder with --into DIR; it is made if it is not there")
    };
    if !folder.exists() {
        return Ok(());
    }
    if !folder.is_dir() {
        return Err(refuse(&"is no folder"));
    }
    let mut entries = std::fs::read_dir(folder).map_err(|error| refuse(&error))?;
    if entries.next().is_some() && !folder.join("store.sqlite").is_file() {
        return Err(refuse(&"is not empty, and no folder of jobs"));
    }
    Ok(())
}

/// Makes the job, as `job new` would; gives its number.
fn begin(place: &Place, store: &Store, folder: &Path) -> Result<String, Failure> {
    let library = crate::commands::plan::shipped()?;
    let (job, dwelling) = demo::job();
    let dwelling = Dwelling { equipment: library.typical(dwelling.kind), ..dwelling };
    let mut job = job;
    if let (Some(agreement), Some(plan)) = (&mut job.engagement.agreement, library.plan(&job.plan))
    {
        agreement.terms = plan.terms;
    }
    let text = library
        .frozen(&job.plan)
        .ok_or_else(|| Failure::failed(format!("the plan `{}` is not there", job.plan)))?;
    let author = Author::new(device(store)?, place.person(&job.inspector)?);
    if open_job::create(store, &author, &job, &dwelling, &text)? {
        return Ok(job.number);
    }
    Err(Failure::input(format!("{} has the job {} already", folder.display(), job.number))
        .hint("look at it with `job show`, or name another folder with --into DIR"))
}

/// Draws the photos into a folder, on all processors.
fn draw(camera: &Path, shots: &[(String, demo::photos::Shot)]) -> Result<(), Failure> {
    std::fs::create_dir_all(camera)
        .map_err(|error| Failure::failed(format!("{}: {error}", camera.display())))?;
    let bar = progress::bar(shots.len(), "drawing photos");
    let next = AtomicUsize::new(0);
    let failed: Mutex<Option<Failure>> = Mutex::new(None);
    let work = || {
        while let Some((name, shot)) = shots.get(next.fetch_add(1, Ordering::Relaxed)) {
            let drawn = demo::photos::draw(shot)
                .map_err(|error| Failure::failed(format!("{name} could not be drawn: {error}")))
                .and_then(|jpeg| write_file(&camera.join(name), &jpeg));
            if let Err(failure) = drawn {
                // The others stop too: without one photo the sheet would be refused.
                next.store(shots.len(), Ordering::Relaxed);
                if let Ok(mut failed) = failed.lock() {
                    failed.get_or_insert(failure);
                }
            }
            bar.inc(1);
        }
    };
    let workers = std::thread::available_parallelism().map_or(1, NonZero::get).min(shots.len());
    std::thread::scope(|scope| {
        for _ in 1..workers {
            scope.spawn(work);
        }
        work();
    });
    bar.finish_and_clear();
    match failed.into_inner() {
        Ok(None) => Ok(()),
        Ok(Some(failure)) => Err(failure),
        Err(_) => Err(Failure::failed("a photo could not be drawn")),
    }
}

/// A path as it is typed into a shell.
fn as_typed(path: &Path) -> String {
    let text = path.display().to_string();
    let plain = |letter: char| letter.is_ascii_alphanumeric() || "/._-:\\".contains(letter);
    if text.chars().all(plain) { text } else { format!("\"{text}\"") }
}
