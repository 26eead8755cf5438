//! The signature itself: CMS signed data without the content it stands on (RFC 5652), as PAdES wants it (ETSI EN 319 142-1,
//! level B-B).

use p256::ecdsa::signature::Signer;
use p256::ecdsa::{DerSignature, SigningKey};

use super::certificate::{Certificate, ecdsa_with_sha256};
use super::der::{in_order, integer, octets, oid, sequence, set, tagged};
use crate::Sha256;

/// Signed data over a content with this hash.
pub(super) fn signed_data(
    key: &SigningKey,
    certificate: &Certificate,
    content: &Sha256,
) -> Vec<u8> {
    let data = oid(&[1, 2, 840, 113_549, 1, 7, 1]);
    let sha256 = sequence(&[&oid(&[2, 16, 840, 1, 101, 3, 4, 2, 1])]);
    let attribute = |numbers: &[u32], value: Vec<u8>| sequence(&[&oid(numbers), &set(&[value])]);
    // ESS signing-certificate-v2 (RFC 5035) with its default hash, SHA-256: no other certificate can be put in its place.
    let named = sequence(&[&sequence(&[&sequence(&[&octets(&Sha256::of(&certificate.der).0)])])]);
    // No signing time among them: PAdES has it in the signature dictionary (EN 319 142-1, 5.3).
    let attributes = [
        attribute(&[1, 2, 840, 113_549, 1, 9, 3], data.clone()),
        attribute(&[1, 2, 840, 113_549, 1, 9, 4], octets(&content.0)),
        attribute(&[1, 2, 840, 113_549, 1, 9, 16, 2, 47], named),
    ];
    // What is signed is the set with its own tag, not the one it has in the message (RFC 5652, 5.4).
    let signature: DerSignature = key.sign(&set(&attributes));
    let signer = sequence(&[
        &integer(&[1]),
        &sequence(&[&certificate.issuer, &certificate.serial]),
        &sha256,
        &tagged(0xa0, &in_order(&attributes)),
        &ecdsa_with_sha256(),
        &octets(signature.as_bytes()),
    ]);
    let signed = sequence(&[
        &integer(&[1]),
        &set(&[sha256]),
        &sequence(&[&data]),
        &tagged(0xa0, &certificate.der),
        &set(&[signer]),
    ]);
    sequence(&[&oid(&[1, 2, 840, 113_549, 1, 7, 2]), &tagged(0xa0, &signed)])
}
