//! Every address of the server, in one table: from it come the router, the description that other
//! programs read, and the tests that a stranger gets nothing.

use axum::{
    http::Method,
    routing::{MethodRouter, delete, get, patch, post},
};

use crate::{
    again, agreement, app, archived, changes, client_page, desk_words, engagement, health, install,
    live, metrics, openapi, pairing, photos, poking, releases, searching, shared::Shared,
};

/// Who may ask.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Access {
    /// Anybody; nothing of anybody's work is told.
    Public,
    /// A paired device.
    Paired,
    /// A person at the server's own machine.
    Loopback,
}

/// One address.
#[derive(Debug)]
pub struct Address {
    /// `GET`, `POST`, `PATCH` or `DELETE`.
    pub method: &'static str,
    /// The path; `{…}` stands for one part of it, `{*…}` for all that follows.
    pub path: &'static str,
    /// Who may ask.
    pub access: Access,
    /// One sentence.
    pub what: &'static str,
    /// The message in the body: a name of [`crate::openapi`]'s, or a content type.
    pub(crate) takes: Option<&'static str>,
    /// Likewise the answer.
    pub(crate) gives: &'static str,
    pub(crate) handler: fn() -> MethodRouter<std::sync::Arc<Shared>>,
}

/// All of them.
pub const ADDRESSES: &[Address] = &[
    Address {
        method: "GET",
        path: "/v1/openapi.json",
        access: Access::Public,
        what: "This description.",
        takes: None,
        gives: "application/json",
        handler: || get(openapi::answer),
    },
    Address {
        method: "POST",
        path: "/v1/pair",
        access: Access::Public,
        what: "Lets a device in for a one-time code, and gives it its key, this once.",
        takes: Some("PairingRequest"),
        gives: "PairingAnswer",
        handler: || post(pairing::pair),
    },
    Address {
        method: "GET",
        path: "/v1/me",
        access: Access::Paired,
        what: "Says as which device, and for whom, one is paired.",
        takes: None,
        gives: "Me",
        handler: || get(pairing::me),
    },
    Address {
        method: "GET",
        path: "/v1/jobs",
        access: Access::Paired,
        what: "Lists the jobs that the device may see, and how far each one's log goes.",
        takes: None,
        gives: "Heads",
        handler: || get(changes::jobs),
    },
    Address {
        method: "GET",
        path: "/v1/jobs/{job}/changes",
        access: Access::Paired,
        what: "Gives the changes of a job after a place in its log.",
        takes: None,
        gives: "Page",
        handler: || get(changes::pull),
    },
    Address {
        method: "POST",
        path: "/v1/jobs/{job}/changes",
        access: Access::Paired,
        what: "Keeps changes of a job; answered when they are on disk.",
        takes: Some("Push"),
        gives: "Pushed",
        handler: || post(changes::push),
    },
    Address {
        method: "POST",
        path: "/v1/jobs/{job}/missing-blobs",
        access: Access::Paired,
        what: "Says which of these photos of a job are not here.",
        takes: Some("BlobList"),
        gives: "BlobList",
        handler: || post(photos::missing),
    },
    Address {
        method: "GET",
        path: "/v1/jobs/{job}/blobs/{sha256}",
        access: Access::Paired,
        what: "Gives the bytes of a photo or film.",
        takes: None,
        gives: "application/octet-stream",
        handler: || get(photos::bytes),
    },
    Address {
        method: "POST",
        path: "/v1/jobs/{job}/blobs/{sha256}",
        access: Access::Paired,
        what: "Begins the upload of a photo or film, or says how far it is.",
        takes: None,
        gives: "UploadState",
        handler: || post(photos::begin),
    },
    Address {
        method: "PATCH",
        path: "/v1/jobs/{job}/blobs/{sha256}",
        access: Access::Paired,
        what: "Adds a piece to an upload; the last one completes it.",
        takes: Some("application/partial-upload"),
        gives: "UploadState",
        handler: || patch(photos::piece),
    },
    Address {
        method: "POST",
        path: "/v1/jobs/{job}/pages",
        access: Access::Paired,
        what: "Lays out a part of a job's report as pages for a screen, with what is typed and not entered yet.",
        takes: Some("PagesWanted"),
        gives: "Pages",
        handler: || post(live::pages),
    },
    Address {
        method: "GET",
        path: "/v1/jobs/{job}/engagement",
        access: Access::Paired,
        what: "Says who charges, which addresses the client was given, and how the job's invoices stand.",
        takes: None,
        gives: "Engagement",
        handler: || get(engagement::standing),
    },
    Address {
        method: "GET",
        path: "/v1/jobs/{job}/agreement/terms",
        access: Access::Paired,
        what: "Gives the terms in a language, in the words of whoever inspects.",
        takes: None,
        gives: "Terms",
        handler: || get(engagement::terms),
    },
    Address {
        method: "POST",
        path: "/v1/jobs/{job}/agreement/link",
        access: Access::Paired,
        what: "Makes an address at which the client reads and signs the agreement; told this once.",
        takes: Some("LinkWanted"),
        gives: "LinkMade",
        handler: || post(engagement::agreement_link),
    },
    Address {
        method: "GET",
        path: "/v1/jobs/{job}/agreement/pdf",
        access: Access::Paired,
        what: "The agreement as a PDF.",
        takes: None,
        gives: "application/pdf",
        handler: || get(engagement::agreement_pdf),
    },
    Address {
        method: "POST",
        path: "/v1/jobs/{job}/invoices",
        access: Access::Paired,
        what: "Makes an invoice of the fee that was agreed, under the next number.",
        takes: Some("InvoiceWanted"),
        gives: "Engagement",
        handler: || post(engagement::invoice),
    },
    Address {
        method: "GET",
        path: "/v1/jobs/{job}/invoices/pdf",
        access: Access::Paired,
        what: "An invoice or a credit note of the job as a PDF.",
        takes: None,
        gives: "application/pdf",
        handler: || get(engagement::invoice_pdf),
    },
    Address {
        method: "POST",
        path: "/v1/jobs/{job}/invoices/credit",
        access: Access::Paired,
        what: "Takes an invoice of the job back by a credit note under the next number.",
        takes: Some("CreditWanted"),
        gives: "Engagement",
        handler: || post(engagement::credit),
    },
    Address {
        method: "POST",
        path: "/v1/jobs/{job}/invoices/payment",
        access: Access::Paired,
        what: "Notes a payment on an invoice of the job.",
        takes: Some("PaymentNoted"),
        gives: "Engagement",
        handler: || post(engagement::payment),
    },
    Address {
        method: "POST",
        path: "/v1/jobs/{job}/pages-wait",
        access: Access::Paired,
        what: "Says whether the client's pages of the job wait until its invoices are paid.",
        takes: Some("PagesWaitWanted"),
        gives: "Engagement",
        handler: || post(engagement::pages_wait),
    },
    Address {
        method: "POST",
        path: "/v1/seller",
        access: Access::Paired,
        what: "Says who charges, for all invoices from then on; not for a device that was let in for one job.",
        takes: Some("Seller"),
        gives: "Seller",
        handler: || post(engagement::seller),
    },
    Address {
        method: "GET",
        path: "/v1/jobs/{job}/releases",
        access: Access::Paired,
        what: "Says what of a job is open, which keys may sign it, and what was released.",
        takes: None,
        gives: "ReleaseStanding",
        handler: || get(releases::standing),
    },
    Address {
        method: "POST",
        path: "/v1/jobs/{job}/releases",
        access: Access::Paired,
        what: "Releases a job: freezes and signs it; answered when it is on disk. Over TLS or on the server's machine alone.",
        takes: Some("ReleaseWanted"),
        gives: "ReleaseKept",
        handler: || post(releases::release),
    },
    Address {
        method: "GET",
        path: "/v1/jobs/{job}/releasing",
        access: Access::Paired,
        what: "Says how far the release that is being made has come.",
        takes: None,
        gives: "Releasing",
        handler: || get(releases::progress),
    },
    Address {
        method: "GET",
        path: "/v1/jobs/{job}/releases/{number}/report.pdf",
        access: Access::Paired,
        what: "Gives the report of a release, as it was signed.",
        takes: None,
        gives: "application/pdf",
        handler: || get(releases::report),
    },
    Address {
        method: "GET",
        path: "/v1/jobs/{job}/releases/{number}/bag.zip",
        access: Access::Paired,
        what: "Gives the bag of a release, with every original photo.",
        takes: None,
        gives: "application/zip",
        handler: || get(releases::bag),
    },
    Address {
        method: "GET",
        path: "/v1/jobs/{job}/releases/{number}/since",
        access: Access::Paired,
        what: "Says what has changed from a release to the next one, or to the job as it stands now.",
        takes: None,
        gives: "Since",
        handler: || get(releases::since),
    },
    Address {
        method: "GET",
        path: "/v1/jobs/{job}/shares",
        access: Access::Paired,
        what: "Lists the addresses of a job's client's pages, and when each was opened.",
        takes: None,
        gives: "Shares",
        handler: || get(releases::shares::list),
    },
    Address {
        method: "POST",
        path: "/v1/jobs/{job}/shares",
        access: Access::Paired,
        what: "Gives the client's page of a released job an address that nobody can guess, and tells it this once.",
        takes: Some("ShareWanted"),
        gives: "ShareMade",
        handler: || post(releases::shares::make),
    },
    Address {
        method: "DELETE",
        path: "/v1/jobs/{job}/shares/{link}",
        access: Access::Paired,
        what: "Shuts an address of a client's page at once.",
        takes: None,
        gives: "application/json",
        handler: || delete(releases::shares::revoke),
    },
    Address {
        method: "GET",
        path: "/v1/jobs/{job}/again",
        access: Access::Paired,
        what: "Says what a job that inspects the unit again would carry; not to a device that was let in for one job.",
        takes: None,
        gives: "AgainOffered",
        handler: || get(again::offer),
    },
    Address {
        method: "POST",
        path: "/v1/jobs/{job}/again",
        access: Access::Paired,
        what: "Makes a job that inspects the unit again; answered when it is on disk. Not for a device that was let in for one job.",
        takes: Some("AgainWanted"),
        gives: "AgainMade",
        handler: || post(again::make),
    },
    Address {
        method: "GET",
        path: "/v1/jobs/{job}/left-over",
        access: Access::Paired,
        what: "Says which names and facts of other jobs stand in a job's own texts; a device of one job is told none.",
        takes: None,
        gives: "LeftOvers",
        handler: || get(desk_words::left_over),
    },
    Address {
        method: "GET",
        path: "/v1/sentences",
        access: Access::Paired,
        what: "Gives the inspector's own stock sentences, but not to a device of one job.",
        takes: None,
        gives: "StockSentences",
        handler: || get(desk_words::sentences),
    },
    Address {
        method: "POST",
        path: "/v1/sentences",
        access: Access::Paired,
        what: "Keeps a stock sentence, instead of one that has its name; answered with all of them.",
        takes: Some("StockSentence"),
        gives: "StockSentences",
        handler: || post(desk_words::keep_sentence),
    },
    Address {
        method: "GET",
        path: "/v1/search",
        access: Access::Paired,
        what: "Finds words in the jobs that the device may see, best first, and says where they stand.",
        takes: None,
        gives: "Found",
        handler: || get(searching::search),
    },
    Address {
        method: "GET",
        path: "/v1/archive",
        access: Access::Paired,
        what: "Says what jobs can be told apart by, and which points there are; not to a device that was let in for one job.",
        takes: None,
        gives: "ArchiveChoices",
        handler: || get(archived::choices),
    },
    Address {
        method: "GET",
        path: "/v1/archive/jobs",
        access: Access::Paired,
        what: "Lists the jobs that a filter takes, the latest visit first; not to a device that was let in for one job.",
        takes: None,
        gives: "ArchivedJobs",
        handler: || get(archived::jobs),
    },
    Address {
        method: "GET",
        path: "/v1/archive/figures",
        access: Access::Paired,
        what: "Counts how often something was found at a point, or at every one; not for a device that was let in for one job.",
        takes: None,
        gives: "ArchiveFigures",
        handler: || get(archived::figures),
    },
    Address {
        method: "GET",
        path: "/v1/archive/export/{file}",
        access: Access::Paired,
        what: "Gives jobs, points or figures as a table: `jobs.csv`, `points.parquet`, `figures.csv` and so on; not to a device that \
               was let in for one job.",
        takes: None,
        gives: "application/octet-stream",
        handler: || get(archived::table),
    },
    Address {
        method: "GET",
        path: "/v1/pokes",
        access: Access::Paired,
        what: "Stays open and says which jobs have something new.",
        takes: None,
        gives: "text/event-stream",
        handler: || get(poking::pokes),
    },
    Address {
        method: "GET",
        path: "/",
        access: Access::Public,
        what: "The app's page.",
        takes: None,
        gives: "text/html",
        handler: || get(app::index),
    },
    Address {
        method: "GET",
        path: "/sw.js",
        access: Access::Public,
        what: "The app's service worker.",
        takes: None,
        gives: "text/javascript",
        handler: || get(app::service_worker),
    },
    Address {
        method: "GET",
        path: "/app/{*file}",
        access: Access::Public,
        what: "The app's other files; their names change with what is in them.",
        takes: None,
        gives: "application/octet-stream",
        handler: || get(app::file),
    },
    Address {
        method: "GET",
        path: "/c/{secret}",
        access: Access::Public,
        what: "Leads to the client's page of this address.",
        takes: None,
        gives: "text/html",
        handler: || get(client_page::without_slash),
    },
    Address {
        method: "GET",
        path: "/c/{secret}/",
        access: Access::Public,
        what: "A client's page: for whoever has its address, as long as it is good.",
        takes: None,
        gives: "text/html",
        handler: || get(client_page::first),
    },
    Address {
        method: "GET",
        path: "/c/{secret}/{*file}",
        access: Access::Public,
        what: "What a client's page shows.",
        takes: None,
        gives: "application/octet-stream",
        handler: || get(client_page::file),
    },
    Address {
        method: "GET",
        path: "/a/{secret}",
        access: Access::Public,
        what: "Leads to the agreement of this address.",
        takes: None,
        gives: "text/html",
        handler: || get(agreement::without_slash),
    },
    Address {
        method: "GET",
        path: "/a/{secret}/",
        access: Access::Public,
        what: "An agreement to be read and signed: for whoever has its address, as long as it is good.",
        takes: None,
        gives: "text/html",
        handler: || get(agreement::first),
    },
    Address {
        method: "POST",
        path: "/a/{secret}/",
        access: Access::Public,
        what: "Agrees to it: name, ticked box, the text's hash; answered when the consent is in the job's record, on disk.",
        takes: Some("application/x-www-form-urlencoded"),
        gives: "text/html",
        handler: || post(agreement::agree),
    },
    Address {
        method: "GET",
        path: "/a/{secret}/{*file}",
        access: Access::Public,
        what: "What an agreement's page loads, and its copy as PDF or text.",
        takes: None,
        gives: "application/octet-stream",
        handler: || get(agreement::file),
    },
    Address {
        method: "GET",
        path: "/pages.css",
        access: Access::Public,
        what: "How the server's own pages look.",
        takes: None,
        gives: "text/css",
        handler: || get(app::pages_css),
    },
    Address {
        method: "GET",
        path: "/install-ca",
        access: Access::Public,
        what: "A page that explains how a phone is told to trust the server's own authority.",
        takes: None,
        gives: "text/html",
        handler: || get(install::explained),
    },
    Address {
        method: "GET",
        path: "/authority.crt",
        access: Access::Public,
        what: "The certificate of the server's own authority.",
        takes: None,
        gives: "application/x-x509-ca-cert",
        handler: || get(install::certificate),
    },
    Address {
        method: "GET",
        path: "/healthz",
        access: Access::Public,
        what: "Whether the program runs.",
        takes: None,
        gives: "text/plain",
        handler: || get(health::alive),
    },
    Address {
        method: "GET",
        path: "/readyz",
        access: Access::Public,
        what: "Whether the program can read its store and is not stopping.",
        takes: None,
        gives: "text/plain",
        handler: || get(health::ready),
    },
    Address {
        method: "GET",
        path: "/metrics",
        access: Access::Loopback,
        what: "Counts for monitoring, as Prometheus text.",
        takes: None,
        gives: "text/plain",
        handler: || get(metrics::answer),
    },
    Address {
        method: "GET",
        path: "/pair",
        access: Access::Loopback,
        what: "A page with a new one-time code to pair a phone with.",
        takes: None,
        gives: "text/html",
        handler: || get(pairing::code_page),
    },
];

