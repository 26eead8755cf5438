//! `nearside job new`: a job with its unit and the plan as it stands now.

use std::collections::BTreeSet;
use std::io::Write;

use clap::Args;
use inspection::{Client, Dwelling, DwellingKind, Job, Site};
use jiff::civil::Date;
use plan::Library;
use record::{Author, Edit};
use serde_json::json;
use store::Store;

use crate::commands::near_hint;
use crate::data_folder::{Place, device};
use crate::failure::Failure;
use crate::{open_job, today};

/// Makes a new job.
///
/// The plan's whole text is frozen into the job, so that it reads the same for ever. Whatever is left
/// out here can be filled in later, on the job's sheet.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside job new --kind travel_trailer --client \"A. Client\" --inspector \"B. Inspector\"\n  \
        nearside job new --kind manufactured_home --number 2026-017 --visit 2026-06-12 --built 1998-04\n  \
        nearside job new --kind fifth_wheel --equipment gas,mains,water,wheels,pin_coupling")]
pub(crate) struct NewArguments {
    /// The job's number; the next free one of the year if left out
    #[arg(long)]
    number: Option<String>,
    /// Kind of unit: travel_trailer, fifth_wheel, park_trailer or manufactured_home
    #[arg(long, default_value = "travel_trailer")]
    kind: String,
    /// The plan to inspect by; `nearside plan list` lists them
    #[arg(long, default_value = "purchase")]
    plan: String,
    /// Who asked for the inspection
    #[arg(long, default_value = "")]
    client: String,
    /// How to reach the client
    #[arg(long, default_value = "")]
    contact: String,
    /// What the client is to the unit: buyer, owner, lender …
    #[arg(long, default_value = "")]
    role: String,
    /// Where the unit stands
    #[arg(long, default_value = "")]
    site: String,
    /// The inspector who signs
    #[arg(long, default_value = "")]
    inspector: String,
    /// The inspector's licence, certificate or membership, as it should be printed
    #[arg(long, default_value = "")]
    credentials: String,
    /// Day of the visit, such as 2026-06-12; today if left out
    #[arg(long, value_name = "DATE")]
    visit: Option<String>,
    /// Maker, as on the plate
    #[arg(long, default_value = "")]
    maker: String,
    /// Model, as on the plate
    #[arg(long, default_value = "")]
    model: String,
    /// Model year
    #[arg(long)]
    year: Option<i16>,
    /// Day or month the unit was built, such as 2019-06
    #[arg(long, value_name = "DATE")]
    built: Option<String>,
    /// Vehicle identification number or serial number, as read
    #[arg(long, default_value = "")]
    vin: String,
    /// What is fitted, separated by commas; what such a unit usually has if left out
    #[arg(long, value_delimiter = ',', value_name = "WORDS")]
    equipment: Vec<String>,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &NewArguments) -> Result<(), Failure> {
    let library = crate::commands::plan::shipped()?;
    let dwelling = dwelling(arguments, &library)?;
    let visit = match &arguments.visit {
        Some(text) => day(text, "--visit")?,
        None => today::today(),
    };
    let text = library.frozen(&arguments.plan).ok_or_else(|| {
        Failure::input(format!("no plan is called `{}`", arguments.plan))
            .hint(near_hint(&arguments.plan, library.plans().map(|(id, _)| id)))
    })?;
    let job = Job {
        purpose: arguments.plan.clone(),
        inspector: arguments.inspector.clone(),
        credentials: arguments.credentials.clone(),
        client: Client {
            name: arguments.client.clone(),
            contact: arguments.contact.clone(),
            role: arguments.role.clone(),
        },
        site: Site { address: arguments.site.clone(), ..Site::default() },
        visits: vec![visit],
        plan: arguments.plan.clone(),
        ..Job::default()
    };
    if let Some(number) = &arguments.number {
        open_job::job_id(number)?;
    }
    let person = place.person(&arguments.inspector)?;
    let store = place.store()?;
    let author = Author::new(device(&store)?, person);
    let number = make(&store, &author, arguments.number.as_deref(), &job, &dwelling, &text, &[])?;
    let points = library
        .plan(&arguments.plan)
        .map_or(0, |plan| plan.points_for(dwelling.kind, &dwelling.equipment).count());
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let object = json!({
            "job": number,
            "unit": open_job::unit_in_words(&dwelling),
            "plan": arguments.plan,
            "points": points,
            "equipment": dwelling.equipment,
            "visit": visit.to_string(),
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    let unit = open_job::unit_in_words(&dwelling);
    writeln!(out, "job {number}: {unit}, {points} points, visit on {visit}")?;
    writeln!(out, "next: nearside job sheet {number} --out {number}.toml")?;
    writeln!(
        out,
        "      (fill it in, then: nearside job fill {number} {number}.toml --photos FOLDER)"
    )?;
    Ok(())
}

/// Makes the job in the store, with what it begins with, under the number given or the next free one of the year.
pub(crate) fn make(
    store: &Store,
    author: &Author,
    given: Option<&str>,
    job: &Job,
    dwelling: &Dwelling,
    plan_text: &str,
    edits: &[Edit],
) -> Result<String, Failure> {
    let year = job.visits.first().map_or(0, |visit| visit.year());
    loop {
        let number = match given {
            Some(number) => number.to_owned(),
            None => next_free(store, year)?,
        };
        let job = Job { number: number.clone(), ..job.clone() };
        if open_job::create_with(store, author, &job, dwelling, plan_text, edits)? {
            return Ok(number);
        }
        // Somebody else has just taken the next free number; one that was asked for is refused.
        if given.is_some() {
            return Err(Failure::input(format!("there is a job {number} already"))
                .hint(format!("the next free number is {}", next_free(store, year)?)));
        }
    }
}

/// The next free number of a year.
pub(crate) fn next_free(store: &Store, year: i16) -> Result<String, Failure> {
    let mut last = 0_u32;
    for job in store.jobs()? {
        let number = job.id.as_str().strip_prefix(&format!("{year}-"));
        if let Some(number) = number.and_then(|digits| digits.parse::<u32>().ok()) {
            last = last.max(number);
        }
    }
    Ok(format!("{year}-{:03}", last.saturating_add(1)))
}

fn dwelling(arguments: &NewArguments, library: &Library) -> Result<Dwelling, Failure> {
    let kind = DwellingKind::from_word(&arguments.kind).ok_or_else(|| {
        Failure::input(format!("no kind of unit is called `{}`", arguments.kind))
            .hint(near_hint(&arguments.kind, DwellingKind::ALL.map(DwellingKind::word)))
    })?;
    let given = arguments.equipment.iter().map(|word| word.trim()).filter(|word| !word.is_empty());
    let mut equipment: BTreeSet<String> = given.map(ToOwned::to_owned).collect();
    if let Some(odd) =
        equipment.iter().find(|word| !library.equipment().iter().any(|known| known.id == **word))
    {
        return Err(Failure::input(format!("no equipment is called `{odd}`"))
            .hint(near_hint(odd, library.equipment().iter().map(|known| known.id.as_str()))));
    }
    if equipment.is_empty() {
        equipment = library.typical(kind);
    }
    let built = arguments.built.as_deref().map(|text| {
        formulas::CalendarDate::parse(text)
            .map(|date| date.first)
            .map_err(|sentence| Failure::input(format!("--built: {sentence}")))
    });
    Ok(Dwelling {
        kind,
        maker: arguments.maker.clone(),
        model: arguments.model.clone(),
        model_year: arguments.year,
        built: built.transpose()?,
        identification: arguments.vin.clone(),
        equipment,
        ..Dwelling::default()
    })
}

pub(super) fn day(text: &str, option: &str) -> Result<Date, Failure> {
    text.trim().parse().map_err(|_| {
        Failure::input(format!("{option}: `{text}` is no day; write it like 2026-11-25"))
    })
}
