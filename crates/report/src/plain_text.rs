//! Makes every text of the content fit to be set: no control characters, nothing the typefaces lack, no unbreakable
//! monsters.
//!
//! An archival PDF may not contain a character without a shape, and a report may not fail the same evening because of
//! an emoji in a note. Where something cannot be set, words in brackets say so, and the characters are counted; the attached
//! data keep what was written.

use std::collections::BTreeMap;

use plan::Phrases;
use serde::{Serialize, de::DeserializeOwned};
use serde_json::Value;

use crate::content::Content;
use crate::letter::Letter;
use crate::typeface::Family;

/// Stands where letters of a script stood that no typeface here has.
const OTHER_SCRIPT: &str = "[text in another script: kept in the record, attached]";
/// Stands where signs stood that no typeface here has: emoji, pictures.
const OTHER_SIGN: &str = "[sign: kept in the record, attached]";
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
    with_every_text(content, &mut |text| plain_lines(text))
}

/// A paper with every text made fit to be set, and how many characters had to be replaced. What is attached stays as it is.
pub(crate) fn settable_letter(letter: &Letter) -> Result<(Letter, usize), serde_json::Error> {
    let mut replaced = 0;
    let changed: Letter = changed(letter, &mut |text| clean(text, &mut replaced))?;
    let attached = letter.attached.clone();
    Ok((Letter { words: letter.words.clone(), attached, ..changed }, replaced))
}

/// What the pages' own words are in their language, fit to be set, as the file that the templates read.
pub(crate) fn settable_words(words: &Phrases) -> Result<Vec<u8>, serde_json::Error> {
    let words: BTreeMap<&str, String> =
        words.iter().map(|(english, own)| (english, settable_text(own))).collect();
    serde_json::to_vec(&words)
}

fn changed<T: Serialize + DeserializeOwned>(
    whole: &T,
    change: &mut dyn FnMut(&str) -> String,
) -> Result<T, serde_json::Error> {
    let mut value = serde_json::to_value(whole)?;
    walk(&mut value, change);
    serde_json::from_value(value)
}

fn with_every_text(
    content: &Content,
    change: &mut dyn FnMut(&str) -> String,
) -> Result<Content, serde_json::Error> {
    let changed: Content = changed(content, change)?;
    let (words, drawn) = (content.words.clone(), content.drawn.clone());
    Ok(Content { words, drawn, ..changed })
}

fn walk(value: &mut Value, change: &mut dyn FnMut(&str) -> String) {
    match value {
        Value::String(text) => *text = change(text),
        Value::Array(values) => values.iter_mut().for_each(|one| walk(one, change)),
        Value::Object(map) => map.values_mut().for_each(|one| walk(one, change)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

/// One text made fit to be set.
pub(crate) fn settable_text(text: &str) -> String {
    clean(text, &mut 0)
}

fn clean(text: &str, replaced: &mut usize) -> String {
    let plain = plain_lines(text);
    let mut out = String::with_capacity(plain.len());
    let mut lacking = Lacking::default();
    // A mark is set with the letter it belongs to, so by the same family.
    let mut base: Option<Family> = None;
    for letter in plain.chars() {
        if letter == '\n' {
            lacking.end(&mut out);
            out.push(letter);
            base = None;
            continue;
        }
        let family = match base {
            Some(family) if is_mark(letter) => Some(family).filter(|family| family.has(letter)),
            Some(_) | None => Family::with(letter),
        };
        if !is_mark(letter) {
            base = family;
        }
        if family.is_none() {
            *replaced += 1;
            lacking.add(letter);
        } else if !lacking.is_between(letter) {
            lacking.end(&mut out);
            out.push(letter);
        }
    }
    lacking.end(&mut out);
    breakable(&out)
}

/// A run of characters that cannot be set, and the blanks within and behind it.
#[derive(Default)]
struct Lacking {
    letters: bool,
    signs: bool,
    blanks: usize,
}

impl Lacking {
    fn add(&mut self, letter: char) {
        self.letters |= letter.is_alphanumeric();
        self.signs |= !letter.is_alphanumeric();
        self.blanks = 0;
    }

    /// Whether this is a blank that may lie between two words of the run.
    fn is_between(&mut self, letter: char) -> bool {
        let between = letter == ' ' && (self.letters || self.signs);
        if between {
            self.blanks += 1;
        }
        between
    }

    /// Says that something stood here, if it did.
    fn end(&mut self, out: &mut String) {
        let words = match (self.letters, self.signs) {
            (true, _) => OTHER_SCRIPT,
            (false, true) => OTHER_SIGN,
            (false, false) => return,
        };
        out.push_str(words);
        out.extend(std::iter::repeat_n(' ', self.blanks));
        *self = Self::default();
    }
}

/// Marks that stand on the letter before them, in the scripts that can be set.
fn is_mark(letter: char) -> bool {
    matches!(
        letter,
        '\u{300}'..='\u{36f}'
            | '\u{483}'..='\u{489}'
            | '\u{591}'..='\u{5bd}'
            | '\u{5bf}'
            | '\u{5c1}'..='\u{5c2}'
            | '\u{5c4}'..='\u{5c5}'
            | '\u{5c7}'
            | '\u{610}'..='\u{61a}'
            | '\u{64b}'..='\u{65f}'
            | '\u{670}'
            | '\u{6d6}'..='\u{6dc}'
            | '\u{6df}'..='\u{6e4}'
            | '\u{6e7}'..='\u{6e8}'
            | '\u{6ea}'..='\u{6ed}'
            | '\u{8d3}'..='\u{8ff}'
            | '\u{1ab0}'..='\u{1aff}'
            | '\u{1dc0}'..='\u{1dff}'
            | '\u{20d0}'..='\u{20ff}'
            | '\u{fe20}'..='\u{fe2f}'
    )
}

/// The text with one kind of line end and without characters that have no shape.
pub(crate) fn plain_lines(text: &str) -> String {
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
            other => out.push(other),
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
    fn what_has_no_shape_is_told_in_words_and_counted() {
        check("ok 👍🏽 then", &format!("ok {OTHER_SIGN} then"), 2);
        check("\u{e000}", OTHER_SIGN, 1);
        check("漢字 かな!", &format!("{OTHER_SCRIPT}!"), 4);
        check("漢字\n漢字  ", &format!("{OTHER_SCRIPT}\n{OTHER_SCRIPT}  "), 4);
        check("a 漢 👍 b", &format!("a {OTHER_SCRIPT} b"), 2);
    }

    #[test]
    fn hebrew_and_arabic_are_set_with_their_own_marks_only() {
        check("שָׁלוֹם مَرْحَبًا ok", "שָׁלוֹם مَرْحَبًا ok", 0);
        // An Arabic vowel sign on a Hebrew letter has no shape there, though it has one on its own letters.
        check("مَ ש\u{64e}", &format!("مَ ש{OTHER_SCRIPT}"), 1);
        check("e\u{301}", "e\u{301}", 0);
    }

    #[test]
    fn long_words_can_be_broken_and_hashes_stay_whole() {
        let mut replaced = 0;
        assert!(clean(&"x".repeat(60), &mut replaced).contains(BREAK));
        let hash = "0123456789abcdef".repeat(4);
        assert_eq!(clean(&hash, &mut replaced), hash);
    }
}
