//! The end of the page: what was and was not examined, the engagement, instruments, sources, terms, trail, signature.

use maud::{Markup, html};

use super::links::{Target, linked, to_findings, to_uses};
use super::parts::{facts, nothing, prose, sentence, wide};
use super::{Sheet, released};
use crate::content::{Basis, CalibrationState, Fact};

pub(super) fn not_examined(sheet: &Sheet<'_>) -> Markup {
    let list = &sheet.content.not_examined;
    let table = html! {
        table {
            thead {
                tr {
                    th scope="col" { (sheet.say("No.")) } th scope="col" { (sheet.say("Point")) } th scope="col" { (sheet.say("Stop")) }
                    th scope="col" { (sheet.say("Why not")) } th scope="col" { (sheet.say("Leaves open")) }
                }
            }
            tbody {
                @for (at, one) in list.iter().enumerate() {
                    tr id=(Target::Unexamined.id(at + 1)) {
                        td class="quiet" { "N" (at + 1) }
                        th scope="row" dir="auto" { (one.point) }
                        td dir="auto" { (one.stop) }
                        td dir="auto" {
                            @if one.reason.is_empty() { (sheet.say("no reason was recorded")) } @else { (one.reason) }
                        }
                        td { (to_uses(sheet, &one.leaves_open, "nothing")) }
                    }
                }
            }
        }
    };
    html! {
        section aria-labelledby="not-examined" {
            h2 id="not-examined" { (sheet.say("Not examined")) }
            @if list.is_empty() {
                (nothing(&sheet.say("Every point of the plan that the unit has was examined.")))
            } @else { (wide(&sheet.say("Table of what was not examined"), &table)) }
        }
    }
}

pub(super) fn examined(sheet: &Sheet<'_>) -> Markup {
    let stops: Vec<_> =
        sheet.content.examined.iter().filter(|stop| !stop.points.is_empty()).collect();
    html! {
        section aria-labelledby="examined" {
            h2 id="examined" { (sheet.say("Examined without remark")) }
            @if stops.is_empty() { (nothing(&sheet.say("No points were recorded here."))) } @else {
                dl class="facts" {
                    @for stop in stops {
                        div { dt { (stop.name) } dd dir="auto" { (stop.points.join("; ")) } }
                    }
                }
            }
        }
    }
}

pub(super) fn engagement(sheet: &Sheet<'_>) -> Markup {
    let content = sheet.content;
    let job = &content.job;
    let mut rows = vec![
        Fact::new(&sheet.say("Job"), &job.number),
        Fact::new(&sheet.say("Client"), &job.client),
        Fact::new(&sheet.say("Site"), &job.site),
        Fact::new(
            &sheet.say(if job.visits.len() > 1 { "Visits" } else { "Visit" }),
            &job.visits.join(", "),
        ),
        Fact::new(&sheet.say("Weather"), &job.weather),
        Fact::new(&sheet.say("Inspector"), &job.inspector),
    ];
    rows.extend(job.particulars.iter().cloned());
    html! {
        section aria-labelledby="engagement" {
            h2 id="engagement" { (sheet.say("The engagement")) }
            (facts(&rows))
            @if !content.unit.particulars.is_empty() {
                h3 { (sheet.say("The unit")) }
                (facts(&content.unit.particulars))
            }
            @if !content.cautions.is_empty() {
                div class="notice urgent" {
                    h3 { (sheet.say("Before you act on this report")) }
                    @for caution in &content.cautions { p dir="auto" { (caution) } }
                }
            }
        }
    }
}

pub(super) fn instruments(sheet: &Sheet<'_>) -> Markup {
    let list = &sheet.content.instruments;
    let table = html! {
        table {
            thead {
                tr {
                    th scope="col" { (sheet.say("No.")) } th scope="col" { (sheet.say("Instrument")) } th scope="col" { (sheet.say("Serial")) }
                    th scope="col" { (sheet.say("Accuracy")) } th scope="col" { (sheet.say("Calibrated")) } th scope="col" { (sheet.say("Due")) }
                }
            }
            tbody {
                @for (at, one) in list.iter().enumerate() {
                    tr id=(Target::Instrument.id(at + 1)) {
                        td class="quiet" { "I" (at + 1) }
                        th scope="row" dir="auto" { (one.name) }
                        td { (one.serial) }
                        td { (one.accuracy) }
                        td { (one.calibrated) }
                        td {
                            @if !one.due.is_empty() { (one.due) ", " }
                            @match one.calibration {
                                CalibrationState::InDate => { (sheet.say("in date")) }
                                CalibrationState::Overdue => { b { (sheet.say("overdue")) } }
                                CalibrationState::Unknown => { (sheet.say("not known")) }
                            }
                        }
                    }
                }
            }
        }
    };
    html! {
        section aria-labelledby="instruments" {
            h2 id="instruments" { (sheet.say("Instruments")) }
            @if list.is_empty() { (nothing(&sheet.say("No instruments were recorded."))) } @else {
                (wide(&sheet.say("Table of instruments"), &table))
            }
        }
    }
}