/// Who may ask for this. Under `/v1`, what is not in the table is for paired devices, so that nobody else
/// learns what is there.
pub(crate) fn access(method: &Method, path: &str) -> Access {
    let method = if *method == Method::HEAD { "GET" } else { method.as_str() };
    // The exceptions have no parts that vary: they are compared letter by letter, so no other spelling
    // of a path passes for one of them.
    let mut exact = ADDRESSES.iter().filter(|address| address.path == path);
    let is_data = path == "/v1" || path.starts_with("/v1/");
    match exact.clone().find(|address| address.method == method) {
        Some(address) => address.access,
        None if is_data => Access::Paired,
        None => exact.next().map_or(Access::Public, |address| address.access),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_known_to_be_public_is_for_paired_devices() {
        let check = |method, path, expected| assert_eq!(access(&method, path), expected, "{path}");
        check(Method::POST, "/v1/pair", Access::Public);
        check(Method::GET, "/v1/pair", Access::Paired);
        check(Method::GET, "/v1/pair/", Access::Paired);
        check(Method::POST, "/v1//pair", Access::Paired);
        check(Method::HEAD, "/v1/jobs", Access::Paired);
        check(Method::GET, "/v1", Access::Paired);
        check(Method::DELETE, "/v1/anything/else", Access::Paired);
        check(Method::HEAD, "/metrics", Access::Loopback);
        check(Method::POST, "/metrics", Access::Loopback);
        check(Method::GET, "/app/x.js", Access::Public);
    }

    #[test]
    fn data_is_for_paired_devices_alone() {
        let public: Vec<&str> = ADDRESSES
            .iter()
            .filter(|one| one.path.starts_with("/v1/") && one.access != Access::Paired)
            .map(|one| one.path)
            .collect();
        assert_eq!(public, ["/v1/openapi.json", "/v1/pair"]);
    }
}
