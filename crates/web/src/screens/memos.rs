//! Voice memos of a point: recorded with one tap, played back, struck out.

use field::Act;
use field::view::MemoRow;
use inspection::PointId;
use leptos::prelude::*;

use super::marks::{Icon, Shape};
use super::photo::standing_words;
use super::point::Seen;
use super::waits::clock;
use crate::app::{Recording, app, say, say_with};

/// The point's memos with the microphone before them. A recording under way is ended in the bar above every screen.
#[component]
pub(super) fn Memos(id: PointId, point: Seen) -> impl IntoView {
    let app = app();
    let memos = Memo::new(move |_| {
        point.with(|point| point.as_ref().map(|point| point.memos.clone())).unwrap_or_default()
    });
    let recording = app.recording();
    let idle = Memo::new(move |_| recording.get() == Recording::Idle);
    view! {
        <h2>{move || say("memo-title")}</h2>
        <p class="hint">{move || say("memo-hint")}</p>
        <p class="actions">
            <button id="record" aria-disabled=move || (!idle.get()).then_some("true")
                on:click=move |_| app.record_memo(id.clone())>
                <Icon shape=Shape::Microphone/>{move || say("memo-record")}
            </button>
        </p>
        <ul class="memos">
            <For each=move || memos.get() key=|memo| memo.id.clone() let:memo>
                <Row memo/>
            </For>
        </ul>
    }
}

#[component]
fn Row(memo: MemoRow) -> impl IntoView {
    let app = app();
    let playing = app.playing();
    let standing = standing_words(memo.id.as_str());
    let (of, played, struck) = (memo.id.to_string(), memo.id.to_string(), memo.id.clone());
    let mine = Memo::new(move |_| {
        let playing = playing.get();
        (playing.memo == of).then_some(playing.seconds)
    });
    let length = clock(i64::from(memo.seconds));
    let all = length.clone();
    let words = move || match mine.get() {
        Some(seconds) => {
            let now = format!("{} / {all}", clock(i64::from(seconds)));
            say_with("memo-playing", &[("time", &now)])
        }
        None => say_with("memo-play", &[("time", &all)]),
    };
    let when = memo.at.map(|at| at.local.strftime("%H:%M").to_string());
    let facts: Vec<String> =
        when.into_iter().chain(Some(memo.by).filter(|by| !by.is_empty())).collect();
    view! {
        <li class="memo">
            <button class="play" on:click=move |_| app.play(played.clone(), memo.media_type)>
                {move || view! { <Icon shape=if mine.get().is_some() { Shape::Stop } else { Shape::Play }/> }}
                <span>{words}</span>
            </button>
            <span class="row-facts">
                {facts.into_iter().map(|fact| view! { <span>{fact}</span> }).collect_view()}
                <span>{standing}</span>
            </span>
            <button class="plain" aria-label=move || say_with("memo-strike", &[("time", &length)])
                on:click=move |_| {
                    app.stop_playing();
                    app.act(Act::StrikeMemo { memo: struck.clone(), reason: "spoken by mistake".to_owned() });
                }>{move || say("reading-strike")}</button>
        </li>
    }
}
