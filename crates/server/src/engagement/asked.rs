//! What a device at the desk asks for: an address for the client, an invoice, a credit note, a payment.

use serde::{Deserialize, Serialize};

/// What is asked of the office about one job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum EngagementAsked {
    /// How invoices and addresses stand.
    Standing,
    /// The terms in a language, in the words of whoever inspects.
    Terms {
        /// Its code, such as `es`.
        language: String,
    },
    /// A new address at which the client reads and signs the agreement.
    AgreementLink(LinkWanted),
    /// The agreement as a PDF.
    AgreementPdf,
    /// An invoice of the fee that was agreed, under the next number.
    Invoice(InvoiceWanted),
    /// An invoice or a credit note as a PDF.
    InvoicePdf {
        /// Its number as printed.
        number: String,
    },
    /// A credit note that takes an invoice back.
    Credit(CreditWanted),
    /// A payment that came in.
    Payment(PaymentNoted),
    /// Whether the client's pages of the job wait for payment.
    PagesWait(PagesWaitWanted),
}

/// An address is wanted.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LinkWanted {
    /// For how many days it is good, 1 to 3660.
    pub days: u16,
}

/// An invoice is wanted. It carries what the person saw, so that nothing is charged that they did not see, and an answer
/// that was lost on the way makes no second invoice.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct InvoiceWanted {
    /// The day it is made, `2026-06-12`.
    pub date: String,
    /// Days until it is to be paid, at most 366; none where that is not said.
    #[serde(default)]
    pub days: Option<u16>,
    /// Make another one, though the job has one that stands.
    #[serde(default)]
    pub another: bool,
    /// The total that was seen, minor units.
    pub total: i64,
    /// How many invoices and credit notes of the job were seen.
    pub seen: usize,
}

/// A credit note is wanted.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CreditWanted {
    /// The number of the invoice that it takes back.
    pub number: String,
    /// Why, in words for the credit note.
    pub because: String,
    /// Its day, `2026-06-12`.
    pub date: String,
}

/// A payment to be noted. It carries what was seen, so that an answer that was lost on the way notes nothing twice.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PaymentNoted {
    /// The invoice's number.
    pub number: String,
    /// How much, minor units; negative for what goes back or puts a slip right.
    pub amount: i64,
    /// The day it was paid, `2026-06-12`.
    pub day: String,
    /// How: card, cheque, cash …
    pub how: String,
    /// What was paid before, as it was seen, minor units.
    pub paid_before: i64,
}

/// Whether the client's pages of a job wait for payment.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PagesWaitWanted {
    /// Whether they do.
    pub wait: bool,
}

/// Who charges, as it stands on every invoice from then on.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SellerNamed {
    /// Name of the person or firm; empty where nobody is named yet.
    pub name: String,
    /// Address, a line each.
    #[serde(default)]
    pub address: Vec<String>,
    /// How to reach them.
    #[serde(default)]
    pub contact: String,
    /// Tax number, with what it is called.
    #[serde(default)]
    pub tax_number: String,
    /// How to pay, in words.
    #[serde(default)]
    pub payment: String,
    /// What stands before the number of each invoice.
    #[serde(default)]
    pub prefix: String,
}
