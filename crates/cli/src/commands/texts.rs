//! `nearside texts`: what people read, in other languages and in a firm's own words.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};
use plan::{Files, LoadedTexts, load_texts, write_texts};
use serde_json::{Value as Json, json};

use crate::commands::near_hint;
use crate::commands::plan::shipped;
use crate::data_folder::{read_text, write_file};
use crate::failure::Failure;

/// Checks, shows and writes out the texts of the data in other languages, or in a firm's own words.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside texts check\n  nearside texts check my-texts\n  nearside texts list points/gas/gas_smell --language es\n  nearside texts write my-texts --language es"
)]
pub(crate) struct TextsArguments {
    #[command(subcommand)]
    command: TextsCommand,
}

#[derive(Subcommand, Debug)]
enum TextsCommand {
    /// Reports every problem in text files, and counts what is still in English
    #[command(
        after_help = "Examples:\n  nearside texts check\n  nearside texts check my-texts\n  nearside texts check my-texts --missing points/gas"
    )]
    Check {
        /// A folder with one folder a language, such as `es/points/gas/gas_smell.toml`; the shipped ones if left out
        folder: Option<PathBuf>,
        /// List the texts that are still in English, of files that begin so; `--missing all` lists them all
        #[arg(long, value_name = "FILE")]
        missing: Option<String>,
        /// Print one JSON object a language, in an array
        #[arg(long)]
        json: bool,
    },
    /// Shows the texts of a file: those of the language, and behind a `#` what is still in English
    #[command(
        after_help = "Examples:\n  nearside texts list --language es\n  nearside texts list points/gas/gas_smell --language es\n  nearside texts list words --language es"
    )]
    List {
        /// The file without its ending; without it the files are listed
        file: Option<String>,
        /// The language's code
        #[arg(long, default_value = "en")]
        language: String,
        /// Print a JSON object of files and their texts
        #[arg(long)]
        json: bool,
    },
    /// Writes every text file of a language into a folder, to be edited
    #[command(
        after_help = "Examples:\n  nearside texts write my-texts --language en\n  nearside texts write my-texts --language es"
    )]
    Write {
        /// The folder; a folder of the language is made in it
        folder: PathBuf,
        /// The language's code
        #[arg(long, default_value = "en")]
        language: String,
    },
}

pub(crate) fn run(arguments: &TextsArguments) -> Result<(), Failure> {
    match &arguments.command {
        TextsCommand::Check { folder, missing, json } => {
            check(folder.as_deref(), missing.as_deref(), *json)
        }
        TextsCommand::List { file, language, json } => list(file.as_deref(), language, *json),
        TextsCommand::Write { folder, language } => write(folder, language),
    }
}

/// The text files of the languages in a folder, or of those that ship.
fn languages(folder: Option<&Path>) -> Result<Vec<(String, Files)>, Failure> {
    let Some(folder) = folder else {
        let of = |language: &str| Files::of_language(language).unwrap_or_default();
        let shipped = Files::languages().filter(|language| *language != "en");
        return Ok(shipped.map(|one| (one.to_owned(), of(one))).collect());
    };
    languages_in(folder)
}

/// The text files in a folder, by language.
pub(crate) fn languages_in(folder: &Path) -> Result<Vec<(String, Files)>, Failure> {
    let mut found: BTreeMap<String, Files> = BTreeMap::new();
    let mut waiting = vec![folder.to_owned()];
    while let Some(next) = waiting.pop() {
        let refuse =
            |error: &std::io::Error| Failure::input(format!("{}: {error}", next.display()));
        for entry in std::fs::read_dir(&next).map_err(|error| refuse(&error))? {
            let path = entry.map_err(|error| refuse(&error))?.path();
            let inside = path.strip_prefix(folder).unwrap_or(&path).to_string_lossy();
            let inside = inside.replace('\\', "/");
            if path.is_dir() {
                waiting.push(path);
            } else if let (Some((language, file)), true) =
                (inside.split_once('/'), inside.ends_with(".toml"))
            {
                found.entry(language.to_owned()).or_default().add(file, read_text(&path)?);
            }
        }
    }
    if found.is_empty() {
        return Err(Failure::input(format!("{} holds no text files", folder.display())).hint(
            "`nearside texts write DIR --language es` writes them, in a folder of the language",
        ));
    }
    Ok(found.into_iter().collect())
}

