//! What is put to the client, and where their consent stands.

use field::view::{AgreementSheet, AgreementStanding, ConsentRow};
use field::{Act, EngagementChange, Language};
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::Sheet;
use super::address::Addresses;
use super::entered::{Entered, Form};
use super::fee::Fee;
use crate::app::{Desk, app, say, say_with};
use crate::line::{OfficeAsk, Terms};
use crate::screens::marks::{Icon, Shape};

/// The part of the screen.
#[component]
pub(super) fn Agreement(sheet: Sheet, desk: Desk) -> impl IntoView {
    let there = Memo::new(move |_| sheet.with(|sheet| sheet.agreement.is_some()));
    let of = move |look: fn(&field::view::EngagementSheet) -> String| {
        Signal::derive(move || sheet.with(look))
    };
    let of_agreement = move |look: fn(&AgreementSheet) -> String| {
        Signal::derive(move || {
            sheet.with(|sheet| sheet.agreement.as_ref().map(look).unwrap_or_default())
        })
    };
    let language = language(sheet);
    view! {
        <h2 id="agreement-title">{move || say("agreement-title")}</h2>
        <Standing sheet desk/>
        {move || match there.get() {
            false => view! { <Begin desk/> }.into_any(),
            true => view! {
                <div class="two-fields">
                    <Entered id="agreed-client" label="agreement-client" value=of(|it| it.client.clone()) change=EngagementChange::Client/>
                    <Entered id="agreed-contact" label="agreement-contact" value=of(|it| it.contact.clone()) change=EngagementChange::Contact/>
                    <Entered id="agreed-unit" label="agreement-unit" value=of_agreement(|it| it.unit.clone()) change=EngagementChange::Unit/>
                    <Entered id="agreed-site" label="agreement-site" value=of(|it| it.site.clone()) change=EngagementChange::Site/>
                    <Entered id="agreed-purpose" label="agreement-purpose" value=of(|it| it.purpose.clone()) change=EngagementChange::Purpose spelled=language/>
                    <Entered id="agreed-day" label="agreement-day" value=of_agreement(|it| it.day.clone()) change=EngagementChange::Day form=Form::Day/>
                </div>
                <Entered id="agreed-scope" label="agreement-scope" value=of(|it| it.scope.clone()) change=EngagementChange::Scope form=Form::Lines(3) spelled=language/>
                <Entered id="agreed-limits" label="agreement-limits" value=of(|it| it.limits.clone()) change=EngagementChange::Limits form=Form::Lines(3) spelled=language/>
                <Fee sheet/>
                <Entered id="agreed-payment" label="agreement-payment" value=of_agreement(|it| it.payment.clone()) change=EngagementChange::Payment spelled=language/>
                <TermsField sheet desk/>
                <Addresses sheet desk/>
                <Consents sheet/>
            }.into_any(),
        }}
    }
}

/// Where it stands, in one line with a sign.
#[component]
fn Standing(sheet: Sheet, desk: Desk) -> impl IntoView {
    let standing = Memo::new(move |_| sheet.with(|sheet| sheet.standing.clone()));
    // Whether it was sent is known to the server alone.
    let sent = Memo::new(move |_| {
        desk.engagement.with(|engagement| {
            let links = engagement.as_ref().map(|engagement| &engagement.links)?;
            let good = links.iter().filter(|link| link.good && link.leads_to == "agreement");
            Some(good.count() > 0)
        })
    });
    let by = |row: &ConsentRow, key: &str, from: &str| {
        let with = [
            ("name", row.name.as_str()),
            ("at", row.at.as_str()),
            ("address", row.address.as_str()),
        ];
        if row.address.is_empty() { say_with(key, &with) } else { say_with(from, &with) }
    };
    let words = move || match standing.get() {
        AgreementStanding::Nothing => say("agreement-nothing"),
        AgreementStanding::InWords(words) => say_with("agreement-in-words", &[("words", &words)]),
        AgreementStanding::Waiting => match sent.get() {
            Some(false) => say("agreement-not-sent"),
            Some(true) | None => say("agreement-waiting"),
        },
        AgreementStanding::Agreed(row) => by(&row, "agreement-agreed", "agreement-agreed-from"),
        AgreementStanding::Changed(row) => {
            say_with("agreement-changed", &[("name", &row.name), ("at", &row.at)])
        }
    };
    let word = move || match standing.get() {
        AgreementStanding::Nothing => "nothing",
        AgreementStanding::InWords(_) => "in-words",
        AgreementStanding::Waiting if sent.get() == Some(false) => "not-sent",
        AgreementStanding::Waiting => "waiting",
        AgreementStanding::Agreed(_) => "agreed",
        AgreementStanding::Changed(_) => "changed",
    };
    let shape = move || match standing.get() {
        AgreementStanding::Nothing => Shape::Open,
        AgreementStanding::InWords(_) => Shape::Within,
        AgreementStanding::Waiting => Shape::Begun,
        AgreementStanding::Agreed(_) => Shape::Good,
        AgreementStanding::Changed(_) => Shape::Beyond,
    };
    view! {
        <p role="status" id="agreement-standing" class="standing" data-standing=word>
            {move || view! { <Icon shape=shape()/> }}<span>{words}</span>
        </p>
    }
}

