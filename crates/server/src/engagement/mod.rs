//! The business around an inspection, as a device at the desk asks for it: the client's address, invoices, payments.
//!
//! The server knows who asks and how much at a time; everything else is said and done by the [`crate::Office`] that it was
//! started with, so that it opens no job's document here either.

mod asked;
mod described;
mod standing;

use axum::{
    Extension,
    body::Body,
    extract::{Path, Query, rejection::QueryRejection},
    http::{HeaderMap, StatusCode, header},
    response::{IntoResponse, Response},
};
use serde::{Deserialize, Serialize, de::DeserializeOwned};
use sync::{JobId, Refusal};

use crate::{
    agreement::Office,
    changes::json,
    problem::Problem,
    shared::{Device, State, store_id},
};

pub use asked::{
    CreditWanted, EngagementAsked, InvoiceWanted, LinkWanted, PagesWaitWanted, PaymentNoted,
    SellerNamed,
};
pub(crate) use described::schemas;
pub use standing::{
    Engagement, EngagementAnswer, InvoiceLineStanding, InvoiceStanding, InvoiceTaxStanding,
    LinkMade, LinkStanding, OfficeRefused, PaymentStanding, TermsWorded,
};

/// Most bytes of what is asked: who charges, with room.
const MOST_BYTES: usize = 16 << 10;

/// `GET /v1/jobs/{job}/engagement`
pub(crate) async fn standing(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
) -> Result<Response, Problem> {
    let job = device.may_see(&job)?;
    answer(&shared, device, job, EngagementAsked::Standing).await
}

/// Which language.
#[derive(Deserialize)]
pub(crate) struct InLanguage {
    language: String,
}

/// `GET /v1/jobs/{job}/agreement/terms?language=…`
pub(crate) async fn terms(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
    asked: Result<Query<InLanguage>, QueryRejection>,
) -> Result<Response, Problem> {
    let job = device.may_see(&job)?;
    let InLanguage { language } = query(asked)?;
    answer(&shared, device, job, EngagementAsked::Terms { language }).await
}

/// `POST /v1/jobs/{job}/agreement/link`
pub(crate) async fn agreement_link(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
    headers: HeaderMap,
    body: Body,
) -> Result<Response, Problem> {
    done(&shared, device, &job, (&headers, body), EngagementAsked::AgreementLink).await
}

/// `GET /v1/jobs/{job}/agreement/pdf`
pub(crate) async fn agreement_pdf(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
) -> Result<Response, Problem> {
    let job = device.may_see(&job)?;
    answer(&shared, device, job, EngagementAsked::AgreementPdf).await
}

/// `POST /v1/jobs/{job}/invoices`
pub(crate) async fn invoice(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
    headers: HeaderMap,
    body: Body,
) -> Result<Response, Problem> {
    done(&shared, device, &job, (&headers, body), EngagementAsked::Invoice).await
}

/// Which invoice.
#[derive(Deserialize)]
pub(crate) struct OfNumber {
    number: String,
}

/// `GET /v1/jobs/{job}/invoices/pdf?number=…`
pub(crate) async fn invoice_pdf(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
    asked: Result<Query<OfNumber>, QueryRejection>,
) -> Result<Response, Problem> {
    let job = device.may_see(&job)?;
    let OfNumber { number } = query(asked)?;
    answer(&shared, device, job, EngagementAsked::InvoicePdf { number }).await
}

/// `POST /v1/jobs/{job}/invoices/credit`
pub(crate) async fn credit(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
    headers: HeaderMap,
    body: Body,
) -> Result<Response, Problem> {
    done(&shared, device, &job, (&headers, body), EngagementAsked::Credit).await
}

/// `POST /v1/jobs/{job}/invoices/payment`
pub(crate) async fn payment(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
    headers: HeaderMap,
    body: Body,
) -> Result<Response, Problem> {
    done(&shared, device, &job, (&headers, body), EngagementAsked::Payment).await
}

