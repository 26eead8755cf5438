//! What is known of an instrument, entered field by field; and a new one, entered at once.

use field::{Act, InstrumentTyped};
use inspection::InstrumentId;
use leptos::prelude::*;

use super::Shared;
use crate::app::{app, say, say_with, texts};
use crate::browser::focus_soon;
use crate::screens::tray::focus;

/// One of what is typed.
type Of = fn(&mut InstrumentTyped) -> &mut String;

/// How a field is typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    Words,
    /// Words, of which some are offered.
    Kind,
    Day,
    Number,
}

/// One that is in the list: each field is entered when it is left, as one act that can be taken back.
#[component]
pub(super) fn Known(id: InstrumentId, shared: Shared) -> impl IntoView {
    let of = id.clone();
    let kept = Memo::new(move |_| {
        shared.list.with(|list| {
            let row = list.rows.iter().find(|row| row.id == of);
            row.map(|row| row.typed.clone()).unwrap_or_default()
        })
    });
    let typed = RwSignal::new(kept.get_untracked());
    // What somebody else, or taking back, has changed comes in unless something is being typed here.
    Effect::new(move |before: Option<InstrumentTyped>| {
        let now = kept.get();
        if before.is_none_or(|before| typed.with_untracked(|typed| *typed == before)) {
            typed.set(now.clone());
        }
        now
    });
    let enter = Callback::new(move |()| {
        if typed.get_untracked() == kept.get_untracked() {
            return;
        }
        match typed.with_untracked(InstrumentTyped::read) {
            Ok(after) => {
                if app().act(Act::SetInstrument { id: id.clone(), after }) {
                    typed.set(kept.get_untracked());
                }
            }
            // What was refused stays in the field.
            Err(said) => app().say(texts().of(&said)),
        }
    });
    let unsaved = move || (typed.get() != kept.get()).then_some("true");
    view! {
        <section class="instrument-one" aria-labelledby="instrument-at-hand" data-unsaved=unsaved>
            <h2 id="instrument-at-hand">{move || kept.with(|kept| kept.name.clone())}</h2>
            <Fields shared typed enter/>
            <p class="actions"><button type="button" id="instrument-take-out" on:click=move |_| shared.take_out()>{move || say("instrument-take-out")}</button></p>
        </section>
    }
}

/// A new one.
#[component]
pub(super) fn New(shared: Shared) -> impl IntoView {
    let typed = RwSignal::new(InstrumentTyped::default());
    let add = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        match typed.with_untracked(InstrumentTyped::read) {
            Ok(after) => {
                let id = app().visit_untracked(|visit| visit.instrument_id(&after.name));
                let Some(id) = id else { return };
                if app().act(Act::SetInstrument { id: id.clone(), after }) {
                    shared.at_hand.set(Some(id));
                    shared.adding.set(false);
                    focus_soon("instrument-list");
                }
            }
            Err(said) => app().say(texts().of(&said)),
        }
    };
    let unsaved =
        move || typed.with(|typed| *typed != InstrumentTyped::default()).then_some("true");
    let some = Memo::new(move |_| shared.list.with(|list| !list.rows.is_empty()));
    view! {
        <form class="instrument-one" aria-labelledby="instrument-at-hand" novalidate on:submit=add data-unsaved=unsaved>
            <h2 id="instrument-at-hand">{move || say("instrument-new")}</h2>
            <Fields shared typed enter=Callback::new(|()| ())/>
            <p class="actions">
                <button type="submit" class="primary" id="instrument-add-do">{move || say("instrument-add-do")}</button>
                {move || some.get().then(|| view! {
                    <button type="button" on:click=move |_| { shared.adding.set(false); focus_soon("instrument-list"); }>{say("instrument-cancel")}</button>
                })}
            </p>
        </form>
    }
}

#[component]
fn Fields(shared: Shared, typed: RwSignal<InstrumentTyped>, enter: Callback<()>) -> impl IntoView {
    let kinds = shared.kinds.get_value();
    let example = kinds.first().map(|(key, _)| *key).unwrap_or_default();
    view! {
        <Field id="instrument-name" label="instrument-name" of=|it| &mut it.name typed enter/>
        <Field id="instrument-kind" label="instrument-kind" of=|it| &mut it.kind typed enter form=Form::Kind/>
        <p class="hint">{move || say_with("instrument-kind-hint", &[("example", &say(example).to_lowercase())])}</p>
        <datalist id="instrument-kinds">
            {kinds.into_iter().map(|(key, words)| view! { <option value=words>{move || say(key)}</option> }).collect_view()}
        </datalist>
        <Field id="instrument-serial" label="instrument-serial" of=|it| &mut it.serial typed enter/>
        <div class="two-fields">
            <Field id="instrument-calibrated" label="instrument-calibrated" of=|it| &mut it.calibrated typed enter form=Form::Day/>
            <Field id="instrument-due" label="instrument-due" of=|it| &mut it.due typed enter form=Form::Day/>
            <Field id="instrument-percent" label="instrument-percent" of=|it| &mut it.percent typed enter form=Form::Number/>
            <Field id="instrument-counts" label="instrument-counts" of=|it| &mut it.counts typed enter form=Form::Number/>
            <Field id="instrument-resolution" label="instrument-resolution" of=|it| &mut it.resolution typed enter/>
        </div>
        <p class="hint">{move || say("instrument-accuracy-hint")}</p>
    }
}

/// A field. Names, numbers and units are no words that a browser could spell.
#[component]
fn Field(
    /// Its id in the page.
    id: &'static str,
    /// The text of its label.
    label: &'static str,
    /// What of the instrument it is.
    of: Of,
    typed: RwSignal<InstrumentTyped>,
    /// Enters what is typed.
    enter: Callback<()>,
    #[prop(default = Form::Words)] form: Form,
) -> impl IntoView {
    let shown = move || typed.with(|typed| of(&mut typed.clone()).clone());
    view! {
        <div class="field">
            <label for=id>{move || say(label)}</label>
            <input id=id type=if form == Form::Day { "date" } else { "text" } autocomplete="off" spellcheck="false"
                inputmode=(form == Form::Number).then_some("decimal") list=(form == Form::Kind).then_some("instrument-kinds")
                prop:value=shown
                on:input=move |event| typed.update(|typed| *of(typed) = event_target_value(&event))
                on:blur=move |_| enter.run(())
                on:keydown=move |event| match event.key().as_str() {
                    "Enter" => enter.run(()),
                    "Escape" => focus("instrument-list"),
                    _ => {}
                }/>
        </div>
    }
}
