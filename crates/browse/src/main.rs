//! The app in a real browser: `browse --app DIR --nearside FILE [--axe FILE] [--pictures DIR] [--rounds N] [--minutes N] [CHECK …]`.
//!
//! A headless Chromium the size of a phone is driven by WebDriver (W3C), against a real server that is stopped and
//! started again. `cargo xtask web-test` calls it. Each check begins with a new browser and a new data folder.
#![allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "this crate is the edge: a tool that runs programs and talks to a person"
)]

mod axe;
mod base64;
mod browser;
mod checks;
mod contrast;
mod ending;
mod http;
mod keys;
mod line;
mod page;
mod server;

use std::{path::PathBuf, process::ExitCode, time::Instant};

/// What a check answers: what it measured, in words, or why it failed.
type Outcome<T = String> = Result<T, String>;

/// What the checks work with.
#[derive(Debug, Default)]
struct Tools {
    /// The folder that `cargo xtask web` made.
    app: PathBuf,
    /// The program.
    nearside: PathBuf,
    /// axe-core's script.
    axe: Option<PathBuf>,
    /// Where pictures for the handbook go.
    pictures: Option<PathBuf>,
    /// The app was built quickly: its size and speed are told, not judged.
    quick: bool,
    /// A folder for what the checks leave.
    scratch: PathBuf,
    /// Rounds in which server, lines and browsers fail at random.
    rounds: u64,
}

/// Rounds unless told otherwise: a round takes three seconds or so.
const ROUNDS: u64 = 8;

fn main() -> ExitCode {
    match run() {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(why) => {
            eprintln!("browse: {why}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Outcome<bool> {
    let scratch = std::env::temp_dir().join("nearside-browse");
    let mut tools = Tools { scratch, rounds: ROUNDS, ..Tools::default() };
    let mut minutes = None;
    let mut wanted = Vec::new();
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        let mut given = || words.next().ok_or_else(|| format!("`{word}` wants something after it"));
        let mut path = || given().map(PathBuf::from);
        match word.as_str() {
            "--rounds" => tools.rounds = number(&given()?)?,
            "--minutes" => minutes = Some(number(&given()?)?),
            "--quick" => tools.quick = true,
            "--app" => tools.app = path()?,
            "--nearside" => tools.nearside = path()?,
            "--axe" => tools.axe = Some(path()?),
            "--pictures" => tools.pictures = Some(path()?),
            // Whole, as the address of a file must be.
            "--scratch" => {
                tools.scratch = std::path::absolute(path()?).map_err(|error| error.to_string())?;
            }
            _ => wanted.push(word),
        }
    }
    for name in &wanted {
        if !checks::ALL.iter().any(|(known, ..)| known == name) {
            let known: Vec<&str> = checks::ALL.iter().map(|(known, ..)| *known).collect();
            return Err(format!("there is no check `{name}`; there are {}", known.join(", ")));
        }
    }
    if let Some(minutes) = minutes {
        ending::end_after(minutes);
    }
    let mut failed = Vec::new();
    let start = Instant::now();
    for (name, what, check) in checks::ALL {
        if !wanted.is_empty() && !wanted.iter().any(|it| it == name) {
            continue;
        }
        println!("\n-- {name}: {what}");
        let check_start = Instant::now();
        let outcome = check(&tools);
        let took = check_start.elapsed().as_secs_f64();
        match outcome {
            Ok(measured) => println!("-- {name}: passed in {took:.1} s. {measured}"),
            Err(why) => {
                failed.push(*name);
                println!("-- {name}: FAILED after {took:.1} s: {why}");
            }
        }
    }
    let took = start.elapsed().as_secs_f64() / 60.0;
    if failed.is_empty() {
        println!("\nevery check passed, in {took:.1} minutes");
    } else {
        println!("\nFAILED: {} (after {took:.1} minutes)", failed.join(", "));
    }
    Ok(failed.is_empty())
}

fn number(text: &str) -> Outcome<u64> {
    text.parse().map_err(|_| format!("`{text}` is not a whole number"))
}
