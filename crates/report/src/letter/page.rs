//! The agreement as a web page that the client reads and signs, and the page that waits for a payment.

use inspection::DrawnSignature;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use plan::Phrases;

use super::pdf::svg;
use super::{Letter, Party, Section, SignedBy, Sums};
use crate::plain_text::plain_lines;

/// The longest name that the page takes, in characters.
const NAME_LETTERS: &str = "200";

/// What the agreement's page shows.
#[derive(Clone, Copy, Debug)]
pub enum AgreementPage<'a> {
    /// The text, and a form to agree to it.
    ToAgree {
        /// SHA-256 of the text that is shown: sent back with the consent.
        text_sha256: &'a str,
        /// What must be said first.
        notice: Option<Notice>,
        /// A name that was typed already.
        name: &'a str,
    },
    /// The text, and that it was agreed to.
    Agreed {
        /// Who agreed, when and how.
        by: &'a SignedBy,
        /// SHA-256 of the text that was agreed to.
        text_sha256: &'a str,
        /// Whether that was just now.
        now: bool,
    },
}

/// Why a consent was not taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Notice {
    /// The text has changed since it was opened.
    Changed,
    /// No name was typed, or one that cannot be a name.
    Name,
    /// The box was not ticked.
    Box,
    /// The drawn signature cannot be read.
    Drawing,
}

impl Notice {
    fn words(self, say: &Phrases) -> String {
        match self {
            Self::Changed => say.say("The agreement was changed after you opened this page. Nothing was agreed. Please read it again: what is shown now is what holds."),
            Self::Name => say.say("Type your full name, on one line. Nothing was agreed yet."),
            Self::Box => say.say("Tick the box that you have read the text and agree. Nothing was agreed yet."),
            Self::Drawing => say.say("The drawn signature could not be read. Draw it again, or leave it out: your typed name is enough. Nothing was agreed yet."),
        }
    }
}

/// A file that the page loads: its media type and bytes.
#[must_use]
pub fn agreement_file(name: &str) -> Option<(&'static str, &'static [u8])> {
    match name {
        "page.css" => Some(("text/css; charset=utf-8", include_bytes!("../../page/page.css"))),
        "agreement.css" => {
            Some(("text/css; charset=utf-8", include_bytes!("../../page/agreement.css")))
        }
        "agreement.js" => {
            Some(("text/javascript; charset=utf-8", include_bytes!("../../page/agreement.js")))
        }
        _ => None,
    }
}

/// The agreement as a page.
#[must_use]
pub fn agreement_page(letter: &Letter, state: AgreementPage<'_>) -> String {
    let say = &letter.words;
    let notice = match state {
        AgreementPage::ToAgree { notice, .. } => notice,
        AgreementPage::Agreed { .. } => None,
    };
    let title = match (state, notice) {
        (AgreementPage::Agreed { now: true, .. }, _) => say.say("You have agreed"),
        (_, Some(_)) => say.say_with("Not agreed yet: {title}", &[("title", &letter.title)]),
        _ => letter.title.clone(),
    };
    let body = html! {
        p class="kind" { span { (letter.kind) } span { (letter.number) } }
        @if let Some(notice) = notice {
            div class="notice urgent" role="alert" id="notice" { p { (notice.words(say)) } }
        }
        @if let AgreementPage::Agreed { by, text_sha256, now } = state { (agreed(say, by, text_sha256, now)) }
        h1 dir="auto" { (plain_lines(&letter.title)) }
        (paper(letter))
        @if let AgreementPage::ToAgree { text_sha256, name, notice } = state {
            (form(say, text_sha256, name, notice))
            (keep(say))
        }
    };
    whole(
        &letter.language,
        &title,
        &["page.css", "agreement.css"],
        Some("agreement.js"),
        None,
        &body,
    )
}

/// The page that stands for a report that waits for its payment.
#[must_use]
pub fn waiting_page(language: &str, say: &Phrases, job: &str, inspector: &str) -> String {
    let title = say.say("The report is ready and waits for the payment");
    let body = html! {
        p class="kind" { span { (say.say("Inspection report")) } span { (say.say_with("Job {number}", &[("number", job)])) } }
        h1 { (title) }
        p { (say.say("Your report is finished. It opens here, at this very address, as soon as the payment is recorded.")) }
        p { (say.say("You need not do anything else. This page looks again by itself every minute; you can also close it and come back later.")) }
        @if !inspector.is_empty() {
            p { (say.say_with("If you have paid already, ask {inspector} to record it.", &[("inspector", inspector)])) }
        }
    };
    whole(language, &title, &["waiting.css"], None, Some("60"), &body)
}

fn whole(
    language: &str,
    title: &str,
    looks: &[&str],
    script: Option<&str>,
    again: Option<&str>,
    body: &Markup,
) -> String {
    let page = html! {
        (DOCTYPE)
        html lang=(if language.is_empty() { "en" } else { language }) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="robots" content="noindex";
                meta name="referrer" content="no-referrer";
                @if let Some(seconds) = again { meta http-equiv="refresh" content=(seconds); }
                title { (plain_lines(title)) }
                @for look in looks { link rel="stylesheet" href=(look); }
                @if let Some(script) = script { script src=(script) defer {} }
            }
            body class="paper" { main { (body) } }
        }
    };
    page.into_string()
}

