//! The offline app, compiled to WebAssembly. For any other target this crate is empty.
//!
//! The browser starts `start`, which mounts the frame and reads the disk. `disk` is the browser's database, `line`
//! the way to the server, `app` what every screen has at hand, `shell` the frame with the screens outside a job, and
//! `screens` those of a job. Nothing here decides anything about an inspection: that is `field` and below.
#![cfg(target_family = "wasm")]
#![allow(clippy::needless_pass_by_value, reason = "a component owns what it is given")]

mod app;
mod browser;
mod disk;
mod line;
mod screens;
mod shell;

use leptos::prelude::*;
use wasm_bindgen::prelude::wasm_bindgen;

/// Starts the app in the page.
#[wasm_bindgen(start)]
pub fn start() {
    let document = browser::window().and_then(|window| window.document());
    if let Some(starting) = document.and_then(|document| document.get_element_by_id("starting")) {
        starting.remove();
    }
    let app = app::App::new();
    leptos::mount::mount_to_body(move || {
        wasm_bindgen_futures::spawn_local(app::boot(app));
        view! { <shell::Frame app/> }
    });
}
