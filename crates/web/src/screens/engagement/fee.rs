//! The fee as it is typed: lines, taxes and currency, added up at once, entered together.

use field::{Act, EngagementChange, FeeSums, FeeTyped, LineTyped, TaxTyped, fee_sums};
use inspection::Taxed;
use leptos::prelude::*;

use super::Sheet;
use super::agreement::language;
use crate::app::{app, say, say_with, texts};

/// The word of a line that all taxes are on, and of one that none is on.
const ALL: &str = "all";
const NONE: &str = "none";
/// Before the name of the only tax that is on a line.
const ONLY: &str = "only ";

/// A line that is being typed.
#[derive(Clone, Copy)]
struct LineRow {
    key: usize,
    text: RwSignal<String>,
    amount: RwSignal<String>,
    taxed: RwSignal<String>,
}

/// A tax that is being typed.
#[derive(Clone, Copy)]
struct TaxRow {
    key: usize,
    name: RwSignal<String>,
    rate: RwSignal<String>,
}

/// What is being typed.
#[derive(Clone, Copy)]
struct Rows {
    lines: RwSignal<Vec<LineRow>>,
    taxes: RwSignal<Vec<TaxRow>>,
    currency: RwSignal<String>,
    /// Something is typed and not entered yet.
    unsaved: RwSignal<bool>,
    /// The next row's key.
    next: StoredValue<usize>,
    /// Whose the rows' signals are: not an effect's or an event's, which would take them along when it is over.
    owner: StoredValue<Option<Owner>>,
}

impl Rows {
    fn new() -> Self {
        Self {
            lines: RwSignal::default(),
            taxes: RwSignal::default(),
            currency: RwSignal::default(),
            unsaved: RwSignal::new(false),
            next: StoredValue::new(0),
            owner: StoredValue::new(Owner::current()),
        }
    }

    fn key(self) -> usize {
        self.next.update_value(|next| *next += 1);
        self.next.get_value()
    }

    fn signal(self, text: String) -> RwSignal<String> {
        match self.owner.get_value() {
            Some(owner) => owner.with(|| RwSignal::new(text)),
            None => RwSignal::new(text),
        }
    }

    fn line(self, line: &LineTyped) -> LineRow {
        LineRow {
            key: self.key(),
            text: self.signal(line.text.clone()),
            amount: self.signal(line.amount.clone()),
            taxed: self.signal(word_of(&line.taxed)),
        }
    }

    fn tax(self, tax: &TaxTyped) -> TaxRow {
        TaxRow {
            key: self.key(),
            name: self.signal(tax.name.clone()),
            rate: self.signal(tax.rate.clone()),
        }
    }

    /// Shows the fee that the record has; with an empty line where there is none. Rows that are there stay, so that the
    /// focus does not leave the field that it is in.
    fn show(self, fee: &FeeTyped) {
        self.currency.set(fee.currency.clone());
        let empty = [LineTyped::default()];
        let lines = if fee.lines.is_empty() { &empty[..] } else { &fee.lines };
        let mut rows = self.lines.get_untracked();
        rows.truncate(lines.len());
        for (at, line) in lines.iter().enumerate() {
            match rows.get(at) {
                Some(row) => {
                    row.text.set(line.text.clone());
                    row.amount.set(line.amount.clone());
                    row.taxed.set(word_of(&line.taxed));
                }
                None => rows.push(self.line(line)),
            }
        }
        self.lines.set(rows);
        let mut rows = self.taxes.get_untracked();
        rows.truncate(fee.taxes.len());
        for (at, tax) in fee.taxes.iter().enumerate() {
            match rows.get(at) {
                Some(row) => {
                    row.name.set(tax.name.clone());
                    row.rate.set(tax.rate.clone());
                }
                None => rows.push(self.tax(tax)),
            }
        }
        self.taxes.set(rows);
        self.unsaved.set(false);
    }

    fn typed(self) -> FeeTyped {
        let lines = self.lines.get().into_iter().map(|row| LineTyped {
            text: row.text.get(),
            amount: row.amount.get(),
            taxed: match row.taxed.get().as_str() {
                NONE => Taxed::Untaxed,
                word => {
                    word.strip_prefix(ONLY).map_or(Taxed::All, |name| Taxed::Only(name.to_owned()))
                }
            },
        });
        let taxes = self.taxes.get().into_iter();
        FeeTyped {
            currency: self.currency.get(),
            lines: lines.collect(),
            taxes: taxes
                .map(|row| TaxTyped { name: row.name.get(), rate: row.rate.get() })
                .collect(),
        }
    }
}

