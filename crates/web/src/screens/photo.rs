//! Photos of a point: taken with one tap, shown at once; and one photo by itself.

use field::Act;
use field::view::{PhotoRow, Target};
use inspection::{PhotoId, PointId};
use leptos::prelude::*;
use sync::Standing;
use wasm_bindgen::JsCast as _;

use super::live::LivePart;
use super::marking::Drawing;
use super::marks::{Icon, Shape};
use super::point::Seen;
use super::remarks::{RemarkLines, remarks_at, while_typed};
use super::{Screen, go, report_language, seen};
use crate::app::{app, say, say_with};
use crate::browser::wide;
use crate::line::{CaptionTyped, PagesWanted};

/// The point's photos with the camera before them.
#[component]
pub(super) fn Photos(id: PointId, point: Seen) -> impl IntoView {
    let app = app();
    let photos = Memo::new(move |_| {
        point.with(|point| point.as_ref().map(|point| point.photos.clone())).unwrap_or_default()
    });
    let wanted = Memo::new(move |_| {
        point
            .with(|point| point.as_ref().map(|point| point.photo_wanted.clone()))
            .unwrap_or_default()
    });
    let evidence = Memo::new(move |_| {
        point.with(|point| point.as_ref().is_some_and(|point| !point.findings.is_empty()))
    });
    let under_way = app.photos_under_way();
    let from_camera = id.clone();
    view! {
        <h2>{move || say("photos-title")}</h2>
        {move || Some(wanted.get()).filter(|it| !it.is_empty()).map(|wanted| view! { <p class="hint">{say_with("photos-wanted", &[("what", &wanted)])}</p> })}
        <div class="cameras">
            <div class="camera">
                <input type="file" id="camera" accept="image/*" capture="environment"
                    on:change=move |event| take(&event, &from_camera, evidence.get_untracked())/>
                <label for="camera"><Icon shape=Shape::Camera/>{move || say("photos-take")}</label>
            </div>
            <div class="camera">
                <input type="file" id="files" accept="image/*" multiple
                    on:change=move |event| take(&event, &id, evidence.get_untracked())/>
                <label for="files">{move || say("photos-choose")}</label>
            </div>
        </div>
        <p role="status" class="hint">{move || match under_way.get().left {
            0 => String::new(),
            count => say_with("photos-under-way", &[("count", &count.to_string())]),
        }}</p>
        <ul class="photos">
            <For each=move || photos.get() key=|photo| (photo.id.clone(), photo.caption.clone()) let:photo>
                <Tile photo/>
            </For>
        </ul>
    }
}

/// Keeps the files that were taken or chosen.
fn take(event: &web_sys::Event, point: &PointId, evidence: bool) {
    let input = event.target().and_then(|it| it.dyn_into::<web_sys::HtmlInputElement>().ok());
    let Some(input) = input else { return };
    let Some(files) = input.files() else { return };
    let files = (0..files.length()).filter_map(|at| files.get(at)).collect();
    app().add_photos(files, evidence, Some(point));
    // The same file can be chosen again.
    input.set_value("");
}

#[component]
fn Tile(photo: PhotoRow) -> impl IntoView {
    let picture = app().picture(photo.id.as_str());
    let standing = standing_words(photo.id.as_str());
    let name =
        if photo.caption.is_empty() { say("photo-no-caption") } else { photo.caption.clone() };
    let (alt, id) = (name.clone(), photo.id);
    view! {
        <li>
            <button class="tile" on:click=move |_| go(Screen::Photo(id.clone()))>
                {move || match picture.get() {
                    Some(address) => view! { <img src=address alt=alt.clone()/> }.into_any(),
                    None => view! { <span class="no-picture"><Icon shape=Shape::Camera/></span> }.into_any(),
                }}
                <span class="tile-name">{name}</span>
                <span class="hint">{standing}</span>
            </button>
        </li>
    }
}

