//! The readings by system: each value with its unit, uncertainty, limits, verdicts and sources; pictures above them.

use std::collections::BTreeSet;

use maud::{Markup, html};

use super::Sheet;
use super::links::{Target, linked, to_findings, to_photos, to_sources};
use super::parts::{nothing, prose, sentence, verdict, wide};
use crate::content::Reading;

pub(super) fn heading(sheet: &Sheet<'_>, title: &str) -> Markup {
    html! {
        p class="kind" {
            span { a href="index.html" { (sheet.say("Back to the findings")) } }
            @if !sheet.content.job.number.is_empty() { span { (sheet.say_with("Job {number}", &[("number", &sheet.content.job.number)])) } }
        }
        h1 { (sheet.say("Readings, visit, instruments, sources")) }
        p class="headline" dir="auto" { (title) }
        nav aria-label=(sheet.say("Contents")) {
            ul class="contents" {
                @for (at, system) in sheet.content.systems.iter().enumerate() {
                    @if !system.readings.is_empty() { li { a href={ "#system-" (at + 1) } { (system.name) } } }
                }
                @if !sheet.content.visit.days.is_empty() { li { a href="#visit" { (sheet.say("The visit")) } } }
                li { a href="#instruments" { (sheet.say("Instruments")) } }
                li { a href="#sources" { (sheet.say("Sources")) } }
            }
        }
    }
}

pub(super) fn all(sheet: &Sheet<'_>) -> Markup {
    let before = |at: usize| {
        sheet.content.systems[..at].iter().map(|system| system.readings.len()).sum::<usize>()
    };
    html! {
        section aria-labelledby="readings" {
            h2 id="readings" { (sheet.say("Readings")) }
            @if sheet.view.readings.is_empty() { (nothing(&sheet.say("No readings were recorded."))) } @else {
                p class="quiet" {
                    (sheet.say("± is the expanded uncertainty (coverage factor 2): the true value lies within it with about 95 % probability."))
                }
            }
            @for (at, system) in sheet.content.systems.iter().enumerate() {
                @if !system.readings.is_empty() {
                    h3 id={ "system-" (at + 1) } { (system.name) }
                    (prose(&system.note))
                    (pictures(sheet, &system.name))
                    (table(sheet, before(at) + 1, &system.name, &system.readings))
                }
            }
        }
    }
}

fn pictures(sheet: &Sheet<'_>, system: &str) -> Markup {
    html! {
        @for (picture, drawn) in sheet.content.pictures.iter().zip(sheet.drawings) {
            @if picture.system == system && let Some((file, alt)) = drawn {
                figure class="drawing" {
                    (wide(&picture.title, &html! { img src=(file) alt=(alt) loading="lazy"; }))
                    figcaption dir="auto" { b { (picture.title) } " " (sentence(&picture.caption)) }
                }
            }
        }
    }
}

fn table(sheet: &Sheet<'_>, first: usize, name: &str, readings: &[Reading]) -> Markup {
    let begins_point = |at: usize| {
        let earlier = at.checked_sub(1).map_or("", |before| &readings[before].point);
        !readings[at].point.is_empty() && readings[at].point != earlier
    };
    let inner = html! {
        table {
            thead {
                tr {
                    th scope="col" { (sheet.say("No.")) } th scope="col" { (sheet.say("Reading")) } th scope="col" { (sheet.say("Value")) }
                    th scope="col" { (sheet.say("Limit")) } th scope="col" { (sheet.say("Verdict")) } th scope="col" { (sheet.say("Rests on")) }
                }
            }
            tbody {
                @for (at, reading) in readings.iter().enumerate() {
                    @if begins_point(at) {
                        tr class="point" {
                            th colspan="6" scope="rowgroup" dir="auto" {
                                (reading.point)
                                @let photos = photos_from(&readings[at..]);
                                @if !photos.is_empty() { span class="remark" { (to_photos(sheet, &photos)) } }
                            }
                        }
                    }
                    (rows(sheet, first + at, reading, remark(readings, at)))
                }
            }
        }
    };
    wide(&format!("{}: {name}", sheet.say("Readings")), &inner)
}

/// The photos of the readings that begin here and are of one point, each once.
fn photos_from(readings: &[Reading]) -> Vec<usize> {
    let of_point = readings.iter().take_while(|one| one.point == readings[0].point);
    of_point.flat_map(|one| &one.photos).copied().collect::<BTreeSet<_>>().into_iter().collect()
}

/// The remark of a reading; one that the next reading of the point shares is said once, at the last of them.
fn remark(readings: &[Reading], at: usize) -> &str {
    let own = &readings[at];
    let shared = readings
        .get(at + 1)
        .is_some_and(|next| next.point == own.point && next.remark == own.remark);
    if shared { "" } else { &own.remark }
}

fn rows(sheet: &Sheet<'_>, number: usize, reading: &Reading, remark: &str) -> Markup {
    let span = Some(reading.judged.len()).filter(|rows| *rows > 1);
    html! {
        tr id=(Target::Reading.id(number)) {
            td rowspan=[span] class="quiet" { "R" (number) }
            th rowspan=[span] scope="row" dir="auto" {
                (reading.name)
                @if !reading.position.is_empty() { span class="quiet" { ", " (reading.position) } }
                @if !remark.is_empty() { span class="remark" { (remark) } }
                @let findings = &sheet.view.reading_findings[number - 1];
                @if !findings.is_empty() { span class="remark" { (to_findings(sheet, findings)) } }
            }
            td rowspan=[span] class="value" { (value(reading)) }
            @match reading.judged.first() {
                Some(judged) => {
                    (limit(&judged.limit, &judged.footing))
                    td { (verdict(judged.verdict, &judged.words)) }
                    td {
                        (to_sources(sheet, &judged.sources)) " " (linked(sheet, Target::Instrument, &reading.instruments))
                    }
                }
                None => {
                    td {} td class="quiet" { (sheet.say("no limit")) }
                    td { (linked(sheet, Target::Instrument, &reading.instruments)) }
                }
            }
        }
        @for judged in reading.judged.iter().skip(1) {
            tr {
                (limit(&judged.limit, &judged.footing))
                td { (verdict(judged.verdict, &judged.words)) }
                td { (to_sources(sheet, &judged.sources)) }
            }
        }
    }
}

fn limit(limit: &str, footing: &str) -> Markup {
    html! {
        td dir="auto" {
            (limit)
            @if !footing.is_empty() { span class="remark" { (footing) } }
        }
    }
}

/// A value as it is printed: with its uncertainty and unit.
pub(super) fn value(reading: &Reading) -> String {
    let mut text = if reading.value.is_empty() { "–".to_owned() } else { reading.value.clone() };
    if !reading.uncertainty.is_empty() {
        text = format!("{text} ± {}", reading.uncertainty);
    }
    if !reading.unit.is_empty() {
        text = format!("{text} {}", reading.unit);
    }
    text
}
