//! What a photo must be after it is taken in, tried on pictures made here.
#![allow(
    clippy::unwrap_used,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "a test may fail, and its pictures are small"
)]

mod blurring;
mod damaged;
mod formats;
mod hostile;
mod making;
mod many;
mod notes;
mod originals;
mod sorting;
mod upright;