/// What is true of a photo or memo: kept here, copied there.
pub(super) fn standing_words(id: &str) -> impl Fn() -> String + Send + Sync + Clone + use<> {
    let standing = app().photo_standing(id);
    move || match standing.get() {
        None => say("photo-elsewhere"),
        Some(item) => match &item.standing {
            Standing::Writing => say("photo-writing"),
            Standing::Kept if item.sent > 0 && item.size > 0 => say_with(
                "photo-sending",
                &[("percent", &(item.sent * 100 / item.size).to_string())],
            ),
            Standing::Kept => say("photo-kept"),
            Standing::Gone => say("photo-gone"),
            Standing::Copied => say("photo-copied"),
            Standing::NotKept { why } | Standing::Refused { why } => {
                say_with("photo-trouble", &[("why", why)])
            }
        },
    }
}

/// One photo: the whole picture with its marks, its caption, where it belongs; at the desk its page of the report beside it.
#[component]
pub(super) fn PhotoScreen(id: PhotoId) -> impl IntoView {
    let of = id.clone();
    let photo = seen(move |visit| visit.photo(&of));
    let kept = Memo::new(move |_| photo.with(|photo| photo.as_ref().map(|it| it.caption.clone())));
    let point =
        Memo::new(move |_| photo.with(|photo| photo.as_ref().and_then(|it| it.point.clone())));
    let caption = RwSignal::new(kept.get_untracked().unwrap_or_default());
    let standing = standing_words(id.as_str());
    let (named, removed) = (id.clone(), id.clone());
    let typed = move || Some(caption.get()).filter(|text| Some(text) != kept.get().as_ref());
    let remarks = while_typed(remarks_at(Target::Photo(id.clone())), "text-caption", typed);
    let of_page = id.to_string();
    let wanted = Signal::derive(move || PagesWanted {
        part: "photo".to_owned(),
        about: of_page.clone(),
        language: report_language(),
        photo: Some(CaptionTyped { id: of_page.clone(), caption: caption.get() }),
        ..PagesWanted::default()
    });
    view! {
        <h1>{move || photo.with(|photo| photo.as_ref().map(|it| it.point_title.clone())).filter(|it| !it.is_empty()).unwrap_or_else(|| say("photo-nowhere"))}</h1>
        <div class="beside">
        <div>
        <Drawing id/>
        <p class="hint">{standing}</p>
        <form on:submit=move |event| {
            event.prevent_default();
            let (point, position) = photo.with_untracked(|photo| {
                photo.as_ref().map(|photo| (photo.point.clone(), photo.position.clone()))
            }).unwrap_or_default();
            app().act(Act::PlacePhoto { photo: named.clone(), point, position, caption: Some(caption.get_untracked()) });
        }>
            <div class="field">
                <label for="caption">{move || say("photo-caption")}</label>
                <input id="caption" type="text" autocomplete="off" spellcheck="true" lang=report_language prop:value=move || caption.get()
                    data-unsaved=move || (Some(caption.get()) != kept.get()).then_some("true")
                    on:input=move |event| caption.set(event_target_value(&event))/>
                <RemarkLines remarks/>
            </div>
            <p class="actions">
                <button type="submit" class="primary">{move || say("photo-save")}</button>
                {move || point.get().map(|point| {
                    let removed = removed.clone();
                    view! {
                        <button type="button" on:click=move |_| go(Screen::Point(point.clone()))>{say("waits-go")}</button>
                        <button type="button" on:click=move |_| {
                            app().act(Act::PlacePhoto { photo: removed.clone(), point: None, position: String::new(), caption: None });
                        }>{say("photo-take-off")}</button>
                    }
                })}
                <button type="button" on:click=move |_| go(Screen::Tray)>{move || say("photo-all")}</button>
            </p>
        </form>
        </div>
        {wide().then(|| view! { <LivePart wanted/> })}
        </div>
    }
}
