//! Who signs, the report's form, and the release itself.

use field::Language;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::super::tray::focus;
use super::{Desk, Terms};
use crate::app::{app, say, say_with};
use crate::browser::{milliseconds, wait};
use crate::line::{AcceptedMatter, NoAnswer, ReleaseLine, ReleaseWanted};

/// How often it is asked how far the release has come, milliseconds.
const PROGRESS: i32 = 700;

/// A release on its way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Working {
    /// How far it has come, in the server's word.
    pub(super) step: String,
    /// Since when, in milliseconds of the page.
    pub(super) since: u64,
}

/// The form.
#[component]
pub(super) fn Sign(desk: Desk) -> impl IntoView {
    let passphrase = RwSignal::new(String::new());
    let trouble = RwSignal::new(None::<String>);
    let working = RwSignal::new(None::<Working>);
    let keys = Memo::new(move |_| {
        desk.standing.with(|it| it.as_ref().map(|it| it.keys.clone()).unwrap_or_default())
    });
    let later = Memo::new(move |_| {
        desk.standing.with(|it| it.as_ref().is_some_and(|it| !it.releases.is_empty()))
    });
    let inspector = move || {
        desk.standing.with(|it| it.as_ref().map(|it| it.inspector.clone()).unwrap_or_default())
    };
    let submit = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        if working.with_untracked(Option::is_some) {
            return;
        }
        if let Some((why, id)) = untrack(|| stands_against(desk, &passphrase.get(), later.get())) {
            trouble.set(Some(why));
            return focus(id);
        }
        trouble.set(None);
        let Some(line) = app().release_line() else { return };
        working.set(Some(Working { step: "checking".to_owned(), since: milliseconds() }));
        spawn_local(follow(line.clone(), working));
        spawn_local(release(desk, line, passphrase, trouble, working));
    };
    view! {
        <form on:submit=submit novalidate class="sign" aria-labelledby="sign-title">
            <h2 id="sign-title">{move || say("release-sign-title")}</h2>
            <p>{move || match inspector().as_str() {
                "" => say("release-no-inspector"),
                name => say_with("release-by", &[("name", name)]),
            }}</p>
            {move || keys.with(Vec::is_empty).then(|| view! { <p class="note" id="no-key">{say("release-no-key")}</p> })}
            <div class="field">
                <label for="release-key">{move || say("release-key")}</label>
                <select id="release-key" on:change=move |event| desk.terms.update(|terms| terms.key = event_target_value(&event))>
                    {move || {
                        let chosen = desk.terms.with(|terms| terms.key.clone());
                        keys.get().into_iter().map(|key| {
                            let short: String = key.key.chars().take(12).collect();
                            let name = say_with("release-key-of", &[("name", &key.name), ("key", &short), ("made", &key.made)]);
                            let selected = key.key == chosen;
                            view! { <option value=key.key selected=selected>{name}</option> }
                        }).collect_view()
                    }}
                </select>
            </div>
            <div class="field">
                <label for="release-passphrase">{move || say("release-passphrase")}</label>
                <input id="release-passphrase" type="password" autocomplete="off" spellcheck="false" aria-describedby="release-passphrase-hint"
                    prop:value=move || passphrase.get() on:input=move |event| passphrase.set(event_target_value(&event))/>
                <p class="hint" id="release-passphrase-hint">{move || say("release-passphrase-hint")}</p>
            </div>
            <Form desk/>
            {move || later.get().then(|| view! {
                <div class="field">
                    <label for="release-because">{say("release-because")}</label>
                    <textarea id="release-because" rows="2" spellcheck="true" lang=move || desk.terms.with(|terms| terms.language.clone()) prop:value=move || desk.terms.with(|terms| terms.because.clone())
                        on:input=move |event| desk.terms.update(|terms| terms.because = event_target_value(&event))></textarea>
                    <p class="hint">{say("release-because-hint")}</p>
                </div>
            })}
            <p class="hint">{move || say("release-stays")}</p>
            <p role="alert" class="trouble" id="sign-trouble">{move || trouble.get()}</p>
            <button class="primary" type="submit" id="release" aria-disabled=move || working.with(Option::is_some).to_string()>
                {move || say("release-do")}
            </button>
            <Progress working/>
        </form>
    }
}

/// The report's form, and who is to countersign.
#[component]
fn Form(desk: Desk) -> impl IntoView {
    let languages = Memo::new(move |_| {
        desk.standing.with(|it| it.as_ref().map(|it| it.languages.clone()).unwrap_or_default())
    });
    let named = |code: String| {
        let name = Language::from_code(&code).map(|it| it.own_name().to_owned());
        (code.clone(), name.unwrap_or(code))
    };
    let languages: Signal<Vec<(String, String)>> =
        Signal::derive(move || languages.get().into_iter().map(named).collect());
    let papers = Signal::derive(|| {
        vec![("letter".to_owned(), say("release-letter")), ("a4".to_owned(), say("release-a4"))]
    });
    let units = Signal::derive(|| {
        vec![("us".to_owned(), say("shell-units-us")), ("si".to_owned(), say("shell-units-si"))]
    });
    view! {
        <div class="release-form">
            <Select id="release-language" label="release-language" choices=languages
                chosen=Signal::derive(move || desk.terms.with(|it| it.language.clone()))
                choose=move |word| desk.terms.update(|it| it.language = word)/>
            <Select id="release-paper" label="release-paper" choices=papers
                chosen=Signal::derive(move || desk.terms.with(|it| it.paper.clone()))
                choose=move |word| desk.terms.update(|it| it.paper = word)/>
            <Select id="release-units" label="shell-units" choices=units
                chosen=Signal::derive(move || desk.terms.with(|it| it.units.clone()))
                choose=move |word| desk.terms.update(|it| it.units = word)/>
        </div>
        <div class="field">
            <label for="release-countersigner">{move || say("release-countersigner")}</label>
            <input id="release-countersigner" type="text" autocomplete="off" spellcheck="false"
                prop:value=move || desk.terms.with(|terms| terms.countersigner.clone())
                on:input=move |event| desk.terms.update(|terms| terms.countersigner = event_target_value(&event))/>
        </div>
    }
}

