//! `nearside agreement share`: the agreement at an address at which the client reads and signs it.

use std::io::Write;

use clap::Args;
use serde_json::json;
use store::LeadsTo;

use crate::data_folder::Place;
use crate::failure::Failure;
use crate::office::links;
use crate::open_job::OpenJob;

/// Gives the client an address at which they read the agreement and sign it, and prints it, this once.
///
/// The page shows the agreement as it stands when it is opened, so one address serves for changes too. Whoever has the
/// address can sign: send it as you would send a letter. `nearside share list` and `revoke` know these addresses as well.
#[derive(Args, Debug)]
#[command(after_help = "Example: nearside agreement share 2026-001 --days 14")]
pub(crate) struct ShareArguments {
    /// The job's number
    job: String,
    /// For how many days it is good
    #[arg(long, value_name = "DAYS", default_value_t = 30, value_parser = clap::value_parser!(u16).range(1..=3660))]
    days: u16,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &ShareArguments) -> Result<(), Failure> {
    let job = OpenJob::open(place, &arguments.job)?;
    if job.inspection().job.engagement.agreement.is_none() {
        return Err(Failure::input(format!("job {} has no agreement to be read", arguments.job))
            .hint(format!("say what is agreed first: nearside agreement set {}", arguments.job)));
    }
    let made = links::new(&job.store, &job.id, LeadsTo::Agreement, arguments.days, &[])?;
    let until = links::time(made.expires_ms);
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let object = json!({"job": arguments.job, "address": made.address, "until": until});
        writeln!(out, "{object}")?;
        return Ok(());
    }
    writeln!(out, "{}", made.address)?;
    writeln!(out, "good until {until}; it is shown this once, so copy it now")?;
    Ok(())
}
