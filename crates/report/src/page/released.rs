//! Which release the page belongs to: what it corrects and why, what was open and accepted in words.

use maud::{Markup, html};

use super::Sheet;
use super::parts::prose;

/// What a correction says of itself before anything else; nothing for a first release.
pub(super) fn correction(sheet: &Sheet<'_>) -> Markup {
    let released = sheet.content.released.as_ref();
    let corrects = released.and_then(|released| Some((released, released.corrects.as_ref()?)));
    html! {
        @if let Some((released, corrects)) = corrects {
            section class="notice" aria-labelledby="corrects" {
                h2 id="corrects" {
                    (sheet.say_with(
                        "This is release {number}. It corrects release {earlier} of {day} and stands in its place.",
                        &[
                            ("number", &released.number.to_string()),
                            ("earlier", &corrects.number.to_string()),
                            ("day", &corrects.day),
                        ],
                    ))
                }
                (prose(&corrects.because))
            }
        }
    }
}

/// Number and moment of the release; empty for a page of the job as it stands.
pub(super) fn in_words(sheet: &Sheet<'_>) -> String {
    let released = sheet.content.released.as_ref();
    released.map_or_else(String::new, |released| format!("{} · {}", released.number, released.at))
}

/// What was open when it was released.
pub(super) fn accepted(sheet: &Sheet<'_>) -> Markup {
    let accepted =
        sheet.content.released.iter().flat_map(|released| &released.accepted).collect::<Vec<_>>();
    html! {
        @if !accepted.is_empty() {
            h3 { (sheet.say("Open when it was released, and accepted in words")) }
            @for one in accepted {
                (prose(&one.words))
                ul lang="en" { @for matter in &one.matters { li dir="auto" { (matter) } } }
            }
        }
    }
}
