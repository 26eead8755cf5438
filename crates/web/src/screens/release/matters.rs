//! What is open: each matter as the core names it, one press from where it is closed, or accepted in words.

use std::collections::BTreeMap;

use field::{Language, UnitSystem};
use leptos::prelude::*;

use super::super::marks::{Icon, Shape};
use super::super::tray::focus;
use super::super::{Screen, go, seen};
use super::Desk;
use crate::app::{app, say, say_with, texts};
use crate::line::OpenMatter;

/// What the app says of matters in its own language, by the core's sentence.
type Spoken = Memo<BTreeMap<String, String>>;

/// The list, and the one at hand.
#[component]
pub(super) fn Matters(desk: Desk) -> impl IntoView {
    let matters = Memo::new(move |_| {
        desk.standing.with(|it| it.as_ref().map(|it| it.matters.clone()).unwrap_or_default())
    });
    let left = Memo::new(move |_| desk.left().len());
    let there = Memo::new(move |_| {
        let known = desk.at_hand.get();
        let matters = matters.get();
        let found = matters.iter().find(|one| one.matter == known).cloned();
        found.or_else(|| desk.left().into_iter().next()).or_else(|| matters.into_iter().next())
    });
    let spoken = seen(|visit| {
        let groups = visit.missing(UnitSystem::Us).groups.into_iter();
        let rows = groups.flat_map(|group| group.rows);
        rows.map(|row| (row.sentence, format!("{}: {}", row.title, texts().of(&row.what))))
            .collect()
    });
    let count = move || match (matters.with(Vec::len), left.get()) {
        (0, _) => say("release-nothing-open"),
        (_, 0) => say("release-all-accepted"),
        (_, left) => say_with("release-open-count", &[("count", &left.to_string())]),
    };
    let number_at_hand = move || {
        let there = there.get()?;
        matters.with(|all| all.iter().position(|one| one.matter == there.matter))
    };
    let some = Memo::new(move |_| matters.with(|all| !all.is_empty()));
    view! {
        <p class="figures" role="status" id="open-count">{count}</p>
        {move || some.get().then(|| view! {
            <div class="finding-list" id="matter-list" role="listbox" tabindex="0" aria-label=move || say("release-open-title")
                aria-activedescendant=move || number_at_hand().map(option_id)
                on:keydown=move |event| keys(desk, matters, there, &event)>
                <For each=move || matters.get().into_iter().enumerate() key=|(at, one)| (*at, one.clone()) let:entry>
                    <Row entry desk there spoken/>
                </For>
            </div>
            {move || there.get().map(|matter| view! { <One matter desk spoken/> })}
        })}
    }
}

fn option_id(at: usize) -> String {
    format!("matter-{at}")
}

/// A matter in the chosen language where the app can say it, else as the core does.
fn in_words(matter: &OpenMatter, spoken: Spoken) -> String {
    if app().settings().with(|settings| settings.language) == Language::English {
        return matter.matter.clone();
    }
    spoken
        .with(|spoken| spoken.get(&matter.matter).cloned())
        .unwrap_or_else(|| matter.matter.clone())
}

#[component]
fn Row(
    entry: (usize, OpenMatter),
    desk: Desk,
    there: Memo<Option<OpenMatter>>,
    spoken: Spoken,
) -> impl IntoView {
    let (at, matter) = entry;
    let (of, chosen, shown) = (matter.clone(), matter.matter.clone(), matter.clone());
    let here = Memo::new(move |_| there.get().is_some_and(|there| there.matter == of.matter));
    let key = matter.matter.clone();
    let words = Memo::new(move |_| desk.terms.with(|terms| terms.words.get(&key).cloned()));
    let kind = kind_key(&matter.kind);
    view! {
        <div class="finding-row" role="option" id=option_id(at) class:at-hand=here aria-selected=move || here.get().to_string()
            on:click=move |_| { desk.at_hand.set(chosen.clone()); focus("matter-list"); }>
            {move || view! { <Icon shape=if words.get().is_some() { Shape::Done } else { Shape::Open }/> }}
            <span class="row-words">
                <span class="row-title">{move || in_words(&shown, spoken)}</span>
                <span class="row-facts"><span>{move || match words.get() {
                    Some(words) => say_with("release-accepted", &[("words", &words)]),
                    None => say(kind),
                }}</span></span>
            </span>
        </div>
    }
}

/// The keys of the list. They work where the list has the focus, and nowhere else.
fn keys(
    desk: Desk,
    matters: Memo<Vec<OpenMatter>>,
    there: Memo<Option<OpenMatter>>,
    event: &web_sys::KeyboardEvent,
) {
    if event.ctrl_key() || event.alt_key() || event.meta_key() {
        return;
    }
    let all = matters.get_untracked();
    let here = there.get_untracked();
    let at = here.as_ref().and_then(|here| all.iter().position(|one| one == here)).unwrap_or(0);
    let go_to = |to: usize| {
        let to = to.min(all.len().saturating_sub(1));
        if let Some(matter) = all.get(to) {
            desk.at_hand.set(matter.matter.clone());
            in_sight(to);
        }
    };
    match event.key().as_str() {
        "ArrowDown" => go_to(at + 1),
        "ArrowUp" => go_to(at.saturating_sub(1)),
        "Home" => go_to(0),
        "End" => go_to(all.len()),
        "Enter" => {
            if let Some(here) = here {
                go(place_of(&here));
            }
        }
        _ if !app().settings().with_untracked(|settings| settings.letter_keys) => return,
        "a" => focus("matter-words"),
        _ => return,
    }
    event.prevent_default();
    event.stop_propagation();
}

