//! Making a job on the phone.

use field::NewJob;
use inspection::{Client, Dwelling, DwellingKind, Job, Site};
use leptos::prelude::*;

use super::field::{Choice, TextField};
use crate::app::{Shelf, app, say};

/// The form.
#[component]
pub(super) fn NewJobScreen() -> impl IntoView {
    let app = app();
    let settings = app.settings();
    let text = || RwSignal::new(String::new());
    let person = RwSignal::new(settings.with_untracked(|settings| settings.person.clone()));
    let (number, client, contact, site) = (text(), text(), text(), text());
    let (maker, model, year) = (text(), text(), text());
    let kind = RwSignal::new(DwellingKind::default());
    app.fetch_plans();
    app.fetch_plan_texts();
    let plans = Signal::derive(move || match app.plans().get() {
        Shelf::Here(plans) => plans.titles(app.spoken().as_deref()),
        Shelf::Coming | Shelf::Missing(_) => Vec::new(),
    });
    // The first, until another is chosen.
    let picked = RwSignal::new(None::<String>);
    let plan = Signal::derive(move || {
        let first = || plans.with(|plans| plans.first().map(|(id, _)| id.clone()));
        picked.get().or_else(first).unwrap_or_default()
    });
    let plans_trouble = move || match app.plans().get() {
        Shelf::Here(_) => None,
        Shelf::Coming => Some(say("shell-new-plans-coming")),
        Shelf::Missing(why) => Some(why),
    };
    let trouble = RwSignal::new(None::<String>);
    let make = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        let typed = |value: RwSignal<String>| value.get_untracked().trim().to_owned();
        let year = typed(year);
        let model_year = match year.parse::<i16>() {
            Ok(year) if (1900..=2200).contains(&year) => Some(year),
            _ if year.is_empty() => None,
            _ => return trouble.set(Some(say("shell-new-year-wrong"))),
        };
        if typed(number).is_empty() || typed(person).is_empty() {
            return trouble.set(Some(say("shell-new-incomplete")));
        }
        trouble.set(None);
        settings.update(|settings| settings.person = typed(person));
        let job = Job {
            number: typed(number),
            inspector: typed(person),
            credentials: settings.with_untracked(|settings| settings.credentials.clone()),
            client: Client { name: typed(client), contact: typed(contact), ..Client::default() },
            site: Site { address: typed(site), ..Site::default() },
            plan: plan.get_untracked(),
            ..Job::default()
        };
        let dwelling = Dwelling {
            kind: kind.get_untracked(),
            maker: typed(maker),
            model: typed(model),
            model_year,
            ..Dwelling::default()
        };
        app.make_job(NewJob { job, dwelling });
    };
    let kinds = Signal::derive(|| {
        let kinds = DwellingKind::ALL.into_iter();
        kinds.map(|kind| (kind.word().to_owned(), say(kind_key(kind)))).collect::<Vec<_>>()
    });
    view! {
        <h1>{move || say("shell-new-job")}</h1>
        <form on:submit=make novalidate>
            <TextField id="number" label=Signal::derive(|| say("shell-new-number")) value=number required=true
                hint=Signal::derive(|| say("shell-new-number-hint"))/>
            <TextField id="person" label=Signal::derive(|| say("shell-person")) value=person required=true autocomplete="name"/>
            <Choice name="kind" label=Signal::derive(|| say("shell-new-kind")) choices=kinds
                chosen=Signal::derive(move || kind.get().word().to_owned())
                choose=move |word: String| kind.set(DwellingKind::from_word(&word).unwrap_or_default())/>
            <TextField id="maker" label=Signal::derive(|| say("shell-new-maker")) value=maker/>
            <TextField id="model" label=Signal::derive(|| say("shell-new-model")) value=model/>
            <TextField id="year" label=Signal::derive(|| say("shell-new-year")) value=year/>
            <TextField id="site" label=Signal::derive(|| say("shell-new-site")) value=site/>
            <TextField id="client" label=Signal::derive(|| say("shell-new-client")) value=client/>
            <TextField id="contact" label=Signal::derive(|| say("shell-new-contact")) value=contact/>
            <Choice name="plan" label=Signal::derive(|| say("shell-new-plan"))
                choices=plans chosen=plan choose=move |word: String| picked.set(Some(word))/>
            <p role="status" class="quiet" id="plans">{plans_trouble}</p>
            <p class="quiet">{move || say("shell-new-equipment")}</p>
            <p role="alert" class="trouble" id="trouble">{move || trouble.get()}</p>
            <button class="primary" type="submit">{move || say("shell-new-make")}</button>
        </form>
    }
}

/// The text that names a kind.
fn kind_key(kind: DwellingKind) -> &'static str {
    match kind {
        DwellingKind::TravelTrailer => "shell-kind-travel-trailer",
        DwellingKind::FifthWheel => "shell-kind-fifth-wheel",
        DwellingKind::ParkTrailer => "shell-kind-park-trailer",
        DwellingKind::ManufacturedHome => "shell-kind-manufactured-home",
    }
}
