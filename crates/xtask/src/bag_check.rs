//! `cargo xtask bag-check`: the demonstration's bag, reports and archive before other people's programs.

use crate::{
    Outcome,
    arguments::Arguments,
    needs, python,
    workspace::{answer, cargo_command, root, run_shown, target_dir},
};
use std::{fs, process::Command};

const USAGE: &str = "\
cargo xtask bag-check

Builds `nearside`, makes the invented job, and gives its bag to the reference BagIt library, an RO-Crate
validator, a library for JSON Web Signatures and a JSON Schema validator; its report in US Letter and in A4,
in Spanish and in the short form, to checkers of PDF/A-3a and PDF/UA-1, qpdf and pdftotext. Each gets damaged
copies too, which it must refuse.
The archive's tables go to two general readers of Parquet, one of which counts its figures again.
Needs Python 3, qpdf and poppler's tools, and downloads the packages pinned in crates/bag/outside,
crates/report/outside and crates/archive/outside, once. A step of `cargo xtask ci`.";

/// The reports that are checked, and how each is asked for.
const REPORTS: &[(&str, &[&str])] = &[
    ("a4.pdf", &["--paper", "a4"]),
    ("spanish.pdf", &["--language", "es"]),
    ("short.pdf", &["--form", "short"]),
    ("short-spanish-a4.pdf", &["--form", "short", "--language", "es", "--paper", "a4"]),
];

pub(crate) fn run(mut arguments: Arguments) -> Outcome {
    if arguments.switch("--help") {
        println!("{USAGE}");
        return Ok(());
    }
    arguments.finish(USAGE)?;
    needs::ensure(&needs::BUILD.iter().chain(needs::TESTS).collect::<Vec<_>>())?;
    check()
}

/// The whole check; whoever calls it has seen to what it needs.
pub(crate) fn check() -> Outcome {
    let outside =
        ["bag", "report", "archive"].map(|name| root().join("crates").join(name).join("outside"));
    let python = python::environment(
        "bag-check",
        &outside.each_ref().map(|it| it.join("requirements.txt")),
    )?;
    // The whole workspace, as the tests are built: the program alone would have its libraries built again, with other
    // features.
    run_shown(&mut cargo_command(&["build", "--locked", "--workspace"]))?;
    let program =
        target_dir().join("debug").join(format!("nearside{}", std::env::consts::EXE_SUFFIX));
    let scratch = target_dir().join("bag-check");
    if scratch.exists() {
        fs::remove_dir_all(&scratch).map_err(|error| format!("{}: {error}", scratch.display()))?;
    }
    fs::create_dir_all(&scratch).map_err(|error| format!("{}: {error}", scratch.display()))?;
    let job = scratch.join("job");
    run_shown(Command::new(&program).arg("demo").arg("--into").arg(&job))?;
    let number = "DEMO-2026";
    let nearside = || {
        let mut command = Command::new(&program);
        command.arg("--data").arg(&job);
        command
    };
    let packed = scratch.join("bag.zip");
    run_shown(nearside().args(["export", number, "--into"]).arg(&packed))?;
    let mut reports = Vec::new();
    for (name, asked) in REPORTS {
        let file = scratch.join(name);
        run_shown(nearside().args(["report", number]).args(*asked).arg("--out").arg(&file))?;
        reports.push(file);
    }

    let bag = job.join(format!("{number}-release-1"));
    let [of_bags, of_reports, of_archives] = outside.map(|folder| folder.join("check.py"));
    let mut check = Command::new(&python);
    run_shown(check.arg(of_bags).arg(&bag).arg(&packed).env("PYTHONUTF8", "1"))?;
    // The first is not signed: it is the one that is damaged. The last is signed, and in US Letter.
    reports.push(bag.join("data/report.pdf"));
    let mut check = Command::new(&python);
    run_shown(check.arg(of_reports).args(&reports).env("PYTHONUTF8", "1"))?;

    let tables = scratch.join("archive");
    run_shown(nearside().args(["archive", "export"]).arg(&tables))?;
    let groups = ["archive", "figures", "--per", "kind,age,region", "--json"];
    let figures = answer(nearside().args(groups)).ok_or("`nearside archive figures` failed")?;
    let file = scratch.join("figures.json");
    fs::write(&file, figures).map_err(|error| format!("{}: {error}", file.display()))?;
    let mut check = Command::new(&python);
    run_shown(check.arg(of_archives).arg(&tables).arg(&file).env("PYTHONUTF8", "1"))
}
