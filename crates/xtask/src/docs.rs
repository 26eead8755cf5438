//! `cargo xtask docs`: draws the handbook's pictures again, from the demonstration job's own report.

use crate::{
    Outcome,
    arguments::Arguments,
    needs,
    workspace::{cargo_command, root, run_shown, target_dir},
};
use std::{fs, process::Command};

const USAGE: &str = "\
cargo xtask docs

Makes the demonstration job in the build folder and draws the pages that docs/handbook.md shows
into docs/pictures.";

/// Page of the demonstration report, and the picture it becomes.
const PAGES: [(u32, &str); 3] =
    [(1, "report-front"), (4, "report-findings"), (7, "report-finding")];

/// Dots an inch: readable on a screen, small in the repository.
const RESOLUTION: &str = "60";

pub(crate) fn run(mut arguments: Arguments) -> Outcome {
    if arguments.switch("--help") {
        println!("{USAGE}");
        return Ok(());
    }
    arguments.finish(USAGE)?;
    needs::ensure(&needs::BUILD.iter().chain(needs::TESTS).collect::<Vec<_>>())?;
    run_shown(&mut cargo_command(&["build", "--release", "--locked", "-p", "cli"]))?;
    let folder = target_dir().join("docs-demo");
    if folder.exists() {
        fs::remove_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    }
    let program =
        target_dir().join("release").join(format!("nearside{}", std::env::consts::EXE_SUFFIX));
    run_shown(Command::new(program).arg("demo").arg("--into").arg(&folder))?;
    let pictures = root().join("docs/pictures");
    fs::create_dir_all(&pictures).map_err(|error| format!("{}: {error}", pictures.display()))?;
    for (page, name) in PAGES {
        let page = page.to_string();
        run_shown(
            Command::new("pdftoppm")
                .args(["-png", "-singlefile", "-r", RESOLUTION, "-f", &page, "-l", &page])
                .arg(folder.join("report.pdf"))
                .arg(pictures.join(name)),
        )?;
    }
    println!("\nwhere to look:\n  docs/handbook.md and docs/pictures");
    Ok(())
}
