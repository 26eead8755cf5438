//! The business around the inspection at the desk: what is agreed with the client, and what they pay.

mod address;
mod agreement;
mod entered;
mod fee;
mod invoice;
mod invoices;
mod seller;

use field::view::EngagementSheet;
use leptos::prelude::*;

use super::instruments::InstrumentsToSeeTo;
use super::seen;
use crate::app::{Desk, DeskStanding, app, say, say_with};

/// The engagement as the record has it.
type Sheet = Memo<EngagementSheet>;

/// The screen.
#[component]
pub(super) fn EngagementScreen() -> impl IntoView {
    let sheet: Sheet = seen(field::Visit::engagement);
    let desk = app().desk();
    view! {
        <h1>{move || say("engagement-title")}</h1>
        <ServerStanding desk/>
        <InstrumentsToSeeTo/>
        <div class="engagement">
            <section aria-labelledby="agreement-title"><agreement::Agreement sheet desk/></section>
            <section aria-labelledby="invoice-title"><invoice::Invoicing sheet desk/></section>
        </div>
    }
}

/// What of the screen is the server's, and whether that can be had now.
#[component]
fn ServerStanding(desk: Desk) -> impl IntoView {
    let words = move || match desk.standing.get() {
        DeskStanding::UnderWay => say("office-under-way"),
        DeskStanding::Fresh => say("office-fresh"),
        DeskStanding::NoLine => say("office-no-line-standing"),
        DeskStanding::Refused(why) => say_with("office-refused", &[("why", &why)]),
    };
    let word = move || match desk.standing.get() {
        DeskStanding::UnderWay => "under-way",
        DeskStanding::Fresh => "fresh",
        DeskStanding::NoLine => "no-line",
        DeskStanding::Refused(_) => "refused",
    };
    let down =
        move || matches!(desk.standing.get(), DeskStanding::NoLine | DeskStanding::Refused(_));
    view! { <p role="status" id="office-standing" data-standing=word class="hint" class:note=down>{words}</p> }
}

/// A time of the server's as people here write it.
fn time(unix_ms: i64) -> String {
    #[allow(clippy::cast_precision_loss, reason = "milliseconds of any date fit")]
    let date = js_sys::Date::new(&wasm_bindgen::JsValue::from_f64(unix_ms as f64));
    let local = crate::browser::moment_of(&date).local;
    format!("{} {:02}:{:02}", local.date(), local.hour(), local.minute())
}