pub(super) fn sources(sheet: &Sheet<'_>) -> Markup {
    let list = &sheet.content.sources;
    html! {
        section aria-labelledby="sources" {
            h2 id="sources" { (sheet.say("Sources")) }
            @if list.is_empty() { (nothing(&sheet.say("No source was drawn on."))) } @else {
                ol class="sources" {
                    @for (at, source) in list.iter().enumerate() {
                        li id=(Target::Source.id(at + 1)) dir="auto" {
                            (source.document)
                            @if !source.edition.is_empty() { ", " (source.edition) }
                            @if !source.section.is_empty() { ", " (source.section) }
                            span class="remark" {
                                (sheet.say(basis(source.basis)))
                                @if !source.read && source.basis != Basis::Practice {
                                    "; " (sheet.say("nobody has read the section, so it only informs"))
                                }
                                @if !source.note.is_empty() { ". " (sentence(&source.note)) }
                            }
                            @let findings = &sheet.view.source_findings[at];
                            @let readings = &sheet.view.source_readings[at];
                            @if !findings.is_empty() || !readings.is_empty() {
                                span class="remark" {
                                    (sheet.say("Cited by")) ": " (to_findings(sheet, findings))
                                    @if !findings.is_empty() && !readings.is_empty() { "; " }
                                    (linked(sheet, Target::Reading, readings))
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn basis(basis: Basis) -> &'static str {
    match basis {
        Basis::Law => "law or regulation",
        Basis::Standard => "published standard",
        Basis::Maker => "maker's statement",
        Basis::Practice => "common practice",
    }
}

pub(super) fn terms(sheet: &Sheet<'_>) -> Markup {
    html! {
        section aria-labelledby="terms" {
            h2 id="terms" { (sheet.say("Terms")) }
            @if sheet.content.terms.is_empty() { (nothing(&sheet.say("No terms were recorded with this job."))) }
            @for clause in &sheet.content.terms {
                @if !clause.title.is_empty() { h3 { (clause.title) } }
                (prose(&clause.text))
            }
        }
    }
}

pub(super) fn trail(sheet: &Sheet<'_>) -> Markup {
    let content = sheet.content;
    let trail = &content.trail;
    let signature = &content.signature;
    let changes = if trail.changes > 0 { trail.changes.to_string() } else { String::new() };
    let rows = [
        Fact::new(&sheet.say("Release"), &released::in_words(sheet)),
        Fact::new(&sheet.say("Changes in the record"), &changes),
        Fact::new(&sheet.say("By"), &trail.people.join(", ")),
        Fact::new(&sheet.say("From, to"), &trail.span),
        Fact::new(&sheet.say("Made with"), &content.made_by.program),
        Fact::new(&sheet.say("Plan"), &content.made_by.plan),
        Fact::new(&sheet.say("Data revision"), &content.made_by.data_revision),
        Fact::new(&sheet.say("Texts"), &content.made_by.texts),
        Fact::new(&sheet.say("Issued"), &content.issued_words),
        Fact::new(
            &sheet.say(if trail.heads.len() == 1 { "Head" } else { "Heads" }),
            &trail.heads.join(" "),
        ),
    ];
    html! {
        section aria-labelledby="record" {
            h2 id="record" { (sheet.say("Record and signature")) }
            p {
                (sheet.say("Every change to the record carries the hash of those before it. Whoever holds the record can compare its heads with these. The data of this page are in")) " "
                a href=(sheet.data) { "report.json" } "."
            }
            (facts(&rows))
            (released::accepted(sheet))
            @if !content.unused.is_empty() {
                h3 { (sheet.say("Entries of the record that could not be used")) }
                @for one in &content.unused { p dir="auto" { (sentence(one)) } }
            }
            (prose(&signature.statement))
            p {
                b { @if signature.name.is_empty() { (sheet.say("Inspector")) } @else { (signature.name) } }
                @if !signature.credentials.is_empty() { span class="remark" { (signature.credentials) } }
                span class="remark" {
                    @if signature.signed.is_empty() {
                        (sheet.say("This page is not signed; the signature is on the printed report and in the released package."))
                    } @else { (signature.signed) }
                }
            }
        }
    }
}

pub(super) fn foot(sheet: &Sheet<'_>) -> Markup {
    let content = sheet.content;
    html! {
        p class="small" {
            (content.unit.headline)
            @if !content.job.number.is_empty() { " · " (sheet.say_with("Job {number}", &[("number", &content.job.number)])) }
            @if !content.issued_words.is_empty() { " · " (sheet.say_with("issued {moment}", &[("moment", &content.issued_words)])) }
        }
    }
}
