//! A time stamp on a release (RFC 3161): a service that the user names signs that the release's hash was there at a time.
//!
//! What is stamped is the SHA-256 of the bag's tag manifest, through which the stamp stands on every file but the
//! signatures. The service's answer is kept byte for byte, named by its own hash, so that general tools read it too:
//! `openssl ts -verify -data tagmanifest-sha256.txt -in signatures/time-….tsr -CAfile ROOT`.
//!
//! Checked is everything that the answer itself can show: status, hash, nonce and policy asked for, the signature, that
//! its certificate is for time stamps alone and was valid then, and each certificate above it that is given. Whether the
//! last of them is to be trusted no file can prove.

mod certificates;
mod forms;

use cms::signed_data::{SignerIdentifier, SignerInfo};
use der::asn1::{Int, ObjectIdentifier, OctetString};
use der::{Any, Decode, Encode, Tag, Tagged};
use ring::digest;
use x509_cert::spki::AlgorithmIdentifierOwned;

use crate::{Sha256, place};
use certificates::{Given, chain, given, holds};
use forms::{Accuracy, Imprint, Info, Request, Response, SignedData, SigningCertificate, oid};

/// What a service is asked to stamp.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TimeStampRequest {
    sha256: Sha256,
    nonce: Int,
    policy: Option<ObjectIdentifier>,
}

/// A time stamp whose own signature holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TimeStamp {
    /// What is stamped.
    pub sha256: Sha256,
    /// When, in universal time, by the service's clock: `2026-06-12T18:00:05Z`, perhaps with a fraction of a second.
    pub at: String,
    /// How far the true time may be from that, as the service says: `1 s`; empty where it says nothing.
    pub accuracy: String,
    /// The policy that the service states, an object identifier.
    pub policy: String,
    /// The stamp's number with the service, in hexadecimal.
    pub serial: String,
    /// Whose certificate signed, and who vouches for it, each for the one before; names as the certificates give them.
    pub vouchers: Vec<String>,
    /// Whether the last of them vouches for itself, so that no further certificate is missing.
    pub rooted: bool,
    nonce: Option<Int>,
}

impl TimeStampRequest {
    /// A request for a stamp on this hash. `nonce` is random and used once; `policy` an object identifier, `1.2.3.4`.
    ///
    /// # Errors
    /// A sentence when the policy is no object identifier.
    pub fn new(sha256: Sha256, mut nonce: [u8; 8], policy: Option<&str>) -> Result<Self, String> {
        // A positive number that takes all eight bytes, so that it has one way of being written.
        nonce[0] = nonce[0] & 0x7f | 0x40;
        let nonce = Int::new(&nonce).map_err(|_| "the nonce is no number".to_owned())?;
        let policy = policy.map(|text| {
            ObjectIdentifier::new(text).map_err(|_| {
                format!("`{text}` is no policy of a time stamp service; write an object identifier such as 1.2.3.4")
            })
        });
        Ok(Self { sha256, nonce, policy: policy.transpose()? })
    }

    /// The request as it is sent, `application/timestamp-query`.
    #[must_use]
    pub fn to_der(&self) -> Vec<u8> {
        let request = Request {
            version: 1,
            imprint: imprint(self.sha256),
            policy: self.policy,
            nonce: Some(self.nonce.clone()),
            certificates: true,
        };
        request.to_der().expect("a hash and two small numbers can be written")
    }

    /// Checks the answer to this request, `application/timestamp-reply`; what is kept is the answer itself.
    ///
    /// # Errors
    /// A sentence that says what is wrong with it.
    pub fn accept(&self, answer: &[u8]) -> Result<TimeStamp, String> {
        let stamp = TimeStamp::read(answer)?;
        if stamp.sha256 != self.sha256 {
            return Err("it stands on another hash than the one that was sent".to_owned());
        }
        if stamp.nonce.as_ref() != Some(&self.nonce) {
            return Err(
                "it answers another request: its nonce is not the one that was sent".to_owned()
            );
        }
        match &self.policy {
            Some(asked) if asked.to_string() != stamp.policy => {
                Err(format!("it was made under the policy {}; asked for was {asked}", stamp.policy))
            }
            _ => Ok(stamp),
        }
    }
}

