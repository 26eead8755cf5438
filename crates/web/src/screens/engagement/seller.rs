//! Who charges, as it stands on every invoice from then on.

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::app::{Desk, app, say};
use crate::line::{OfficeAsk, Seller};

/// The form. It stands open where nobody is named yet.
#[component]
pub(super) fn WhoCharges(desk: Desk) -> impl IntoView {
    let known = Memo::new(move |_| {
        desk.engagement.with(|engagement| engagement.as_ref().map(|it| it.seller.clone()))
    });
    let text = || RwSignal::new(String::new());
    let (name, address, contact) = (text(), text(), text());
    let (tax_number, payment, prefix) = (text(), text(), text());
    let unsaved = RwSignal::new(false);
    Effect::new(move |_| {
        let Some(seller) = known.get().filter(|_| !unsaved.get_untracked()) else { return };
        name.set(seller.name);
        address.set(seller.address.join("\n"));
        contact.set(seller.contact);
        tax_number.set(seller.tax_number);
        payment.set(seller.payment);
        prefix.set(seller.prefix);
    });
    let keep = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        let typed = |field: RwSignal<String>| field.get_untracked().trim().to_owned();
        let seller = Seller {
            name: typed(name),
            address: address.with_untracked(|text| text.lines().map(str::to_owned).collect()),
            contact: typed(contact),
            tax_number: typed(tax_number),
            payment: typed(payment),
            prefix: typed(prefix),
        };
        spawn_local(async move {
            let kept: Option<Seller> =
                app().answer_of_the_office(desk, OfficeAsk::Seller(seller)).await;
            if kept.is_some() {
                let _saved = unsaved.try_set(false);
                app().look_again_at_the_office(desk).await;
            }
        });
    };
    let nobody = Memo::new(move |_| known.get().is_some_and(|seller| seller.name.is_empty()));
    view! {
        <details open=move || nobody.get() id="who-charges">
            <summary>{move || say("seller-title")}</summary>
            <form on:submit=keep data-unsaved=move || unsaved.get().then_some("true")>
                <p class="hint">{move || say("seller-hint")}</p>
                <div class="two-fields">
                    <Typed id="seller-name" label="seller-name" field=name unsaved/>
                    <Typed id="seller-contact" label="seller-contact" field=contact unsaved/>
                    <Typed id="seller-tax-number" label="seller-tax-number" field=tax_number unsaved/>
                    <Typed id="seller-prefix" label="seller-prefix" field=prefix unsaved/>
                </div>
                <div class="field">
                    <label for="seller-address">{move || say("seller-address")}</label>
                    <textarea id="seller-address" rows="3" spellcheck="false" prop:value=move || address.get()
                        on:input=move |event| { address.set(event_target_value(&event)); unsaved.set(true); }></textarea>
                </div>
                <Typed id="seller-payment" label="seller-payment" field=payment unsaved/>
                <p class="actions"><button type="submit" id="seller-keep">{move || say("seller-keep")}</button></p>
            </form>
        </details>
    }
}

#[component]
fn Typed(
    id: &'static str,
    label: &'static str,
    field: RwSignal<String>,
    unsaved: RwSignal<bool>,
) -> impl IntoView {
    view! {
        <div class="field">
            <label for=id>{move || say(label)}</label>
            <input id=id type="text" spellcheck="false" autocomplete="off" prop:value=move || field.get()
                on:input=move |event| { field.set(event_target_value(&event)); unsaved.set(true); }/>
        </div>
    }
}
