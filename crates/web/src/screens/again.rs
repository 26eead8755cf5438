//! A unit inspected again: each finding of then beside what is there now, marked by one key, with photos of both.

use field::view::{AgainRow, PhotoEvidence};
use field::{Act, Evidence};
use findings::CarriedState;
use inspection::{PhotoId, PointId, Recheck};
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;

use super::desk_findings::in_sight;
use super::inspect_again::InspectAgain;
use super::left::use_key;
use super::marking::Marked;
use super::marks::{Icon, Shape};
use super::tray::focus;
use super::{Screen, go, report_language, seen, units};
use crate::app::{app, say, say_with, texts};

type Rows = Memo<Vec<AgainRow>>;

/// The three marks, each with its letter.
const MARKS: [(Mark, &str, &str); 3] = [
    (Mark::Corrected, "c", "again-corrected"),
    (Mark::NotCorrected, "n", "again-not-corrected"),
    (Mark::NotSeen, "s", "again-not-seen"),
];

/// What became of a finding, before its note is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Mark {
    Corrected,
    NotCorrected,
    NotSeen,
}

impl Mark {
    fn of(state: CarriedState) -> Option<Self> {
        match state {
            CarriedState::Corrected => Some(Self::Corrected),
            CarriedState::NotCorrected => Some(Self::NotCorrected),
            CarriedState::NotSeen => Some(Self::NotSeen),
            CarriedState::Open | CarriedState::Withdrawn => None,
        }
    }
}

/// The screen; the finding with this key is at hand, else the first of which nobody has said anything.
#[component]
pub(super) fn AgainScreen(key: Option<String>) -> impl IntoView {
    let list = seen(|visit| visit.again(units()));
    let rows: Rows = Memo::new(move |_| {
        list.with(|list| list.as_ref().map(|list| list.rows.clone())).unwrap_or_default()
    });
    let carries = Memo::new(move |_| list.with(Option::is_some));
    let first = rows.with_untracked(|rows| {
        let open = rows.iter().find(|row| row.state == CarriedState::Open);
        open.or(rows.first()).map(|row| row.key.clone())
    });
    let at_hand = RwSignal::new(key.or(first).unwrap_or_default());
    let there = Memo::new(move |_| {
        let key = at_hand.get();
        rows.with(|rows| rows.iter().any(|row| row.key == key)).then_some(key)
    });
    let note = RwSignal::new(String::new());
    // The note that stands comes in with the finding, and anew when it is taken back.
    let stands = Memo::new(move |_| {
        let key = at_hand.get();
        rows.with(|rows| {
            rows.iter().find(|row| row.key == key).map(|row| (row.state, row.note.clone()))
        })
    });
    let asks = RwSignal::new(None::<Mark>);
    Effect::new(move |_| {
        at_hand.track();
        note.set(stands.get().map(|(_, note)| note).unwrap_or_default());
        asks.set(None);
    });
    request_animation_frame(|| focus("again-list"));
    view! {
        <h1>{move || say("again-title")}</h1>
        {move || match list.get() {
            None => view! { <p class="quiet">{say("again-first")}</p> }.into_any(),
            Some(list) => {
                let intro = match list.visited {
                    Some(day) => say_with("again-of-day", &[("job", &list.job), ("day", &day.to_string())]),
                    None => say_with("again-of", &[("job", &list.job)]),
                };
                view! {
                    <p class="quiet">{intro}</p>
                    <p class="figures" role="status" id="again-left" data-left=list.left>{match (list.rows.len(), list.left) {
                        (0, _) => say("again-none"),
                        (_, 0) => say("again-all-said"),
                        (all, left) => say_with("again-left", &[("count", &left.to_string()), ("all", &all.to_string())]),
                    }}</p>
                }.into_any()
            }
        }}
        {move || carries.get().then(|| view! { <div class="desk-again">
            <div class="finding-list" id="again-list" role="listbox" tabindex="0" aria-label=move || say("again-title")
                aria-activedescendant=move || there.get().map(|key| option_id(&key))
                on:keydown=move |event| keys(rows, at_hand, note, asks, &event)>
                {move || rows.get().into_iter().map(|row| view! { <Row row at_hand/> }).collect_view()}
            </div>
            {move || there.get().map(|key| view! { <One key rows at_hand note asks/> })}
        </div> })}
        <InspectAgain/>
    }
}

