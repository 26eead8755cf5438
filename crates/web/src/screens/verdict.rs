//! A verdict: its sign, its words, the value on the limit's own scale, and where the limit is published.

use field::{Judged, Strip, Valued};
use leptos::prelude::*;

use super::marks::{Icon, Shape};
use crate::app::{say, say_with, texts};

/// What one limit says.
#[component]
pub(super) fn JudgedView(judged: Judged) -> impl IntoView {
    let texts = texts();
    let footing = texts.of(&judged.footing_word());
    let source = format!("{} · {footing}", judged.source);
    view! {
        <div class="judged">
            <Icon shape=Shape::of_verdict(judged.verdict)/>
            <div class="judged-words">
                <p class="verdict"><strong>{texts.of(&judged.word())}</strong>" · "{texts.of(&judged.bound)}</p>
                {judged.strip.map(|strip| view! { <StripView strip/> })}
                <p class="source">{source}</p>
                {judged.instrument_unfit.then(|| view! { <p class="source">{say("verdict-unfit")}</p> })}
                {judged.conformity.filter(|share| (1..100).contains(share)).map(|share| view! {
                    <p class="source">{say_with("verdict-probability", &[("percent", &share.to_string())])}</p>
                })}
            </div>
        </div>
    }
}

/// A value with all that is said of it.
#[component]
pub(super) fn ValuedView(value: Valued) -> impl IntoView {
    let title = match value.place.as_str() {
        "" => value.title.clone(),
        place => format!("{}, {place}", value.title),
    };
    view! {
        <div class="valued">
            <p class="valued-title">{title}</p>
            <p class="figure">{value.value}</p>
            {value.judged.into_iter().map(|judged| view! { <JudgedView judged/> }).collect_view()}
            {value.notes.into_iter().map(|note| view! { <p class="source">{texts().of(&note)}</p> }).collect_view()}
        </div>
    }
}

/// The value as a needle with its uncertainty, over what the limit accepts. The words beside it say the same.
#[component]
fn StripView(strip: Strip) -> impl IntoView {
    const LENGTH: f64 = 240.0;
    let at = |share: f64| format!("{:.1}", share * LENGTH);
    let wide = |from: f64, to: f64| format!("{:.1}", ((to - from) * LENGTH).max(2.0));
    let (least, most) = (strip.least.unwrap_or(0.0), strip.most.unwrap_or(1.0));
    let ticks = (0..=24).map(|tick| {
        let x = format!("{:.1}", f64::from(tick) * 10.0);
        let low = if tick % 6 == 0 { "14" } else { "17" };
        view! { <line class="tick" x1=x.clone() x2=x y1=low y2="20"></line> }
    });
    view! {
        <svg class="strip" viewBox="-2 0 244 22" aria-hidden="true" focusable="false">
            {ticks.collect_view()}
            <rect class="accepts" x=at(least) y="9" width=wide(least, most) height="4"></rect>
            {[strip.least, strip.most].into_iter().flatten().map(|bound| view! {
                <line class="bound" x1=at(bound) x2=at(bound) y1="4" y2="20"></line>
            }).collect_view()}
            <rect class="reach" x=at(strip.reach.0) y="5.500" width=wide(strip.reach.0, strip.reach.1) height="3"></rect>
            <path class="needle" d=format!("M{0} 9l-4.500-8h9z", at(strip.value))></path>
        </svg>
    }
}
