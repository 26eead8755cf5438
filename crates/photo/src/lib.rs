//! Brings a camera's picture files into the record: proves what came in, and makes what is shown.
//!
//! The original is evidence. It is never changed; its SHA-256 is its name. From it, in one pass:
//! what the camera wrote about it (EXIF), an upright copy and a thumbnail to show, and figures
//! that help to sort a tray of photos (sharpness, exposure, a fingerprint for near duplicates).
//!
//! - [`take_in`] one file, [`take_in_many`] in parallel, [`take_in_each`] without holding all
//!   the originals in memory at once.
//! - A file that is no picture, or beyond the [`Limits`], is a [`Refusal`] with a sentence. A
//!   picture that is damaged is kept: a [`Photo`] without copies and with the damage said.
//! - [`near_duplicates`] groups shots of the same thing, the sharpest first.
//!
//! Bytes come in and bytes go out: this crate reads no files and knows no clock.

mod blur;
mod copies;
mod damage;
mod duplicates;
mod exif_block;
mod format;
mod jpeg;
mod limits;
mod many;
mod orientation;
mod picture;
mod plane;
mod png_rows;
mod refusal;
mod sha256;
mod shot;
mod take_in;

pub use blur::{BlurError, Cut, Part, blurred, handed_out};
pub use copies::{Copies, JpegCopy};
pub use duplicates::{Candidate, near_duplicates};
pub use format::Format;
pub use limits::Limits;
pub use look::{Fingerprint, Look, NEARLY_ALIKE_BITS, SAME_MOMENT_SECONDS};
pub use many::{take_in_each, take_in_many};
pub use orientation::Orientation;
pub use refusal::Refusal;
pub use sha256::{NotASha256, Sha256};
pub use shot::{Position, Shot, Taken};
pub use take_in::{Photo, Size, take_in};
