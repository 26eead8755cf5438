//! Instruments of another job on this device, taken over as they are there.

use field::{Act, Visit};
use inspection::{Instrument, InstrumentId};
use leptos::prelude::*;
use sync::JobId;
use wasm_bindgen_futures::spawn_local;

use super::Shared;
use crate::app::{app, say, say_with};
use crate::browser::focus_soon;

type Instruments = Vec<(InstrumentId, Instrument)>;

/// What the other job has.
#[derive(Debug, Clone, Default, PartialEq)]
enum Found {
    /// No job is chosen.
    #[default]
    Nothing,
    Reading(JobId),
    Here(Instruments),
    Trouble(String),
}

/// The choice of a job, and what it has that this one does not.
#[component]
pub(super) fn TakeOver(shared: Shared) -> impl IntoView {
    let found = RwSignal::new(Found::default());
    let own = app().place().with_untracked(|place| place.job().cloned());
    let jobs = Memo::new(move |_| {
        let titles = app().titles().get().into_iter().rev();
        titles.filter(|(job, _)| Some(job) != own.as_ref()).collect::<Vec<_>>()
    });
    let any = Memo::new(move |_| !jobs.with(Vec::is_empty));
    let new = Memo::new(move |_| {
        let Found::Here(all) = found.get() else { return None };
        let here =
            |id: &InstrumentId| shared.list.with(|list| list.rows.iter().any(|row| row.id == *id));
        Some(all.into_iter().filter(|(id, _)| !here(id)).collect::<Instruments>())
    });
    let standing = move || match (found.get(), new.get()) {
        (Found::Reading(_), _) => say("instruments-over-reading"),
        (Found::Trouble(why), _) => say_with("instruments-over-trouble", &[("why", &why)]),
        (_, Some(new)) if new.is_empty() => say("instruments-over-none"),
        _ => String::new(),
    };
    view! {
        {move || any.get().then(|| view! {
            <details>
                <summary>{say("instruments-over")}</summary>
                <div class="field">
                    <label for="instruments-over-job">{say("instruments-over-job")}</label>
                    <select id="instruments-over-job" aria-describedby="instruments-over-hint" on:change=move |event| look(event_target_value(&event), found)>
                        <option value="">"–"</option>
                        {jobs.get().into_iter().map(|(job, title)| view! { <option value=job.to_string()>{title}</option> }).collect_view()}
                    </select>
                    <p class="hint" id="instruments-over-hint">{say("instruments-over-hint")}</p>
                </div>
                <p role="status" class="hint">{standing}</p>
                {move || new.get().filter(|new| !new.is_empty()).map(|new| view! { <Offered new shared/> })}
            </details>
        })}
    }
}

#[component]
fn Offered(new: Instruments, shared: Shared) -> impl IntoView {
    let take = move |some: Instruments| {
        let first = some.first().map(|(id, _)| id.clone());
        if app().act(Act::TakeOverInstruments(some)) {
            shared.adding.set(false);
            shared.at_hand.set(first);
            focus_soon("instrument-list");
        }
    };
    let (all, count) = (new.clone(), new.len().to_string());
    view! {
        <p class="actions"><button type="button" id="instruments-over-all" on:click=move |_| take(all.clone())>
            {say_with("instruments-over-all", &[("count", &count)])}
        </button></p>
        <ul class="mark-list">
            {new.into_iter().map(|one| {
                let name = if one.1.name.is_empty() { one.0.to_string() } else { one.1.name.clone() };
                let words = say_with("instruments-over-one", &[("what", &name)]);
                view! { <li><button type="button" class="plain" on:click=move |_| take(vec![one.clone()])>{words}</button></li> }
            }).collect_view()}
        </ul>
    }
}

/// Reads the job that is chosen. Only the last choice counts.
fn look(chosen: String, found: RwSignal<Found>) {
    let Ok(job) = JobId::new(&chosen) else { return found.set(Found::Nothing) };
    found.set(Found::Reading(job.clone()));
    spawn_local(async move {
        let instruments = |visit: &Visit| {
            let all = visit.inspection().instruments.iter();
            all.map(|(id, instrument)| (id.clone(), instrument.clone())).collect::<Instruments>()
        };
        let read = app().other_job(&job, instruments).await;
        let now = match read {
            Ok(all) => Found::Here(all),
            Err(why) => Found::Trouble(why),
        };
        // The screen may be gone by now.
        let _shown = found.try_update(|found| {
            if *found == Found::Reading(job) {
                *found = now;
            }
        });
    });
}
