//! The certificate that a PDF reader shows: made by the inspector's own key for itself (RFC 5280).

use p256::ecdsa::signature::Signer;
use p256::ecdsa::{DerSignature, SigningKey};

use super::PdfSigner;
use super::der::{bits, integer, octets, oid, sequence, set, tagged, utf8};
use crate::Sha256;

/// `ecdsa-with-SHA256` (RFC 5758, 3.2).
pub(super) fn ecdsa_with_sha256() -> Vec<u8> {
    sequence(&[&oid(&[1, 2, 840, 10045, 4, 3, 2])])
}

/// A certificate, with the parts that a signature names it by.
#[derive(Clone, Debug)]
pub(super) struct Certificate {
    /// All of it.
    pub(super) der: Vec<u8>,
    /// Its issuer: the inspector.
    pub(super) issuer: Vec<u8>,
    /// Its serial number.
    pub(super) serial: Vec<u8>,
}

impl Certificate {
    /// The certificate of a key. The same key, name and day give the same certificate.
    pub(super) fn of(key: &SigningKey, signer: &PdfSigner) -> Self {
        let point = key.verifying_key().to_encoded_point(false);
        let point = point.as_bytes();
        let digest = Sha256::of(point).0;
        // RFC 7093, 2, method 1: the leftmost 160 bits.
        let key_identifier = &digest[..20];
        // Positive and at most 20 bytes (RFC 5280, 4.1.2.2).
        let mut serial =
            Sha256::of(&[point, signer.name.as_bytes(), signer.since.as_bytes()].concat()).0[..16]
                .to_vec();
        serial[0] |= 0x40;
        let serial = integer(&serial);
        let issuer = name(signer);
        let algorithm =
            sequence(&[&oid(&[1, 2, 840, 10045, 2, 1]), &oid(&[1, 2, 840, 10045, 3, 1, 7])]);
        let extension = |numbers: &[u32], critical: bool, value: &[u8]| {
            let critical = if critical { tagged(0x01, &[0xff]) } else { Vec::new() };
            sequence(&[&oid(numbers), &critical, &octets(value)])
        };
        let extensions = sequence(&[
            // Basic constraints: no authority.
            &extension(&[2, 5, 29, 19], true, &sequence(&[])),
            // Key usage: digital signature and content commitment, bits 0 and 1.
            &extension(&[2, 5, 29, 15], true, &tagged(0x03, &[6, 0xc0])),
            // Extended key usage: document signing (RFC 9336).
            &extension(&[2, 5, 29, 37], false, &sequence(&[&oid(&[1, 3, 6, 1, 5, 5, 7, 3, 36])])),
            &extension(&[2, 5, 29, 14], false, &octets(key_identifier)),
            &extension(&[2, 5, 29, 35], false, &sequence(&[&tagged(0x80, key_identifier)])),
        ]);
        let validity = sequence(&[
            &time(&signer.since),
            // RFC 5280, 4.1.2.5: no well-defined end. A self-made certificate that ran out would tell nobody anything.
            &tagged(0x18, b"99991231235959Z"),
        ]);
        let to_be_signed = sequence(&[
            &tagged(0xa0, &integer(&[2])),
            &serial,
            &ecdsa_with_sha256(),
            &issuer,
            &validity,
            &issuer,
            &sequence(&[&algorithm, &bits(point)]),
            &tagged(0xa3, &extensions),
        ]);
        let signature: DerSignature = key.sign(&to_be_signed);
        let der = sequence(&[&to_be_signed, &ecdsa_with_sha256(), &bits(signature.as_bytes())]);
        Self { der, issuer, serial }
    }
}

/// Common name and, as organizational unit, the thumbprint of the key that signs bags; each at most 64 letters.
fn name(signer: &PdfSigner) -> Vec<u8> {
    let part = |numbers: &[u32], text: &str| {
        let text: String = text.chars().take(64).collect();
        set(&[sequence(&[&oid(numbers), &utf8(&text)])])
    };
    sequence(&[
        &part(&[2, 5, 4, 11], &format!("key {}", signer.thumbprint)),
        &part(&[2, 5, 4, 3], &signer.name),
    ])
}

/// Midnight of a day `2026-06-12`: `UTCTime` to 2049, `GeneralizedTime` after (RFC 5280, 4.1.2.5).
fn time(day: &str) -> Vec<u8> {
    let digits: String = day.chars().filter(char::is_ascii_digit).collect();
    let early = digits.len() == 8 && ("19500101"..="20491231").contains(&digits.as_str());
    match digits.get(2..) {
        Some(short) if early => tagged(0x17, format!("{short}000000Z").as_bytes()),
        _ => tagged(0x18, format!("{digits:0>8}000000Z").as_bytes()),
    }
}
