//! Playing a voice memo: one at a time, from this device's disk, else from the server.

use std::cell::RefCell;

use leptos::prelude::*;
use sync::BlobHash;
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{HtmlAudioElement, Url};

use super::{App, core::core};
use crate::{
    browser::{listen, said},
    line,
};

/// What is being played.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Playing {
    /// The memo; empty for none.
    pub(crate) memo: String,
    /// How far, in whole seconds.
    pub(crate) seconds: u32,
}

thread_local! {
    static SOUND: RefCell<Option<(HtmlAudioElement, String)>> = const { RefCell::new(None) };
}

impl App {
    /// What is being played.
    pub(crate) fn playing(self) -> Signal<Playing> {
        self.playing.into()
    }

    /// Plays a memo from its beginning, or stops it.
    pub(crate) fn play(self, id: String, media_type: &'static str) {
        let stopped = self.playing.with_untracked(|playing| playing.memo == id);
        self.stop_playing();
        if stopped {
            return;
        }
        self.playing.set(Playing { memo: id.clone(), seconds: 0 });
        spawn_local(async move {
            if let Err(why) = self.begin_playing(&id, media_type).await {
                self.stop_playing();
                self.say(why);
            }
        });
    }

    /// Stops whatever is played.
    pub(crate) fn stop_playing(self) {
        if let Some((sound, url)) = SOUND.take() {
            drop(sound.pause());
            drop(Url::revoke_object_url(&url));
        }
        if self.playing.with_untracked(|playing| !playing.memo.is_empty()) {
            self.playing.set(Playing::default());
        }
    }

    async fn begin_playing(self, id: &str, media_type: &str) -> Result<(), String> {
        let missing = || self.texts().say("memo-not-here");
        let core = core().ok_or_else(missing)?;
        let hash = BlobHash::new(id).map_err(|error| error.to_string())?;
        let mut blob = core.disk.blob(hash).await?;
        let (key, job) = (core.identity.borrow().key.clone(), self.open.get_untracked());
        if let (None, Some(key), Some(job)) = (&blob, key, job) {
            blob = line::download(&key, &job, hash).await;
        }
        let blob = blob.ok_or_else(missing)?;
        // Some browsers play only what calls itself sound.
        let blob = blob
            .slice_with_f64_and_f64_and_content_type(0.0, blob.size(), media_type)
            .map_err(|error| said(&error))?;
        let url = Url::create_object_url_with_blob(&blob).map_err(|error| said(&error))?;
        let sound = HtmlAudioElement::new_with_src(&url).map_err(|error| said(&error))?;
        // Another one was tapped while this one was fetched.
        if self.playing.with_untracked(|playing| playing.memo != id) {
            drop(Url::revoke_object_url(&url));
            return Ok(());
        }
        listen(&sound, "ended", move |_| self.stop_playing());
        let (heard, of) = (sound.clone(), id.to_owned());
        listen(&sound, "timeupdate", move |_| {
            #[allow(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "seconds of a recording of an hour at most; a number that is none becomes 0"
            )]
            let seconds = heard.current_time() as u32;
            let now = Playing { memo: of.clone(), seconds };
            if self.playing.with_untracked(|playing| playing.memo == of && *playing != now) {
                self.playing.set(now);
            }
        });
        let begun = sound.play().map_err(|error| said(&error))?;
        SOUND.set(Some((sound, url)));
        JsFuture::from(begun).await.map(drop).map_err(|error| said(&error))
    }
}
