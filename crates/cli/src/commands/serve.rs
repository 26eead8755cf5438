//! `nearside serve`: the server for phones.

use std::io::Write;
use std::net::{IpAddr, Ipv4Addr, SocketAddr, ToSocketAddrs};
use std::path::{Path, PathBuf};
use std::time::Duration;

use ::archive::Archive;
use clap::{Args, ValueEnum};
use server::{Certificate, LogFormat, Running, ServerError, Settings};
use store::Store;

use crate::commands::{demo, pair};
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::live::live;

/// Serves the app and keeps what phones copy.
///
/// On this machine's own address (127.0.0.1) it speaks plain HTTP, for a browser here. To be reached by phones it
/// listens on the network (`--at 0.0.0.0:8470`) and speaks HTTPS: with a certificate authority of its own, made at
/// the first start, which each phone is told once to trust, or with a certificate that you give it. Phones are let
/// in by a one-time code; see `nearside pair` and `nearside device`.
///
/// Ctrl-c stops it; what was begun is finished first.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside serve\n  nearside serve --demo\n  nearside serve --at 0.0.0.0:8470\n  nearside serve \
                  --at 0.0.0.0:443 --certificate office.pem --key office-key.pem"
)]
pub(crate) struct ServeArguments {
    /// Where to listen
    #[arg(long, value_name = "HOST:PORT", default_value = "127.0.0.1:8470", value_parser = address)]
    at: SocketAddr,
    /// Serve the invented job of `nearside demo`, from the folder demo-job unless --data names one
    #[arg(long)]
    demo: bool,
    /// Open the app in this machine's browser
    #[arg(long)]
    open: bool,
    /// What phones show as the server's name; this machine's name if left out
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// A certificate from elsewhere, with those between it and its authority, PEM
    #[arg(long, value_name = "FILE", requires = "key")]
    certificate: Option<PathBuf>,
    /// The certificate's private key, PEM
    #[arg(long, value_name = "FILE", requires = "certificate")]
    key: Option<PathBuf>,
    /// Port of the page that explains phones how to trust the server's own authority; the next one if left out
    #[arg(long, value_name = "PORT", conflicts_with = "certificate")]
    install_port: Option<u16>,
    /// Do not serve that page
    #[arg(long, conflicts_with_all = ["certificate", "install_port"])]
    no_install_page: bool,
    /// How to write the log, on standard error
    #[arg(long, value_enum, default_value_t = Log::Text)]
    log: Log,
}

/// How to write the log.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Log {
    /// What matters, for people
    Text,
    /// Every request, one JSON object a line
    Json,
}

pub(crate) fn run(place: &Place, arguments: &ServeArguments) -> Result<(), Failure> {
    let data = if arguments.demo { demo_folder(place)? } else { place.folder()? };
    // Says where it is, the first time.
    let place = Place { data: Some(data.clone()), by: place.by.clone() };
    drop(place.store()?);
    let settings = Settings {
        data,
        at: arguments.at,
        name: arguments.name.clone().unwrap_or_else(server::machine_name),
        certificate: match (&arguments.certificate, &arguments.key) {
            (Some(certificate), Some(key)) => {
                Certificate::Given { certificate: certificate.clone(), key: key.clone() }
            }
            _ => Certificate::Own { install_port: install_port(arguments) },
        },
        log: match arguments.log {
            Log::Text => LogFormat::Text,
            Log::Json => LogFormat::Json,
        },
        live: Some(live(place)),
        office: Some(crate::office::pages::office()),
    };
    keep_archive(settings.data.clone());
    let open = arguments.open;
    let started = move |running: &Running| {
        // Nobody reads it where standard output is closed; the server serves all the same.
        let _unread = greet(running);
        if open {
            open_browser(&running.address);
        }
    };
    server::run(settings, std::future::pending(), started).map_err(Failure::from)
}

/// How often to look whether jobs have changed. Looking costs next to nothing.
const ARCHIVE_EVERY: Duration = Duration::from_secs(5);

/// Keeps the archive up to date beside the server, on a thread of its own that ends with the program. Nothing that
/// phones copy waits for it; where it cannot, searching says how much is behind.
fn keep_archive(data: PathBuf) {
    let keep = move || {
        let mut seen = None;
        let Ok(store) = Store::open(&data) else { return };
        loop {
            let written = store.written_by_others().ok();
            if seen.is_none() || written != seen {
                let updated = Archive::open(&store).and_then(|it| it.update(&store, &mut |_| {}));
                if let Err(error) = updated {
                    eprintln!("note: the archive was not brought up to date: {error}");
                }
                seen = written.or(Some(0));
            }
            std::thread::sleep(ARCHIVE_EVERY);
        }
    };
    if std::thread::Builder::new().name("archive".into()).spawn(keep).is_err() {
        eprintln!("note: the archive is not kept up to date while the server runs");
    }
}

