//! Photos and other files, by the SHA-256 of their bytes.

use js_sys::Uint8Array;
use sync::BlobHash;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::Blob;

use super::{BLOBS, Disk, finished, sentence, sentence_of};

impl Disk {
    /// Keeps files, all or none; durable when this is done.
    pub(crate) async fn keep_blobs(&self, blobs: &[(BlobHash, Blob)]) -> Result<(), String> {
        let transaction = self.writing(&[BLOBS])?;
        let table = transaction.object_store(BLOBS).map_err(|error| sentence_of(&error))?;
        for (hash, blob) in blobs {
            table.put(blob, Some(&name(*hash))).map_err(|error| sentence_of(&error))?;
        }
        finished(transaction).await
    }

    /// A file; none if it is not on this device.
    pub(crate) async fn blob(&self, hash: BlobHash) -> Result<Option<Blob>, String> {
        let transaction = self.reading(&[BLOBS])?;
        let table = transaction.object_store(BLOBS).map_err(|error| sentence_of(&error))?;
        let request = table.get(name(hash)).map_err(|error| sentence_of(&error))?;
        let found = request.await.map_err(|error| sentence_of(&error))?;
        Ok(found.and_then(|value| value.dyn_into().ok()))
    }

    /// A piece of a file; none if it is not there in full length. A storage that fails is an error, in words.
    pub(crate) async fn piece(
        &self,
        hash: BlobHash,
        offset: u64,
        length: u64,
    ) -> Result<Option<Vec<u8>>, String> {
        let Some(blob) = self.blob(hash).await? else { return Ok(None) };
        let Some(end) = offset.checked_add(length) else { return Ok(None) };
        #[allow(clippy::cast_precision_loss, reason = "no file comes near 2^53 bytes")]
        let piece = blob
            .slice_with_f64_and_f64(offset as f64, end as f64)
            .map_err(|error| sentence(&error))?;
        let bytes = JsFuture::from(piece.array_buffer()).await.map_err(|error| sentence(&error))?;
        Ok(Some(Uint8Array::new(&bytes).to_vec()))
    }
}

fn name(hash: BlobHash) -> JsValue {
    JsValue::from_str(&hash.to_string())
}