/// Where a service's answer lies in a bag: named by its own hash, so that no byte of it can change unseen.
#[must_use]
pub fn time_stamp_path(answer: &[u8]) -> String {
    format!("{}time-{}.tsr", place::SIGNATURES, Sha256::of(answer))
}

/// Whether a path in a bag is that of a time stamp.
pub(crate) fn is_time_stamp_path(path: &str) -> bool {
    path.strip_prefix(place::SIGNATURES)
        .is_some_and(|name| name.starts_with("time-") && name.ends_with(".tsr"))
}

impl TimeStamp {
    /// Reads a service's answer and checks everything that it can show by itself.
    ///
    /// # Errors
    /// A sentence that says what is wrong with it.
    pub fn read(answer: &[u8]) -> Result<Self, String> {
        let response = Response::from_der(answer)
            .map_err(|_| "it is no answer of a time stamp service (RFC 3161)".to_owned())?;
        // 0 and 1: granted, granted with changes (RFC 3161, 2.4.2).
        if response.status.status > 1 {
            return Err(refusal(&response));
        }
        let token = response
            .token
            .filter(|token| token.content_type == oid::SIGNED_DATA)
            .ok_or("the answer says that the stamp is granted, and holds none")?;
        let damaged = |_| "the time stamp cannot be read: it is damaged".to_owned();
        let signed: SignedData = token.content.decode_as().map_err(damaged)?;
        let content = signed.content.econtent.as_ref();
        let content = content
            .filter(|_| signed.content.econtent_type == oid::TIME_STAMP_INFO)
            .and_then(|content| content.decode_as::<OctetString>().ok())
            .ok_or("what is signed is no time stamp")?;
        let info = Info::from_der(content.as_bytes()).map_err(damaged)?;
        let (at, seconds) = moment(&info.time).ok_or("its time cannot be read")?;
        let [signer] = signed.signers.as_slice() else {
            return Err("it is not signed by exactly one service".to_owned());
        };
        let given = given(signed.certificates.as_ref().map_or(&[], |set| set.as_slice()));
        let certificate = given
            .iter()
            .find(|one| names(&signer.sid, one))
            .ok_or("the certificate that signed it is not in it")?;
        signature(signer, certificate, content.as_bytes())?;
        certificate.may_stamp(seconds)?;
        let (vouchers, rooted) = chain(certificate, &given, seconds)?;
        if info.version != 1 || info.extensions.iter().flatten().any(|one| one.critical) {
            return Err("it has a form that this program does not know".to_owned());
        }
        Ok(Self {
            sha256: stamped(&info.imprint)?,
            at,
            accuracy: info.accuracy.as_ref().map_or_else(String::new, accuracy),
            policy: info.policy.to_string(),
            serial: info.serial.as_bytes().iter().map(|byte| format!("{byte:02x}")).collect(),
            vouchers: vouchers.into_iter().map(Given::subject).collect(),
            rooted,
            nonce: info.nonce,
        })
    }

    /// Whose certificate signed it.
    #[must_use]
    pub fn service(&self) -> &str {
        self.vouchers.first().map_or("", String::as_str)
    }
}

fn imprint(sha256: Sha256) -> Imprint {
    Imprint {
        algorithm: AlgorithmIdentifierOwned { oid: oid::SHA_256, parameters: Some(Any::null()) },
        hash: OctetString::new(sha256.0).expect("32 bytes are not too many"),
    }
}

fn stamped(imprint: &Imprint) -> Result<Sha256, String> {
    let plain = imprint.algorithm.parameters.as_ref().is_none_or(Any::is_null);
    let hash: Result<[u8; 32], _> = imprint.hash.as_bytes().try_into();
    match hash {
        Ok(hash) if plain && imprint.algorithm.oid == oid::SHA_256 => Ok(Sha256(hash)),
        _ => Err("it stands on another kind of hash than the one that was sent".to_owned()),
    }
}

