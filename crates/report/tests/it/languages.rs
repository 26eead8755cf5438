//! The report in Spanish: what its own words are, that none of them is left in English, and that English stays as it was.
#![allow(clippy::disallowed_methods, reason = "a test that reads the source it is about")]

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use findings::assess_in;
use plan::{Files, Library, LoadedTexts, Plan, Texts, load, load_texts};
use quantity::UnitSystem;
use report::content::{Content, Paper};
use report::{Options, Release, compose, page, typeset};

use crate::sample;
use crate::shipped::long_visit;
use crate::tools::File;

fn library() -> Library {
    load(&Files::embedded()).unwrap()
}

fn loaded(language: &str) -> LoadedTexts {
    load_texts(language, &Files::of_language(language).unwrap(), &library())
}

fn purchase() -> Plan {
    library().plan("purchase").unwrap()
}

fn long_visit_in(plan: &Plan) -> Content {
    let visit = long_visit(&purchase());
    let assessment = assess_in(plan, &visit, UnitSystem::Us);
    let release = Release { program: "Nearside".into(), ..Release::default() };
    compose(plan, &visit, &assessment, &release, Options::default())
}

fn no_photo(_: &str) -> Option<Vec<u8>> {
    None
}

/// What the program says in English and in Spanish, where both differ.
fn said() -> Vec<(String, String)> {
    let (plan, _) = purchase().with_texts(&loaded("es").texts);
    let differing = plan.words.iter().filter(|(english, own)| english != own);
    differing.map(|(english, own)| (english.to_owned(), own.to_owned())).collect()
}

#[test]
fn every_phrase_of_pages_and_sentences_is_listed() {
    let listed: BTreeSet<String> = {
        let mut files = Files::none();
        for file in ["report.toml", "sentences.toml", "drawings.toml"] {
            files.add(file, Files::of_language("en").unwrap().text(file).unwrap());
        }
        let (plan, _) = purchase().with_texts(&load_texts("en", &files, &library()).texts);
        plan.drawn.iter().map(|(english, _)| english.to_owned()).collect()
    };
    let mut said = 0;
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for file in ["src", "templates", "../findings/src"].iter().flat_map(|it| under(&root.join(it)))
    {
        let text = std::fs::read_to_string(&file).unwrap();
        let text = text.split("#[cfg(test)]").next().unwrap_or("");
        for phrase in phrases(text) {
            said += 1;
            assert!(
                listed.contains(&phrase),
                "{} says what is in no file of data/languages/en: {phrase}",
                file.display()
            );
        }
    }
    // A hundred and fifty stood there when this was written; a scan that finds none has gone blind.
    assert!(said > 120, "{said}");
}

/// The texts given to `say`, `say_with` and `said` as they stand in a source file.
fn phrases(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    for call in ["say(", "say_with(", "said("] {
        for (at, _) in text.match_indices(call) {
            // A list of problems says something else, to whoever calls.
            if text[..at].ends_with("found.") {
                continue;
            }
            let argument = text[at + call.len()..].trim_start();
            let Some(rest) = argument.strip_prefix('"') else { continue };
            let mut phrase = String::new();
            let mut letters = rest.chars();
            while let Some(letter) = letters.next() {
                match letter {
                    '"' => break,
                    '\\' => phrase.extend(letters.next()),
                    other => phrase.push(other),
                }
            }
            found.push(phrase);
        }
    }
    found
}

fn under(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(under(&path));
        } else if path.file_name().is_some_and(|name| name != "tests.rs")
            && path.extension().is_some_and(|end| end == "rs" || end == "typ")
        {
            files.push(path);
        }
    }
    files
}

