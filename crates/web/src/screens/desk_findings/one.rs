//! The finding at hand, from its decision to its merging.

use field::view::{Remark, Target};
use leptos::prelude::*;

use super::super::marks::{Icon, Shape};
use super::super::remarks::{RemarkLines, put_typed};
use super::super::{seen, units};
use super::bearing::Bearing;
use super::decision::Decision;
use super::evidence::Shown;
use super::merging::Merging;
use super::words::Words;
use super::{Card, Typed};
use crate::app::app;

/// The finding at hand.
#[component]
pub(super) fn One(key: String, typed: Typed) -> impl IntoView {
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
