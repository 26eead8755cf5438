//! How large a picture may be before it is refused, checked before memory is asked for.

use crate::Refusal;

/// What a single file may ask of this machine.
///
/// The defaults are common practice: above any camera in the trade, below what would stop a
/// laptop. At the default limits one photo needs at most about 1 GB, for a progressive JPEG of
/// 120 megapixels; an ordinary 12-megapixel one needs about 10 MB.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Limits {
    /// Bytes in the file: 40 MB.
    pub file_bytes: usize,
    /// Pixels in the picture: 120 million.
    pub pixels: u64,
    /// Pixels along one side: 20,000.
    pub side: u32,
    /// Scans in a progressive JPEG: 100. Cameras write about ten; a file with thousands of empty
    /// scans costs hours to decode.
    pub scans: u32,
}

impl Default for Limits {
    fn default() -> Self {
        Self { file_bytes: 40_000_000, pixels: 120_000_000, side: 20_000, scans: 100 }
    }
}

impl Limits {
    /// Refuses an empty file and one with too many bytes.
    pub(crate) fn check_bytes(&self, name: &str, bytes: usize) -> Result<(), Refusal> {
        if bytes == 0 {
            return Err(Refusal::Empty { name: name.to_owned() });
        }
        if bytes > self.file_bytes {
            return Err(Refusal::TooLarge {
                name: name.to_owned(),
                what: format!("{bytes} bytes"),
                accepted: format!("at most {} bytes", self.file_bytes),
            });
        }
        Ok(())
    }

    /// Refuses a picture with too long a side or too many pixels.
    pub(crate) fn check_size(&self, name: &str, width: u32, height: u32) -> Result<(), Refusal> {
        let pixels = u64::from(width) * u64::from(height);
        if width.max(height) <= self.side && pixels <= self.pixels {
            return Ok(());
        }
        Err(Refusal::TooLarge {
            name: name.to_owned(),
            what: format!("{width} × {height} pixels"),
            accepted: format!(
                "sides of at most {} pixels and at most {} pixels in all",
                self.side, self.pixels
            ),
        })
    }
}
