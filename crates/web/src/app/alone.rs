//! One tab alone writes: two would number their changes alike, and the server would have to refuse one of them.

use std::cell::RefCell;

use js_sys::{Function, Object, Promise, Reflect};
use wasm_bindgen::{JsValue, closure::Closure};
use web_sys::BroadcastChannel;

use crate::browser::{call, listen, window};

const NAME: &str = "nearside";

thread_local! {
    static CHANNEL: RefCell<Option<BroadcastChannel>> = const { RefCell::new(None) };
}

/// Waits for the right to be the only one; answers whether it was free at once. `else_wait` says that it is waited
/// for: the other tab then goes on working until it is asked to leave.
pub(super) async fn alone(mut else_wait: impl FnMut()) {
    if hold(true).await {
        return;
    }
    else_wait();
    hold(false).await;
}

/// Asks the other tab to leave.
pub(crate) fn take_over() {
    if let Ok(channel) = BroadcastChannel::new(NAME) {
        drop(channel.post_message(&"leave".into()));
        channel.close();
    }
}

/// From now on this tab leaves when another asks: it loads anew, and then is the one that waits.
pub(super) fn leave_when_asked() {
    let Ok(channel) = BroadcastChannel::new(NAME) else { return };
    listen(&channel, "message", |_| {
        if let Some(window) = window() {
            drop(window.location().reload());
        }
    });
    CHANNEL.set(Some(channel));
}

/// Holds the lock until the page is closed. Where the browser has no locks, the app runs without.
async fn hold(if_free: bool) -> bool {
    let Some(window) = window() else { return true };
    let navigator = window.navigator();
    if !Reflect::has(&navigator, &"locks".into()).unwrap_or(false) {
        return true;
    }
    let granted = Promise::new(&mut |resolve: Function, _| {
        let told = Closure::once_into_js(move |lock: JsValue| {
            let got = !lock.is_null();
            drop(resolve.call1(&JsValue::NULL, &got.into()));
            // Never settled: the lock is held as long as the page is there.
            if got { Promise::new(&mut |_, _| {}) } else { Promise::resolve(&JsValue::NULL) }
        });
        // The typed interface has no locks yet.
        let options = Object::new();
        let asked = Reflect::set(&options, &"ifAvailable".into(), &if_free.into())
            .and_then(|_| Reflect::get(&navigator, &"locks".into()))
            .and_then(|locks| call(&locks, "request", &[NAME.into(), options.into(), told]));
        drop(asked);
    });
    wasm_bindgen_futures::JsFuture::from(granted).await.is_ok_and(|got| got.is_truthy())
}