/// `20260612180005.25Z` as `2026-06-12T18:00:05.25Z`, and its whole second (RFC 3161, 2.4.2: always with seconds and `Z`).
fn moment(time: &Any) -> Option<(String, i64)> {
    if time.tag() != Tag::GeneralizedTime {
        return None;
    }
    let text = std::str::from_utf8(time.value()).ok()?.strip_suffix('Z')?;
    let (whole, fraction) =
        text.split_once('.').map_or((text, None), |(it, part)| (it, Some(part)));
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    if whole.len() != 14 || !digits(whole) || fraction.is_some_and(|it| !digits(it) || it.len() > 9)
    {
        return None;
    }
    let part = |from: usize, to: usize| whole.get(from..to);
    let mut moment = format!(
        "{}-{}-{}T{}:{}:{}",
        part(0, 4)?,
        part(4, 6)?,
        part(6, 8)?,
        part(8, 10)?,
        part(10, 12)?,
        part(12, 14)?
    );
    if let Some(fraction) = fraction {
        moment.push('.');
        moment.push_str(fraction);
    }
    moment.push('Z');
    let seconds = moment.parse::<jiff::Timestamp>().ok()?.as_second();
    Some((moment, seconds))
}

fn accuracy(accuracy: &Accuracy) -> String {
    let parts = [
        (accuracy.seconds, "s"),
        (accuracy.millis.map(u32::from), "ms"),
        (accuracy.micros.map(u32::from), "µs"),
    ];
    let said = parts.iter().filter_map(|(value, unit)| {
        value.filter(|value| *value > 0).map(|value| format!("{value} {unit}"))
    });
    said.collect::<Vec<_>>().join(" ")
}

/// Whether the signer names this certificate.
fn names(signer: &SignerIdentifier, given: &Given) -> bool {
    let body = &given.certificate.tbs_certificate;
    match signer {
        SignerIdentifier::IssuerAndSerialNumber(named) => {
            named.issuer == body.issuer && named.serial_number == body.serial_number
        }
        SignerIdentifier::SubjectKeyIdentifier(named) => {
            given.key_identifier().as_ref() == Some(named)
        }
    }
}

/// That the certificate's key signed this content, and that the certificate itself is named under the signature
/// (RFC 3161, 2.4.2; RFC 5652, 5.4).
fn signature(signer: &SignerInfo, certificate: &Given, content: &[u8]) -> Result<(), String> {
    let attributes = signer.signed_attrs.as_ref().ok_or("its signature names no certificate")?;
    let attribute = |wanted: ObjectIdentifier| {
        let mut found = attributes.iter().filter(|one| one.oid == wanted);
        match (found.next().map(|one| one.values.as_slice()), found.next()) {
            (Some([value]), None) => Some(value),
            _ => None,
        }
    };
    let hash = attribute(oid::MESSAGE_DIGEST).and_then(|it| it.decode_as::<OctetString>().ok());
    let known =
        hash_by(signer.digest_alg.oid).ok_or("it is signed over a hash that is not known here")?;
    let fits = hash.is_some_and(|hash| hash.as_bytes() == digest::digest(known, content).as_ref());
    let kind = attribute(oid::CONTENT_TYPE).and_then(|it| it.decode_as::<ObjectIdentifier>().ok());
    if !fits || kind != Some(oid::TIME_STAMP_INFO) {
        return Err(
            "its signature stands on another time stamp: a byte of it was changed".to_owned()
        );
    }
    let named = match (attribute(oid::SIGNING_CERTIFICATE_V2), attribute(oid::SIGNING_CERTIFICATE))
    {
        (Some(second), _) => first_named(second, None),
        (None, Some(first)) => first_named(first, Some(&digest::SHA1_FOR_LEGACY_USE_ONLY)),
        (None, None) => None,
    };
    let (algorithm, hash) = named.ok_or("its signature names no certificate")?;
    if digest::digest(algorithm, &certificate.bytes).as_ref() != hash {
        return Err("its signature names another certificate than the one in it".to_owned());
    }
    let message = attributes.to_der().map_err(|_| "its signature cannot be read".to_owned())?;
    let sound = holds(
        certificate.key(),
        &signer.signature_algorithm,
        Some(signer.digest_alg.oid),
        &message,
        signer.signature.as_bytes(),
    );
    if sound {
        return Ok(());
    }
    Err("its signature does not hold, or is of a kind that is not known here".to_owned())
}

