//! A field whose text is entered when it is left, as one act that can be taken back.

use field::{Act, EngagementChange};
use leptos::prelude::*;

use crate::app::{app, say};

/// How a field is typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    /// A line.
    Line,
    /// A day.
    Day,
    /// So many lines.
    Lines(u32),
}

/// The field. What somebody else, or taking back, has changed comes in unless something is being typed here.
#[component]
pub(super) fn Entered(
    /// Its id in the page.
    id: &'static str,
    /// The text of its label.
    label: &'static str,
    /// What the record says.
    #[prop(into)]
    value: Signal<String>,
    /// What entering it changes.
    change: fn(String) -> EngagementChange,
    /// How it is typed.
    #[prop(default = Form::Line)]
    form: Form,
    /// The language that a browser spells it in; names, days and ways to reach somebody are spelled in none.
    #[prop(optional)]
    spelled: Option<Memo<String>>,
) -> impl IntoView {
    let typed = RwSignal::new(None::<String>);
    let shown = move || typed.get().unwrap_or_else(|| value.get());
    let unsaved = move || typed.with(Option::is_some).then_some("true");
    let enter = move || {
        let Some(text) = typed.get_untracked() else { return };
        // What was refused stays in the field.
        if app().act(Act::ChangeEngagement(change(text))) {
            typed.set(None);
        }
    };
    let spellcheck = if spelled.is_some() { "true" } else { "false" };
    let language = move || spelled.map(|spelled| spelled.get());
    let input = move |event| typed.set(Some(event_target_value(&event)));
    view! {
        <div class="field" data-unsaved=unsaved>
            <label for=id>{move || say(label)}</label>
            {match form {
                Form::Lines(rows) => view! {
                    <textarea id=id rows=rows spellcheck=spellcheck lang=language prop:value=shown on:input=input on:change=move |_| enter()></textarea>
                }.into_any(),
                Form::Line | Form::Day => view! {
                    <input id=id type=if form == Form::Day { "date" } else { "text" } autocomplete="off"
                        spellcheck=spellcheck lang=language prop:value=shown on:input=input on:change=move |_| enter()/>
                }.into_any(),
            }}
        </div>
    }
}
