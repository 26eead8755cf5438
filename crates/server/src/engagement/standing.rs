//! What the office answers: how a job's invoices and addresses stand. Amounts are whole minor units of the named currency.

use serde::Serialize;

use super::SellerNamed;

/// What the office answers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum EngagementAnswer {
    /// How things stand, after what was asked was done.
    Standing(Box<Engagement>),
    /// Terms.
    Terms(TermsWorded),
    /// A new address.
    Link(LinkMade),
    /// A PDF.
    Pdf(Vec<u8>),
}

/// Why the office did not do what was asked; then nothing was done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OfficeRefused {
    /// It cannot be. The reason as one word, which a device may have words of its own for, and a sentence.
    Refused {
        /// One word, such as `no_fee`.
        reason: &'static str,
        /// A sentence.
        detail: String,
    },
    /// It went wrong. Why, for the log.
    Failed(String),
}

/// How a job's invoices and addresses stand.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Engagement {
    /// Who charges.
    pub seller: SellerNamed,
    /// Whether the client's pages of the job wait for payment.
    pub pages_wait: bool,
    /// Addresses that the client was given, the newest first.
    pub links: Vec<LinkStanding>,
    /// Invoices and credit notes of the job, by number.
    pub invoices: Vec<InvoiceStanding>,
}

/// An address that the client was given; what its secret is nobody knows but who has it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct LinkStanding {
    /// Names it.
    pub id: String,
    /// `agreement`, or `page`.
    pub leads_to: &'static str,
    /// When it was made, in milliseconds since the start of 1970, universal time; the other times likewise.
    pub made_unix_ms: i64,
    /// From when on it shows nothing.
    pub expires_unix_ms: i64,
    /// Whether it still shows something.
    pub good: bool,
    /// Whether it waits for a payment now.
    pub waits: bool,
    /// How often it was opened.
    pub views: usize,
    /// When it was opened last.
    pub last_view_unix_ms: Option<i64>,
}

/// An invoice or a credit note.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct InvoiceStanding {
    /// Its number as printed.
    pub number: String,
    /// `open`, `paid`, `cancelled` or `credit_note`.
    pub state: &'static str,
    /// The day it was made.
    pub issued: String,
    /// The day by which it is to be paid; empty where none was agreed.
    pub due: String,
    /// Who pays.
    pub client: String,
    /// Currency of its amounts (ISO 4217).
    pub currency: String,
    /// Its decimal places.
    pub decimals: u8,
    /// What is charged for.
    pub lines: Vec<InvoiceLineStanding>,
    /// The taxes with what they came to.
    pub taxes: Vec<InvoiceTaxStanding>,
    /// All lines without tax.
    pub net: i64,
    /// With tax; of a credit note, what is taken back.
    pub total: i64,
    /// What was paid.
    pub paid: i64,
    /// What is still to be paid.
    pub left: i64,
    /// Number of the invoice that a credit note takes back; empty for an invoice.
    pub cancels: String,
    /// Why it is taken back.
    pub because: String,
    /// What came in.
    pub payments: Vec<PaymentStanding>,
}

/// A line of an invoice.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct InvoiceLineStanding {
    /// What it is for.
    pub text: String,
    /// Without tax.
    pub amount: i64,
}

/// A tax of an invoice.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct InvoiceTaxStanding {
    /// Its name.
    pub name: String,
    /// Its rate in millionths.
    pub millionths: u32,
    /// The sum that it is on.
    pub base: i64,
    /// What it came to.
    pub amount: i64,
}

/// A payment.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct PaymentStanding {
    /// The day.
    pub day: String,
    /// How much.
    pub amount: i64,
    /// How.
    pub how: String,
}

/// Terms in a language.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct TermsWorded {
    /// Its code.
    pub language: String,
    /// One paragraph each.
    pub terms: Vec<String>,
}

/// A new address, which is known nowhere else.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct LinkMade {
    /// The address.
    pub address: String,
    /// From when on it shows nothing, in milliseconds since the start of 1970, universal time.
    pub expires_unix_ms: i64,
}
