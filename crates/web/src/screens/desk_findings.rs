//! Findings at the desk: all of them by where they stand, one with its evidence and its words, and its page beside it.

use field::view::{
    FindingCard, FindingRow, FindingStanding, PhotoEvidence, ReadingEvidence, Remark, Target,
};
use field::{Act, Evidence, FindingChange};
use inspection::{TimeToAct, Use};
use leptos::prelude::*;

use super::again::ToAgain;
use super::findings::when_key;
use super::left::use_key;
use super::live::LivePart;
use super::marks::{Icon, Shape};
use super::remarks::{RemarkLines, put_typed};
use super::stock::StockSentences;
use super::tray::focus;
use super::{Screen, go, report_language, seen, units};
use crate::app::{app, say, say_with, texts};
use crate::line::{FindingTyped, PagesWanted};

/// What is typed in the card and not entered yet: the page beside it shows that.
type Typed = RwSignal<Option<FindingTyped>>;

/// The screen; the finding with this key is at hand, else the first that nobody decided on.
#[component]
pub(super) fn DeskFindings(key: Option<String>) -> impl IntoView {
    let list = seen(|visit| Some(visit.finding_list(units())));
    let rows = Memo::new(move |_| {
        let groups = list.get().map(|list| list.groups).unwrap_or_default();
        groups.into_iter().flat_map(|group| group.rows).collect::<Vec<FindingRow>>()
    });
    let first = rows.with_untracked(|rows| rows.first().map(|row| row.key.clone()));
    let at_hand = RwSignal::new(key.or(first).unwrap_or_default());
    let there = Memo::new(move |_| {
        let key = at_hand.get();
        rows.with(|rows| rows.iter().any(|row| row.key == key)).then_some(key)
    });
    let typed: Typed = RwSignal::new(None);
    Effect::new(move |_| {
        at_hand.track();
        typed.set(None);
    });
    request_animation_frame(|| focus("finding-list"));
    view! {
        <div class="tray-head">
            <h1>{move || say("findings-title")}</h1>
            <button id="write-finding" on:click=move |_| go(Screen::NewFinding(None))>{move || say("findings-write")}</button>
            <ToAgain/>
        </div>
        {move || rows.with(Vec::is_empty).then(|| view! { <p class="quiet">{say("findings-none")}</p> })}
        <div class="desk-findings">
            <div class="finding-list" id="finding-list" role="listbox" tabindex="0" aria-label=move || say("findings-title")
                aria-activedescendant=move || there.get().map(|key| option_id(&key))
                on:keydown=move |event| keys(rows, at_hand, &event)>
                {move || list.get().map(|list| list.groups.into_iter().map(|group| {
                    let heading = texts().of(&group.heading);
                    let name = heading.clone();
                    view! {
                        <div role="group" aria-label=name>
                            <p class="finding-group" aria-hidden="true">{heading}</p>
                            {group.rows.into_iter().map(|row| view! { <Row row at_hand/> }).collect_view()}
                        </div>
                    }
                }).collect_view())}
            </div>
            <div class="finding-one">{move || there.get().map(|key| view! { <One key typed/> })}</div>
            {move || there.get().map(|key| view! { <Beside key typed/> })}
        </div>
    }
}

/// The page of the finding, with what is typed.
#[component]
fn Beside(key: String, typed: Typed) -> impl IntoView {
    let wanted = Signal::derive(move || PagesWanted {
        part: "finding".to_owned(),
        about: key.clone(),
        language: report_language(),
        finding: typed.get(),
        ..PagesWanted::default()
    });
    view! { <LivePart wanted/> }
}

fn option_id(key: &str) -> String {
    let plain = |letter: char| if letter.is_ascii_alphanumeric() { letter } else { '-' };
    format!("finding-{}", key.chars().map(plain).collect::<String>())
}

/// Scrolls a list of findings so that one of its rows is seen.
pub(super) fn in_sight(id: &str) {
    let document = crate::browser::window().and_then(|it| it.document());
    if let Some(element) = document.and_then(|it| it.get_element_by_id(id)) {
        // The list alone scrolls: the page stays where it is.
        let list = element.closest(".finding-list").ok().flatten();
        let (Some(list), row) = (list, element.get_bounding_client_rect()) else { return };
        let seen = list.get_bounding_client_rect();
        #[allow(clippy::cast_possible_truncation, reason = "pixels of a screen")]
        let by = if row.top() < seen.top() {
            (row.top() - seen.top()).floor() as i32
        } else if row.bottom() > seen.bottom() {
            (row.bottom() - seen.bottom()).ceil() as i32
        } else {
            0
        };
        list.set_scroll_top(list.scroll_top() + by);
    }
}

