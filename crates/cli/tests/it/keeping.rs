//! Everything that a data folder can hold, made by the program's own commands: all of it moves to another computer in one step.

use std::collections::BTreeMap;
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::Stdio;

use crate::bags::{files, with_photo};
use crate::program::{Nearside, text};

/// What comes and goes, is worked out again, or is the store's own and compared by what it says.
const NOT_BYTE_BY_BYTE: &[&str] = &[
    "store.sqlite",
    "store.sqlite-wal",
    "store.sqlite-shm",
    "store.lock",
    "edit.lock",
    "archive/",
    "uploads/",
    "incoming/",
];

/// A data folder with every kind of file that the program writes there.
pub(crate) fn with_everything() -> Nearside {
    let program = with_photo();
    program.with_key("B. Inspector", None);
    program.with_key("C. Inspector", Some(&text(&program.data().join("second.pem"))));
    program.run(&["sentence", "add", "ladder", "No ladder was set up at {place}."]).text();
    let texts = text(&program.data().join("texts"));
    program.run(&["texts", "write", &texts, "--language", "en"]).text();
    let report = program.data().join("texts/en/report.toml");
    let own = std::fs::read_to_string(&report)
        .unwrap()
        .replace("# five_uses = \"The five uses\"", "five_uses = \"What it can be used for\"");
    std::fs::write(&report, own).unwrap();
    program.signed(&["release", "2026-001", "--accept", "a test"]).text();
    program.run(&["agreement", "set", "2026-001", "--line", "Inspection = 425.00"]).text();
    let seller = ["invoice", "seller", "--name", "B. Inspector", "--address", "1 Ferry Road"];
    program.run(&[&seller[..], &["--payment", "By card", "--prefix", "2026-"]].concat()).text();
    program.run(&["invoice", "make", "2026-001", "--date", "2026-06-12"]).text();
    let paid = ["invoice", "paid", "2026-0001", "--amount", "200", "--on", "2026-06-12"];
    program.run(&[&paid[..], &["--how", "cheque 1043"]].concat()).text();
    serve_on_the_network(&program);
    program.run(&["share", "new", "2026-001", "--without-pdf"]).text();
    program.run(&["archive", "list"]).text();
    program
}

/// Starts the server on all addresses, so that it makes its certificates, and lets a phone in.
fn serve_on_the_network(program: &Nearside) {
    let mut server = program
        .command(&["serve", "--at", "0.0.0.0:0"])
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let lines = BufReader::new(server.stdout.take().unwrap()).lines();
    let said: Vec<String> =
        lines.map_while(Result::ok).take_while(|line| !line.starts_with("stop:")).collect();
    server.kill().unwrap();
    server.wait().unwrap();
    assert!(said.iter().any(|line| line.contains("https://")), "{said:?}");
    let serving = crate::serve::Serving::start(program);
    serving.paired(program);
}

/// What can be asked of the data about everything that the store itself keeps.
fn told(program: &Nearside, data: &str) -> Vec<String> {
    [
        &["job", "list", "--json"][..],
        &["assess", "2026-001", "--json"],
        &["invoice", "list", "--json"],
        &["invoice", "show", "2026-0001", "--json"],
        &["device", "list", "--json"],
        &["share", "list", "--json"],
        &["sentence", "list", "--json"],
        &["job", "show", "2026-001"],
        &["job", "sheet", "2026-001"],
    ]
    .iter()
    .map(|arguments| program.run(&[&["--data", data], *arguments].concat()).text())
    .collect()
}

pub(crate) fn kept_byte_by_byte(data: &Path) -> BTreeMap<String, Vec<u8>> {
    let passing = |name: &str| {
        NOT_BYTE_BY_BYTE
            .iter()
            .any(|one| name == *one || one.ends_with('/') && name.starts_with(one))
    };
    files(data).into_iter().filter(|(name, _)| !passing(name)).collect()
}

