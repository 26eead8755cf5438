//! What the screen of a release asks of the server, and the files that come of it.

use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use web_sys::{Blob, HtmlAnchorElement, Url};

use super::{App, core::core, say, say_with};
use crate::browser::{wait, window};
use crate::line::{NoAnswer, ReleaseLine};

/// How often it is looked whether the entries have arrived at the server, milliseconds, and how often at most.
const LOOK_AGAIN: (i32, u32) = (100, 100);
/// How long an address of a file in memory is kept after it was asked to be saved, milliseconds.
const SAVED: i32 = 60_000;

impl App {
    /// The line to the server for the open job; none for a device that was never paired.
    pub(crate) fn release_line(self) -> Option<ReleaseLine> {
        let key = core()?.identity.borrow().key.clone()?;
        Some(ReleaseLine { key, job: self.open.get_untracked()? })
    }

    /// Waits a while for the entries of this device to arrive at the server; whether they have.
    pub(crate) async fn arrived_there(self) -> bool {
        let all_there = || untrack(|| self.copied().get()).only_here == 0;
        for _ in 0..LOOK_AGAIN.1 {
            if all_there() {
                return true;
            }
            wait(LOOK_AGAIN.0).await;
        }
        all_there()
    }

    /// Why there is no answer, in a sentence.
    pub(crate) fn no_answer(self, why: &NoAnswer) -> String {
        match why {
            NoAnswer::NoLine => say("release-no-line"),
            NoAnswer::Refused(reason, detail) => match reason.as_str() {
                "wrong_passphrase" => say("release-wrong-passphrase"),
                "open_matters" => say("release-still-open"),
                "changed" => say("release-changed"),
                "under_way" => say("release-busy"),
                "busy" => say("release-patience"),
                "not_private" => say("release-not-private"),
                _ => say_with("release-refused", &[("why", detail)]),
            },
        }
    }

    /// Saves a file as the browser saves files.
    pub(crate) async fn save(self, file: &Blob, name: &str) {
        let Ok(address) = Url::create_object_url_with_blob(file) else { return };
        let link = window()
            .and_then(|window| window.document())
            .and_then(|document| document.create_element("a").ok())
            .and_then(|link| link.dyn_into::<HtmlAnchorElement>().ok());
        if let Some(link) = link {
            link.set_href(&address);
            link.set_download(name);
            link.click();
        }
        // It is read after this returns; nobody says when that is done.
        wait(SAVED).await;
        drop(Url::revoke_object_url(&address));
    }
}