#[component]
fn Row(row: FindingRow, at_hand: RwSignal<String>) -> impl IntoView {
    let (of, chosen) = (row.key.clone(), row.key.clone());
    let here = Memo::new(move |_| at_hand.with(|key| *key == of));
    let shape = match row.standing {
        FindingStanding::Drafted => Shape::Begun,
        FindingStanding::Confirmed | FindingStanding::Corrected => Shape::Done,
        FindingStanding::Withdrawn(_) | FindingStanding::Merged(_) => Shape::NotExamined,
    };
    let number = row.number.map(|number| format!("{number} · "));
    view! {
        <div class="finding-row" role="option" id=option_id(&row.key) class:at-hand=here aria-selected=move || here.get().to_string()
            on:click=move |_| { at_hand.set(chosen.clone()); focus("finding-list"); }>
            <Icon shape/>
            <span class="row-words">
                <span class="row-title">{number}{row.title}</span>
                <span class="row-facts"><span>{row.point_title}</span>
                    {(!row.stops.is_empty()).then(|| view! { <span class="fact"><Icon shape=Shape::Bad/></span> })}
                </span>
            </span>
        </div>
    }
}

/// The keys of the list. They work where the list has the focus, and nowhere else.
fn keys(rows: Memo<Vec<FindingRow>>, at_hand: RwSignal<String>, event: &web_sys::KeyboardEvent) {
    if event.ctrl_key() || event.alt_key() || event.meta_key() {
        return;
    }
    let rows = rows.get_untracked();
    let here = at_hand.get_untracked();
    let at = rows.iter().position(|row| row.key == here).unwrap_or(0);
    let go_to = |to: usize| {
        if let Some(row) = rows.get(to.min(rows.len().saturating_sub(1))) {
            at_hand.set(row.key.clone());
            in_sight(&option_id(&row.key));
        }
    };
    match event.key().as_str() {
        "ArrowDown" => go_to(at + 1),
        "ArrowUp" => go_to(at.saturating_sub(1)),
        "Home" => go_to(0),
        "End" => go_to(rows.len()),
        "Enter" => focus("finding-heading"),
        _ if !app().settings().with_untracked(|settings| settings.letter_keys) => return,
        "y" => {
            // The next that nobody decided on comes to hand.
            let drafted =
                |row: &&FindingRow| row.standing == FindingStanding::Drafted && row.key != here;
            let next = rows
                .iter()
                .skip(at)
                .chain(rows.iter().take(at))
                .find(drafted)
                .map(|row| row.key.clone());
            if app().act(Act::Confirm { key: here })
                && let Some(next) = next
            {
                in_sight(&option_id(&next));
                at_hand.set(next);
            }
        }
        "w" => focus("withdraw"),
        "e" => focus("finding-statement"),
        "t" => focus("stock-find"),
        _ => return,
    }
    event.prevent_default();
    event.stop_propagation();
}

#[component]
fn One(key: String, typed: Typed) -> impl IntoView {
    let of = key.clone();
    let card = seen(move |visit| visit.finding_card(&of, &[], units()));
    let statement_here =
        Memo::new(move |_| card.with(|card| card.as_ref().map(|card| card.row.clone())));
    let edit = card.with_untracked(|card| card.as_ref().is_some_and(|card| card.may.edit));
    let remarks = remarks(key.clone(), card, typed);
    view! {
        {move || card.get().filter(|card| !card.row.stop_work.is_empty()).map(|card| view! {
            <p class="caution"><Icon shape=Shape::Caution/><strong>{card.row.stop_work}</strong></p>
        })}
        <Decision key=key.clone() card/>
        {edit.then(|| view! { <Words key=key.clone() card typed row=statement_here/> })}
        <RemarkLines remarks/>
        {edit.then(|| view! { <Bearing key=key.clone() row=statement_here/> })}
        <Shown key=key.clone() card/>
        <Merging key card/>
    }
}

type Card = Memo<Option<FindingCard>>;

