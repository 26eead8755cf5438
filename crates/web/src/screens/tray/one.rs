//! The photo at hand: large, with what is known of it, where it may belong, and what it shows in words.

use field::view::Target;
use field::{Act, Stack};
use inspection::PhotoId;
use leptos::prelude::*;

use super::list::{exposure_key, sure_key, time_of};
use super::{Shared, focus};
use crate::app::{app, say, say_with, texts};
use crate::screens::marking::Marked;
use crate::screens::marks::{Icon, Shape};
use crate::screens::remarks::{RemarkLines, remarks_with, while_typed};
use crate::screens::{Screen, go, report_language};

/// The photo at hand.
#[component]
pub(super) fn One(shared: Shared) -> impl IntoView {
    let stack = Memo::new(move |_| shared.at_hand());
    let front = Memo::new(move |_| stack.with(|it| it.as_ref().map(|it| it.front.id.clone())));
    view! {
        <section class="tray-one" aria-labelledby="tray-one">
            <h2 class="unseen" id="tray-one">{move || say("tray-at-hand")}</h2>
            {move || front.get().map(|id| view! { <Large id shared stack/> })}
        </section>
    }
}

#[component]
fn Large(id: PhotoId, shared: Shared, stack: Memo<Option<Stack>>) -> impl IntoView {
    let known = stack.get_untracked().map(|stack| stack.front.caption).unwrap_or_default();
    let caption = RwSignal::new(known);
    let kept = Memo::new(move |_| {
        stack.with(|it| it.as_ref().map(|it| it.front.caption.clone())).unwrap_or_default()
    });
    let (of, marked, named) = (id.clone(), id.clone(), id.clone());
    let save = move || {
        let place = app().visit_untracked(|visit| {
            let photo = visit.inspection().photos.get(&named)?;
            Some((photo.point.clone(), photo.position.clone()))
        });
        let (point, position) = place.flatten().unwrap_or_default();
        let text = caption.get_untracked().trim().to_owned();
        app().act(Act::PlacePhoto { photo: named.clone(), point, position, caption: Some(text) });
    };
    let typed = move || Some(caption.get()).filter(|text| text.trim() != kept.get());
    let remarks =
        while_typed(remarks_with(Target::Photo(id), shared.left_over), "text-caption", typed);
    view! {
        <Marked id=of/>
        {move || stack.get().map(|stack| view! { <Facts stack shared/> })}
        <form on:submit=move |event| { event.prevent_default(); save(); focus("tray-list"); }>
            <div class="field">
                <label for="tray-caption">{move || say("photo-caption")}</label>
                <input id="tray-caption" type="text" autocomplete="off" spellcheck="true" lang=report_language prop:value=move || caption.get()
                    aria-describedby="tray-caption-hint"
                    data-unsaved=move || (caption.get().trim() != kept.get()).then_some("true")
                    on:input=move |event| caption.set(event_target_value(&event))
                    on:keydown=move |event| if event.key() == "Escape" { focus("tray-list"); }/>
                <p class="hint" id="tray-caption-hint">{move || say("tray-caption-hint")}</p>
                <RemarkLines remarks/>
            </div>
            <p class="actions">
                <button type="submit">{move || say("photo-save")}</button>
                <button type="button" on:click=move |_| go(Screen::Photo(marked.clone()))>{move || say("tray-draw")}</button>
            </p>
        </form>
    }
}

#[component]
fn Facts(stack: Stack, shared: Shared) -> impl IntoView {
    let Stack { front, behind, suggestion } = stack;
    let placed = front.point.is_some();
    let behind: Vec<PhotoId> = behind.into_iter().map(|photo| photo.id).collect();
    view! {
        <p class="row-facts">
            <strong>{front.file_name.clone()}</strong>
            <span class="time">{front.taken.map(|at| format!("{} {}", at.local.date(), time_of(&at)))}</span>
            {front.unsharp.then(|| view! { <span class="fact flag"><Icon shape=Shape::Beyond/>{say("tray-unsharp")}</span> })}
            {front.exposure.map(|it| view! { <span class="fact flag"><Icon shape=Shape::Beyond/>{say(exposure_key(it))}</span> })}
        </p>
        {match (placed, suggestion) {
            (true, _) => view! {
                <p>{say_with("tray-at", &[("what", &front.point_title)])}</p>
                <p class="actions"><button on:click=move |_| shared.place(None)>{say("photo-take-off")}</button></p>
            }.into_any(),
            (false, Some(suggestion)) => {
                let why = texts().of(&suggestion.why);
                let title = say_with(sure_key(suggestion.sure), &[("what", &suggestion.title)]);
                view! {
                    <div class="tray-suggestion">
                        <p><strong>{title}</strong></p>
                        <p class="hint">{why}</p>
                        <button class="primary" on:click=move |_| { shared.take_suggestion(); focus("tray-list"); }>
                            {say_with("tray-place-at", &[("what", &suggestion.title)])}
                        </button>
                    </div>
                }.into_any()
            }
            (false, None) => view! { <p class="hint">{say("tray-no-hint")}</p> }.into_any(),
        }}
        {(!behind.is_empty()).then(|| view! {
            <h3>{say_with("tray-behind", &[("count", &behind.len().to_string())])}</h3>
            <ul class="tray-behind">{behind.into_iter().map(|id| view! { <Behind id/> }).collect_view()}</ul>
        })}
    }
}

#[component]
fn Behind(id: PhotoId) -> impl IntoView {
    let picture = app().picture(id.as_str());
    let name = app()
        .visit_untracked(|visit| visit.inspection().photos.get(&id).map(|it| it.file_name.clone()));
    let name = name.flatten().unwrap_or_default();
    view! {
        <li>
            <button class="tile" on:click=move |_| go(Screen::Photo(id.clone()))>
                {move || picture.get().map(|address| view! { <img src=address alt=""/> })}
                <span class="tile-name">{name}</span>
            </button>
        </li>
    }
}
