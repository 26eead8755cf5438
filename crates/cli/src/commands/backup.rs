//! `nearside backup` and `nearside restore`: a copy of everything, and back.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use serde_json::json;
use store::{BackedUp, EarlierBlobs, Store};

use crate::data_folder::Place;
use crate::failure::Failure;
use crate::holdings::{self, Care, Ordered};
use crate::progress;

/// Copies everything in the data folder into another folder, while everything goes on.
///
/// Jobs, photos, releases, invoices, paired devices, the server's certificate authority, signing keys, stock sentences and
/// the firm's own texts. The backup is a data folder like any other: every command takes it with --data. A second backup
/// into the same folder copies only what is new; files that it has already are read again, and copied again where they
/// were damaged. Cut off anywhere, the folder holds the earlier backup or the new one, whole. Keep it on another disk, and
/// out of strangers' hands: it holds the authority's key.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside backup /media/disk/nearside\n  nearside backup /media/disk/nearside --quick\n  nearside --data demo-job backup copy-of-demo"
)]
pub(crate) struct BackupArguments {
    /// Folder to copy into: a new one, or one of an earlier backup
    into: PathBuf,
    /// Do not read again what an earlier backup has: only look whether each file has its length
    #[arg(long)]
    quick: bool,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

/// Puts a backup back into a new or empty data folder, and checks every byte of it.
///
/// This is also how everything moves to another computer: back up there, restore here; nothing else has to be copied. Signing
/// keys come with it, not their passphrases; phones go on trusting the server and stay paired. Cut off midway, the folder is
/// no data folder yet: run it again. What is damaged in the backup is named, and all else is put back.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside restore /media/disk/nearside\n  nearside --data new-folder restore copy-of-demo"
)]
pub(crate) struct RestoreArguments {
    /// The backup's folder
    backup: PathBuf,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn back_up(place: &Place, arguments: &BackupArguments) -> Result<(), Failure> {
    let store = place.store()?;
    let earlier = if arguments.quick { EarlierBlobs::Measured } else { EarlierBlobs::Read };
    let ordered = holdings::backup_order(&store, &arguments.into, earlier)?;
    let bar = progress::bar(0, "copying");
    let done =
        store.back_up(&arguments.into, &ordered.order, &mut |at| progress::show(&bar, at))?;
    bar.finish_and_clear();
    tell(&done, &ordered, "backup", &arguments.into, arguments.json)
}

pub(crate) fn restore(place: &Place, arguments: &RestoreArguments) -> Result<(), Failure> {
    let folder = place.named()?;
    let backup = Store::open_existing(&arguments.backup)?;
    let ordered = holdings::restore_order(&backup)?;
    let bar = progress::bar(0, "putting back");
    let done = backup.restore(&folder, &ordered.order, &mut |at| progress::show(&bar, at))?;
    bar.finish_and_clear();
    // Here people write these files again.
    let restored = Store::open(&folder)?;
    for sealed in restored.sealed_files()? {
        if holdings::care_of(&sealed.name) == Some(Care::ByHand) {
            restored.unseal_file(&sealed.name)?;
        }
    }
    tell(&done, &ordered, "restored", &folder, arguments.json)
}

fn tell(
    done: &BackedUp,
    ordered: &Ordered,
    what: &str,
    folder: &Path,
    json: bool,
) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    let faults: Vec<String> = done
        .faults
        .iter()
        .map(ToString::to_string)
        .chain(ordered.faults.iter().map(ToString::to_string))
        .collect();
    let beside = ordered.order.put.len();
    if json {
        let object = json!({
            "folder": folder.display().to_string(),
            "jobs": done.jobs,
            "changes": done.changes,
            "files": done.blobs,
            "copied": done.copied,
            "replaced": done.replaced,
            "beside": beside,
            "not_copied": ordered.strange,
            "faults": faults,
        });
        writeln!(out, "{object}")?;
    } else {
        writeln!(
            out,
            "{what}: {}: {} jobs, {} changes, {} files ({} copied now), {beside} keys, sentences, texts and certificates",
            folder.display(),
            done.jobs,
            done.changes,
            done.blobs,
            done.copied
        )?;
    }
    if done.replaced > 0 {
        eprintln!(
            "note: {} files were damaged in the earlier backup and were copied again: look after that disk",
            done.replaced
        );
    }
    for name in &ordered.strange {
        eprintln!("note: {name} is none of this program's files and was not copied");
    }
    if faults.is_empty() {
        return Ok(());
    }
    for fault in &faults {
        eprintln!("note: {fault}");
    }
    Err(Failure::failed(format!(
        "{} of what was kept is damaged; all else was copied",
        faults.len()
    ))
    .hint("`nearside doctor --from FOLDER` mends from another copy"))
}
