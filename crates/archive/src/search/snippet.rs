//! The words that were found, with some around them.

use crate::fold::Word;

/// Words before and behind the first that was found.
const BEFORE: usize = 8;
const BEHIND: usize = 22;
/// A part longer than this is cut: a text without spaces is one word however long it is.
const LONGEST: usize = 400;

/// A stretch of a text, in parts: what was found, and what stands around.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Snippet {
    /// Each part with whether it was found.
    pub parts: Vec<(String, bool)>,
}

impl Snippet {
    /// The whole stretch.
    #[must_use]
    pub fn text(&self) -> String {
        self.parts.iter().map(|(text, _)| text.as_str()).collect()
    }
}

/// The stretch around the first word that was found.
pub(super) fn around(text: &str, words: &[Word], marked: &[bool]) -> Snippet {
    let first = marked.iter().position(|mark| *mark).unwrap_or(0);
    let from = first.saturating_sub(BEFORE);
    let to = (first + BEHIND).min(words.len());
    let start = if from == 0 { 0 } else { words.get(from).map_or(0, |word| word.at.start) };
    let end = if to == words.len() {
        text.len()
    } else {
        words.get(to.saturating_sub(1)).map_or(text.len(), |word| word.at.end)
    };
    let mut parts: Vec<(String, bool)> = Vec::new();
    let mut add = |piece: &str, found: bool| {
        // One line: breaks and the like are spaces here.
        let mut piece: String =
            piece.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect();
        if let Some((cut, _)) = piece.char_indices().nth(LONGEST) {
            piece.truncate(cut);
            piece.push('…');
        }
        if !piece.is_empty() {
            parts.push((piece, found));
        }
    };
    if start > 0 {
        add("… ", false);
    }
    let mut at = start;
    let within = words.iter().zip(marked).skip(from).take(to - from);
    for (word, _) in within.filter(|(_, mark)| **mark) {
        // The second word of one sign stands where the first does.
        if word.at.start < at {
            continue;
        }
        add(text.get(at..word.at.start).unwrap_or_default(), false);
        add(text.get(word.at.clone()).unwrap_or_default(), true);
        at = word.at.end;
    }
    add(text.get(at..end).unwrap_or_default(), false);
    if end < text.len() {
        add(" …", false);
    }
    Snippet { parts }
}

#[cfg(test)]
mod tests {
    use store::index::Term;

    use super::*;
    use crate::fold::words;
    use crate::search::matches;

    fn snippet(text: &str, term: &str) -> Snippet {
        let words = words(text);
        let (marked, _) = matches(&words, &[Term::Beginning(term.into())]);
        around(text, &words, &marked)
    }

    #[test]
    fn what_was_found_stands_apart_from_what_is_around() {
        let shown = snippet("The Régulator does\nnot lock up.", "regul");
        let parts: Vec<(&str, bool)> =
            shown.parts.iter().map(|(text, found)| (text.as_str(), *found)).collect();
        assert_eq!(parts, [("The ", false), ("Régulator", true), (" does not lock up.", false)]);
    }

    #[test]
    fn a_long_text_is_cut_on_both_sides() {
        let text = format!("{}leak {}", "before ".repeat(50), "behind ".repeat(50));
        let shown = snippet(&text, "leak");
        assert!(
            shown.text().starts_with("… before ") && shown.text().ends_with("behind …"),
            "{shown:?}"
        );
        assert_eq!(shown.parts.iter().filter(|(_, found)| *found).count(), 1);
        assert!(snippet(&"x".repeat(10_000), "xxx").text().chars().count() <= LONGEST + 1);
    }

    #[test]
    fn hostile_texts_are_shown_as_they_are() {
        for text in testkit::HOSTILE {
            let first = words(text).first().map(|word| word.folded.clone()).unwrap_or_default();
            assert_eq!(snippet(text, &first).text(), text, "{text}");
        }
    }
}
