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
    process::Command,
    time::{Instant, SystemTime},
};

const USAGE: &str = "\
cargo xtask web [--quick | --lint]

Compiles the app to WebAssembly and lays it out in target/app: the page, the service worker, and
every other file under a name that changes with its content. Uses the running toolchain if it has
wasm32-unknown-unknown, else Debian's own compiler (as root it is installed after saying so).
The first build takes ten minutes of processor time or more, later ones about half a minute.
--quick: for working on it; compiles in seconds, the app is larger and nothing is compressed
--lint: builds nothing; clippy over the code that only the browser sees";

pub(crate) fn run(mut arguments: Arguments) -> Outcome {
    if arguments.switch("--help") {
        println!("{USAGE}");
        return Ok(());
    }
    let (quick, only_lint) = (arguments.switch("--quick"), arguments.switch("--lint"));
    arguments.finish(USAGE)?;
    if only_lint {
        return lint();
    }
    build(quick).map(drop)
}

/// Clippy over what an ordinary build leaves out: for any other target the app is empty.
pub(crate) fn lint() -> Outcome {
    // Beside the app's own files, from which nothing can be shared.
    let mut command = toolchain()?.clippy(&target_dir().join("web"))?;
    run_shown(command.args(["-p", "web", "--", "-D", "warnings"]))
}

/// Where the app lies once it is built.
pub(crate) fn folder() -> PathBuf {
    root().join("target/app")
}

/// Builds the app and answers where it lies; the next build of the program takes it in.
pub(crate) fn build(quick: bool) -> Outcome<PathBuf> {
    // The packing is a program of its own, so that nobody else waits for the libraries it needs.
    let packer = cargo_command(&["run", "--quiet", "--locked", "-p", "assemble", "--"]);
    let folder = build_with(quick, packer)?;
    take_in_again()?;
    Ok(folder)
}

/// The same with a packer that is built already. A program built unoptimized reads the folder whenever it is asked for the
/// app: it need not be built again.
pub(crate) fn build_with(quick: bool, packer: Command) -> Outcome<PathBuf> {
    let toolchain = toolchain()?;
    let start = Instant::now();
    // Its own folder: another compiler's files would push out those of the ordinary build.
    let target = target_dir().join("web");
    let profile = if quick { "web-quick" } else { "web" };
    if !target.join(TARGET).join(profile).exists() {
        println!("xtask: the first build of the app takes ten minutes of processor time or more");
    }
    // What stands where is kept in the module: it is taken apart into what starts the app and what comes afterwards.
    let with_places = ["--", "-C", "link-arg=--emit-relocs", "-C", "strip=none"];
    let mut command = toolchain.link(&target);
    run_shown(command.args(["--profile", profile, "-p", "web", "--lib"]).args(with_places))?;
    let module = target.join(TARGET).join(profile).join("web.wasm");
    assemble(packer, &take_apart(&module)?, quick)?;
    println!("the app was built in {}", spoken(start.elapsed()));
    Ok(folder())
}

/// Makes the app's folder before the program is built: a program built without one never looks there again.
pub(crate) fn make_room() -> Outcome {
    let folder = folder();
    if folder.exists() {
        return Ok(());
    }
    fs::create_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    take_in_again()
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

/// The program that takes a module apart along the borders that its own code marks. It is installed once, into the target
/// folder: as a library it would have half the workspace's libraries built again, with other features.
const SPLITTER: (&str, &str, &str) = ("wasm_split_cli_support", "0.2.4", "wasm-split-cli");

/// What starts the app, what comes afterwards, and what fetches that: the folder with them.
fn take_apart(module: &Path) -> Outcome<PathBuf> {
    let (library, version, program) = SPLITTER;
    let tools = target_dir().join("tools").join(format!("{library}-{version}"));
    let splitter = tools.join("bin").join(format!("{program}{}", std::env::consts::EXE_SUFFIX));
    if !splitter.exists() {
        println!("xtask: building {library} {version}, once: it takes the app apart");
        let mut install = cargo_command(&["install", "--locked", "--features", "build-binary"]);
        install.args([library, "--version", version, "--root"]).arg(&tools);
        // Its own folder: other features of the same libraries would push out the workspace's.
        run_shown(install.env("CARGO_TARGET_DIR", tools.join("build")))?;
    }
    let parts = module.with_extension("parts");
    if parts.exists() {
        fs::remove_dir_all(&parts).map_err(|error| format!("{}: {error}", parts.display()))?;
    }
    let mut split = Command::new(&splitter);
    run_shown(split.arg(module).arg(&parts).args(["--target", "web", "--out-name", "app"]))?;
    Ok(parts)
}

fn assemble(mut packer: Command, parts: &Path, quick: bool) -> Outcome {
    packer.arg(parts).arg(root().join("crates/web")).arg(folder());
    if quick {
        packer.arg("--quick");
    }
    run_shown(&mut packer)
}
