//! Reports in Spanish and in a firm's own words, and the linter of texts.

use crate::program::Nearside;

#[test]
fn the_shipped_texts_have_no_problem_and_say_what_is_missing() {
    let program = Nearside::new();
    let said = program.run(&["texts", "check"]).text();
    assert!(said.starts_with("es: ") && said.contains("no problem"), "{said}");
    let json = program.run(&["texts", "check", "--json"]).json();
    let (texts, missing) =
        (json[0]["wanted"].as_u64().unwrap(), json[0]["missing"].as_u64().unwrap());
    assert!(texts > 4000 && missing < texts, "{json}");
    let listed = program.run(&["texts", "list", "points/gas/gas_smell", "--language", "es"]).text();
    assert!(listed.contains("title = \"Oler si hay gas"), "{listed}");
    let english = program.run(&["texts", "list", "points/gas/gas_smell"]).text();
    assert!(english.contains("# title = \"Smell for gas before anything else\""), "{english}");
    let refused = program.run(&["texts", "list", "points/gas/gas_smel"]).refused();
    assert!(refused.contains("points/gas/gas_smell"), "{refused}");
    let refused = program.run(&["texts", "write", "own", "--language", "eo"]).refused();
    assert!(refused.contains("no texts are in the language `eo`"), "{refused}");
}

#[test]
fn a_firms_texts_are_written_out_checked_and_used_and_the_release_names_them() {
    let program = Nearside::with_job();
    program.run(&["texts", "write", "own", "--language", "en"]).text();
    let again = program.run(&["texts", "write", "own", "--language", "en"]).refused();
    assert!(again.contains("is there already"), "{again}");
    let report = std::fs::read_to_string(program.path("own/en/report.toml")).unwrap();
    let own = "five_uses = \"What it can be used for\"";
    let report = report.replace("# five_uses = \"The five uses\"", own);
    assert!(report.contains(own), "{report}");
    program.write("own/en/report.toml", &report);
    program.run(&["texts", "check", "own"]).text();
    program
        .run(&["page", "2026-001", "--into", "own-page", "--without-pdf", "--texts", "own"])
        .text();
    let page = std::fs::read_to_string(program.path("own-page/index.html")).unwrap();
    assert!(page.contains("What it can be used for") && !page.contains("The five uses"), "{page}");
    assert!(page.contains("<dt>Texts</dt>") && page.contains("lang=\"en\""));

    // What an inspection cannot promise is refused, with its place, before a page is made.
    let bad = report.replace("What it can be used for", "Safe to use, guaranteed");
    program.write("own/en/report.toml", &bad);
    for arguments in [
        &["texts", "check", "own"][..],
        &["report", "2026-001", "--out", "bad.pdf", "--texts", "own"],
    ] {
        let refused = program.run(arguments).refused();
        let told = refused.contains("en/report.toml:") || refused.contains("in the texts");
        assert!(told, "{refused}");
    }
    assert!(!program.path("bad.pdf").exists());
}

#[test]
fn a_page_in_spanish_is_spanish_and_english_stays_as_it_was() {
    let program = Nearside::with_job();
    program.run(&["read", "2026-001", "regulator_lockup", "lockup", "15.2 inH2O"]).text();
    let page = |folder: &str, more: &[&str]| {
        let mut arguments = vec!["page", "2026-001", "--into", folder, "--without-pdf"];
        arguments.extend(more);
        program.run(&arguments).text();
        std::fs::read_to_string(program.path(&format!("{folder}/index.html"))).unwrap()
    };
    let spanish = page("spanish", &["--language", "es"]);
    for words in
        ["<html lang=\"es\">", "Los cinco usos", "no es una garantía", "El regulador no cierra"]
    {
        assert!(spanish.contains(words), "{words}");
    }
    assert!(!spanish.contains("The five uses"));
    let english = page("english", &[]);
    assert_eq!(english, page("again", &["--language", "en"]));
    assert!(english.contains("<html lang=\"en\">") && !english.contains("<dt>Texts</dt>"));
    let refused = program.run(&["report", "2026-001", "--language", "fr"]).refused();
    assert!(refused.contains("no texts are in the language `fr`"), "{refused}");
}
