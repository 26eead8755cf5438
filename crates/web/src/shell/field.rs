//! One labelled field of a form.

use leptos::prelude::*;

/// A line to be typed, with its label and a hint below.
#[component]
pub(super) fn TextField(
    /// Its id in the page.
    id: &'static str,
    /// The label.
    #[prop(into)]
    label: Signal<String>,
    /// What is typed.
    value: RwSignal<String>,
    /// A hint.
    #[prop(optional, into)]
    hint: Option<Signal<String>>,
    /// What the browser may fill in.
    #[prop(default = "off")]
    autocomplete: &'static str,
    /// Whether something must be typed.
    #[prop(optional)]
    required: bool,
) -> impl IntoView {
    let hint_id = format!("{id}-hint");
    let described = hint.is_some().then(|| hint_id.clone());
    view! {
        <div class="field">
            <label for=id>{move || label.get()}</label>
            <input id=id type="text" spellcheck="false" autocomplete=autocomplete required=required aria-describedby=described
                prop:value=move || value.get()
                on:input=move |event| value.set(event_target_value(&event))/>
            {hint.map(|hint| view! { <p class="hint" id=hint_id>{move || hint.get()}</p> })}
        </div>
    }
}

/// One of a few things, as large buttons.
#[component]
pub(super) fn Choice(
    /// Its name in the page.
    name: &'static str,
    /// The question.
    #[prop(into)]
    label: Signal<String>,
    /// Word and label of each.
    #[prop(into)]
    choices: Signal<Vec<(String, String)>>,
    /// The chosen word.
    #[prop(into)]
    chosen: Signal<String>,
    /// Told when another is chosen.
    choose: impl Fn(String) + Copy + Send + Sync + 'static,
) -> impl IntoView {
    view! {
        <fieldset class="choice">
            <legend>{move || label.get()}</legend>
            <div class="choices">
                {move || choices.get().into_iter().map(|(word, label)| {
                    let (value, word_again, id) = (word.clone(), word.clone(), format!("{name}-{word}"));
                    view! {
                        <div class="option">
                        <input type="radio" id=id.clone() name=name value=value
                            prop:checked=move || chosen.get() == word
                            on:change=move |_| choose(word_again.clone())/>
                        <label for=id>{label}</label>
                        </div>
                    }
                }).collect_view()}
            </div>
        </fieldset>
    }
}
