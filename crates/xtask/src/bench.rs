//! `cargo xtask bench`: what the project promises to be quick, measured, beside outside libraries in the same run.

use crate::{
    Outcome,
    arguments::Arguments,
    needs::{self, on_path},
    python, web_test,
    workspace::{cargo_command, root, run_shown, target_dir},
};
use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

/// Cases of a batch, and how often each is timed: the same for both sides.
const CASES: &str = "100000";
const RUNS: &str = "5";
/// Seconds that the constraint solver has for each visit.
const SECONDS: &str = "10";

/// Pages of the reports, and how often each is made.
const SIZES: &str = "60,120,240";
const ROUNDS: &str = "1";
/// Jobs of the invented archives, and how often DuckDB is asked.
const ARCHIVES: [&str; 2] = ["100000", "1000000"];
const ARCHIVE_RUNS: &str = "3";
/// How many photos of 12 megapixels are taken in.
const SHOTS: &str = "24";

const USAGE: &str = "\
cargo xtask bench [--only SECTION] [--alone] [--sizes PAGES] [--json FILE]

Builds the measuring programs with optimization and times what the project promises to be quick.
  core     formulas beside pvlib and PsychroLib, the schedules of six visits beside OR-Tools CP-SAT, on one
           thread; records, the store, a hundred phones; the mending of a schedule as WebAssembly in Node.js
  schedules, field   of core only the six visits, which builds in a fraction of the time, or only the mending
  report   the report beside headless Chromium and WeasyPrint on the same content: time, size, memory, an edit
  photos   the taking in of photos beside libvips' thumbnailer on the same files
  archive  words in 10,000 jobs; figures over 100,000 and a million beside DuckDB on the same files and question
  app      what the phone loads before its first start, and at a quarter of the processor's speed: ready offline, from
           a reading to its verdict, scrolling, planning anew; the large tray at a laptop
Needs Python 3 and downloads the packages pinned in crates/bench; report needs Chromium and poppler's tools,
photos the program vipsthumbnail (Debian: libvips-tools), app what `cargo xtask web-test` needs.
  --only SECTION  one of them; report alone takes a quarter of an hour on a free machine
  --alone         core and archive without the Python libraries: times, but no ratios
  --sizes PAGES   of the reports: some of 60,120,240
  --json FILE     write the figures of core, report or archive as JSON too; with --only";

pub(crate) fn run(mut arguments: Arguments) -> Outcome {
    if arguments.switch("--help") {
        println!("{USAGE}");
        return Ok(());
    }
    let alone = arguments.switch("--alone");
    let only = arguments.value("--only")?;
    let sizes = arguments.value("--sizes")?.unwrap_or_else(|| SIZES.to_owned());
    let json = arguments.value("--json")?.map(PathBuf::from);
    arguments.finish(USAGE)?;
    let wanted: &[&str] = match only.as_deref() {
        None => &["core", "report", "photos", "archive", "app"],
        Some("core") => &["core"],
        Some("report") => &["report"],
        Some("photos") => &["photos"],
        Some("archive") => &["archive"],
        Some("app") => &["app"],
        Some("schedules") => &["schedules"],
        Some("field") => &["field"],
        Some(other) => return Err(format!("there is no section `{other}` to time\n\n{USAGE}")),
    };
    needs::ensure(&needs::BUILD.iter().collect::<Vec<_>>())?;
    let mut missed = Vec::new();
    for section in wanted {
        let outcome = match *section {
            "core" => core(alone, json.as_deref()),
            "report" => report(&sizes, json.as_deref().filter(|_| only.is_some())),
            "schedules" => schedules(alone, json.as_deref()),
            "app" => web_test::measure(),
            "field" => in_the_field(),
            "archive" => archive(alone, json.as_deref().filter(|_| only.is_some())),
            _ => photos(),
        };
        // What one section misses is no reason to leave the next untimed.
        if let Err(why) = outcome {
            missed.push(format!("{section}: {why}"));
        }
    }
    if missed.is_empty() { Ok(()) } else { Err(missed.join("\n")) }
}

/// Builds a measuring program with optimization.
fn built(package: &str, example: Option<&str>) -> Outcome<PathBuf> {
    let mut command = cargo_command(&["build", "--release", "--locked", "-p", package]);
    let mut place = target_dir().join("release");
    if let Some(example) = example {
        command.args(["--example", example]);
        place.push("examples");
    }
    run_shown(&mut command)?;
    Ok(place.join(format!("{}{}", example.unwrap_or(package), std::env::consts::EXE_SUFFIX)))
}

fn core(alone: bool, json: Option<&Path>) -> Outcome {
    let mut measure = Command::new(built("bench", None)?);
    measure.arg("measure");
    if !alone {
        let own = root().join("crates/bench/requirements.txt");
        let python = python::environment("bench", &[own])?;
        measure.arg("--peers").arg(formula_peers(&python)?);
        measure.arg("--visit-peers").arg(visit_peers()?);
    }
    if let Some(json) = json {
        measure.arg("--json").arg(json);
    }
    run_shown(&mut measure)?;
    in_the_field()
}

