//! `nearside stamp`: a time stamp on a release that has none yet, or another one.

use std::io::Write;

use clap::Args;
use serde_json::json;

use crate::bags::releases;
use crate::bags::time_stamps::{self, Service};
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job;

/// Asks a time stamp service that you name (RFC 3161) to confirm when a release was there, and keeps its answer.
///
/// Only a hash is sent: neither the job nor its photos leave this computer. A release that was made without a network gets
/// its time stamp later; it then says that the release was there at that time, not when it was made. `nearside export`
/// writes it out with the bag and `nearside verify` checks it.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  nearside stamp 2026-001 http://time.example/stamp\n  \
                        nearside stamp 2026-001 https://time.example/stamp --release 1 --policy 1.2.3.4")]
pub(crate) struct StampArguments {
    /// The job's number
    job: String,
    /// The address of the service, as its operator names it
    service: String,
    /// Which release; the last one if left out
    #[arg(long, value_name = "NUMBER")]
    release: Option<u32>,
    /// The policy under which it is to stamp, an object identifier such as 1.2.3.4; the service's own if left out
    #[arg(long, value_name = "POLICY")]
    policy: Option<String>,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &StampArguments) -> Result<(), Failure> {
    let service = Service::new(&arguments.service, arguments.policy.as_deref())?;
    let store = place.store()?;
    let id = open_job::job_id(&arguments.job)?;
    let known = releases::list(&store, &id)?;
    let kept = match arguments.release {
        None => known.last(),
        Some(number) => known.iter().find(|one| one.number == number),
    };
    let kept = kept.ok_or_else(|| {
        let which = arguments
            .release
            .map_or_else(|| "no release".to_owned(), |it| format!("no release {it}"));
        Failure::input(format!("job {} has {which} in this data folder", arguments.job))
            .hint("only a release can be stamped; `nearside release` makes one")
    })?;
    let mut bag = releases::bag(&store, kept)?;
    let stamp = service.stamp(&store, &id, kept.number, &mut bag)?.map_err(|why| {
        Failure::failed(format!("no time stamp: {why}"))
            .hint("the release stands as it was; try again later, or name another service")
    })?;
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let object = json!({
            "job": arguments.job,
            "release": kept.number,
            "time_stamp": time_stamps::object(&stamp),
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    writeln!(out, "job {}, release {}", arguments.job, kept.number)?;
    for line in time_stamps::lines(&stamp) {
        writeln!(out, "{line}")?;
    }
    writeln!(out, "write it out: nearside export {}", arguments.job)?;
    Ok(())
}
