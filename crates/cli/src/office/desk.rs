//! What a device at the desk asks of the office through the server: how things stand, addresses, invoices, payments.
//!
//! The same functions as the commands use do the work; here its outcome becomes plain data and, where it cannot be, a word
//! that the app has a sentence for in its own language.

use inspection::Currency;
use jiff::civil::Date;
use report::content::Paper;
use report::letter::{InvoiceFacts, Seller, letter_pdf};
use server::{
    CreditWanted, Engagement, EngagementAnswer, EngagementAsked, InvoiceLineStanding,
    InvoiceStanding, InvoiceTaxStanding, InvoiceWanted, LinkMade, LinkStanding, OfficeRefused,
    PaymentNoted, PaymentStanding, SellerNamed, TermsWorded,
};
use store::{JobId, LeadsTo, Store, StoredClientLink};

use super::invoices::Kept;
use super::new_invoice::{NotMade, Seen, Wanted, credit, make};
use super::pages::open;
use super::{agreements, invoices, links, waiting};
use crate::commands::invoice::show;
use crate::data_folder::Place;
use crate::failure::{Failure, Kind};
use crate::open_job;

/// The most letters of a line that somebody types: how it was paid, why it is taken back, who charges.
const MOST_LETTERS: usize = 500;

/// Does what is asked.
pub(super) fn engagement(
    store: &Store,
    job: &JobId,
    person: &str,
    asked: &EngagementAsked,
) -> Result<EngagementAnswer, OfficeRefused> {
    match asked {
        EngagementAsked::Standing => {}
        EngagementAsked::Terms { language } => {
            let (place, job) = open(store, job, by(person))?;
            let plan = agreements::spoken_plan(&place, &job.plan, language)?;
            let language = language.clone();
            return Ok(EngagementAnswer::Terms(TermsWorded { language, terms: plan.terms }));
        }
        EngagementAsked::AgreementLink(wanted) => {
            return agreement_link(store, job, person, wanted.days).map(EngagementAnswer::Link);
        }
        EngagementAsked::AgreementPdf => {
            let (place, job) = open(store, job, by(person))?;
            if job.inspection().job.engagement.agreement.is_none() {
                return Err(refused("no_agreement", "nothing was put to the client yet"));
            }
            return pdf(&agreements::letter(&place, &job, Paper::Letter)?);
        }
        EngagementAsked::InvoicePdf { number } => {
            let kept = invoice_of(store, job, number)?;
            let place = Place { data: Some(store.folder().to_owned()), by: by(person) };
            return pdf(&show::letter(&place, &kept.facts, &kept.paid(), Paper::Letter)?);
        }
        EngagementAsked::Invoice(wanted) => new_invoice(store, job, person, wanted)?,
        EngagementAsked::Credit(wanted) => new_credit_note(store, job, wanted)?,
        EngagementAsked::Payment(noted) => pay(store, job, noted)?,
        EngagementAsked::PagesWait(wanted) => waiting::set_pages_wait(store, job, wanted.wait)?,
    }
    Ok(EngagementAnswer::Standing(Box::new(standing(store, job)?)))
}

/// Keeps who charges.
pub(super) fn name_seller(
    store: &Store,
    named: &SellerNamed,
) -> Result<SellerNamed, OfficeRefused> {
    let lines = [&named.name, &named.contact, &named.tax_number, &named.payment, &named.prefix];
    let [name, contact, tax_number, payment, prefix] = lines.map(|text| on_one_line(text));
    let address: Option<Vec<String>> = named.address.iter().map(|line| on_one_line(line)).collect();
    let seller = (|| {
        let address = address?.into_iter().filter(|line| !line.is_empty()).collect();
        Some(Seller {
            name: name?,
            address,
            contact: contact?,
            tax_number: tax_number?,
            payment: payment?,
            prefix: prefix?,
        })
    })();
    let Some(seller) = seller else {
        return Err(refused(
            "not_one_line",
            "write each on one line of at most 500 letters, without control characters",
        ));
    };
    if seller.name.is_empty() {
        return Err(refused("no_seller", "an invoice names who charges"));
    }
    if seller.prefix.chars().count() > 20 {
        return Err(refused(
            "long_prefix",
            "at most 20 characters stand before an invoice's number, such as 2026-",
        ));
    }
    invoices::keep_seller(store, &seller)?;
    Ok(seller_named(seller))
}

