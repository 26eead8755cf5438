//! How much room there is, and whether the browser promises not to clear it away.

use wasm_bindgen_futures::JsFuture;
use web_sys::StorageEstimate;

use super::Disk;
use crate::browser::window;

/// What the browser says about this app's storage.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct Room {
    /// Whether the browser promised to keep it even when the device is short of room. `None`: it does not say.
    pub(crate) promised: Option<bool>,
    /// Bytes in use, about.
    pub(crate) used: Option<f64>,
    /// Bytes that may be used, about.
    pub(crate) allowed: Option<f64>,
}

impl Disk {
    /// Asks the browser to keep the storage for good, unless it already does, and how much room there is.
    pub(crate) async fn ask_for_room() -> Room {
        let mut room = Room::default();
        let Some(storage) = window().map(|window| window.navigator().storage()) else {
            return room;
        };
        let answer = async |promise: Result<js_sys::Promise, wasm_bindgen::JsValue>| {
            JsFuture::from(promise.ok()?).await.ok()
        };
        room.promised = answer(storage.persisted()).await.and_then(|it| it.as_bool());
        if room.promised != Some(true) {
            room.promised = answer(storage.persist()).await.and_then(|it| it.as_bool());
        }
        if let Some(estimate) = answer(storage.estimate()).await {
            let estimate: StorageEstimate = wasm_bindgen::JsCast::unchecked_into(estimate);
            room.used = estimate.get_usage();
            room.allowed = estimate.get_quota();
        }
        room
    }
}
