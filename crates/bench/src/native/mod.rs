//! The program's two acts: measure, and compare.

mod batches;
mod compare;
mod full_record;
mod others;
mod phones;
mod results;
mod visits;

use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::Instant;

use results::Results;

const USAGE: &str = "\
bench measure [--peers FILE] [--visit-peers FILE] [--json FILE]
                                             times everything; the files are the answers of peers.py and visit_peers.py
bench compare PROGRAM.wasm JOB-FOLDER        the assessment of a folder's one job, natively and as WebAssembly
bench phones [--json FILE]                   a hundred phones against one server; part of measure too
bench serve FOLDER                           the server that they speak to; started by itself";

/// What an act answers: nothing, or one sentence saying why it stopped.
type Outcome<T = ()> = Result<T, String>;

pub(crate) fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let outcome = match words.as_slice() {
        ["measure", options @ ..] => measure(options),
        ["phones", options @ ..] => only_phones(options),
        ["serve", folder] => phones::serve(Path::new(folder)),
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

fn measure(options: &[&str]) -> Outcome {
    let (mut peers, mut visit_peers, mut json) = (None, None, None);
    let mut rest = options.iter();
    while let (Some(name), Some(value)) = (rest.next(), rest.next()) {
        match *name {
            "--peers" => peers = Some(PathBuf::from(value)),
            "--visit-peers" => visit_peers = Some(PathBuf::from(value)),
            "--json" => json = Some(PathBuf::from(value)),
            other => return Err(format!("`{other}` is not understood here\n{USAGE}")),
        }
    }
    if cfg!(debug_assertions) {
        eprintln!("bench: not optimized, so these times mean nothing: build it with --release");
    }
    let peers = peers.map(|path| batches::Peers::read(&path)).transpose()?;
    let mut results = Results::default();
    full_record::measure(&mut results)?;
    batches::measure(&mut results, peers.as_ref())?;
    others::measure(&mut results)?;
    visits::measure(&mut results, visit_peers.as_deref())?;
    phones::measure(&mut results)?;
    tell(&results, json.as_deref())
}

fn only_phones(options: &[&str]) -> Outcome {
    let json = match options {
        [] => None,
        ["--json", path] => Some(Path::new(path)),
        _ => return Err(format!("this is how it is called:\n{USAGE}")),
    };
    let mut results = Results::default();
    phones::measure(&mut results)?;
    tell(&results, json)
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

/// Best and median time of several runs, seconds. The first run warms up and is not counted. It is this thread's time on
/// a processor where the system tells it, so that a busy machine does not count against either side.
fn times(runs: usize, work: impl FnMut() -> Outcome) -> Outcome<(f64, f64)> {
    timed(runs, work, processor_seconds)
}

/// The same by the clock on the wall, for work that waits for the disk.
fn times_by_the_clock(runs: usize, work: impl FnMut() -> Outcome) -> Outcome<(f64, f64)> {
    timed(runs, work, || None)
}

/// Linux counts a thread's time in ticks of 4 ms or so: shorter work is repeated until it has taken twenty of them.
const LONG_ENOUGH: f64 = 0.08;

fn timed(
    runs: usize,
    mut work: impl FnMut() -> Outcome,
    processor: impl Fn() -> Option<f64>,
) -> Outcome<(f64, f64)> {
    work()?;
    let mut times = Vec::new();
    for _ in 0..runs {
        let (start, before) = (Instant::now(), processor());
        let mut repeats = 0.0;
        times.push(loop {
            work()?;
            repeats += 1.0;
            let elapsed = start.elapsed().as_secs_f64();
            let taken = before.zip(processor()).map_or(elapsed, |(before, after)| after - before);
            if before.is_none() || taken >= LONG_ENOUGH {
                break taken / repeats;
            }
        });
    }
    times.sort_by(f64::total_cmp);
    let best = times.first().copied().unwrap_or(f64::NAN);
    Ok((best, times.get(runs / 2).copied().unwrap_or(f64::NAN)))
}

/// Nanoseconds that this thread has been on a processor, as Linux tells them; none elsewhere.
fn processor_seconds() -> Option<f64> {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    let nanoseconds: f64 = text.split_whitespace().next()?.parse().ok()?;
    Some(nanoseconds / 1e9)
}
