//! `cargo xtask wasm-check`: the core crates build for the browser too, and answer there as they do natively.

use crate::{
    Outcome,
    arguments::Arguments,
    browser::{TARGET, toolchain},
    needs,
    workspace::{cargo_command, run_shown, target_dir},
};
use std::{fs, path::PathBuf, process::Command};

/// The crates that must answer alike on the phone and at the desk.
const CORE: &[&str] = &[
    "quantity",
    "limit",
    "formulas",
    "inspection",
    "plan",
    "record",
    "findings",
    "schedule",
    "sync",
];

const USAGE: &str = "\
cargo xtask wasm-check

Builds the core crates for wasm32-unknown-unknown, so that nothing in them needs what a
browser has not. Then makes the invented job, assesses it natively and as WebAssembly (in an
interpreter), and compares every byte of the two assessments and schedules. Uses the running toolchain if it
has the target, else Debian's own compiler.";

pub(crate) fn run(mut arguments: Arguments) -> Outcome {
    if arguments.switch("--help") {
        println!("{USAGE}");
        return Ok(());
    }
    arguments.finish(USAGE)?;
    let toolchain = toolchain()?;
    // Its own folder: another compiler's files would push out those of the ordinary build.
    let target = target_dir().join("wasm-check");
    let mut command = toolchain.build(&target);
    // As the example is built below: one build serves both.
    command.arg("--release");
    for name in CORE {
        command.args(["-p", name]);
    }
    run_shown(&mut command)?;
    println!("\nthe core builds for {TARGET}: {}", CORE.join(", "));

    let program = example("letter")?;
    needs::ensure(&needs::BUILD.iter().collect::<Vec<_>>())?;
    // The whole workspace as the tests are built: a part of it alone would have its libraries built again, with
    // other features. Optimizing changes no result.
    run_shown(&mut cargo_command(&["build", "--locked", "--workspace"]))?;
    let built = |name: &str| {
        target_dir().join("debug").join(format!("{name}{}", std::env::consts::EXE_SUFFIX))
    };
    let job = target.join("job");
    if job.exists() {
        fs::remove_dir_all(&job).map_err(|error| format!("{}: {error}", job.display()))?;
    }
    run_shown(Command::new(built("nearside")).arg("demo").arg("--into").arg(&job))?;
    run_shown(Command::new(built("bench")).arg("compare").arg(&program).arg(&job))
}

/// Builds an example of `bench` for the browser, optimized; gives its file.
pub(crate) fn example(name: &str) -> Outcome<PathBuf> {
    let target = target_dir().join("wasm-check");
    let mut build = toolchain()?.build(&target);
    run_shown(build.args(["--release", "-p", "bench", "--example", name]))?;
    Ok(target.join(TARGET).join("release/examples").join(format!("{name}.wasm")))
}
