//! Stock sentences beside a finding's statement: found while typing, put in with one key, and the present words kept as a new
//! one.

use field::Sentence;
use inspection::PointId;
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use web_sys::HtmlTextAreaElement;

use super::tray::focus;
use crate::app::{app, say, say_with};
use crate::browser::window;

/// So many are offered at once.
const OFFERED: usize = 6;

/// The sentences, for the field with this id. `enter` is told what the field should say.
#[component]
pub(super) fn StockSentences(
    field: &'static str,
    statement: RwSignal<String>,
    key: Option<String>,
    point: Option<PointId>,
    enter: Callback<String>,
) -> impl IntoView {
    app().fetch_stock();
    let stock = app().stock();
    let typed = RwSignal::new(String::new());
    let (here, at) = (RwSignal::new(false), RwSignal::new(0_usize));
    let offered = Memo::new(move |_| {
        let all = stock.with(|stock| {
            stock.list.matching(&typed.get()).into_iter().cloned().collect::<Vec<_>>()
        });
        all.into_iter().take(OFFERED).collect::<Vec<Sentence>>()
    });
    let open = Memo::new(move |_| here.get() && !offered.with(Vec::is_empty));
    let none = Memo::new(move |_| stock.with(|stock| stock.list.all().is_empty()));
    let refused = Memo::new(move |_| stock.with(|stock| stock.refused.clone()));
    let put_in = Callback::new(move |which: usize| {
        let Some(sentence) = offered.with_untracked(|offered| offered.get(which).cloned()) else {
            return;
        };
        let known =
            app().visit_untracked(|visit| visit.sentence_words(key.as_deref(), point.as_ref()));
        let words = sentence.filled_as_known(&known.unwrap_or_default());
        let (whole, place) = put(&statement.get_untracked(), &words, field);
        enter.run(whole);
        typed.set(String::new());
        at.set(0);
        choose(field, place);
    });
    view! {
        <div class="field stock">
            <label for="stock-find">{move || say("stock-find")}</label>
            <input id="stock-find" type="text" role="combobox" autocomplete="off" aria-autocomplete="list" aria-controls="stock-list"
                aria-expanded=move || open.get().to_string()
                aria-activedescendant=move || open.get().then(|| format!("stock-{}", at.get()))
                prop:value=move || typed.get()
                on:focus=move |_| here.set(true) on:blur=move |_| here.set(false)
                on:input=move |event| { typed.set(event_target_value(&event)); at.set(0); here.set(true); }
                on:keydown=move |event| {
                    let count = offered.with_untracked(Vec::len);
                    match event.key().as_str() {
                        "ArrowDown" => at.update(|at| *at = (*at + 1).min(count.saturating_sub(1))),
                        "ArrowUp" => at.update(|at| *at = at.saturating_sub(1)),
                        "Enter" => put_in.run(at.get_untracked()),
                        "Escape" => focus(field),
                        _ => return,
                    }
                    event.prevent_default();
                    event.stop_propagation();
                }/>
            <div id="stock-list" role="listbox" class="finding-list" aria-label=move || say("stock-find") hidden=move || !open.get()>
                {move || offered.get().into_iter().enumerate().map(|(number, sentence)| view! {
                    <div class="finding-row" role="option" id=format!("stock-{number}") class:at-hand=move || at.get() == number
                        aria-selected=move || (at.get() == number).to_string()
                        on:pointerdown=move |event| { event.prevent_default(); put_in.run(number); }>
                        <span class="row-words"><span class="row-title">{sentence.name}</span><span class="row-facts"><span>{sentence.text}</span></span></span>
                    </div>
                }).collect_view()}
            </div>
            <p class="hint">{move || match (none.get(), refused.get()) {
                (_, Some(why)) => say_with("stock-refused", &[("why", &why)]),
                (true, None) => say("stock-none"),
                (false, None) => say("stock-hint"),
            }}</p>
        </div>
        <Keep field statement/>
    }
}

/// Keeping what is chosen in the field, or all of it, under a name.
#[component]
fn Keep(field: &'static str, statement: RwSignal<String>) -> impl IntoView {
    let (name, kept) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let keep = move || {
        let all = statement.get_untracked();
        let words = area(field).map_or_else(String::new, |area| chosen(&all, &area));
        let words = if words.trim().is_empty() { all } else { words };
        if app().keep_sentence(&name.get_untracked(), &words) {
            kept.set(say_with("stock-kept", &[("name", name.get_untracked().trim())]));
            name.set(String::new());
            focus(field);
        }
    };
    view! {
        <details>
            <summary>{move || say("stock-keep")}</summary>
            <div class="own-words">
                <label for="stock-name">{move || say("stock-name")}</label>
                <input id="stock-name" type="text" autocomplete="off" prop:value=move || name.get()
                    on:input=move |event| name.set(event_target_value(&event))
                    on:keydown=move |event| match event.key().as_str() {
                        "Enter" => { event.prevent_default(); keep(); }
                        "Escape" => focus(field),
                        _ => {}
                    }/>
                <button type="button" id="stock-keep" on:click=move |_| keep()>{move || say("stock-keep-do")}</button>
            </div>
        </details>
        <p class="hint" role="status" id="stock-kept">{move || kept.get()}</p>
    }
}

fn area(id: &str) -> Option<HtmlTextAreaElement> {
    window()?.document()?.get_element_by_id(id)?.dyn_into().ok()
}

/// Where the cursor stands in the field, or what is chosen, in the browser's own units.
fn selection(area: &HtmlTextAreaElement, length: usize) -> (usize, usize) {
    let place = |at: Result<Option<u32>, _>| {
        let at: Option<u32> = at.ok().flatten();
        at.and_then(|at| usize::try_from(at).ok()).unwrap_or(length).min(length)
    };
    let (from, to) = (place(area.selection_start()), place(area.selection_end()));
    (from.min(to), to)
}

fn chosen(all: &str, area: &HtmlTextAreaElement) -> String {
    let units: Vec<u16> = all.encode_utf16().collect();
    let (from, to) = selection(area, units.len());
    String::from_utf16_lossy(&units[from..to])
}

/// The text with the words put in where the cursor stands, and what is to be chosen then: the first gap that is still open,
/// or the place behind the words.
fn put(all: &str, words: &str, field: &str) -> (String, (u32, u32)) {
    let units: Vec<u16> = all.encode_utf16().collect();
    let (from, to) =
        area(field).map_or((units.len(), units.len()), |area| selection(&area, units.len()));
    let (before, behind) =
        (String::from_utf16_lossy(&units[..from]), String::from_utf16_lossy(&units[to..]));
    let space =
        |beside: Option<char>| if beside.is_none_or(char::is_whitespace) { "" } else { " " };
    let begin = format!("{before}{}", space(before.chars().next_back()));
    let whole = format!("{begin}{words}{}{behind}", space(behind.chars().next()));
    let length = |text: &str| u32::try_from(text.encode_utf16().count()).unwrap_or(u32::MAX);
    let gap = words.find('{').and_then(|open| {
        let close = open + words[open..].find('}')? + 1;
        Some((length(&begin) + length(&words[..open]), length(&begin) + length(&words[..close])))
    });
    let end = length(&begin) + length(words);
    (whole, gap.unwrap_or((end, end)))
}

/// Goes to the field and chooses a part of it, once it shows the new text.
fn choose(field: &'static str, (from, to): (u32, u32)) {
    request_animation_frame(move || {
        focus(field);
        if let Some(area) = area(field) {
            drop(area.set_selection_range(from, to));
        }
    });
}
