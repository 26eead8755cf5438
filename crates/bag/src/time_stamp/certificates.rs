//! The certificates that a time stamp brings: who signed it, and who vouches for that, as far as given.

use der::asn1::ObjectIdentifier;
use der::{Any, Decode, Encode, Header, Reader, SliceReader};
use ring::signature::{self, UnparsedPublicKey, VerificationAlgorithm};
use x509_cert::Certificate;
use x509_cert::ext::pkix::{
    BasicConstraints, ExtendedKeyUsage, KeyUsage, KeyUsages, SubjectKeyIdentifier,
};
use x509_cert::spki::{AlgorithmIdentifierOwned, SubjectPublicKeyInfoOwned};

use super::forms::oid;
use super::plain;

/// Longer chains are none of an honest service.
const MOST_CERTIFICATES: usize = 10;

/// A certificate with the bytes it came as.
pub(super) struct Given {
    pub(super) bytes: Vec<u8>,
    pub(super) certificate: Certificate,
}

/// Those of the set that are X.509 certificates; others (RFC 5652, 10.2.2) vouch for nothing here.
pub(super) fn given(set: &[Any]) -> Vec<Given> {
    set.iter()
        .filter_map(|any| {
            let bytes = any.to_der().ok()?;
            let certificate = Certificate::from_der(&bytes).ok()?;
            Some(Given { bytes, certificate })
        })
        .collect()
}

impl Given {
    /// Whose certificate it is, as the certificate calls them.
    pub(super) fn subject(&self) -> String {
        plain(&self.certificate.tbs_certificate.subject.to_string())
    }

    pub(super) fn key(&self) -> &SubjectPublicKeyInfoOwned {
        &self.certificate.tbs_certificate.subject_public_key_info
    }

    pub(super) fn key_identifier(&self) -> Option<SubjectKeyIdentifier> {
        let found = self.certificate.tbs_certificate.get::<SubjectKeyIdentifier>();
        found.ok().flatten().map(|(_, identifier)| identifier)
    }

    /// That it may sign time stamps and nothing else (RFC 3161, 2.3), and was valid at that second.
    pub(super) fn may_stamp(&self, at: i64) -> Result<(), String> {
        let purpose = self.certificate.tbs_certificate.get::<ExtendedKeyUsage>();
        match purpose {
            Ok(Some((true, ExtendedKeyUsage(purposes)))) if purposes == [oid::TIME_STAMPING] => {}
            _ => {
                return Err(format!(
                    "the certificate of {} is not one for time stamps alone",
                    self.subject()
                ));
            }
        }
        self.valid(at)
    }

    fn valid(&self, at: i64) -> Result<(), String> {
        let validity = &self.certificate.tbs_certificate.validity;
        let seconds = |time: x509_cert::time::Time| {
            i64::try_from(time.to_unix_duration().as_secs()).unwrap_or(i64::MAX)
        };
        if seconds(validity.not_before) <= at && at <= seconds(validity.not_after) {
            return Ok(());
        }
        Err(format!(
            "the certificate of {} was not valid at that time ({} to {})",
            self.subject(),
            validity.not_before.to_date_time(),
            validity.not_after.to_date_time()
        ))
    }

    /// Whether it may vouch for other certificates (RFC 5280, 4.2.1.3 and 4.2.1.9).
    fn may_vouch(&self) -> bool {
        let body = &self.certificate.tbs_certificate;
        let authority =
            matches!(body.get::<BasicConstraints>(), Ok(Some((_, constraints))) if constraints.ca);
        let signs = match body.get::<KeyUsage>() {
            Ok(None) => true,
            Ok(Some((_, usage))) => usage.0.contains(KeyUsages::KeyCertSign),
            Err(_) => false,
        };
        authority && signs
    }

    /// Whether the other certificate's key signed this one.
    fn signed_by(&self, issuer: &Self) -> bool {
        let body = to_be_signed(&self.bytes);
        let signature = self.certificate.signature.as_bytes();
        body.zip(signature).is_some_and(|(body, signature)| {
            holds(issuer.key(), &self.certificate.signature_algorithm, None, body, signature)
        })
    }
}

/// The bytes of a certificate that its signature stands on: the first part of it, as it came.
fn to_be_signed(certificate: &[u8]) -> Option<&[u8]> {
    let mut reader = SliceReader::new(certificate).ok()?;
    Header::decode(&mut reader).ok()?;
    reader.tlv_bytes().ok()
}

