//! The points that photos may go to, in walking order, with their own times: dropped on, clicked, or found by typing.

use field::TrayPoint;
use inspection::PointId;
use leptos::prelude::*;

use super::list::time_of;
use super::{Shared, focus};
use crate::app::{say, say_with};

/// The points.
#[component]
pub(super) fn Points(shared: Shared) -> impl IntoView {
    let wanted = shared.wanted;
    let points = Memo::new(move |_| {
        let words = wanted.get().to_lowercase();
        let words: Vec<&str> = words.split_whitespace().collect();
        shared.tray.with(|tray| {
            let found = tray.points.iter().filter(|point| {
                let text = format!("{} {} {}", point.title, point.stop, point.id).to_lowercase();
                words.iter().all(|word| text.contains(word))
            });
            found.cloned().collect::<Vec<_>>()
        })
    });
    let first = Memo::new(move |_| {
        let typed = !wanted.get().trim().is_empty();
        points.with(|points| {
            points.first().filter(|_| typed).map(|point| (point.id.clone(), point.title.clone()))
        })
    });
    let suggested =
        Memo::new(move |_| shared.at_hand().and_then(|stack| stack.suggestion).map(|it| it.point));
    view! {
        <section class="tray-points" aria-labelledby="tray-points">
            <h2 id="tray-points">{move || say("tray-points")}</h2>
            <form role="search" on:submit=move |event| {
                event.prevent_default();
                if let Some((point, _)) = first.get_untracked() {
                    shared.place(Some(&point));
                    wanted.set(String::new());
                    focus("tray-list");
                }
            }>
                <div class="field">
                    <label for="tray-wanted">{move || say("tray-find")}</label>
                    <input id="tray-wanted" type="text" autocomplete="off" prop:value=move || wanted.get() aria-describedby="tray-first"
                        on:input=move |event| wanted.set(event_target_value(&event))
                        on:keydown=move |event| if event.key() == "Escape" {
                            wanted.set(String::new());
                            focus("tray-list");
                        }/>
                    <p class="hint" id="tray-first" role="status">{move || first.get().map_or_else(
                        || say("tray-find-hint"),
                        |(_, title)| say_with("tray-enter-places", &[("what", &title)]),
                    )}</p>
                </div>
            </form>
            <ul class="tray-places">
                <For each=move || points.get() key=|point| (point.id.clone(), point.photos, point.times) let:point>
                    <Place shared point suggested/>
                </For>
            </ul>
        </section>
    }
}

#[component]
fn Place(shared: Shared, point: TrayPoint, suggested: Memo<Option<PointId>>) -> impl IntoView {
    let (of, dropped, id) = (point.id.clone(), point.id.clone(), point.id.clone());
    let over = RwSignal::new(false);
    let times = point.times.map(|(first, last)| {
        let (first, last) = (time_of(&first), time_of(&last));
        if first == last { first } else { format!("{first} – {last}") }
    });
    let is_suggested = Memo::new(move |_| suggested.with(|it| it.as_ref() == Some(&of)));
    view! {
        <li>
            <button class="row tray-point" class:over=over class:suggested=is_suggested
                on:click=move |_| { shared.place(Some(&id)); focus("tray-list"); }
                on:dragover=move |event| { event.prevent_default(); over.set(true); }
                on:dragleave=move |_| over.set(false)
                on:drop=move |event| {
                    over.set(false);
                    event.prevent_default();
                    event.stop_propagation();
                    shared.place(Some(&dropped));
                }>
                <span class="row-words">
                    <span class="row-title">{point.title}</span>
                    <span class="row-facts">
                        <span>{point.stop}</span>
                        <span class="time">{times}</span>
                        {(point.photos > 0).then(|| view! { <span class="fact">{say_with("point-photos", &[("count", &point.photos.to_string())])}</span> })}
                        {(point.photos == 0 && !point.wanted.is_empty()).then(|| view! { <span class="fact essential">{say_with("photos-wanted", &[("what", &point.wanted)])}</span> })}
                    </span>
                </span>
            </button>
        </li>
    }
}
