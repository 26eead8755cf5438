//! The inspector's own stock sentences: a list in a plain file, to which only the inspector adds.

use inspection::PointId;
use serde_json::{Map, Value, json};

use crate::entry::words;
use crate::finding::recorded;
use crate::view::search::{matches, plain};
use crate::{Said, Visit};

/// The list, as its file has it: `{"sentences": [{"name": "…", "text": "…"}]}`. Whatever else the file says is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Sentences {
    file: Map<String, Value>,
    all: Vec<Sentence>,
}

/// One stock sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sentence {
    /// Its name, to call it by.
    pub name: String,
    /// What it says; `{word}` is a gap to be filled in.
    pub text: String,
}

/// The longest name.
const NAME_MOST: usize = 40;

impl Default for Sentences {
    fn default() -> Self {
        Self { file: Map::new(), all: Vec::new() }
    }
}

impl Sentences {
    /// The list in a file's text; an empty text is an empty list.
    ///
    /// # Errors
    /// A sentence that says what is wrong and what belongs there.
    pub fn read(text: &str) -> Result<Self, String> {
        if text.trim().is_empty() {
            return Ok(Self::default());
        }
        let file: Value = serde_json::from_str(text).map_err(|error| {
            format!("line {}, column {}: {error}", error.line(), error.column())
        })?;
        let Value::Object(file) = file else {
            return Err("an object {\"sentences\": […]} belongs there".to_owned());
        };
        let mut all: Vec<Sentence> = Vec::new();
        let listed = match file.get("sentences") {
            None => &[][..],
            Some(Value::Array(listed)) => listed,
            Some(_) => return Err("`sentences` is no list".to_owned()),
        };
        for (at, one) in listed.iter().enumerate() {
            let part = |name: &str| {
                one.get(name).and_then(Value::as_str).map(str::to_owned).ok_or_else(|| {
                    format!(
                        "sentence {}: `{name}` is no text; a name and a text belong there",
                        at + 1
                    )
                })
            };
            let sentence = Sentence { name: part("name")?, text: part("text")? };
            if let Err(said) = check(&sentence) {
                return Err(format!("sentence {}: {said}", at + 1));
            }
            if all.iter().any(|other| other.name == sentence.name) {
                return Err(format!(
                    "sentence {}: the name `{}` is there twice",
                    at + 1,
                    sentence.name
                ));
            }
            all.push(sentence);
        }
        Ok(Self { file, all })
    }

    /// The list as the text of its file.
    #[must_use]
    pub fn write(&self) -> String {
        let mut file = self.file.clone();
        let old: Vec<Value> =
            file.get("sentences").and_then(Value::as_array).cloned().unwrap_or_default();
        let listed: Vec<Value> = self
            .all
            .iter()
            .map(|sentence| {
                // What a newer program wrote beside name and text stays there.
                let mut one = old
                    .iter()
                    .find(|one| one.get("name").and_then(Value::as_str) == Some(&sentence.name))
                    .cloned()
                    .unwrap_or_else(|| json!({}));
                if let Value::Object(one) = &mut one {
                    one.insert("name".to_owned(), json!(sentence.name));
                    one.insert("text".to_owned(), json!(sentence.text));
                }
                one
            })
            .collect();
        file.insert("sentences".to_owned(), Value::Array(listed));
        format!("{:#}\n", Value::Object(file))
    }

    /// All sentences, in the order in which they were added.
    #[must_use]
    pub fn all(&self) -> &[Sentence] {
        &self.all
    }

    /// The sentence with this name.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<&Sentence> {
        self.all.iter().find(|sentence| sentence.name == name)
    }

    /// The sentences in whose name or text all these words stand, each as the beginning of a word; those with all of them in
    /// the name first. All of them where nothing is typed.
    #[must_use]
    pub fn matching(&self, typed: &str) -> Vec<&Sentence> {
        let wanted: Vec<String> = typed.split_whitespace().map(plain).collect();
        // A name's parts are words of their own.
        let name = |one: &Sentence| one.name.replace('-', " ");
        let mut found: Vec<&Sentence> = self
            .all
            .iter()
            .filter(|one| matches(&format!("{} {}", name(one), one.text), &wanted))
            .collect();
        found.sort_by_key(|one| !matches(&name(one), &wanted));
        found
    }

    /// Adds a sentence; one that has its name already is written anew.
    ///
    /// # Errors
    /// A sentence that says what a name or a text must be.
    pub fn add(&mut self, name: &str, text: &str) -> Result<(), Said> {
        let sentence = Sentence { name: name.trim().to_owned(), text: text.trim().to_owned() };
        check(&sentence)?;
        match self.all.iter_mut().find(|other| other.name == sentence.name) {
            Some(other) => *other = sentence,
            None => self.all.push(sentence),
        }
        Ok(())
    }

    /// Takes a sentence off the list; false if there is none with this name.
    pub fn remove(&mut self, name: &str) -> bool {
        let before = self.all.len();
        self.all.retain(|sentence| sentence.name != name);
        self.all.len() < before
    }
}

