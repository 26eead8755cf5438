//! The visit as it was kept: each day over time, waits and gaps in words, the points in the order of their times.

use maud::{Markup, html};

use super::Sheet;
use super::parts::wide;
use crate::content::Day;

pub(super) fn all(sheet: &Sheet<'_>) -> Markup {
    let kept = &sheet.content.visit;
    html! {
        @if !kept.order.is_empty() || !kept.days.is_empty() {
            section aria-labelledby="visit" {
                h2 id="visit" { (sheet.say("The visit")) }
                p dir="auto" { (kept.order) }
                @for (at, day) in kept.days.iter().enumerate() {
                    h3 { (day.day) }
                    @if let Some((file, alt)) = sheet.days.get(at).and_then(Option::as_ref) {
                        figure class="drawing" {
                            (wide(&sheet.say_with("{day} over time", &[("day", &day.day)]), &html! { img src=(file) alt=(alt) loading="lazy"; }))
                            figcaption {
                                (sheet.say(caption(day)))
                            }
                        }
                    }
                    (listed(&sheet.say("Unattended"), day.waits.iter().map(|wait| format!("{}: {}", wait.point, wait.words))))
                    (listed(&sheet.say("State of the site"), day.changes.iter().map(|change| change.words.clone())))
                    (listed(&sheet.say("Gaps"), day.gaps.iter().map(|gap| gap.words.clone())))
                    @if day.gaps.is_empty() { p class="small" { (sheet.say("No gap of 15 minutes or more between two entries.")) } }
                    @if !day.steps.is_empty() { (steps(sheet, day)) }
                }
                @if !kept.days.is_empty() {
                    p class="small" {
                        (sheet.say("Times are those of the record: when the entry was made, which may be a little after the act. “Plan” is the point's place in the plan's walking order. A schedule computed for the day is not kept in the record."))
                    }
                }
                @if !kept.untimed.is_empty() {
                    p class="small" dir="auto" { (sheet.say("Settled, and the record does not say when:")) " " (kept.untimed.join("; ")) "." }
                }
            }
        }
    }
}

fn listed(name: &str, lines: impl Iterator<Item = String>) -> Markup {
    let lines: Vec<String> = lines.collect();
    html! {
        @if !lines.is_empty() {
            h4 { (name) }
            ul { @for line in &lines { li dir="auto" { (line) } } }
        }
    }
}

fn caption(day: &Day) -> &'static str {
    if day.gaps.is_empty() {
        "The stops in the plan's walking order, from top to bottom; each mark is a point when it was settled, hollow where it was not examined. Beneath: what ran unattended."
    } else {
        "The stops in the plan's walking order, from top to bottom; each mark is a point when it was settled, hollow where it was not examined. Beneath: what ran unattended; shaded: no entry."
    }
}

fn steps(sheet: &Sheet<'_>, day: &Day) -> Markup {
    let table = html! {
        table class="times" {
            thead {
                tr { th scope="col" { (sheet.say("Time")) } th scope="col" { (sheet.say("Point settled")) }
                    th scope="col" { (sheet.say("Stop")) } th scope="col" { (sheet.say("Plan")) } }
            }
            tbody {
                @for step in &day.steps {
                    tr {
                        td { (step.time) }
                        th scope="row" dir="auto" {
                            (step.point)
                            @if !step.outcome.is_empty() { span class="quiet" { ", " (step.outcome) } }
                            @if !step.by.is_empty() { span class="quiet" { ", " (step.by) } }
                        }
                        td dir="auto" { (step.stop) }
                        td class="quiet" { (step.planned) }
                    }
                }
            }
        }
    };
    wide(&sheet.say_with("Points by time, {day}", &[("day", &day.day)]), &table)
}
