//! The client's page of the last release: its address, made once, seen once, shut at will.

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::super::tray::focus;
use super::sign::{Progress, Working, follow};
use super::{Desk, local};
use crate::app::{app, say, say_with};
use crate::browser::milliseconds;
use crate::line::{Share, ShareMade, ShareWanted};

/// Days for which an address is good, unless another number is typed.
const USUAL_DAYS: u16 = 30;

/// The addresses that there are, asked for anew after each change.
#[derive(Debug, Clone, Copy)]
struct Shares {
    all: RwSignal<Vec<Share>>,
    trouble: RwSignal<Option<String>>,
}

impl Shares {
    fn look(self) {
        spawn_local(async move {
            let Some(line) = app().release_line() else { return };
            match line.shares().await {
                Ok(all) => drop(self.all.try_set(all)),
                Err(why) => drop(self.trouble.try_set(Some(app().no_answer(&why)))),
            }
        });
    }
}

/// The part of the screen.
#[component]
pub(super) fn ClientPage(number: u32, desk: Desk) -> impl IntoView {
    let shares = Shares { all: RwSignal::default(), trouble: RwSignal::new(None) };
    shares.look();
    let made = RwSignal::new(None::<ShareMade>);
    let unchanged =
        Memo::new(move |_| desk.standing.with(|it| it.as_ref().is_some_and(|it| it.unchanged)));
    view! {
        <h4>{move || say("share-title")}</h4>
        {move || match unchanged.get() {
            true => view! { <Make number desk shares made/> }.into_any(),
            false => view! { <p class="hint" id="share-changed">{say("share-changed")}</p> }.into_any(),
        }}
        {move || made.get().map(|made| view! { <Made made/> })}
        <p role="alert" class="trouble" id="share-trouble">{move || shares.trouble.get()}</p>
        <List shares/>
    }
}

#[component]
fn Make(
    number: u32,
    desk: Desk,
    shares: Shares,
    made: RwSignal<Option<ShareMade>>,
) -> impl IntoView {
    let days = RwSignal::new(USUAL_DAYS.to_string());
    let waits = RwSignal::new(false);
    let working = RwSignal::new(None::<Working>);
    let invoiced =
        Memo::new(move |_| desk.standing.with(|it| it.as_ref().is_some_and(|it| it.invoiced)));
    let submit = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        if working.with_untracked(Option::is_some) {
            return;
        }
        let typed = days.get_untracked();
        let Some(days) = typed.trim().parse::<u16>().ok().filter(|days| (1..=3660).contains(days))
        else {
            shares.trouble.set(Some(say("share-days-wrong")));
            return focus("share-days");
        };
        shares.trouble.set(None);
        let Some(line) = app().release_line() else { return };
        let after_payment = waits.get_untracked() && invoiced.get_untracked();
        let wanted = ShareWanted { release: number, days, after_payment };
        working.set(Some(Working { step: "photos".to_owned(), since: milliseconds() }));
        spawn_local(follow(line.clone(), working));
        spawn_local(async move {
            let answer = line.share(&wanted).await;
            if working.try_set(None).is_some() {
                return;
            }
            match answer {
                Ok(answer) => {
                    made.set(Some(answer));
                    shares.look();
                    request_animation_frame(|| focus("share-address"));
                }
                Err(why) => shares.trouble.set(Some(app().no_answer(&why))),
            }
        });
    };
    view! {
        <form on:submit=submit novalidate>
            <div class="field">
                <label for="share-days">{move || say("share-days")}</label>
                <input id="share-days" type="text" inputmode="numeric" spellcheck="false" autocomplete="off" prop:value=move || days.get()
                    on:input=move |event| days.set(event_target_value(&event))/>
            </div>
            {move || match invoiced.get() {
                true => view! {
                    <button type="button" class="switch" role="switch" id="share-waits" aria-checked=move || waits.get().to_string()
                        on:click=move |_| waits.update(|waits| *waits = !*waits)>
                        <span class="knob" aria-hidden="true"></span><span>{say("share-waits")}</span>
                    </button>
                }.into_any(),
                false => view! { <p class="hint">{say("share-no-invoice")}</p> }.into_any(),
            }}
            <p class="actions"><button type="submit" id="share-make" aria-disabled=move || working.with(Option::is_some).to_string()>{move || say("share-make")}</button></p>
            <Progress working/>
        </form>
    }
}

/// The address, this once.
#[component]
fn Made(made: ShareMade) -> impl IntoView {
    let until = local(made.until_unix_ms);
    let address = made.address.clone();
    let select = |event: web_sys::FocusEvent| {
        event_target::<web_sys::HtmlInputElement>(&event).select();
    };
    view! {
        <div class="note">
            <div class="field">
                <label for="share-address">{move || say("share-address")}</label>
                <input id="share-address" type="text" readonly value=made.address
                    on:focus=select/>
                <p class="hint">{move || say_with("share-once", &[("until", &until)])}</p>
            </div>
            <p class="actions"><a class="button" id="share-open" href=address target="_blank" rel="noopener">{move || say("share-open")}</a></p>
            {made.remarks.into_iter().map(|remark| view! { <p class="hint" lang="en">{remark}</p> }).collect_view()}
        </div>
    }
}

#[component]
fn List(shares: Shares) -> impl IntoView {
    let revoke = move |link: String| {
        spawn_local(async move {
            let Some(line) = app().release_line() else { return };
            if let Err(why) = line.revoke(&link).await {
                let _gone = shares.trouble.try_set(Some(app().no_answer(&why)));
            }
            shares.look();
        });
    };
    view! {
        <ul class="shares">
            <For each=move || shares.all.get() key=|one| (one.link.clone(), one.good, one.waits, one.views_unix_ms.len()) let:one>
                {
                    let (link, name) = (one.link.clone(), one.link.clone());
                    let named = one.link.clone();
                    let (standing, views) = (standing(&one), views(&one));
                    view! {
                        <li>
                            <span class="row-words">
                                <span class="row-title">{name}</span>
                                <span class="row-facts"><span>{standing}</span><span>{views}</span></span>
                            </span>
                            {one.good.then(|| view! {
                                <button aria-label=move || say_with("share-revoke-one", &[("link", &named)])
                                    on:click=move |_| revoke(link.clone())>{move || say("share-revoke")}</button>
                            })}
                        </li>
                    }
                }
            </For>
        </ul>
    }
}

fn standing(one: &Share) -> String {
    let until = local(one.until_unix_ms);
    match one.revoked_unix_ms {
        Some(at) => say_with("share-revoked", &[("at", &local(at))]),
        None if !one.good => say_with("share-over", &[("until", &until)]),
        None if one.waits => say_with("share-waiting", &[("until", &until)]),
        None => say_with("share-good", &[("until", &until)]),
    }
}

fn views(one: &Share) -> String {
    let count = one.views_unix_ms.len().to_string();
    match (one.views_unix_ms.first(), one.views_unix_ms.last()) {
        (Some(first), Some(last)) => say_with(
            "share-views",
            &[("count", &count), ("first", &local(*first)), ("last", &local(*last))],
        ),
        _ => say("share-no-views"),
    }
}