fn agreement_link(
    store: &Store,
    job: &JobId,
    person: &str,
    days: u16,
) -> Result<LinkMade, OfficeRefused> {
    if !(1..=3660).contains(&days) {
        return Err(refused("days", "an address is good for 1 to 3660 days"));
    }
    let (_, job) = open(store, job, by(person))?;
    if job.inspection().job.engagement.agreement.is_none() {
        return Err(refused("no_agreement", "nothing was put to the client yet"));
    }
    let made = links::new(store, &job.id, LeadsTo::Agreement, days, &[])?;
    Ok(LinkMade { address: made.address, expires_unix_ms: made.expires_ms })
}

fn new_invoice(
    store: &Store,
    job: &JobId,
    person: &str,
    asked: &InvoiceWanted,
) -> Result<(), OfficeRefused> {
    let date = day(&asked.date)?;
    if asked.days.is_some_and(|days| days > 366) {
        return Err(refused("days", "an invoice is to be paid within 366 days"));
    }
    let (_, job) = open(store, job, by(person))?;
    let agreement = job.inspection().job.engagement.agreement.unwrap_or_default();
    let wanted = Wanted {
        date,
        days: asked.days,
        charges: agreement.charges,
        another: asked.another,
        seen: Some(Seen { total: asked.total, count: asked.seen }),
    };
    make(&job, &wanted).map(drop).map_err(|why| match why {
        NotMade::NoFee => refused("no_fee", "no fee was agreed"),
        NotMade::NoSeller => refused("no_seller", "an invoice names who charges"),
        NotMade::NoClient => refused("no_client", "an invoice names who pays"),
        NotMade::LessThanNothing => refused("less_than_nothing", "the fee is less than nothing"),
        NotMade::Stands(number) => {
            refused("invoice_stands", format!("the job has invoice {number} already"))
        }
        NotMade::Changed => changed(),
        NotMade::Other(failure) => failure.into(),
    })
}

fn new_credit_note(store: &Store, job: &JobId, asked: &CreditWanted) -> Result<(), OfficeRefused> {
    let date = day(&asked.date)?;
    let because = on_one_line(&asked.because).filter(|because| !because.is_empty());
    let because = because
        .ok_or_else(|| refused("no_reason", "say why the invoice is taken back, on one line"))?;
    let _held = open_job::hold(store)?;
    let kept = invoice_of(store, job, &asked.number)?;
    if !["open", "paid"].contains(&kept.state()) {
        return Err(changed());
    }
    credit(store, &kept, &because, date)?;
    Ok(())
}

fn pay(store: &Store, job: &JobId, noted: &PaymentNoted) -> Result<(), OfficeRefused> {
    let date = day(&noted.day)?;
    let how = on_one_line(&noted.how).filter(|how| !how.is_empty());
    let how = how.ok_or_else(|| refused("no_way", "say how it was paid, on one line"))?;
    if noted.amount == 0 {
        return Err(refused("no_amount", "a payment of nothing is none"));
    }
    let _held = open_job::hold(store)?;
    let kept = invoice_of(store, job, &noted.number)?;
    if kept.stored.paid() != noted.paid_before {
        return Err(changed());
    }
    let noted = store.add_payment(&kept.stored.id, &date.to_string(), noted.amount, &how);
    Ok(noted.map_err(Failure::from)?)
}

/// How things stand.
fn standing(store: &Store, job: &JobId) -> Result<Engagement, OfficeRefused> {
    let seller = invoices::seller(store)?.unwrap_or_default();
    let now_ms = jiff::Timestamp::now().as_millisecond();
    let links = store.client_links().map_err(Failure::from)?;
    let invoices = invoices::all(store)?;
    Ok(Engagement {
        seller: seller_named(seller),
        pages_wait: waiting::pages_wait(store, job)?,
        links: links
            .iter()
            .filter(|link| link.job == *job)
            .map(|link| link_standing(link, now_ms))
            .collect(),
        invoices: invoices
            .iter()
            .filter(|one| one.stored.job == *job)
            .map(invoice_standing)
            .collect(),
    })
}

