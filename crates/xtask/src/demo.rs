//! `cargo xtask demo`: from a fresh checkout to a finished report and the app in a browser, in one command.

use crate::{
    Outcome,
    arguments::Arguments,
    needs,
    steps::spoken,
    web,
    workspace::{answer, cargo_command, run_shown, shown, target_dir},
};
use std::{
    fs,
    hash::{DefaultHasher, Hash, Hasher},
    path::{Path, PathBuf},
    process::Command,
    thread,
    time::Instant,
};

const USAGE: &str = "\
cargo xtask demo [--into DIR] [--report-only]

Builds the app and `nearside`, lets it make an invented job (readings, photos, findings) and its
report, says where everything is, and serves the app with that job until ctrl-c.
  --into DIR      where the job is made; ./demo-job unless given
  --report-only   neither the app nor the server: the job, its report and the client's page";

/// Processor minutes of the first optimized build: most of it the typesetting library.
const BUILD_PROCESSOR_MINUTES: usize = 34;
/// The same for the app.
const APP_PROCESSOR_MINUTES: usize = 12;

pub(crate) fn run(mut arguments: Arguments) -> Outcome {
    if arguments.switch("--help") {
        println!("{USAGE}");
        return Ok(());
    }
    let into = PathBuf::from(arguments.value("--into")?.unwrap_or_else(|| "demo-job".to_owned()));
    let report_only = arguments.switch("--report-only");
    arguments.finish(USAGE)?;

    needs::ensure(&needs::BUILD.iter().collect::<Vec<_>>())?;
    let program = optimized(!report_only)?;

    // In the person's own folder, not the root: DIR is theirs.
    run_shown(Command::new(&program).arg("demo").arg("--into").arg(&into))?;

    let reports = files_ending_in("pdf", &into);
    if reports.is_empty() {
        return Err(format!("`nearside demo` ended without a PDF under {}", into.display()));
    }
    println!("\nwhere to look:");
    for report in reports {
        println!("  {}  the report", shown(&report));
    }
    println!("  {}  the client's page", shown(&into.join("page/index.html")));
    println!("  {}  the job's folder", into.display());
    println!("\nwhat the program can do:");
    let help = answer(Command::new(&program).arg("--help")).unwrap_or_default();
    for command in commands(&help) {
        println!("  {command}");
    }
    println!("\nfor example:\n  {} help demo", shown(&program));
    if report_only {
        return Ok(());
    }
    println!("\nthe app, with this job, until ctrl-c (open the address in a browser):\n");
    run_shown(Command::new(&program).arg("--data").arg(&into).arg("serve"))
}

/// Builds the program with optimization, with the app inside if wanted, and says where it is.
pub(crate) fn optimized(with_app: bool) -> Outcome<PathBuf> {
    let program =
        target_dir().join("release").join(format!("nearside{}", std::env::consts::EXE_SUFFIX));
    if program.exists() {
        println!("building nearside (what is built already is kept)");
    } else {
        let processors = thread::available_parallelism().map_or(1, std::num::NonZero::get);
        println!("building nearside: {}", first_build(processors, with_app));
    }
    let start = Instant::now();
    let mut build = cargo_command(&["build", "--release", "--locked", "-p", "cli"]);
    if with_app {
        let app = web::build(false)?;
        build.env("NEARSIDE_APP", version(&app)?);
    }
    run_shown(&mut build)?;
    println!("built in {}\n", spoken(start.elapsed()));
    Ok(program)
}

/// Differs when the app differs: its service worker names every file by its content.
fn version(app: &Path) -> Outcome<String> {
    let worker = app.join("sw.js");
    let text = fs::read(&worker).map_err(|error| format!("{}: {error}", worker.display()))?;
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    Ok(format!("{:016x}", hasher.finish()))
}

/// What to expect of the first build on a machine with so many processors.
fn first_build(processors: usize, with_app: bool) -> String {
    let all = BUILD_PROCESSOR_MINUTES + if with_app { APP_PROCESSOR_MINUTES } else { 0 };
    let minutes = all.div_ceil(processors).max(3);
    let noun = if processors == 1 { "processor" } else { "processors" };
    format!(
        "the first time takes roughly {minutes} minutes on {processors} {noun}, later ones seconds"
    )
}

/// Every file with that ending in a folder, at any depth, in order of name.
fn files_ending_in(ending: &str, folder: &Path) -> Vec<PathBuf> {
    let mut entries: Vec<PathBuf> =
        fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path()).collect();
    entries.sort();
    let mut found = Vec::new();
    for path in entries {
        if path.is_dir() {
            found.extend(files_ending_in(ending, &path));
        } else if path.extension().is_some_and(|it| it == ending) {
            found.push(path);
        }
    }
    found
}

/// The lines below `Commands:` in a program's help.
fn commands(help: &str) -> Vec<&str> {
    help.lines()
        .skip_while(|line| line.trim() != "Commands:")
        .skip(1)
        .take_while(|line| !line.trim().is_empty())
        .map(str::trim)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{commands, first_build};

    #[test]
    fn the_first_build_is_estimated_from_the_processors() {
        assert_eq!(
            first_build(2, false),
            "the first time takes roughly 17 minutes on 2 processors, later ones seconds"
        );
        assert!(first_build(1, true).contains("46 minutes on 1 processor,"));
        assert!(first_build(64, true).contains("roughly 3 minutes"));
    }

    #[test]
    fn commands_are_read_from_the_programs_own_help() {
        let help = "Usage: nearside <COMMAND>\n\nCommands:\n  demo     An invented job\n  \
            formula  One calculation\n\nOptions:\n  -h  Help\n";
        assert_eq!(commands(help), ["demo     An invented job", "formula  One calculation"]);
        assert!(commands("nothing here").is_empty());
    }
}
