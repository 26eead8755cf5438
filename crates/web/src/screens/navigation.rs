//! The bar below every screen of a job: where to go, and what can be taken back.

use leptos::prelude::*;
use wasm_bindgen::JsCast as _;

use super::marks::{Icon, Shape};
use super::{Screen, go, seen, units};
use crate::app::{app, say, say_with, texts};

/// Scrolls up and gives the keyboard's focus to the screen.
pub(super) fn to_the_top() {
    let Some(window) = crate::browser::window() else { return };
    window.scroll_to_with_x_and_y(0.0, 0.0);
    let main = window.document().and_then(|document| document.get_element_by_id("main"));
    if let Some(main) = main.and_then(|main| main.dyn_into::<web_sys::HtmlElement>().ok()) {
        drop(main.focus());
    }
}

/// The bar.
#[component]
pub(super) fn Navigation(screen: Memo<Screen>) -> impl IntoView {
    let app = app();
    let findings = seen(move |visit| visit.assessment(units()).findings.len());
    let left = seen(move |visit| visit.line(units()).left);
    let waits = seen(move |visit| {
        visit.inspection().waits.values().filter(|wait| wait.ended.is_none()).count()
    });
    let photos = seen(move |visit| {
        visit.inspection().photos.values().filter(|photo| photo.point.is_none()).count()
    });
    let undo = seen(|visit| visit.undo_label().cloned());
    let redo = seen(|visit| visit.redo_label().cloned());
    view! {
        <footer class="foot">
            <div class="steps">
                {move || undo.get().map(|label| {
                    let label = texts().of(&label);
                    view! {
                        <button class="plain step" on:click=move |_| { app.undo(); }>
                            <Icon shape=Shape::Undo/>
                            <span>{say_with("undo-what", &[("what", &label)])}</span>
                        </button>
                    }
                })}
                {move || redo.get().map(|label| {
                    let label = texts().of(&label);
                    let name = say_with("redo-what", &[("what", &label)]);
                    view! {
                        <button class="plain step again" aria-label=name on:click=move |_| { app.redo(); }>
                            <Icon shape=Shape::Redo/>
                        </button>
                    }
                })}
            </div>
            <nav class="tabs" aria-label=move || say("nav-label")>
                <Tab screen here=Screen::Line shape=Shape::Line name="nav-line" count=left/>
                <Tab screen here=Screen::Tray shape=Shape::Camera name="nav-photos" count=photos desk=true/>
                <Tab screen here=Screen::Findings shape=Shape::Finding name="nav-findings" count=findings/>
                <Tab screen here=Screen::Waits shape=Shape::Clock name="nav-waits" count=waits/>
                <Tab screen here=Screen::Search shape=Shape::Search name="nav-search"/>
                <Tab screen here=Screen::Left shape=Shape::Flag name="nav-left"/>
                <Tab screen here=Screen::Report shape=Shape::Pages name="nav-report" desk=true/>
                <Tab screen here=Screen::Release shape=Shape::Seal name="nav-release" desk=true/>
                <Tab screen here=Screen::Engagement shape=Shape::Letter name="nav-engagement" desk=true/>
            </nav>
        </footer>
    }
}

#[component]
fn Tab(
    screen: Memo<Screen>,
    here: Screen,
    shape: Shape,
    name: &'static str,
    #[prop(optional)] count: Option<Memo<usize>>,
    /// Shown only where there is room.
    #[prop(optional)]
    desk: bool,
) -> impl IntoView {
    let there = here.clone();
    let current = move || (screen.get() == here).then_some("page");
    view! {
        <button class="tab" class:desk-only=desk aria-current=current on:click=move |_| go(there.clone())>
            <Icon shape/>
            <span class="tab-name">{move || say(name)}</span>
            {move || count.map(|count| count.get()).filter(|count| *count > 0).map(|count| view! {
                <span class="count">{count}</span>
            })}
        </button>
    }
}