/// From the signer's certificate upwards, each vouched for by the next; and whether the last one vouches for itself.
///
/// # Errors
/// When a certificate that is given does not vouch as it seems to.
pub(super) fn chain<'a>(
    signer: &'a Given,
    given: &'a [Given],
    at: i64,
) -> Result<(Vec<&'a Given>, bool), String> {
    let mut chain = vec![signer];
    let mut last = signer;
    while chain.len() <= MOST_CERTIFICATES {
        let body = &last.certificate.tbs_certificate;
        if body.issuer == body.subject {
            if last.signed_by(last) {
                return Ok((chain, true));
            }
            return Err(format!("the certificate of {} does not vouch for itself", last.subject()));
        }
        let named: Vec<&Given> = given
            .iter()
            .filter(|one| one.certificate.tbs_certificate.subject == body.issuer)
            .collect();
        // Two certificates of one name are usual while an authority changes its key.
        let Some(issuer) = named.iter().find(|one| last.signed_by(one)).copied() else {
            if named.is_empty() {
                return Ok((chain, false));
            }
            return Err(format!(
                "the certificate of {} was not signed by the one that it names",
                last.subject()
            ));
        };
        if !issuer.may_vouch() {
            return Err(format!("{} may not vouch for a certificate", issuer.subject()));
        }
        issuer.valid(at)?;
        chain.push(issuer);
        last = issuer;
    }
    Err("its certificates vouch for each other without end".to_owned())
}

/// Whether a signature is the key's over this message. `digest` is the hash that a signer names beside an algorithm
/// that does not name one.
pub(super) fn holds(
    key: &SubjectPublicKeyInfoOwned,
    algorithm: &AlgorithmIdentifierOwned,
    digest: Option<ObjectIdentifier>,
    message: &[u8],
    signature: &[u8],
) -> bool {
    let Some(public) = key.subject_public_key.as_bytes() else { return false };
    candidates(key, algorithm.oid, digest)
        .iter()
        .any(|one| UnparsedPublicKey::new(*one, public).verify(message, signature).is_ok())
}

/// The ways of checking that key and algorithm leave; none for a hash that is broken (SHA-1) or a kind of key that is not
/// known here.
fn candidates(
    key: &SubjectPublicKeyInfoOwned,
    algorithm: ObjectIdentifier,
    digest: Option<ObjectIdentifier>,
) -> Vec<&'static dyn VerificationAlgorithm> {
    let kind = key.algorithm.oid;
    if kind == oid::RSA || kind == oid::RSA_PSS {
        let hash = match algorithm {
            oid::RSA_SHA_256 => Some(oid::SHA_256),
            oid::RSA_SHA_384 => Some(oid::SHA_384),
            oid::RSA_SHA_512 => Some(oid::SHA_512),
            oid::RSA => digest,
            // Its parameters name the hash; all three are sound, so whichever fits is the one.
            oid::RSA_PSS => {
                return vec![
                    &signature::RSA_PSS_2048_8192_SHA256,
                    &signature::RSA_PSS_2048_8192_SHA384,
                    &signature::RSA_PSS_2048_8192_SHA512,
                ];
            }
            _ => None,
        };
        return match hash {
            Some(oid::SHA_256) => vec![&signature::RSA_PKCS1_2048_8192_SHA256],
            Some(oid::SHA_384) => vec![&signature::RSA_PKCS1_2048_8192_SHA384],
            Some(oid::SHA_512) => vec![&signature::RSA_PKCS1_2048_8192_SHA512],
            _ => Vec::new(),
        };
    }
    if kind == oid::ED25519 && algorithm == oid::ED25519 {
        return vec![&signature::ED25519];
    }
    let curve = key.algorithm.parameters.as_ref();
    let curve = curve.and_then(|curve| curve.decode_as::<ObjectIdentifier>().ok());
    match (kind, curve, algorithm) {
        (oid::EC, Some(oid::P_256), oid::ECDSA_SHA_256) => {
            vec![&signature::ECDSA_P256_SHA256_ASN1]
        }
        (oid::EC, Some(oid::P_256), oid::ECDSA_SHA_384) => {
            vec![&signature::ECDSA_P256_SHA384_ASN1]
        }
        (oid::EC, Some(oid::P_384), oid::ECDSA_SHA_256) => {
            vec![&signature::ECDSA_P384_SHA256_ASN1]
        }
        (oid::EC, Some(oid::P_384), oid::ECDSA_SHA_384) => {
            vec![&signature::ECDSA_P384_SHA384_ASN1]
        }
        _ => Vec::new(),
    }
}
