//! Makes every text of the content fit to be set: no control characters, nothing the typeface lacks, no unbreakable
//! monsters.
//!
//! An archival PDF may not contain a character without a shape, and a report may not fail the same evening because of
//! an emoji in a note. What cannot be set is shown as U+FFFD and counted; the attached data keep what was written.

use serde_json::Value;

use crate::content::Content;
use crate::typeface::can_set;

/// Shown for a character that the typeface lacks.
const STAND_IN: char = '\u{fffd}';
/// Words longer than this get places where they may be broken.
const LONG_WORD: usize = 26;
/// A place where a word may be broken.
const BREAK: char = '\u{200b}';

/// The content with every text made fit to be set, and how many characters had to be replaced.
pub(crate) fn settable(content: &Content) -> Result<(Content, usize), serde_json::Error> {
    let mut replaced = 0;
    let content = with_every_text(content, &mut |text| clean(text, &mut replaced))?;
    Ok((content, replaced))
}

/// The content with every text made fit for a web page, which has every typeface and breaks words by itself: only the
/// characters without a shape are dropped.
pub(crate) fn readable(content: &Content) -> Result<Content, serde_json::Error> {
    with_every_text(content, &mut |text| plain_lines(text, |letter| letter))
}

fn with_every_text(
    content: &Content,
    change: &mut dyn FnMut(&str) -> String,
) -> Result<Content, serde_json::Error> {
    let mut value = serde_json::to_value(content)?;
    walk(&mut value, change);
    serde_json::from_value(value)
}

fn walk(value: &mut Value, change: &mut dyn FnMut(&str) -> String) {
    match value {
        Value::String(text) => *text = change(text),
        Value::Array(values) => values.iter_mut().for_each(|one| walk(one, change)),
        Value::Object(map) => map.values_mut().for_each(|one| walk(one, change)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

fn clean(text: &str, replaced: &mut usize) -> String {
    let settable = plain_lines(text, |letter| {
        if can_set(letter) {
            letter
        } else {
            *replaced += 1;
            STAND_IN
        }
    });
    breakable(&settable)
}

/// The text with one kind of line end and without characters that have no shape; every other goes through `shape`.
fn plain_lines(text: &str, mut shape: impl FnMut(char) -> char) -> String {
    let mut out = String::with_capacity(text.len());
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '\r' => {
                if letters.peek() != Some(&'\n') {
                    out.push('\n');
                }
            }
            '\n' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}' => out.push('\n'),
            '\t' => out.push(' '),
            other if is_unseen(other) => {}
            other => out.push(shape(other)),
        }
    }
    out
}

/// Characters without a shape of their own: controls, marks that reverse or join the text around them, variation
/// selectors, tags. Dropped, so that no text reads otherwise than it is written.
fn is_unseen(letter: char) -> bool {
    letter.is_control()
        || matches!(
            letter,
            '\u{ad}'
                | '\u{61c}'
                | '\u{180e}'
                | '\u{200b}'..='\u{200f}'
                | '\u{202a}'..='\u{202e}'
                | '\u{2060}'..='\u{206f}'
                | '\u{fe00}'..='\u{fe0f}'
                | '\u{feff}'
                | '\u{fff0}'..='\u{fffb}'
                | '\u{e0000}'..='\u{e0fff}'
        )
}

/// Puts break places into very long words. Hashes stay whole: they are compared and copied, and have room.
fn breakable(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for piece in text.split_inclusive(|letter: char| letter.is_whitespace() || letter == '-') {
        let hash =
            piece.len() <= 65 && piece.trim_end().bytes().all(|byte| byte.is_ascii_hexdigit());
        if hash || piece.chars().count() <= LONG_WORD {
            out.push_str(piece);
            continue;
        }
        for (index, letter) in piece.chars().enumerate() {
            // Never before a combining mark's base is complete: breaking every twelve letters is rare enough, and a
            // mark that starts a line is still set.
            if index > 0 && index % 12 == 0 {
                out.push(BREAK);
            }
            out.push(letter);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, expected: &str, expected_replaced: usize) {
        let mut replaced = 0;
        assert_eq!(clean(text, &mut replaced), expected);
        assert_eq!(replaced, expected_replaced, "{text:?}");
    }

    #[test]
    fn ordinary_text_stays_as_it_is() {
        check(
            "Lock-up 14 inH₂O ≤ 11 — “ok”; ½″ pipe, 10 µA, 3 Ω",
            "Lock-up 14 inH₂O ≤ 11 — “ok”; ½″ pipe, 10 µA, 3 Ω",
            0,
        );
        check(
            "#eval(\"x\") $x$ *b* <label> \\ // @ref",
            "#eval(\"x\") $x$ *b* <label> \\ // @ref",
            0,
        );
    }

    #[test]
    fn line_ends_of_all_systems_become_one() {
        check("a\r\nb\rc\u{2028}d", "a\nb\nc\nd", 0);
    }

    #[test]
    fn controls_and_reversing_marks_are_dropped() {
        check("a\0b\u{7}c\u{1b}[31m\u{202e}d\u{2066}e\u{feff}", "abc[31mde", 0);
    }

    #[test]
    fn characters_without_a_shape_are_counted() {
        check("ok 👍🏽 שלום", "ok �� ����", 6);
        check("\u{e000}", "�", 1);
    }

    #[test]
    fn long_words_can_be_broken_and_hashes_stay_whole() {
        let mut replaced = 0;
        assert!(clean(&"x".repeat(60), &mut replaced).contains(BREAK));
        let hash = "0123456789abcdef".repeat(4);
        assert_eq!(clean(&hash, &mut replaced), hash);
    }
}