/// Remarks on its words, as they are typed where they are.
fn remarks(key: String, card: Card, typed: Typed) -> Memo<Vec<Remark>> {
    let left_over = app().left_over();
    Memo::new(move |_| {
        let mut all =
            card.with(|card| card.as_ref().map(|card| card.remarks.clone()).unwrap_or_default());
        let own = |remark: &&Remark| remark.target == Target::Finding(key.clone());
        all.extend(left_over.get().iter().filter(own).cloned());
        let (Some(typed), Some(row)) =
            (typed.get(), card.with(|card| card.as_ref().map(|card| card.row.clone())))
        else {
            return all;
        };
        for (place, text, stands) in [
            ("text-heading", &typed.title, row.title.as_str()),
            ("text-statement", &typed.statement, row.own_words()),
            ("text-who", &typed.who, row.who.as_str()),
        ] {
            if text != stands {
                put_typed(&mut all, place, text);
            }
        }
        all
    })
}

/// Where it stands, and the decision.
#[component]
fn Decision(key: String, card: Card) -> impl IntoView {
    let reason = RwSignal::new(String::new());
    let standing =
        Memo::new(move |_| card.with(|card| card.as_ref().map(|card| card.row.standing.clone())));
    let may = Memo::new(move |_| {
        card.with(|card| card.as_ref().map(|card| card.may).unwrap_or_default())
    });
    let point =
        Memo::new(move |_| card.with(|card| card.as_ref().and_then(|card| card.row.point.clone())));
    let (confirmed, withdrawn) = (key.clone(), key);
    view! {
        <p class="finding-standing">{move || standing.get().map(|standing| match standing {
            FindingStanding::Drafted => say("finding-drafted"),
            FindingStanding::Confirmed => say("finding-confirmed"),
            FindingStanding::Withdrawn(why) => say_with("finding-withdrawn", &[("why", &why)]),
            FindingStanding::Merged(_) => say("finding-merged"),
            FindingStanding::Corrected => say("finding-corrected"),
        })}</p>
        <p class="actions">
            {move || may.get().confirm.then(|| {
                let key = confirmed.clone();
                view! { <button class="primary" id="confirm" on:click=move |_| { app().act(Act::Confirm { key: key.clone() }); }>{say("finding-confirm")}</button> }
            })}
            {move || point.get().map(|point| view! {
                <button on:click=move |_| go(Screen::Point(point.clone()))>{say("waits-go")}</button>
            })}
        </p>
        {move || may.get().withdraw.then(|| {
            let key = withdrawn.clone();
            view! {
                <form class="own-words" on:submit=move |event| {
                    event.prevent_default();
                    if app().act(Act::Withdraw { key: key.clone(), reason: reason.get_untracked() }) {
                        reason.set(String::new());
                        focus("finding-list");
                    }
                }>
                    <label for="withdraw">{say("finding-withdraw-why")}</label>
                    <input id="withdraw" type="text" autocomplete="off" spellcheck="true" lang=report_language prop:value=move || reason.get()
                        data-unsaved=move || (!reason.get().is_empty()).then_some("true")
                        on:input=move |event| reason.set(event_target_value(&event))
                        on:keydown=move |event| if event.key() == "Escape" { focus("finding-list"); }/>
                    <button type="submit">{say("finding-withdraw")}</button>
                </form>
            }
        })}
    }
}

