//! A new job that inspects the unit of this one again, made by the server: it has every photo of then, and the next number.

use leptos::prelude::*;
use sync::JobId;
use wasm_bindgen_futures::spawn_local;

use super::{Screen, today};
use crate::app::{Line, Place, app, no_answer_words, say, say_with};
use crate::line::{AgainMade, AgainOffered, AgainWanted, NotDone, OfficeAsk};

/// How the offer stands.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Offer {
    /// The server is asked.
    UnderWay,
    /// It can be made; so many findings are carried.
    Here(usize),
    /// It cannot be made now. Why, in a sentence.
    No(String),
}

/// What would be carried, the day, who inspects, and the button that makes the job and opens it.
#[component]
pub(super) fn InspectAgain() -> impl IntoView {
    let number = RwSignal::new(String::new());
    let day = RwSignal::new(today().to_string());
    let inspector = RwSignal::new(String::new());
    let offer = RwSignal::new(Offer::UnderWay);
    let busy = RwSignal::new(false);
    let trouble = RwSignal::new(None::<String>);
    let line = Memo::new(move |_| app().line().get());
    let ask = move || {
        spawn_local(async move {
            let answer: Result<AgainOffered, NotDone> =
                app().ask_office(&OfficeAsk::AgainOffer).await;
            // The screen may be gone by now.
            let offered = match answer {
                Ok(offered) => {
                    let _number = number.try_set(offered.number);
                    let typed = inspector.try_with_untracked(|name| !name.is_empty());
                    if typed == Some(false) {
                        let _name = inspector.try_set(offered.inspector);
                    }
                    Offer::Here(offered.findings)
                }
                Err(why) => Offer::No(words(&why)),
            };
            let _shown = offer.try_set(offered);
        });
    };
    Effect::new(move |_| match line.get() {
        Line::Unpaired | Line::ShutOut(_) => offer.set(Offer::No(say("inspect-again-no-line"))),
        Line::Off | Line::Waiting | Line::Working => ask(),
    });
    let make = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        let typed = |value: RwSignal<String>| value.get_untracked().trim().to_owned();
        if busy.get_untracked() {
            return;
        }
        if typed(inspector).is_empty() || typed(number).is_empty() {
            return trouble.set(Some(say("inspect-again-incomplete")));
        }
        let wanted = AgainWanted {
            number: typed(number),
            visit: typed(day),
            inspector: typed(inspector),
            credentials: app().settings().with_untracked(|settings| {
                let own = settings.person.trim() == typed(inspector);
                if own { settings.credentials.clone() } else { String::new() }
            }),
        };
        trouble.set(None);
        busy.set(true);
        spawn_local(async move {
            let answer: Result<AgainMade, NotDone> =
                app().ask_office(&OfficeAsk::Again(wanted)).await;
            let _idle = busy.try_set(false);
            match answer {
                Ok(made) => open(&made),
                Err(why) => {
                    let taken =
                        matches!(&why, NotDone::Refused { reason, .. } if reason == "number_taken");
                    let _said = trouble.try_set(Some(words(&why)));
                    if taken {
                        ask();
                    }
                }
            }
        });
    };
    let standing = move || match offer.get() {
        Offer::UnderWay => say("office-under-way"),
        Offer::Here(findings) => {
            say_with("inspect-again-carries", &[("count", &findings.to_string())])
        }
        Offer::No(why) => why,
    };
    let word = move || match offer.get() {
        Offer::UnderWay => "under-way",
        Offer::Here(_) => "here",
        Offer::No(_) => "no",
    };
    let can = Memo::new(move |_| matches!(offer.get(), Offer::Here(_)));
    view! {
        <section class="inspect-again" aria-labelledby="inspect-again-title">
            <h2 id="inspect-again-title">{move || say("inspect-again-title")}</h2>
            <p class="hint">{move || say("inspect-again-hint")}</p>
            <p role="status" id="inspect-again-standing" data-standing=word>{standing}</p>
            {move || can.get().then(|| view! {
                <form class="fee-more" on:submit=make novalidate>
                    <div class="field narrow">
                        <label for="inspect-again-number">{say("shell-new-number")}</label>
                        <input id="inspect-again-number" type="text" autocomplete="off" prop:value=move || number.get()
                            on:input=move |event| number.set(event_target_value(&event))/>
                    </div>
                    <div class="field">
                        <label for="inspect-again-day">{say("inspect-again-day")}</label>
                        <input id="inspect-again-day" type="date" prop:value=move || day.get()
                            on:input=move |event| day.set(event_target_value(&event))/>
                    </div>
                    <div class="field">
                        <label for="inspect-again-inspector">{say("inspect-again-inspector")}</label>
                        <input id="inspect-again-inspector" type="text" autocomplete="name" prop:value=move || inspector.get()
                            on:input=move |event| inspector.set(event_target_value(&event))/>
                    </div>
                    <button type="submit" id="inspect-again-make" aria-disabled=move || busy.get().to_string()>
                        {move || if busy.get() { say("inspect-again-busy") } else { say("inspect-again-make") }}
                    </button>
                </form>
            })}
            <p role="alert" class="trouble" id="inspect-again-trouble">{move || trouble.get()}</p>
        </section>
    }
}

/// Opens the new job where what became of each finding is said; a photo that is not at the server is told of.
fn open(made: &AgainMade) {
    if !made.absent_photos.is_empty() {
        let count = made.absent_photos.len().to_string();
        app().say(say_with("inspect-again-absent", &[("count", &count)]));
    }
    match JobId::new(&made.job) {
        Ok(job) => app().go(Place::Job(job, Screen::Again(None))),
        Err(_) => app().go(Place::Jobs),
    }
}

/// Why it cannot be made.
fn words(why: &NotDone) -> String {
    match why {
        NotDone::NoLine => say("inspect-again-no-line"),
        NotDone::Refused { reason, .. } if reason == "one_job" => say("inspect-again-one-job"),
        other => no_answer_words(other),
    }
}