/// `POST /v1/jobs/{job}/pages-wait`
pub(crate) async fn pages_wait(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
    headers: HeaderMap,
    body: Body,
) -> Result<Response, Problem> {
    done(&shared, device, &job, (&headers, body), EngagementAsked::PagesWait).await
}

/// `POST /v1/seller`: for all jobs, so not for a device that was let in for one.
pub(crate) async fn seller(
    shared: State,
    Extension(device): Extension<Device>,
    headers: HeaderMap,
    body: Body,
) -> Result<Response, Problem> {
    let named: SellerNamed = shared.message(&headers, body, MOST_BYTES).await?;
    if device.job.is_some() {
        let detail = "this device was let in for one job, and who charges is said for all of them";
        return Err(Problem::new(StatusCode::FORBIDDEN, "one_job", detail));
    }
    let office = office(&shared)?;
    let named = shared
        .pool
        .with(move |store| (office.name_seller)(store, &named).map_err(Problem::from))
        .await?;
    written(&named)
}

/// Reads what is wanted and has the office do it.
async fn done<Wanted: DeserializeOwned>(
    shared: &State,
    device: Device,
    job: &str,
    (headers, body): (&HeaderMap, Body),
    asked: impl FnOnce(Wanted) -> EngagementAsked,
) -> Result<Response, Problem> {
    let job = device.may_see(job)?;
    let wanted = shared.message(headers, body, MOST_BYTES).await?;
    answer(shared, device, job, asked(wanted)).await
}

/// Asks the office, if the job is there.
async fn answer(
    shared: &State,
    device: Device,
    job: JobId,
    asked: EngagementAsked,
) -> Result<Response, Problem> {
    let id = store_id(&job)?;
    let known = id.clone();
    let there = shared.pool.with(move |store| Ok(store.job_exists(&known)?)).await?;
    if !there {
        return Err(Refusal::NoSuchJob.into());
    }
    let office = office(shared)?;
    // Typesetting takes a processor for itself: one at a time, like the pages beside what is typed.
    let typesets =
        matches!(asked, EngagementAsked::AgreementPdf | EngagementAsked::InvoicePdf { number: _ });
    let _turn = match typesets {
        true => Some(shared.laying_out.acquire().await.map_err(|_| Problem::from(Refusal::Other))?),
        false => None,
    };
    let answer = shared
        .pool
        .with(move |store| {
            (office.engagement)(store, &id, &device.person, &asked).map_err(Problem::from)
        })
        .await?;
    match answer {
        EngagementAnswer::Standing(engagement) => written(&engagement),
        EngagementAnswer::Terms(terms) => written(&terms),
        EngagementAnswer::Link(link) => written(&link),
        EngagementAnswer::Pdf(bytes) => {
            Ok(([(header::CONTENT_TYPE, "application/pdf")], bytes).into_response())
        }
    }
}

fn office(shared: &State) -> Result<Office, Problem> {
    shared.office.ok_or_else(|| {
        let detail =
            "this server was started without an office: it makes no agreements and invoices";
        Problem::new(StatusCode::NOT_FOUND, "no_office", detail)
    })
}

fn query<T>(asked: Result<Query<T>, QueryRejection>) -> Result<T, Problem> {
    match asked {
        Ok(Query(asked)) => Ok(asked),
        Err(rejection) => Err(Refusal::Unreadable { why: rejection.body_text() }.into()),
    }
}

fn written(answer: &impl Serialize) -> Result<Response, Problem> {
    Ok(json(serde_json::to_vec(answer).map_err(|_| Problem::from(Refusal::Other))?))
}

impl From<OfficeRefused> for Problem {
    fn from(refused: OfficeRefused) -> Self {
        match refused {
            OfficeRefused::Refused { reason, detail } => {
                Self::new(StatusCode::UNPROCESSABLE_ENTITY, reason, detail)
            }
            OfficeRefused::Failed(why) => {
                tracing::error!(why, "the office failed");
                Refusal::Other.into()
            }
        }
    }
}
