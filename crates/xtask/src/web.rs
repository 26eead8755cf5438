//! `cargo xtask web`: the app for the browser, compiled, packed and laid out as the server hands it out.

use crate::{
    Outcome,
    arguments::Arguments,
    browser::{TARGET, toolchain},
    steps::spoken,
    workspace::{cargo_command, root, run_shown, target_dir},
};
use std::{
    fs,
    path::{Path, PathBuf},
    time::{Instant, SystemTime},
};

const USAGE: &str = "\
cargo xtask web [--quick]

Compiles the app to WebAssembly and lays it out in target/app: the page, the service worker, and
every other file under a name that changes with its content. Uses the running toolchain if it has
wasm32-unknown-unknown, else Debian's own compiler (as root it is installed after saying so).
The first build takes ten minutes of processor time or more, later ones about half a minute.
--quick: for working on it; compiles in seconds, the app is larger and nothing is compressed.";

pub(crate) fn run(mut arguments: Arguments) -> Outcome {
    if arguments.switch("--help") {
        println!("{USAGE}");
        return Ok(());
    }
    let quick = arguments.switch("--quick");
    arguments.finish(USAGE)?;
    build(quick).map(drop)
}

/// Where the app lies once it is built.
pub(crate) fn folder() -> PathBuf {
    root().join("target/app")
}

/// Builds the app and answers where it lies.
pub(crate) fn build(quick: bool) -> Outcome<PathBuf> {
    let toolchain = toolchain()?;
    let start = Instant::now();
    // Its own folder: another compiler's files would push out those of the ordinary build.
    let target = target_dir().join("web");
    let profile = if quick { "web-quick" } else { "web" };
    if !target.join(TARGET).join(profile).exists() {
        println!("xtask: the first build of the app takes ten minutes of processor time or more");
    }
    run_shown(toolchain.build(&target).args(["--profile", profile, "-p", "web"]))?;
    let module = target.join(TARGET).join(profile).join("web.wasm");
    assemble(&module, &folder(), quick)?;
    take_in_again()?;
    println!("the app was built in {}", spoken(start.elapsed()));
    Ok(folder())
}

/// The server carries the app's files, but cargo does not see that there are others: the file that takes them in counts
/// as changed from now on.
fn take_in_again() -> Outcome {
    let file = root().join("crates/server/src/app.rs");
    let touched = fs::File::options()
        .append(true)
        .open(&file)
        .and_then(|it| it.set_modified(SystemTime::now()));
    touched.map_err(|error| format!("{}: {error}", file.display()))
}

/// The packing is a program of its own, so that nobody else waits for the libraries it needs.
fn assemble(module: &Path, into: &Path, quick: bool) -> Outcome {
    let mut command = cargo_command(&["run", "--quiet", "--locked", "-p", "assemble", "--"]);
    command.arg(module).arg(root().join("crates/web")).arg(into);
    if quick {
        command.arg("--quick");
    }
    run_shown(&mut command)
}
