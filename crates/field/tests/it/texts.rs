//! The interface's words: both languages have the same, and none is idle.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use field::{Language, Said, Texts};
use fluent_syntax::ast::{Entry, Expression, InlineExpression, PatternElement};
use fluent_syntax::parser;

/// Each message of a language with the names of its arguments.
fn messages(language: Language) -> BTreeMap<String, BTreeSet<String>> {
    let resource = parser::parse(language.file()).unwrap_or_else(|(_, errors)| {
        panic!("{}.ftl: {errors:?}", language.code());
    });
    let mut messages = BTreeMap::new();
    for entry in &resource.body {
        let Entry::Message(message) = entry else {
            assert!(
                !matches!(entry, Entry::Term(_) | Entry::Junk { .. }),
                "{}.ftl: {entry:?}",
                language.code()
            );
            continue;
        };
        let mut arguments = BTreeSet::new();
        let pattern = message.value.as_ref().unwrap();
        arguments_of(&pattern.elements, &mut arguments);
        let twice = messages.insert(message.id.name.to_owned(), arguments);
        assert!(twice.is_none(), "{}.ftl: {} stands twice", language.code(), message.id.name);
    }
    messages
}

fn arguments_of(elements: &[PatternElement<&str>], arguments: &mut BTreeSet<String>) {
    for element in elements {
        let PatternElement::Placeable { expression } = element else { continue };
        let inline = match expression {
            Expression::Inline(inline) => inline,
            Expression::Select { selector, variants } => {
                for variant in variants {
                    arguments_of(&variant.value.elements, arguments);
                }
                selector
            }
        };
        if let InlineExpression::VariableReference { id } = inline {
            arguments.insert(id.name.to_owned());
        }
    }
}

#[test]
fn both_languages_say_the_same_with_the_same_arguments() {
    let (english, spanish) = (messages(Language::English), messages(Language::Spanish));
    assert!(english.len() > 80, "{}", english.len());
    for (key, arguments) in &english {
        assert_eq!(Some(arguments), spanish.get(key), "{key} in Spanish");
    }
    for key in spanish.keys() {
        assert!(english.contains_key(key), "{key} in English");
    }
}

#[test]
fn every_text_is_used_and_every_used_text_is_there() {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut sources = String::new();
    read_into(&mut sources, &here.join("src"));
    let screens = here.join("../web/src");
    if screens.exists() {
        read_into(&mut sources, &screens);
    }
    let quoted: BTreeSet<&str> = sources.split('"').collect();
    let known = messages(Language::English);
    for key in known.keys() {
        assert!(quoted.contains(key.as_str()), "nothing says `{key}`");
    }
    // What a `Said` or a text is asked by stands right behind its opening bracket.
    for opening in ["Said::new(\"", "say(\"", "say_with(\"", "with_text(\""] {
        for (_, rest) in
            sources.match_indices(opening).map(|(at, it)| (at, &sources[at + it.len()..]))
        {
            let key = rest.split('"').next().unwrap_or("");
            let is_key = key.contains('-')
                && key.chars().all(|letter| letter.is_ascii_lowercase() || letter == '-');
            assert!(!is_key || known.contains_key(key), "no text `{key}`");
        }
    }
}

fn read_into(text: &mut String, folder: &Path) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            read_into(text, &path);
        } else if path.extension().is_some_and(|it| it == "rs") {
            text.push_str(&std::fs::read_to_string(&path).unwrap());
            text.push('\n');
        }
    }
}

#[test]
fn a_sentence_is_filled_in_either_language() {
    let said = Said::new("refusal-no-such-place")
        .with("reading", "Cold pressure")
        .with("position", "left")
        .with("places", "left front, right front");
    let english = Texts::new(Language::English).of(&said);
    assert_eq!(english, "Cold pressure is not read at “left”. Places: left front, right front.");
    assert_eq!(english, said.to_string());
    let spanish = Texts::new(Language::Spanish).of(&said);
    assert_eq!(spanish, "Cold pressure no se lee en «left». Lugares: left front, right front.");
}

#[test]
fn what_is_filled_in_stands_as_it_was_entered() {
    let numbers = ["007", "+5", "-0", "12"];
    for language in Language::ALL {
        let texts = Texts::new(language);
        let empty = texts.say_with("act-note", &[("what", "")]);
        assert!(!empty.is_empty() && empty != "act-note");
        for text in testkit::HOSTILE.into_iter().chain(numbers) {
            let said = texts.say_with("act-note", &[("what", text)]);
            assert!(said.contains(text), "{said}");
            assert_eq!(said.len(), empty.len() + text.len(), "{said}");
        }
    }
}
