//! The ways through the page: what a number or a use on it leads to, and what is said of the link to whoever cannot see
//! beside what it stands.

use maud::{Markup, html};

use super::parts::lower;
use super::{Leaf, Sheet};
use crate::content::UseKind;

/// How many entries of a long list are named where it is only referred to.
const FEW: usize = 4;

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

    /// The number as it stands on the page.
    fn shown(self, number: usize) -> String {
        match self {
            Self::Finding | Self::Photo => number.to_string(),
            Self::Unexamined => format!("N{number}"),
            Self::Reading => format!("R{number}"),
            Self::Instrument => format!("I{number}"),
            Self::Source => format!("[{number}]"),
        }
    }

    /// What a link to it is called, read out by itself. What is seen of it is a part of it (WCAG 2.2, 2.5.3).
    fn told(self, sheet: &Sheet<'_>, number: usize) -> String {
        let words = match self {
            Self::Finding => "Finding {n}",
            Self::Photo => "Photo {n}",
            Self::Unexamined => "Not examined, entry {n}",
            Self::Reading => "Reading {n}",
            Self::Instrument => "Instrument {n}",
            Self::Source => "Source {n}",
        };
        sheet.say_with(words, &[("n", &self.shown(number))])
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
    address(sheet, target.leaf(), &target.id(number))
}

fn address(sheet: &Sheet<'_>, leaf: Leaf, id: &str) -> String {
    let file = if leaf == sheet.leaf { "" } else { leaf.file() };
    format!("{file}#{id}")
}

/// A link to an entry by its number.
pub(super) fn link(sheet: &Sheet<'_>, target: Target, number: usize) -> Markup {
    html! {
        a href=(href(sheet, target, number)) aria-label=(target.told(sheet, number)) { (target.shown(number)) }
    }
}

/// Links by number: `R7, R8`.
pub(super) fn linked(sheet: &Sheet<'_>, target: Target, numbers: &[usize]) -> Markup {
    html! {
        @for (at, number) in numbers.iter().enumerate() {
            @if at > 0 { ", " }
            (link(sheet, target, *number))
        }
    }
}

/// The first few of them, and how many more there are.
pub(super) fn shortened(sheet: &Sheet<'_>, target: Target, numbers: &[usize]) -> Markup {
    let shown = &numbers[..numbers.len().min(FEW)];
    html! {
        (linked(sheet, target, shown))
        @if numbers.len() > FEW {
            " " (sheet.say_with("and {n} more", &[("n", &(numbers.len() - FEW).to_string())]))
        }
    }
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

/// Links to photos, by number.
pub(super) fn to_photos(sheet: &Sheet<'_>, numbers: &[usize]) -> Markup {
    html! {
        (sheet.say(if numbers.len() == 1 { "Photo" } else { "Photos" })) " "
        (linked(sheet, Target::Photo, numbers))
    }
}

/// Links to sources: `[3] [4]`.
pub(super) fn to_sources(sheet: &Sheet<'_>, numbers: &[usize]) -> Markup {
    html! {
        @for number in numbers { " " (link(sheet, Target::Source, *number)) }
    }
}

/// The place of a use, where its state stands with what stops it.
pub(super) fn use_id(kind: UseKind) -> String {
    format!("use-{}", kind.word().to_lowercase())
}

/// Links to uses in one line, or what stands there when there are none.
pub(super) fn to_uses(sheet: &Sheet<'_>, uses: &[UseKind], none: &str) -> Markup {
    html! {
        @if uses.is_empty() { (sheet.say(none)) }
        @for (at, kind) in uses.iter().enumerate() {
            @if at > 0 { ", " }
            @let told = sheet.say_with("Use: {use}", &[("use", &sheet.say(kind.word()))]);
            a href=(address(sheet, Leaf::Index, &use_id(*kind))) aria-label=(told) { (lower(sheet, *kind)) }
        }
    }
}
