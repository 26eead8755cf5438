//! The client's address: made by the server, shown once, copied; and the agreement as a PDF.

use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::{JsFuture, spawn_local};

use super::{Sheet, time};
use crate::app::{Desk, app, say, say_with};
use crate::browser::{call, window};
use crate::line::{LinkMade, LinkStanding, OfficeAsk};

/// An address is good for so many days unless another number is typed.
const DAYS: &str = "30";

/// Makes and lists addresses.
#[component]
pub(super) fn Addresses(sheet: Sheet, desk: Desk) -> impl IntoView {
    let days = RwSignal::new(DAYS.to_owned());
    let made = RwSignal::new(None::<LinkMade>);
    let make = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        let Ok(days) = days.get_untracked().trim().parse::<u16>() else {
            return app().say(say("office-days"));
        };
        spawn_local(async move {
            let link = app().answer_of_the_office(desk, OfficeAsk::AgreementLink(days)).await;
            if let Some(link) = link {
                let _shown = made.try_set(Some(link));
                request_animation_frame(|| super::super::tray::focus("copy-address"));
                app().look_again_at_the_office(desk).await;
            }
        });
    };
    let save = move |_| {
        let number = sheet.with_untracked(|sheet| sheet.number.clone());
        app().save_pdf(desk, OfficeAsk::AgreementPdf, format!("agreement-{number}.pdf"));
    };
    let links = Memo::new(move |_| {
        desk.engagement.with(|engagement| {
            let links = engagement.iter().flat_map(|engagement| &engagement.links);
            links.filter(|link| link.leads_to == "agreement").cloned().collect::<Vec<_>>()
        })
    });
    view! {
        <h3>{move || say("address-title")}</h3>
        <p class="hint">{move || say("address-hint")}</p>
        <form class="fee-more" on:submit=make>
            <div class="field narrow">
                <label for="address-days">{move || say("address-days")}</label>
                <input id="address-days" type="text" inputmode="numeric" spellcheck="false" autocomplete="off" prop:value=move || days.get()
                    on:input=move |event| days.set(event_target_value(&event))/>
            </div>
            <button type="submit" id="make-address">{move || say("address-make")}</button>
            <button type="button" id="agreement-pdf" on:click=save>{move || say("agreement-pdf")}</button>
        </form>
        {move || made.get().map(|link| view! { <Fresh link/> })}
        {move || links.with(|links| !links.is_empty()).then(|| view! {
            <ul class="facts" id="addresses">
                {links.get().into_iter().map(|link| view! { <li>{words(&link)}</li> }).collect_view()}
            </ul>
        })}
    }
}

/// A new address, in sight until the screen is left: nobody can show it again.
#[component]
fn Fresh(link: LinkMade) -> impl IntoView {
    let copied = RwSignal::new(None::<bool>);
    let address = link.address.clone();
    let copy = move |_| {
        let address = address.clone();
        spawn_local(async move {
            let done = to_clipboard(&address).await;
            let _said = copied.try_set(Some(done));
        });
    };
    let until = time(link.expires_unix_ms);
    view! {
        <div class="note">
            <div class="field">
                <label for="client-address">{say("address-once")}</label>
                <input id="client-address" type="text" readonly value=link.address/>
                <p class="hint">{say_with("address-until", &[("time", &until)])}</p>
            </div>
            <p class="actions"><button id="copy-address" on:click=copy>{say("address-copy")}</button></p>
            <p role="status" id="address-copied">{move || copied.get().map(|done| say(if done { "address-copied" } else { "address-not-copied" }))}</p>
        </div>
    }
}

/// Copies a text; whether that worked. Where it did not, the text is marked, so that one can copy it by hand.
async fn to_clipboard(text: &str) -> bool {
    let written = async {
        let navigator = window()?.navigator();
        let clipboard = js_sys::Reflect::get(&navigator, &"clipboard".into()).ok()?;
        let promise = call(&clipboard, "writeText", &[text.into()]).ok()?;
        JsFuture::from(promise.dyn_into::<js_sys::Promise>().ok()?).await.ok()
    };
    let done = written.await.is_some();
    if !done {
        let field = window()
            .and_then(|window| window.document())
            .and_then(|document| document.get_element_by_id("client-address"))
            .and_then(|field| field.dyn_into::<web_sys::HtmlInputElement>().ok());
        if let Some(field) = field {
            field.select();
            drop(field.focus());
        }
    }
    done
}

/// An address that was given, in words.
fn words(link: &LinkStanding) -> String {
    let made = time(link.made_unix_ms);
    let views = link.views.to_string();
    let last = link.last_view_unix_ms.map(time).unwrap_or_default();
    let with = [("made", made.as_str()), ("count", views.as_str()), ("last", last.as_str())];
    match (link.good, link.views) {
        (false, _) => say_with("address-over", &with),
        (true, 0) => say_with("address-not-opened", &with),
        (true, _) => say_with("address-opened", &with),
    }
}
