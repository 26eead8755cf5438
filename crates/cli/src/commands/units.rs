//! `nearside units`: every unit spelling that is read.

use std::io::Write;

use clap::Args;
use quantity::{Kind, UnitSystem, units};
use serde_json::json;

use crate::failure::Failure;

/// Lists every unit spelling that is read, by kind of quantity.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside units\n  nearside units pressure\n  nearside units --json"
)]
pub(crate) struct UnitsArguments {
    /// Only units of this kind, such as `pressure`
    kind: Option<String>,
    /// Print a JSON array
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(arguments: &UnitsArguments) -> Result<(), Failure> {
    let kinds: Vec<Kind> = match &arguments.kind {
        None => Kind::ALL.to_vec(),
        Some(word) => vec![Kind::from_word(word).ok_or_else(|| {
            let words: Vec<&str> = Kind::ALL.iter().map(|kind| kind.word()).collect();
            Failure::input(format!("no kind of quantity is called `{word}`"))
                .hint(format!("kinds: {}", words.join(", ")))
        })?],
    };
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let all: Vec<_> = kinds
            .iter()
            .flat_map(|kind| units::of_kind(*kind))
            .map(|unit| {
                json!({
                    "unit": unit.spelling,
                    "also": unit.also,
                    "kind": unit.kind.word(),
                    "system": unit.system.map(|system| match system {
                        UnitSystem::Us => "us",
                        UnitSystem::Si => "si",
                    }),
                    "si_base_units_each": unit.step(),
                })
            })
            .collect();
        writeln!(out, "{}", serde_json::Value::from(all))?;
        return Ok(());
    }
    for kind in kinds {
        writeln!(out, "{}", kind.word().replace('_', " "))?;
        for unit in units::of_kind(kind) {
            let also = if unit.also.is_empty() {
                String::new()
            } else {
                format!("   also {}", unit.also.join(", "))
            };
            let spelling = if unit.spelling.is_empty() { "(none)" } else { unit.spelling };
            writeln!(out, "    {spelling}{also}")?;
        }
    }
    Ok(())
}
