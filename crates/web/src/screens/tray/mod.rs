//! The photo tray: all photos in time beside what was entered when, one of them large, and the points they may go to.
//!
//! What is suggested and why is decided in `field`; here is where it is seen and taken, by pointer or by keys alone.

mod clocks;
mod files;
mod list;
mod one;
mod points;
mod rows;

use std::collections::BTreeSet;
use std::sync::Arc;

use field::view::Remark;
use field::{Act, PhotoPlaced, Stack, Sure, Tray};
use inspection::{PhotoId, PointId};
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;

use super::remarks::left_over;
use super::seen;
use crate::app::{app, say, say_with};
use crate::browser::window;
use rows::Rows;

/// What the tray's parts share.
#[derive(Clone, Copy)]
struct Shared {
    tray: Memo<Arc<Tray>>,
    /// The rows as they are shown: all, or those with photos to place.
    rows: Memo<Arc<Rows>>,
    /// Only photos that stand at no point are shown.
    to_place: RwSignal<bool>,
    /// The photo at hand, by its place among the shown ones.
    active: RwSignal<usize>,
    /// Photos that are acted on together.
    chosen: RwSignal<BTreeSet<PhotoId>>,
    /// What happened last, for who listens.
    happened: RwSignal<String>,
    /// What is typed to find a point.
    wanted: RwSignal<String>,
    /// What of captions is left over from other jobs: asked once for all of them.
    left_over: Signal<Vec<Remark>>,
}

impl Shared {
    fn new() -> Self {
        let tray = seen(|visit| Arc::new(visit.tray()));
        let to_place = RwSignal::new(true);
        let rows = Memo::new(move |_| Arc::new(Rows::of(&tray.get(), to_place.get())));
        Self {
            tray,
            rows,
            to_place,
            active: RwSignal::new(0),
            chosen: RwSignal::default(),
            happened: RwSignal::default(),
            wanted: RwSignal::default(),
            left_over: left_over(),
        }
    }

    /// The stack at hand.
    fn at_hand(self) -> Option<Stack> {
        let rows = self.rows.get();
        rows.stack(self.active.get().min(rows.stacks().saturating_sub(1))).cloned()
    }

    /// The chosen photos; without any, those of the stack at hand.
    fn meant(self) -> Vec<PhotoId> {
        let chosen = self.chosen.get_untracked();
        if !chosen.is_empty() {
            return chosen.into_iter().collect();
        }
        untrack(|| self.at_hand()).map(|stack| ids(&stack)).unwrap_or_default()
    }

    /// Places the meant photos at a point, or at none.
    fn place(self, point: Option<&PointId>) {
        let placed = self.meant().into_iter().map(|photo| (photo, point.cloned()));
        let title = point.and_then(|point| self.title(point));
        self.place_all(placed.collect(), title);
    }

    /// Places photos; says where, if it is one point.
    fn place_all(self, placed: Vec<(PhotoId, Option<PointId>)>, title: Option<String>) {
        let count = placed.len().to_string();
        if placed.is_empty() {
            return self.happened.set(say("tray-nothing-meant"));
        }
        let placed = placed
            .into_iter()
            .map(|(photo, point)| PhotoPlaced { photo, point, position: String::new() })
            .collect();
        if app().act(Act::PlacePhotos(placed)) {
            self.chosen.set(BTreeSet::new());
            self.happened.set(match title {
                Some(title) => say_with("tray-placed", &[("count", &count), ("what", &title)]),
                None => say_with("tray-moved", &[("count", &count)]),
            });
        }
    }

    /// Takes the suggestion of the stack at hand, or those of all chosen photos.
    fn take_suggestion(self) {
        let chosen = self.chosen.get_untracked();
        if chosen.is_empty() {
            let Some(stack) = untrack(|| self.at_hand()) else { return };
            let Some(suggestion) = &stack.suggestion else {
                return self.happened.set(say("tray-no-suggestion"));
            };
            let placed = ids(&stack).into_iter().map(|id| (id, Some(suggestion.point.clone())));
            return self.place_all(placed.collect(), Some(suggestion.title.clone()));
        }
        self.take(|stack| chosen.contains(&stack.front.id));
    }

    /// Takes all suggestions that are sure.
    fn take_sure(self) {
        self.take(|stack| stack.suggestion.as_ref().is_some_and(|it| it.sure == Sure::Sure));
    }

    fn take(self, which: impl Fn(&Stack) -> bool) {
        let rows = self.rows.get_untracked();
        let stacks = rows.all_stacks().filter(|stack| which(stack));
        let placed = stacks.flat_map(|stack| {
            let point = stack.suggestion.as_ref().map(|it| it.point.clone());
            let known = point
                .into_iter()
                .flat_map(|point| ids(stack).into_iter().map(move |id| (id, Some(point.clone()))));
            known.collect::<Vec<_>>()
        });
        self.place_all(placed.collect(), None);
    }

    fn title(self, point: &PointId) -> Option<String> {
        self.tray.with_untracked(|tray| {
            tray.points.iter().find(|one| one.id == *point).map(|one| one.title.clone())
        })
    }
}

/// The photos of a stack.
fn ids(stack: &Stack) -> Vec<PhotoId> {
    std::iter::once(&stack.front).chain(&stack.behind).map(|photo| photo.id.clone()).collect()
}

/// Gives the keyboard's focus to an element.
pub(in crate::screens) fn focus(id: &str) {
    let element = window().and_then(|it| it.document()).and_then(|it| it.get_element_by_id(id));
    if let Some(element) = element.and_then(|it| it.dyn_into::<web_sys::HtmlElement>().ok()) {
        drop(element.focus());
    }
}

/// The screen.
#[component]
pub(super) fn TrayScreen() -> impl IntoView {
    let shared = Shared::new();
    // Whoever comes here by a key goes on with keys. After the screen's own focus, which goes to its top.
    request_animation_frame(|| focus("tray-list"));
    let counts =
        Memo::new(move |_| shared.tray.with(|tray| (tray.photos, tray.to_place, tray.unmeasured)));
    view! {
        <div class="tray-head">
            <h1>{move || say("tray-title")}</h1>
            <p class="figures">{move || {
                let (photos, to_place, _) = counts.get();
                say_with("tray-counts", &[("photos", &photos.to_string()), ("open", &to_place.to_string())])
            }}</p>
            <files::Files/>
        </div>
        {move || Some(counts.get().2).filter(|count| *count > 0).map(|count| view! {
            <p class="hint">{say_with("tray-unmeasured", &[("count", &count.to_string())])}</p>
        })}
        <clocks::Clocks shared/>
        <p role="status" class="unseen" id="tray-happened">{move || shared.happened.get()}</p>
        <div class="tray" on:dragover=files::over on:drop=files::dropped>
            <list::List shared/>
            <one::One shared/>
            <points::Points shared/>
        </div>
    }
}
