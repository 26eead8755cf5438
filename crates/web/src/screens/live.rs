//! A part of the report beside what is edited, and the report part by part.

use leptos::prelude::*;

use crate::app::{LiveStanding, app, say, say_with};
use crate::line::{PagesWanted, ReportPart};

/// The pages of a part, with a line that says how they stand to the record.
#[component]
pub(super) fn LivePart(#[prop(into)] wanted: Signal<PagesWanted>) -> impl IntoView {
    let live = app().live(wanted);
    view! { <Shown live/> }
}

#[component]
fn Shown(live: Signal<crate::app::Live>) -> impl IntoView {
    let count = Memo::new(move |_| live.with(|live| live.pages.len()));
    let standing = Memo::new(move |_| live.with(|live| live.standing.clone()));
    let remarks = Memo::new(move |_| live.with(|live| live.remarks.clone()));
    let words = move || match standing.get() {
        LiveStanding::UnderWay if count.get() == 0 => say("live-under-way"),
        LiveStanding::UnderWay => say("live-older"),
        LiveStanding::Fresh => say("live-fresh"),
        LiveStanding::NoLine if count.get() == 0 => say("live-no-line-none"),
        LiveStanding::NoLine => say("live-no-line"),
        LiveStanding::Refused(why) => say_with("live-refused", &[("why", &why)]),
    };
    view! {
        <section class="preview" tabindex="0" aria-labelledby="live-title" class:older=move || standing.get() != LiveStanding::Fresh>
            <h2 id="live-title">{move || say("live-title")}</h2>
            <p class="hint live-standing" id="live-standing" data-standing=move || word(&standing.get())>{words}</p>
            {move || remarks.get().into_iter().map(|remark| view! { <p class="hint">{remark}</p> }).collect_view()}
            <div class="live-pages">
                <For each=move || 0..count.get() key=|at| *at let:at>
                    <img class="live-page" src=move || live.with(|live| live.pages.get(at).cloned())
                        alt=move || say_with("live-page", &[("number", &(at + 1).to_string()), ("count", &count.get().to_string())])/>
                </For>
            </div>
        </section>
    }
}

fn word(standing: &LiveStanding) -> &'static str {
    match standing {
        LiveStanding::UnderWay => "under-way",
        LiveStanding::Fresh => "fresh",
        LiveStanding::NoLine => "no-line",
        LiveStanding::Refused(_) => "refused",
    }
}

/// The report as it would be made now, part by part.
#[component]
pub(super) fn ReportScreen() -> impl IntoView {
    let chosen = RwSignal::new(ReportPart { part: "front".to_owned(), ..ReportPart::default() });
    let language = move || app().settings().with(|settings| settings.language.code().to_owned());
    let wanted = Signal::derive(move || {
        let ReportPart { part, about, .. } = chosen.get();
        PagesWanted { part, about, language: language(), ..PagesWanted::default() }
    });
    let live = app().live(wanted);
    let parts = Memo::new(move |_| live.with(|live| live.parts.clone()));
    view! {
        <h1>{move || say("report-title")}</h1>
        <div class="report-grid">
            <nav class="report-parts" aria-label=move || say("report-parts")>
                <ul>
                    <For each=move || parts.get() key=|part| part.clone() let:part>
                        <Part part chosen/>
                    </For>
                </ul>
            </nav>
            <Shown live/>
        </div>
    }
}

#[component]
fn Part(part: ReportPart, chosen: RwSignal<ReportPart>) -> impl IntoView {
    let name = part.title.clone();
    let key = key_of(&part.part);
    let of = part.clone();
    let current = move || {
        let here = chosen.with(|chosen| (&chosen.part, &chosen.about) == (&of.part, &of.about));
        here.then_some("true")
    };
    view! {
        <li>
            <button class="row" aria-current=current on:click=move |_| chosen.set(part.clone())>
                <span class="row-title">{move || if name.is_empty() { say(key) } else { name.clone() }}</span>
            </button>
        </li>
    }
}

/// The key of what a part is called that every report has.
fn key_of(part: &str) -> &'static str {
    match part {
        "front" => "report-front",
        "overview" => "report-overview",
        "finding" => "report-finding",
        "further_photos" => "report-further-photos",
        "readings" => "report-readings",
        "not_examined" => "report-not-examined",
        "examined" => "report-examined",
        "visit" => "report-visit",
        "instruments" => "report-instruments",
        "sources" => "report-sources",
        "terms" => "report-terms",
        _ => "report-signature",
    }
}