fn word_of(taxed: &Taxed) -> String {
    match taxed {
        Taxed::All => ALL.to_owned(),
        Taxed::Untaxed => NONE.to_owned(),
        Taxed::Only(name) => format!("{ONLY}{name}"),
    }
}

/// The fee.
#[component]
pub(super) fn Fee(sheet: Sheet) -> impl IntoView {
    let known = Memo::new(move |_| {
        sheet.with(|sheet| sheet.agreement.as_ref().map(|it| it.fee.clone()).unwrap_or_default())
    });
    let (rows, language) = (Rows::new(), language(sheet));
    Effect::new(move |_| {
        let known = known.get();
        if !rows.unsaved.get_untracked() {
            rows.show(&known);
        }
    });
    let sums = Memo::new(move |_| fee_sums(&rows.typed()));
    let enter = move |event: web_sys::SubmitEvent| {
        event.prevent_default();
        let typed = untrack(|| rows.typed());
        // What was refused stays as it was typed.
        if app().act(Act::ChangeEngagement(EngagementChange::Fee(typed))) {
            rows.show(&known.get_untracked());
        }
    };
    view! {
        <form class="fee" on:submit=enter data-unsaved=move || rows.unsaved.get().then_some("true") aria-labelledby="fee-title">
            <h3 id="fee-title">{move || say("fee-title")}</h3>
            <For each=move || rows.lines.get() key=|row| row.key let:row><Line row rows language/></For>
            <For each=move || rows.taxes.get() key=|row| row.key let:row><Tax row rows/></For>
            <div class="fee-more">
                <button type="button" id="fee-add-line" on:click=move |_| {
                    let row = rows.line(&LineTyped::default());
                    rows.lines.update(|all| all.push(row));
                    focus_soon(format!("fee-text-{}", row.key));
                }>{move || say("fee-add-line")}</button>
                <button type="button" id="fee-add-tax" on:click=move |_| {
                    let row = rows.tax(&TaxTyped::default());
                    rows.taxes.update(|all| all.push(row));
                    focus_soon(format!("fee-tax-{}", row.key));
                }>{move || say("fee-add-tax")}</button>
                <div class="field narrow">
                    <label for="fee-currency">{move || say("fee-currency")}</label>
                    <input id="fee-currency" type="text" spellcheck="false" autocomplete="off" maxlength="3" prop:value=move || rows.currency.get()
                        on:input=move |event| typing(rows, rows.currency, event_target_value(&event))/>
                </div>
            </div>
            <div aria-live="polite" id="fee-sums">
                {move || match sums.get() {
                    Ok(Some(sums)) => view! { <Sums sums/> }.into_any(),
                    Ok(None) => ().into_any(),
                    Err(_) if !rows.unsaved.get() => ().into_any(),
                    Err(why) => view! { <p class="hint">{texts().of(&why)}</p> }.into_any(),
                }}
            </div>
            <p class="actions"><button type="submit" id="fee-enter" aria-disabled=move || (!rows.unsaved.get()).to_string()>{move || say("fee-enter")}</button></p>
        </form>
    }
}

fn typing(rows: Rows, field: RwSignal<String>, text: String) {
    field.set(text);
    rows.unsaved.set(true);
}

/// What was added gets the focus once it is there.
fn focus_soon(id: String) {
    request_animation_frame(move || super::super::tray::focus(&id));
}

