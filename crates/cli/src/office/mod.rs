//! What lies between inspector and client: the agreement, the consent, the invoice, the release, the unit inspected again.

pub(crate) mod again;
pub(crate) mod agreements;
pub(crate) mod charges;
pub(crate) mod desk;
pub(crate) mod invoices;
pub(crate) mod links;
pub(crate) mod new_invoice;
pub(crate) mod pages;
mod releases;
mod shares;
pub(crate) mod waiting;
pub(crate) mod words;
