//! The gate before every address: is it us that is meant, and who asks?
//!
//! Whatever lies under `/v1` and is not public by the table of addresses is refused here to whoever is
//! not a paired device, whether there is such an address or not.

use std::{
    net::{IpAddr, Ipv6Addr, SocketAddr},
    sync::{Arc, atomic::Ordering},
    time::Instant,
};

use axum::{
    body::Body,
    extract::{ConnectInfo, Request},
    http::{HeaderMap, StatusCode, header},
    middleware::Next,
    response::{IntoResponse, Response},
};
use sha2::{Digest, Sha256};
use store::StoredDevice;
use sync::Refusal;

use crate::{
    addresses::{self, Access},
    problem::Problem,
    rates,
    shared::{Device, Shared, State},
};

/// Lets a request through, or answers it.
pub(crate) async fn gate(shared: State, mut request: Request<Body>, next: Next) -> Response {
    match admit(&shared, &mut request).await {
        Ok(()) => next.run(request).await,
        Err(problem) => {
            shared.metrics.refused.fetch_add(1, Ordering::Relaxed);
            problem.into_response()
        }
    }
}

async fn admit(shared: &Arc<Shared>, request: &mut Request<Body>) -> Result<(), Problem> {
    let host = host(request).map(str::to_owned);
    if !is_ours(shared, host.as_deref()) {
        // A page elsewhere whose name was pointed at this machine must not speak to us as if it were us.
        let detail = "this server does not answer under that name";
        return Err(Problem::new(StatusCode::MISDIRECTED_REQUEST, "other_host", detail));
    }
    let path = request.uri().path();
    let access = addresses::access(request.method(), path);
    match access {
        Access::Public => Ok(()),
        Access::Loopback if is_from_here(request, host.as_deref()) => Ok(()),
        Access::Loopback => {
            let detail = "this address answers on the server's own machine alone";
            Err(Problem::new(StatusCode::FORBIDDEN, "only_here", detail))
        }
        Access::Paired => {
            let device = paired(shared, peer(request), key(request.headers())).await?;
            tracing::Span::current().record("device", &device.id);
            request.extensions_mut().insert(device);
            Ok(())
        }
    }
}

/// The device whose key the request carries.
async fn paired(
    shared: &Arc<Shared>,
    peer: IpAddr,
    key: Option<[u8; 32]>,
) -> Result<Device, Problem> {
    let stranger = |refusal: Refusal| {
        let asker = rates::asker(peer);
        match shared.stranger_rates.take(asker, Instant::now()) {
            Ok(()) => Problem::from(refusal),
            Err(wait) => Problem::too_many(wait),
        }
    };
    let Some(hash) = key else { return Err(stranger(Refusal::NotPaired)) };
    let found = shared.pool.with(move |store| Ok(store.device_by_key(&hash)?)).await?;
    let Some(found) = found else { return Err(stranger(Refusal::NotPaired)) };
    let seen = found.seen_unix_ms;
    let device = device(found).map_err(stranger)?;
    shared.heard(&device.id, seen);
    shared.device_rates.take(device.id.clone(), Instant::now()).map_err(Problem::too_many)?;
    Ok(device)
}

/// A stored device that is still in.
pub(crate) fn device(found: StoredDevice) -> Result<Device, Refusal> {
    if found.removed_unix_ms.is_some() {
        return Err(Refusal::DeviceRemoved);
    }
    let job = found.job.map(|job| sync::JobId::new(job.as_str())).transpose();
    let Ok(job) = job else { return Err(Refusal::NotPaired) };
    let (id, name, person, role) = (found.id, found.name, found.person, found.role);
    Ok(Device { id, name, person, role, job })
}

/// The SHA-256 of the key in the `Authorization` header (RFC 6750, section 2.1).
pub(crate) fn key(headers: &HeaderMap) -> Option<[u8; 32]> {
    let text = headers.get(header::AUTHORIZATION)?.to_str().ok()?;
    let (scheme, key) = text.split_once(' ')?;
    let digits = key.len() == 64 && key.bytes().all(|byte| byte.is_ascii_hexdigit());
    (scheme.eq_ignore_ascii_case("bearer") && digits)
        .then(|| Sha256::digest(key.to_ascii_lowercase()).into())
}

/// Where the request comes from; nowhere in particular if that is not known.
pub(crate) fn peer<B>(request: &Request<B>) -> IpAddr {
    let info = request.extensions().get::<ConnectInfo<SocketAddr>>();
    info.map_or(Ipv6Addr::UNSPECIFIED.into(), |info| info.0.ip().to_canonical())
}

/// The host that the request means, without its port.
fn host<B>(request: &Request<B>) -> Option<&str> {
    let header = || request.headers().get(header::HOST).and_then(|host| host.to_str().ok());
    let authority =
        request.uri().authority().map(axum::http::uri::Authority::as_str).or_else(header)?;
    match authority.strip_prefix('[').and_then(|rest| rest.split_once(']')) {
        Some((six, _port)) => Some(six),
        None => Some(authority.rsplit_once(':').map_or(authority, |(name, _port)| name)),
    }
}

fn is_ours(shared: &Shared, host: Option<&str>) -> bool {
    let Some(names) = &shared.names else { return true };
    // HTTP/1.0 without a host: no browser sends that.
    let Some(host) = host else { return false };
    host.parse::<IpAddr>().is_ok()
        || host.eq_ignore_ascii_case("localhost")
        || names.iter().any(|name| name.eq_ignore_ascii_case(host))
}

/// Whether a person at this machine asks, in a window of their own: not through a forwarding server,
/// not from another site's page.
fn is_from_here<B>(request: &Request<B>, host: Option<&str>) -> bool {
    let headers = request.headers();
    let by_name = host.is_some_and(|host| {
        host.eq_ignore_ascii_case("localhost")
            || host.parse::<IpAddr>().is_ok_and(|address| address.is_loopback())
    });
    let forwarded = ["forwarded", "x-forwarded-for", "x-real-ip", "via"]
        .into_iter()
        .any(|name| headers.contains_key(name));
    let site = headers.get("sec-fetch-site").and_then(|site| site.to_str().ok());
    let own_window = site.is_none_or(|site| ["none", "same-origin"].contains(&site));
    peer(request).is_loopback() && by_name && !forwarded && own_window
}