#[test]
fn a_page_in_spanish_says_nothing_of_its_own_in_english() {
    let (plan, _) = purchase().with_texts(&loaded("es").texts);
    let content = long_visit_in(&plan);
    assert_eq!(content.language, "es");
    let made = page(&content, &no_photo, Some("report.pdf")).unwrap();
    // The plan's own texts may be in English still, and may share words with ours.
    let data: String = Files::embedded().iter().map(|(_, text)| text.to_owned()).collect();
    let said = said();
    let mut left: Vec<String> = Vec::new();
    for file in made.files.iter().filter(|file| file.name.ends_with(".html")) {
        let html = String::from_utf8(file.bytes.clone()).unwrap();
        assert!(html.contains("<html lang=\"es\">"), "{}", file.name);
        for (english, _) in &said {
            // A word can stand in a name; a sentence of ours cannot.
            if english.contains('{') || english.len() < 16 || data.contains(english) {
                continue;
            }
            if let Some(at) = html.find(&escaped(english)) {
                let before: String = html[..at].chars().rev().take(80).collect();
                let before: String = before.chars().rev().collect();
                left.push(format!("{}: …{before}[{english}]", file.name));
            }
        }
    }
    assert!(left.is_empty(), "{}", left.join("\n"));
    let index = String::from_utf8(made.files[0].bytes.clone()).unwrap();
    for words in ["Los cinco usos", "no es una garantía", "Impide", "12 de junio de 2026"] {
        assert!(index.contains(words), "{words}");
    }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[test]
fn verdicts_and_figures_are_the_same_in_both_languages() {
    let (plan, _) = purchase().with_texts(&loaded("es").texts);
    let (english, spanish) = (long_visit_in(&purchase()), long_visit_in(&plan));
    let figures = |content: &Content| {
        let readings = content.systems.iter().flat_map(|system| &system.readings);
        readings
            .map(|one| {
                let verdicts: Vec<_> = one.judged.iter().map(|judged| judged.verdict).collect();
                (one.uncertainty.clone(), one.unit.clone(), verdicts)
            })
            .collect::<Vec<_>>()
    };
    assert_eq!(figures(&english), figures(&spanish));
    let uses = |content: &Content| {
        content.uses.iter().map(|one| (one.kind, one.state)).collect::<Vec<_>>()
    };
    assert_eq!(uses(&english), uses(&spanish));
    assert_eq!(english.findings.len(), spanish.findings.len());
    let verdict = |content: &Content| {
        content
            .systems
            .iter()
            .flat_map(|system| &system.readings)
            .flat_map(|one| &one.judged)
            .map(|judged| judged.words.clone())
            .collect::<BTreeSet<_>>()
    };
    assert!(verdict(&spanish).contains("no cumple") && !verdict(&spanish).contains("conforms"));
}

#[test]
fn no_texts_leave_the_english_report_as_it_was() {
    let (plan, _) = purchase().with_texts(&Texts::default());
    let (plain, laid) = (long_visit_in(&purchase()), long_visit_in(&plan));
    let data = |content: &Content| serde_json::to_string(content).unwrap();
    assert_eq!(plain.language, "");
    assert!(!data(&plain).contains("\"language\"") && !data(&plain).contains("\"texts\""));
    assert_eq!(data(&plain), data(&Content { language: String::new(), ..laid }));
}

#[test]
fn a_pdf_in_spanish_is_tagged_as_spanish_and_speaks_it() {
    let (plan, _) = purchase().with_texts(&loaded("es").texts);
    let content = Content {
        language: "es".into(),
        words: plan.words,
        drawn: plan.drawn,
        ..sample::sample(Paper::Letter)
    };
    let made = typeset(&content, sample::RECORD, &sample::photo, &|_| {}).unwrap();
    let file = File::new(&made.pdf);
    let text = file.text();
    for words in
        ["De un vistazo", "Los cinco usos", "Contenido y clave", "Página 1 de", "Registro y firma"]
    {
        assert!(text.contains(words), "{words}");
    }
    for words in ["At a glance", "Contents and key", "Page 1 of"] {
        assert!(!text.contains(words), "{words}");
    }
    let bytes = String::from_utf8_lossy(&made.pdf);
    let language = bytes.split("/Lang").nth(1).map(|rest| rest.chars().take(7).collect::<String>());
    assert_eq!(language.as_deref(), Some("(es-US)"));
}
