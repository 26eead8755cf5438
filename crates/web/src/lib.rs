//! The offline app, compiled to WebAssembly. For any other target this crate is empty.
#![cfg(target_family = "wasm")]

use leptos::prelude::*;
use wasm_bindgen::prelude::wasm_bindgen;

/// Starts the app in the page.
#[wasm_bindgen(start)]
pub fn start() {
    leptos::mount::mount_to_body(|| view! { <main>"Nearside"</main> });
}
