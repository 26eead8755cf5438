//! The findings, each with its evidence beside it, most urgent first.

use maud::{Markup, PreEscaped, html};

use super::Sheet;
use super::links::{Target, href, link, linked, to_sources, to_uses};
use super::parts::{lower, nothing, photo, prose, verdict, when_key, when_words, wide};
use crate::content::{Finding, UseKind, When};

pub(super) fn all(sheet: &Sheet<'_>) -> Markup {
    let content = sheet.content;
    html! {
        section aria-labelledby="findings" {
            h2 id="findings" { (sheet.say("Findings")) }
            @if content.findings.is_empty() { (nothing(&sheet.say("No findings were recorded."))) } @else {
                (filter(sheet, &content.findings))
                (views(sheet))
                @for (at, one) in content.findings.iter().enumerate() { (finding(sheet, at + 1, one)) }
            }
            @if !sheet.view.further_photos.is_empty() {
                h3 id="further-photos" { (sheet.say("Further photos")) }
                div class="photos" {
                    @for number in &sheet.view.further_photos { (photo(sheet, *number)) }
                }
            }
        }
    }
}

/// Choices for the script, which also shows them: without it all findings stand there anyway.
fn filter(sheet: &Sheet<'_>, findings: &[Finding]) -> Markup {
    let stopped: Vec<UseKind> = UseKind::ALL
        .into_iter()
        .filter(|kind| findings.iter().any(|finding| finding.stops.contains(kind)))
        .collect();
    let whens: Vec<When> = [When::BeforeUse, When::Soon, When::InTime]
        .into_iter()
        .filter(|when| findings.iter().any(|finding| finding.when == *when))
        .collect();
    html! {
        form id="filter" hidden aria-label=(sheet.say("Which findings are shown"))
            data-all=[sheet.own("All {count} findings are shown.")]
            data-some=[sheet.own("{count} of {all} findings are shown.")] {
            fieldset {
                legend { (sheet.say("Stops")) }
                label { input type="radio" name="use" value="" checked; " " (sheet.say("any or no use")) }
                @for kind in stopped {
                    @let word = kind.word().to_lowercase();
                    label { input type="radio" name="use" value=(word); " " (lower(sheet, kind)) }
                }
            }
            fieldset {
                legend { (sheet.say("When")) }
                label { input type="radio" name="when" value="" checked; " " (sheet.say("any time")) }
                @for when in whens {
                    label { input type="radio" name="when" value=(when_key(when)); " " (sheet.say(when_words(when)).to_lowercase()) }
                }
            }
            p id="shown" role="status" {}
        }
    }
}

/// The unit from above and from its sides; each pin is a link.
fn views(sheet: &Sheet<'_>) -> Markup {
    let address = |number| href(sheet, Target::Finding, number);
    let undrawn = sheet.content.unit.outline.as_ref().map_or(&[][..], |outline| &outline.undrawn);
    html! {
        @if let Some((plan, sides)) = sheet.views.split_first() {
            figure class="drawing" {
                (wide(&sheet.say("The unit from above"), &html! { (PreEscaped(plan.linked(&address))) }))
                figcaption {
                    (sheet.say("The unit from above, front to the left. The numbers are those of the findings."))
                    @if !sheet.view.nowhere.is_empty() {
                        " " (sheet.say("Without a place on a drawing:")) " " (linked(sheet, Target::Finding, &sheet.view.nowhere)) "."
                    }
                }
            }
            @if !sides.is_empty() {
                figure class="drawing" {
                    div class="sides" {
                        @for side in sides { (PreEscaped(side.linked(&address))) }
                    }
                    figcaption {
                        (sheet.say("The sides with a finding, as one sees them standing before them; schematic, not to scale."))
                        @if !sheet.view.no_side.is_empty() {
                            " " (sheet.say("On no side, because they are inside, above, underneath, or the record does not say which:")) " "
                            (linked(sheet, Target::Finding, &sheet.view.no_side)) "."
                        }
                        @if !undrawn.is_empty() {
                            " " (sheet.say("Fitted, and not drawn because the record does not say where:")) " " (undrawn.join(", ")) "."
                        }
                    }
                }
            }
        }
    }
}

/// Links to a finding's pins.
fn pins(sheet: &Sheet<'_>, number: usize) -> Markup {
    let on = &sheet.view.finding_views[number - 1];
    html! {
        @if !on.is_empty() {
            span class="remark" {
                (sheet.say("Drawn:")) " "
                @for (at, view) in on.iter().filter_map(|at| sheet.views.get(*at)).enumerate() {
                    @if at > 0 { ", " }
                    a href={ "#" (view.pin_id(number)) } { (view.title) }
                }
            }
        }
    }
}

fn finding(sheet: &Sheet<'_>, number: usize, finding: &Finding) -> Markup {
    let stops: Vec<String> = finding.stops.iter().map(|kind| kind.word().to_lowercase()).collect();
    let mut named = finding.photos.clone();
    named.dedup();
    let (here, elsewhere): (Vec<usize>, Vec<usize>) =
        named.into_iter().partition(|at| sheet.view.photo_shown[at - 1] == Some(number));
    html! {
        article class="finding" id=(Target::Finding.id(number))
            data-uses=(stops.join(" ")) data-when=(when_key(finding.when)) {
            h3 dir="auto" { span class="number" { (number) } " " (finding.title) }
            dl class="strip" {
                div { dt { (sheet.say("When")) } dd { span class={ "when " (when_key(finding.when)) } { (sheet.say(when_words(finding.when))) } } }
                div { dt { (sheet.say("Who")) } dd dir="auto" { (said(sheet, &finding.who)) } }
                div { dt { (sheet.say("Where")) } dd dir="auto" { (said(sheet, &finding.location)) (pins(sheet, number)) } }
                div { dt { (sheet.say("Stops")) } dd { (to_uses(sheet, &finding.stops, "no use")) } }
            }
            (prose(&finding.statement))
            @if !finding.basis.is_empty() || !finding.sources.is_empty() {
                p dir="auto" { b { (sheet.say("Basis.")) " " } (finding.basis) (to_sources(sheet, &finding.sources)) }
            }
            @if !elsewhere.is_empty() {
                p { span class="quiet" { (sheet.say("See also photo")) " " } (linked(sheet, Target::Photo, &elsewhere)) "." }
            }
            @if !finding.readings.is_empty() {
                h4 { (sheet.say("Readings")) }
                ul class="evidence" {
                    @for reading in &finding.readings { (evidence(sheet, *reading)) }
                }
            }
            @if !here.is_empty() {
                div class="photos" {
                    @for at in &here { (photo(sheet, *at)) }
                }
            }
        }
    }
}

fn said(sheet: &Sheet<'_>, text: &str) -> String {
    if text.is_empty() { sheet.say("not said") } else { text.to_owned() }
}

/// A reading in one line, with what each limit says of it.
fn evidence(sheet: &Sheet<'_>, number: usize) -> Markup {
    let Some(reading) = number.checked_sub(1).and_then(|at| sheet.view.readings.get(at)) else {
        return html! {};
    };
    html! {
        li dir="auto" {
            (link(sheet, Target::Reading, number)) " "
            @if !reading.point.is_empty() && reading.point != reading.name { (reading.point) ": " }
            (reading.name)
            @if !reading.position.is_empty() { span class="quiet" { ", " (reading.position) } }
            ": " b { (super::readings::value(reading)) }
            @for judged in &reading.judged {
                br;
                @if !judged.limit.is_empty() { span class="quiet" { (judged.limit) ": " } }
                (verdict(judged.verdict, &judged.words))
            }
        }
    }
}
