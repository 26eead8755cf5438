//! `cargo xtask bench`: what the project promises to be quick, measured, beside outside libraries in the same run.

use crate::{
    Outcome,
    arguments::Arguments,
    needs::{self, on_path},
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

const USAGE: &str = "\
cargo xtask bench [--alone] [--json FILE]

Builds the measuring program with optimization and times what the project promises to be quick.
The batches of formulas are timed beside pvlib and PsychroLib, the schedules of six visits beside
OR-Tools CP-SAT, in the same run, on one thread: that needs Python 3 and downloads their packages,
pinned in crates/bench/requirements.txt. The mending of a schedule is timed as WebAssembly in Node.js.
  --alone       without the Python libraries: times, but no ratios
  --json FILE   write the figures as JSON too";

pub(crate) fn run(mut arguments: Arguments) -> Outcome {
    if arguments.switch("--help") {
        println!("{USAGE}");
        return Ok(());
    }
    let alone = arguments.switch("--alone");
    let json = arguments.value("--json")?;
    arguments.finish(USAGE)?;
    needs::ensure(&needs::BUILD.iter().collect::<Vec<_>>())?;
    run_shown(&mut cargo_command(&["build", "--release", "--locked", "-p", "bench"]))?;
    let program =
        target_dir().join("release").join(format!("bench{}", std::env::consts::EXE_SUFFIX));
    let mut measure = Command::new(program);
    measure.arg("measure");
    if !alone {
        let python = python()?;
        measure.arg("--peers").arg(formula_peers(&python)?);
        measure.arg("--visit-peers").arg(visit_peers(&python)?);
    }
    if let Some(json) = json {
        measure.arg("--json").arg(json);
    }
    run_shown(&mut measure)?;
    in_the_field()
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

/// A Python with the outside libraries.
fn python() -> Outcome<PathBuf> {
    let folder = target_dir().join("bench");
    fs::create_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    if !on_path("python3") {
        return Err("Python 3 is not on this machine, and the ratios need it; without them: \
                    cargo xtask bench --alone"
            .to_owned());
    }
    let environment = folder.join("venv");
    run_shown(Command::new("python3").args(["-m", "venv"]).arg(&environment)).map_err(|why| {
        format!("{why} (on Debian, Python's environments need `apt-get install python3-venv`)")
    })?;
    let python = environment.join(if cfg!(windows) { "Scripts/python.exe" } else { "bin/python" });
    let own = root().join("crates/bench");
    let install = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-r"];
    run_shown(Command::new(&python).args(install).arg(own.join("requirements.txt")))?;
    Ok(python)
}

/// Times the libraries of formulas; gives the file with their figures.
fn formula_peers(python: &Path) -> Outcome<PathBuf> {
    println!("\ntiming pvlib and PsychroLib: {CASES} cases, {RUNS} runs (about a minute)");
    answer_of(python, "peers.py", &[CASES, RUNS])
}

/// What a general constraint solver comes to for the six visits; gives the file with its figures.
fn visit_peers(python: &Path) -> Outcome<PathBuf> {
    println!("\nsolving six visits with OR-Tools CP-SAT: {SECONDS} s each (about two minutes)");
    let visits = root().join("crates/schedule/tests/visits");
    answer_of(python, "visit_peers.py", &[SECONDS, &visits.to_string_lossy()])
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
    fs::write(&file, &output.stdout).map_err(|error| format!("{}: {error}", file.display()))?;
    Ok(file)
}