fn option_id(key: &str) -> String {
    format!("again-{}", key.replace(|letter: char| !letter.is_ascii_alphanumeric(), "-"))
}

fn sign(state: CarriedState) -> Shape {
    match state {
        CarriedState::Corrected => Shape::Done,
        CarriedState::NotCorrected => Shape::Bad,
        CarriedState::NotSeen => Shape::NotExamined,
        CarriedState::Open => Shape::Open,
        CarriedState::Withdrawn => Shape::NotFitted,
    }
}

#[component]
fn Row(row: AgainRow, at_hand: RwSignal<String>) -> impl IntoView {
    let (of, chosen) = (row.key.clone(), row.key.clone());
    let here = Memo::new(move |_| at_hand.with(|key| *key == of));
    let words = texts().of(&row.words);
    view! {
        <div class="finding-row" role="option" id=option_id(&row.key) class:at-hand=here aria-selected=move || here.get().to_string()
            on:click=move |_| { at_hand.set(chosen.clone()); focus("again-list"); }>
            <Icon shape=sign(row.state)/>
            <span class="row-words">
                <span class="row-title">{format!("{} · {}", row.number, row.title)}</span>
                <span class="row-facts"><span>{words}</span><span>{row.point_title}</span></span>
            </span>
        </div>
    }
}

/// The keys of the list. They work where the list has the focus, and nowhere else.
fn keys(
    rows: Rows,
    at_hand: RwSignal<String>,
    note: RwSignal<String>,
    asks: RwSignal<Option<Mark>>,
    event: &web_sys::KeyboardEvent,
) {
    if event.ctrl_key() || event.alt_key() || event.meta_key() {
        return;
    }
    let all = rows.get_untracked();
    let here = at_hand.get_untracked();
    let at = all.iter().position(|row| row.key == here).unwrap_or(0);
    let go_to = |to: usize| {
        if let Some(row) = all.get(to.min(all.len().saturating_sub(1))) {
            at_hand.set(row.key.clone());
            in_sight(&option_id(&row.key));
        }
    };
    let letters = app().settings().with_untracked(|settings| settings.letter_keys);
    match event.key().as_str() {
        "ArrowDown" => go_to(at + 1),
        "ArrowUp" => go_to(at.saturating_sub(1)),
        "Home" => go_to(0),
        "End" => go_to(all.len()),
        "Enter" => focus("again-note"),
        _ if !letters => return,
        "e" => focus("again-note"),
        "t" => press("again-take"),
        "a" => press("again-attach-first"),
        "z" => drop(app().act(Act::Recheck { key: here, recheck: None, note: String::new() })),
        letter => {
            let Some((mark, ..)) = MARKS.iter().find(|(_, key, _)| *key == letter) else { return };
            give(rows, at_hand, note, asks, *mark);
        }
    }
    event.prevent_default();
    event.stop_propagation();
}

/// Presses a button, or opens the choice of files, as a pointer would.
fn press(id: &str) {
    let document = crate::browser::window().and_then(|it| it.document());
    let element = document.and_then(|it| it.get_element_by_id(id));
    if let Some(element) = element.and_then(|it| it.dyn_into::<web_sys::HtmlElement>().ok()) {
        element.click();
    }
}

