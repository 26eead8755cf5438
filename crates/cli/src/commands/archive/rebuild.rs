//! `nearside archive rebuild`: everything worked out anew.

use std::io::Write;

use ::archive::Archive;
use clap::Args;
use serde_json::json;

use super::{show, tell_trouble};
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::progress;

/// Throws away what was worked out from the jobs, and works it out anew. The jobs themselves are not touched.
///
/// This is never needed in daily work: the other commands notice what has changed.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  nearside archive rebuild\n  nearside archive rebuild --json")]
pub(crate) struct RebuildArguments {
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &RebuildArguments) -> Result<(), Failure> {
    let store = place.store()?;
    let bar = progress::bar(0, "working out");
    let rebuilt = Archive::open(&store)?.rebuild(&store, &mut |at| show(&bar, at));
    bar.finish_and_clear();
    let (_, updated) = rebuilt?;
    tell_trouble(&updated);
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let troubled: Vec<_> =
            updated.troubled.iter().map(|(job, why)| json!({"job": job, "why": why})).collect();
        writeln!(out, "{}", json!({"jobs": updated.jobs, "troubled": troubled}))?;
    } else {
        writeln!(out, "{} jobs worked out anew", updated.jobs)?;
    }
    Ok(())
}
