//! Pairing this device: a code from the server, once.

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::field::TextField;
use crate::{
    app::{Place, app, say, say_with},
    line::PairingRefused,
};

/// The pairing screen; with a code from a scanned link it is filled in.
#[component]
pub(super) fn Pairing(code: Option<String>) -> impl IntoView {
    let app = app();
    let settings = app.settings();
    let code = RwSignal::new(code.unwrap_or_default());
    let person = RwSignal::new(settings.with_untracked(|settings| settings.person.clone()));
    let device = RwSignal::new(device_name());
    let trouble = RwSignal::new(None::<String>);
    let under_way = RwSignal::new(false);
    let pair = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        if under_way.get_untracked() {
            return;
        }
        let (typed, name) = (code.get_untracked(), device.get_untracked().trim().to_owned());
        let person = person.get_untracked().trim().to_owned();
        if person.is_empty() || typed.trim().is_empty() || name.is_empty() {
            trouble.set(Some(say("shell-pairing-incomplete")));
            return;
        }
        settings.update(|settings| settings.person = person);
        trouble.set(None);
        under_way.set(true);
        let texts = app.texts();
        spawn_local(async move {
            match app.pair(typed.trim(), &name).await {
                Ok(()) => app.go(Place::Jobs),
                Err(refused) => trouble.set(Some(match refused {
                    PairingRefused::Unknown => texts.say("shell-pairing-unknown"),
                    PairingRefused::Expired => texts.say("shell-pairing-expired"),
                    PairingRefused::Used => texts.say("shell-pairing-used"),
                    PairingRefused::Busy => texts.say("shell-pairing-busy"),
                    PairingRefused::NoLine => texts.say("shell-pairing-no-line"),
                    PairingRefused::Other(why) => {
                        texts.say_with("shell-pairing-other", &[("why", &why)])
                    }
                })),
            }
            under_way.set(false);
        });
    };
    let paired = move || {
        app.paired_with().get().map(|server| {
            view! { <p class="note">{say_with("shell-pairing-already", &[("server", &server)])}</p> }
        })
    };
    view! {
        <h1>{move || say("shell-pairing-title")}</h1>
        {paired}
        <p>{move || say("shell-pairing-what")}</p>
        <form on:submit=pair novalidate>
            <TextField id="code" label=Signal::derive(|| say("shell-pairing-code")) value=code required=true
                hint=Signal::derive(|| say("shell-pairing-code-hint"))/>
            <TextField id="person" label=Signal::derive(|| say("shell-person")) value=person required=true
                hint=Signal::derive(|| say("shell-person-hint")) autocomplete="name"/>
            <TextField id="device" label=Signal::derive(|| say("shell-device")) value=device required=true/>
            <p role="alert" class="trouble" id="trouble">{move || trouble.get()}</p>
            <button class="primary" type="submit" aria-disabled=move || under_way.get().to_string()>
                {move || if under_way.get() { say("shell-pairing-under-way") } else { say("shell-pairing-do") }}
            </button>
        </form>
        <p><button class="plain" on:click=move |_| app.go(Place::Jobs)>{move || say("shell-pairing-later")}</button></p>
    }
}

/// A first name for the device.
fn device_name() -> String {
    let agent = crate::browser::window()
        .and_then(|window| window.navigator().user_agent().ok())
        .unwrap_or_default();
    let kinds = [
        ("iPhone", "iPhone"),
        ("iPad", "iPad"),
        ("Android", "Android"),
        ("Mac", "Mac"),
        ("Windows", "Windows"),
    ];
    let kind = kinds.iter().find(|(word, _)| agent.contains(word)).map(|(_, name)| *name);
    kind.map_or_else(|| say("shell-device-browser"), str::to_owned)
}
