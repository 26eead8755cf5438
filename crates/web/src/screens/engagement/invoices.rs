//! Invoices and credit notes of the job: what stands on each, what came in, and what takes one back.

use field::amount_typed;
use inspection::{Currency, TaxRate};
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::app::{Desk, app, say, say_with, texts};
use crate::line::{CreditWanted, Invoice, OfficeAsk, PaymentNoted};
use crate::screens::marks::{Icon, Shape};

/// All of them, the newest first.
#[component]
pub(super) fn Invoices(desk: Desk) -> impl IntoView {
    let invoices = Memo::new(move |_| {
        desk.engagement.with(|engagement| {
            let invoices = engagement.iter().flat_map(|engagement| &engagement.invoices);
            invoices.rev().cloned().collect::<Vec<_>>()
        })
    });
    view! {
        <h3>{move || say("invoices-title")}</h3>
        {move || invoices.with(Vec::is_empty).then(|| view! { <p class="quiet">{say("invoices-none")}</p> })}
        <ul class="cards" id="invoices">
            // One whose standing has changed is drawn anew; the others keep what is being typed.
            <For each=move || invoices.get() key=|one| (one.number.clone(), one.state.clone(), one.paid) let:one>
                <One invoice=one desk/>
            </For>
        </ul>
    }
}

fn money(invoice: &Invoice) -> Currency {
    Currency::from_code(&invoice.currency).unwrap_or_default()
}

fn heading_id(number: &str) -> String {
    format!("invoice-{number}")
}

/// Goes to an invoice that has just changed, so that whoever works with keys goes on there.
pub(super) fn go_to(number: String) {
    request_animation_frame(move || {
        super::super::tray::focus(&heading_id(&number));
    });
}

/// Where it stands: a word for tests, a sign, and a sentence.
fn standing(invoice: &Invoice) -> (&'static str, Shape, String) {
    let left = money(invoice).write_with_code(invoice.left);
    let last = invoice.payments.last().map(|one| one.day.clone()).unwrap_or_default();
    match invoice.state.as_str() {
        "credit_note" => (
            "credit-note",
            Shape::NotFitted,
            say_with("invoice-credit-note", &[("number", &invoice.cancels)]),
        ),
        "cancelled" => ("cancelled", Shape::NotExamined, say("invoice-cancelled")),
        "open" if invoice.paid == 0 => ("open", Shape::Open, say("invoice-open")),
        "open" => ("part-paid", Shape::Begun, say_with("invoice-part-paid", &[("left", &left)])),
        _ => ("paid", Shape::Done, say_with("invoice-paid", &[("day", &last)])),
    }
}

#[component]
fn One(invoice: Invoice, desk: Desk) -> impl IntoView {
    let (word, shape, words) = standing(&invoice);
    let money = money(&invoice);
    let title = if invoice.cancels.is_empty() { "invoice-number" } else { "invoice-credit-number" };
    let title = say_with(title, &[("number", &invoice.number)]);
    let number = invoice.number.clone();
    let save = move |_| {
        let plain = |letter: char| if letter.is_ascii_alphanumeric() { letter } else { '-' };
        let name: String = number.chars().map(plain).collect();
        app().save_pdf(desk, OfficeAsk::InvoicePdf(number.clone()), format!("invoice-{name}.pdf"));
    };
    let pdf_name = say_with("invoice-pdf-of", &[("number", &invoice.number)]);
    let stands = ["open", "paid"].contains(&invoice.state.as_str());
    let open = invoice.state == "open";
    view! {
        <li class="card invoice" data-number=invoice.number.clone() data-state=word>
            <h4 id=heading_id(&invoice.number) tabindex="-1">{title}</h4>
            <p class="standing"><Icon shape/><span>{words}</span></p>
            <p class="row-facts">
                <span>{invoice.issued.clone()}</span><span>{invoice.client.clone()}</span>
                {(!invoice.due.is_empty()).then(|| view! { <span>{say_with("invoice-due", &[("day", &invoice.due)])}</span> })}
                {(!invoice.because.is_empty()).then(|| view! { <span>{say_with("invoice-because", &[("why", &invoice.because)])}</span> })}
            </p>
            <Lines invoice=invoice.clone() money/>
            <p class="actions"><button class="invoice-pdf" aria-label=pdf_name on:click=save>{say("invoice-pdf")}</button></p>
            {open.then(|| view! { <Pay invoice=invoice.clone() money desk/> })}
            {stands.then(|| view! { <TakeBack number=invoice.number.clone() desk/> })}
        </li>
    }
}

/// An amount that is taken off, behind a true minus sign.
fn taken_off(money: Currency, amount: i64) -> String {
    money.write(-amount).replace('-', "−")
}

