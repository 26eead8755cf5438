//! Proving who the server is on a network: a certificate authority of its own, or a certificate from elsewhere.
//!
//! The authority is made once and stays; phones are told to trust it. It is held by its own certificate to
//! private networks and names that nobody can buy (RFC 5280, section 4.2.1.10), so that its key, should it be
//! stolen, is of no use against any other site. The server's certificate below it lasts 397 days and is
//! renewed by itself two months before its end, and whenever the machine's addresses change.

use std::{
    fs,
    io::Write as _,
    net::IpAddr,
    path::{Path, PathBuf},
    sync::Arc,
};

use jiff::{Span, Timestamp, civil::Date, tz::TimeZone};
use rcgen::{
    BasicConstraints, CertificateParams, CidrSubnet, DnType, ExtendedKeyUsagePurpose,
    GeneralSubtree, IsCa, Issuer, KeyPair, KeyUsagePurpose, NameConstraints, SanType,
};
use rustls::{
    ServerConfig,
    pki_types::{CertificateDer, PrivateKeyDer, pem::PemObject as _},
};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use crate::error::ServerError;

/// How long a server's certificate lasts.
const DAYS: i64 = 397;
/// So long before its end it is renewed.
const RENEW_DAYS: i64 = 60;
/// How long an authority lasts.
const AUTHORITY_YEARS: i64 = 10;

/// Networks that an authority of ours may speak for: those that anybody may use at home (RFC 1918, 3927, 4193,
/// 4291, 6598) and the machine itself.
const NETWORKS: &[(&str, u8)] = &[
    ("127.0.0.0", 8),
    ("10.0.0.0", 8),
    ("172.16.0.0", 12),
    ("192.168.0.0", 16),
    ("169.254.0.0", 16),
    ("100.64.0.0", 10),
    ("::1", 128),
    ("fc00::", 7),
    ("fe80::", 10),
];
/// Likewise names: those that are set aside for it (RFC 6761, 6762, 8375, and `internal` by ICANN in 2024).
const NAMES: &[&str] = &["localhost", "local", "home.arpa", "internal"];

/// An authority's certificate, for phones.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Authority {
    /// Its name, as phones show it.
    pub(crate) name: String,
    /// The certificate.
    pub(crate) der: Vec<u8>,
}

impl Authority {
    /// The certificate's SHA-256 as phones show it: pairs of digits.
    pub(crate) fn fingerprint(&self) -> String {
        let digest = Sha256::digest(&self.der);
        let pairs: Vec<String> = digest.iter().map(|byte| format!("{byte:02X}")).collect();
        pairs.join(" ")
    }
}

/// Midnight as the library wants it, whose type belongs to yet another library.
macro_rules! midnight {
    ($day:expr) => {{
        let day: Date = $day;
        let part = |part: i8| u8::try_from(part).unwrap_or(1);
        rcgen::date_time_ymd(day.year().into(), part(day.month()), part(day.day()))
    }};
}

/// A server's own proof: who vouches, and the set-up for TLS.
pub(crate) struct Proof {
    pub(crate) authority: Option<Authority>,
    pub(crate) tls: Arc<ServerConfig>,
    /// The files that were made for it just now.
    pub(crate) made: Vec<PathBuf>,
}

#[derive(Debug, Serialize, Deserialize)]
struct AboutAuthority {
    name: String,
}

#[derive(Debug, Serialize, Deserialize)]
struct AboutServer {
    addresses: Vec<IpAddr>,
    names: Vec<String>,
    /// A date as ISO 8601 writes it.
    renew_from: String,
}

/// The proof by our own authority, for these addresses and names; made or renewed where that is due.
pub(crate) fn own(
    data: &Path,
    of: &str,
    addresses: &[IpAddr],
    names: &[String],
    now: Timestamp,
) -> Result<Proof, ServerError> {
    let folder = data.join("tls");
    private_folder(&folder)?;
    let today = now.to_zoned_datetime(TimeZone::UTC).date();
    for address in addresses {
        if !may_speak_for(*address) {
            return Err(ServerError::Certificate {
                file: folder,
                why: format!(
                    "{address} is no address of a private network; an authority of our own does not speak for \
                     it: give the server a certificate for its name"
                ),
            });
        }
    }
    let mut made = Vec::new();
    let authority = authority(&folder, of, today, &mut made)?;
    let (chain_file, key_file) = (folder.join("server.pem"), folder.join("server-key.pem"));
    let about_file = folder.join("server.json");
    let about: Option<AboutServer> = read_json(&about_file)?;
    let good = about.is_some_and(|about| {
        about.addresses == addresses
            && about.names == names
            && about.renew_from.parse::<Date>().is_ok_and(|from| today < from)
    });
    if !good {
        // What says that the others are good goes first and comes last.
        remove(&about_file)?;
        let key = KeyPair::generate().map_err(|error| failed(&key_file, error))?;
        let params = server_params(of, addresses, names, today, &about_file)?;
        let signed = params.signed_by(&key, &authority.issuer);
        let signed = signed.map_err(|error| failed(&chain_file, error))?;
        let chain = format!("{}{}", signed.pem(), authority.pem);
        write(&key_file, key.serialize_pem().as_bytes(), true)?;
        write(&chain_file, chain.as_bytes(), false)?;
        let renew_from = day(today, DAYS - 1 - RENEW_DAYS).to_string();
        let about = AboutServer { addresses: addresses.into(), names: names.into(), renew_from };
        let text = serde_json::to_vec_pretty(&about).map_err(|error| failed(&about_file, error))?;
        write(&about_file, &text, false)?;
        made.extend([key_file.clone(), chain_file.clone(), about_file]);
        tracing::info!("a new server certificate was made");
    }
    let tls = given(&chain_file, &key_file)?.tls;
    Ok(Proof { authority: Some(authority.certificate), tls, made })
}

