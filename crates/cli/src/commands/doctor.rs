//! `nearside doctor`: reads everything again, and mends what can be mended.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use serde_json::json;
use store::{Fault, Store};

use crate::data_folder::Place;
use crate::failure::Failure;
use crate::progress;

/// Reads every change and every file again, says what is not as it was kept, and mends it from a sound copy.
///
/// Changes and files are held against the SHA-256 they were kept under. What a seal proves is put right by itself; the rest
/// comes from a backup (--from). Files that no row knows are taken in where their name proves what they are. Nothing is
/// guessed, and nothing is thrown away. Ends with status 1 if something that was kept is still damaged.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside doctor\n  nearside doctor --from /media/disk/nearside\n  nearside doctor --look-only"
)]
pub(crate) struct DoctorArguments {
    /// A backup, or another computer's data folder, to mend from
    #[arg(long, value_name = "DIR", conflicts_with = "look_only")]
    from: Option<PathBuf>,
    /// Mend nothing
    #[arg(long)]
    look_only: bool,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

/// Mending one fault can show another that it hid.
const ROUNDS: usize = 8;

pub(crate) fn run(place: &Place, arguments: &DoctorArguments) -> Result<(), Failure> {
    let store = place.store()?;
    let copy = arguments.from.as_deref().map(existing).transpose()?;
    let mut left = faults(&store)?;
    let mut mended = Vec::new();
    if !arguments.look_only {
        for _ in 0..ROUNDS {
            let mut any = false;
            for fault in &left {
                if store.mend(fault, copy.as_ref())? {
                    any = true;
                    mended.push(fault.clone());
                }
            }
            if !any {
                break;
            }
            left = faults(&store)?;
        }
    }
    let lost = left.iter().filter(|fault| fault.is_loss()).count();
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let words = |faults: &[Fault]| faults.iter().map(ToString::to_string).collect::<Vec<_>>();
        writeln!(
            out,
            "{}",
            json!({"mended": words(&mended), "left": words(&left), "damaged": lost})
        )?;
    } else {
        for fault in &mended {
            writeln!(out, "mended: {fault}")?;
        }
        for fault in &left {
            writeln!(out, "{}: {fault}", if fault.is_loss() { "damaged" } else { "left over" })?;
        }
        if lost == 0 {
            writeln!(out, "everything that was kept is as it was kept")?;
        }
    }
    if lost == 0 {
        return Ok(());
    }
    let failure =
        Failure::failed(format!("{lost} faults are left in {}", store.folder().display()));
    Err(failure.hint(match arguments.from {
        None => "give a backup with --from DIR; a photo comes back by itself from a phone that still has it",
        Some(_) => "this copy does not have it either; try another, or put a whole backup back with `nearside restore`",
    }))
}

fn faults(store: &Store) -> Result<Vec<Fault>, Failure> {
    let bar = progress::bar(0, "reading everything again");
    let faults = store.verify(&mut |at| progress::show(&bar, at))?;
    bar.finish_and_clear();
    Ok(faults)
}

/// The copy to mend from; opening a folder that is not there would make one.
fn existing(folder: &std::path::Path) -> Result<Store, Failure> {
    if !folder.join("store.sqlite").is_file() {
        return Err(Failure::input(format!("{} is no data folder", folder.display()))
            .hint("name the folder of a backup: it holds store.sqlite"));
    }
    Ok(Store::open(folder)?)
}
