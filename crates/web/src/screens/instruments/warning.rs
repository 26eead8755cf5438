//! Where a visit is prepared: which calibrations do not last until it, and the way to the instruments.

use leptos::prelude::*;

use crate::app::{say, say_with, texts};
use crate::screens::marks::{Icon, Shape};
use crate::screens::{Screen, go, seen, today};

/// What is to be seen to, each one press from where it is; and the way there when there is nothing.
#[component]
pub(in crate::screens) fn InstrumentsToSeeTo() -> impl IntoView {
    let rows =
        seen(|visit| visit.instrument_list(today()).to_see_to().cloned().collect::<Vec<_>>());
    view! {
        {move || {
            let rows = rows.get();
            let count = rows.len().to_string();
            (!rows.is_empty()).then(|| view! {
                <section class="warning" id="instruments-warning" aria-labelledby="instruments-see-to">
                    <h2 id="instruments-see-to"><Icon shape=Shape::Beyond/>{say_with("instruments-see-to", &[("count", &count)])}</h2>
                    <ul>{rows.into_iter().map(|row| {
                        let calibration = texts().of(&row.calibration);
                        view! {
                            <li><button on:click=move |_| go(Screen::Instruments(Some(row.id.clone())))>
                                <strong>{row.name.clone()}</strong>": "{calibration}
                            </button></li>
                        }
                    }).collect_view()}</ul>
                </section>
            })
        }}
        <p class="actions"><button id="to-instruments" on:click=move |_| go(Screen::Instruments(None))>
            <Icon shape=Shape::Gauge/>" "{move || say("instruments-open")}
        </button></p>
    }
}
