//! Words as they are compared: without case and without marks over and under letters.

use std::ops::Range;

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// A word of a text: where it stands, and how it is compared.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Word {
    pub(crate) at: Range<usize>,
    pub(crate) folded: String,
}

/// The words of a text, in order: what stands between signs that are neither letters nor digits.
///
/// Lower case, then compatibility decomposition (Unicode Standard Annex #15, NFKD) without combining marks: `Bañera`
/// and `banera` are one word, and so are `½` and `1 2`. A few letters that Unicode does not take apart are spelled out.
pub(crate) fn words(text: &str) -> Vec<Word> {
    let mut words = Vec::new();
    let mut start = None;
    for (at, letter) in text.char_indices() {
        let inside = letter.is_alphanumeric() || is_combining_mark(letter);
        match (inside, start) {
            (true, None) => start = Some(at),
            (false, Some(from)) => {
                add(&mut words, text, from..at);
                start = None;
            }
            _ => {}
        }
    }
    if let Some(from) = start {
        add(&mut words, text, from..text.len());
    }
    words
}

/// A text's words as the index takes them: folded, apart by spaces.
pub(crate) fn folded(text: &str) -> String {
    let words: Vec<String> = words(text).into_iter().map(|word| word.folded).collect();
    words.join(" ")
}

fn add(words: &mut Vec<Word>, text: &str, at: Range<usize>) {
    let folded: String = text
        .get(at.clone())
        .unwrap_or_default()
        .chars()
        .flat_map(char::to_lowercase)
        .nfkd()
        .filter(|letter| !is_combining_mark(*letter))
        .flat_map(char::to_lowercase)
        .collect();
    let mut spelled = String::with_capacity(folded.len());
    for letter in folded.chars() {
        match letter {
            'ß' => spelled.push_str("ss"),
            'æ' => spelled.push_str("ae"),
            'œ' => spelled.push_str("oe"),
            'ø' => spelled.push('o'),
            'đ' | 'ð' => spelled.push('d'),
            'ł' => spelled.push('l'),
            'þ' => spelled.push_str("th"),
            'ı' => spelled.push('i'),
            other => spelled.push(other),
        }
    }
    // What one sign came apart into, such as the two digits of a fraction.
    for folded in spelled.split(|letter: char| !letter.is_alphanumeric()) {
        if !folded.is_empty() {
            words.push(Word { at: at.clone(), folded: folded.to_owned() });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn case_and_marks_make_no_other_word() {
        let check = |text: &str, expected: &str| assert_eq!(folded(text), expected, "{text}");
        check("La BAÑERA está rajada.", "la banera esta rajada");
        check("Pen\u{303}a", "pena");
        check("Straße, Æther, Ørsted, Łódź, ﬁtting", "strasse aether orsted lodz fitting");
        check("117.3 V at ½ load", "117 3 v at 1 2 load");
        check("İstanbul", "istanbul");
        check("client's 4-way_plug", "client s 4 way plug");
        check("  \u{202e} … \n", "");
        check("漢字 ก", "漢字 ก");
    }

    #[test]
    fn a_word_knows_where_it_stands() {
        let text = "Café — ½ x";
        let places: Vec<&str> = words(text).iter().map(|word| &text[word.at.clone()]).collect();
        assert_eq!(places, ["Café", "½", "½", "x"]);
    }
}
