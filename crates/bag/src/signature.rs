//! A signature on a released bag: a JSON Web Signature (RFC 7515) with Ed25519 (RFC 8037), in compact form.
//!
//! What is signed is a short statement in canonical JSON (RFC 8785): who signs as what, the job, the record's heads, and
//! the SHA-256 of the bag's tag manifest, through which it covers every file but the signatures. Any program that reads
//! JSON Web Signatures can check it. The header carries the public key; whose key that is, no file can prove.

use base64ct::{Base64UrlUnpadded, Encoding};
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};

use crate::{PublicKey, Sha256, SigningKey, canonical_json, place};

/// As what somebody signs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Role {
    /// The inspector who releases.
    Inspector,
    /// A second person, who vouches for the same state.
    Countersigner,
}

impl Role {
    /// The word in statements and file names.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Inspector => "inspector",
            Self::Countersigner => "countersigner",
        }
    }
}

/// What a person signs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Statement {
    /// As what.
    pub role: Role,
    /// The person's name as they give it; the signature does not prove it.
    pub name: String,
    /// When, in universal time, such as `2026-06-12T18:00:00Z`, by the signer's own clock.
    pub signed_at: String,
    /// The job's number.
    pub job: String,
    /// Which release of the job, from 1.
    pub release: u32,
    /// The heads of the record that was released, in hexadecimal.
    pub heads: Vec<String>,
    /// The SHA-256 of the bag's `tagmanifest-sha256.txt`.
    pub tag_manifest_sha256: Sha256,
}

/// A signature that holds: the statement is the key's own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signature {
    /// What was signed.
    pub statement: Statement,
    /// The key that signed it.
    pub key: PublicKey,
}

/// Why a text is no signature.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SignatureError {
    /// Not three parts in base64url.
    #[error("it is no JSON Web Signature in compact form")]
    Form,
    /// Another algorithm, or no key.
    #[error("its header names no Ed25519 key in the form that is written here")]
    Header,
    /// The signature does not fit.
    #[error("the signature does not fit what it stands on: a byte of it was changed")]
    Broken,
    /// It fits, and says something else.
    #[error("what was signed is no statement about a bag")]
    Statement,
}

impl Signature {
    /// Reads a signature and checks that it is the key's own.
    ///
    /// # Errors
    /// Says what is wrong with it.
    pub fn read(token: &[u8]) -> Result<Self, SignatureError> {
        let token = std::str::from_utf8(token).map_err(|_| SignatureError::Form)?;
        let (signed, signature) = token.rsplit_once('.').ok_or(SignatureError::Form)?;
        let (header, payload) = signed.split_once('.').ok_or(SignatureError::Form)?;
        let decode =
            |part: &str| Base64UrlUnpadded::decode_vec(part).map_err(|_| SignatureError::Form);
        let (header, payload, signature) = (decode(header)?, decode(payload)?, decode(signature)?);
        let signature: [u8; 64] = signature.try_into().map_err(|_| SignatureError::Form)?;

        let header: Value = serde_json::from_slice(&header).map_err(|_| SignatureError::Header)?;
        let key = header
            .pointer("/jwk/x")
            .and_then(Value::as_str)
            .and_then(PublicKey::from_base64url)
            .ok_or(SignatureError::Header)?;
        // One header alone is written for a key, so no other is taken: nothing in it is left to interpret.
        if header != self::header(&key) {
            return Err(SignatureError::Header);
        }
        if !key.verifies(signed.as_bytes(), &signature) {
            return Err(SignatureError::Broken);
        }
        let statement = serde_json::from_slice(&payload).map_err(|_| SignatureError::Statement)?;
        Ok(Self { statement, key })
    }
}

/// Signs a statement; gives the whole content of the signature's file.
#[must_use]
pub fn sign(key: &SigningKey, statement: &Statement) -> String {
    let part = |value: &Value| {
        let text = canonical_json(value).expect("the only number here is a small whole one");
        Base64UrlUnpadded::encode_string(text.as_bytes())
    };
    let header = part(&header(&key.public()));
    let payload = part(&json!(statement));
    let signed = format!("{header}.{payload}");
    let signature = Base64UrlUnpadded::encode_string(&key.signature(signed.as_bytes()));
    format!("{signed}.{signature}")
}

/// Where a signature lies in a bag: named by role and key, so that a signature moved to another name shows.
#[must_use]
pub fn signature_path(role: Role, key: &PublicKey) -> String {
    format!("{}{}-{}.jws", place::SIGNATURES, role.word(), key.thumbprint())
}

fn header(key: &PublicKey) -> Value {
    json!({
        "alg": "EdDSA",
        "jwk": {"crv": "Ed25519", "kty": "OKP", "x": key.to_base64url()},
        "kid": key.thumbprint(),
    })
}

#[cfg(test)]
mod tests {
    use super::{Role, Signature, SignatureError, Statement, sign, signature_path};
    use crate::{Sha256, SigningKey, is_safe_path};

    fn statement() -> Statement {
        Statement {
            role: Role::Inspector,
            name: "B. Inspector".to_owned(),
            signed_at: "2026-06-12T18:00:00Z".to_owned(),
            job: "2026-001".to_owned(),
            release: 1,
            heads: vec!["ab".repeat(32)],
            tag_manifest_sha256: Sha256::of(b"manifest"),
        }
    }

    #[test]
    fn a_signature_reads_back_and_is_the_same_each_time() {
        let key = SigningKey::from_seed([9; 32]);
        let token = sign(&key, &statement());
        assert_eq!(token, sign(&key, &statement()));
        let read = Signature::read(token.as_bytes()).unwrap();
        assert_eq!(read, Signature { statement: statement(), key: key.public() });
        assert!(is_safe_path(&signature_path(Role::Countersigner, &key.public())));
    }

    #[test]
    fn every_changed_bit_of_a_signature_is_noticed() {
        let token = sign(&SigningKey::from_seed([9; 32]), &statement()).into_bytes();
        for at in 0..token.len() {
            for bit in 0..8 {
                let mut changed = token.clone();
                changed[at] ^= 1 << bit;
                assert!(Signature::read(&changed).is_err(), "byte {at}, bit {bit}");
            }
        }
        for cut in 0..token.len() {
            assert!(Signature::read(&token[..cut]).is_err(), "cut at {cut}");
        }
        assert_eq!(Signature::read(b"a.b.c"), Err(SignatureError::Form));
        assert!(Signature::read(&[&token[..], b"\n"].concat()).is_err());
    }
}
