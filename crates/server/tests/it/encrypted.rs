//! HTTPS with the server's own authority: who trusts it gets through, who does not is stopped, and it can vouch
//! for nothing outside private networks.

use std::{
    net::{SocketAddr, TcpStream},
    sync::{Arc, mpsc},
};

use rustls::{
    ClientConfig, ClientConnection, RootCertStore, StreamOwned,
    pki_types::{CertificateDer, ServerName, pem::PemObject as _},
};
use server::{Certificate, Running, Settings};

use crate::{child, line::Line};

/// A server on all addresses, in this process; stopped when dropped.
struct Serving {
    running: Running,
    stop: Option<tokio::sync::oneshot::Sender<()>>,
    thread: Option<std::thread::JoinHandle<()>>,
}

impl Serving {
    fn start(settings: Settings) -> Self {
        let (stop, stopped) = tokio::sync::oneshot::channel::<()>();
        let (listening, listens) = mpsc::channel();
        let thread = std::thread::spawn(move || {
            let told = async {
                stopped.await.ok();
            };
            server::run(settings, told, |running| listening.send(running.clone()).unwrap())
                .unwrap();
        });
        let running = listens.recv().expect("the server starts");
        Self { running, stop: Some(stop), thread: Some(thread) }
    }

    /// On this machine, at the port that it listens at.
    fn at(&self) -> SocketAddr {
        SocketAddr::from(([127, 0, 0, 1], self.running.at.port()))
    }
}

impl Drop for Serving {
    fn drop(&mut self) {
        // It may have stopped by itself: then there is nobody to tell.
        let _told = self.stop.take().map(|stop| stop.send(()));
        let _ended = self.thread.take().map(std::thread::JoinHandle::join);
    }
}

fn on_the_network(folder: &std::path::Path) -> Settings {
    Settings {
        certificate: Certificate::Own { install_port: Some(0) },
        ..child::settings(folder, "0.0.0.0:0".parse().unwrap())
    }
}

/// A line over TLS as `name`, trusting these authorities alone.
fn line(at: SocketAddr, name: &str, trusted: &[CertificateDer<'static>]) -> Result<Line, String> {
    let mut roots = RootCertStore::empty();
    for one in trusted {
        roots.add(one.clone()).map_err(|error| error.to_string())?;
    }
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let config = ClientConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .map_err(|error| error.to_string())?
        .with_root_certificates(roots)
        .with_no_client_auth();
    let name = ServerName::try_from(name.to_owned()).map_err(|error| error.to_string())?;
    let mut tls =
        ClientConnection::new(Arc::new(config), name).map_err(|error| error.to_string())?;
    let mut stream = TcpStream::connect(at).map_err(|error| error.to_string())?;
    while tls.is_handshaking() {
        tls.complete_io(&mut stream).map_err(|error| error.to_string())?;
    }
    Ok(Line::over(at, Box::new(StreamOwned::new(tls, stream))))
}

fn authority(folder: &std::path::Path) -> CertificateDer<'static> {
    CertificateDer::from_pem_file(folder.join("tls/authority.pem")).unwrap()
}

#[test]
fn a_phone_that_trusts_the_authority_gets_through_and_no_other() {
    let folder = tempfile::tempdir().unwrap();
    let serving = Serving::start(on_the_network(folder.path()));
    let trusted = [authority(folder.path())];
    for name in ["127.0.0.1", "localhost"] {
        let mut line = line(serving.at(), name, &trusted).unwrap();
        let answer = line.ask("GET", "/healthz", &[], &[]).unwrap();
        assert_eq!((answer.status, answer.body.as_slice()), (200, b"ok\n".as_slice()));
        assert_eq!(answer.header("strict-transport-security"), "max-age=31536000");
    }
    let refused = line(serving.at(), "127.0.0.1", &[]).err().unwrap();
    assert!(refused.contains("UnknownIssuer"), "{refused}");
    let refused = line(serving.at(), "192.0.2.77", &trusted).err().unwrap();
    assert!(refused.contains("not valid for name"), "{refused}");
    // Plain HTTP gets nothing at all there.
    let mut plain = Line::new(serving.at(), None);
    assert!(plain.ask("GET", "/healthz", &[], &[]).is_err());
}

