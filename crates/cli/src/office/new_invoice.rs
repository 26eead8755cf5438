//! A new invoice or credit note: what it says, and why there is none.

use inspection::{Charges, Inspection};
use jiff::ToSpan;
use jiff::civil::Date;
use report::letter::{Buyer, InvoiceFacts, InvoiceKind};
use store::Store;

use crate::failure::Failure;
use crate::office::invoices::{self, Kept};
use crate::open_job::{self, OpenJob, unit_in_words};

/// What an invoice is to be.
pub(crate) struct Wanted {
    pub(crate) date: Date,
    /// Days until it is to be paid.
    pub(crate) days: Option<u16>,
    pub(crate) charges: Charges,
    /// Make another one, though the job has one that stands.
    pub(crate) another: bool,
    /// What the person saw who asks for it; none where they look at the result.
    pub(crate) seen: Option<Seen>,
}

/// What somebody saw: the total, and how many invoices and credit notes the job has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Seen {
    pub(crate) total: i64,
    pub(crate) count: usize,
}

/// Why there is no invoice. Each is answered in other words by the command line and by the app.
#[derive(Debug)]
pub(crate) enum NotMade {
    /// No fee was agreed.
    NoFee,
    /// Nobody is named who charges.
    NoSeller,
    /// The job has no client.
    NoClient,
    /// The fee is less than nothing.
    LessThanNothing,
    /// The job has this invoice, which stands.
    Stands(String),
    /// It is not as it was seen any more.
    Changed,
    /// Anything else.
    Other(Failure),
}

impl From<Failure> for NotMade {
    fn from(failure: Failure) -> Self {
        Self::Other(failure)
    }
}

/// Makes the invoice and keeps it: the number is drawn and the invoice kept in one step.
pub(crate) fn make(job: &OpenJob, wanted: &Wanted) -> Result<InvoiceFacts, NotMade> {
    if wanted.charges.lines.is_empty() {
        return Err(NotMade::NoFee);
    }
    let mut facts = facts(job, &job.inspection(), wanted)?;
    facts.charge(&wanted.charges).map_err(Failure::input)?;
    if facts.total < 0 {
        return Err(NotMade::LessThanNothing);
    }
    // Two that want one for the same job wait for each other; the number itself needs no lock.
    let _held = open_job::hold(&job.store)?;
    let all = invoices::all(&job.store)?;
    let own: Vec<&Kept> = all.iter().filter(|one| one.stored.job == job.id).collect();
    if wanted.seen.is_some_and(|seen| seen != Seen { total: facts.total, count: own.len() }) {
        return Err(NotMade::Changed);
    }
    let stands = own.iter().find(|one| ["open", "paid"].contains(&one.state()));
    if let Some(stands) = stands.filter(|_| !wanted.another) {
        return Err(NotMade::Stands(stands.facts.number.clone()));
    }
    Ok(invoices::keep(&job.store, &job.id, None, &facts)?)
}

/// What stands on it besides the fee.
fn facts(job: &OpenJob, inspection: &Inspection, wanted: &Wanted) -> Result<InvoiceFacts, NotMade> {
    let agreement = inspection.job.engagement.agreement.clone().unwrap_or_default();
    let seller = invoices::seller(&job.store)?.ok_or(NotMade::NoSeller)?;
    if inspection.job.client.name.trim().is_empty() {
        return Err(NotMade::NoClient);
    }
    let due = wanted.days.map(|days| wanted.date.checked_add(i64::from(days).days()));
    let due = due
        .transpose()
        .map_err(|error| Failure::input(format!("--days: {error}")))?
        .map_or_else(String::new, |day| day.to_string());
    let unit = if agreement.unit.is_empty() {
        unit_in_words(&inspection.dwelling)
    } else {
        agreement.unit.clone()
    };
    Ok(InvoiceFacts {
        language: if agreement.language.is_empty() { "en".into() } else { agreement.language },
        issued: wanted.date.to_string(),
        due,
        visited: inspection.job.visits.last().map_or_else(String::new, ToString::to_string),
        seller,
        buyer: Buyer {
            name: inspection.job.client.name.clone(),
            contact: inspection.job.client.contact.clone(),
        },
        job: inspection.job.number.clone(),
        unit,
        site: inspection.job.site.address.clone(),
        ..InvoiceFacts::default()
    })
}

/// Takes an invoice back by a credit note of the same lines under the next number.
pub(crate) fn credit(
    store: &Store,
    kept: &Kept,
    because: &str,
    date: Date,
) -> Result<InvoiceFacts, Failure> {
    let mut facts = InvoiceFacts {
        kind: InvoiceKind::CreditNote,
        cancels: kept.facts.number.clone(),
        because: because.to_owned(),
        issued: date.to_string(),
        due: String::new(),
        ..kept.facts.clone()
    };
    if let Some(now) = invoices::seller(store)? {
        // Its number is one of those that are given now; everything else is what it takes back.
        facts.seller.prefix = now.prefix;
    }
    invoices::keep(store, &kept.stored.job, Some(kept), &facts)
}
