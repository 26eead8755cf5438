//! What an assessment says, from small plans and a few lines of inspection.

mod explaining;
mod holds;
mod judging;
mod people;
mod places;
