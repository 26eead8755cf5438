//! Serving: listeners, what goes before every address, and an end that finishes what was begun.

use std::{
    future::Future,
    net::{SocketAddr, TcpListener},
    path::{Path, PathBuf},
    sync::Arc,
    time::Duration,
};

use axum::{
    Router,
    body::Body,
    extract::Request,
    http::StatusCode,
    middleware,
    response::{IntoResponse as _, Response},
};
use axum_server::{
    Handle,
    accept::DefaultAcceptor,
    tls_rustls::{RustlsAcceptor, RustlsConfig},
};
use tokio::sync::{broadcast, watch};

use crate::{
    addresses::ADDRESSES,
    app,
    certificate::{self, Proof},
    code::Code,
    connections::Limited,
    error::ServerError,
    gate, headers, install,
    keeping::Keeping,
    listening::{self, Reach},
    logs, pairing,
    pool::Pool,
    problem::Problem,
    settings::{Certificate, LogFormat, Settings},
    shared::Shared,
    watching,
};

/// How long requests may go on after the server was told to stop.
const LAST_REQUESTS: Duration = Duration::from_secs(20);
/// A request's head must come within this.
const HEAD: Duration = Duration::from_secs(30);
/// How often certificates are looked at for renewal.
const RENEWAL: Duration = Duration::from_secs(6 * 3_600);
/// Pokes that a slow listener may fall behind before it misses some.
const POKES: usize = 1_024;

/// A server that has begun to listen.
#[derive(Debug, Clone)]
pub struct Running {
    /// Where the app is, for people and phones.
    pub address: String,
    /// Where it listens.
    pub at: SocketAddr,
    /// The data folder, in full.
    pub data: std::path::PathBuf,
    /// Where a phone is told to trust the server's own authority, before it does.
    pub install: Option<String>,
    /// The SHA-256 of the authority's certificate.
    pub fingerprint: Option<String>,
    /// A one-time code, made if no device is paired yet.
    pub code: Option<Code>,
}

impl Running {
    /// What a phone opens to pair with a code.
    #[must_use]
    pub fn pairing_link(&self, code: &Code) -> String {
        pairing::link(&self.address, code)
    }
}

/// Serves until the process is told to stop (SIGTERM, or ctrl-c), or until `stop` ends. `started` is called once
/// the server listens.
pub fn run(
    settings: Settings,
    stop: impl Future<Output = ()> + Send + 'static,
    started: impl FnOnce(&Running),
) -> Result<(), ServerError> {
    logs::set_up(settings.log);
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .max_blocking_threads(32)
        .thread_name("server")
        .build()
        .map_err(|error| system("starting threads", error))?;
    runtime.block_on(serve(settings, stop, started))
}

