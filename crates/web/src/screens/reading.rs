//! A reading: a pad for each place it is taken at, what is typed, and the verdict while it is typed.

use field::view::{Pad, ReadingInput, ReadingView};
use field::{Act, Entering, Typed};
use inspection::{InstrumentId, PointId};
use leptos::prelude::*;

use super::marks::{Icon, Shape};
use super::point::Seen;
use super::verdict::{JudgedView, ValuedView};
use super::{seen, today, units};
use crate::app::{app, say, say_with, texts};

/// What is being entered at a reading.
#[derive(Clone, Copy)]
struct Entry {
    /// The place.
    place: RwSignal<String>,
    /// A new place's name, where people name them.
    new_place: RwSignal<Option<String>>,
    /// What is typed.
    text: RwSignal<String>,
    /// The unit; empty for the preferred one.
    unit: RwSignal<String>,
    /// The instrument, if one was chosen here.
    instrument: RwSignal<Option<InstrumentId>>,
    /// Asked again when a choice was made.
    reading: Memo<Option<ReadingView>>,
}

impl Entry {
    fn position(self) -> String {
        self.new_place.get().unwrap_or_else(|| self.place.get())
    }

    fn entering(self, point: &PointId, name: &str) -> Entering {
        let view = self.reading.get();
        let preferred = match view.as_ref().map(|view| &view.input) {
            Some(ReadingInput::Quantity(choices)) => {
                choices.first().map_or_else(String::new, |unit| (*unit).to_owned())
            }
            _ => String::new(),
        };
        let unit = Some(self.unit.get()).filter(|unit| !unit.is_empty()).unwrap_or(preferred);
        Entering {
            point: point.clone(),
            reading: name.to_owned(),
            position: self.position(),
            text: self.text.get(),
            unit,
            instrument: self.instrument.get().or_else(|| view.and_then(|view| view.instrument)),
        }
    }

    /// The next place without a reading, behind this one; else the first such.
    fn go_on(self) {
        self.text.set(String::new());
        self.new_place.set(None);
        let here = self.place.get_untracked();
        let Some(view) = self.reading.get_untracked() else { return };
        let at = view.pads.iter().position(|pad| pad.position == here).unwrap_or(0);
        let (before, after) = view.pads.split_at(at);
        let free =
            after.iter().chain(before).find(|pad| pad.entered.is_none() && pad.position != here);
        if let Some(free) = free {
            self.place.set(free.position.clone());
        }
    }
}

/// A reading with its pads.
#[component]
pub(super) fn ReadingPad(of: PointId, name: String, point: Seen) -> impl IntoView {
    let one = name.clone();
    let reading = Memo::new(move |_| {
        point.with(|point| {
            point.as_ref()?.readings.iter().find(|reading| reading.name == one).cloned()
        })
    });
    let first = reading.with_untracked(|view| {
        let pads = view.as_ref().map(|view| view.pads.as_slice()).unwrap_or_default();
        let free = pads.iter().find(|pad| pad.entered.is_none()).or(pads.first());
        free.map_or_else(String::new, |pad| pad.position.clone())
    });
    let entry = Entry {
        place: RwSignal::new(first),
        new_place: RwSignal::new(None),
        text: RwSignal::default(),
        unit: RwSignal::default(),
        instrument: RwSignal::default(),
        reading,
    };
    let title = Memo::new(move |_| reading.get().map(|view| view.title).unwrap_or_default());
    let optional = Memo::new(move |_| reading.get().is_some_and(|view| view.optional));
    let places = Memo::new(move |_| {
        reading.get().is_some_and(|view| view.more_places || view.pads.len() > 1)
    });
    let current = Memo::new(move |_| {
        let place = entry.position();
        reading.get()?.pads.into_iter().find(|pad| pad.position == place)
    });
    let heading = format!("reading-{name}");
    let label = heading.clone();
    let input_id = format!("{heading}-entry");
    view! {
        <section class="reading" aria-labelledby=label>
            <h3 id=heading>{move || title.get()}" "{move || optional.get().then(|| view! { <span class="quiet">{say("reading-optional")}</span> })}</h3>
            {move || places.get().then(|| view! { <Places entry/> })}
            <EntryForm of=of name=name id=input_id entry title/>
            <Stored current/>
        </section>
    }
}

