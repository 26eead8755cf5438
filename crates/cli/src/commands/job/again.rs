//! `nearside job again`: a new job that inspects the unit of an old one again, with that one's findings carried.

use std::io::Write;

use clap::Args;
use inspection::Client;
use serde_json::json;

use super::new::day;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::office::again::{Wanted, make_again};
use crate::open_job::{self, OpenJob};
use crate::today;

/// Makes a new job that inspects the unit of an old one again.
///
/// The new job has a record of its own, with the old one's client, site, unit, equipment and instruments, and names the old
/// job with its record's heads. Every finding that stands there is carried, with its photos as they were: say of each
/// whether it is corrected, not corrected or not seen (`nearside finding JOB recheck`). Until it is corrected it goes on stopping
/// the uses that it stops. The report of the new job says what became of each, with photos of then and now.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside job again 2026-001\n  \
        nearside job again 2026-001 2026-009 --visit 2026-08-03\n  \
        nearside job again 2026-001 --plan purchase")]
pub(crate) struct AgainArguments {
    /// The old job's number
    old: String,
    /// The new job's number; the next free one of the year if left out
    new: Option<String>,
    /// The plan: `kept` for the old job's own, or one of those that ship, as it is now
    #[arg(long, default_value = "kept")]
    plan: String,
    /// Day of the visit, such as 2026-08-03; today if left out
    #[arg(long, value_name = "DATE")]
    visit: Option<String>,
    /// Who asks for it now; the old job's client if left out
    #[arg(long)]
    client: Option<String>,
    /// How to reach them
    #[arg(long, requires = "client")]
    contact: Option<String>,
    /// What they are to the unit: buyer, owner, lender …
    #[arg(long, requires = "client")]
    role: Option<String>,
    /// The inspector who signs; the old job's if left out
    #[arg(long)]
    inspector: Option<String>,
    /// Their licence, certificate or membership
    #[arg(long, requires = "inspector")]
    credentials: Option<String>,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &AgainArguments) -> Result<(), Failure> {
    let visit = match &arguments.visit {
        Some(text) => day(text, "--visit")?,
        None => today::today(),
    };
    let wanted = Wanted {
        number: arguments.new.clone(),
        plan: arguments.plan.clone(),
        visit,
        client: arguments.client.as_ref().map(|name| Client {
            name: name.clone(),
            contact: arguments.contact.clone().unwrap_or_default(),
            role: arguments.role.clone().unwrap_or_default(),
        }),
        inspector: arguments.inspector.as_ref().map(|name| {
            (name.trim().to_owned(), arguments.credentials.clone().unwrap_or_default())
        }),
    };
    let old = OpenJob::open(place, &arguments.old)?;
    let made = make_again(place, &old, &wanted)?;
    for photo in &made.absent {
        eprintln!("note: the photo {photo} of then is not in this data folder");
    }
    let mut out = std::io::stdout().lock();
    let (number, count) = (&made.number, made.carried);
    if arguments.json {
        let object = json!({
            "job": number,
            "earlier": old.id.as_str(),
            "plan": made.plan,
            "carried": count,
            "visit": visit.to_string(),
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    let unit = open_job::unit_in_words(&old.inspection().dwelling);
    writeln!(out, "job {number}: {unit}, again after job {}, visit on {visit}", old.id)?;
    writeln!(out, "{count} findings carried; say what became of each:")?;
    writeln!(out, "  nearside finding {number} list")?;
    writeln!(out, "  nearside finding {number} recheck carried-1 corrected")?;
    Ok(())
}
