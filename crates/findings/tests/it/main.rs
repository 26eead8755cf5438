//! What an assessment says, from small plans and a few lines of inspection.

#[allow(clippy::unwrap_used, reason = "a helper of tests may stop them")]
mod carried;
mod deciding;
mod explaining;
mod holds;
mod judging;
mod merging;
mod own_words;
mod people;
mod places;