/// The pads: one a place, and one to name another.
#[component]
fn Places(entry: Entry) -> impl IntoView {
    let reading = entry.reading;
    let pads = Memo::new(move |_| reading.get().map(|view| view.pads).unwrap_or_default());
    let more = Memo::new(move |_| reading.get().is_some_and(|view| view.more_places));
    let suggested =
        Memo::new(move |_| reading.get().map(|view| view.suggested_places).unwrap_or_default());
    view! {
        <div class="pads" role="group" aria-label=move || say("reading-places")>
            <For each=move || pads.get() key=|pad| pad.position.clone() let:pad>
                <PadButton position=pad.position.clone() label=pad.label pads entry/>
            </For>
            {move || more.get().then(|| view! {
                <button class="pad more" aria-pressed=move || entry.new_place.get().is_some().to_string()
                    on:click=move |_| entry.new_place.set(Some(String::new()))>
                    <span class="pad-label">{say("reading-new-place")}</span>
                </button>
            })}
        </div>
        {move || entry.new_place.with(Option::is_some).then(|| view! {
            <div class="field">
                <label>
                    {say("reading-place-name")}
                    <input type="text" autocomplete="off" prop:value=move || entry.new_place.get().unwrap_or_default()
                        on:input=move |event| entry.new_place.set(Some(event_target_value(&event)))/>
                </label>
                <div class="suggestions">
                    {move || suggested.get().into_iter().map(|place| {
                        let name = place.clone();
                        view! { <button on:click=move |_| entry.new_place.set(Some(name.clone()))>{place}</button> }
                    }).collect_view()}
                </div>
            </div>
        })}
    }
}

#[component]
fn PadButton(position: String, label: String, pads: Memo<Vec<Pad>>, entry: Entry) -> impl IntoView {
    let one = position.clone();
    let entered = Memo::new(move |_| {
        pads.with(|pads| pads.iter().find(|pad| pad.position == one)?.entered.clone())
    });
    let here = position.clone();
    let pressed = move || {
        (entry.new_place.with(Option::is_none) && entry.place.with(|place| *place == here))
            .to_string()
    };
    view! {
        <button class="pad" aria-pressed=pressed on:click=move |_| {
            entry.new_place.set(None);
            entry.place.set(position.clone());
        }>
            <span class="pad-label">{label}</span>
            {move || match entered.get() {
                Some(entered) => {
                    let verdict = entered.value.as_ref().and_then(field::Valued::verdict);
                    let words = entered.value.as_ref().and_then(|value| {
                        let gravest = value.judged.iter().find(|one| Some(one.verdict) == verdict)?;
                        Some(texts().of(&gravest.word()))
                    });
                    view! {
                        <span class="pad-value">{entered.read}</span>
                        {verdict.map(|verdict| view! { <span class="pad-verdict"><Icon shape=Shape::of_verdict(verdict)/>{words}</span> })}
                    }.into_any()
                }
                None => view! { <span class="pad-value quiet" aria-hidden="true">"–"</span> }.into_any(),
            }}
        </button>
    }
}

/// What is typed, its unit and instrument, and the verdict as it would be.
#[component]
fn EntryForm(
    of: PointId,
    name: String,
    id: String,
    entry: Entry,
    title: Memo<String>,
) -> impl IntoView {
    let input = Memo::new(move |_| entry.reading.get().map(|view| view.input));
    let entering = {
        let (of, name) = (of, name);
        Memo::new(move |_| entry.entering(&of, &name))
    };
    let typed = Memo::new(move |_| {
        let entering = entering.get();
        if entering.text.trim().is_empty() {
            return None;
        }
        let app = app();
        app.visit(|visit| visit.typed(&entering, app.now(), units()))
    });
    let enter = move || {
        if app().act(Act::Enter(entering.get_untracked())) {
            entry.go_on();
        }
    };
    let choose = move |word: String| {
        entry.text.set(word);
        enter();
    };
    let label = move || {
        let place = entry.position();
        let pad = entry
            .reading
            .get()
            .and_then(|it| it.pads.into_iter().find(|pad| pad.position == place));
        match pad.map_or(place, |pad| pad.label) {
            place if place.is_empty() => title.get(),
            place => format!("{}, {place}", title.get()),
        }
    };
    let unsaved = move || (!entry.text.get().is_empty()).then_some("true");
    let live = format!("{id}-live");
    let described = live.clone();
    move || {
        let (id, live, described) = (id.clone(), live.clone(), described.clone());
        match input.get() {
            None => ().into_any(),
            Some(ReadingInput::Choice(words)) => view! {
                <div class="choice-buttons" role="group" aria-label=label>
                    {words.into_iter().map(|(word, shown)| {
                        let own = word.clone();
                        let now = Memo::new(move |_| {
                            let place = entry.position();
                            let entered = entry.reading.get()?.pads.into_iter().find(|pad| pad.position == place)?.entered?;
                            Some(entered.entry)
                        });
                        view! {
                            <button aria-pressed=move || (now.get().as_deref() == Some(own.as_str())).to_string()
                                on:click=move |_| choose(word.clone())>{shown}</button>
                        }
                    }).collect_view()}
                </div>
            }.into_any(),
            Some(other) => {
                let choices = match &other {
                    ReadingInput::Quantity(choices) => choices.clone(),
                    _ => Vec::new(),
                };
                let numeric = !choices.is_empty();
                let hint = matches!(other, ReadingInput::Date).then(|| say("reading-date-hint"));
                let units_of = choices.clone();
                view! {
                    <form class="entry" on:submit=move |event| { event.prevent_default(); enter(); }>
                        <label for=id.clone() class:unseen=move || entry.position().is_empty()>{label}</label>
                        <div class="entry-row">
                            <input id=id type="text" autocomplete="off" autocapitalize="off" spellcheck="false" enterkeyhint="enter"
                                class:figure=numeric inputmode=if numeric { "decimal" } else { "text" }
                                placeholder=hint aria-describedby=described data-unsaved=unsaved
                                prop:value=move || entry.text.get()
                                on:input=move |event| entry.text.set(event_target_value(&event))/>
                            {(numeric && units_of.iter().any(|unit| !unit.is_empty())).then(|| view! {
                                <select aria-label=move || say_with("reading-unit", &[("reading", &title.get())])
                                    on:change=move |event| entry.unit.set(event_target_value(&event))>
                                    {units_of.iter().map(|unit| view! { <option value=*unit>{*unit}</option> }).collect_view()}
                                </select>
                            })}
                            <button type="submit" class="enter">{say("reading-enter")}</button>
                        </div>
                    </form>
                    <div id=live class="live" role="status">{move || typed.get().map(|typed| view! { <Live typed/> })}</div>
                    {numeric.then(|| view! { <Instrument entry title/> })}
                }.into_any()
            }
        }
    }
}