/// The first certificate that a signature names: by which hash, and the hash. SHA-1 is taken for this name alone, in the
/// first form, which knows no other (RFC 2634, 5.4): a stand-in would need the signer's own key and the same SHA-1.
fn first_named(
    attribute: &Any,
    legacy: Option<&'static digest::Algorithm>,
) -> Option<(&'static digest::Algorithm, Vec<u8>)> {
    let named: SigningCertificate = attribute.decode_as().ok()?;
    let first = named.certificates.first()?;
    let algorithm = match (legacy, &first.algorithm) {
        (Some(legacy), _) => legacy,
        (None, None) => &digest::SHA256,
        (None, Some(algorithm)) => hash_by(algorithm.oid)?,
    };
    Some((algorithm, first.hash.as_bytes().to_vec()))
}

fn hash_by(algorithm: ObjectIdentifier) -> Option<&'static digest::Algorithm> {
    match algorithm {
        oid::SHA_256 => Some(&digest::SHA256),
        oid::SHA_384 => Some(&digest::SHA384),
        oid::SHA_512 => Some(&digest::SHA512),
        _ => None,
    }
}

/// Why a service refused, in its words and in those of RFC 3161, 2.4.2.
fn refusal(response: &Response) -> String {
    const REASONS: [(usize, &str); 8] = [
        (0, "it does not know the hash's kind"),
        (2, "it does not serve such requests"),
        (5, "it could not read the request"),
        (14, "its source of time is not available"),
        (15, "it does not know the policy"),
        (16, "it does not know an extension"),
        (17, "it does not have what was asked besides"),
        (25, "something failed there"),
    ];
    let status = match response.status.status {
        2 => "the service refused",
        3 => "the service has not decided yet",
        4 | 5 => "the service says that its certificate is revoked or about to be",
        _ => "the service did not stamp",
    };
    let mut parts = vec![status.to_owned()];
    if let Some(failure) = &response.status.failure {
        let bits: Vec<bool> = failure.bits().collect();
        let set = |at: usize| bits.get(at).copied().unwrap_or(false);
        parts.extend(REASONS.iter().filter(|(at, _)| set(*at)).map(|(_, why)| (*why).to_owned()));
    }
    let words = response.status.words.iter().flatten().map(|words| plain(words));
    parts.extend(words.filter(|words| !words.is_empty()).map(|words| format!("“{words}”")));
    parts.join("; ")
}

/// A text from elsewhere on one line of bounded length, without what could rule a terminal.
fn plain(text: &str) -> String {
    const LONGEST: usize = 300;
    text.chars()
        .filter(|letter| !matches!(letter, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}'))
        .map(|letter| if letter.is_control() { ' ' } else { letter })
        .take(LONGEST)
        .collect::<String>()
        .trim()
        .to_owned()
}

#[cfg(test)]
mod tests {
    use super::{Any, Tag, moment};

    fn said(text: &str) -> Option<String> {
        moment(&Any::new(Tag::GeneralizedTime, text.as_bytes()).unwrap()).map(|(text, _)| text)
    }

    /// RFC 3161, 2.4.2: seconds always, fractions allowed, universal time alone.
    #[test]
    fn a_service_s_time_is_read_with_and_without_a_fraction() {
        assert_eq!(said("19990609001326.34352Z").unwrap(), "1999-06-09T00:13:26.34352Z");
        assert_eq!(said("20260612180005Z").unwrap(), "2026-06-12T18:00:05Z");
        for bad in [
            "202606121800Z",
            "20260612180005",
            "20260612180005.Z",
            "20261312180005Z",
            "2026061218000５Z",
            "",
        ] {
            assert_eq!(said(bad), None, "{bad}");
        }
        let short = Any::new(Tag::UtcTime, b"260612180005Z".as_slice()).unwrap();
        assert_eq!(moment(&short), None);
    }
}
