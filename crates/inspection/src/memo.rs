//! Voice memos: who spoke when at which point. The bytes are elsewhere and never change.

use crate::{Moment, PointId, StruckOut};

/// A voice memo's entry in the record; its id is the SHA-256 of the recording.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Memo {
    /// The point at which it was spoken.
    pub point: PointId,
    /// What kind of recording it is: one of [`Memo::MEDIA_TYPES`].
    pub media_type: String,
    /// Its length in whole seconds, at least 1.
    pub seconds: u32,
    /// When it began.
    pub at: Option<Moment>,
    /// Who spoke.
    pub by: String,
    /// Present when it was struck out; its entry stays in the record.
    pub struck_out: Option<StruckOut>,
}

impl Memo {
    /// What browsers record, each with the ending of its files: WebM and Ogg with Opus (RFC 7845, RFC 6381), MPEG-4
    /// with AAC (RFC 4337).
    pub const MEDIA_TYPES: [(&str, &str); 3] =
        [("audio/webm", "webm"), ("audio/mp4", "m4a"), ("audio/ogg", "ogg")];

    /// The ending of a file of this media type; none for a type that no recording has.
    #[must_use]
    pub fn ending_of(media_type: &str) -> Option<&'static str> {
        Self::MEDIA_TYPES.iter().find(|(known, _)| *known == media_type).map(|(_, ending)| *ending)
    }
}
