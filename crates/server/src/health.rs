//! Whether the program runs, and whether it can work: for whatever watches over it.

use axum::{
    http::StatusCode,
    response::{IntoResponse, Response},
};

use crate::shared::State;

/// `GET /healthz`
pub(crate) async fn alive() -> &'static str {
    "ok\n"
}

/// `GET /readyz`
pub(crate) async fn ready(shared: State) -> Response {
    if *shared.stopping.borrow() {
        return (StatusCode::SERVICE_UNAVAILABLE, "stopping\n").into_response();
    }
    match shared.pool.with(|store| Ok(store.setting("device")?)).await {
        Ok(_) => "ok\n".into_response(),
        Err(_) => (StatusCode::SERVICE_UNAVAILABLE, "the store cannot be read\n").into_response(),
    }
}