/// The page that explains how to trust the server's authority: beside the main port, if that is on a network.
fn install_port(arguments: &ServeArguments) -> Option<u16> {
    if arguments.no_install_page {
        return None;
    }
    arguments.install_port.or_else(|| arguments.at.port().checked_add(1).filter(|port| *port > 1))
}

/// The folder of the invented job; made if it is not there.
fn demo_folder(place: &Place) -> Result<PathBuf, Failure> {
    let folder = place.data.clone().unwrap_or_else(|| PathBuf::from("demo-job"));
    let (job, _) = ::demo::job();
    let jobs = match folder.join("store.sqlite").is_file() {
        true => Store::open(&folder)?.jobs()?,
        false => Vec::new(),
    };
    let there = jobs.iter().any(|one| one.id.as_str() == job.number);
    if !there && !jobs.is_empty() {
        return Err(Failure::input(format!(
            "{} has jobs of its own, and the invented one does not belong among them",
            folder.display()
        ))
        .hint("name a new folder for it with --data DIR"));
    }
    if !there {
        eprintln!("note: making the invented job in {}", folder.display());
        demo::make(place, &folder, false)?;
    }
    Ok(folder)
}

/// Says where the app is, and how a phone comes to it.
fn greet(running: &Running) -> std::io::Result<()> {
    let mut out = std::io::stdout().lock();
    writeln!(out, "data:    {}", running.data.display())?;
    writeln!(out, "app:     {}", running.address)?;
    if running.at.ip().is_unspecified() && running.address.contains("127.0.0.1") {
        writeln!(
            out,
            "         no address of this machine in a network was found: phones do not reach it, unless --at names one"
        )?;
    }
    if let Some(install) = &running.install {
        writeln!(
            out,
            "trust:   {install}  (open this on a phone first: it explains how to trust this server)"
        )?;
    }
    if let Some(fingerprint) = &running.fingerprint {
        writeln!(out, "         the certificate's SHA-256 must be")?;
        let pairs: Vec<&str> = fingerprint.split(' ').collect();
        for half in pairs.chunks(16) {
            writeln!(out, "         {}", half.join(" "))?;
        }
    }
    match &running.code {
        Some(code) => pair::show(&mut out, code, &running.pairing_link(code))?,
        None => writeln!(out, "pair:    `nearside pair` makes a code for another device")?,
    }
    writeln!(out, "stop:    ctrl-c")?;
    out.flush()
}

/// Opens an address in the browser of the desktop, if there is one.
fn open_browser(address: &str) {
    let opener = if cfg!(target_os = "macos") {
        "open"
    } else if cfg!(windows) {
        "explorer"
    } else {
        "xdg-open"
    };
    let quiet = std::process::Stdio::null;
    let opened = std::process::Command::new(opener)
        .arg(address)
        .stdin(quiet())
        .stdout(quiet())
        .stderr(quiet())
        .spawn();
    if opened.is_err() {
        eprintln!("note: no browser could be opened; open {address}");
    }
}

fn address(text: &str) -> Result<SocketAddr, String> {
    let accepted = "it takes HOST:PORT, such as 127.0.0.1:8470 or 0.0.0.0:8470";
    if let Ok(address) = text.parse() {
        return Ok(address);
    }
    if let Ok(port) = text.trim_start_matches(':').parse::<u16>() {
        return Ok(SocketAddr::new(IpAddr::V4(Ipv4Addr::LOCALHOST), port));
    }
    let mut found = text.to_socket_addrs().map_err(|error| format!("{error}; {accepted}"))?;
    found.next().ok_or_else(|| format!("no address is known for it; {accepted}"))
}

impl From<ServerError> for Failure {
    fn from(error: ServerError) -> Self {
        match &error {
            ServerError::Address { at, source } => {
                let hint = match source.kind() {
                    std::io::ErrorKind::AddrInUse => {
                        "another program listens there, or this one already runs; name another port with --at"
                    }
                    std::io::ErrorKind::PermissionDenied => {
                        "ports below 1024 are for the system's own programs; name a higher one with --at"
                    }
                    _ => "name an address of this machine with --at HOST:PORT",
                };
                Self::failed(format!("{at} cannot be listened at: {source}")).hint(hint)
            }
            ServerError::Certificate { file, why } => {
                let hint = certificate_hint(file);
                Self::failed(format!("{}: {why}", file.display())).hint(hint)
            }
            ServerError::Store(_) | ServerError::System { doing: _, why: _ } => Self::failed(error),
        }
    }
}

fn certificate_hint(file: &Path) -> &'static str {
    if file.components().any(|part| part.as_os_str() == "tls") {
        "move the folder tls out of the data folder to have a new authority made; phones must then trust that one"
    } else {
        "give --certificate and --key the files of one certificate, in PEM"
    }
}
