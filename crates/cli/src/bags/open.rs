//! Opening a bag from disk: a folder, or a zip file.

use std::fs;
use std::io::{self, BufReader, Read};
use std::path::{Path, PathBuf};

use bag::{Container, Fault, Verification, ZipContainer, ZipError, verify};

use crate::failure::Failure;
use crate::progress;

/// A bag on disk, with what was found out about it.
pub(crate) struct Opened {
    /// What was found out.
    pub(crate) verification: Verification,
    container: Option<Box<dyn Container>>,
}

impl Opened {
    /// The bytes of one of its files.
    pub(crate) fn bytes(&mut self, path: &str) -> Result<Vec<u8>, Failure> {
        let read = match &mut self.container {
            Some(container) => container.bytes(path),
            None => Err(io::ErrorKind::NotFound.into()),
        };
        read.map_err(|error| Failure::failed(format!("{path} of the bag: {error}")))
    }

    /// Its files, by path.
    pub(crate) fn paths(&mut self) -> Result<Vec<String>, Failure> {
        let listed = self.container.as_mut().map_or_else(|| Ok(Vec::new()), |it| it.list())?;
        Ok(listed.into_iter().map(|(path, _)| path).collect())
    }
}

/// Opens a bag and reads it from beginning to end.
pub(crate) fn open(path: &Path) -> Result<Opened, Failure> {
    let said = |error: io::Error| Failure::input(format!("{}: {error}", path.display()));
    let kind = fs::metadata(path).map_err(said)?;
    let mut container: Box<dyn Container> = if kind.is_dir() {
        Box::new(Folder { root: path.to_owned() })
    } else {
        let file = BufReader::new(fs::File::open(path).map_err(said)?);
        match ZipContainer::open(file) {
            Ok(container) => Box::new(container),
            Err(ZipError::Io(error)) if error.kind() != io::ErrorKind::UnexpectedEof => {
                return Err(said(error));
            }
            Err(error) => {
                let fault = Fault { file: path.display().to_string(), what: error.to_string() };
                let verification = Verification { faults: vec![fault], ..Verification::default() };
                return Ok(Opened { verification, container: None });
            }
        }
    };
    let bar = progress::bar(1, "verifying");
    let verification = verify(container.as_mut(), &mut |done, of| {
        bar.set_length(of.try_into().unwrap_or(u64::MAX));
        bar.set_position(done.try_into().unwrap_or(u64::MAX));
    })
    .map_err(said)?;
    bar.finish_and_clear();
    Ok(Opened { verification, container: Some(container) })
}

/// A folder as a bag.
struct Folder {
    root: PathBuf,
}

impl Container for Folder {
    fn list(&mut self) -> io::Result<Vec<(String, u64)>> {
        let mut files = Vec::new();
        collect(&self.root, "", &mut files)?;
        files.sort();
        Ok(files)
    }

    fn read(&mut self, path: &str, each: &mut dyn FnMut(&[u8])) -> io::Result<()> {
        let path = self.root.join(path);
        // A link could lead out of the folder, so that the bag would not hold what it seems to hold.
        if !fs::symlink_metadata(&path)?.is_file() {
            return Err(io::Error::other("it is no file of its own"));
        }
        let mut file = fs::File::open(path)?;
        let mut piece = vec![0; 256 * 1024];
        loop {
            match file.read(&mut piece) {
                Ok(0) => return Ok(()),
                Ok(read) => each(piece.get(..read).unwrap_or_default()),
                Err(again) if again.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(error),
            }
        }
    }
}

fn collect(folder: &Path, before: &str, files: &mut Vec<(String, u64)>) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let path = format!("{before}{}", entry.file_name().to_string_lossy());
        let kind = fs::symlink_metadata(entry.path())?;
        if kind.is_dir() {
            collect(&entry.path(), &format!("{path}/"), files)?;
        } else {
            files.push((path, kind.len()));
        }
    }
    Ok(())
}