/// Says what became of the finding at hand, with the note as it is typed; then the next of which nothing is said comes to
/// hand. For one that was not seen the note is the reason, which is asked for.
fn give(
    rows: Rows,
    at_hand: RwSignal<String>,
    note: RwSignal<String>,
    asks: RwSignal<Option<Mark>>,
    mark: Mark,
) {
    let key = at_hand.get_untracked();
    let words = note.get_untracked();
    let recheck = match mark {
        Mark::Corrected => Recheck::Corrected,
        Mark::NotCorrected => Recheck::NotCorrected,
        Mark::NotSeen if words.trim().is_empty() => {
            asks.set(Some(mark));
            return focus("again-note");
        }
        Mark::NotSeen => Recheck::NotSeen { reason: words.clone() },
    };
    if !app().act(Act::Recheck { key: key.clone(), recheck: Some(recheck), note: words }) {
        return;
    }
    asks.set(None);
    let next = rows.with_untracked(|rows| {
        let at = rows.iter().position(|row| row.key == key).unwrap_or(0);
        let (before, behind) = rows.split_at(at);
        let open = |row: &&AgainRow| row.state == CarriedState::Open && row.key != key;
        behind.iter().chain(before).find(open).map(|row| row.key.clone())
    });
    if let Some(next) = next {
        in_sight(&option_id(&next));
        at_hand.set(next);
    }
    focus("again-list");
}

#[component]
fn One(
    key: String,
    rows: Rows,
    at_hand: RwSignal<String>,
    note: RwSignal<String>,
    asks: RwSignal<Option<Mark>>,
) -> impl IntoView {
    let of = key.clone();
    let row = Memo::new(move |_| rows.with(|rows| rows.iter().find(|row| row.key == of).cloned()));
    let state = Memo::new(move |_| row.with(|row| row.as_ref().map(|row| row.state)));
    let open =
        Memo::new(move |_| row.with(|row| row.as_ref().is_some_and(|row| row.open_to_marks)));
    let written = Memo::new(move |_| {
        row.with(|row| row.as_ref().map(|row| row.note.clone())).unwrap_or_default()
    });
    let (then, now) = (
        Memo::new(move |_| {
            row.with(|row| row.as_ref().map(|row| row.then.clone())).unwrap_or_default()
        }),
        Memo::new(move |_| {
            row.with(|row| row.as_ref().map(|row| row.now.clone())).unwrap_or_default()
        }),
    );
    view! {
        <div class="again-one">
            {move || row.get().map(|row| view! { <Then row/> })}
            <div class="then-now">
                <section aria-labelledby="again-then"><h3 id="again-then">{move || say("again-then")}</h3><Photos photos=then/></section>
                <section aria-labelledby="again-now"><h3 id="again-now">{move || say("again-now")}</h3><Photos photos=now/></section>
            </div>
            <Taking key=key.clone() row/>
            {move || open.get().then(|| view! {
                <form class="field" on:submit=move |event| {
                    event.prevent_default();
                    let mark = asks.get_untracked().or_else(|| state.get_untracked().and_then(Mark::of));
                    match mark {
                        Some(mark) => give(rows, at_hand, note, asks, mark),
                        None => focus("again-list"),
                    }
                }>
                    <label for="again-note">{move || say(if asks.get() == Some(Mark::NotSeen) { "again-why" } else { "again-note" })}</label>
                    <input id="again-note" type="text" autocomplete="off" spellcheck="true" lang=report_language prop:value=move || note.get()
                        data-unsaved=move || (note.get() != written.get()).then_some("true")
                        on:input=move |event| note.set(event_target_value(&event))
                        on:keydown=move |event| if event.key() == "Escape" { focus("again-list"); }/>
                </form>
                <fieldset class="choice">
                    <legend>{move || say("again-became")}</legend>
                    <div class="choice-buttons">
                        {MARKS.into_iter().map(|(mark, letter, name)| view! {
                            <button type="button" id=name aria-keyshortcuts=letter
                                aria-pressed=move || (state.get().and_then(Mark::of) == Some(mark)).to_string()
                                on:click=move |_| give(rows, at_hand, note, asks, mark)>{move || say(name)}</button>
                        }).collect_view()}
                    </div>
                </fieldset>
                {
                    let key = key.clone();
                    move || state.get().and_then(Mark::of).map(|_| {
                        let key = key.clone();
                        view! {
                            <p class="actions"><button on:click=move |_| {
                                app().act(Act::Recheck { key: key.clone(), recheck: None, note: String::new() });
                            }>{say("again-take-back")}</button></p>
                        }
                    })
                }
            })}
        </div>
    }
}

