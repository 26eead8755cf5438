//! The agreement at an address that nobody can guess: the client reads it, types their name and agrees.
//!
//! The server knows the address and who asks; what stands on the page, and what a consent does to the job's record, is said
//! by the [`Office`] that it was started with. Without one, nothing is at these addresses.

use std::{
    net::IpAddr,
    time::{Duration, Instant},
};

use axum::{
    body::Body,
    extract::{Path, Request},
    http::{HeaderMap, HeaderName, HeaderValue, StatusCode, header},
    response::{IntoResponse, Redirect, Response},
};
use store::{JobId, Store};

use crate::{
    again::AgainOffice,
    app::not_found,
    client_page::{client_secret_sha256, read_secret, secret_in_letters},
    clock,
    desk_words::DeskWords,
    engagement::{EngagementAnswer, EngagementAsked, OfficeRefused, SellerNamed},
    gate, page,
    problem::Problem,
    rates,
    releases::ReleaseOffice,
    shared::State,
};

/// A page or a file of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OfficeFile {
    /// Its media type.
    pub media_type: &'static str,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// What came with the form.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct GivenConsent {
    /// The name that was typed.
    pub name: String,
    /// Whether the box was ticked.
    pub ticked: bool,
    /// The drawn signature as the page's script wrote it; empty where there is none.
    pub drawn: String,
    /// SHA-256 of the text that was read.
    pub text_sha256: String,
    /// The network address that the connection comes from.
    pub address: String,
}

/// Makes a file of a job's agreement.
type MakeFile = fn(&Store, &JobId, &str) -> Result<Option<OfficeFile>, String>;
/// Takes a consent into a job's record.
type TakeConsent = fn(&Store, &JobId, &GivenConsent) -> Result<(bool, OfficeFile), String>;
/// Does what a device at the desk asks about a job; the text is who asks.
type DeskWork =
    fn(&Store, &JobId, &str, &EngagementAsked) -> Result<EngagementAnswer, OfficeRefused>;
/// Keeps who charges.
type NameSeller = fn(&Store, &SellerNamed) -> Result<SellerNamed, OfficeRefused>;

/// Who makes the agreement's pages, takes a consent into the job's record, releases jobs and makes new ones: given by whoever starts the
/// server, so that the server opens no job's document itself. All of it may wait for the disk.
#[derive(Debug, Clone, Copy)]
pub struct Office {
    /// A file of a job's agreement by its name, `index.html` first; nothing for a name that it does not have. An error is a
    /// sentence for the log.
    pub file: MakeFile,
    /// Takes a consent: whether it was taken, and the page that says what was or was not agreed. What is said to be agreed
    /// is on disk.
    pub agree: TakeConsent,
    /// Does what a paired device asks: addresses, invoices, payments. What is said to be done is on disk.
    pub engagement: DeskWork,
    /// Keeps who charges, and says how that stands then.
    pub name_seller: NameSeller,
    /// Releasing jobs.
    pub releases: ReleaseOffice,
    /// Making a job that inspects a unit again.
    pub again: AgainOffice,
    /// What stands ready for the desk's texts.
    pub words: DeskWords,
}

/// The page itself.
const FIRST: &str = "index.html";
/// The largest form: a long name and a drawn signature.
const BODY_BYTES: usize = 96 << 10;
/// What the form's body is called.
const FORM: &str = "application/x-www-form-urlencoded";
/// What the page may load and do.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; base-uri 'none'; \
                      form-action 'self'; frame-ancestors 'none'";

/// The address of an agreement at this server.
#[must_use]
pub fn agreement_address(server: &str, secret: [u8; 24]) -> String {
    format!("{}/a/{}/", server.trim_end_matches('/'), secret_in_letters(secret))
}

/// `GET /a/{secret}`: the form is sent below the address.
pub(crate) async fn without_slash(Path(secret): Path<String>) -> Response {
    if read_secret(&secret).is_none() {
        return not_found();
    }
    Redirect::permanent(&format!("/a/{secret}/")).into_response()
}

/// `GET /a/{secret}/`
pub(crate) async fn first(
    shared: State,
    Path(secret): Path<String>,
    request: Request,
) -> Result<Response, Problem> {
    let peer = gate::peer(&request);
    send(&shared, &secret, FIRST.to_owned(), peer).await
}

/// `GET /a/{secret}/{*file}`
pub(crate) async fn file(
    shared: State,
    Path((secret, file)): Path<(String, String)>,
    request: Request,
) -> Result<Response, Problem> {
    let peer = gate::peer(&request);
    send(&shared, &secret, file, peer).await
}

async fn send(
    shared: &State,
    secret: &str,
    name: String,
    peer: IpAddr,
) -> Result<Response, Problem> {
    let (Some(office), Some(secret)) = (shared.office, read_secret(secret)) else {
        return Ok(not_found());
    };
    if let Err(wait) = shared.reading_rates.take(rates::asker(peer), Instant::now()) {
        return Ok(patience(wait));
    }
    let hash = client_secret_sha256(secret);
    let found = shared
        .pool
        .with(move |store| {
            let now = clock::unix_ms();
            let Some(job) = store.agreement_of_link(hash, now)? else { return Ok(None) };
            let found = match (office.file)(store, &job, &name) {
                Ok(found) => found,
                Err(why) => return Ok(Some(Err(why))),
            };
            if found.is_some() && name == FIRST {
                store.client_viewed(hash, now)?;
            }
            Ok(found.map(Ok))
        })
        .await?;
    Ok(match found {
        None => not_found(),
        Some(Ok(file)) => answer(StatusCode::OK, file),
        Some(Err(why)) => failed(&why),
    })
}

