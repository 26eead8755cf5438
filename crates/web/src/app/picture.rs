//! Pictures for the screen: from this device's disk, else from the server.

use leptos::prelude::*;
use sync::BlobHash;
use wasm_bindgen_futures::spawn_local;
use web_sys::Url;

use super::{App, core::core};
use crate::line;

impl App {
    /// The address of a photo's small picture, as soon as it is there.
    pub(crate) fn picture(self, id: &str) -> Signal<Option<String>> {
        let small = self.visit_untracked(|visit| {
            let photo = visit.inspection().photos.get(&inspection::PhotoId::from(id));
            photo.map(|photo| photo.thumbnail.clone()).filter(|it| !it.is_empty())
        });
        self.address_of(&small.flatten().unwrap_or_else(|| id.to_owned()))
    }

    /// The address of the whole photo, as soon as it is there.
    pub(crate) fn full(self, id: &str) -> Signal<Option<String>> {
        self.address_of(id)
    }

    fn address_of(self, id: &str) -> Signal<Option<String>> {
        let Some(core) = core() else { return Signal::derive(|| None) };
        let known = core.pictures.borrow().get(id).cloned();
        let address = known.unwrap_or_else(|| {
            let address = ArcRwSignal::new(None);
            core.pictures.borrow_mut().insert(id.to_owned(), address.clone());
            if let Ok(hash) = BlobHash::new(id) {
                spawn_local(self.find_picture(hash, address.clone()));
            }
            address
        });
        Signal::derive(move || address.get())
    }

    async fn find_picture(self, hash: BlobHash, address: ArcRwSignal<Option<String>>) {
        let Some(core) = core() else { return };
        let mut blob = core.disk.blob(hash).await.ok().flatten();
        let (key, job) = (core.identity.borrow().key.clone(), self.open.get_untracked());
        if let (None, Some(key), Some(job)) = (&blob, key, job) {
            blob = line::download(&key, &job, hash).await;
        }
        match blob.and_then(|blob| Url::create_object_url_with_blob(&blob).ok()) {
            Some(url) => address.set(Some(url)),
            // The next screen that wants it asks again.
            None => drop(core.pictures.borrow_mut().remove(&hash.to_string())),
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
