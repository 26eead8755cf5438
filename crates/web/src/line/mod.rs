//! The line to the server: pairing, what the replica sends, pokes, and photos that lie only there.

mod address;
mod archived;
mod fetch;
mod file;
mod found;
mod json;
mod office;
mod pages;
mod pair;
mod pokes;
mod releases;
mod words;

pub(crate) use archived::{
    ArchiveChoices, ArchiveFigures, ArchiveLine, ArchivedJob, ArchivedJobs, Axis, FigureLine, Query,
};
pub(crate) use fetch::{download, send};
pub(crate) use file::file_of_app;
pub(crate) use found::{Found, Hit as FoundHit, search};
pub(crate) use json::NoAnswer;
pub(crate) use office::{
    AgainMade, AgainOffered, AgainWanted, CreditWanted, Engagement, Invoice, InvoiceWanted,
    LinkMade, LinkStanding, NotDone, OfficeAsk, PaymentNoted, Seller, Terms, office, read,
};
pub(crate) use pages::{CaptionTyped, FindingTyped, NoPages, PagesWanted, ReportPart, pages};
pub(crate) use pair::{Paired, PairingRefused, code_in, pair};
pub(crate) use pokes::follow;
pub(crate) use releases::{
    AcceptedMatter, Differing, OpenMatter, ReleaseKept, ReleaseLine, ReleaseStanding,
    ReleaseWanted, Share, ShareMade, ShareWanted, Since,
};
pub(crate) use words::{keep_sentence, left_over, sentences};
