//! Remarks on what people wrote, beside it: what promises too much, and what is left over from another job.

use field::view::{Remark, Target};
use leptos::prelude::*;

use super::marks::{Icon, Shape};
use super::seen;
use crate::app::{app, texts};
use crate::browser::wide;

type Remarks = Memo<Vec<Remark>>;

/// Remarks on the texts of one thing as the record has them.
///
/// What is left over from other jobs is known to the server alone. It is asked at the desk: on the way a phone does not ask
/// after every entry.
pub(super) fn remarks_at(target: Target) -> Remarks {
    remarks_with(target, left_over())
}

/// What is left over from other jobs, where it is asked.
pub(super) fn left_over() -> Signal<Vec<Remark>> {
    if wide() { app().left_over() } else { Signal::derive(Vec::new) }
}

/// The same, where what is left over is asked once for many things.
pub(super) fn remarks_with(target: Target, left_over: Signal<Vec<Remark>>) -> Remarks {
    let of = target.clone();
    let own = seen(move |visit| {
        let all = visit.remarks(&[]).into_iter();
        all.filter(|remark| remark.target == of).collect::<Vec<_>>()
    });
    Memo::new(move |_| {
        let mut all = own.get();
        left_over.with(|left| all.extend(left.iter().filter(|it| it.target == target).cloned()));
        all
    })
}

/// The same with what is typed in one of the texts in its place; none where nothing is.
pub(super) fn while_typed(
    recorded: Remarks,
    place: &'static str,
    typed: impl Fn() -> Option<String> + Send + Sync + 'static,
) -> Remarks {
    Memo::new(move |_| {
        let mut all = recorded.get();
        if let Some(text) = typed() {
            put_typed(&mut all, place, &text);
        }
        all
    })
}

/// Remarks on a text that is typed, in place of those on it as it stood.
pub(super) fn put_typed(remarks: &mut Vec<Remark>, place: &'static str, text: &str) {
    remarks.retain(|remark| remark.place.key != place);
    // Nothing leads to where one is already.
    remarks.extend(Remark::on_typed(text, place, &Target::Job));
}

/// They, a line each.
#[component]
pub(super) fn RemarkLines(#[prop(into)] remarks: Signal<Vec<Remark>>) -> impl IntoView {
    view! {
        <div class="remarks">
            {move || remarks.get().into_iter().map(|remark| {
                let (place, what) = (texts().of(&remark.place), texts().of(&remark.what));
                view! { <p class="hint flag"><Icon shape=Shape::Beyond/>" "{format!("{place}: {what}")}</p> }
            }).collect_view()}
        </div>
    }
}