/// What the finding said then, and where it stands.
#[component]
fn Then(row: AgainRow) -> impl IntoView {
    let uses: Vec<String> = row.stops.iter().map(|one| say(use_key(*one))).collect();
    let stops =
        !uses.is_empty() && !matches!(row.state, CarriedState::Corrected | CarriedState::Withdrawn);
    let place = [row.point_title, row.position];
    let place = place.into_iter().filter(|it| !it.is_empty()).collect::<Vec<_>>().join(", ");
    let words = texts().of(&row.words);
    let said = row.at.map(|at| {
        say_with("again-said-by", &[("by", &row.by), ("day", &at.local.date().to_string())])
    });
    view! {
        <h2>{format!("{} · {}", row.number, row.title)}</h2>
        <p class="row-facts"><span>{place}</span>
            {stops.then(|| view! { <span class="fact"><Icon shape=Shape::Bad/>{say_with("finding-stops", &[("uses", &uses.join(", "))])}</span> })}
        </p>
        <p>{row.statement}</p>
        <p class="row-facts"><span class="fact"><Icon shape=sign(row.state)/>{words}</span>{said.map(|said| view! { <span>{said}</span> })}</p>
        <p class="actions">
            {row.point.map(|point| view! { <button on:click=move |_| go(Screen::Point(point.clone()))>{say("waits-go")}</button> })}
            {
                let key = row.key;
                view! { <button on:click=move |_| go(Screen::Finding(key.clone()))>{say("again-finding")}</button> }
            }
        </p>
    }
}

/// The first photo large, with its marks; the others small.
#[component]
fn Photos(photos: Memo<Vec<PhotoId>>) -> impl IntoView {
    move || {
        let mut all = photos.get().into_iter();
        match all.next() {
            None => view! { <p class="quiet">{say("again-no-photo")}</p> }.into_any(),
            Some(first) => view! {
                <Marked id=first/>
                <ul class="tray-behind">{all.map(|id| view! { <li><Small id/></li> }).collect_view()}</ul>
            }
            .into_any(),
        }
    }
}

#[component]
fn Small(id: PhotoId) -> impl IntoView {
    let picture = app().picture(id.as_str());
    let sheet = app().visit_untracked(|visit| visit.photo(&id)).flatten();
    let caption = sheet.map(|sheet| sheet.caption).filter(|caption| !caption.is_empty());
    let alt = caption.unwrap_or_else(|| say("photo-no-caption"));
    view! {
        <button class="tile" on:click=move |_| go(Screen::Photo(id.clone()))>
            {move || match picture.get() {
                Some(address) => view! { <img src=address alt=alt.clone()/> }.into_any(),
                None => view! { <span class="no-picture"><Icon shape=Shape::Camera/></span><span class="unseen">{alt.clone()}</span> }.into_any(),
            }}
        </button>
    }
}

