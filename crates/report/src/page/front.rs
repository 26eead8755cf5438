//! What a lay client understands in one minute: the unit, the five uses, what stops them, what is not known.

use maud::{Markup, html};

use super::Sheet;
use super::links::{Target, href, shortened, to_findings, use_id};
use super::parts::{alt, facts, lower, nothing, picture, prose, sentence, sign, state_word};
use crate::content::{UseKind, UseState};
use crate::drawing::Sign;

pub(super) fn heading(sheet: &Sheet<'_>, title: &str) -> Markup {
    let content = sheet.content;
    let job = &content.job;
    let mut who = Vec::new();
    if !job.client.is_empty() {
        who.push(sheet.say_with("For {client}", &[("client", &job.client)]));
    }
    if !job.visits.is_empty() {
        who.push(sheet.say_with("inspected {days}", &[("days", &job.visits.join(", "))]));
    }
    if !job.site.is_empty() {
        who.push(sheet.say_with("at {site}", &[("site", &job.site)]));
    }
    html! {
        p class="kind" {
            span { (sheet.say("Inspection report")) }
            @if !job.number.is_empty() { span { (sheet.say_with("Job {number}", &[("number", &job.number)])) } }
        }
        h1 dir="auto" { (title) }
        @if !content.unit.headline.is_empty() && content.unit.headline != title {
            p class="headline" dir="auto" { (content.unit.headline) }
        }
        @if !who.is_empty() { p class="quiet" dir="auto" { (who.join(" · ")) } }
        div class="glance" {
            div {
                (facts(&content.unit.facts))
                (prose(&content.summary))
            }
            @if let Some(number) = content.unit.photo
                && let Some((photo, shot)) = content.photos.get(number - 1).zip(sheet.shots.get(number - 1)) {
                div {
                    (picture(shot, &alt(sheet, photo, number), &photo.marks))
                    p class="small" { a href=(href(sheet, Target::Photo, number)) { (sheet.say_with("Photo {n}", &[("n", &number.to_string())])) } }
                }
            }
        }
        @if let Some(pdf) = sheet.pdf {
            p class="take" { a href=(pdf) { (sheet.say("The printed report (PDF)")) } " · " a href=(sheet.data) { (sheet.say("Its data (JSON)")) } }
        }
    }
}

pub(super) fn uses(sheet: &Sheet<'_>) -> Markup {
    html! {
        section aria-labelledby="uses" {
            h2 id="uses" { (sheet.say("The five uses")) }
            ul class="uses" {
                @for one in &sheet.content.uses {
                    @let (class, mark) = match one.state {
                        UseState::Clear => ("use clear", Sign::Clear),
                        UseState::Held => ("use held", Sign::Held),
                        UseState::Open => ("use open", Sign::Open),
                        UseState::NotFitted => ("use not-fitted", Sign::NotFitted),
                    };
                    li class=(class) id=(use_id(one.kind)) {
                        h3 { (sheet.say(one.kind.word())) " " (sign(mark)) }
                        p class="state" { (sheet.say(state_word(one.state))) }
                        p dir="auto" { (one.sentence) }
                        @if !one.findings.is_empty() { p { (first_findings(sheet, &one.findings)) } }
                        @if !one.not_examined.is_empty() {
                            p { (sheet.say("Not examined:")) " " (shortened(sheet, Target::Unexamined, &one.not_examined)) }
                        }
                    }
                }
            }
        }
    }
}

fn first_findings(sheet: &Sheet<'_>, numbers: &[usize]) -> Markup {
    html! {
        (sheet.say(if numbers.len() == 1 { "Finding" } else { "Findings" })) " "
        (shortened(sheet, Target::Finding, numbers))
    }
}

pub(super) fn at_once(sheet: &Sheet<'_>) -> Markup {
    html! {
        @if !sheet.content.stop_work.is_empty() {
            section class="notice urgent" aria-labelledby="at-once" {
                h2 id="at-once" { (sheet.say("At once")) }
                @for one in &sheet.content.stop_work {
                    p dir="auto" {
                        b { (sentence(&one.title)) } " " (one.text)
                        @if let Some(number) = one.finding { " " (to_findings(sheet, &[number])) }
                    }
                }
            }
        }
    }
}

pub(super) fn stopping(sheet: &Sheet<'_>) -> Markup {
    let stopping: Vec<_> = sheet
        .content
        .findings
        .iter()
        .enumerate()
        .filter(|(_, finding)| !finding.stops.is_empty())
        .collect();
    html! {
        section aria-labelledby="stopping" {
            h2 id="stopping" { (sheet.say("What stops use")) }
            @if stopping.is_empty() {
                (nothing(&sheet.say("No finding stops one of the five uses.")))
            } @else {
                ol class="stopping" {
                    @for (at, finding) in &stopping {
                        li value=(at + 1) {
                            a href=(href(sheet, Target::Finding, at + 1)) { (finding.title) }
                            span class="quiet" {
                                " "
                                (sheet.say_with("stops {uses}", &[("uses", &named(sheet, &finding.stops))]))
                                @if !finding.who.is_empty() { " · " (finding.who) }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Uses in one line, as words: their panels stand just above.
fn named(sheet: &Sheet<'_>, uses: &[UseKind]) -> String {
    uses.iter().map(|kind| lower(sheet, *kind)).collect::<Vec<_>>().join(", ")
}

pub(super) fn unexamined(sheet: &Sheet<'_>) -> Markup {
    let list = &sheet.content.not_examined;
    let names: Vec<&str> = list.iter().take(3).map(|one| one.point.as_str()).collect();
    html! {
        section aria-labelledby="unexamined-short" {
            h2 id="unexamined-short" { (sheet.say("Not examined, in short")) }
            @if list.is_empty() {
                p { (sheet.say("Every point of the plan that the unit has was examined.")) }
            } @else {
                p {
                    (sheet.say_with(could_not(list.len()), &[("n", &list.len().to_string())]))
                    " " (names.join("; ")) ". "
                    a href="#not-examined" { (sheet.say("All of them, and why")) }
                }
            }
        }
    }
}

fn could_not(count: usize) -> &'static str {
    match count {
        1 => "{n} point could not be examined:",
        2 | 3 => "{n} points could not be examined:",
        _ => "{n} points could not be examined, among them:",
    }
}

pub(super) fn meaning(sheet: &Sheet<'_>) -> Markup {
    html! {
        p class="notice" {
            b { (sheet.say("As found on that day, as far as examined; not a warranty.")) }
            " "
            (sheet.say("“Clear” means that nothing was found that stops this use and that its essential points were examined. “Held” means: do not, until the finding has been dealt with. “Open” means that it is not known, because not everything that matters could be examined. Local codes and the licensed trades named in the findings have the last word."))
        }
    }
}

pub(super) fn contents(sheet: &Sheet<'_>) -> Markup {
    let content = sheet.content;
    html! {
        nav aria-label=(sheet.say("Contents")) {
            ul class="contents" {
                li { a href="#findings" { (sheet.say("Findings")) " (" (content.findings.len()) ")" } }
                li { a href="#not-examined" { (sheet.say("Not examined")) " (" (content.not_examined.len()) ")" } }
                li { a href="#examined" { (sheet.say("Examined without remark")) } }
                li { a href="#engagement" { (sheet.say("The engagement")) } }
                li { a href="#terms" { (sheet.say("Terms")) } }
                li { a href="#record" { (sheet.say("Record and signature")) } }
                li { a href="readings.html" { (sheet.say("Readings, visit, instruments, sources")) } }
            }
        }
    }
}
