//! What goes over HTTP: JSON, with changes as base64 of their raw bytes; photos as their own bytes.
//!
//! [`Request::to_http`] and [`Response::from_http`] are all that a device needs around its `fetch`;
//! a server reads bodies with `from_json` and answers with `to_json` of the same types. The page
//! `docs/sync.md` lists every address.

mod http;
mod message;

pub use http::{Body, HttpRequest};
pub use message::{
    BlobList, Head, Heads, JsonError, Kept, Page, Poke, Push, Pushed, Request, Response,
    UploadState,
};

pub(crate) use message::read_changes;

use record::Hash;
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};

use crate::{base64, hexadecimal};

/// A hash as 64 hexadecimal digits.
pub(crate) mod hash {
    use super::*;

    pub(crate) fn serialize<S: Serializer>(hash: &Hash, to: S) -> Result<S::Ok, S::Error> {
        hash.to_string().serialize(to)
    }

    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Hash, D::Error> {
        let text = String::deserialize(from)?;
        hexadecimal::read(&text)
            .map(Hash)
            .ok_or_else(|| D::Error::custom("a hash takes 64 hexadecimal digits 0 to 9, a to f"))
    }
}

/// Several hashes.
pub(crate) mod hashes {
    use super::*;

    #[derive(Serialize, Deserialize)]
    struct One(#[serde(with = "super::hash")] Hash);

    pub(crate) fn serialize<S: Serializer>(hashes: &[Hash], to: S) -> Result<S::Ok, S::Error> {
        to.collect_seq(hashes.iter().map(|hash| One(*hash)))
    }

    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<Hash>, D::Error> {
        Ok(Vec::<One>::deserialize(from)?.into_iter().map(|one| one.0).collect())
    }
}

/// Changes, each as base64 of its raw bytes.
pub(crate) mod changes {
    use super::*;

    pub(crate) fn serialize<S: Serializer>(changes: &[Vec<u8>], to: S) -> Result<S::Ok, S::Error> {
        to.collect_seq(changes.iter().map(|change| base64::write(change)))
    }

    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(
        from: D,
    ) -> Result<Vec<Vec<u8>>, D::Error> {
        Vec::<String>::deserialize(from)?
            .into_iter()
            .map(|text| {
                base64::read(&text).ok_or_else(|| {
                    D::Error::custom(
                        "a change takes base64 with padding (RFC 4648, section 4), nothing else",
                    )
                })
            })
            .collect()
    }
}