#[test]
fn before_there_is_trust_only_the_certificate_and_its_page_are_handed_out() {
    let folder = tempfile::tempdir().unwrap();
    let serving = Serving::start(on_the_network(folder.path()));
    let install = serving.running.install.clone().unwrap();
    assert!(serving.running.address.starts_with("https://"), "{:?}", serving.running);
    let port = install.trim_end_matches('/').rsplit_once(':').unwrap().1.parse().unwrap();
    let mut line = Line::new(SocketAddr::from(([127, 0, 0, 1], port)), None);
    let certificate = line.ask("GET", "/authority.crt", &[], &[]).unwrap();
    assert_eq!(certificate.header("content-type"), "application/x-x509-ca-cert");
    assert_eq!(certificate.body, authority(folder.path()).to_vec());
    let page = String::from_utf8(line.ask("GET", "/", &[], &[]).unwrap().body).unwrap();
    let fingerprint = serving.running.fingerprint.clone().unwrap();
    assert!(page.contains(&fingerprint) && page.contains(&serving.running.address), "{page}");
    assert_eq!(fingerprint.split(' ').count(), 32);
    for path in
        ["/v1/jobs", "/v1/openapi.json", "/v1/pair", "/pair", "/metrics", "/healthz", "/app/x.js"]
    {
        assert_eq!(line.ask("GET", path, &[], &[]).unwrap().status, 404, "{path}");
    }
}

#[test]
fn the_authority_stays_while_the_servers_certificate_is_made_again() {
    let folder = tempfile::tempdir().unwrap();
    drop(Serving::start(on_the_network(folder.path())));
    let read = |name: &str| std::fs::read(folder.path().join("tls").join(name)).unwrap();
    let (authority_then, server_then) = (read("authority.pem"), read("server.pem"));
    drop(Serving::start(on_the_network(folder.path())));
    assert_eq!(
        (read("authority.pem"), read("server.pem")),
        (authority_then.clone(), server_then.clone())
    );
    // As on the day when it is due: a year and a month less two months after it was made.
    let about = folder.path().join("tls/server.json");
    let mut said: serde_json::Value =
        serde_json::from_slice(&std::fs::read(&about).unwrap()).unwrap();
    said["renew_from"] = "2020-01-01".into();
    std::fs::write(&about, said.to_string()).unwrap();
    let serving = Serving::start(on_the_network(folder.path()));
    assert_eq!(read("authority.pem"), authority_then);
    assert_ne!(read("server.pem"), server_then);
    line(serving.at(), "127.0.0.1", &[authority(folder.path())]).unwrap();

    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        for name in ["authority-key.pem", "server-key.pem"] {
            let file = folder.path().join("tls").join(name);
            let mode = std::fs::metadata(file).unwrap().permissions().mode();
            assert_eq!(mode & 0o777, 0o600, "{name}");
        }
    }
}

/// The authority's key, stolen, is of no use against a site on the internet.
#[test]
fn the_authority_cannot_vouch_for_a_public_name_or_address() {
    let folder = tempfile::tempdir().unwrap();
    drop(Serving::start(on_the_network(folder.path())));
    let key = std::fs::read_to_string(folder.path().join("tls/authority-key.pem")).unwrap();
    let about = std::fs::read(folder.path().join("tls/authority.json")).unwrap();
    let about: serde_json::Value = serde_json::from_slice(&about).unwrap();
    for (name, accepted) in
        [("desk.local", true), ("192.168.7.7", true), ("bank.example", false), ("8.8.8.8", false)]
    {
        // As a thief would: the authority's name and key, and a certificate for whatever is wanted.
        let mut issuer = rcgen::CertificateParams::default();
        issuer.distinguished_name = rcgen::DistinguishedName::new();
        issuer.distinguished_name.push(rcgen::DnType::CommonName, about["name"].as_str().unwrap());
        let issuer = rcgen::Issuer::new(issuer, rcgen::KeyPair::from_pem(&key).unwrap());
        let stolen = rcgen::KeyPair::generate().unwrap();
        let params = rcgen::CertificateParams::new(vec![name.to_owned()]).unwrap();
        let forged = params.signed_by(&stolen, &issuer).unwrap();
        let files = tempfile::tempdir().unwrap();
        let (certificate, private) = (files.path().join("c.pem"), files.path().join("k.pem"));
        std::fs::write(&certificate, forged.pem()).unwrap();
        std::fs::write(&private, stolen.serialize_pem()).unwrap();
        let serving = Serving::start(Settings {
            certificate: Certificate::Given { certificate, key: private },
            ..child::settings(files.path().join("data").as_path(), "0.0.0.0:0".parse().unwrap())
        });
        let tried = line(serving.at(), name, &[authority(folder.path())]).map(|_| ());
        assert_eq!(tried.is_ok(), accepted, "{name}: {tried:?}");
    }
}
