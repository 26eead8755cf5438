//! What the office does through the server: the client's address, invoices, payments, PDFs.

use serde::{Deserialize, Serialize, de::DeserializeOwned};
use sync::JobId;
use web_sys::AbortSignal;

use super::address::{Asking, ask, body};

/// Milliseconds that are waited for an answer: a PDF is laid out meanwhile.
const PATIENCE_MS: u32 = 60_000;

/// How a job's invoices and addresses stand. Amounts are whole minor units.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct Engagement {
    pub(crate) seller: Seller,
    pub(crate) pages_wait: bool,
    pub(crate) links: Vec<LinkStanding>,
    pub(crate) invoices: Vec<Invoice>,
}

/// Who charges.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Seller {
    pub(crate) name: String,
    pub(crate) address: Vec<String>,
    pub(crate) contact: String,
    pub(crate) tax_number: String,
    pub(crate) payment: String,
    pub(crate) prefix: String,
}

/// An address that the client was given.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct LinkStanding {
    pub(crate) id: String,
    pub(crate) leads_to: String,
    pub(crate) made_unix_ms: i64,
    pub(crate) expires_unix_ms: i64,
    pub(crate) good: bool,
    pub(crate) waits: bool,
    pub(crate) views: usize,
    pub(crate) last_view_unix_ms: Option<i64>,
}

/// An invoice or a credit note.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct Invoice {
    pub(crate) number: String,
    pub(crate) state: String,
    pub(crate) issued: String,
    pub(crate) due: String,
    pub(crate) client: String,
    pub(crate) currency: String,
    pub(crate) lines: Vec<InvoiceLine>,
    pub(crate) taxes: Vec<InvoiceTax>,
    pub(crate) total: i64,
    pub(crate) paid: i64,
    pub(crate) left: i64,
    pub(crate) cancels: String,
    pub(crate) because: String,
    pub(crate) payments: Vec<Payment>,
}

/// A line of it.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct InvoiceLine {
    pub(crate) text: String,
    pub(crate) amount: i64,
}

/// A tax of it.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct InvoiceTax {
    pub(crate) name: String,
    pub(crate) millionths: u32,
    pub(crate) base: i64,
    pub(crate) amount: i64,
}

/// A payment.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct Payment {
    pub(crate) day: String,
    pub(crate) amount: i64,
    pub(crate) how: String,
}

/// Terms in a language.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct Terms {
    pub(crate) terms: Vec<String>,
}

/// A new address.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct LinkMade {
    pub(crate) address: String,
    pub(crate) expires_unix_ms: i64,
}

/// What a job that inspects the unit again would carry.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct AgainOffered {
    pub(crate) number: String,
    pub(crate) inspector: String,
    pub(crate) findings: usize,
}

/// That job, to be made.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub(crate) struct AgainWanted {
    pub(crate) number: String,
    pub(crate) visit: String,
    pub(crate) inspector: String,
    pub(crate) credentials: String,
}

/// That job, made.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct AgainMade {
    pub(crate) job: String,
    pub(crate) absent_photos: Vec<String>,
}

/// What is asked of the office.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum OfficeAsk {
    /// How things stand.
    Standing,
    /// The terms in a language, by its code.
    Terms(String),
    /// An address for the client, good for so many days.
    AgreementLink(u16),
    /// The agreement as a PDF.
    AgreementPdf,
    /// An invoice.
    Invoice(InvoiceWanted),
    /// An invoice or credit note as a PDF, by its number.
    InvoicePdf(String),
    /// A credit note.
    Credit(CreditWanted),
    /// A payment.
    Payment(PaymentNoted),
    /// Whether the client's pages wait for payment.
    PagesWait(bool),
    /// Who charges.
    Seller(Seller),
    /// What a job that inspects the unit again would carry.
    AgainOffer,
    /// That job.
    Again(AgainWanted),
}

/// An invoice, with what was seen.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub(crate) struct InvoiceWanted {
    pub(crate) date: String,
    pub(crate) days: Option<u16>,
    pub(crate) another: bool,
    pub(crate) total: i64,
    pub(crate) seen: usize,
}

/// A credit note.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub(crate) struct CreditWanted {
    pub(crate) number: String,
    pub(crate) because: String,
    pub(crate) date: String,
}

