//! Cameras whose clocks seem to be off, each with the offer to correct its photos' times.

use field::{Act, CameraClock};
use leptos::prelude::*;

use super::Shared;
use crate::app::{app, say, say_with};

/// The offers.
#[component]
pub(super) fn Clocks(shared: Shared) -> impl IntoView {
    let clocks = Memo::new(move |_| shared.tray.with(|tray| tray.clocks.clone()));
    view! {
        {move || clocks.get().into_iter().map(|clock| view! { <Offer clock/> }).collect_view()}
    }
}

#[component]
fn Offer(clock: CameraClock) -> impl IntoView {
    let camera =
        if clock.camera.is_empty() { say("tray-clock-camera") } else { clock.camera.clone() };
    let seconds = clock.add_seconds.unsigned_abs();
    let span = format!("{}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60);
    // What must be added is what the clock is behind.
    let key = if clock.add_seconds > 0 { "tray-clock-slow" } else { "tray-clock-fast" };
    let words = say_with(
        key,
        &[
            ("camera", &camera),
            ("span", &span),
            ("photos", &clock.photos.len().to_string()),
            ("now", &clock.beside_now.to_string()),
            ("then", &clock.beside_then.to_string()),
        ],
    );
    view! {
        <div class="note tray-clock">
            <p>{words}</p>
            <button class="tray-clock-correct" on:click=move |_| {
                app().act(Act::CorrectPhotoTimes { photos: clock.photos.clone(), add_seconds: clock.add_seconds });
            }>{say("tray-clock-correct")}</button>
        </div>
    }
}
