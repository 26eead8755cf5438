//! What the program itself says, in another language: whole phrases, and sentences with something in them.
//!
//! Everything below the report speaks English, so that it gives the same bytes everywhere. A phrasebook is laid over
//! what it said: a phrase that stands in it is replaced, a sentence that has the shape of one in it is taken apart and put
//! together anew, and all else stays as it was said.

use std::collections::BTreeMap;

/// Phrases and sentences by what they are in English. An empty phrasebook leaves everything as it is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Phrases {
    pub(crate) exact: BTreeMap<String, String>,
    shapes: Vec<Shape>,
}

/// A sentence with gaps.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Shape {
    /// What stands before, between and behind the gaps: one more than there are gaps.
    fixed: Vec<String>,
    gaps: Vec<String>,
    own: String,
}

/// Gaps of these names hold a figure.
const FIGURES: [&str; 10] =
    ["value", "values", "n", "count", "years", "months", "percent", "length", "width", "times"];

impl Phrases {
    /// Whether everything stays as it is.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.exact.is_empty() && self.shapes.is_empty()
    }

    /// Every phrase with what it is in this language.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &str)> {
        self.exact.iter().map(|(english, own)| (english.as_str(), own.as_str()))
    }

    /// Adds a phrase; `{name}` is a gap to be filled by whoever says it.
    pub fn add(&mut self, english: &str, own: &str) {
        self.exact.insert(english.to_owned(), own.to_owned());
    }

    /// Adds a sentence that is known by its shape: `{name}` stands for whatever is said there.
    pub fn add_sentence(&mut self, english: &str, own: &str) {
        self.add(english, own);
        let mut fixed = vec![String::new()];
        let mut gaps = Vec::new();
        let mut rest = english;
        while let Some((before, after)) = rest.split_once('{') {
            let Some((name, behind)) = after.split_once('}') else { break };
            if let Some(last) = fixed.last_mut() {
                last.push_str(before);
            }
            gaps.push(name.to_owned());
            fixed.push(String::new());
            rest = behind;
        }
        if let Some(last) = fixed.last_mut() {
            last.push_str(rest);
        }
        if gaps.is_empty() {
            return;
        }
        let said = |shape: &Shape| shape.fixed.iter().map(String::len).sum::<usize>();
        let shape = Shape { fixed, gaps, own: own.to_owned() };
        // What fixes the most words is tried first.
        let at = self.shapes.partition_point(|other| said(other) >= said(&shape));
        self.shapes.insert(at, shape);
    }

    /// A phrase or a sentence in this language; what is in no phrasebook stays as it is.
    #[must_use]
    pub fn say(&self, english: &str) -> String {
        self.find(english).unwrap_or_else(|| english.to_owned())
    }

    /// The same, none where the phrasebook does not have it.
    #[must_use]
    pub fn find(&self, english: &str) -> Option<String> {
        if let Some(own) = self.exact.get(english) {
            return Some(own.clone());
        }
        self.shapes.iter().find_map(|shape| {
            let filled = shape.fit(english)?;
            let said: Vec<String> = filled.iter().map(|part| self.say_each(part)).collect();
            let with: Vec<(&str, &str)> = shape
                .gaps
                .iter()
                .map(String::as_str)
                .zip(said.iter().map(String::as_str))
                .collect();
            Some(fill(&shape.own, &with))
        })
    }

    /// A list of sentences, each said by itself.
    fn say_each(&self, list: &str) -> String {
        self.find(list).unwrap_or_else(|| {
            list.split("; ").map(|one| self.say(one)).collect::<Vec<_>>().join("; ")
        })
    }

    /// A phrase with gaps in this language, filled.
    #[must_use]
    pub fn say_with(&self, english: &str, with: &[(&str, &str)]) -> String {
        fill(self.exact.get(english).map_or(english, String::as_str), with)
    }
}

