//! `nearside doctor`: reads everything again, and mends what can be mended.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use serde_json::json;
use store::{Fault, Store};

use crate::bags::keys;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::holdings::{self, FileFault};
use crate::progress;

/// Reads everything in the data folder again, says what is not as it was kept, and mends it.
///
/// Changes, photos and other files are held against the SHA-256 they were kept under, and so are signing keys,
/// certificates and stock sentences; whether keys, certificates, sentences and the firm's texts can be used is tried too.
/// With --passphrase-file the signing keys are opened and held against their public halves. What a seal proves is put right
/// by itself; the rest comes from a backup (--from), where that has what was kept. A damaged server certificate is made
/// anew at the server's next start. Files that no row knows are taken in where their name proves what they are. Nothing is
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
    /// File whose first line is the passphrase of the signing keys, to open them too
    #[arg(long, value_name = "FILE")]
    passphrase_file: Option<PathBuf>,
    /// A key or another file that was taken away on purpose: it is not missed any more
    #[arg(long, value_name = "NAME", conflicts_with = "look_only")]
    forget: Vec<String>,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

/// Mending one fault can show another that it hid.
const ROUNDS: usize = 8;

/// Something that is not as it should be.
#[derive(Clone, PartialEq)]
enum Trouble {
    /// In the store.
    Store(Fault),
    /// In a file beside it.
    File(FileFault),
}

impl Trouble {
    fn is_loss(&self) -> bool {
        match self {
            Self::Store(fault) => fault.is_loss(),
            Self::File(fault) => fault.is_loss,
        }
    }
}

impl std::fmt::Display for Trouble {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Store(fault) => fault.fmt(formatter),
            Self::File(fault) => fault.fmt(formatter),
        }
    }
}

pub(crate) fn run(place: &Place, arguments: &DoctorArguments) -> Result<(), Failure> {
    let store = place.store()?;
    let copy = arguments.from.as_deref().map(existing).transpose()?;
    for name in &arguments.forget {
        forget(&store, name)?;
    }
    let mut left = troubles(&store, arguments)?;
    let mut mended = Vec::new();
    if !arguments.look_only {
        for _ in 0..ROUNDS {
            let mut any = false;
            for trouble in &left {
                let done = match trouble {
                    Trouble::Store(fault) => store.mend(fault, copy.as_ref())?,
                    Trouble::File(fault) => holdings::mend_file(&store, fault, copy.as_ref())?,
                };
                if done {
                    any = true;
                    mended.push(trouble.clone());
                }
            }
            if !any {
                break;
            }
            left = troubles(&store, arguments)?;
        }
        holdings::seal_sound_files(&store)?;
    }
    tell(&store, arguments, &mended, &left)
}

fn tell(
    store: &Store,
    arguments: &DoctorArguments,
    mended: &[Trouble],
    left: &[Trouble],
) -> Result<(), Failure> {
    let lost = left.iter().filter(|trouble| trouble.is_loss()).count();
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let words =
            |troubles: &[Trouble]| troubles.iter().map(ToString::to_string).collect::<Vec<_>>();
        writeln!(
            out,
            "{}",
            json!({"mended": words(mended), "left": words(left), "damaged": lost})
        )?;
    } else {
        for trouble in mended {
            writeln!(out, "mended: {trouble}")?;
        }
        for trouble in left {
            let kind = match trouble {
                _ if trouble.is_loss() => "damaged",
                Trouble::Store(_) => "left over",
                Trouble::File(_) => "to know",
            };
            writeln!(out, "{kind}: {trouble}")?;
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

fn troubles(store: &Store, arguments: &DoctorArguments) -> Result<Vec<Trouble>, Failure> {
    let bar = progress::bar(0, "reading everything again");
    let faults = store.verify(&mut |at| progress::show(&bar, at))?;
    bar.finish_and_clear();
    // Files beside the store are looked at as what they are, below.
    let of_store = faults
        .into_iter()
        .filter(|fault| !matches!(fault, Fault::FileDamaged { .. } | Fault::FileMissing { .. }))
        .map(Trouble::Store);
    let found = holdings::found(store.folder())?;
    let mut of_files = holdings::file_faults(store, &found)?;
    if let Some(file) = &arguments.passphrase_file {
        of_files.extend(unopened(store, file)?);
    }
    Ok(of_store.chain(of_files.into_iter().map(Trouble::File)).collect())
}

/// The keys that the passphrase does not open, or that are not those of their public halves.
fn unopened(store: &Store, passphrase: &Path) -> Result<Vec<FileFault>, Failure> {
    let mut faults = Vec::new();
    for key in keys::known(store.folder()) {
        let why = match keys::opened(&key.path, passphrase) {
            Ok(opened) if opened.public().thumbprint() == key.thumbprint => continue,
            Ok(_) => "is not the key of its public half".to_owned(),
            Err(failure) => format!("was not opened: {}", failure.message()),
        };
        let name = key.path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        faults.push(FileFault { name, why, is_loss: true });
    }
    Ok(faults)
}

fn forget(store: &Store, name: &str) -> Result<(), Failure> {
    if store.folder().join(name).exists() {
        return Err(Failure::input(format!("{name} is in {}", store.folder().display()))
            .hint("only what is not there any more can be forgotten"));
    }
    let sealed = store.sealed_files()?;
    if !sealed.iter().any(|file| file.name == name) {
        let known = sealed.iter().map(|file| file.name.as_str());
        return Err(Failure::input(format!("no file `{name}` is missed"))
            .hint(super::near_hint(name, known)));
    }
    Ok(store.unseal_file(name)?)
}

/// The copy to mend from.
fn existing(folder: &Path) -> Result<Store, Failure> {
    if !folder.join("store.sqlite").is_file() {
        return Err(Failure::input(format!("{} is no data folder", folder.display()))
            .hint("name the folder of a backup: it holds store.sqlite"));
    }
    Ok(Store::open(folder)?)
}