fn check(sentence: &Sentence) -> Result<(), Said> {
    let plain = |c: char| c.is_alphanumeric() || c == '-' || c == '_';
    let count = sentence.name.chars().count();
    if count == 0 || count > NAME_MOST || !sentence.name.chars().all(plain) {
        return Err(Said::new("refusal-sentence-name").with("name", &sentence.name));
    }
    if sentence.text.trim().is_empty() {
        return Err(Said::new("refusal-sentence-empty"));
    }
    Ok(())
}

impl Sentence {
    /// The names of its gaps, each once.
    #[must_use]
    pub fn gaps(&self) -> Vec<&str> {
        let mut gaps = Vec::new();
        for part in parts(&self.text) {
            if let Part::Gap(name) = part
                && !gaps.contains(&name)
            {
                gaps.push(name);
            }
        }
        gaps
    }

    /// The sentence with its gaps filled in.
    ///
    /// # Errors
    /// The names of the gaps for which nothing is given.
    pub fn fill(&self, with: &[(String, String)]) -> Result<String, Vec<String>> {
        let given = |name: &str| {
            let found = with.iter().find(|(known, _)| known == name);
            found.map(|(_, word)| word.as_str()).filter(|word| !word.trim().is_empty())
        };
        let missing: Vec<String> = self
            .gaps()
            .into_iter()
            .filter(|name| given(name).is_none())
            .map(str::to_owned)
            .collect();
        if !missing.is_empty() {
            return Err(missing);
        }
        let mut filled = String::new();
        for part in parts(&self.text) {
            match part {
                Part::Words(text) => filled.push_str(text),
                Part::Gap(name) => filled.push_str(given(name).unwrap_or_default()),
            }
        }
        Ok(filled)
    }
}

impl Sentence {
    /// The sentence with those of its gaps filled in that are known; the others stay as they are, for a person to fill in.
    #[must_use]
    pub fn filled_as_known(&self, known: &[(String, String)]) -> String {
        let open = self.gaps().into_iter().map(|name| (name.to_owned(), format!("{{{name}}}")));
        let with: Vec<(String, String)> = known.iter().cloned().chain(open).collect();
        self.fill(&with).unwrap_or_else(|_| self.text.clone())
    }
}

enum Part<'t> {
    Words(&'t str),
    Gap(&'t str),
}

/// The text and its gaps. A brace that opens no gap is a brace.
fn parts(text: &str) -> Vec<Part<'_>> {
    let mut parts = Vec::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        let name = after.split_once('}').filter(|(name, _)| {
            !name.is_empty() && name.chars().all(|c| c.is_alphanumeric() || c == '_')
        });
        match name {
            Some((name, behind)) => {
                parts.push(Part::Words(before));
                parts.push(Part::Gap(name));
                rest = behind;
            }
            None => {
                let with_brace = before.len() + 1;
                let (words, behind) = rest.split_at(with_brace);
                parts.push(Part::Words(words));
                rest = behind;
            }
        }
    }
    parts.push(Part::Words(rest));
    parts
}

