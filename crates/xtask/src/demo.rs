//! `cargo xtask demo`: from a fresh checkout to a finished report, in one command.

use crate::{
    Outcome,
    arguments::Arguments,
    needs,
    steps::spoken,
    workspace::{answer, cargo_command, run_shown, shown, target_dir},
};
use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
    thread,
    time::Instant,
};

const USAGE: &str = "\
cargo xtask demo [--into DIR]

Builds `nearside`, lets it make an invented job (readings, photos, findings) and its report,
and says where everything is. DIR is ./demo-job unless given.";

/// Processor minutes of the first optimized build, nearly all of it the typesetting library.
const BUILD_PROCESSOR_MINUTES: usize = 30;

pub(crate) fn run(mut arguments: Arguments) -> Outcome {
    if arguments.switch("--help") {
        println!("{USAGE}");
        return Ok(());
    }
    let into = PathBuf::from(arguments.value("--into")?.unwrap_or_else(|| "demo-job".to_owned()));
    arguments.finish(USAGE)?;

    needs::ensure(&needs::BUILD.iter().collect::<Vec<_>>())?;
    let program =
        target_dir().join("release").join(format!("nearside{}", std::env::consts::EXE_SUFFIX));
    if program.exists() {
        println!("building nearside (what is built already is kept)");
    } else {
        let processors = thread::available_parallelism().map_or(1, std::num::NonZero::get);
        println!("building nearside: {}", first_build(processors));
    }
    let start = Instant::now();
    run_shown(&mut cargo_command(&["build", "--release", "--locked", "-p", "cli"]))?;
    println!("built in {}\n", spoken(start.elapsed()));

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
    println!("  {}  the job's folder", into.display());
    println!("\nwhat the program can do:");
    let help = answer(Command::new(&program).arg("--help")).unwrap_or_default();
    for command in commands(&help) {
        println!("  {command}");
    }
    println!("\nfor example:\n  {} help demo", shown(&program));
    Ok(())
}

/// What to expect of the first build on a machine with so many processors.
fn first_build(processors: usize) -> String {
    let minutes = BUILD_PROCESSOR_MINUTES.div_ceil(processors).max(3);
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
            first_build(2),
            "the first time takes roughly 15 minutes on 2 processors, later ones seconds"
        );
        assert!(first_build(1).contains("30 minutes on 1 processor,"));
        assert!(first_build(64).contains("roughly 3 minutes"));
    }

    #[test]
    fn commands_are_read_from_the_programs_own_help() {
        let help = "Usage: nearside <COMMAND>\n\nCommands:\n  demo     An invented job\n  \
            formula  One calculation\n\nOptions:\n  -h  Help\n";
        assert_eq!(commands(help), ["demo     An invented job", "formula  One calculation"]);
        assert!(commands("nothing here").is_empty());
    }
}
