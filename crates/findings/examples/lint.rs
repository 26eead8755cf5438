//! Lints a data folder and runs all its worked examples: `cargo run -p findings --example lint -- data`.
#![allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a program for the people who write data: it reads files and speaks"
)]

use std::path::Path;
use std::process::ExitCode;

use plan::Files;

fn main() -> ExitCode {
    let folder = std::env::args().nth(1).unwrap_or_else(|| "data".to_owned());
    let mut files = Files::none();
    if let Err(error) = collect(Path::new(&folder), Path::new(&folder), &mut files) {
        eprintln!("{folder}: {error}");
        return ExitCode::from(2);
    }
    let library = match plan::load(&files) {
        Ok(library) => library,
        Err(problems) => {
            for problem in &problems {
                println!("{problem}");
            }
            println!("{} problems", problems.len());
            return ExitCode::FAILURE;
        }
    };
    let (mut ran, mut failed) = (0, 0);
    for (id, _) in library.plans() {
        let Some(plan) = library.plan(id) else { continue };
        for point in &plan.points {
            for (at, example) in point.examples.iter().enumerate() {
                ran += 1;
                for wrong in findings::check_example(&plan, point, example) {
                    failed += 1;
                    println!("{}: example {} ({}): {wrong}", point.file, at + 1, example.title);
                }
            }
        }
    }
    println!("{} points, {ran} examples, {failed} differences", library.points().count());
    if failed == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn collect(root: &Path, folder: &Path, files: &mut Files) -> std::io::Result<()> {
    for entry in std::fs::read_dir(folder)? {
        let path = entry?.path();
        let inside = path.strip_prefix(root).unwrap_or(&path).to_string_lossy().replace('\\', "/");
        if path.is_dir() {
            if inside != "tables" && inside != "languages" {
                collect(root, &path, files)?;
            }
        } else if inside.ends_with(".toml") {
            files.add(inside, std::fs::read_to_string(&path)?);
        }
    }
    Ok(())
}
