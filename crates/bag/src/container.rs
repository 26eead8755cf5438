//! Where a bag's files are read from: a folder, a zip file, memory.

use std::collections::BTreeMap;
use std::io;

/// Something that holds a bag's files.
pub trait Container {
    /// Every file: its path with `/` between folders, and its size. Anything that is no file and no folder (a link, a
    /// device) is listed too, and fails when it is read.
    ///
    /// # Errors
    /// When the container cannot be listed.
    fn list(&mut self) -> io::Result<Vec<(String, u64)>>;

    /// Reads one file from beginning to end, a piece at a time.
    ///
    /// # Errors
    /// When the file cannot be read.
    fn read(&mut self, path: &str, each: &mut dyn FnMut(&[u8])) -> io::Result<()>;

    /// The bytes of one file.
    ///
    /// # Errors
    /// When the file cannot be read.
    fn bytes(&mut self, path: &str) -> io::Result<Vec<u8>> {
        let mut bytes = Vec::new();
        self.read(path, &mut |piece| bytes.extend_from_slice(piece))?;
        Ok(bytes)
    }
}

/// Files in memory, by path.
impl Container for BTreeMap<String, Vec<u8>> {
    fn list(&mut self) -> io::Result<Vec<(String, u64)>> {
        let size = |bytes: &Vec<u8>| u64::try_from(bytes.len()).unwrap_or(u64::MAX);
        Ok(self.iter().map(|(path, bytes)| (path.clone(), size(bytes))).collect())
    }

    fn read(&mut self, path: &str, each: &mut dyn FnMut(&[u8])) -> io::Result<()> {
        let bytes = self.get(path).ok_or(io::ErrorKind::NotFound)?;
        each(bytes);
        Ok(())
    }
}
