//! Invoices and credit notes, numbered without a gap, and what was paid on them.

use std::collections::BTreeMap;

use rusqlite::{OptionalExtension, Params, Row, Transaction};
use sha2::{Digest, Sha256};

use crate::{JobId, Store, StoreError, error::During, row_seal::changing};

/// Which invoice: its series and its number in it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct InvoiceId {
    /// The series, such as `2026-`; each counts for itself.
    pub series: String,
    /// The number, from 1.
    pub number: u32,
}

/// An invoice to be kept, once its number is known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewInvoice {
    /// What stands on it; opaque here.
    pub body: Vec<u8>,
    /// What is to be paid, in minor units; of a credit note, what is taken back.
    pub due: i64,
}

/// An invoice as it was kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredInvoice {
    /// Its series and number.
    pub id: InvoiceId,
    /// The job it is for.
    pub job: JobId,
    /// When it was made, in milliseconds since the start of 1970, universal time.
    pub made_unix_ms: i64,
    /// What is to be paid, in minor units.
    pub due: i64,
    /// The invoice that it cancels: then it is a credit note.
    pub cancels: Option<InvoiceId>,
    /// The credit note that cancels it.
    pub cancelled_by: Option<InvoiceId>,
    /// What stands on it.
    pub body: Vec<u8>,
    /// What was paid, in the order in which it was noted.
    pub payments: Vec<Payment>,
}

/// A payment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Payment {
    /// When it was noted, in milliseconds since the start of 1970, universal time.
    pub noted_unix_ms: i64,
    /// The day on which it was paid, such as `2026-06-12`.
    pub day: String,
    /// How much, in minor units; negative for what was paid back, or entered by mistake.
    pub amount: i64,
    /// How, in words.
    pub how: String,
}

impl StoredInvoice {
    /// What was paid.
    #[must_use]
    pub fn paid(&self) -> i64 {
        self.payments.iter().fold(0, |sum, payment| sum.saturating_add(payment.amount))
    }

    /// Whether somebody still has to pay.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.cancels.is_none() && self.cancelled_by.is_none() && self.paid() < self.due
    }
}

impl Store {
    /// Draws the next number of the series and keeps the invoice that `write` makes of it, all in one transaction: a
    /// number is never drawn twice, and never without its invoice. `cancels` makes it a credit note; what is cancelled
    /// already is refused.
    pub fn add_invoice(
        &self,
        series: &str,
        job: &JobId,
        cancels: Option<&InvoiceId>,
        write: impl FnOnce(&InvoiceId) -> Result<NewInvoice, String>,
    ) -> Result<InvoiceId, StoreError> {
        let doing = "keeping an invoice";
        self.write(doing, |transaction| {
            if let Some(cancelled) = cancels {
                stands(transaction, cancelled, false)?;
            }
            let last: u32 = transaction
                .query_row(
                    "select coalesce(max(number), 0) from invoice where series = ?1",
                    [series],
                    |row| row.get(0),
                )
                .during(doing)?;
            let id = InvoiceId { series: series.to_owned(), number: last.saturating_add(1) };
            let NewInvoice { body, due } =
                write(&id).map_err(|what| StoreError::Refused { what })?;
            let key: [&dyn rusqlite::ToSql; 2] = [&id.series, &id.number];
            changing(transaction, "invoice", "series = ?1 and number = ?2", &key, || {
                transaction
                .execute(
                    "insert into invoice (series, number, job, made_ms, due, cancels_series, cancels_number, body, seal)
                     values (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
                    (
                        &id.series,
                        id.number,
                        job.as_str(),
                        crate::clock::unix_milliseconds(),
                        due,
                        cancels.map(|cancelled| cancelled.series.as_str()),
                        cancels.map(|cancelled| cancelled.number),
                        &body,
                        seal(&body),
                    ),
                )
                .during(doing)?;
                Ok(())
            })?;
            Ok(id)
        })
    }

    /// All invoices and credit notes, by series and number; what does not match its seal is reported, never returned.
    pub fn invoices(&self) -> Result<Vec<StoredInvoice>, StoreError> {
        self.invoices_where("", ())
    }

    /// Those of one job.
    pub fn invoices_of(&self, job: &JobId) -> Result<Vec<StoredInvoice>, StoreError> {
        self.invoices_where("where one.job = ?1", [job.as_str()])
    }

    /// How many invoices and credit notes each job has that has any, and how many payments on them.
    pub fn invoice_counts(&self) -> Result<BTreeMap<JobId, (u64, u64)>, StoreError> {
        let doing = "counting the invoices";
        let transaction = self.read(doing)?;
        let mut statement = transaction
            .prepare_cached(
                "select job, count(*), sum((select count(*) from payment
                        where payment.series = invoice.series and payment.number = invoice.number))
                 from invoice group by job",
            )
            .during(doing)?;
        let mut rows = statement.query([]).during(doing)?;
        let mut counts = BTreeMap::new();
        while let Some(row) = rows.next().during(doing)? {
            let job: String = row.get(0).during(doing)?;
            let count = (row.get(1).during(doing)?, row.get(2).during(doing)?);
            counts.insert(JobId::new(&job)?, count);
        }
        Ok(counts)
    }

    fn invoices_where(
        &self,
        which: &str,
        parameters: impl Params,
    ) -> Result<Vec<StoredInvoice>, StoreError> {
        let doing = "reading the invoices";
        let transaction = self.read(doing)?;
        let mut statement = transaction
            .prepare_cached(&format!(
                "select one.series, one.number, one.job, one.made_ms, one.due, one.cancels_series, one.cancels_number,
                        other.series, other.number, one.body, one.seal
                 from invoice one left join invoice other
                      on other.cancels_series = one.series and other.cancels_number = one.number
                 {which} order by one.series, one.number"
            ))
            .during(doing)?;
        let mut payments = transaction
            .prepare_cached(
                "select noted_ms, day, amount, how from payment where series = ?1 and number = ?2 order by noted_ms, rowid",
            )
            .during(doing)?;
        let mut rows = statement.query(parameters).during(doing)?;
        let mut invoices = Vec::new();
        while let Some(row) = rows.next().during(doing)? {
            let mut invoice = stored(row)?;
            invoice.payments = payments
                .query_map((&invoice.id.series, invoice.id.number), |row| {
                    Ok(Payment {
                        noted_unix_ms: row.get(0)?,
                        day: row.get(1)?,
                        amount: row.get(2)?,
                        how: row.get(3)?,
                    })
                })
                .and_then(Iterator::collect::<Result<Vec<_>, _>>)
                .during(doing)?;
            invoices.push(invoice);
        }
        Ok(invoices)
    }

    /// Notes a payment. A credit note takes none; a cancelled invoice only what goes back.
    pub fn add_payment(
        &self,
        invoice: &InvoiceId,
        day: &str,
        amount: i64,
        how: &str,
    ) -> Result<(), StoreError> {
        let doing = "noting a payment";
        self.write(doing, |transaction| {
            stands(transaction, invoice, amount < 0)?;
            changing(transaction, "payment", "rowid = last_insert_rowid()", &[], || {
                transaction
                .execute(
                    "insert into payment (series, number, noted_ms, day, amount, how) values (?1, ?2, ?3, ?4, ?5, ?6)",
                    (
                        &invoice.series,
                        invoice.number,
                        crate::clock::unix_milliseconds(),
                        day,
                        amount,
                        how,
                    ),
                )
                .during(doing)?;
                Ok(())
            })
        })
    }
}