fn paper(letter: &Letter) -> Markup {
    html! {
        div class="parties" { (party(&letter.from)) (party(&letter.to)) }
        dl class="facts" {
            @for fact in &letter.facts {
                div { dt { (plain_lines(&fact.name)) } dd dir="auto" { (plain_lines(&fact.value)) } }
            }
        }
        @for one in &letter.before { (section(one)) }
        @if let Some(sums) = &letter.sums { (table(sums)) }
        @for one in &letter.after { (section(one)) }
    }
}

fn party(party: &Party) -> Markup {
    html! {
        div {
            p class="role" { (party.role) }
            p dir="auto" { strong { (plain_lines(&party.name)) } }
            @for line in &party.lines { p class="quiet" dir="auto" { (plain_lines(line)) } }
        }
    }
}

fn section(section: &Section) -> Markup {
    html! {
        section {
            h2 { (section.heading) }
            @if section.numbered {
                ol { @for paragraph in &section.paragraphs { li dir="auto" { (plain_lines(paragraph)) } } }
            } @else {
                @for paragraph in &section.paragraphs { p dir="auto" { (plain_lines(paragraph)) } }
            }
        }
    }
}

fn table(sums: &Sums) -> Markup {
    html! {
        section {
            h2 { (sums.heading) }
            table class="fee" {
                thead { tr { th scope="col" { (sums.columns[0]) } th scope="col" class="amount" { (sums.columns[1]) } } }
                tbody {
                    @for row in sums.lines.iter().chain(&sums.totals) {
                        tr class=[row.strong.then_some("strong")] {
                            th scope="row" dir="auto" {
                                (plain_lines(&row.text))
                                @if !row.remark.is_empty() { ", " (plain_lines(&row.remark)) }
                            }
                            td class="amount" { (row.amount) }
                        }
                    }
                }
            }
            @if !sums.note.is_empty() { p class="small quiet" { (sums.note) } }
        }
    }
}

fn form(say: &Phrases, text_sha256: &str, name: &str, notice: Option<Notice>) -> Markup {
    let about = |wrong: Notice| (notice == Some(wrong)).then_some("notice");
    html! {
        section aria-labelledby="agree-heading" {
            h2 id="agree-heading" { (say.say("Agree")) }
            form method="post" action="./" accept-charset="utf-8" id="agree"
                data-clear=(say.say("Clear the drawing")) {
                input type="hidden" name="text" value=(text_sha256);
                input type="hidden" name="drawn" value="" id="drawn";
                p class="field" {
                    label for="name" { (say.say("Your full name")) }
                    input type="text" id="name" name="name" value=(name) required maxlength=(NAME_LETTERS) autocomplete="name"
                        aria-describedby=[about(Notice::Name)] aria-invalid=[about(Notice::Name).map(|_| "true")];
                }
                div id="drawing" hidden {
                    p id="drawing-label" { (say.say("If you like, also sign here with your finger, a pen or the mouse. Your typed name is enough.")) }
                    canvas id="field" width="1000" height="300" aria-labelledby="drawing-label" role="img" {}
                }
                p class="tick" {
                    input type="checkbox" id="box" name="agree" value="yes" required
                        aria-describedby=[about(Notice::Box)] aria-invalid=[about(Notice::Box).map(|_| "true")];
                    label for="box" { (say.say("I have read the text above and agree to it.")) }
                }
                p class="small quiet" { (say.say("With your name, the time and the network address of your connection are recorded, and the text as you read it.")) }
                p { button type="submit" { (say.say("Agree")) } }
            }
        }
    }
}

fn agreed(say: &Phrases, by: &SignedBy, text_sha256: &str, now: bool) -> Markup {
    let drawn = DrawnSignature::read(&by.drawn).unwrap_or_default();
    html! {
        div class="notice" role=[now.then_some("status")] {
            h2 { @if now { (say.say("You have agreed")) } @else { (say.say("This was agreed")) } }
            p dir="auto" { strong { (plain_lines(&by.name)) } }
            @for words in &by.words { p { (plain_lines(words)) } }
            @if !drawn.is_empty() {
                div class="signature" role="img"
                    aria-label=(say.say_with("The signature that {name} drew", &[("name", &plain_lines(&by.name))])) { (PreEscaped(svg(&drawn))) }
            }
            p class="small" { (say.say("SHA-256 of the text that was agreed to:")) " " code { (text_sha256) } }
            (keep(say))
        }
    }
}

fn keep(say: &Phrases) -> Markup {
    html! {
        p {
            (say.say("Keep a copy:")) " "
            a href="agreement.pdf" { (say.say("the agreement as a PDF")) } " · "
            a href="agreement.txt" { (say.say("the text alone")) }
            ". " (say.say("You can also print this page."))
        }
    }
}
