//! What can be chosen, and what this device and its browser say about themselves.

use field::{Language, UnitSystem};
use leptos::prelude::*;

use super::{
    field::{Choice, TextField},
    jobs::Promise,
};
use crate::app::{Line, Paper, Place, Theme, app, say, say_with};

/// The settings.
#[component]
pub(super) fn SettingsScreen() -> impl IntoView {
    let app = app();
    let settings = app.settings();
    let field = |get: fn(&crate::app::Settings) -> &String| {
        RwSignal::new(settings.with_untracked(|settings| get(settings).clone()))
    };
    let person = field(|settings| &settings.person);
    let credentials = field(|settings| &settings.credentials);
    Effect::new(move |_| {
        let (person, credentials) = (person.get(), credentials.get());
        let same =
            settings.with_untracked(|it| it.person == person && it.credentials == credentials);
        if !same {
            settings.update(|settings| {
                settings.person = person;
                settings.credentials = credentials;
            });
        }
    });
    let languages = Signal::derive(|| {
        let all = Language::ALL.into_iter();
        all.map(|one| (one.code().to_owned(), one.own_name().to_owned())).collect::<Vec<_>>()
    });
    let units = Signal::derive(|| {
        vec![("us".to_owned(), say("shell-units-us")), ("si".to_owned(), say("shell-units-si"))]
    });
    let papers = Signal::derive(|| {
        let words = [(Paper::Letter, "shell-paper-letter"), (Paper::A4, "shell-paper-a4")];
        words.map(|(paper, key)| (paper.word().to_owned(), say(key))).to_vec()
    });
    let themes = Signal::derive(|| {
        let words =
            [say("shell-theme-light"), say("shell-theme-dark"), say("shell-theme-sunlight")];
        Theme::ALL.into_iter().map(|theme| theme.word().to_owned()).zip(words).collect::<Vec<_>>()
    });
    view! {
        <h1>{move || say("shell-settings")}</h1>
        <form on:submit=|event: web_sys::SubmitEvent| event.prevent_default()>
            <TextField id="person" label=Signal::derive(|| say("shell-person")) value=person
                hint=Signal::derive(|| say("shell-person-hint")) autocomplete="name"/>
            <TextField id="credentials" label=Signal::derive(|| say("shell-credentials")) value=credentials/>
            <Choice name="theme" label=Signal::derive(|| say("shell-theme")) choices=themes
                chosen=Signal::derive(move || settings.with(|it| it.theme.word().to_owned()))
                choose=move |word: String| settings.update(|it| {
                    it.theme = Theme::ALL.into_iter().find(|theme| theme.word() == word).unwrap_or_default();
                })/>
            <Choice name="units" label=Signal::derive(|| say("shell-units")) choices=units
                chosen=Signal::derive(move || settings.with(|it| match it.units {
                    UnitSystem::Us => "us".to_owned(),
                    UnitSystem::Si => "si".to_owned(),
                }))
                choose=move |word: String| settings.update(|it| {
                    it.units = if word == "si" { UnitSystem::Si } else { UnitSystem::Us };
                })/>
            <Choice name="paper" label=Signal::derive(|| say("shell-paper")) choices=papers
                chosen=Signal::derive(move || settings.with(|it| it.paper.word().to_owned()))
                choose=move |word: String| settings.update(|it| it.paper = Paper::from_word(&word))/>
            <Choice name="language" label=Signal::derive(|| say("shell-language")) choices=languages
                chosen=Signal::derive(move || settings.with(|it| it.language.code().to_owned()))
                choose=move |word: String| settings.update(|it| {
                    it.language = Language::from_code(&word).unwrap_or_default();
                })/>
        </form>
        <h2>{move || say("shell-device-title")}</h2>
        <ul class="facts">
            <li>{move || match app.paired_with().get() {
                Some(server) if server.is_empty() => say("shell-paired"),
                Some(server) => say_with("shell-paired-with", &[("server", &server)]),
                None => say("shell-line-unpaired"),
            }}</li>
            {move || match app.line().get() {
                Line::ShutOut(why) => Some(view! { <li class="bad">{why}</li> }),
                Line::Working | Line::Waiting | Line::Off | Line::Unpaired => None,
            }}
            <li>{move || if app.installed() { say("shell-installed") } else { say("shell-not-installed") }}</li>
            <li id="room">{move || room_words(app.room().get())}</li>
        </ul>
        <Promise app/>
        <p class="actions">
            <button on:click=move |_| app.go(Place::Pairing(None))>{move || say("shell-pairing-do")}</button>
            <button on:click=move |_| app.ask_for_room()>{move || say("shell-room-ask")}</button>
            <button on:click=move |_| app.try_now()>{move || say("shell-try-now")}</button>
        </p>
    }
}

fn room_words(room: crate::disk::Room) -> String {
    let size = |bytes: f64| {
        if bytes >= 1e9 {
            format!("{:.1} GB", bytes / 1e9)
        } else {
            format!("{:.1} MB", bytes / 1e6)
        }
    };
    match (room.used, room.allowed) {
        (Some(used), Some(allowed)) => {
            say_with("shell-room", &[("used", &size(used)), ("allowed", &size(allowed))])
        }
        _ => say("shell-room-not-told"),
    }
}
