//! Addresses of clients' pages, from the desk: made, listed, revoked.

use axum::{
    Extension,
    extract::{Path, Request},
    http::StatusCode,
    response::Response,
};
use serde_json::json;
use store::LeadsTo;

use super::{ShareWanted, answer, asked, body, busy, not_released};
use crate::{
    clock,
    problem::Problem,
    shared::{Device, State},
};

/// `GET /v1/jobs/{job}/shares`
pub(crate) async fn list(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
) -> Result<Response, Problem> {
    let (_, job) = asked(&shared, &device, &job).await?;
    let links = shared.pool.with(|store| Ok(store.client_links()?)).await?;
    let now = clock::unix_ms();
    let own = links.iter().filter(|link| link.job == job);
    let shares: Vec<_> = own
        .filter_map(|link| {
            let LeadsTo::Page { after_payment } = link.leads_to else { return None };
            Some(json!({
                "link": link.id,
                "made_unix_ms": link.made_unix_ms,
                "until_unix_ms": link.expires_unix_ms,
                "revoked_unix_ms": link.revoked_unix_ms,
                "good": link.revoked_unix_ms.is_none() && link.expires_unix_ms > now,
                "after_payment": after_payment,
                "waits": link.waits,
                "views_unix_ms": link.views_unix_ms,
            }))
        })
        .collect();
    answer(&json!({ "shares": shares }))
}

/// `POST /v1/jobs/{job}/shares`
pub(crate) async fn make(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
    request: Request,
) -> Result<Response, Problem> {
    let (office, job) = asked(&shared, &device, &job).await?;
    let wanted: ShareWanted = body(&shared, request).await?;
    if !(1..=3660).contains(&wanted.days) {
        let detail = format!("an address is good for 1 to 3660 days, not {}", wanted.days);
        return Err(Problem::new(StatusCode::UNPROCESSABLE_ENTITY, "not_released", detail));
    }
    let Some(turn) = shared.releasing.begin(&job) else { return Err(busy()) };
    let made = shared
        .pool
        .with(move |store| Ok((office.share)(store, &job, &wanted, &|step| turn.at(step))))
        .await?;
    let made = made.map_err(not_released)?;
    tracing::info!(device = device.id, "a client's page was given an address");
    answer(&made)
}

/// `DELETE /v1/jobs/{job}/shares/{link}`
pub(crate) async fn revoke(
    shared: State,
    Extension(device): Extension<Device>,
    Path((job, link)): Path<(String, String)>,
) -> Result<Response, Problem> {
    let (_, job) = asked(&shared, &device, &job).await?;
    let revoked = shared
        .pool
        .with(move |store| {
            let links = store.client_links()?;
            let own = links.iter().any(|one| {
                one.id == link && one.job == job && matches!(one.leads_to, LeadsTo::Page { .. })
            });
            Ok(own && store.revoke_client_link(&link, clock::unix_ms())?)
        })
        .await?;
    if !revoked {
        let detail = "the job has no address of that name that is good";
        return Err(Problem::new(StatusCode::NOT_FOUND, "no_such_share", detail));
    }
    tracing::info!(device = device.id, "a client's page was shut");
    answer(&json!({ "revoked": true }))
}