/// The proof by a certificate from elsewhere.
pub(crate) fn given(certificate: &Path, key: &Path) -> Result<Proof, ServerError> {
    let chain: Vec<CertificateDer<'static>> = CertificateDer::pem_file_iter(certificate)
        .and_then(Iterator::collect)
        .map_err(|error| failed(certificate, error))?;
    if chain.is_empty() {
        return Err(failed(certificate, "there is no certificate in it; it takes PEM"));
    }
    let private = PrivateKeyDer::from_pem_file(key).map_err(|error| failed(key, error))?;
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let tls = ServerConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .map(|builder| builder.with_no_client_auth())
        .and_then(|builder| builder.with_single_cert(chain, private))
        .map_err(|error| {
            failed(certificate, format!("it does not go with {}: {error}", key.display()))
        })?;
    let mut tls = tls;
    tls.alpn_protocols = vec![b"h2".to_vec(), b"http/1.1".to_vec()];
    Ok(Proof { authority: None, tls: Arc::new(tls), made: Vec::new() })
}

/// What is wrong with the authority of our own and the server's certificate in a data folder: each file's name there, and
/// why it cannot be used. Nothing where there are none: they are made at the first start on a network.
#[must_use]
pub fn certificate_faults(data: &Path) -> Vec<(String, String)> {
    let folder = data.join("tls");
    let mut faults = Vec::new();
    let mut note = |name: &str, error: ServerError| {
        let why = match error {
            ServerError::Certificate { file: _, why } => why,
            other => other.to_string(),
        };
        faults.push((format!("tls/{name}"), why));
    };
    let read = |name: &str| folder.join(name);
    match read_json::<AboutAuthority>(&read("authority.json")) {
        Ok(None) => {}
        Ok(Some(_)) => {
            if let Err(error) = given(&read("authority.pem"), &read("authority-key.pem")) {
                note("authority.pem", error);
            }
        }
        Err(error) => note("authority.json", error),
    }
    match read_json::<AboutServer>(&read("server.json")) {
        Ok(None) => {}
        Ok(Some(_)) => {
            if let Err(error) = given(&read("server.pem"), &read("server-key.pem")) {
                note("server.pem", error);
            }
        }
        Err(error) => note("server.json", error),
    }
    faults
}

/// Whether an authority of ours may speak for an address.
pub(crate) fn may_speak_for(address: IpAddr) -> bool {
    NETWORKS.iter().any(|(network, bits)| {
        let Ok(network) = network.parse::<IpAddr>() else { return false };
        match (network, address) {
            (IpAddr::V4(network), IpAddr::V4(address)) => {
                (network.to_bits() ^ address.to_bits()).leading_zeros() >= u32::from(*bits)
            }
            (IpAddr::V6(network), IpAddr::V6(address)) => {
                (network.to_bits() ^ address.to_bits()).leading_zeros() >= u32::from(*bits)
            }
            _ => false,
        }
    })
}

struct WithKey {
    certificate: Authority,
    pem: String,
    issuer: Issuer<'static, KeyPair>,
}

