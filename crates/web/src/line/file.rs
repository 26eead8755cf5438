//! Files of the app that lie beside it: the page names them, and the service worker keeps them with the rest.

use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::JsFuture;
use web_sys::Response;

use crate::app::{say, say_with};
use crate::browser::{said, window};

/// The text of the file that the page's `meta` of that name points to; else why it cannot be had.
pub(crate) async fn file_of_app(name: &str) -> Result<String, String> {
    let window = window().ok_or_else(|| say("browser-no-page"))?;
    let named = window
        .document()
        .and_then(|document| document.query_selector(&format!("meta[name='{name}']")).ok()?)
        .and_then(|meta| meta.get_attribute("content"));
    let address = named.ok_or_else(|| say_with("browser-no-file", &[("name", name)]))?;
    let response = JsFuture::from(window.fetch_with_str(&address)).await;
    // What the browser says of a line that is down, it says in its own language.
    let response = response.map_err(|_| say("browser-file-unreachable"))?;
    let response: Response = response.dyn_into().map_err(|error| said(&error))?;
    if !response.ok() {
        let status = response.status().to_string();
        return Err(say_with("browser-file-refused", &[("name", name), ("status", &status)]));
    }
    let text = response.text().map_err(|error| said(&error))?;
    let text = JsFuture::from(text).await.map_err(|error| said(&error))?;
    text.as_string().ok_or_else(|| say("browser-no-bytes"))
}
