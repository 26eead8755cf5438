//! Where the jobs and photos are kept, and which device this is.

use std::ffi::OsStr;
use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use store::Store;

use crate::failure::Failure;

/// What every command on jobs starts from: where the data is, and who is asking.
#[derive(Clone, Debug, Default)]
pub(crate) struct Place {
    /// The folder named by `--data` or `NEARSIDE_DATA`.
    pub(crate) data: Option<PathBuf>,
    /// The person named by `--by`.
    pub(crate) by: Option<String>,
}

impl Place {
    /// The data folder: the one that was named, else the platform's own.
    pub(crate) fn folder(&self) -> Result<PathBuf, Failure> {
        let folder = self.named()?;
        if folder.join("arrived").is_dir() {
            // A copy was cut off while it was put in its place: opening the store goes on with it.
            drop(Store::open(&folder)?);
        }
        Ok(folder)
    }

    /// The same, as it lies there.
    pub(crate) fn named(&self) -> Result<PathBuf, Failure> {
        if let Some(folder) = &self.data {
            return Ok(folder.clone());
        }
        let directories = directories::ProjectDirs::from("", "", "nearside").ok_or_else(|| {
            Failure::failed("this system names no home folder to keep jobs in")
                .hint("name one with --data DIR or NEARSIDE_DATA")
        })?;
        Ok(directories.data_dir().to_owned())
    }

    /// Opens the store; the first time it says where that is.
    pub(crate) fn store(&self) -> Result<Store, Failure> {
        let folder = self.folder()?;
        let first = !folder.join("store.sqlite").exists();
        let store = Store::open(&folder)?;
        if first {
            eprintln!(
                "note: jobs and photos are kept in {} (another place: --data DIR or NEARSIDE_DATA)",
                store.folder().display()
            );
        }
        Ok(store)
    }

    /// Who makes a change: `--by`, else the given name, else the person at this computer.
    pub(crate) fn person(&self, inspector: &str) -> Result<String, Failure> {
        let user = || {
            ["USER", "USERNAME", "LOGNAME"].into_iter().find_map(|name| std::env::var(name).ok())
        };
        let named = self.by.clone().unwrap_or_else(|| inspector.to_owned());
        let person = if named.trim().is_empty() { user().unwrap_or_default() } else { named };
        if person.trim().is_empty() {
            return Err(Failure::input("who makes this entry? no name is known")
                .hint("name yourself with --by \"A. Inspector\""));
        }
        Ok(person.trim().to_owned())
    }
}

/// This device's id: sixteen random bytes, drawn when its store is first used.
pub(crate) fn device(store: &Store) -> Result<[u8; 16], Failure> {
    const KEY: &str = "device";
    if let Some(text) = store.setting(KEY)? {
        return from_hexadecimal(&text);
    }
    let mut bytes = [0_u8; 16];
    getrandom::fill(&mut bytes).map_err(|error| {
        Failure::failed(format!("no random numbers for a device's id: {error}"))
    })?;
    let text: String = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
    // Of two programs that start together, both get the same answer.
    from_hexadecimal(&store.setting_or_first(KEY, &text)?)
}

fn from_hexadecimal(text: &str) -> Result<[u8; 16], Failure> {
    let byte = |at: usize| {
        text.get(2 * at..2 * at + 2).and_then(|digits| u8::from_str_radix(digits, 16).ok())
    };
    let bytes: Option<Vec<u8>> = (0..16).map(byte).collect();
    bytes.filter(|_| text.len() == 32).and_then(|bytes| bytes.try_into().ok()).ok_or_else(|| {
        Failure::failed(format!("the store's device id `{text}` is not 32 hexadecimal digits"))
    })
}

/// Reads a text file, with a sentence that names it if that does not work.
pub(crate) fn read_text(path: &Path) -> Result<String, Failure> {
    std::fs::read_to_string(path)
        .map_err(|error| Failure::input(format!("{}: {error}", path.display())))
}

/// Reads a file, with a sentence that names it if that does not work.
pub(crate) fn read_bytes(path: &Path) -> Result<Vec<u8>, Failure> {
    std::fs::read(path).map_err(|error| Failure::input(format!("{}: {error}", path.display())))
}

/// Writes a file piece by piece: the one that was there stays until the new one is whole.
pub(crate) fn write_in_pieces<T>(
    path: &Path,
    write: impl FnOnce(&mut dyn Write) -> Result<T, Failure>,
) -> Result<T, Failure> {
    let said = |error: io::Error| Failure::failed(format!("{}: {error}", path.display()));
    // A device or a pipe is no file that another could take the place of.
    if fs::metadata(path).is_ok_and(|there| !there.is_file()) {
        let mut out = Named { path, out: BufWriter::new(File::create(path).map_err(said)?) };
        let answer = write(&mut out)?;
        out.out.flush().map_err(said)?;
        return Ok(answer);
    }
    // Where a link leads is the file.
    let place = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let growing = unfinished(&place);
    let written = File::create(&growing).map_err(said).and_then(|file| {
        let mut out = Named { path, out: BufWriter::new(file) };
        let answer = write(&mut out)?;
        out.out.flush().and_then(|()| out.out.get_ref().sync_all()).map_err(said)?;
        fs::rename(&growing, &place).map_err(said)?;
        Ok(answer)
    });
    if written.is_err() {
        // What is left of it is no use to anybody; that it cannot be removed changes nothing.
        let _left = fs::remove_file(&growing);
    }
    written
}

/// A file whose errors say which one it is.
struct Named<'a> {
    path: &'a Path,
    out: BufWriter<File>,
}

impl Write for Named<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.out.write(bytes).map_err(|error| self.named(&error))
    }

    fn flush(&mut self) -> io::Result<()> {
        self.out.flush().map_err(|error| self.named(&error))
    }
}

impl Named<'_> {
    fn named(&self, error: &io::Error) -> io::Error {
        io::Error::new(error.kind(), format!("{}: {error}", self.path.display()))
    }
}

/// Where a file or folder grows until it is whole: beside its place, under a name that nothing else has.
pub(crate) fn unfinished(path: &Path) -> PathBuf {
    let mut name = path.file_name().map_or_else(Default::default, OsStr::to_os_string);
    name.push(".unfinished");
    path.with_file_name(name)
}

/// Writes a file, with a sentence that names it if that does not work.
pub(crate) fn write_file(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    std::fs::write(path, bytes)
        .map_err(|error| Failure::failed(format!("{}: {error}", path.display())))
}