/// A payment, with what was seen.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub(crate) struct PaymentNoted {
    pub(crate) number: String,
    pub(crate) amount: i64,
    pub(crate) day: String,
    pub(crate) how: String,
    pub(crate) paid_before: i64,
}

/// Why there is no answer; then nothing was done, as far as is known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum NotDone {
    /// The server cannot be reached.
    NoLine,
    /// What was entered on this device is not there yet.
    NotCopied,
    /// It was refused: the reason as one word, and the server's sentence.
    Refused { reason: String, detail: String },
}

#[derive(Serialize)]
struct Days {
    days: u16,
}

#[derive(Serialize)]
struct Wait {
    wait: bool,
}

#[derive(Deserialize)]
struct Problem {
    #[serde(default)]
    reason: String,
    #[serde(default)]
    detail: String,
}

/// Method, address and body of a request.
type Made = (&'static str, String, Option<Vec<u8>>);

impl OfficeAsk {
    /// Method, address and body.
    fn request(&self, job: &JobId) -> Result<Made, String> {
        let below = |path: &str| format!("/v1/jobs/{job}/{path}");
        let escaped =
            |text: &str| js_sys::encode_uri_component(text).as_string().unwrap_or_default();
        let get = |path: String| Ok(("GET", path, None));
        match self {
            Self::Standing => get(below("engagement")),
            Self::Terms(language) => {
                get(below(&format!("agreement/terms?language={}", escaped(language))))
            }
            Self::AgreementPdf => get(below("agreement/pdf")),
            Self::InvoicePdf(number) => {
                get(below(&format!("invoices/pdf?number={}", escaped(number))))
            }
            Self::AgreementLink(days) => post(below("agreement/link"), &Days { days: *days }),
            Self::Invoice(wanted) => post(below("invoices"), wanted),
            Self::Credit(wanted) => post(below("invoices/credit"), wanted),
            Self::Payment(noted) => post(below("invoices/payment"), noted),
            Self::PagesWait(wait) => post(below("pages-wait"), &Wait { wait: *wait }),
            Self::AgainOffer => get(below("again")),
            Self::Again(wanted) => post(below("again"), wanted),
            Self::Seller(seller) => post("/v1/seller".to_owned(), seller),
        }
    }

    /// Whether its answer rests on what was entered on this device.
    pub(crate) fn rests_on_the_record(&self) -> bool {
        matches!(
            self,
            Self::AgreementLink(_)
                | Self::AgreementPdf
                | Self::Invoice(_)
                | Self::AgainOffer
                | Self::Again(_)
        )
    }
}

fn post(path: String, body: &impl Serialize) -> Result<Made, String> {
    let body = serde_json::to_vec(body).map_err(|error| error.to_string())?;
    Ok(("POST", path, Some(body)))
}

/// Asks; the bytes of the answer.
pub(crate) async fn office(key: &str, job: &JobId, asked: &OfficeAsk) -> Result<Vec<u8>, NotDone> {
    let refused = |detail: String| NotDone::Refused { reason: String::new(), detail };
    let (method, path, bytes) = asked.request(job).map_err(refused)?;
    let give_up = AbortSignal::timeout_with_u32(PATIENCE_MS);
    let headers = match bytes {
        Some(_) => vec![("content-type", "application/json".to_owned())],
        None => Vec::new(),
    };
    let asking = Asking {
        method,
        path: &path,
        key: Some(key),
        headers,
        body: bytes.as_deref(),
        give_up: Some(&give_up),
    };
    let response = ask(&asking).await.map_err(|_| NotDone::NoLine)?;
    let bytes = body(&response).await.map_err(|_| NotDone::NoLine)?;
    if response.ok() {
        return Ok(bytes);
    }
    match serde_json::from_slice::<Problem>(&bytes) {
        Ok(Problem { reason, detail }) => Err(NotDone::Refused { reason, detail }),
        // Not our server's words: something on the way answered in its place.
        Err(_) => Err(NotDone::NoLine),
    }
}

/// An answer read.
pub(crate) fn read<T: DeserializeOwned>(bytes: &[u8]) -> Result<T, NotDone> {
    serde_json::from_slice(bytes)
        .map_err(|error| NotDone::Refused { reason: String::new(), detail: error.to_string() })
}