impl Shape {
    /// What stands in the gaps, if the sentence has this shape; no gap is empty, and one that is called after a figure holds
    /// one: `{value} left` is no shape of "the wheel on the left".
    fn fit<'t>(&self, text: &'t str) -> Option<Vec<&'t str>> {
        let (first, rest) = self.fixed.split_first()?;
        let mut rest_of_text = text.strip_prefix(first.as_str())?;
        let mut filled = Vec::with_capacity(self.gaps.len());
        for (at, fixed) in rest.iter().enumerate() {
            let end = if at + 1 == rest.len() {
                rest_of_text.strip_suffix(fixed.as_str())?.len()
            } else {
                rest_of_text.find(fixed.as_str())?
            };
            if end == 0 {
                return None;
            }
            let (gap, behind) = rest_of_text.split_at(end);
            let figure = self.gaps.get(at).is_some_and(|name| FIGURES.contains(&name.as_str()));
            let one = !["; ", ": ", ", ", " · "].iter().any(|between| gap.contains(between));
            if figure && !(one && gap.contains(|c: char| c.is_ascii_digit())) {
                return None;
            }
            // Of a list each part is said by itself, not the first and the last of it together.
            let whole = at + 1 == rest.len() && fixed.is_empty();
            if gap.contains("; ") && !whole {
                return None;
            }
            filled.push(gap);
            rest_of_text = behind.get(fixed.len()..)?;
        }
        Some(filled)
    }
}

/// A text with its gaps filled; one that nothing is given for stays.
fn fill(text: &str, with: &[(&str, &str)]) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        out.push_str(before);
        let found = after.split_once('}').and_then(|(name, behind)| {
            Some((with.iter().find(|(known, _)| *known == name)?.1, behind))
        });
        match found {
            Some((value, behind)) => {
                out.push_str(value);
                rest = behind;
            }
            None => {
                out.push('{');
                rest = after;
            }
        }
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn book() -> Phrases {
        let mut book = Phrases::default();
        book.add("conforms", "cumple");
        book.add("{count} findings", "{count} hallazgos");
        book.add_sentence("at most {value}", "{value} como máximo");
        book.add_sentence("{years} years {months} months", "{years} años {months} meses");
        book.add_sentence(
            "not held to the limit: {what} is not recorded",
            "sin límite: no se registró {what}",
        );
        book.add_sentence("{what} is not recorded", "no se registró {what}");
        book
    }

    #[test]
    fn phrases_are_replaced_and_sentences_put_together_anew() {
        let mut book = book();
        book.add_sentence("not computed: {why}", "no calculado: {why}");
        let check = |english: &str, own: &str| assert_eq!(book.say(english), own, "{english}");
        check("conforms", "cumple");
        check("at most 14 inH₂O", "14 inH₂O como máximo");
        check("4 years 3 months", "4 años 3 meses");
        check(
            "not held to the limit: the rating is not recorded",
            "sin límite: no se registró the rating",
        );
        // What is in a gap is said in this language too.
        check(
            "not held to the limit: conforms is not recorded",
            "sin límite: no se registró cumple",
        );
        let list = "not computed: weight is not recorded; length is not recorded";
        assert_eq!(book.say(list), "no calculado: no se registró weight; no se registró length");
        // A gap for a figure takes nothing else.
        check("at most conforms", "at most conforms");
        // What is not in the book, and what leaves a gap empty, stays.
        check("clear", "clear");
        check("at most ", "at most ");
        check("{count} findings", "{count} hallazgos");
        assert_eq!(book.say_with("{count} findings", &[("count", "3")]), "3 hallazgos");
        assert_eq!(book.find("clear"), None);
    }

    #[test]
    fn an_empty_phrasebook_leaves_everything_as_it_is() {
        let empty = Phrases::default();
        assert!(empty.is_empty());
        assert_eq!(empty.say("at most 14 {x"), "at most 14 {x");
        assert_eq!(empty.say_with("{n} of {m} {", &[("n", "1")]), "1 of {m} {");
    }
}
