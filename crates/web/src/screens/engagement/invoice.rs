//! What is charged, and the invoice of it: numbered by the server, without a gap.

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::Sheet;
use super::fee::Sums;
use super::invoices::{Invoices, go_to};
use super::seller::WhoCharges;
use crate::app::{Desk, app, say};
use crate::line::{InvoiceWanted, OfficeAsk};

/// An invoice is to be paid within so many days unless another number is typed.
const DAYS: &str = "14";

/// The part of the screen.
#[component]
pub(super) fn Invoicing(sheet: Sheet, desk: Desk) -> impl IntoView {
    let sums = Memo::new(move |_| {
        sheet.with(|sheet| sheet.agreement.as_ref().and_then(|it| it.sums.clone()))
    });
    view! {
        <h2 id="invoice-title">{move || say("invoice-title")}</h2>
        {move || match sums.get() {
            Some(sums) => view! { <Sums sums/> }.into_any(),
            None => view! { <p class="hint">{say("invoice-no-fee")}</p> }.into_any(),
        }}
        <Make sheet desk/>
        <PagesWait desk/>
        <Invoices desk/>
        <WhoCharges desk/>
    }
}

/// Makes the invoice.
#[component]
fn Make(sheet: Sheet, desk: Desk) -> impl IntoView {
    let days = RwSignal::new(DAYS.to_owned());
    // The job has one that stands.
    let stands = Memo::new(move |_| {
        desk.engagement.with(|engagement| {
            let invoices = engagement.iter().flat_map(|engagement| &engagement.invoices);
            invoices.into_iter().any(|one| one.state == "open" || one.state == "paid")
        })
    });
    let make = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        let typed = days.get_untracked();
        let days = match typed.trim() {
            "" => None,
            text => match text.parse::<u16>() {
                Ok(days) if days <= 366 => Some(days),
                Ok(_) | Err(_) => return app().say(say("office-days")),
            },
        };
        let total = sheet.with_untracked(|sheet| {
            let sums = sheet.agreement.as_ref().and_then(|it| it.sums.as_ref());
            sums.map(|sums| sums.total_minor)
        });
        let seen = desk
            .engagement
            .with_untracked(|engagement| engagement.as_ref().map(|it| it.invoices.len()));
        let Some(total) = total else { return app().say(say("office-no-fee")) };
        // What nobody has seen yet cannot be confirmed.
        let Some(seen) = seen else { return app().say(say("office-no-line")) };
        let wanted = InvoiceWanted {
            date: app().now().moment.local.date().to_string(),
            days,
            another: stands.get_untracked(),
            total,
            seen,
        };
        spawn_local(async move {
            if app().at_the_office(desk, OfficeAsk::Invoice(wanted)).await {
                // The screen may be gone by now.
                let newest = desk.engagement.try_with_untracked(|engagement| {
                    let mut invoices = engagement.iter().flat_map(|it| &it.invoices);
                    invoices.rfind(|one| one.cancels.is_empty()).map(|one| one.number.clone())
                });
                if let Some(number) = newest.flatten() {
                    go_to(number);
                }
            }
        });
    };
    view! {
        <form class="fee-more" on:submit=make>
            <div class="field narrow">
                <label for="invoice-days">{move || say("invoice-days")}</label>
                <input id="invoice-days" type="text" inputmode="numeric" spellcheck="false" autocomplete="off" prop:value=move || days.get()
                    on:input=move |event| days.set(event_target_value(&event))/>
            </div>
            <button type="submit" id="make-invoice" class:primary=move || !stands.get()>
                {move || say(if stands.get() { "invoice-make-another" } else { "invoice-make" })}
            </button>
        </form>
    }
}

/// Whether the client's page waits for payment.
#[component]
fn PagesWait(desk: Desk) -> impl IntoView {
    let waits = Memo::new(move |_| {
        desk.engagement.with(|engagement| engagement.as_ref().is_some_and(|it| it.pages_wait))
    });
    // Addresses that were given before there was anything to stand for the page meanwhile.
    let open = Memo::new(move |_| {
        desk.engagement.with(|engagement| {
            let Some(engagement) = engagement else { return false };
            let paid = engagement.invoices.iter().any(|one| one.state == "paid")
                && engagement.invoices.iter().all(|one| one.state != "open");
            let mut links = engagement.links.iter();
            !paid && links.any(|link| link.good && link.leads_to == "page" && !link.waits)
        })
    });
    view! {
        <button class="switch" role="switch" id="pages-wait" aria-checked=move || waits.get().to_string()
            on:click=move |_| {
                let wait = !waits.get_untracked();
                spawn_local(async move {
                    app().at_the_office(desk, OfficeAsk::PagesWait(wait)).await;
                });
            }>
            <span class="knob" aria-hidden="true"></span><span>{move || say("pages-wait")}</span>
        </button>
        <p class="hint">{move || say("pages-wait-hint")}</p>
        {move || (waits.get() && open.get()).then(|| view! { <p class="hint flag">{say("pages-wait-older")}</p> })}
    }
}
