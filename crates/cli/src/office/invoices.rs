//! Invoices: who charges, the next number, and what stands on each.

use plan::Phrases;
use report::letter::{InvoiceFacts, InvoiceKind, PaidOn, Seller};
use store::{InvoiceId, JobId, NewInvoice, Store, StoredInvoice};

use crate::commands::near_hint;
use crate::commands::plan::shipped;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::office::agreements::spoken_plan;

/// Where the store keeps who charges.
const SELLER: &str = "office.seller";
/// Digits of a printed number; more where it needs more.
const DIGITS: usize = 4;

/// Who charges, as kept in the data folder.
pub(crate) fn seller(store: &Store) -> Result<Option<Seller>, Failure> {
    let Some(text) = store.setting(SELLER)? else { return Ok(None) };
    serde_json::from_str(&text).map(Some).map_err(|error| {
        Failure::failed(format!("who charges cannot be read from the data folder: {error}"))
            .hint("say it again with `nearside invoice seller`")
    })
}

/// Keeps who charges.
pub(crate) fn keep_seller(store: &Store, seller: &Seller) -> Result<(), Failure> {
    let text = serde_json::to_string(seller)
        .map_err(|error| Failure::failed(format!("who charges cannot be kept: {error}")))?;
    Ok(store.set_setting(SELLER, &text)?)
}

/// An invoice as it was kept, with what stands on it.
#[derive(Clone, Debug)]
pub(crate) struct Kept {
    pub(crate) stored: StoredInvoice,
    pub(crate) facts: InvoiceFacts,
}

impl Kept {
    /// What came in, as printed.
    pub(crate) fn paid(&self) -> Vec<PaidOn> {
        let payments = self.stored.payments.iter();
        payments
            .map(|one| PaidOn { day: one.day.clone(), amount: one.amount, how: one.how.clone() })
            .collect()
    }

    /// Where it stands, as one word for JSON.
    pub(crate) fn state(&self) -> &'static str {
        match self {
            _ if self.stored.cancels.is_some() => "credit_note",
            _ if self.stored.cancelled_by.is_some() => "cancelled",
            _ if self.stored.is_open() => "open",
            _ => "paid",
        }
    }

    /// What is still to be paid, minor units.
    pub(crate) fn left(&self) -> i64 {
        match self.state() {
            "open" => self.stored.due.saturating_sub(self.stored.paid()),
            _ => 0,
        }
    }
}

/// All of them, by series and number.
pub(crate) fn all(store: &Store) -> Result<Vec<Kept>, Failure> {
    store
        .invoices()?
        .into_iter()
        .map(|stored| {
            let facts = serde_json::from_slice(&stored.body).map_err(|error| {
                Failure::failed(format!(
                    "invoice {}{} cannot be read: {error}",
                    stored.id.series, stored.id.number
                ))
                .hint("a newer version of the program may have made it")
            })?;
            Ok(Kept { stored, facts })
        })
        .collect()
}

/// The one with this printed number.
pub(crate) fn with_number(store: &Store, number: &str) -> Result<Kept, Failure> {
    let all = all(store)?;
    match all.iter().find(|one| one.facts.number == number) {
        Some(found) => Ok(found.clone()),
        None => Err(Failure::input(format!("no invoice has the number `{number}`"))
            .hint(near_hint(number, all.iter().map(|one| one.facts.number.as_str())))),
    }
}

/// The number as it is printed: `2026-0007`.
fn printed(id: &InvoiceId) -> String {
    format!("{}{:0width$}", id.series, id.number, width = DIGITS)
}

/// Draws the next number and keeps what stands on it, in one transaction.
pub(crate) fn keep(
    store: &Store,
    job: &JobId,
    cancels: Option<&Kept>,
    facts: &InvoiceFacts,
) -> Result<InvoiceFacts, Failure> {
    let mut made = facts.clone();
    let due = match facts.kind {
        InvoiceKind::Invoice => facts.total,
        InvoiceKind::CreditNote => -facts.total,
    };
    let cancelled = cancels.map(|kept| &kept.stored.id);
    store.add_invoice(&facts.seller.prefix, job, cancelled, |id| {
        made.number = printed(id);
        let body = serde_json::to_vec(&made).map_err(|error| error.to_string())?;
        Ok(NewInvoice { body, due })
    })?;
    Ok(made)
}

/// What an invoice's own words are in its language, in the firm's own where it has some: the same with every plan.
pub(crate) fn words(place: &Place, facts: &InvoiceFacts) -> Result<Phrases, Failure> {
    let library = shipped()?;
    let first = library.plans().map(|(id, _)| id.to_owned()).next().unwrap_or_default();
    let plan =
        library.plan(&first).ok_or_else(|| Failure::failed("no plan ships with the program"))?;
    Ok(spoken_plan(place, &plan, &facts.language)?.words)
}