/// `POST /a/{secret}/`
pub(crate) async fn agree(
    shared: State,
    Path(secret): Path<String>,
    request: Request,
) -> Result<Response, Problem> {
    let peer = gate::peer(&request);
    let (parts, body) = request.into_parts();
    let (Some(office), Some(secret)) = (shared.office, read_secret(&secret)) else {
        return Ok(not_found());
    };
    if let Err(wait) = shared.agreeing_rates.take(rates::asker(peer), Instant::now()) {
        return Ok(patience(wait));
    }
    let hash = client_secret_sha256(secret);
    // Looked up before the body is read: a stranger's is not waited for.
    let known =
        shared.pool.with(move |store| Ok(store.agreement_of_link(hash, clock::unix_ms())?)).await?;
    if known.is_none() {
        return Ok(not_found());
    }
    let given =
        GivenConsent { address: peer.to_string(), ..form(&shared, &parts.headers, body).await? };
    let taken = shared
        .pool
        .with(move |store| {
            // The link may have been revoked while the form was on its way.
            let Some(job) = store.agreement_of_link(hash, clock::unix_ms())? else {
                return Ok(None);
            };
            Ok(Some((office.agree)(store, &job, &given)))
        })
        .await?;
    Ok(match taken {
        None => not_found(),
        Some(Ok((true, page))) => {
            tracing::info!(%peer, "an agreement was agreed to");
            answer(StatusCode::OK, page)
        }
        Some(Ok((false, page))) => answer(StatusCode::UNPROCESSABLE_ENTITY, page),
        Some(Err(why)) => failed(&why),
    })
}

/// The form's fields; unknown ones are passed over, and of one that comes twice the last counts.
async fn form(shared: &State, headers: &HeaderMap, body: Body) -> Result<GivenConsent, Problem> {
    let kind = headers.get(header::CONTENT_TYPE).and_then(|value| value.to_str().ok());
    let is_form = kind
        .and_then(|kind| kind.split(';').next())
        .is_some_and(|kind| kind.trim().eq_ignore_ascii_case(FORM));
    if !is_form {
        return Err(Problem::wrong_kind(FORM));
    }
    let body = shared.body(headers, body, BODY_BYTES).await?;
    let mut given = GivenConsent::default();
    for pair in body.split(|byte| *byte == b'&') {
        let at = pair.iter().position(|byte| *byte == b'=').unwrap_or(pair.len());
        let (name, value) = pair.split_at(at);
        let value = decoded(value.get(1..).unwrap_or_default());
        match decoded(name).as_str() {
            "name" => given.name = value,
            "agree" => given.ticked = value == "yes",
            "drawn" => given.drawn = value,
            "text" => given.text_sha256 = value,
            _ => {}
        }
    }
    Ok(given)
}

/// A form's text as it was typed (URL Standard, "application/x-www-form-urlencoded parsing"); what is no UTF-8 becomes the
/// replacement character.
fn decoded(bytes: &[u8]) -> String {
    let mut out = Vec::with_capacity(bytes.len());
    let mut rest = bytes.iter().copied();
    while let Some(byte) = rest.next() {
        let digit = |byte: Option<u8>| char::from(byte?).to_digit(16);
        match byte {
            b'+' => out.push(b' '),
            b'%' => {
                let mut ahead = rest.clone();
                match (digit(ahead.next()), digit(ahead.next())) {
                    (Some(high), Some(low)) => {
                        out.push(u8::try_from(high * 16 + low).unwrap_or(b'?'));
                        rest = ahead;
                    }
                    _ => out.push(b'%'),
                }
            }
            other => out.push(other),
        }
    }
    String::from_utf8_lossy(&out).into_owned()
}

fn answer(status: StatusCode, file: OfficeFile) -> Response {
    let mut response = (status, file.bytes).into_response();
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(file.media_type));
    headers.insert(header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(POLICY));
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("private, no-store"));
    headers.insert(
        HeaderName::from_static("x-robots-tag"),
        HeaderValue::from_static("noindex, nofollow, noarchive"),
    );
    response
}

fn failed(why: &str) -> Response {
    tracing::error!(why, "an agreement's page could not be made");
    let text = "<p>This page could not be made just now, and nothing was agreed. Please try again later, or ask the \
                inspector.</p>";
    (StatusCode::INTERNAL_SERVER_ERROR, page::page("Something went wrong", text)).into_response()
}

fn patience(wait: Duration) -> Response {
    let seconds = wait.as_secs().saturating_add(1);
    let text = format!(
        "<p>This page was asked for too often from your connection. Nothing was agreed. Please try again in {seconds} \
         seconds.</p>"
    );
    let mut response =
        (StatusCode::TOO_MANY_REQUESTS, page::page("Please wait", &text)).into_response();
    response.headers_mut().insert(header::RETRY_AFTER, HeaderValue::from(seconds));
    response
}

#[cfg(test)]
mod tests {
    use super::decoded;

    #[test]
    fn a_forms_text_is_read_as_it_was_typed() {
        let check = |sent: &str, typed: &str| assert_eq!(decoded(sent.as_bytes()), typed);
        check("Ada+Buyer", "Ada Buyer");
        check("Jos%C3%A9+%2B+%26", "José + &");
        check("100%", "100%");
        check("%zz%4", "%zz%4");
        check("%ff", "\u{fffd}");
    }
}
