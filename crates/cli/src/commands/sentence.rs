//! `nearside sentence`: the inspector's own stock sentences.

use std::io::Write;

use clap::{Args, Subcommand};
use serde_json::json;

use crate::commands::near_hint;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::sentences;

/// Keeps your own stock sentences: one plain file in the data folder, to which only you add.
///
/// A sentence may have gaps such as {point}, {place}, {finding}, {who} and {unit}, which a finding fills in by itself, and
/// others, which you fill in with --with. `nearside finding JOB edit KEY --sentence NAME` puts one behind a statement.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside sentence add gas-off \"Keep the gas shut until {who} has seen the {point}.\"\n  \
        nearside sentence list\n  \
        nearside finding 2026-001 edit regulator_lockup/lockup_high --sentence gas-off")]
pub(crate) struct SentenceArguments {
    #[command(subcommand)]
    command: Option<SentenceCommand>,
    /// Print JSON
    #[arg(long, global = true)]
    json: bool,
}

#[derive(Subcommand, Debug)]
enum SentenceCommand {
    /// Lists them
    #[command(after_help = "Example:\n  nearside sentence list")]
    List,
    /// Adds one; one of the same name is written anew
    #[command(
        after_help = "Example:\n  nearside sentence add gas-off \"Keep the gas shut until {who} has seen the {point}.\""
    )]
    Add {
        /// Its name, to call it by
        name: String,
        /// What it says; {word} is a gap to be filled in
        text: String,
    },
    /// Takes one off the list
    #[command(after_help = "Example:\n  nearside sentence remove gas-off")]
    Remove {
        /// Its name
        name: String,
    },
}

pub(crate) fn run(place: &Place, arguments: &SentenceArguments) -> Result<(), Failure> {
    let mut list = sentences::load(place)?;
    let mut out = std::io::stdout().lock();
    let (name, done) = match &arguments.command {
        None | Some(SentenceCommand::List) => {
            if arguments.json {
                let all: Vec<_> = list
                    .all()
                    .iter()
                    .map(|one| json!({"name": one.name, "text": one.text, "gaps": one.gaps()}))
                    .collect();
                writeln!(out, "{}", serde_json::Value::from(all))?;
                return Ok(());
            }
            if list.all().is_empty() {
                writeln!(out, "no sentences yet; `nearside sentence add NAME TEXT` keeps one")?;
            }
            for one in list.all() {
                writeln!(out, "{}\n   {}", one.name, one.text)?;
            }
            return Ok(());
        }
        Some(SentenceCommand::Add { name, text }) => {
            list.add(name, text).map_err(|said| Failure::input(said.to_string()))?;
            (name, "kept")
        }
        Some(SentenceCommand::Remove { name }) => {
            if !list.remove(name) {
                let known = list.all().iter().map(|one| one.name.as_str());
                return Err(Failure::input(format!("no sentence is called `{name}`"))
                    .hint(near_hint(name, known)));
            }
            (name, "taken off")
        }
    };
    sentences::save(place, &list)?;
    if arguments.json {
        writeln!(out, "{}", json!({"sentence": name, "done": done}))?;
    } else {
        writeln!(out, "{name}: {done}, in {}", sentences::path(place)?.display())?;
    }
    Ok(())
}
