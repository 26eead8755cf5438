//! The small parts that every section of the page uses: links, signs, prose, photos.

use maud::{Markup, PreEscaped, html};

use super::{Leaf, Sheet, Shot};
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

/// Uses in one line, or what stands there when there are none.
pub(super) fn uses_line(sheet: &Sheet<'_>, uses: &[UseKind], none: &str) -> String {
    if uses.is_empty() {
        return if none.is_empty() { String::new() } else { sheet.say(none) };
    }
    uses.iter().map(|kind| lower(sheet, *kind)).collect::<Vec<_>>().join(", ")
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

/// What a number on the page names.
#[derive(Clone, Copy)]
pub(super) enum Target {
    Finding,
    Photo,
    Unexamined,
    Reading,
    Instrument,
    Source,
}

impl Target {
    /// The place of an entry on the leaf where it stands.
    pub(super) fn id(self, number: usize) -> String {
        let word = match self {
            Self::Finding => "finding",
            Self::Photo => "photo",
            Self::Unexamined => "unexamined",
            Self::Reading => "reading",
            Self::Instrument => "instrument",
            Self::Source => "source",
        };
        format!("{word}-{number}")
    }

    /// What stands before its number.
    fn letter(self) -> &'static str {
        match self {
            Self::Unexamined => "N",
            Self::Reading => "R",
            Self::Instrument => "I",
            Self::Finding | Self::Photo | Self::Source => "",
        }
    }

    fn leaf(self) -> Leaf {
        match self {
            Self::Finding | Self::Photo | Self::Unexamined => Leaf::Index,
            Self::Reading | Self::Instrument | Self::Source => Leaf::Readings,
        }
    }
}

/// Where an entry is found from this leaf.
pub(super) fn href(sheet: &Sheet<'_>, target: Target, number: usize) -> String {
    let file = if target.leaf() == sheet.leaf { "" } else { target.leaf().file() };
    format!("{file}#{}", target.id(number))
}

/// Links to findings, by number.
pub(super) fn to_findings(sheet: &Sheet<'_>, numbers: &[usize]) -> Markup {
    html! {
        @if !numbers.is_empty() {
            (sheet.say(if numbers.len() == 1 { "Finding" } else { "Findings" })) " "
            (linked(sheet, Target::Finding, numbers))
        }
    }
}

/// Links with their letter before the number: `R7, R8`.
pub(super) fn linked(sheet: &Sheet<'_>, target: Target, numbers: &[usize]) -> Markup {
    html! {
        @for (at, number) in numbers.iter().enumerate() {
            @if at > 0 { ", " }
            a href=(href(sheet, target, *number)) { (target.letter()) (number) }
        }
    }
}

/// Links to sources: `[3] [4]`.
pub(super) fn to_sources(sheet: &Sheet<'_>, numbers: &[usize]) -> Markup {
    html! {
        @for number in numbers {
            " " a href=(href(sheet, Target::Source, *number)) { "[" (number) "]" }
        }
    }
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

/// A photo with its marks, its caption and where else it belongs. `beside` is the finding that it stands beside.
pub(super) fn photo(sheet: &Sheet<'_>, number: usize, beside: Option<usize>) -> Markup {
    let Some((photo, shot)) =
        number.checked_sub(1).and_then(|at| sheet.content.photos.get(at).zip(sheet.shots.get(at)))
    else {
        return html! {};
    };
    let others: Vec<usize> = sheet.view.photo_findings[number - 1]
        .iter()
        .copied()
        .filter(|finding| Some(*finding) != beside)
        .collect();
    html! {
        figure class="photo" id=(Target::Photo.id(number)) {
            (picture(shot, &alt(sheet, photo, number), &photo.marks))
            figcaption dir="auto" {
                b { (sheet.say_with("Photo {n}", &[("n", &number.to_string())])) }
                @if !photo.caption.is_empty() { " " (sentence(&photo.caption)) }
                @let side: Vec<&str> =
                    [photo.place.as_str(), photo.taken.as_str()].into_iter().filter(|it| !it.is_empty()).collect();
                @if !side.is_empty() { span class="quiet" { " " (side.join(", ")) "." } }
                @if !others.is_empty() { " " (to_findings(sheet, &others)) "." }
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
