//! What a person typed, as terms: words, and phrases in quotation marks.

use store::index::Term;

use crate::error::ArchiveError;
use crate::fold::words;

/// Most terms of one search.
const MOST: usize = 32;
/// A shorter word is found whole, not as the beginning of others: too many words begin with it.
const SHORTEST_BEGINNING: usize = 3;

/// Reads what was typed. A word finds what begins with it, from three letters on; words in quotation marks are found as
/// they stand, one after the other. Every term must be found. There is no other syntax, so nothing can be wrong in it.
pub(super) fn terms(typed: &str) -> Result<Vec<Term>, ArchiveError> {
    let mut terms: Vec<Term> = Vec::new();
    let is_mark = |letter: char| matches!(letter, '"' | '“' | '”' | '„' | '«' | '»');
    for (at, part) in typed.split(is_mark).enumerate() {
        let folded: Vec<String> = words(part).into_iter().map(|word| word.folded).collect();
        if at % 2 == 1 {
            terms.extend((!folded.is_empty()).then_some(Term::Phrase(folded)));
            continue;
        }
        terms.extend(folded.into_iter().map(|word| {
            if word.chars().count() < SHORTEST_BEGINNING {
                Term::Phrase(vec![word])
            } else {
                Term::Beginning(word)
            }
        }));
    }
    let mut distinct: Vec<Term> = Vec::new();
    for term in terms {
        if !distinct.contains(&term) {
            distinct.push(term);
        }
    }
    if distinct.is_empty() {
        return Err(ArchiveError::NoWords);
    }
    if distinct.len() > MOST {
        return Err(ArchiveError::TooManyWords { found: distinct.len(), most: MOST });
    }
    Ok(distinct)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn beginning(word: &str) -> Term {
        Term::Beginning(word.into())
    }

    fn phrase(words: &[&str]) -> Term {
        Term::Phrase(words.iter().map(|word| (*word).to_owned()).collect())
    }

    #[test]
    fn words_and_phrases_are_told_apart() {
        let check =
            |typed: &str, expected: &[Term]| assert_eq!(terms(typed).unwrap(), expected, "{typed}");
        check("Regul lock", &[beginning("regul"), beginning("lock")]);
        check("\"lock up\" gas", &[phrase(&["lock", "up"]), beginning("gas")]);
        check("12 V", &[phrase(&["12"]), phrase(&["v"])]);
        check("BAÑERA bañera", &[beginning("banera")]);
        check("\"one", &[phrase(&["one"])]);
        check("“de la” «agua»", &[phrase(&["de", "la"]), phrase(&["agua"])]);
        check(
            "NEAR(gas, OR) AND NOT c0:x* ^",
            &[
                beginning("near"),
                beginning("gas"),
                phrase(&["or"]),
                beginning("and"),
                beginning("not"),
                phrase(&["c0"]),
                phrase(&["x"]),
            ],
        );
    }

    #[test]
    fn what_has_no_word_and_what_has_too_many_is_refused() {
        for typed in ["", " ", "\"\"", "*", "…—!", "\0"] {
            assert!(matches!(terms(typed), Err(ArchiveError::NoWords)), "{typed:?}");
        }
        let many: Vec<String> = (100..140).map(|number| number.to_string()).collect();
        assert!(matches!(
            terms(&many.join(" ")),
            Err(ArchiveError::TooManyWords { found: 40, most: 32 })
        ));
    }
}