impl Visit {
    /// What the gaps of a sentence are filled with by themselves, beside a finding or a point: `{point}`, `{place}`,
    /// `{finding}`, `{who}`, `{unit}`.
    #[must_use]
    pub fn sentence_words(
        &self,
        key: Option<&str>,
        point: Option<&PointId>,
    ) -> Vec<(String, String)> {
        let assessment = self.assessment(quantity::UnitSystem::Us);
        let standing =
            key.and_then(|key| assessment.findings.iter().find(|finding| finding.key == key));
        let own = key.and_then(|key| recorded(self, key)).map(|(_, finding)| finding);
        let point = standing
            .and_then(|finding| finding.point.as_ref())
            .or_else(|| own.and_then(|own| own.point.as_ref()))
            .or(point);
        let title = standing
            .map(|finding| finding.title.clone())
            .or_else(|| own.map(|own| own.title.clone()));
        let given = [
            ("point", self.title_of(point)),
            ("place", standing.map_or_else(String::new, |finding| words(&finding.position))),
            ("finding", title.unwrap_or_default()),
            ("who", standing.map_or_else(String::new, |finding| finding.who.clone())),
            ("unit", self.unit_name()),
        ];
        given
            .into_iter()
            .filter(|(_, word)| !word.is_empty())
            .map(|(name, word)| (name.to_owned(), word))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn with(pairs: &[(&str, &str)]) -> Vec<(String, String)> {
        pairs.iter().map(|(name, word)| ((*name).to_owned(), (*word).to_owned())).collect()
    }

    #[test]
    fn a_sentence_is_kept_filled_in_and_taken_off() {
        let mut sentences = Sentences::read("").unwrap();
        sentences
            .add("gas", "Have {who} look at the {point}. {who} knows; {} and { } are braces.")
            .unwrap();
        sentences.add("dry", "It was dry.").unwrap();
        let read = Sentences::read(&sentences.write()).unwrap();
        assert_eq!(read.all(), sentences.all());
        let gas = read.find("gas").unwrap();
        assert_eq!(gas.gaps(), ["who", "point"]);
        assert_eq!(gas.fill(&with(&[("who", "a fitter")])), Err(vec!["point".to_owned()]));
        assert_eq!(
            gas.fill(&with(&[("who", "a fitter"), ("point", "regulator")])).unwrap(),
            "Have a fitter look at the regulator. a fitter knows; {} and { } are braces."
        );
        sentences.add("dry", "It was wet.").unwrap();
        assert_eq!(sentences.find("dry").unwrap().text, "It was wet.");
        assert!(sentences.remove("dry") && !sentences.remove("dry"));
        assert_eq!(sentences.all().len(), 1);
    }

    #[test]
    fn sentences_are_found_by_name_and_words_and_filled_as_far_as_is_known() {
        let mut sentences = Sentences::default();
        sentences.add("dry", "Keep the gas shut.").unwrap();
        sentences.add("gas-off", "Have {who} look at the {point} {when}.").unwrap();
        let names = |typed: &str| {
            let found = sentences.matching(typed);
            found.into_iter().map(|one| one.name.clone()).collect::<Vec<_>>()
        };
        assert_eq!(names(""), ["dry", "gas-off"]);
        assert_eq!(names("GAS"), ["gas-off", "dry"]);
        assert_eq!(names("off gas"), ["gas-off"]);
        assert_eq!(names("as"), Vec::<String>::new());
        let known = with(&[("who", "a fitter"), ("point", "regulator")]);
        assert_eq!(
            sentences.find("gas-off").unwrap().filled_as_known(&known),
            "Have a fitter look at the regulator {when}."
        );
    }

    #[test]
    fn what_else_a_file_says_is_kept_and_what_is_wrong_is_said() {
        let text = r#"{"by": "me", "sentences": [{"name": "a", "text": "A.", "for": "roofs"}]}"#;
        let mut sentences = Sentences::read(text).unwrap();
        sentences.add("b", "B.").unwrap();
        let written = sentences.write();
        for kept in ["\"by\": \"me\"", "\"for\": \"roofs\"", "\"name\": \"b\""] {
            assert!(written.contains(kept), "{written}");
        }
        for (text, said) in [
            ("[]", "object"),
            ("{", "line 1"),
            (r#"{"sentences": 3}"#, "no list"),
            (r#"{"sentences": [{"name": "a"}]}"#, "sentence 1: `text`"),
            (r#"{"sentences": [{"name": "a b", "text": "x"}]}"#, "sentence 1"),
            (r#"{"sentences": [{"name": "a", "text": "x"}, {"name": "a", "text": "y"}]}"#, "twice"),
        ] {
            let error = Sentences::read(text).unwrap_err();
            assert!(error.contains(said), "{error}");
        }
        assert_eq!(sentences.add("c", "  ").unwrap_err().key, "refusal-sentence-empty");
        assert_eq!(sentences.add("c d", "x").unwrap_err().key, "refusal-sentence-name");
    }

    #[test]
    fn no_text_is_lost_or_makes_it_fail() {
        for text in testkit::HOSTILE {
            let sentence = Sentence { name: "a".to_owned(), text: text.to_owned() };
            let words: Vec<(String, String)> = sentence
                .gaps()
                .iter()
                .map(|name| ((*name).to_owned(), format!("{{{name}}}")))
                .collect();
            assert_eq!(sentence.fill(&words).unwrap(), text);
        }
    }
}