/// Begins an agreement, with the terms in the words of whoever inspects; without the server, in the plan's.
#[component]
fn Begin(desk: Desk) -> impl IntoView {
    let begin = move |_| {
        let language = app().settings().with_untracked(|settings| settings.language);
        spawn_local(async move {
            let terms = terms_in(desk, language.code()).await;
            app().act(Act::PutAgreement { language: language.code().to_owned(), terms });
            request_animation_frame(|| super::super::tray::focus("agreed-client"));
        });
    };
    view! {
        <p class="hint">{move || say("agreement-begin-hint")}</p>
        <p class="actions"><button class="primary" id="put-agreement" on:click=begin>{move || say("agreement-begin")}</button></p>
    }
}

/// Terms in a language: the office's own words, else the plan's as the job carries them.
async fn terms_in(desk: Desk, language: &str) -> Vec<String> {
    let own: Option<Terms> = match desk.standing.get_untracked() {
        crate::app::DeskStanding::Fresh => {
            app().ask_office(&OfficeAsk::Terms(language.to_owned())).await.ok()
        }
        _ => None,
    };
    let of_plan = || app().visit_untracked(|visit| visit.plan().terms.clone()).unwrap_or_default();
    own.map_or_else(of_plan, |own| own.terms)
}

/// The agreement's language.
pub(super) fn language(sheet: Sheet) -> Memo<String> {
    Memo::new(move |_| {
        sheet.with(|sheet| {
            sheet.agreement.as_ref().map(|it| it.language.clone()).unwrap_or_default()
        })
    })
}

/// The language and the terms.
#[component]
fn TermsField(sheet: Sheet, desk: Desk) -> impl IntoView {
    let language = language(sheet);
    let terms = Signal::derive(move || {
        sheet.with(|sheet| sheet.agreement.as_ref().map(|it| it.terms.clone()).unwrap_or_default())
    });
    let typed = RwSignal::new(None::<String>);
    let enter = move || {
        let Some(text) = typed.get_untracked() else { return };
        let change = EngagementChange::Terms { language: language.get_untracked(), text };
        if app().act(Act::ChangeEngagement(change)) {
            typed.set(None);
        }
    };
    let choose = move |event| {
        let code = event_target_value(&event);
        typed.set(None);
        spawn_local(async move {
            let text = terms_in(desk, &code).await.join("\n\n");
            app().act(Act::ChangeEngagement(EngagementChange::Terms { language: code, text }));
        });
    };
    view! {
        <details>
            <summary>{move || say("agreement-terms")}</summary>
            <div class="field">
                <label for="agreed-language">{move || say("agreement-language")}</label>
                <select id="agreed-language" prop:value=move || language.get() on:change=choose>
                    {Language::ALL.into_iter().map(|one| view! {
                        <option value=one.code() selected=move || language.get() == one.code()>{one.own_name()}</option>
                    }).collect_view()}
                </select>
                <p class="hint">{move || say("agreement-language-hint")}</p>
            </div>
            <div class="field" data-unsaved=move || typed.with(Option::is_some).then_some("true")>
                <label for="agreed-terms">{move || say("agreement-terms-text")}</label>
                <textarea id="agreed-terms" rows="12" spellcheck="true" lang=move || language.get() prop:value=move || typed.get().unwrap_or_else(|| terms.get())
                    on:input=move |event| typed.set(Some(event_target_value(&event))) on:change=move |_| enter()></textarea>
            </div>
        </details>
    }
}

/// Each consent as it was given. None is ever changed here: it is the client's act.
#[component]
fn Consents(sheet: Sheet) -> impl IntoView {
    let consents = Memo::new(move |_| sheet.with(|sheet| sheet.consents.clone()));
    view! {
        {move || consents.with(|all| !all.is_empty()).then(|| view! {
            <h3>{say("consents-title")}</h3>
            <ul class="cards" id="consents">
                {consents.get().into_iter().map(|row| view! { <Given row/> }).collect_view()}
            </ul>
        })}
    }
}

#[component]
fn Given(row: ConsentRow) -> impl IntoView {
    let name = say_with("consent-signature", &[("name", &row.name)]);
    view! {
        <li class="card">
            <p><strong>{row.name.clone()}</strong></p>
            <p class="row-facts">
                <span>{row.at}</span>
                <span>{say(row.how)}</span>
                {(!row.address.is_empty()).then(|| view! { <span>{say_with("consent-from", &[("address", &row.address)])}</span> })}
                {(!row.by.is_empty()).then(|| view! { <span>{say_with("consent-entered-by", &[("name", &row.by)])}</span> })}
            </p>
            {(!row.drawn.is_empty()).then(|| view! {
                <svg class="signature" viewBox="0 0 1000 300" role="img" aria-label=name><path d=row.drawn.clone()></path></svg>
            })}
            <p class="hint">{say(if row.holds { "consent-holds" } else { "consent-earlier" })}</p>
        </li>
    }
}
