//! The server beside the phones: it hands out the app, pairs devices, and keeps what they copy.
//!
//! [`Settings`] say where the data is and where to listen; [`run()`] serves until it is told to stop.
//! Every address is a line of one table ([`addresses`]), from which the router, the description for
//! other programs and the test of strangers are made. Whatever lies under `/v1` is refused to a device
//! that is not paired, unless the table says that it is public: a forgotten line is shut, not open.
//!
//! What fits into a job's log is decided by `sync`, what lasts is kept by `store`; here are only the
//! ways in: HTTP, TLS, who may do what, how much at a time.
#![allow(
    clippy::disallowed_methods,
    reason = "this crate is the edge: it reads files, the clock and random numbers"
)]

pub mod addresses;

mod again;
mod agreement;
mod app;
mod archived;
mod certificate;
mod changes;
mod client_page;
mod clock;
mod code;
mod connections;
mod desk_words;
mod engagement;
mod error;
mod gate;
mod headers;
mod health;
mod install;
mod keeping;
mod listening;
mod live;
mod logs;
mod metrics;
mod naming;
mod openapi;
mod page;
mod pairing;
mod photos;
mod poking;
mod pool;
mod problem;
mod qr;
mod rates;
mod releases;
mod run;
mod searching;
mod settings;
mod shared;
mod streamed;
#[cfg(test)]
mod tests;
mod watching;

pub use again::{AgainMade, AgainOffered, AgainOffice, AgainWanted};
pub use agreement::{GivenConsent, Office, OfficeFile, agreement_address};
pub use certificate::certificate_faults;
pub use client_page::{client_address, client_secret_sha256};
pub use code::Code;
pub use desk_words::{DeskWords, KeepSentence};
pub use engagement::{
    CreditWanted, Engagement, EngagementAnswer, EngagementAsked, InvoiceLineStanding,
    InvoiceStanding, InvoiceTaxStanding, InvoiceWanted, LinkMade, LinkStanding, LinkWanted,
    OfficeRefused, PagesWaitWanted, PaymentNoted, PaymentStanding, SellerNamed, TermsWorded,
};
pub use error::ServerError;

pub use listening::machine_name;
pub use live::{Live, LivePages, LivePart, PagesRefused, PagesWanted};
pub use naming::{summary, unit_in_words};
pub use pairing::{link as pairing_link, make_code, remembered_address};
pub use qr::in_blocks;
pub use releases::{
    AcceptedMatter, Differing, KnownKey, NotReleased, OpenMatter, Passphrase, ReleaseKept,
    ReleaseOffice, ReleaseStanding, ReleaseStep, ReleaseWanted, ShareMade, ShareWanted, Since,
};
pub use run::{Running, run};
pub use settings::{Certificate, LogFormat, Settings};
