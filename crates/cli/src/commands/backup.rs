//! `nearside backup` and `nearside restore`: a copy of everything, and back.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use serde_json::json;
use store::{BackedUp, Store};

use crate::data_folder::Place;
use crate::failure::Failure;
use crate::progress;

/// The server's certificate authority, which phones have been told to trust: without it, every phone would have to be
/// told again.
const AUTHORITY: &str = "tls";

/// Copies all jobs, photos and the server's certificate authority into a folder, while everything goes on.
///
/// The backup is a data folder like any other: every command takes it with --data. A second backup into the same
/// folder copies only what is new. Keep it on another disk, and out of strangers' hands: it holds the authority's key.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside backup /media/disk/nearside\n  nearside --data demo-job backup copy-of-demo"
)]
pub(crate) struct BackupArguments {
    /// Folder to copy into: a new one, or one of an earlier backup
    into: PathBuf,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

/// Puts a backup back into a new or empty data folder, and checks every byte of it.
///
/// This is also how everything moves to another computer: back up there, restore here.
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
    let bar = progress::bar(0, "copying");
    let done = store.back_up(&arguments.into, &mut |at| progress::show(&bar, at))?;
    bar.finish_and_clear();
    copy_authority(store.folder(), &arguments.into)?;
    tell(&done, "backup", &arguments.into, arguments.json)
}

pub(crate) fn restore(place: &Place, arguments: &RestoreArguments) -> Result<(), Failure> {
    let folder = place.folder()?;
    let bar = progress::bar(0, "putting back");
    let done = Store::restore(&arguments.backup, &folder, &mut |at| progress::show(&bar, at))?;
    bar.finish_and_clear();
    copy_authority(&arguments.backup, &folder)?;
    tell(&done, "restored", &folder, arguments.json)
}

fn tell(done: &BackedUp, what: &str, folder: &Path, json: bool) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    if json {
        let faults: Vec<String> = done.faults.iter().map(ToString::to_string).collect();
        let object = json!({
            "folder": folder.display().to_string(),
            "jobs": done.jobs,
            "changes": done.changes,
            "files": done.blobs,
            "copied": done.copied,
            "faults": faults,
        });
        writeln!(out, "{object}")?;
    } else {
        writeln!(
            out,
            "{what}: {}: {} jobs, {} changes, {} files ({} copied now)",
            folder.display(),
            done.jobs,
            done.changes,
            done.blobs,
            done.copied
        )?;
    }
    if done.faults.is_empty() {
        return Ok(());
    }
    for fault in &done.faults {
        eprintln!("note: {fault}");
    }
    Err(Failure::failed(format!(
        "{} of what was kept is damaged; all else was copied",
        done.faults.len()
    ))
    .hint("`nearside doctor --from FOLDER` mends from another copy"))
}

/// Copies the authority's few files, readable for their owner alone as they are.
fn copy_authority(from: &Path, to: &Path) -> Result<(), Failure> {
    let failed = |path: &Path, error: std::io::Error| {
        Failure::failed(format!("{}: {error}", path.display()))
    };
    let from = from.join(AUTHORITY);
    let to = to.join(AUTHORITY);
    let entries = match fs::read_dir(&from) {
        Ok(entries) => entries,
        Err(missing) if missing.kind() == std::io::ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(failed(&from, error)),
    };
    fs::create_dir_all(&to).map_err(|error| failed(&to, error))?;
    let folder = fs::metadata(&from).map_err(|error| failed(&from, error))?;
    fs::set_permissions(&to, folder.permissions()).map_err(|error| failed(&to, error))?;
    for entry in entries {
        let path = entry.map_err(|error| failed(&from, error))?.path();
        let Some(name) = path.file_name().filter(|_| path.is_file()) else { continue };
        // Copies the permissions too.
        fs::copy(&path, to.join(name)).map_err(|error| failed(&path, error))?;
    }
    Ok(())
}
