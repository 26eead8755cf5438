//! Puts the app together: `assemble PARTS crates/web INTO [--quick]`. `cargo xtask web` calls it.
//!
//! What works in a job, the plans that ship, and what they say in other languages, are files of their own: the app starts
//! before they have come.
//!
//! Every file but the page and the service worker gets a name with the hash of its content in it, so that a browser may
//! keep it for ever; the page names those files, and the service worker keeps exactly them, all or none.
#![allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "this crate is the edge: a tool that reads and writes files and talks to a person"
)]

mod compress;
mod glue;
mod layout;
mod parts;

use std::{
    fs,
    path::{Path, PathBuf},
    process::ExitCode,
};

/// A file of the app: its name and its bytes.
type File = (String, Vec<u8>);

fn main() -> ExitCode {
    let mut words: Vec<String> = std::env::args().skip(1).collect();
    let before = words.len();
    words.retain(|word| word != "--quick");
    let quick = words.len() < before;
    let outcome = match words.as_slice() {
        [parts, source, into] => assemble(parts.as_ref(), source.as_ref(), into.as_ref(), quick),
        _ => Err("usage: assemble PARTS crates/web INTO [--quick]".to_owned()),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("assemble: {why}");
            ExitCode::FAILURE
        }
    }
}

fn assemble(parts: &Path, source: &Path, into: &Path, quick: bool) -> Result<(), String> {
    let glue = glue::make(parts)?;
    let mut shell = read_folder(&source.join("shell"))?;
    shell.push(("plans.txt".to_owned(), plan::Files::embedded().to_text().into_bytes()));
    shell.extend(texts()?);
    let styles = read_folder(&source.join("style"))?;
    let app = layout::App { glue, styles, shell };
    let files = app.lay_out()?;
    let (start_up, afterwards) = write_all(&files, into, quick)?;
    println!("the app is in {}: {} files", into.display(), files.len());
    if !quick {
        println!(
            "to start it, a browser loads {} KB (brotli); {} KB more come afterwards, to work without a network",
            start_up.div_ceil(1000),
            afterwards.div_ceil(1000)
        );
    }
    Ok(())
}

/// What the plans say in every language but English, checked here so that the app need not do it.
fn texts() -> Result<Vec<File>, String> {
    let library = plan::load(&plan::Files::embedded()).map_err(|problems| listed(&problems))?;
    let mut files = Vec::new();
    for language in plan::Files::languages().filter(|language| *language != "en") {
        let given = plan::Files::of_language(language).unwrap_or_default();
        let loaded = plan::load_texts(language, &given, &library);
        if !loaded.problems.is_empty() {
            return Err(listed(&loaded.problems));
        }
        files.push((format!("texts-{language}.txt"), loaded.texts.to_text().into_bytes()));
    }
    Ok(files)
}

fn listed(problems: &[plan::Problem]) -> String {
    problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

/// Writes into a folder beside, then puts that in the place of the old one: a server that reads the folder meanwhile
/// sees one or the other, but for a moment none. Answers how many bytes travel to start the app, and how many after that.
fn write_all(files: &[File], into: &Path, quick: bool) -> Result<(usize, usize), String> {
    let said = |path: &Path, error: std::io::Error| format!("{}: {error}", path.display());
    let beside: PathBuf = into.with_extension("new");
    if beside.exists() {
        fs::remove_dir_all(&beside).map_err(|error| said(&beside, error))?;
    }
    fs::create_dir_all(&beside).map_err(|error| said(&beside, error))?;
    let write = |name: &str, bytes: &[u8]| {
        let path = beside.join(name);
        fs::write(&path, bytes).map_err(|error| said(&path, error))
    };
    let (mut start_up, mut afterwards) = (0, 0);
    for (name, bytes) in files {
        write(name, bytes)?;
        let mut travels = bytes.len();
        if !quick && compress::is_worth_it(name) {
            let small = compress::brotli(bytes)?;
            travels = small.len();
            write(&format!("{name}.br"), &small)?;
            write(&format!("{name}.gz"), &compress::gzip(bytes)?)?;
        }
        if layout::starts_with(name) {
            start_up += travels;
        } else {
            afterwards += travels;
        }
    }
    if into.exists() {
        fs::remove_dir_all(into).map_err(|error| said(into, error))?;
    }
    fs::rename(&beside, into).map_err(|error| said(into, error))?;
    Ok((start_up, afterwards))
}

/// All files of a folder, by name.
fn read_folder(folder: &Path) -> Result<Vec<File>, String> {
    let said = |error: std::io::Error| format!("{}: {error}", folder.display());
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).map_err(said)? {
        let entry = entry.map_err(said)?;
        let name = entry.file_name().to_string_lossy().into_owned();
        files.push((name, fs::read(entry.path()).map_err(said)?));
    }
    files.sort();
    Ok(files)
}
