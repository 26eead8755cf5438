//! Keys at the desk: one letter leads to each screen, and `?` lists all of them.
//!
//! Letters do nothing while something is typed, and can be switched off for whoever speaks to the machine or hits keys
//! by accident (WCAG 2.2, 2.1.4).

use leptos::ev;
use leptos::html::Dialog;
use leptos::prelude::*;

use super::{Screen, go};
use crate::app::{Place, app, say};
use crate::browser::{focus_soon, typing};

/// What a letter does.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Does {
    Go(Screen),
    FindInJobs,
    Archive,
    Undo,
    Redo,
    List,
}

/// The letters that work everywhere in a job.
const EVERYWHERE: &[(&str, &str)] = &[
    ("?", "key-list"),
    ("l", "key-line"),
    ("p", "key-photos"),
    ("f", "key-findings"),
    ("m", "key-missing"),
    ("r", "key-report"),
    ("R", "key-release"),
    ("b", "key-engagement"),
    ("i", "key-instruments"),
    ("n", "key-now"),
    ("s", "key-search"),
    ("/", "key-find"),
    ("A", "key-archive"),
    ("o", "key-again"),
    ("u", "key-undo"),
    ("U", "key-redo"),
];

/// The keys of the list of photos, where it has the focus.
const TRAY: [(&str, &str); 10] = [
    ("↑ ↓", "key-tray-go"),
    ("Enter", "key-tray-take"),
    ("a", "key-tray-sure"),
    ("p", "key-tray-point"),
    ("Space", "key-tray-choose"),
    ("Shift ↑ ↓", "key-tray-extend"),
    ("Esc", "key-tray-none"),
    ("c", "key-tray-caption"),
    ("d", "key-tray-draw"),
    ("x", "key-tray-off"),
];

/// The keys of the list of findings, where it has the focus.
const FINDINGS: [(&str, &str); 7] = [
    ("↑ ↓", "key-finding-go"),
    ("y", "key-finding-confirm"),
    ("w", "key-finding-withdraw"),
    ("Enter", "key-finding-heading"),
    ("e", "key-finding-statement"),
    ("t", "stock-find"),
    ("Esc", "key-back"),
];

/// The keys of the list of findings of then, where it has the focus.
const AGAIN: [(&str, &str); 8] = [
    ("↑ ↓", "key-finding-go"),
    ("c", "again-corrected"),
    ("n", "again-not-corrected"),
    ("s", "again-not-seen"),
    ("e", "key-again-note"),
    ("t", "again-take"),
    ("a", "key-again-attach"),
    ("z", "again-take-back"),
];

/// The keys of the list of instruments, where it has the focus.
const INSTRUMENTS: [(&str, &str); 6] = [
    ("↑ ↓", "key-instrument-go"),
    ("Enter", "key-instrument-change"),
    ("c", "key-instrument-calibration"),
    ("a", "key-instrument-add"),
    ("x", "key-instrument-out"),
    ("Esc", "key-back"),
];

/// The keys of the list of open matters, where it has the focus.
const MATTERS: [(&str, &str); 4] = [
    ("↑ ↓", "key-matter-go"),
    ("Enter", "key-matter-close"),
    ("a", "key-matter-accept"),
    ("Esc", "key-back"),
];

/// The keys of a photo that is drawn on, where it has the focus.
const BOARD: [(&str, &str); 6] = [
    ("← ↑ → ↓", "key-board-move"),
    ("Shift, Alt", "key-board-steps"),
    ("Enter", "key-board-set"),
    ("Esc", "key-board-drop"),
    ("t", "mark-turn"),
    ("w", "mark-whole"),
];

fn does(key: &str) -> Option<Does> {
    Some(match key {
        "?" => Does::List,
        "l" => Does::Go(Screen::Line),
        "p" => Does::Go(Screen::Tray),
        "f" => Does::Go(Screen::Findings),
        "m" => Does::Go(Screen::Left),
        "r" => Does::Go(Screen::Report),
        "R" => Does::Go(Screen::Release),
        "b" => Does::Go(Screen::Engagement),
        "i" => Does::Go(Screen::Instruments(None)),
        "n" => Does::Go(Screen::Schedule),
        "s" => Does::Go(Screen::Search),
        "/" => Does::FindInJobs,
        "A" => Does::Archive,
        "o" => Does::Go(Screen::Again(None)),
        "u" => Does::Undo,
        "U" => Does::Redo,
        _ => return None,
    })
}

/// Hears the letters, and shows the list of them.
#[component]
pub(super) fn Keys() -> impl IntoView {
    let dialog: NodeRef<Dialog> = NodeRef::new();
    let show = move || {
        if let Some(dialog) = dialog.get_untracked().filter(|dialog| !dialog.open()) {
            // One that cannot be shown is no list, and nothing else is lost.
            drop(dialog.show_modal());
        }
    };
    let heard = window_event_listener(ev::keydown, move |event| {
        let letters = app().settings().with_untracked(|settings| settings.letter_keys);
        let with = event.ctrl_key() || event.alt_key() || event.meta_key();
        let listed = dialog.get_untracked().is_some_and(|dialog| dialog.open());
        if !letters || with || listed || event.default_prevented() || typing() {
            return;
        }
        let Some(does) = does(&event.key()) else { return };
        event.prevent_default();
        match does {
            Does::Go(screen) => go(screen),
            Does::FindInJobs => {
                app().go(Place::Jobs);
                focus_soon("find");
            }
            Does::Archive => app().go(Place::Archive),
            Does::Undo => drop(app().undo()),
            Does::Redo => drop(app().redo()),
            Does::List => show(),
        }
    });
    on_cleanup(move || heard.remove());
    let switched = move || app().settings().with(|settings| settings.letter_keys);
    view! {
        <button class="plain desk-only keys-open" on:click=move |_| show()>{move || say("key-open")}</button>
        <dialog class="keys" id="keys" node_ref=dialog aria-labelledby="keys-title">
            <h2 id="keys-title">{move || say("key-title")}</h2>
            <button class="switch" role="switch" id="letter-keys" aria-checked=move || switched().to_string()
                on:click=move |_| app().settings().update(|settings| settings.letter_keys = !settings.letter_keys)>
                <span class="knob" aria-hidden="true"></span><span>{move || say("key-letters")}</span>
            </button>
            <Group title="key-everywhere" keys=EVERYWHERE/>
            <Group title="key-tray" keys=&TRAY/>
            <Group title="key-finding" keys=&FINDINGS/>
            <Group title="again-title" keys=&AGAIN/>
            <Group title="key-instrument" keys=&INSTRUMENTS/>
            <Group title="key-board" keys=&BOARD/>
            <Group title="key-matter" keys=&MATTERS/>
            <p class="actions"><button class="primary" id="keys-close" on:click=move |_| {
                if let Some(dialog) = dialog.get_untracked() {
                    dialog.close();
                }
            }>{move || say("key-close")}</button></p>
        </dialog>
    }
}

#[component]
fn Group(title: &'static str, keys: &'static [(&'static str, &'static str)]) -> impl IntoView {
    view! {
        <h3>{move || say(title)}</h3>
        <dl>
            {keys.iter().map(|(key, what)| view! {
                <div><dt><kbd>{*key}</kbd></dt><dd>{move || say(what)}</dd></div>
            }).collect_view()}
        </dl>
    }
}
