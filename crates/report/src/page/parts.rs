//! The small parts that every section of the page uses: signs, prose, photos.

use maud::{Markup, PreEscaped, html};

use super::links::{Target, shortened, to_findings};
use super::{Sheet, Shot};
use crate::content::{Fact, UseKind, UseState, Verdict, When};
use crate::drawing::{self, Sign};

/// The page's title: the report's, or what it is.
pub(super) fn title(sheet: &Sheet<'_>) -> String {
    let title = sheet.content.title.trim();
    if title.is_empty() { sheet.say("Inspection report") } else { title.to_owned() }
}

/// A sign beside the word that it repeats; passed over when the page is read out. Drawn once, in [`signs`].
pub(super) fn sign(which: Sign) -> Markup {
    html! {
        svg class="sign" aria-hidden="true" { use href={ "#" (which.name()) } {} }
    }
}

/// All signs, drawn once, for the places that show them.
pub(super) fn signs() -> Markup {
    html! {
        svg class="signs" aria-hidden="true" {
            @for which in Sign::ALL {
                symbol id=(which.name()) viewBox="0 0 16 16" { (PreEscaped(drawing::sign(which))) }
            }
        }
    }
}

/// A verdict in words with its sign.
pub(super) fn verdict(which: Verdict, words: &str) -> Markup {
    let class = match which {
        Verdict::Conforms => "conforms",
        Verdict::DoesNotConform => "does-not-conform",
        Verdict::Undecided => "undecided",
        Verdict::WithinGuidance => "within",
        Verdict::BeyondGuidance => "beyond",
        Verdict::NoLimit => "no-limit",
    };
    html! {
        span class={ "verdict " (class) } { (sign(Sign::of(which))) " " (words) }
    }
}

/// The word for a state of a use.
pub(super) fn state_word(state: UseState) -> &'static str {
    match state {
        UseState::Clear => "Clear",
        UseState::Held => "Held",
        UseState::Open => "Open",
        UseState::NotFitted => "Not fitted",
    }
}

/// The words for a when.
pub(super) fn when_words(when: When) -> &'static str {
    match when {
        When::BeforeUse => "Before use",
        When::Soon => "Soon",
        When::InTime => "In time",
    }
}

/// The key of a when, for the filter.
pub(super) fn when_key(when: When) -> &'static str {
    match when {
        When::BeforeUse => "before-use",
        When::Soon => "soon",
        When::InTime => "in-time",
    }
}

/// A use's word inside a sentence.
pub(super) fn lower(sheet: &Sheet<'_>, kind: UseKind) -> String {
    sheet.say(kind.word()).to_lowercase()
}

/// Record text of several lines: each a paragraph, in its own direction of writing.
pub(super) fn prose(text: &str) -> Markup {
    html! {
        @for line in text.lines().filter(|line| !line.trim().is_empty()) {
            p dir="auto" { (line) }
        }
    }
}

/// What stands in a section without entries.
pub(super) fn nothing(words: &str) -> Markup {
    html! { p class="nothing" { (words) } }
}

/// Names and what they are.
pub(super) fn facts(facts: &[Fact]) -> Markup {
    html! {
        dl class="facts" {
            @for fact in facts.iter().filter(|fact| !fact.value.is_empty()) {
                div { dt { (fact.name) } dd dir="auto" { (fact.value) } }
            }
        }
    }
}

/// A wide table or drawing in a box that scrolls by itself, by keyboard too.
pub(super) fn wide(name: &str, inner: &Markup) -> Markup {
    html! {
        div class="wide" role="region" tabindex="0" aria-label=(name) { (inner) }
    }
}

/// A photo with its marks, its caption, and the ways from it: to the findings that name it and to the readings of its point.
pub(super) fn photo(sheet: &Sheet<'_>, number: usize) -> Markup {
    let Some((photo, shot)) =
        number.checked_sub(1).and_then(|at| sheet.content.photos.get(at).zip(sheet.shots.get(at)))
    else {
        return html! {};
    };
    let findings = &sheet.view.photo_findings[number - 1];
    let readings = &sheet.view.photo_readings[number - 1];
    html! {
        figure class="photo" id=(Target::Photo.id(number)) {
            (picture(shot, &alt(sheet, photo, number), &photo.marks))
            figcaption dir="auto" {
                b { (sheet.say_with("Photo {n}", &[("n", &number.to_string())])) }
                @if !photo.caption.is_empty() { " " (sentence(&photo.caption)) }
                @let side: Vec<&str> =
                    [photo.place.as_str(), photo.taken.as_str()].into_iter().filter(|it| !it.is_empty()).collect();
                @if !side.is_empty() { span class="quiet" { " " (side.join(", ")) "." } }
                @if !findings.is_empty() { " " (to_findings(sheet, findings)) "." }
                @if !readings.is_empty() {
                    " " (sheet.say(if readings.len() == 1 { "Reading" } else { "Readings" })) " "
                    (shortened(sheet, Target::Reading, readings)) "."
                }
            }
        }
    }
}

/// The picture alone: a link to its file, the marks above it.
pub(super) fn picture(shot: &Shot, alt: &str, marks: &[crate::content::Mark]) -> Markup {
    match shot {
        Shot::Missing(why) => html! { p class="missing" { (why) } },
        Shot::Here { file, size } => html! {
            a class="shot" href=(file) {
                img src=(file) alt=(alt) width=(size.0) height=(size.1) loading="lazy" decoding="async";
                @if let Some(marks) = drawing::marks(*size, marks) {
                    span class="marks" aria-hidden="true" { (PreEscaped(marks)) }
                }
            }
        },
    }
}

/// What a photo shows, for those who cannot see it.
pub(super) fn alt(sheet: &Sheet<'_>, photo: &crate::content::Photo, number: usize) -> String {
    [&photo.alt, &photo.caption]
        .into_iter()
        .find(|text| !text.trim().is_empty())
        .cloned()
        .unwrap_or_else(|| {
            sheet.say_with("Photo {n}, without description", &[("n", &number.to_string())])
        })
}

/// A text with a full stop, where it has none.
pub(super) fn sentence(text: &str) -> String {
    match text.trim_end().chars().last() {
        None => String::new(),
        Some('.' | '!' | '?' | '…' | ':') => text.to_owned(),
        Some(_) => format!("{}.", text.trim_end()),
    }
}