/// Refuses what is no invoice that stands: an unknown number, a credit note, and a cancelled invoice unless `also_cancelled`.
fn stands(
    transaction: &Transaction<'_>,
    id: &InvoiceId,
    also_cancelled: bool,
) -> Result<(), StoreError> {
    let doing = "looking up an invoice";
    let InvoiceId { series, number } = id;
    let refuse = |what: String| Err(StoreError::Refused { what });
    let found: Option<(bool, Option<(String, u32)>)> = transaction
        .query_row(
            "select one.cancels_series is not null, other.series, other.number
             from invoice one left join invoice other
                  on other.cancels_series = one.series and other.cancels_number = one.number
             where one.series = ?1 and one.number = ?2",
            (series, number),
            |row| {
                let by: Option<String> = row.get(1)?;
                Ok((row.get(0)?, by.zip(row.get(2)?)))
            },
        )
        .optional()
        .during(doing)?;
    match found {
        None => refuse(format!("no invoice has the number {number} in the series \"{series}\"")),
        Some((true, _)) => refuse("a credit note is neither paid nor cancelled".to_owned()),
        Some((false, Some((series, number)))) if !also_cancelled => refuse(format!(
            "the invoice was cancelled by number {number} of the series \"{series}\""
        )),
        Some((false, _)) => Ok(()),
    }
}

/// Whether a job has an invoice that stands, and all such are paid.
pub(crate) const IS_PAID: &str = "exists (select 1 from invoice one where one.job = client_link.job and one.cancels_series is null
         and not exists (select 1 from invoice other where other.cancels_series = one.series and other.cancels_number = one.number))
     and not exists (select 1 from invoice one where one.job = client_link.job and one.cancels_series is null
         and not exists (select 1 from invoice other where other.cancels_series = one.series and other.cancels_number = one.number)
         and coalesce((select sum(amount) from payment where payment.series = one.series and payment.number = one.number), 0) < one.due)";

fn seal(body: &[u8]) -> [u8; 32] {
    Sha256::digest(body).into()
}

fn stored(row: &Row<'_>) -> Result<StoredInvoice, StoreError> {
    let doing = "reading the invoices";
    let id = InvoiceId { series: row.get(0).during(doing)?, number: row.get(1).during(doing)? };
    let linked = |series: usize| -> Result<Option<InvoiceId>, StoreError> {
        let name: Option<String> = row.get(series).during(doing)?;
        let number: Option<u32> = row.get(series + 1).during(doing)?;
        Ok(name.zip(number).map(|(series, number)| InvoiceId { series, number }))
    };
    let (job, body): (String, Vec<u8>) = (row.get(2).during(doing)?, row.get(9).during(doing)?);
    let kept: [u8; 32] = row.get(10).during(doing)?;
    if kept != seal(&body) {
        let InvoiceId { series, number } = &id;
        return Err(StoreError::Damaged {
            what: format!("invoice {number} of the series \"{series}\" is not what was kept"),
        });
    }
    Ok(StoredInvoice {
        job: JobId::new(&job)?,
        made_unix_ms: row.get(3).during(doing)?,
        due: row.get(4).during(doing)?,
        cancels: linked(5)?,
        cancelled_by: linked(7)?,
        body,
        payments: Vec::new(),
        id,
    })
}
