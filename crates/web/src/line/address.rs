//! How a request is made: always to the server that the app came from.

use js_sys::Uint8Array;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{AbortSignal, Headers, RequestInit, Response};

use crate::browser::window;

/// What is to be asked.
pub(super) struct Asking<'a> {
    pub(super) method: &'a str,
    pub(super) path: &'a str,
    pub(super) key: Option<&'a str>,
    pub(super) headers: Vec<(&'static str, String)>,
    pub(super) body: Option<&'a [u8]>,
    /// When it is given up; never, if none.
    pub(super) give_up: Option<&'a AbortSignal>,
}

/// Asks, and answers as soon as the first bytes are there. An error is a line that is down.
pub(super) async fn ask(asking: &Asking<'_>) -> Result<Response, JsValue> {
    let headers = Headers::new()?;
    if let Some(key) = asking.key {
        headers.set("authorization", &format!("Bearer {key}"))?;
    }
    for (name, value) in &asking.headers {
        headers.set(name, value)?;
    }
    let init = RequestInit::new();
    init.set_method(asking.method);
    init.set_headers(&headers);
    init.set_cache(web_sys::RequestCache::NoStore);
    init.set_credentials(web_sys::RequestCredentials::Omit);
    init.set_signal(asking.give_up);
    if let Some(body) = asking.body {
        init.set_body(&Uint8Array::from(body).into());
    }
    let window = window().ok_or(JsValue::NULL)?;
    JsFuture::from(window.fetch_with_str_and_init(asking.path, &init)).await?.dyn_into()
}

/// All bytes of an answer.
pub(super) async fn body(response: &Response) -> Result<Vec<u8>, JsValue> {
    let bytes = JsFuture::from(response.array_buffer()?).await?;
    Ok(Uint8Array::new(&bytes).to_vec())
}