/// Its lines, taxes and payments.
#[component]
fn Lines(invoice: Invoice, money: Currency) -> impl IntoView {
    view! {
        <table class="sums">
            <caption class="unseen">{say_with("invoice-number", &[("number", &invoice.number)])}</caption>
            <thead class="unseen"><tr><th scope="col">{say("fee-text")}</th><th scope="col">{say("fee-amount")}</th></tr></thead>
            <tbody>
                {invoice.lines.into_iter().map(|line| view! { <tr><th scope="row">{line.text}</th><td>{money.write(line.amount)}</td></tr> }).collect_view()}
                {invoice.taxes.into_iter().map(|tax| {
                    let rate = TaxRate { millionths: tax.millionths }.to_string();
                    let name = say_with("fee-tax-of", &[("name", &tax.name), ("rate", &rate), ("base", &money.write(tax.base))]);
                    view! { <tr><th scope="row">{name}</th><td>{money.write(tax.amount)}</td></tr> }
                }).collect_view()}
                <tr class="total"><th scope="row">{say("fee-total")}</th><td>{money.write_with_code(invoice.total)}</td></tr>
                {invoice.payments.into_iter().map(|one| {
                    let name = say_with("invoice-payment", &[("day", &one.day), ("how", &one.how)]);
                    view! { <tr><th scope="row">{name}</th><td>{taken_off(money, one.amount)}</td></tr> }
                }).collect_view()}
                {(invoice.left != invoice.total && invoice.state == "open").then(|| view! {
                    <tr class="total"><th scope="row">{say("invoice-left")}</th><td>{money.write_with_code(invoice.left)}</td></tr>
                })}
            </tbody>
        </table>
    }
}

/// A payment that came in.
#[component]
fn Pay(invoice: Invoice, money: Currency, desk: Desk) -> impl IntoView {
    let amount = RwSignal::new(money.write(invoice.left));
    let day = RwSignal::new(app().now().moment.local.date().to_string());
    let how = RwSignal::new(String::new());
    let [amount_id, day_id, how_id] =
        ["pay-amount", "pay-day", "pay-how"].map(|id| format!("{id}-{}", invoice.number));
    let heading = say_with("pay-title", &[("number", &invoice.number)]);
    let pay = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        let amount = match amount_typed(money.code(), &amount.get_untracked()) {
            Ok(amount) => amount,
            Err(why) => return app().say(texts().of(&why)),
        };
        let noted = PaymentNoted {
            number: invoice.number.clone(),
            amount,
            day: day.get_untracked(),
            how: how.get_untracked().trim().to_owned(),
            paid_before: invoice.paid,
        };
        if noted.how.is_empty() {
            return app().say(say("office-no-way"));
        }
        spawn_local(async move {
            let number = noted.number.clone();
            if app().at_the_office(desk, OfficeAsk::Payment(noted)).await {
                go_to(number);
            }
        });
    };
    view! {
        <form class="fee-more pay" on:submit=pay aria-label=heading
            data-unsaved=move || (!how.get().is_empty()).then_some("true")>
            <div class="field narrow">
                <label for=amount_id.clone()>{say("pay-amount")}</label>
                <input id=amount_id type="text" inputmode="decimal" spellcheck="false" class="amount pay-amount" autocomplete="off" prop:value=move || amount.get()
                    on:input=move |event| amount.set(event_target_value(&event))/>
            </div>
            <div class="field">
                <label for=day_id.clone()>{say("pay-day")}</label>
                <input id=day_id type="date" class="pay-day" prop:value=move || day.get()
                    on:input=move |event| day.set(event_target_value(&event))/>
            </div>
            <div class="field">
                <label for=how_id.clone()>{say("pay-how")}</label>
                <input id=how_id type="text" class="pay-how" autocomplete="off" prop:value=move || how.get()
                    on:input=move |event| how.set(event_target_value(&event))/>
            </div>
            <button type="submit" class="pay-note">{say("pay-note")}</button>
        </form>
    }
}

/// Takes an invoice back by a credit note.
#[component]
fn TakeBack(number: String, desk: Desk) -> impl IntoView {
    let because = RwSignal::new(String::new());
    let id = format!("credit-why-{number}");
    let summary = say_with("credit-title", &[("number", &number)]);
    let credit = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        let wanted = CreditWanted {
            number: number.clone(),
            because: because.get_untracked().trim().to_owned(),
            date: app().now().moment.local.date().to_string(),
        };
        if wanted.because.is_empty() {
            return app().say(say("office-no-reason"));
        }
        spawn_local(async move {
            let number = wanted.number.clone();
            if app().at_the_office(desk, OfficeAsk::Credit(wanted)).await {
                go_to(number);
            }
        });
    };
    view! {
        <details class="credit">
            <summary>{summary}</summary>
            <form on:submit=credit data-unsaved=move || (!because.get().is_empty()).then_some("true")>
                <p class="hint">{say("credit-hint")}</p>
                <div class="field">
                    <label for=id.clone()>{say("credit-why")}</label>
                    <input id=id type="text" class="credit-why" autocomplete="off" spellcheck="true" prop:value=move || because.get()
                        on:input=move |event| because.set(event_target_value(&event))/>
                </div>
                <p class="actions"><button type="submit" class="credit-make">{say("credit-make")}</button></p>
            </form>
        </details>
    }
}