/// The authority in the folder; made if there is none.
fn authority(
    folder: &Path,
    of: &str,
    today: Date,
    made: &mut Vec<PathBuf>,
) -> Result<WithKey, ServerError> {
    let (certificate, key) = (folder.join("authority.pem"), folder.join("authority-key.pem"));
    let about_file = folder.join("authority.json");
    if read_json::<AboutAuthority>(&about_file)?.is_none() {
        let name = format!("Nearside at {of}, {today}");
        let pair = KeyPair::generate().map_err(|error| failed(&key, error))?;
        let signed = authority_params(&name, today)
            .self_signed(&pair)
            .map_err(|error| failed(&certificate, error))?;
        write(&key, pair.serialize_pem().as_bytes(), true)?;
        write(&certificate, signed.pem().as_bytes(), false)?;
        let about = AboutAuthority { name };
        let text = serde_json::to_vec_pretty(&about).map_err(|error| failed(&about_file, error))?;
        write(&about_file, &text, false)?;
        remove(&folder.join("server.json"))?;
        made.extend([key.clone(), certificate.clone(), about_file.clone()]);
    }
    let about: AboutAuthority = read_json(&about_file)?
        .ok_or_else(|| failed(&about_file, "it was just written and is not there"))?;
    let pem = fs::read_to_string(&certificate).map_err(|error| failed(&certificate, error))?;
    let der = CertificateDer::from_pem_slice(pem.as_bytes());
    let der = der.map_err(|error| failed(&certificate, error))?.to_vec();
    let private = fs::read_to_string(&key).map_err(|error| failed(&key, error))?;
    let pair = KeyPair::from_pem(&private).map_err(|error| failed(&key, error))?;
    let issuer = Issuer::new(authority_params(&about.name, today), pair);
    Ok(WithKey { certificate: Authority { name: about.name, der }, pem, issuer })
}

fn authority_params(name: &str, today: Date) -> CertificateParams {
    let mut params = CertificateParams::default();
    params.distinguished_name = rcgen::DistinguishedName::new();
    params.distinguished_name.push(DnType::CommonName, name);
    params.is_ca = IsCa::Ca(BasicConstraints::Constrained(0));
    params.key_usages = vec![KeyUsagePurpose::KeyCertSign, KeyUsagePurpose::CrlSign];
    let networks = NETWORKS.iter().filter_map(|(network, bits)| {
        let network = network.parse().ok()?;
        Some(GeneralSubtree::IpAddress(CidrSubnet::from_addr_prefix(network, *bits)))
    });
    let names = NAMES.iter().map(|name| GeneralSubtree::DnsName((*name).to_owned()));
    params.name_constraints = Some(NameConstraints {
        permitted_subtrees: networks.chain(names).collect(),
        excluded_subtrees: Vec::new(),
    });
    let years = Span::new().years(AUTHORITY_YEARS);
    params.not_before = midnight!(day(today, -1));
    params.not_after = midnight!(today.checked_add(years).unwrap_or(Date::MAX));
    params
}

fn server_params(
    of: &str,
    addresses: &[IpAddr],
    names: &[String],
    today: Date,
    file: &Path,
) -> Result<CertificateParams, ServerError> {
    let mut params = CertificateParams::default();
    params.distinguished_name = rcgen::DistinguishedName::new();
    params.distinguished_name.push(DnType::CommonName, format!("Nearside at {of}"));
    for address in addresses {
        params.subject_alt_names.push(SanType::IpAddress(*address));
    }
    for name in names {
        let name = name.as_str().try_into().map_err(|error| failed(file, error))?;
        params.subject_alt_names.push(SanType::DnsName(name));
    }
    params.key_usages = vec![KeyUsagePurpose::DigitalSignature];
    params.extended_key_usages = vec![ExtendedKeyUsagePurpose::ServerAuth];
    params.use_authority_key_identifier_extension = true;
    params.not_before = midnight!(day(today, -1));
    params.not_after = midnight!(day(today, DAYS - 1));
    Ok(params)
}

fn day(from: Date, days: i64) -> Date {
    from.checked_add(Span::new().days(days)).unwrap_or(from)
}

fn failed(file: &Path, why: impl std::fmt::Display) -> ServerError {
    ServerError::Certificate { file: file.to_owned(), why: why.to_string() }
}

/// A folder that its owner alone may look into.
fn private_folder(folder: &Path) -> Result<(), ServerError> {
    fs::create_dir_all(folder).map_err(|error| failed(folder, error))?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        fs::set_permissions(folder, fs::Permissions::from_mode(0o700))
            .map_err(|error| failed(folder, error))?;
    }
    Ok(())
}

/// Writes a file whole or not at all; a secret one for its owner alone.
fn write(file: &Path, bytes: &[u8], secret: bool) -> Result<(), ServerError> {
    let beside: PathBuf = file.with_extension("new");
    remove(&beside)?;
    let mut options = fs::File::options();
    options.write(true).create_new(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt as _;
        options.mode(if secret { 0o600 } else { 0o644 });
    }
    #[cfg(not(unix))]
    let _kept_by_the_folder = secret;
    let written = options.open(&beside).and_then(|mut new| {
        new.write_all(bytes)?;
        new.sync_all()?;
        drop(new);
        fs::rename(&beside, file)
    });
    written.map_err(|error| failed(file, error))
}

fn remove(file: &Path) -> Result<(), ServerError> {
    match fs::remove_file(file) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => Err(failed(file, error)),
        _ => Ok(()),
    }
}

fn read_json<T: serde::de::DeserializeOwned>(file: &Path) -> Result<Option<T>, ServerError> {
    match fs::read(file) {
        Ok(bytes) => serde_json::from_slice(&bytes).map(Some).map_err(|error| failed(file, error)),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(failed(file, error)),
    }
}