fn link_standing(link: &StoredClientLink, now_ms: i64) -> LinkStanding {
    LinkStanding {
        id: link.id.clone(),
        leads_to: match link.leads_to {
            LeadsTo::Page { after_payment: _ } => "page",
            LeadsTo::Agreement => "agreement",
        },
        made_unix_ms: link.made_unix_ms,
        expires_unix_ms: link.expires_unix_ms,
        good: link.revoked_unix_ms.is_none() && now_ms < link.expires_unix_ms,
        waits: link.waits,
        views: link.views_unix_ms.len(),
        last_view_unix_ms: link.views_unix_ms.last().copied(),
    }
}

fn invoice_standing(kept: &Kept) -> InvoiceStanding {
    let InvoiceFacts { number, issued, due, buyer, lines, taxes, net, cancels, because, .. } =
        kept.facts.clone();
    let money: Currency = kept.facts.money();
    InvoiceStanding {
        number,
        state: kept.state(),
        issued,
        due,
        client: buyer.name,
        currency: money.code().to_owned(),
        decimals: money.decimals(),
        lines: lines
            .into_iter()
            .map(|line| InvoiceLineStanding { text: line.text, amount: line.amount })
            .collect(),
        taxes: taxes
            .into_iter()
            .map(|tax| InvoiceTaxStanding {
                name: tax.name,
                millionths: tax.millionths,
                base: tax.base,
                amount: tax.amount,
            })
            .collect(),
        net,
        total: kept.facts.total,
        paid: kept.stored.paid(),
        left: kept.left(),
        cancels,
        because,
        payments: kept
            .paid()
            .into_iter()
            .map(|one| PaymentStanding { day: one.day, amount: one.amount, how: one.how })
            .collect(),
    }
}

/// The invoice of this job with this number: another job's is none of it.
fn invoice_of(store: &Store, job: &JobId, number: &str) -> Result<Kept, OfficeRefused> {
    let all = invoices::all(store)?;
    let found = all.into_iter().find(|one| one.stored.job == *job && one.facts.number == number);
    found.ok_or_else(|| refused("no_invoice", "the job has no invoice with that number"))
}

fn pdf(letter: &report::letter::Letter) -> Result<EngagementAnswer, OfficeRefused> {
    let made = letter_pdf(letter).map_err(|error| OfficeRefused::Failed(error.to_string()))?;
    Ok(EngagementAnswer::Pdf(made.pdf))
}

fn seller_named(seller: Seller) -> SellerNamed {
    let Seller { name, address, contact, tax_number, payment, prefix } = seller;
    SellerNamed { name, address, contact, tax_number, payment, prefix }
}

pub(super) fn by(person: &str) -> Option<String> {
    Some(person.trim()).filter(|person| !person.is_empty()).map(str::to_owned)
}

pub(super) fn day(text: &str) -> Result<Date, OfficeRefused> {
    text.trim().parse().map_err(|_| refused("no_day", "a day is written like 2026-06-12"))
}

fn on_one_line(text: &str) -> Option<String> {
    let text = text.trim();
    let fits = text.chars().count() <= MOST_LETTERS && !text.chars().any(char::is_control);
    fits.then(|| text.to_owned())
}

fn changed() -> OfficeRefused {
    refused("changed_since", "it is not as it was seen any more; look again")
}

pub(super) fn refused(reason: &'static str, detail: impl Into<String>) -> OfficeRefused {
    OfficeRefused::Refused { reason, detail: detail.into() }
}

impl From<Failure> for OfficeRefused {
    fn from(failure: Failure) -> Self {
        match failure.kind() {
            Kind::Input => refused("refused", failure.message()),
            Kind::Failed | Kind::OutOfRange | Kind::Differs | Kind::Said(_) | Kind::PipeClosed => {
                Self::Failed(failure.message().to_owned())
            }
        }
    }
}