/// The verdict while typing.
#[component]
fn Live(typed: Result<Typed, field::Said>) -> impl IntoView {
    match typed {
        Err(said) => view! { <p class="hint">{texts().of(&said)}</p> }.into_any(),
        Ok(typed) => view! {
            {typed.value.map(|value| view! {
                <p class="figure">{value.value}</p>
                {value.judged.into_iter().map(|judged| view! { <JudgedView judged/> }).collect_view()}
                {value.notes.into_iter().map(|note| view! { <p class="source">{texts().of(&note)}</p> }).collect_view()}
            })}
            {typed.computed.into_iter().map(|value| view! { <ValuedView value/> }).collect_view()}
            {typed.findings.into_iter().map(|title| view! {
                <p class="would"><Icon shape=Shape::Finding/>{say_with("reading-would-draft", &[("what", &title)])}</p>
            }).collect_view()}
        }.into_any(),
    }
}

/// Which instrument: the one used last is chosen already.
#[component]
fn Instrument(entry: Entry, title: Memo<String>) -> impl IntoView {
    let all = seen(|visit| visit.instruments(today()));
    let usual = Memo::new(move |_| entry.reading.get().and_then(|view| view.instrument));
    move || {
        let rows = all.get();
        (!rows.is_empty()).then(|| {
            let chosen = entry.instrument.get().or_else(|| usual.get());
            view! {
                <select class="instrument" aria-label=move || say_with("reading-instrument", &[("reading", &title.get())])
                    on:change=move |event| {
                        let id = event_target_value(&event);
                        entry.instrument.set(Some(InstrumentId::from(id)).filter(|id| !id.as_str().is_empty()));
                    }>
                    <option value="" selected=chosen.is_none()>{say("reading-no-instrument")}</option>
                    {rows.into_iter().map(|row| {
                        let selected = chosen.as_ref() == Some(&row.id);
                        view! { <option value=row.id.to_string() selected=selected>{row.name}</option> }
                    }).collect_view()}
                </select>
            }
        })
    }
}

/// What counts at the place now, with its verdict; it can be struck out.
#[component]
fn Stored(current: Memo<Option<Pad>>) -> impl IntoView {
    move || {
        let pad = current.get()?;
        let entered = pad.entered?;
        let id = entered.id.clone();
        let times = (entered.times > 1)
            .then(|| say_with("reading-times", &[("count", &entered.times.to_string())]));
        Some(view! {
            <div class="stored">
                <div class="stored-words">
                    <p class="figure">{entered.value.as_ref().map_or_else(|| entered.read.clone(), |value| value.value.clone())}</p>
                    {entered.value.map(|value| view! {
                        {value.judged.into_iter().map(|judged| view! { <JudgedView judged/> }).collect_view()}
                        {value.notes.into_iter().map(|note| view! { <p class="source">{texts().of(&note)}</p> }).collect_view()}
                    })}
                    {times.map(|words| view! { <p class="source">{words}</p> })}
                </div>
                <button class="plain" on:click=move |_| {
                    app().act(Act::Strike { reading: id.clone(), reason: "typed wrongly".to_owned() });
                }>{say("reading-strike")}</button>
            </div>
        })
    }
}