fn in_sight(at: usize) {
    let document = crate::browser::window().and_then(|it| it.document());
    if let Some(row) = document.and_then(|it| it.get_element_by_id(&option_id(at))) {
        let options = web_sys::ScrollIntoViewOptions::new();
        options.set_block(web_sys::ScrollLogicalPosition::Nearest);
        row.scroll_into_view_with_scroll_into_view_options(&options);
    }
}

/// The matter at hand: where it is closed, and the words in which it is accepted.
#[component]
fn One(matter: OpenMatter, desk: Desk, spoken: Spoken) -> impl IntoView {
    let key = matter.matter.clone();
    let known = Memo::new(move |_| desk.terms.with(|terms| terms.words.get(&key).cloned()));
    let typed = RwSignal::new(known.get_untracked().unwrap_or_default());
    // What was released is accepted no more: its words go from here, too.
    Effect::new(move |before: Option<Option<String>>| {
        let now = known.get();
        if before.is_some_and(|before| before.is_some() && now.is_none()) {
            typed.set(String::new());
        }
        now
    });
    let (shown, target, of) = (matter.clone(), matter.clone(), matter.matter.clone());
    let accept = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        let words = typed.get_untracked().trim().to_owned();
        desk.terms.update(|terms| {
            match words.as_str() {
                "" => terms.words.remove(&of),
                _ => terms.words.insert(of.clone(), words.clone()),
            };
        });
        // The next that nobody has accepted comes to hand.
        if let Some(next) = untrack(|| desk.left()).first() {
            desk.at_hand.set(next.matter.clone());
        }
        focus("matter-list");
    };
    let accept_rest = move |_| {
        let words = typed.get_untracked().trim().to_owned();
        if words.is_empty() {
            return focus("matter-words");
        }
        let left = untrack(|| desk.left());
        desk.terms.update(|terms| {
            terms.words.extend(left.into_iter().map(|one| (one.matter, words.clone())));
        });
        focus("matter-list");
    };
    let english = matter.matter;
    let foreign = move || app().settings().with(|settings| settings.language) != Language::English;
    view! {
        <div class="matter-one" data-unsaved=move || (!typed.get().is_empty()).then_some("true")>
            <h3>{move || in_words(&shown, spoken)}</h3>
            {move || foreign().then(|| {
                let english = english.clone();
                view! { <p class="hint">{say("release-in-english")}" "<span lang="en">{english}</span></p> }
            })}
            <p class="actions"><button id="matter-go" on:click=move |_| go(place_of(&target))>{move || say("release-go")}</button></p>
            <form class="own-words" on:submit=accept>
                <label for="matter-words">{move || say("release-accept-why")}</label>
                <input id="matter-words" type="text" autocomplete="off" spellcheck="true" lang=move || desk.terms.with(|terms| terms.language.clone()) prop:value=move || typed.get()
                    on:input=move |event| typed.set(event_target_value(&event))
                    on:keydown=move |event| if event.key() == "Escape" { focus("matter-list"); }/>
                <button type="submit">{move || say("release-accept")}</button>
            </form>
            <p class="actions"><button id="accept-rest" on:click=accept_rest>{move || say("release-accept-rest")}</button></p>
        </div>
    }
}

/// Where a matter is closed.
fn place_of(matter: &OpenMatter) -> Screen {
    let about = matter.about.as_str();
    if matches!(matter.kind.as_str(), "not_agreed" | "agreed_otherwise") {
        return Screen::Engagement;
    }
    match matter.place.as_str() {
        "point" => Screen::Point(about.into()),
        "finding" if matter.kind == "not_rechecked" => Screen::Again(Some(about.to_owned())),
        "finding" => Screen::Finding(about.to_owned()),
        "photo" => Screen::Photo(about.into()),
        "photos" => Screen::Tray,
        "instrument" => Screen::Instruments(Some(about.into())),
        _ => Screen::Opening,
    }
}

/// The text that names a kind of matter.
fn kind_key(kind: &str) -> &'static str {
    match kind {
        "not_settled" => "gaps-not-settled",
        "no_reason" => "gaps-no-reason",
        "no_reading" => "gaps-no-reading",
        "no_photo" => "gaps-no-photo",
        "undecided" => "gaps-undecided",
        "no_evidence" => "gaps-no-evidence",
        "calibration" => "gaps-calibration",
        "wait_running" => "gaps-wait-running",
        "photo_not_placed" => "gaps-photo-not-placed",
        "not_agreed" => "gaps-not-agreed",
        "agreed_otherwise" => "gaps-agreed-otherwise",
        "not_rechecked" => "gaps-not-rechecked",
        "corrected_but_found" => "gaps-corrected-but-found",
        "draft" => "release-kind-draft",
        "conflict" => "release-kind-conflict",
        _ => "release-kind-problem",
    }
}