async fn serve(
    settings: Settings,
    stop: impl Future<Output = ()> + Send + 'static,
    started: impl FnOnce(&Running),
) -> Result<(), ServerError> {
    let on_loopback = settings.at.ip().is_loopback();
    let reach = listening::reach(settings.at);
    let pool = Pool::open(&settings.data)?;
    let data = pool.folder().to_owned();
    let proof = if on_loopback { None } else { Some(prove(&settings, &data, &reach)?) };
    let listener = listen(settings.at)?;
    let at =
        listener.local_addr().map_err(|source| ServerError::Address { at: settings.at, source })?;
    let scheme = if on_loopback { "http" } else { "https" };
    let address = listening::link(scheme, reach.best, at.port());

    let (stopped, stopping) = watch::channel(false);
    let (pokes, _) = broadcast::channel(POKES);
    let keeping = Keeping::start(&data, pokes.clone())?;
    let code = first_code(&pool, &address)?;
    let given = matches!(settings.certificate, Certificate::Given { certificate: _, key: _ });
    let shared = Arc::new(Shared {
        names: (on_loopback || !given).then(|| reach.names.clone()),
        authority: proof.as_ref().and_then(|proof| proof.authority.clone()),
        address: address.clone(),
        log_requests: settings.log == LogFormat::Json,
        live: settings.live.clone(),
        office: settings.office,
        ..Shared::new(pool, keeping, pokes, settings.name.clone(), !on_loopback, stopping)
    });

    let handle = Handle::new();
    let mut install_address = None;
    if let (Some(port), Some(_)) = (install_port(&settings), &shared.authority) {
        let plain = listen(SocketAddr::new(settings.at.ip(), port))?;
        let port = plain.local_addr().map_or(port, |at| at.port());
        install_address = Some(listening::link("http", reach.best, port));
        let router = install::router(Arc::clone(&shared));
        let mut server = axum_server::from_tcp(plain)
            .map_err(|error| system("listening", error))?
            .first_request_timeout(HEAD)
            .handle(handle.clone());
        server.http_builder().http1().header_read_timeout(HEAD);
        tokio::spawn(async move {
            if let Err(error) = server.serve(router.into_make_service()).await {
                tracing::error!(%error, "the page that explains the certificate is not served any more");
            }
        });
    }
    let tls = proof.map(|proof| RustlsConfig::from_config(proof.tls));
    if let Some(tls) = &tls {
        tokio::spawn(renew(settings.clone(), data.clone(), tls.clone(), shared.stopping.clone()));
    }
    tokio::spawn(watching::watch(Arc::clone(&shared)));
    tokio::spawn(stop_when_told(stop, stopped, handle.clone()));

    started(&Running {
        address: address.clone(),
        at,
        data: data.clone(),
        install: install_address,
        fingerprint: shared.authority.as_ref().map(certificate::Authority::fingerprint),
        code,
    });
    tracing::info!(address, "listening");
    let service = router(Arc::clone(&shared)).into_make_service_with_connect_info::<SocketAddr>();
    let mut server = axum_server::from_tcp(listener)
        .map_err(|error| system("listening", error))?
        .first_request_timeout(HEAD)
        .handle(handle.clone());
    server.http_builder().http1().header_read_timeout(HEAD);
    server.http_builder().http2().max_concurrent_streams(64).keep_alive_interval(HEAD);
    let served = match tls {
        Some(tls) => {
            let inner = RustlsAcceptor::new(tls);
            server.acceptor(Limited { inner, handle }).serve(service).await
        }
        None => {
            let inner = DefaultAcceptor::new();
            server.acceptor(Limited { inner, handle }).serve(service).await
        }
    };
    tracing::info!("stopped");
    // The last holder of the keeper lets go of it, and waits for the writer, which finishes what it was given.
    let ended = tokio::task::spawn_blocking(move || drop(shared)).await;
    ended.map_err(|error| system("ending", error))?;
    served.map_err(|error| system("listening", error))
}

/// All addresses of the table, with what goes before them.
pub(crate) fn router(shared: Arc<Shared>) -> Router {
    let mut router = Router::new();
    for address in ADDRESSES {
        router = router.route(address.path, (address.handler)());
    }
    router
        .method_not_allowed_fallback(wrong_method)
        .fallback(nothing_there)
        .layer(middleware::from_fn_with_state(Arc::clone(&shared), gate::gate))
        .layer(middleware::from_fn_with_state(Arc::clone(&shared), headers::secure))
        .layer(middleware::from_fn_with_state(Arc::clone(&shared), logs::log))
        .with_state(shared)
}

async fn nothing_there(request: Request<Body>) -> Response {
    if request.uri().path().starts_with("/v1") {
        let detail = "the server has no such address; it may be older than the app";
        return Problem::new(StatusCode::NOT_FOUND, "no_such_address", detail).into_response();
    }
    app::not_found()
}

async fn wrong_method() -> Response {
    let detail = "this address does not take that method";
    Problem::new(StatusCode::METHOD_NOT_ALLOWED, "wrong_method", detail).into_response()
}

