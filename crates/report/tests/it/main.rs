//! The report as a reader, an archive and a screen reader get it.

#![allow(clippy::unwrap_used, reason = "helpers of tests; a panic is the test's failure")]

mod broken;
mod composed;
mod hostile;
mod languages;
mod letters;
mod links;
mod live;
mod marks;
mod page;
mod pages;
mod pictures;
mod released;
mod sample;
mod shipped;
mod standards;
mod tools;
mod views;
