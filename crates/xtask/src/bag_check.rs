//! `cargo xtask bag-check`: the demonstration's bag before other people's programs.

use crate::{
    Outcome,
    arguments::Arguments,
    needs::{self, on_path},
    workspace::{cargo_command, root, run_shown, target_dir},
};
use std::{fs, process::Command};

const USAGE: &str = "\
cargo xtask bag-check

Builds `nearside`, makes the invented job, and gives its bag to the reference BagIt library, an RO-Crate
validator, a library for JSON Web Signatures and a JSON Schema validator, each with a damaged copy that it
must refuse. Needs Python 3 and downloads the packages pinned in crates/bag/outside/requirements.txt.";

pub(crate) fn run(mut arguments: Arguments) -> Outcome {
    if arguments.switch("--help") {
        println!("{USAGE}");
        return Ok(());
    }
    arguments.finish(USAGE)?;
    if !on_path("python3") {
        return Err("Python 3 is not on this machine; install it and start again".to_owned());
    }
    needs::ensure(&needs::BUILD.iter().collect::<Vec<_>>())?;
    run_shown(&mut cargo_command(&["build", "--locked", "-p", "cli"]))?;
    let program =
        target_dir().join("debug").join(format!("nearside{}", std::env::consts::EXE_SUFFIX));
    let scratch = target_dir().join("bag-check");
    if scratch.exists() {
        fs::remove_dir_all(&scratch).map_err(|error| format!("{}: {error}", scratch.display()))?;
    }
    fs::create_dir_all(&scratch).map_err(|error| format!("{}: {error}", scratch.display()))?;
    let job = scratch.join("job");
    run_shown(Command::new(&program).arg("demo").arg("--into").arg(&job))?;
    let packed = scratch.join("bag.zip");
    let number = "DEMO-2026";
    let mut export = Command::new(&program);
    export.arg("--data").arg(&job).args(["export", number, "--into"]).arg(&packed);
    run_shown(&mut export)?;

    let environment = scratch.join("venv");
    run_shown(Command::new("python3").args(["-m", "venv"]).arg(&environment)).map_err(|why| {
        format!("{why} (on Debian, Python's environments need `apt-get install python3-venv`)")
    })?;
    let python = environment.join(if cfg!(windows) { "Scripts/python.exe" } else { "bin/python" });
    let own = root().join("crates/bag/outside");
    let install = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-r"];
    run_shown(Command::new(&python).args(install).arg(own.join("requirements.txt")))?;
    let mut check = Command::new(&python);
    check.arg(own.join("check.py")).arg(job.join(format!("{number}-release-1"))).arg(&packed);
    run_shown(check.env("PYTHONUTF8", "1"))
}