#[component]
fn Select(
    id: &'static str,
    label: &'static str,
    #[prop(into)] choices: Signal<Vec<(String, String)>>,
    chosen: Signal<String>,
    choose: impl Fn(String) + Copy + Send + Sync + 'static,
) -> impl IntoView {
    view! {
        <div class="field">
            <label for=id>{move || say(label)}</label>
            <select id=id on:change=move |event| choose(event_target_value(&event))>
                {move || {
                    let chosen = chosen.get();
                    choices.get().into_iter().map(|(word, name)| {
                        let selected = word == chosen;
                        view! { <option value=word selected=selected>{name}</option> }
                    }).collect_view()
                }}
            </select>
        </div>
    }
}

/// How far it has come.
#[component]
pub(super) fn Progress(working: RwSignal<Option<Working>>) -> impl IntoView {
    let step = Memo::new(move |_| working.with(|it| it.as_ref().map(|it| step_key(&it.step))));
    let seconds = move || {
        app().clock().track();
        let since = working.with(|it| it.as_ref().map(|it| it.since));
        since.map(|since| {
            let seconds = (milliseconds().saturating_sub(since) / 1_000).to_string();
            say_with("release-seconds", &[("count", &seconds)])
        })
    };
    view! {
        <p class="working"><span role="status" id="release-progress">{move || step.get().map(say)}</span>" "<span class="quiet">{seconds}</span></p>
    }
}

fn step_key(step: &str) -> &'static str {
    match step {
        "photos" => "release-step-photos",
        "layout" => "release-step-layout",
        "writing" => "release-step-writing",
        "signing" => "release-step-signing",
        "keeping" => "release-step-keeping",
        _ => "release-step-checking",
    }
}

/// What can be seen here already to stand against a release, and where to go.
fn stands_against(desk: Desk, passphrase: &str, later: bool) -> Option<(String, &'static str)> {
    let copied = app().copied().get();
    let absent =
        desk.standing.with(|it| it.as_ref().map_or(0, |it| it.absent_photos + it.absent_memos));
    let Terms { key, because, .. } = desk.terms.get();
    let left = desk.left();
    if copied.only_here > 0 || copied.photos_only_here > 0 || absent > 0 {
        return Some((say("release-not-there-yet"), "release"));
    }
    if let Some(first) = left.first() {
        desk.at_hand.set(first.matter.clone());
        let count = left.len().to_string();
        return Some((say_with("release-left-open", &[("count", &count)]), "matter-list"));
    }
    if key.is_empty() {
        return Some((say("release-no-key"), "release-key"));
    }
    if passphrase.is_empty() {
        return Some((say("release-passphrase-needed"), "release-passphrase"));
    }
    if later && because.trim().is_empty() {
        return Some((say("release-because-needed"), "release-because"));
    }
    None
}

/// Asks how far it has come, until it is done.
pub(super) async fn follow(line: ReleaseLine, working: RwSignal<Option<Working>>) {
    loop {
        wait(PROGRESS).await;
        if !matches!(working.try_get_untracked(), Some(Some(_))) {
            return;
        }
        if let Ok(Some(step)) = line.step().await {
            let _gone = working.try_update(|working| {
                if let Some(working) = working {
                    working.step = step;
                }
            });
        }
    }
}

async fn release(
    desk: Desk,
    line: ReleaseLine,
    passphrase: RwSignal<String>,
    trouble: RwSignal<Option<String>>,
    working: RwSignal<Option<Working>>,
) {
    let terms = desk.terms.get_untracked();
    let (head, matters) = desk.standing.with_untracked(|it| {
        it.as_ref().map(|it| (it.head, it.matters.clone())).unwrap_or_default()
    });
    let accepted = matters.into_iter().filter_map(|one| {
        let words = terms.words.get(&one.matter)?.clone();
        Some(AcceptedMatter { matter: one.matter, words })
    });
    let wanted = ReleaseWanted {
        head,
        key: terms.key.clone(),
        passphrase: passphrase.get_untracked(),
        language: terms.language.clone(),
        paper: terms.paper.clone(),
        units: terms.units.clone(),
        accepted: accepted.collect(),
        because: terms.because.clone(),
        countersigner: terms.countersigner.clone(),
    };
    let answer = line.release(&wanted).await;
    drop(wanted);
    // The person may have gone elsewhere meanwhile; the release stands all the same.
    if working.try_set(None).is_some() {
        return;
    }
    match answer {
        Ok(kept) => {
            passphrase.set(String::new());
            desk.terms.update(|terms| {
                terms.words.clear();
                terms.because.clear();
            });
            let id = format!("released-{}", kept.number);
            desk.standing.update(|it| {
                if let Some(it) = it {
                    it.unchanged = true;
                    it.releases.push(kept);
                }
            });
            request_animation_frame(move || focus(&id));
            desk.look();
        }
        Err(NoAnswer::NoLine) => {
            trouble.set(Some(say("release-line-lost")));
            desk.look();
        }
        Err(why) => {
            trouble.set(Some(app().no_answer(&why)));
            if let NoAnswer::Refused(reason, _) = &why {
                match reason.as_str() {
                    "wrong_passphrase" => focus("release-passphrase"),
                    "open_matters" | "changed" => {
                        desk.look();
                        focus("matter-list");
                    }
                    _ => {}
                }
            }
        }
    }
}