/// A code to begin with, if no device is paired; and the address, for codes made later.
fn first_code(pool: &Pool, address: &str) -> Result<Option<Code>, ServerError> {
    let store = store::Store::open(pool.folder())?;
    pairing::remember_address(&store, address)?;
    let paired = store.devices()?.iter().any(|device| device.removed_unix_ms.is_none());
    if paired { Ok(None) } else { pairing::make_code(&store, None).map(Some) }
}

fn prove(settings: &Settings, data: &Path, reach: &Reach) -> Result<Proof, ServerError> {
    match &settings.certificate {
        Certificate::Own { install_port: _ } => {
            let (addresses, names) = (&reach.addresses, &reach.names);
            let now = jiff::Timestamp::now();
            let proof = certificate::own(data, &settings.name, addresses, names, now)?;
            seal(data, &proof.made)?;
            Ok(proof)
        }
        Certificate::Given { certificate, key } => certificate::given(certificate, key),
    }
}

/// Seals the files that were made just now, so that one that rots is noticed.
fn seal(data: &Path, made: &[PathBuf]) -> Result<(), ServerError> {
    if made.is_empty() {
        return Ok(());
    }
    let store = store::Store::open(data)?;
    for file in made {
        let name = file.strip_prefix(data).unwrap_or(file).to_string_lossy().replace('\\', "/");
        let bytes = std::fs::read(file).map_err(|error| ServerError::Certificate {
            file: file.clone(),
            why: error.to_string(),
        })?;
        let secret = name.ends_with("-key.pem");
        store.seal_file(&store::Companion { name, bytes, secret })?;
    }
    Ok(())
}

fn install_port(settings: &Settings) -> Option<u16> {
    match settings.certificate {
        Certificate::Own { install_port } => install_port,
        Certificate::Given { certificate: _, key: _ } => None,
    }
}

/// Takes over renewed certificates while the server runs.
async fn renew(
    settings: Settings,
    data: std::path::PathBuf,
    tls: RustlsConfig,
    mut stopping: watch::Receiver<bool>,
) {
    loop {
        tokio::select! {
            _stop = stopping.wait_for(|stopping| *stopping) => return,
            () = tokio::time::sleep(RENEWAL) => {}
        }
        let (settings, data) = (settings.clone(), data.clone());
        let proof = tokio::task::spawn_blocking(move || {
            prove(&settings, &data, &listening::reach(settings.at))
        });
        match proof.await {
            Ok(Ok(proof)) => tls.reload_from_config(proof.tls),
            Ok(Err(error)) => {
                tracing::error!(%error, "the certificate was not renewed; the old one stays");
            }
            Err(_) => {}
        }
    }
}

/// Waits for the word to stop, then lets requests come to their end.
async fn stop_when_told(
    stop: impl Future<Output = ()> + Send,
    stopped: watch::Sender<bool>,
    handle: Handle<SocketAddr>,
) {
    tokio::select! {
        () = stop => {}
        () = told_by_the_system() => {}
    }
    tracing::info!("stopping");
    stopped.send_replace(true);
    handle.graceful_shutdown(Some(LAST_REQUESTS));
    // Told twice, it does not wait any longer.
    told_by_the_system().await;
    handle.shutdown();
}

/// SIGTERM, or ctrl-c.
async fn told_by_the_system() {
    let interrupted = async {
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    };
    #[cfg(unix)]
    let terminated = async {
        match tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate()) {
            Ok(mut signal) => {
                signal.recv().await;
            }
            Err(_) => std::future::pending::<()>().await,
        }
    };
    #[cfg(not(unix))]
    let terminated = std::future::pending::<()>();
    tokio::select! {
        () = interrupted => {}
        () = terminated => {}
    }
}

fn listen(at: SocketAddr) -> Result<TcpListener, ServerError> {
    TcpListener::bind(at).map_err(|source| ServerError::Address { at, source })
}

fn system(doing: &'static str, error: impl std::fmt::Display) -> ServerError {
    ServerError::System { doing, why: error.to_string() }
}