/// Only the schedules, by a program that is built with nothing but the scheduler.
fn schedules(alone: bool, json: Option<&Path>) -> Outcome {
    let bare = [
        "build",
        "--release",
        "--locked",
        "-p",
        "bench",
        "--bin",
        "bench",
        "--no-default-features",
    ];
    run_shown(&mut cargo_command(&bare))?;
    let program = format!("bench{}", std::env::consts::EXE_SUFFIX);
    let mut measure = Command::new(target_dir().join("release").join(program));
    measure.args(["measure", "--only", "schedules"]);
    if !alone {
        measure.arg("--visit-peers").arg(visit_peers()?);
    }
    if let Some(json) = json {
        measure.arg("--json").arg(json);
    }
    run_shown(&mut measure)
}

/// Only the archive, by a program that is built with little else.
fn archive(alone: bool, json: Option<&Path>) -> Outcome {
    let bare = ["--bin", "bench", "--no-default-features", "--features", "archive"];
    run_shown(cargo_command(&["build", "--release", "--locked", "-p", "bench"]).args(bare))?;
    let program = format!("bench{}", std::env::consts::EXE_SUFFIX);
    let program = target_dir().join("release").join(program);
    let mut measure = Command::new(&program);
    measure.args(["measure", "--only", "archive"]);
    if !alone {
        let folder = scratch("archive")?;
        let mut asked = vec![ARCHIVE_RUNS.to_owned()];
        for jobs in ARCHIVES {
            let folder = folder.join(jobs);
            run_shown(Command::new(&program).arg("archive").arg(&folder).arg(jobs))?;
            asked.push(folder.to_string_lossy().into_owned());
        }
        let own = root().join("crates/bench/archive_requirements.txt");
        let python = python::environment("archive-bench", &[own])?;
        println!("\nasking DuckDB the same of the same files");
        let asked: Vec<&str> = asked.iter().map(String::as_str).collect();
        measure.arg("--archive-peers").arg(answer_of(&python, "archive_peers.py", &asked)?);
    }
    if let Some(json) = json {
        measure.arg("--json").arg(json);
    }
    run_shown(&mut measure)
}

/// Times the report beside other people's programs.
fn report(sizes: &str, json: Option<&Path>) -> Outcome {
    let measure = built("report", Some("measure"))?;
    let own = root().join("crates/bench");
    let python = python::environment("report-bench", &[own.join("report_requirements.txt")])?;
    let folder = scratch("report")?;
    let mut peers = Command::new(python);
    peers.arg(own.join("report_peers.py")).arg(measure).arg(folder).args([sizes, ROUNDS]);
    run_shown(peers.args(json))
}

/// Times the taking in of photos beside libvips.
fn photos() -> Outcome {
    if !on_path("vipsthumbnail") {
        return Err("vipsthumbnail is not on this machine (Debian: apt-get install libvips-tools)"
            .to_owned());
    }
    let measure = built("photo", Some("megapixels"))?;
    run_shown(Command::new(measure).args([SHOTS, "--beside"]).arg(scratch("photos")?))
}

/// An empty folder for what a section makes.
fn scratch(name: &str) -> Outcome<PathBuf> {
    let folder = target_dir().join("bench").join(name);
    let said = |error: std::io::Error| format!("{}: {error}", folder.display());
    if folder.exists() {
        fs::remove_dir_all(&folder).map_err(said)?;
    }
    fs::create_dir_all(&folder).map_err(said)?;
    Ok(folder)
}

/// Times the mending of a schedule as a phone would run it.
fn in_the_field() -> Outcome {
    if !on_path("node") {
        println!(
            "not measured: mending a schedule as WebAssembly (Node.js is not on this machine)"
        );
        return Ok(());
    }
    let program = crate::wasm::example("field")?;
    println!("\nmending the schedule of a visit of 150 acts as WebAssembly:");
    run_shown(Command::new("node").arg(root().join("crates/bench/field.mjs")).arg(program))
}

/// Times the libraries of formulas; gives the file with their figures.
fn formula_peers(python: &Path) -> Outcome<PathBuf> {
    println!("\ntiming pvlib and PsychroLib: {CASES} cases, {RUNS} runs (about a minute)");
    answer_of(python, "peers.py", &[CASES, RUNS])
}

/// What a general constraint solver comes to for the six visits; gives the file with its figures.
fn visit_peers() -> Outcome<PathBuf> {
    let own = root().join("crates/bench/visit_requirements.txt");
    let python = python::environment("visits-bench", &[own])?;
    println!(
        "\nsolving six visits with OR-Tools CP-SAT: {SECONDS} s of a processor each (longer on a busy machine)"
    );
    let visits = root().join("crates/schedule/tests/visits");
    answer_of(&python, "visit_peers.py", &[SECONDS, &visits.to_string_lossy()])
}

/// Runs one of the bench's Python programs and keeps what it prints.
fn answer_of(python: &Path, program: &str, arguments: &[&str]) -> Outcome<PathBuf> {
    let output = Command::new(python)
        .arg(root().join("crates/bench").join(program))
        .args(arguments)
        // One thread on both sides.
        .envs([("OMP_NUM_THREADS", "1"), ("OPENBLAS_NUM_THREADS", "1"), ("NUMBA_NUM_THREADS", "1")])
        .output()
        .map_err(|error| format!("{}: {error}", python.display()))?;
    if !output.status.success() {
        return Err(format!(
            "{program} ended with {}: {}",
            output.status,
            String::from_utf8_lossy(&output.stderr).trim()
        ));
    }
    let file = target_dir().join("bench").join(program).with_extension("json");
    fs::create_dir_all(target_dir().join("bench")).map_err(|error| error.to_string())?;
    fs::write(&file, &output.stdout).map_err(|error| format!("{}: {error}", file.display()))?;
    Ok(file)
}
