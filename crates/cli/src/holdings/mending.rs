//! Putting right what is wrong with files beside the store, where it can be proved what they held.

use std::fs;

use store::{Fault, Store};

use super::sound::OPEN;
use super::{Care, FileFault, care_of, file_faults, found};
use crate::failure::Failure;

/// The server's own certificate and key, which it makes anew at its next start; the authority that phones trust stays.
const MADE_ANEW: &[&str] = &["tls/server.json", "tls/server-key.pem", "tls/server.pem"];

/// Mends a file; whether it could.
pub(crate) fn mend_file(
    store: &Store,
    fault: &FileFault,
    copy: Option<&Store>,
) -> Result<bool, Failure> {
    let name = fault.name.as_str();
    if fault.why == OPEN {
        return Ok(close(store, name));
    }
    if !fault.is_loss {
        return Ok(false);
    }
    if store.mend(&Fault::FileDamaged { name: name.to_owned() }, copy)? {
        return Ok(true);
    }
    if !MADE_ANEW.contains(&name) {
        return Ok(false);
    }
    // Without the first of them, the server takes none of them for good.
    match fs::remove_file(store.folder().join(MADE_ANEW[0])) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => return Err(error.into()),
        _ => {}
    }
    for name in MADE_ANEW {
        store.unseal_file(name)?;
    }
    Ok(true)
}

/// Seals the files that have no seal yet, as one written by an earlier version, and that can be used.
pub(crate) fn seal_sound_files(store: &Store) -> Result<(), Failure> {
    let found = found(store.folder())?;
    let faults = file_faults(store, &found)?;
    let sealed = store.sealed_files()?;
    for file in &found.files {
        let fixed = matches!(care_of(&file.name), Some(Care::Secret | Care::Fixed));
        let known = sealed.iter().any(|sealed| sealed.name == file.name);
        let faulty = faults.iter().any(|fault| fault.name == file.name);
        // The server's own were just given up where they were damaged.
        if fixed && !known && !faulty && !MADE_ANEW.contains(&file.name.as_str()) {
            store.seal_file(file)?;
        }
    }
    Ok(())
}

/// Lets a secret be read by its owner alone; whether that could be done.
#[cfg(unix)]
fn close(store: &Store, name: &str) -> bool {
    use std::os::unix::fs::PermissionsExt as _;
    let path = store.folder().join(name);
    let open = |path: &std::path::Path| {
        fs::metadata(path).is_ok_and(|about| about.permissions().mode() & 0o077 != 0)
    };
    fs::set_permissions(&path, fs::Permissions::from_mode(0o600)).is_ok() && !open(&path)
}

#[cfg(not(unix))]
fn close(_store: &Store, _name: &str) -> bool {
    false
}