/// Its words: entered when the field is left, shown on the page beside while they are typed.
#[component]
fn Words(key: String, card: Card, typed: Typed, row: Memo<Option<FindingRow>>) -> impl IntoView {
    let known = card.get_untracked();
    let text =
        |of: fn(&FindingCard) -> String| RwSignal::new(known.as_ref().map(of).unwrap_or_default());
    let title = text(|card| card.row.title.clone());
    let statement = text(|card| card.row.own_words().to_owned());
    let who = text(|card| card.row.who.clone());
    // What somebody else, or taking back, has changed comes in unless it is being typed here.
    Effect::new(move |_| {
        if let Some(row) = row.get().filter(|_| typed.get_untracked().is_none()) {
            statement.set(row.own_words().to_owned());
            title.set(row.title);
            who.set(row.who);
        }
    });
    let (of, stock_key) = (key.clone(), key.clone());
    let type_in = move |field: RwSignal<String>, text: String| {
        field.set(text);
        typed.set(Some(FindingTyped {
            key: of.clone(),
            title: title.get_untracked(),
            statement: statement.get_untracked(),
            who: who.get_untracked(),
            ..FindingTyped::default()
        }));
    };
    let enter = move |change: FindingChange| {
        typed.set(None);
        app().act(Act::EditFinding { key: key.clone(), change });
    };
    let (type_title, type_statement, type_who) = (type_in.clone(), type_in.clone(), type_in);
    let enter_stock = enter.clone();
    let (enter_title, enter_statement, enter_who) = (enter.clone(), enter.clone(), enter);
    let put_in = Callback::new(move |text: String| {
        statement.set(text.clone());
        enter_stock(FindingChange::Statement(text));
    });
    let unsaved = move || typed.get().is_some().then_some("true");
    let back = move |event: leptos::ev::KeyboardEvent| {
        if event.key() == "Escape" {
            focus("finding-list");
        }
    };
    let drafted = Memo::new(move |_| {
        card.with(|card| {
            card.as_ref().and_then(|card| card.drafted.as_ref().map(|it| it.statement.clone()))
        })
    });
    let differs = Memo::new(move |_| {
        card.with(|card| card.as_ref().is_some_and(|card| !card.own_statement.is_empty()))
    });
    view! {
        <div data-unsaved=unsaved>
            <div class="field">
                <label for="finding-heading">{move || say("finding-heading")}</label>
                <input id="finding-heading" type="text" autocomplete="off" spellcheck="true" lang=report_language prop:value=move || title.get() on:keydown=back
                    on:input=move |event| type_title(title, event_target_value(&event))
                    on:change=move |_| enter_title(FindingChange::Title(title.get_untracked()))/>
            </div>
            <div class="field">
                <label for="finding-statement">{move || say("finding-statement")}</label>
                <textarea id="finding-statement" rows="5" spellcheck="true" lang=report_language prop:value=move || statement.get() on:keydown=back
                    on:input=move |event| type_statement(statement, event_target_value(&event))
                    on:change=move |_| enter_statement(FindingChange::Statement(statement.get_untracked()))></textarea>
                {move || differs.get().then(|| drafted.get()).flatten().map(|drafted| view! { <p class="hint">{say_with("finding-as-drafted", &[("text", &drafted)])}</p> })}
            </div>
            <StockSentences field="finding-statement" statement key=Some(stock_key) point=None enter=put_in/>
            <div class="field">
                <label for="finding-who">{move || say("finding-who")}</label>
                <input id="finding-who" type="text" autocomplete="off" spellcheck="true" lang=report_language prop:value=move || who.get() on:keydown=back
                    on:input=move |event| type_who(who, event_target_value(&event))
                    on:change=move |_| enter_who(FindingChange::Who(who.get_untracked()))/>
            </div>
        </div>
    }
}

/// Which uses it stops, and how soon to act.
#[component]
fn Bearing(key: String, row: Memo<Option<FindingRow>>) -> impl IntoView {
    let stops = Memo::new(move |_| {
        row.with(|row| row.as_ref().map(|row| row.stops.clone()).unwrap_or_default())
    });
    let when = Memo::new(move |_| row.with(|row| row.as_ref().map(|row| row.when)));
    let change = move |change: FindingChange| {
        app().act(Act::EditFinding { key: key.clone(), change });
    };
    let (change_uses, change_when) = (change.clone(), change);
    view! {
        <fieldset class="choice">
            <legend>{move || say("finding-stops-what")}</legend>
            <div class="choice-buttons">
                {Use::ALL.into_iter().map(|one| {
                    let change = change_uses.clone();
                    view! {
                        <button type="button" aria-pressed=move || stops.with(|stops| stops.contains(&one)).to_string() on:click=move |_| {
                            let mut after = stops.get_untracked();
                            if after.contains(&one) { after.retain(|other| *other != one) } else { after.push(one) }
                            change(FindingChange::Stops(after));
                        }>{move || say(use_key(one))}</button>
                    }
                }).collect_view()}
            </div>
        </fieldset>
        <fieldset class="choice">
            <legend>{move || say("finding-when")}</legend>
            <div class="choice-buttons">
                {TimeToAct::ALL.into_iter().map(|one| {
                    let change = change_when.clone();
                    view! {
                        <button type="button" aria-pressed=move || (when.get() == Some(one)).to_string()
                            on:click=move |_| change(FindingChange::When(one))>{move || say(when_key(one))}</button>
                    }
                }).collect_view()}
            </div>
        </fieldset>
    }
}

