//! Help, completions and the manual: every command explains itself with an example.

use std::collections::BTreeSet;
use std::io::Read;
use std::process::Stdio;

use crate::program::Nearside;

/// Names under `Commands:` in a help text.
fn inner(help: &str) -> Vec<String> {
    let Some((_, list)) = help.split_once("\nCommands:\n") else { return Vec::new() };
    list.lines()
        .take_while(|line| line.starts_with(' '))
        .filter_map(|line| {
            let name = line.strip_prefix("  ")?;
            (!name.starts_with(' ')).then(|| name.split_whitespace().next().unwrap().to_owned())
        })
        .filter(|name| name != "help")
        .collect()
}

/// All commands, as words behind the program's name.
fn commands(program: &Nearside) -> Vec<Vec<String>> {
    let mut all = Vec::new();
    let mut waiting = vec![Vec::new()];
    while let Some(path) = waiting.pop() {
        let mut arguments: Vec<&str> = path.iter().map(String::as_str).collect();
        arguments.push("-h");
        for name in inner(&program.run(&arguments).text()) {
            let path: Vec<String> = [path.as_slice(), &[name]].concat();
            waiting.push(path);
        }
        all.push(path);
    }
    all
}

#[test]
fn the_help_of_every_command_shows_an_example_of_it() {
    let program = Nearside::new();
    let all = commands(&program);
    assert!(all.len() > 15, "{all:?}");
    for path in all {
        let mut arguments: Vec<&str> = path.iter().map(String::as_str).collect();
        arguments.push("--help");
        let help = program.run(&arguments).text();
        let example = help.split_once("Example").map(|(_, example)| example.to_owned());
        let example = example.unwrap_or_else(|| panic!("{path:?} has no example:\n{help}"));
        for word in &path {
            assert!(example.contains(word.as_str()), "{path:?}: {example}");
        }
    }
}

#[test]
fn the_manual_has_a_page_for_every_command() {
    let program = Nearside::new();
    assert!(program.run(&["man"]).text().contains(".TH nearside"));
    let folder = program.path("man").to_str().unwrap().to_owned();
    program.run(&["man", "--into", &folder]).text();
    let pages: BTreeSet<String> = std::fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    for path in commands(&program) {
        let page = format!("{}.1", [&["nearside".to_owned()], path.as_slice()].concat().join("-"));
        assert!(pages.contains(&page), "{page} is not among {pages:?}");
    }
}

#[test]
fn completions_name_the_commands() {
    let program = Nearside::new();
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = program.run(&["completions", shell]).text();
        assert!(script.contains("assess") && script.contains("completions"), "{shell}");
    }
}

#[test]
fn a_reader_that_has_gone_is_no_error() {
    let program = Nearside::new();
    let mut child = program
        .command(&["formula", "--list", "--json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let mut said = String::new();
    child.stderr.take().unwrap().read_to_string(&mut said).unwrap();
    assert_eq!((child.wait().unwrap().code(), said.as_str()), (Some(0), ""));
}

#[test]
fn a_wrong_option_is_refused_with_status_two() {
    let program = Nearside::new();
    assert_eq!(program.run(&["job", "list", "--jsno"]).status, 2);
    assert_eq!(program.run(&["nothing"]).status, 2);
    assert!(program.run(&["--version"]).text().starts_with("nearside "));
}
