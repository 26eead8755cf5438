//! Papers of one or two pages between inspector and client: the agreement, the invoice, the credit note.
//!
//! A [`Letter`] is made once and says the same as a PDF ([`letter_pdf`]), as plain text ([`Letter::text`]) and, for the
//! agreement, as a web page ([`agreement_page`]).

mod agreement;
mod invoice;
mod page;
mod pdf;
mod text;

pub use agreement::{agreement, signed_by};
pub use invoice::{
    Buyer, InvoiceFacts, InvoiceKind, InvoiceLine, InvoiceTax, PaidOn, Seller, invoice,
};
pub use page::{AgreementPage, Notice, agreement_file, agreement_page, waiting_page};
pub use pdf::letter_pdf;

use plan::Phrases;
use serde::{Deserialize, Serialize};

use crate::content::{Fact, Issued, Paper};

/// What one paper says, already in words.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Letter {
    /// Size of the pages.
    pub paper: Paper,
    /// Language of its sentences; empty for English.
    pub language: String,
    /// What the pages' own few words are in that language; not part of the data.
    #[serde(skip)]
    pub words: Phrases,
    /// Stable identity: becomes the PDF's identifier, is not printed.
    pub ident: String,
    /// When it was made, coordinated universal time: becomes the PDF's date.
    pub issued: Issued,
    /// What kind of paper it is, in the line above the title.
    pub kind: String,
    /// Its number, or the job's.
    pub number: String,
    /// Title.
    pub title: String,
    /// Whom it is from.
    pub from: Party,
    /// Whom it is for.
    pub to: Party,
    /// What it is about.
    pub facts: Vec<Fact>,
    /// What stands before the fee.
    pub before: Vec<Section>,
    /// The fee, if there is any.
    pub sums: Option<Sums>,
    /// What stands behind it.
    pub after: Vec<Section>,
    /// Who signed, or is to sign.
    pub signatures: Vec<SignedBy>,
    /// The program that made it.
    pub program: String,
    /// What is attached to the PDF: a file's name, its media type, what it is in words, and its text.
    pub attached: Option<Attached>,
}

/// One of the two between whom it is.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Party {
    /// What they are: client, inspector.
    pub role: String,
    /// Their name.
    pub name: String,
    /// Address, credentials, tax number.
    pub lines: Vec<String>,
}

/// A heading with what belongs to it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Section {
    /// The heading.
    pub heading: String,
    /// Its paragraphs.
    pub paragraphs: Vec<String>,
    /// Whether they are numbered.
    pub numbered: bool,
}

/// A fee in lines, added up.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sums {
    /// The heading.
    pub heading: String,
    /// What stands above the two columns: what for, how much.
    pub columns: [String; 2],
    /// What is charged for.
    pub lines: Vec<SumLine>,
    /// Sums, taxes, total.
    pub totals: Vec<SumLine>,
    /// How it was rounded; empty where there is nothing to round.
    pub note: String,
}

/// One line of a fee or of its sums.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct SumLine {
    /// What it is.
    pub text: String,
    /// A remark behind it: which taxes are on it.
    pub remark: String,
    /// How much.
    pub amount: String,
    /// Whether it is what the reader looks for.
    pub strong: bool,
}

/// A place for a signature, or a signature.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct SignedBy {
    /// Who signs here: the client, the inspector.
    pub role: String,
    /// Their name.
    pub name: String,
    /// When and how they signed; empty for a line to sign on.
    pub words: Vec<String>,
    /// A drawn signature, as lines; empty where there is none.
    pub drawn: String,
}

/// A file inside the PDF.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Attached {
    /// Its name: `agreement.txt` or `invoice.json`.
    pub name: String,
    /// Its media type.
    pub media_type: String,
    /// What it is, in words.
    pub what: String,
    /// What is in it.
    pub text: String,
}
