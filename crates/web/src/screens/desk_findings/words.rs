//! A finding's words.

use field::view::{FindingCard, FindingRow};
use field::{Act, FindingChange};
use leptos::prelude::*;

use super::super::report_language;
use super::super::stock::StockSentences;
use super::super::tray::focus;
use super::{Card, Typed};
use crate::app::{app, say, say_with};
use crate::line::FindingTyped;

/// Its words: entered when the field is left, shown on the page beside while they are typed.
#[component]
pub(super) fn Words(
    key: String,
    card: Card,
    typed: Typed,
    row: Memo<Option<FindingRow>>,
) -> impl IntoView {
    let known = card.get_untracked();
    let text =
        |of: fn(&FindingCard) -> String| RwSignal::new(known.as_ref().map(of).unwrap_or_default());
    let title = text(|card| card.row.title.clone());
    let statement = text(|card| card.row.own_words().to_owned());
    let who = text(|card| card.row.who.clone());
    // What somebody else, or taking back, has changed comes in unless it is being typed here.
    Effect::new(move |_| {
        if let Some(row) = row.get().filter(|_| typed.get_untracked().is_none()) {
            statement.set(row.own_words().to_owned());
            title.set(row.title);
            who.set(row.who);
        }
    });
    let (of, stock_key) = (key.clone(), key.clone());
    let type_in = move |field: RwSignal<String>, text: String| {
        field.set(text);
        typed.set(Some(FindingTyped {
            key: of.clone(),
            title: title.get_untracked(),
            statement: statement.get_untracked(),
            who: who.get_untracked(),
            ..FindingTyped::default()
        }));
    };
    let enter = move |change: FindingChange| {
        typed.set(None);
        app().act(Act::EditFinding { key: key.clone(), change });
    };
    let (type_title, type_statement, type_who) = (type_in.clone(), type_in.clone(), type_in);
    let enter_stock = enter.clone();
    let (enter_title, enter_statement, enter_who) = (enter.clone(), enter.clone(), enter);
    let put_in = Callback::new(move |text: String| {
        statement.set(text.clone());
        enter_stock(FindingChange::Statement(text));
    });
    let unsaved = move || typed.get().is_some().then_some("true");
    let back = move |event: leptos::ev::KeyboardEvent| {
        if event.key() == "Escape" {
            focus("finding-list");
        }
    };
    let drafted = Memo::new(move |_| {
        card.with(|card| {
            card.as_ref().and_then(|card| card.drafted.as_ref().map(|it| it.statement.clone()))
        })
    });
    let differs = Memo::new(move |_| {
        card.with(|card| card.as_ref().is_some_and(|card| !card.own_statement.is_empty()))
    });
    view! {
        <div data-unsaved=unsaved>
            <div class="field">
                <label for="finding-heading">{move || say("finding-heading")}</label>
                <input id="finding-heading" type="text" autocomplete="off" spellcheck="true" lang=report_language prop:value=move || title.get() on:keydown=back
                    on:input=move |event| type_title(title, event_target_value(&event))
                    on:change=move |_| enter_title(FindingChange::Title(title.get_untracked()))/>
            </div>
            <div class="field">
                <label for="finding-statement">{move || say("finding-statement")}</label>
                <textarea id="finding-statement" rows="5" spellcheck="true" lang=report_language prop:value=move || statement.get() on:keydown=back
                    on:input=move |event| type_statement(statement, event_target_value(&event))
                    on:change=move |_| enter_statement(FindingChange::Statement(statement.get_untracked()))></textarea>
                {move || differs.get().then(|| drafted.get()).flatten().map(|drafted| view! { <p class="hint">{say_with("finding-as-drafted", &[("text", &drafted)])}</p> })}
            </div>
            <StockSentences field="finding-statement" statement key=Some(stock_key) point=None enter=put_in/>
            <div class="field">
                <label for="finding-who">{move || say("finding-who")}</label>
                <input id="finding-who" type="text" autocomplete="off" spellcheck="true" lang=report_language prop:value=move || who.get() on:keydown=back
                    on:input=move |event| type_who(who, event_target_value(&event))
                    on:change=move |_| enter_who(FindingChange::Who(who.get_untracked()))/>
            </div>
        </div>
    }
}
