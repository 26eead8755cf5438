//! Pictures for the screen: from this device's disk, else from the server.

use inspection::Crop;
use leptos::prelude::*;
use sync::BlobHash;
use wasm_bindgen_futures::spawn_local;
use web_sys::Url;

use super::{App, core::core, drawn};
use crate::line;

impl App {
    /// The address of a photo's small picture, of the part that is shown, as soon as it is there.
    pub(crate) fn picture(self, id: &str) -> Signal<Option<String>> {
        let known = self.visit_untracked(|visit| {
            let photo = visit.inspection().photos.get(&inspection::PhotoId::from(id))?;
            Some((photo.thumbnail.clone(), photo.crop))
        });
        let (small, crop) = known.flatten().unwrap_or_default();
        self.full(if small.is_empty() { id } else { &small }, crop)
    }

    /// The address of a part of a picture, turned, as soon as it is there; of the whole picture without one.
    pub(crate) fn full(self, id: &str, crop: Option<Crop>) -> Signal<Option<String>> {
        let Some(core) = core() else { return Signal::derive(|| None) };
        let name = match crop {
            Some(crop) => format!("{id} {crop:?}"),
            None => id.to_owned(),
        };
        let known = core.pictures.borrow().get(&name).cloned();
        let address = known.unwrap_or_else(|| {
            let address = ArcRwSignal::new(None);
            core.pictures.borrow_mut().insert(name.clone(), address.clone());
            if let Ok(hash) = BlobHash::new(id) {
                spawn_local(self.find_picture(hash, crop, name, address.clone()));
            }
            address
        });
        Signal::derive(move || address.get())
    }

    async fn find_picture(
        self,
        hash: BlobHash,
        crop: Option<Crop>,
        name: String,
        address: ArcRwSignal<Option<String>>,
    ) {
        let Some(core) = core() else { return };
        let mut blob = core.disk.blob(hash).await.ok().flatten();
        let (key, job) = (core.identity.borrow().key.clone(), self.open.get_untracked());
        if let (None, Some(key), Some(job)) = (&blob, key, job) {
            blob = line::download(&key, &job, hash).await;
        }
        if let (Some(whole), Some(crop)) = (&blob, crop) {
            // A part that cannot be drawn is not there; the whole would show what was cut off.
            blob = drawn::cut(whole, crop).await.ok();
        }
        match blob.and_then(|blob| Url::create_object_url_with_blob(&blob).ok()) {
            Some(url) => address.set(Some(url)),
            // The next screen that wants it asks again.
            None => drop(core.pictures.borrow_mut().remove(&name)),
        }
    }

    /// Frees the pictures in memory.
    pub(super) fn forget_pictures(self) {
        let Some(core) = core() else { return };
        for address in std::mem::take(&mut *core.pictures.borrow_mut()).into_values() {
            if let Some(url) = address.get_untracked() {
                drop(Url::revoke_object_url(&url));
            }
        }
    }
}
