//! The line to the server: pairing, what the replica sends, pokes, and photos that lie only there.

mod address;
mod fetch;
mod file;
mod pages;
mod pair;
mod pokes;

pub(crate) use fetch::{download, send};
pub(crate) use file::file_of_app;
pub(crate) use pages::{FindingTyped, NoPages, PagesWanted, ReportPart, pages};
pub(crate) use pair::{Paired, PairingRefused, code_in, pair};
pub(crate) use pokes::follow;
