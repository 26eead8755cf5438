//! What an assessment says, from small plans and a few lines of inspection.

mod deciding;
mod explaining;
mod holds;
mod judging;
mod merging;
mod own_words;
mod people;
mod places;