/// Readings and photos that show it, and those that might.
#[component]
fn Shown(key: String, card: Card) -> impl IntoView {
    move || {
        card.get().map(|card| {
        let further = card.further_readings.len() + card.further_photos.len();
        let no_evidence = card.no_evidence;
        let more = key.clone();
        view! {
            <h2>{say("finding-evidence")}</h2>
            {no_evidence.then(|| view! { <p class="flag"><Icon shape=Shape::Beyond/>{say("gap-no-evidence")}</p> })}
            <ul class="mark-list">
                {card.readings.into_iter().map(|one| view! { <Reading key=key.clone() one there=true/> }).collect_view()}
                {card.photos.into_iter().map(|one| view! { <Photo key=key.clone() one there=true/> }).collect_view()}
            </ul>
            {(further > 0).then(|| view! {
                <details>
                    <summary>{say_with("finding-further", &[("count", &further.to_string())])}</summary>
                    <ul class="mark-list">
                        {card.further_readings.into_iter().map(|one| view! { <Reading key=more.clone() one there=false/> }).collect_view()}
                        {card.further_photos.into_iter().map(|one| view! { <Photo key=more.clone() one there=false/> }).collect_view()}
                    </ul>
                </details>
            })}
        }
    })
    }
}

#[component]
fn Reading(key: String, one: ReadingEvidence, there: bool) -> impl IntoView {
    let words = format!("{}: {}", one.title, one.value);
    view! {
        <li>
            <span>{words.clone()}</span>
            {(!one.brought_up).then(|| view! { <Attaching key words evidence=Evidence::Reading(one.id) there/> })}
        </li>
    }
}

#[component]
fn Photo(key: String, one: PhotoEvidence, there: bool) -> impl IntoView {
    let picture = app().picture(one.id.as_str());
    let words = one.title.clone();
    view! {
        <li>
            {move || picture.get().map(|address| view! { <img class="evidence" src=address alt=""/> })}
            <span>{one.title.clone()}</span>
            <Attaching key words evidence=Evidence::Photo(one.id) there/>
        </li>
    }
}

#[component]
fn Attaching(key: String, words: String, evidence: Evidence, there: bool) -> impl IntoView {
    let name =
        say_with(if there { "mark-erase" } else { "finding-attach-what" }, &[("what", &words)]);
    view! {
        <button class="plain" aria-label=name on:click=move |_| {
            let (key, evidence) = (key.clone(), evidence.clone());
            app().act(if there { Act::Detach { key, evidence } } else { Act::Attach { key, evidence } });
        }>{say(if there { "mark-take-off" } else { "finding-attach" })}</button>
    }
}

/// Making it a part of another, and taking it out again.
#[component]
fn Merging(key: String, card: Card) -> impl IntoView {
    let into = RwSignal::new(String::new());
    move || {
        card.get().map(|card| {
        let (merged, unmerged) = (key.clone(), key.clone());
        let parts: Vec<String> = card.parts.into_iter().map(|(_, title)| title).collect();
        view! {
            {(!parts.is_empty()).then(|| view! { <p>{say_with("finding-parts", &[("what", &parts.join(", "))])}</p> })}
            {card.may.unmerge.then(|| view! {
                <p class="actions"><button on:click=move |_| { app().act(Act::Unmerge { key: unmerged.clone() }); }>{say("finding-unmerge")}</button></p>
            })}
            {card.may.merge.then(|| view! {
                <details>
                    <summary>{say("finding-merge")}</summary>
                    <form class="field" on:submit=move |event| {
                        event.prevent_default();
                        let into = into.get_untracked();
                        if !into.is_empty() {
                            app().act(Act::Merge { key: merged.clone(), into });
                        }
                    }>
                        <label for="merge-into">{say("finding-merge-into")}</label>
                        <select id="merge-into" on:change=move |event| into.set(event_target_value(&event))>
                            <option value="">"–"</option>
                            {card.others.into_iter().map(|(key, title)| view! { <option value=key>{title}</option> }).collect_view()}
                        </select>
                        <p class="actions"><button type="submit">{say("finding-merge")}</button></p>
                    </form>
                </details>
            })}
        }
    })
    }
}