#[component]
fn Line(row: LineRow, rows: Rows, language: Memo<String>) -> impl IntoView {
    let [text, amount, taxed] =
        ["text", "amount", "taxed"].map(|what| format!("fee-{what}-{}", row.key));
    let names = Memo::new(move |_| {
        let taxes = rows.taxes.get().into_iter().map(|tax| tax.name.get());
        taxes.filter(|name| !name.trim().is_empty()).collect::<Vec<_>>()
    });
    view! {
        <div class="fee-line" role="group" aria-label=move || say("fee-line")>
            <div class="field wide">
                <label for=text.clone()>{move || say("fee-text")}</label>
                <input id=text type="text" autocomplete="off" spellcheck="true" lang=move || language.get() prop:value=move || row.text.get()
                    on:input=move |event| typing(rows, row.text, event_target_value(&event))/>
            </div>
            <div class="field">
                <label for=amount.clone()>{move || say("fee-amount")}</label>
                <input id=amount type="text" inputmode="decimal" spellcheck="false" autocomplete="off" class="amount" prop:value=move || row.amount.get()
                    on:input=move |event| typing(rows, row.amount, event_target_value(&event))/>
            </div>
            {move || names.with(|names| !names.is_empty()).then(|| {
                let taxed = taxed.clone();
                let chosen = move |word: &str| row.taxed.with(|taxed| taxed == word);
                view! {
                    <div class="field">
                        <label for=taxed.clone()>{say("fee-taxed")}</label>
                        <select id=taxed on:change=move |event| typing(rows, row.taxed, event_target_value(&event))>
                            <option value=ALL selected=move || chosen(ALL)>{say("fee-taxed-all")}</option>
                            <option value=NONE selected=move || chosen(NONE)>{say("fee-taxed-none")}</option>
                            {names.get().into_iter().map(|name| {
                                let word = format!("{ONLY}{name}");
                                let this = word.clone();
                                view! { <option value=word selected=move || chosen(&this)>{say_with("fee-taxed-only", &[("name", &name)])}</option> }
                            }).collect_view()}
                        </select>
                    </div>
                }
            })}
            <button type="button" class="plain" on:click=move |_| {
                rows.lines.update(|all| all.retain(|one| one.key != row.key));
                rows.unsaved.set(true);
                super::super::tray::focus("fee-add-line");
            }>{move || say("fee-remove-line")}</button>
        </div>
    }
}

#[component]
fn Tax(row: TaxRow, rows: Rows) -> impl IntoView {
    let [name, rate] = ["tax", "rate"].map(|what| format!("fee-{what}-{}", row.key));
    view! {
        <div class="fee-line" role="group" aria-label=move || say("fee-tax")>
            <div class="field wide">
                <label for=name.clone()>{move || say("fee-tax-name")}</label>
                <input id=name type="text" autocomplete="off" spellcheck="false" prop:value=move || row.name.get()
                    on:input=move |event| typing(rows, row.name, event_target_value(&event))/>
            </div>
            <div class="field">
                <label for=rate.clone()>{move || say("fee-rate")}</label>
                <input id=rate type="text" inputmode="decimal" spellcheck="false" autocomplete="off" class="amount" prop:value=move || row.rate.get()
                    on:input=move |event| typing(rows, row.rate, event_target_value(&event))/>
            </div>
            <button type="button" class="plain" on:click=move |_| {
                rows.taxes.update(|all| all.retain(|one| one.key != row.key));
                rows.unsaved.set(true);
                super::super::tray::focus("fee-add-tax");
            }>{move || say("fee-remove-tax")}</button>
        </div>
    }
}

/// A fee added up.
#[component]
pub(super) fn Sums(sums: FeeSums) -> impl IntoView {
    let taxed = !sums.taxes.is_empty();
    view! {
        <table class="sums">
            <caption class="unseen">{say("fee-sums")}</caption>
            <thead class="unseen"><tr><th scope="col">{say("fee-text")}</th><th scope="col">{say("fee-amount")}</th></tr></thead>
            <tbody>
                {sums.lines.into_iter().map(|(text, amount)| view! { <tr><th scope="row">{text}</th><td>{amount}</td></tr> }).collect_view()}
                {taxed.then(|| view! { <tr><th scope="row">{say("fee-net")}</th><td>{sums.net.clone()}</td></tr> })}
                {sums.taxes.into_iter().map(|tax| {
                    let name = say_with("fee-tax-of", &[("name", &tax.name), ("rate", &tax.rate), ("base", &tax.base)]);
                    view! { <tr><th scope="row">{name}</th><td>{tax.amount}</td></tr> }
                }).collect_view()}
                <tr class="total"><th scope="row">{say("fee-total")}</th><td>{sums.total}</td></tr>
            </tbody>
        </table>
    }
}
