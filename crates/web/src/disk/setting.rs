//! Settings of this device, each a name and a text.

use wasm_bindgen::JsValue;

use super::{Disk, SETTINGS, finished, sentence_of};

impl Disk {
    /// A setting's text; none if it was never set.
    pub(crate) async fn setting(&self, name: &str) -> Result<Option<String>, String> {
        let transaction = self.reading(&[SETTINGS])?;
        let table = transaction.object_store(SETTINGS).map_err(|error| sentence_of(&error))?;
        let request = table.get(JsValue::from_str(name)).map_err(|error| sentence_of(&error))?;
        let found = request.await.map_err(|error| sentence_of(&error))?;
        Ok(found.and_then(|value| value.as_string()))
    }

    /// Keeps settings, all or none; durable when this is done. No text removes one.
    pub(crate) async fn set(&self, settings: &[(&str, Option<&str>)]) -> Result<(), String> {
        let transaction = self.writing(&[SETTINGS])?;
        let table = transaction.object_store(SETTINGS).map_err(|error| sentence_of(&error))?;
        for (name, text) in settings {
            let name = JsValue::from_str(name);
            match text {
                Some(text) => drop(
                    table
                        .put(&JsValue::from_str(text), Some(&name))
                        .map_err(|error| sentence_of(&error))?,
                ),
                None => drop(table.delete(name).map_err(|error| sentence_of(&error))?),
            }
        }
        finished(transaction).await
    }
}