/// Taking a photo of now, or taking one that is there.
#[component]
fn Taking(key: String, row: Memo<Option<AgainRow>>) -> impl IntoView {
    let under_way = app().photos_under_way();
    let point = Memo::new(move |_| row.with(|row| row.as_ref().and_then(|row| row.point.clone())));
    let further = Memo::new(move |_| {
        row.with(|row| row.as_ref().map(|row| row.further.clone())).unwrap_or_default()
    });
    let (taken, chosen, attached) = (key.clone(), key.clone(), key);
    view! {
        <div class="cameras">
            <div class="camera">
                <input type="file" id="again-take" accept="image/*" capture="environment"
                    on:change=move |event| take(&event, point.get_untracked().as_ref(), &taken)/>
                <label for="again-take"><Icon shape=Shape::Camera/>{move || say("again-take")}</label>
            </div>
            <div class="camera">
                <input type="file" id="again-choose" accept="image/*" multiple
                    on:change=move |event| take(&event, point.get_untracked().as_ref(), &chosen)/>
                <label for="again-choose">{move || say("photos-choose")}</label>
            </div>
        </div>
        <p role="status" class="hint">{move || match under_way.get().left {
            0 => String::new(),
            count => say_with("photos-under-way", &[("count", &count.to_string())]),
        }}</p>
        {move || Some(further.get()).filter(|further| !further.is_empty()).map(|further| {
            let count = further.len().to_string();
            let few = further.len() <= 3;
            view! {
                <details open=few>
                    <summary>{say_with("again-further", &[("count", &count)])}</summary>
                    <ul class="mark-list">{further.into_iter().enumerate().map(|(at, one)| view! {
                        <Further key=attached.clone() one first=at == 0/>
                    }).collect_view()}</ul>
                </details>
            }
        })}
    }
}

#[component]
fn Further(key: String, one: PhotoEvidence, first: bool) -> impl IntoView {
    let picture = app().picture(one.id.as_str());
    let name = say_with("again-attach-what", &[("what", &one.title)]);
    view! {
        <li>
            {move || picture.get().map(|address| view! { <img class="evidence" src=address alt=""/> })}
            <span>{one.title.clone()}</span>
            <button class="plain" id=first.then_some("again-attach-first") aria-label=name on:click=move |_| {
                app().act(Act::Attach { key: key.clone(), evidence: Evidence::Photo(one.id.clone()) });
                focus("again-list");
            }>{say("again-attach")}</button>
        </li>
    }
}

/// Keeps the files that were taken or chosen, as photos that show the finding now.
fn take(event: &web_sys::Event, point: Option<&PointId>, key: &str) {
    let input = event.target().and_then(|it| it.dyn_into::<web_sys::HtmlInputElement>().ok());
    let Some(input) = input else { return };
    let Some(files) = input.files() else { return };
    let files = (0..files.length()).filter_map(|at| files.get(at)).collect();
    app().add_photos_showing(files, point, key);
    // The same file can be chosen again.
    input.set_value("");
    focus("again-list");
}

/// At a point of today: the findings of then that belong to it, each one press away from its mark.
#[component]
pub(super) fn AtPoint(id: PointId) -> impl IntoView {
    let rows = seen(move |visit| {
        let rows = visit.again(units()).map(|list| list.rows).unwrap_or_default();
        rows.into_iter().filter(|row| row.point.as_ref() == Some(&id)).collect::<Vec<_>>()
    });
    move || {
        Some(rows.get()).filter(|rows| !rows.is_empty()).map(|rows| {
            view! {
                <h2>{say("again-at-point")}</h2>
                <ul class="points again-at-point">{rows.into_iter().map(|row| {
                    let words = texts().of(&row.words);
                    let key = row.key;
                    view! {
                        <li><button class="row" on:click=move |_| go(Screen::Again(Some(key.clone())))>
                            <Icon shape=sign(row.state)/>
                            <span class="row-words">
                                <span class="row-title">{format!("{} · {}", row.number, row.title)}</span>
                                <span class="row-facts"><span>{words}</span></span>
                            </span>
                        </button></li>
                    }
                }).collect_view()}</ul>
            }
        })
    }
}

/// Where a unit is inspected again: the way to the findings of then, with how many are still to be said.
#[component]
pub(super) fn ToAgain() -> impl IntoView {
    let left = seen(|visit| visit.again(units()).map(|list| (list.job, list.left)));
    move || {
        left.get().map(|(job, left)| {
            let left = left.to_string();
            view! {
                <p class="actions"><button id="to-again" on:click=move |_| go(Screen::Again(None))>
                    {say_with("again-open", &[("job", &job), ("count", &left)])}
                </button></p>
            }
        })
    }
}
