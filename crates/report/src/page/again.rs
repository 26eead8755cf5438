//! What became of the findings of an earlier inspection, with photos of then and now.

use maud::{Markup, html};

use super::Sheet;
use super::links::{Target, href, linked, to_findings, to_uses};
use super::parts::{alt, facts, nothing, photo, picture, sentence, wide};
use crate::content::{Again, AgainFinding, AgainState};

pub(super) fn all(sheet: &Sheet<'_>) -> Markup {
    let Some(again) = &sheet.content.again else { return html! {} };
    let intro = if again.visited.is_empty() {
        sheet.say_with("The same unit was inspected in job {job}.", &[("job", &again.job)])
    } else {
        sheet.say_with(
            "The same unit was inspected in job {job} on {day}.",
            &[("job", &again.job), ("day", &again.visited)],
        )
    };
    html! {
        section aria-labelledby="again" {
            h2 id="again" { (sheet.say("Since the earlier inspection")) }
            p dir="auto" { (intro) " " (again.sentence) }
            @if !again.findings.is_empty() {
                (wide(&sheet.say("Since the earlier inspection"), &table(sheet, again)))
                p class="small" { (sheet.say("“Corrected” means that it was looked at and is there no more, as far as one could see; it is no statement about the work. “Not seen” means that it was not looked at. What was not corrected and what was not seen go on stopping the uses that they stopped.")) }
                @for (at, one) in again.findings.iter().enumerate() { (pair(sheet, at + 1, one)) }
            }
            (facts(&again.record))
        }
    }
}

fn table(sheet: &Sheet<'_>, again: &Again) -> Markup {
    html! {
        table {
            thead {
                tr {
                    @for head in [sheet.say("Then"), sheet.say("Finding"), sheet.say("Stops"), sheet.say("What became of it"), sheet.say("Now")] {
                        th scope="col" { (head) }
                    }
                }
            }
            tbody {
                @for one in &again.findings {
                    tr {
                        td { (one.number_then) }
                        td dir="auto" {
                            (one.title)
                            @if !one.location.is_empty() { span class="quiet" { " " (one.location) } }
                        }
                        td { (to_uses(sheet, &one.stops, "nothing")) }
                        td { (became(one)) }
                        td {
                            @match one.number {
                                Some(number) => (to_findings(sheet, &[number])),
                                None => "–",
                            }
                        }
                    }
                }
            }
        }
    }
}

fn became(one: &AgainFinding) -> Markup {
    html! {
        @if one.state == AgainState::NotCorrected { b { (one.words) } } @else { (one.words) }
    }
}

fn pair(sheet: &Sheet<'_>, at: usize, one: &AgainFinding) -> Markup {
    html! {
        article class="finding" id={ "then-" (one.number_then) } {
            h3 dir="auto" { span class="number" { (one.number_then) } " " (one.title) ": " (became(one)) }
            @if !one.statement.is_empty() { p dir="auto" { b { (sheet.say("Then.")) } " " (one.statement) } }
            @if !one.remark.is_empty() || one.number.is_some() {
                p dir="auto" {
                    b { (sheet.say("Now.")) } " "
                    @if !one.remark.is_empty() { (sentence(&one.remark)) " " }
                    @if let Some(number) = one.number { (to_findings(sheet, &[number])) "." }
                }
            }
            @if !one.photos_then.is_empty() || !one.photos_now.is_empty() {
                div class="photos" {
                    (half(sheet, &sheet.say("Then"), &one.photos_then, at))
                    (half(sheet, &sheet.say("Now"), &one.photos_now, at))
                }
            }
        }
    }
}

/// The photos of then or of now. One that stands here has its own place to link to; one that stands elsewhere is shown once
/// more, with a link there.
fn half(sheet: &Sheet<'_>, name: &str, numbers: &[usize], at: usize) -> Markup {
    let here = |number: &usize| sheet.view.photo_then.get(number - 1) == Some(&Some(at));
    let (own, others): (Vec<usize>, Vec<usize>) = numbers.iter().copied().partition(here);
    html! {
        div {
            h4 { (name) }
            @if numbers.is_empty() { (nothing(&sheet.say("No photo."))) }
            @for number in &own { (photo(sheet, *number)) }
            @for number in others.iter().take(if own.is_empty() { 1 } else { 0 }) { (once_more(sheet, *number)) }
            @let rest = others.get(usize::from(own.is_empty())..).unwrap_or_default();
            @if !rest.is_empty() {
                p { span class="quiet" { (sheet.say("See also photo")) " " } (linked(sheet, Target::Photo, rest)) "." }
            }
        }
    }
}

fn once_more(sheet: &Sheet<'_>, number: usize) -> Markup {
    let Some((photo, shot)) =
        number.checked_sub(1).and_then(|at| sheet.content.photos.get(at).zip(sheet.shots.get(at)))
    else {
        return html! {};
    };
    html! {
        figure class="photo" {
            (picture(shot, &alt(sheet, photo, number), &photo.marks))
            figcaption dir="auto" {
                a href=(href(sheet, Target::Photo, number)) { (sheet.say_with("Photo {n}", &[("n", &number.to_string())])) }
                @if !photo.caption.is_empty() { " " (sentence(&photo.caption)) }
                @if !photo.taken.is_empty() { span class="quiet" { " " (photo.taken) "." } }
            }
        }
    }
}
