//! Photos from files: chosen, or dropped on the tray.

use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use web_sys::{DragEvent, File, FileList, HtmlInputElement};

use crate::app::{app, say, say_with};

/// The button, and how far the photos have come that were chosen.
#[component]
pub(super) fn Files() -> impl IntoView {
    let under_way = app().photos_under_way();
    view! {
        <div class="camera">
            <input type="file" id="tray-files" accept="image/*" multiple on:change=move |event| {
                let input = event.target().and_then(|it| it.dyn_into::<HtmlInputElement>().ok());
                let Some(input) = input else { return };
                add(input.files());
                // The same file can be chosen again.
                input.set_value("");
            }/>
            <label for="tray-files">{move || say("tray-files")}</label>
        </div>
        <div role="status" class="tray-under-way">
            {move || Some(under_way.get()).filter(|it| it.left > 0).map(|it| {
                let kept = (it.chosen - it.left.min(it.chosen)).to_string();
                let chosen = it.chosen.to_string();
                let words = say_with("tray-keeping", &[("kept", &kept), ("chosen", &chosen)]);
                view! {
                    <p>{words.clone()}</p>
                    <progress max=chosen value=kept aria-label=words></progress>
                }
            })}
        </div>
    }
}

fn add(files: Option<FileList>) {
    let Some(files) = files else { return };
    let files: Vec<File> = (0..files.length()).filter_map(|at| files.get(at)).collect();
    if !files.is_empty() {
        app().add_photos(files, false, None);
    }
}

/// Files may be dropped here.
pub(super) fn over(event: DragEvent) {
    if carries_files(&event) {
        event.prevent_default();
    }
}

/// Files were dropped.
pub(super) fn dropped(event: DragEvent) {
    if carries_files(&event) {
        event.prevent_default();
        add(event.data_transfer().and_then(|carried| carried.files()));
    }
}

fn carries_files(event: &DragEvent) -> bool {
    let kinds = event.data_transfer().map(|carried| carried.types());
    kinds.is_some_and(|kinds| kinds.includes(&"Files".into(), 0))
}