#[test]
fn everything_moves_to_another_computer_in_one_step_and_works_there() {
    let program = with_everything();
    let here = kept_byte_by_byte(&program.data());
    for name in [
        "signing-key.pem",
        "signing-key.public.json",
        "second.pem",
        "second.public.json",
        "sentences.json",
        "texts/en/report.toml",
        "tls/authority-key.pem",
        "tls/server.json",
    ] {
        assert!(here.contains_key(name), "{name} is not made any more");
    }
    let backup = text(&program.path("backup"));
    let done = program.run(&["backup", &backup, "--json"]).json();
    assert_eq!(
        done["not_copied"],
        serde_json::json!([]),
        "the program writes a file that the list in holdings does not know"
    );
    let moved = text(&program.path("moved"));
    let run = |arguments: &[&str]| program.run(&[&["--data", &moved], arguments].concat());
    let put_back = run(&["restore", &backup, "--json"]).json();
    assert_eq!((&put_back["changes"], &put_back["files"]), (&done["changes"], &done["files"]));
    for folder in [&backup, &moved] {
        let there = kept_byte_by_byte(Path::new(folder));
        assert_eq!(here.keys().collect::<Vec<_>>(), there.keys().collect::<Vec<_>>());
        for (name, bytes) in &here {
            assert!(there[name] == *bytes, "{name} differs in {folder}");
        }
    }
    assert_eq!(told(&program, &moved), told(&program, &text(&program.data())));
    assert_eq!(run(&["doctor", "--json"]).json()["left"], serde_json::json!([]));
    #[cfg(unix)]
    for name in ["signing-key.pem", "second.pem", "tls/authority-key.pem", "tls/server-key.pem"] {
        use std::os::unix::fs::PermissionsExt as _;
        let mode = |path: &Path| std::fs::metadata(path).unwrap().permissions().mode() & 0o777;
        assert_eq!(mode(&Path::new(&moved).join(name)), 0o600, "{name}");
        assert_eq!(mode(&Path::new(&moved).join("tls")), 0o700);
    }

    // It speaks the firm's texts, knows the sentences, and signs with the same key.
    run(&["page", "2026-001", "--into", "page", "--without-pdf"]).text();
    let page = std::fs::read_to_string(program.path("page/index.html")).unwrap();
    assert!(page.contains("What it can be used for"), "the firm's texts did not come along");
    assert!(run(&["sentence", "list"]).text().contains("No ladder was set up"));
    run(&["read", "2026-001", "regulator_lockup", "lockup", "12.1 inH2O"]).text();
    let again = ["--data", &moved, "release", "2026-001", "--because", "after the move"];
    program.signed(&[&again[..], &["--accept", "a test"]].concat()).text();
    run(&["export", "2026-001", "--into", "bag"]).text();
    let public = text(&program.data().join("signing-key.public.json"));
    program.run(&["verify", "bag", "--signer", &public]).text();
}

#[test]
fn a_file_that_nobody_knows_is_named_and_not_copied() {
    let program = Nearside::with_job();
    std::fs::write(program.data().join("next-kind.json"), "{}").unwrap();
    std::fs::create_dir_all(program.data().join("notes")).unwrap();
    std::fs::write(program.data().join("notes/a.txt"), "a").unwrap();
    let backup = text(&program.path("backup"));
    let done = program.run(&["backup", &backup, "--json"]);
    assert!(done.err.contains("next-kind.json is none of this program's files"), "{}", done.err);
    assert_eq!(done.json()["not_copied"], serde_json::json!(["next-kind.json", "notes/a.txt"]));
    assert!(!program.path("backup/next-kind.json").exists());
}

#[test]
fn what_is_taken_away_here_goes_from_the_backup_too_and_keys_stay_in_it() {
    let program = Nearside::with_job();
    program.with_key("B. Inspector", None);
    for name in ["texts/en/one.txt", "texts/en/two.txt"] {
        let path = program.data().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, "").unwrap();
    }
    let backup = text(&program.path("backup"));
    program.run(&["backup", &backup]).text();
    std::fs::remove_file(program.data().join("texts/en/one.txt")).unwrap();
    std::fs::remove_file(program.data().join("signing-key.pem")).unwrap();
    let done = program.run(&["backup", &backup]);
    assert_eq!(done.status, 1);
    assert!(done.err.contains("note: signing-key.pem is missing"), "{}", done.err);
    assert!(!program.path("backup/texts/en/one.txt").exists());
    assert!(program.path("backup/texts/en/two.txt").exists());
    assert!(program.path("backup/signing-key.pem").exists(), "its last copy was taken away");

    // A damaged one does not go over the sound one; whoever took it away on purpose says so.
    std::fs::write(program.data().join("signing-key.pem"), "rotten").unwrap();
    assert_eq!(program.run(&["backup", &backup]).status, 1);
    program.run(&["doctor", "--from", &backup]).text();
    program.run(&["backup", &backup]).text();
    std::fs::remove_file(program.data().join("signing-key.pem")).unwrap();
    assert_eq!(program.run(&["doctor"]).status, 1);
    let refused = program.run(&["doctor", "--forget", "signing-key.pen"]).refused();
    assert!(refused.contains("the nearest: signing-key.pem"), "{refused}");
    program.run(&["doctor", "--forget", "signing-key.pem"]).text();
    program.run(&["backup", &backup]).text();
    assert!(program.path("backup/signing-key.pem").exists());
}
