//! Why no copy could be made of a picture that is kept all the same.

use std::fmt::Display;

use crate::{Format, Refusal};

/// What the decoder or the encoder said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Damage(pub(crate) String);

impl Damage {
    #[allow(
        clippy::needless_pass_by_value,
        reason = "so that it can be named in map_err without a closure"
    )]
    pub(crate) fn of(reason: impl Display) -> Self {
        Self(reason.to_string())
    }

    /// The whole sentence: what, which file, what to do.
    pub(crate) fn sentence(&self, name: &str, format: Format) -> String {
        format!(
            "\"{name}\" is a damaged {format} ({}); the original is kept, but no copy could be \
             made to show; copy it from the camera again, or take the photo again while you can",
            self.0
        )
    }
}

/// A picture that could not be decoded: kept as damaged, or not taken in at all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Undecoded {
    Damaged(Damage),
    Refused(Refusal),
}

impl From<Damage> for Undecoded {
    fn from(damage: Damage) -> Self {
        Self::Damaged(damage)
    }
}

impl From<Refusal> for Undecoded {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(refusal)
    }
}
