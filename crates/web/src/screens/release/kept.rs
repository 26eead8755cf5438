//! What was released: number, digest, time, its files, and what has changed since.

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::{Desk, moment, share};
use crate::app::{app, say, say_with};
use crate::line::{Differing, ReleaseKept, Since};

/// All releases, the newest first.
#[component]
pub(super) fn Released(desk: Desk) -> impl IntoView {
    let releases = Memo::new(move |_| {
        let mut all =
            desk.standing.with(|it| it.as_ref().map(|it| it.releases.clone()).unwrap_or_default());
        all.reverse();
        all
    });
    let latest = Memo::new(move |_| releases.with(|all| all.first().map(|one| one.number)));
    view! {
        {move || latest.get().map(|_| view! { <h2>{say("release-kept-title")}</h2> })}
        <For each=move || releases.get() key=|one| one.tag_manifest_sha256.clone() let:one>
            <One one desk latest/>
        </For>
    }
}

#[component]
fn One(one: ReleaseKept, desk: Desk, latest: Memo<Option<u32>>) -> impl IntoView {
    let number = one.number;
    let heading = {
        let (number, at) = (number.to_string(), moment(&one.released_at));
        move || say_with("release-of", &[("number", &number), ("at", &at)])
    };
    let fact = |key: &'static str, value: String| {
        (!value.is_empty())
            .then(|| view! { <div><dt>{move || say(key)}</dt><dd>{value}</dd></div> })
    };
    let files = one.files.to_string();
    let bag = one.bag.clone();
    let pages = one.pages.to_string();
    let accepted = one.accepted.clone();
    let report_name = format!("{}.pdf", one.bag);
    let bag_name = format!("{}.zip", one.bag);
    view! {
        <article class="card release" aria-labelledby=format!("released-{number}")>
            <h3 id=format!("released-{number}") tabindex="-1">{heading}</h3>
            <dl class="facts-list">
                {fact("release-fact-by", one.released_by.clone())}
                {fact("release-fact-key", one.key.clone())}
                {fact("release-fact-digest", one.tag_manifest_sha256.clone())}
                {fact("release-fact-report", one.report_sha256.clone())}
                {fact("release-fact-pages", pages)}
                {fact("release-fact-because", one.because.clone())}
                {fact("release-fact-countersigner", one.countersigner)}
                <div><dt>{move || say("release-fact-bag")}</dt><dd>{move || say_with("release-bag-place", &[("name", &bag), ("files", &files)])}</dd></div>
            </dl>
            {(!accepted.is_empty()).then(|| {
                let count = accepted.len().to_string();
                view! {
                    <details>
                        <summary>{move || say_with("release-accepted-count", &[("count", &count)])}</summary>
                        <ul class="facts" lang="en">{accepted.into_iter().map(|one| view! { <li>{one.matter}": "<strong>{one.words}</strong></li> }).collect_view()}</ul>
                    </details>
                }
            })}
            <Files number report_name bag_name/>
            <Changes number/>
            {move || (latest.get() == Some(number)).then(|| view! { <share::ClientPage number desk/> })}
        </article>
    }
}

/// The report and the bag, saved as the browser saves files.
#[component]
fn Files(number: u32, report_name: String, bag_name: String) -> impl IntoView {
    let said = RwSignal::new(None::<String>);
    let save = move |file: &'static str, name: String| {
        said.set(Some(say("release-fetching")));
        spawn_local(async move {
            let answer = match app().release_line() {
                Some(line) => line.file(number, file).await,
                None => return,
            };
            match answer {
                Ok(blob) => {
                    let _gone = said.try_set(Some(say_with("release-saved", &[("name", &name)])));
                    app().save(&blob, &name).await;
                }
                Err(why) => drop(said.try_set(Some(app().no_answer(&why)))),
            }
        });
    };
    view! {
        <p class="actions">
            <button id=format!("report-{number}") on:click=move |_| save("report.pdf", report_name.clone())>{move || say("release-report")}</button>
            <button id=format!("bag-{number}") on:click=move |_| save("bag.zip", bag_name.clone())>{move || say("release-bag")}</button>
        </p>
        <p role="status" class="hint" id=format!("saved-{number}")>{move || said.get()}</p>
    }
}

/// What has changed since, in words.
#[component]
fn Changes(number: u32) -> impl IntoView {
    let since = RwSignal::new(None::<Result<Since, String>>);
    let ask = move |_| {
        spawn_local(async move {
            let Some(line) = app().release_line() else { return };
            let answer = line.since(number).await.map_err(|why| app().no_answer(&why));
            let _gone = since.try_set(Some(answer));
        });
    };
    view! {
        <p class="actions"><button id=format!("since-{number}") on:click=ask>{move || say("release-since")}</button></p>
        <div role="status" class="since">{move || since.get().map(|since| match since {
            Err(why) => view! { <p class="trouble">{why}</p> }.into_any(),
            Ok(since) => view! { <Compared since/> }.into_any(),
        })}</div>
    }
}

#[component]
fn Compared(since: Since) -> impl IntoView {
    let until = match since.until {
        Some(number) => say_with("release-since-until", &[("number", &number.to_string())]),
        None => say("release-since-now"),
    };
    let naming = ["release", "record"];
    let none = since.differences.iter().all(|one| naming.contains(&one.what.as_str()));
    let mut kinds: Vec<String> = Vec::new();
    for one in &since.differences {
        if !kinds.contains(&one.what) {
            kinds.push(one.what.clone());
        }
    }
    let groups = kinds.into_iter().map(|kind| {
        let own = since.differences.iter().filter(|one| one.what == kind).cloned();
        (say(kind_key(&kind)), own.collect::<Vec<Differing>>())
    });
    view! {
        <p>{until}</p>
        {none.then(|| view! { <p>{say("release-since-nothing")}</p> })}
        {groups.map(|(heading, own)| view! {
            <h4>{heading}</h4>
            <ul class="facts" lang="en">{own.into_iter().map(|one| view! { <li>{in_words(&one)}</li> }).collect_view()}</ul>
        }).collect_view()}
    }
}

fn in_words(one: &Differing) -> String {
    match (&one.before, &one.after) {
        (None, Some(after)) => say_with("release-new", &[("key", &one.key), ("after", after)]),
        (Some(before), None) => say_with("release-gone", &[("key", &one.key), ("before", before)]),
        (Some(before), Some(after)) => {
            let with = [("key", one.key.as_str()), ("before", before), ("after", after)];
            say_with("release-other", &with)
        }
        (None, None) => one.key.clone(),
    }
}

/// The text that names a kind of what differs.
fn kind_key(kind: &str) -> &'static str {
    match kind {
        "uses" => "since-uses",
        "findings" => "since-findings",
        "values and verdicts" => "since-values",
        "not examined" => "since-not-examined",
        "missing or open" => "since-missing",
        "unit" => "since-unit",
        "photos" => "since-photos",
        "accepted" => "since-accepted",
        "pages" => "since-pages",
        "engagement" => "since-engagement",
        "summary" => "since-summary",
        "at once" => "since-at-once",
        "cautions" => "since-cautions",
        "earlier inspection" => "since-earlier",
        "drawings of values" => "since-drawings",
        "examined" => "since-examined",
        "visit" => "since-visit",
        "instruments" => "since-instruments",
        "sources" => "since-sources",
        "terms" => "since-terms",
        "unused entries" => "since-unused",
        "signature" => "since-signature",
        "release" => "since-release",
        "record" => "since-record",
        "program and data" => "since-program",
        _ => "since-further",
    }
}