fn check(folder: Option<&Path>, missing: Option<&str>, json: bool) -> Result<(), Failure> {
    let library = shipped()?;
    let mut out = std::io::stdout().lock();
    let mut count = 0;
    let mut all: Vec<Json> = Vec::new();
    for (language, files) in languages(folder)? {
        let loaded = load_texts(&language, &files, &library);
        count += loaded.problems.len();
        let listed: Vec<&plan::MissingText> = loaded
            .missing
            .iter()
            .filter(|one| {
                missing.is_some_and(|file| file == "all" || one.at.file.starts_with(file))
            })
            .collect();
        if json {
            all.push(json!({
                "language": language,
                "texts": loaded.texts.count(),
                "wanted": loaded.wanted,
                "missing": loaded.missing.len(),
                "missing_texts": listed.iter().map(|one| json!({"file": one.at.file, "text": one.at.name, "english": one.english})).collect::<Vec<_>>(),
                "problems": loaded.problems.iter().map(|one| json!({"file": format!("{language}/{}", one.file), "line": one.line, "column": one.column, "message": one.message, "hint": one.hint})).collect::<Vec<_>>(),
            }));
            continue;
        }
        for problem in &loaded.problems {
            writeln!(out, "{language}/{problem}")?;
        }
        for one in listed {
            writeln!(out, "{language}/{}.toml: {}: {}", one.at.file, one.at.name, one.english)?;
        }
        writeln!(
            out,
            "{language}: {} of {} texts in the language, {} in English; {}",
            loaded.wanted - loaded.missing.len(),
            loaded.wanted,
            loaded.missing.len(),
            match loaded.problems.len() {
                0 => "no problem".to_owned(),
                1 => "one problem".to_owned(),
                many => format!("{many} problems"),
            }
        )?;
    }
    if json {
        writeln!(out, "{}", Json::from(all))?;
    }
    match count {
        0 => Ok(()),
        1 => Err(Failure::input("one problem in the texts")),
        many => Err(Failure::input(format!("{many} problems in the texts"))),
    }
}

/// The texts of a language as files to be edited. English is what the data say: all of it is in comments.
fn written(language: &str) -> Result<BTreeMap<String, String>, Failure> {
    let library = shipped()?;
    let files = match Files::of_language(language) {
        _ if language == "en" => Files::none(),
        Some(files) => files,
        None => {
            let known = Files::languages();
            return Err(Failure::input(format!("no texts are in the language `{language}`"))
                .hint(near_hint(language, known)));
        }
    };
    let loaded: LoadedTexts = load_texts(language, &files, &library);
    Ok(write_texts(&loaded, &library))
}

fn list(file: Option<&str>, language: &str, json: bool) -> Result<(), Failure> {
    let files = written(language)?;
    let mut out = std::io::stdout().lock();
    let wanted: BTreeMap<&str, &str> = files
        .iter()
        .map(|(path, text)| (path.trim_end_matches(".toml"), text.as_str()))
        .filter(|(path, _)| file.is_none_or(|file| file.trim_end_matches(".toml") == *path))
        .collect();
    if json {
        writeln!(out, "{}", json!(wanted))?;
        return Ok(());
    }
    if let Some(file) = file {
        let text = wanted.values().next().ok_or_else(|| {
            let known = files.keys().map(|path| path.trim_end_matches(".toml"));
            Failure::input(format!("no text file is called `{file}`")).hint(near_hint(file, known))
        })?;
        write!(out, "{text}")?;
        return Ok(());
    }
    for path in wanted.keys() {
        writeln!(out, "{path}")?;
    }
    Ok(())
}

fn write(folder: &Path, language: &str) -> Result<(), Failure> {
    let files = written(language)?;
    let root = folder.join(language);
    for path in files.keys().map(|path| root.join(path)) {
        if path.exists() {
            return Err(Failure::input(format!("{} is there already", path.display()))
                .hint("name another folder; nothing was written"));
        }
    }
    for (path, text) in &files {
        let path = root.join(path);
        if let Some(parent) = path.parent() {
            std::fs::create_dir_all(parent)
                .map_err(|error| Failure::failed(format!("{}: {error}", parent.display())))?;
        }
        write_file(&path, text.as_bytes())?;
    }
    let mut out = std::io::stdout().lock();
    writeln!(out, "{} text files in {}", files.len(), root.display())?;
    writeln!(out, "then: nearside texts check {}", folder.display())?;
    Ok(())
}
