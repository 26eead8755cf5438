//! `nearside pair`: a one-time code that lets a phone in.

use std::io::Write;

use clap::Args;
use serde_json::json;
use server::Code;
use store::JobId;

use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::known_job;

/// Makes a one-time code that lets a device in at the server of this data folder.
///
/// The code is good for ten minutes and for one device. The server may run meanwhile; it need not be started again.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  nearside pair\n  nearside pair --job 2026-041")]
pub(crate) struct PairArguments {
    /// Let the device see this job alone
    #[arg(long, value_name = "NUMBER")]
    job: Option<String>,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &PairArguments) -> Result<(), Failure> {
    let store = place.store()?;
    let job: Option<JobId> =
        arguments.job.as_deref().map(|number| known_job(&store, number)).transpose()?;
    let code = server::make_code(&store, job.as_ref())?;
    let address = server::remembered_address(&store)?;
    let link = address.as_deref().map(|address| server::pairing_link(address, &code));
    let mut out = std::io::stdout().lock();
    if arguments.json {
        writeln!(out, "{}", json!({ "code": code.to_string(), "link": link, "minutes": 10 }))?;
        return Ok(());
    }
    match link {
        Some(link) => show(&mut out, &code, &link)?,
        None => {
            writeln!(out, "pair:    {code}  (for one device, within ten minutes)")?;
            writeln!(
                out,
                "         no server was started on this folder yet: `nearside serve` says the address"
            )?;
        }
    }
    Ok(())
}

/// Shows a code in words and as a picture for a phone's camera.
pub(crate) fn show(out: &mut impl Write, code: &Code, link: &str) -> std::io::Result<()> {
    writeln!(
        out,
        "pair:    {code}  (for one device, within ten minutes), or point a phone's camera at this:"
    )?;
    writeln!(out, "         {link}")?;
    if let Some(picture) = server::in_blocks(link) {
        write!(out, "\n{picture}\n")?;
    }
    Ok(())
}
