//! How a phone is told to trust the server's own authority: its certificate, and a page that explains the steps.
//!
//! It is needed before there is trust, so it may come over plain HTTP. That is why the page asks to compare the
//! fingerprint with the one that the server printed: whoever sits in between could have changed both the
//! page and the certificate, but not what stands on the server's own screen.

use std::sync::Arc;

use axum::{
    Router,
    http::header,
    middleware,
    response::{IntoResponse, Response},
    routing::get,
};

use crate::{
    app,
    certificate::Authority,
    headers, page,
    shared::{Shared, State},
};

/// `GET /authority.crt`
pub(crate) async fn certificate(shared: State) -> Response {
    let Some(authority) = &shared.authority else { return app::not_found() };
    // The type at which phones offer to install it.
    ([(header::CONTENT_TYPE, "application/x-x509-ca-cert")], authority.der.clone()).into_response()
}

/// `GET /install-ca`
pub(crate) async fn explained(shared: State) -> Response {
    match &shared.authority {
        Some(authority) => explanation(authority, &shared.address),
        None => app::not_found(),
    }
}

fn explanation(authority: &Authority, address: &str) -> Response {
    let text = TEXT
        .replace("{name}", &page::escape(&authority.name))
        .replace("{fingerprint}", &authority.fingerprint())
        .replace("{address}", &page::escape(address));
    page::page("Trust this server", &text).into_response()
}

/// What is served over plain HTTP on a network: this page, the certificate, and nothing else.
pub(crate) fn router(shared: Arc<Shared>) -> Router {
    Router::new()
        .route("/", get(explained))
        .route("/install-ca", get(explained))
        .route("/authority.crt", get(certificate))
        .route("/pages.css", get(app::pages_css))
        .fallback(|| async { app::not_found() })
        .layer(middleware::map_response(|mut response: Response| async {
            headers::add(&mut response, false);
            response
        }))
        .with_state(shared)
}

const TEXT: &str = include_str!("install.html");
