//! The program's two acts: measure, and compare.

#[cfg(feature = "archive")]
mod archives;
#[cfg(feature = "whole")]
mod batches;
#[cfg(feature = "whole")]
mod compare;
#[cfg(feature = "whole")]
mod full_record;
#[cfg(feature = "whole")]
mod others;
#[cfg(feature = "whole")]
mod phones;
mod results;
#[cfg(feature = "archive")]
mod timing;
mod visits;

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use results::Results;
#[cfg(feature = "archive")]
use timing::times;
#[cfg(feature = "whole")]
use timing::times_by_the_clock;

const USAGE: &str = "\
bench measure [--only SECTION] [--peers FILE] [--visit-peers FILE] [--archive-peers FILE] [--json FILE]
                                             times everything, or one of: judging, formulas, keeping, schedules, phones,
                                             archive; the files are the answers of peers.py, visit_peers.py and
                                             archive_peers.py
bench archive FOLDER JOBS                    the tables of an invented archive of so many jobs
bench compare PROGRAM.wasm JOB-FOLDER        the assessment of a folder's one job, natively and as WebAssembly
bench serve FOLDER                           the server that the phones speak to; started by itself";

/// Sections that are measured, in their order.
const SECTIONS: [&str; 6] = ["judging", "formulas", "keeping", "schedules", "phones", "archive"];

/// What an act answers: nothing, or one sentence saying why it stopped.
type Outcome<T = ()> = Result<T, String>;

pub(crate) fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let outcome = match words.as_slice() {
        ["measure", options @ ..] => measure(options),
        #[cfg(feature = "archive")]
        ["archive", folder, jobs] => archives::make(Path::new(folder), jobs),
        #[cfg(feature = "whole")]
        ["serve", folder] => phones::serve(Path::new(folder)),
        #[cfg(feature = "whole")]
        ["compare", program, folder] => compare::run(Path::new(program), Path::new(folder)),
        _ => Err(format!("this is how it is called:\n{USAGE}")),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("bench: {why}");
            ExitCode::FAILURE
        }
    }
}

#[cfg_attr(
    not(feature = "whole"),
    allow(
        unused_variables,
        unused_assignments,
        reason = "only the whole program has formulas to compare"
    )
)]
fn measure(options: &[&str]) -> Outcome {
    let (mut peers, mut visit_peers, mut archive_peers) = (None, None, None);
    let (mut json, mut only) = (None, None);
    let mut rest = options.iter();
    while let (Some(name), Some(value)) = (rest.next(), rest.next()) {
        match *name {
            "--peers" => peers = Some(PathBuf::from(value)),
            "--visit-peers" => visit_peers = Some(PathBuf::from(value)),
            "--archive-peers" => archive_peers = Some(PathBuf::from(value)),
            "--json" => json = Some(PathBuf::from(value)),
            "--only" => only = Some(*value),
            other => return Err(format!("`{other}` is not understood here\n{USAGE}")),
        }
    }
    if let Some(unknown) = only.filter(|section| !SECTIONS.contains(section)) {
        return Err(format!("`{unknown}` is no section: {}", SECTIONS.join(", ")));
    }
    if cfg!(debug_assertions) {
        eprintln!("bench: not optimized, so these times mean nothing: build it with --release");
    }
    let mut results = Results::default();
    for section in SECTIONS.into_iter().filter(|section| only.is_none_or(|only| only == *section)) {
        match section {
            "schedules" => visits::measure(&mut results, visit_peers.as_deref())?,
            #[cfg(feature = "archive")]
            "archive" => archives::measure(&mut results, archive_peers.as_deref())?,
            #[cfg(feature = "whole")]
            "judging" => full_record::measure(&mut results)?,
            #[cfg(feature = "whole")]
            "formulas" => {
                let peers =
                    peers.as_deref().map(|path: &Path| batches::Peers::read(path)).transpose()?;
                batches::measure(&mut results, peers.as_ref())?;
            }
            #[cfg(feature = "whole")]
            "keeping" => others::measure(&mut results)?,
            #[cfg(feature = "whole")]
            "phones" => phones::measure(&mut results)?,
            other => return Err(format!("this build leaves the section `{other}` out")),
        }
    }
    tell(&results, json.as_deref())
}

fn tell(results: &Results, json: Option<&Path>) -> Outcome {
    print!("{}", results.table());
    if let Some(path) = json {
        let text = format!("{:#}\n", results.json());
        std::fs::write(path, text).map_err(|error| format!("{}: {error}", path.display()))?;
        println!("\nwritten: {}", path.display());
    }
    results.verdict()
}

/// Nanoseconds that this thread has been on a processor, as Linux tells them; none elsewhere.
fn processor_seconds() -> Option<f64> {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    let nanoseconds: f64 = text.split_whitespace().next()?.parse().ok()?;
    Some(nanoseconds / 1e9)
}
