//! The doctor on a data folder with everything in it: faults of every kind, found by the command and mended from a backup.

use std::path::Path;

use serde_json::Value as Json;

use crate::keeping::{kept_byte_by_byte, with_everything};
use crate::program::{Nearside, text};

/// Numbers that look random and are the same in every run (a linear congruential generator; Knuth, "The Art of Computer
/// Programming", volume 2, 3.3.4).
struct Dice(u64);

impl Dice {
    fn up_to(&mut self, bound: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        usize::try_from((self.0 >> 33) % u64::try_from(bound).unwrap()).unwrap()
    }
}

fn seen(program: &Nearside) -> Json {
    let run = program.run(&["doctor", "--look-only", "--json"]);
    serde_json::from_str(&run.out).unwrap_or_else(|error| panic!("{error}: {run:?}"))
}

fn names(list: &Json, word: &str) -> bool {
    list.as_array().unwrap().iter().any(|one| one.as_str().unwrap().contains(word))
}

/// Changes one bit of a file, cuts it, or takes it away.
fn injure(path: &Path, dice: &mut Dice) -> String {
    let mut bytes = std::fs::read(path).unwrap();
    let how = match dice.up_to(4) {
        0 | 1 => {
            let at = dice.up_to(bytes.len());
            bytes[at] ^= 1 << dice.up_to(8);
            std::fs::write(path, bytes).unwrap();
            format!("a bit of byte {at}")
        }
        2 => {
            bytes.truncate(dice.up_to(bytes.len()));
            std::fs::write(path, bytes).unwrap();
            "cut".to_owned()
        }
        _ => {
            std::fs::remove_file(path).unwrap();
            "removed".to_owned()
        }
    };
    format!("{}: {how}", path.display())
}

/// Puts other letters in the place of these, wherever the database has them.
fn overwrite(data: &Path, letters: &str, others: &str) {
    assert_eq!(letters.len(), others.len());
    let path = data.join("store.sqlite");
    let mut bytes = std::fs::read(&path).unwrap();
    let places: Vec<usize> = bytes
        .windows(letters.len())
        .enumerate()
        .filter(|(_, window)| *window == letters.as_bytes())
        .map(|(place, _)| place)
        .collect();
    assert!(!places.is_empty(), "{letters} is not in the database");
    for place in places {
        bytes[place..place + letters.len()].copy_from_slice(others.as_bytes());
    }
    std::fs::write(path, bytes).unwrap();
}

#[test]
fn faults_in_every_kind_of_file_and_row_are_found_and_mended_from_a_backup() {
    let program = with_everything();
    let data = program.data();
    let backup = text(&program.path("backup"));
    program.run(&["backup", &backup]).text();
    assert_eq!(seen(&program)["left"], serde_json::json!([]));
    let kept = kept_byte_by_byte(&data);
    let invoice = program.run(&["invoice", "show", "2026-0001", "--json"]).text();
    let mended = |what: &str| {
        let run = program.run(&["doctor", "--from", &backup, "--json"]);
        assert_eq!(run.status, 0, "{what}: {run:?}");
        let after = kept_byte_by_byte(&data);
        for (name, bytes) in &kept {
            assert!(after.get(name) == Some(bytes), "{what}: {name} was not mended: {run:?}");
        }
    };
    let mut dice = Dice(2026);
    // The firm's texts are written by hand: no seal says how they were.
    let sealed: Vec<&String> = kept.keys().filter(|name| !name.starts_with("texts/")).collect();
    let (blobs, others): (Vec<&String>, Vec<&String>) =
        sealed.into_iter().partition(|name| name.starts_with("blobs/"));
    assert!(blobs.len() > 10 && others.len() >= 11, "{others:?}");
    let some_blobs = (0..6).map(|number| blobs[number * blobs.len() / 6]);
    for name in others.iter().copied().chain(some_blobs) {
        let what = injure(&data.join(name), &mut dice);
        let found = seen(&program);
        let word = name.rsplit('/').next().unwrap();
        assert!(names(&found["left"], word), "{what} was not found: {found}");
        // Sentences may have been edited by somebody: that is said, and no loss as long as they can be read.
        if name != "sentences.json" {
            assert!(found["damaged"].as_u64().unwrap() >= 1, "{what}: {found}");
            mended(&what);
        } else {
            std::fs::write(data.join(name), &kept[name]).unwrap();
        }
    }
    std::fs::write(data.join("sentences.json"), "{\"sentences\": [{").unwrap();
    assert!(names(&seen(&program)["left"], "sentences.json cannot be read"));
    mended("sentences that cannot be read");

    for (letters, others, word) in [
        ("cheque 1043", "cheque 9043", "a payment of invoice 2026- 1 2026-06-12"),
        ("Kitchen phone", "Kitchen bhone", "device "),
        ("text/html", "text/htmx", "the client's file "),
        ("1 Ferry Road", "7 Ferry Road", "invoice 2026- 1"),
    ] {
        overwrite(&data, letters, others);
        let found = seen(&program);
        assert!(names(&found["left"], word), "{letters} was not found: {found}");
        mended(letters);
    }
    assert_eq!(program.run(&["invoice", "show", "2026-0001", "--json"]).text(), invoice);
}

#[test]
fn what_cannot_be_mended_is_said_and_what_can_be_made_anew_is() {
    let program = with_everything();
    let data = program.data();
    let said = |arguments: &[&str]| {
        let run = program.run(&[&["doctor"], arguments].concat());
        (run.status, run.out)
    };
    assert_eq!(said(&[]), (0, "everything that was kept is as it was kept\n".to_owned()));

    // A firm's text that the program cannot use is named with its line, and left as it is.
    let path = data.join("texts/en/report.toml");
    let right = std::fs::read_to_string(&path).unwrap();
    std::fs::write(&path, right.replace("five_uses = \"What", "five_uses = What")).unwrap();
    let (status, out) = said(&[]);
    assert_eq!(status, 1);
    assert!(out.contains("damaged: texts/en/report.toml cannot be used: "), "{out}");
    std::fs::write(&path, right).unwrap();

    // The server's own certificate is made anew by itself, the authority's that phones trust is not.
    let (authority, server) = (data.join("tls/authority.pem"), data.join("tls/server.pem"));
    let pem = std::fs::read_to_string(&server).unwrap();
    std::fs::write(&server, pem.replacen("MI", "MX", 1)).unwrap();
    let (status, out) = said(&[]);
    assert_eq!(status, 0, "{out}");
    assert!(out.contains("mended: tls/server.pem"), "{out}");
    assert!(!data.join("tls/server.json").exists());
    let pem = std::fs::read_to_string(&authority).unwrap();
    std::fs::write(&authority, pem.replacen("MI", "MX", 1)).unwrap();
    let (status, out) = said(&[]);
    assert_eq!(status, 1);
    assert!(out.contains("damaged: tls/authority.pem"), "{out}");
    std::fs::write(&authority, pem).unwrap();

    // A key that is not the one of its public half shows with its passphrase.
    let words = program.write("words", crate::bags::PASSPHRASE);
    assert_eq!(said(&["--passphrase-file", &words]).0, 0);
    let wrong = program.write("wrong", "other words than those");
    let (status, out) = said(&["--passphrase-file", &wrong]);
    assert_eq!(status, 1);
    assert!(out.contains("damaged: signing-key.pem was not opened"), "{out}");
    let public = data.join("signing-key.public.json");
    std::fs::copy(data.join("second.public.json"), &public).unwrap();
    let (status, out) = said(&[]);
    assert_eq!(status, 1);
    assert!(out.contains("damaged: signing-key.public.json is not what was kept"), "{out}");
}

#[cfg(unix)]
#[test]
fn a_secret_that_others_can_read_is_closed() {
    use std::os::unix::fs::PermissionsExt as _;
    let program = Nearside::with_job();
    program.with_key("B. Inspector", None);
    let key = program.data().join("signing-key.pem");
    std::fs::set_permissions(&key, std::fs::Permissions::from_mode(0o644)).unwrap();
    let found = seen(&program);
    assert!(
        names(&found["left"], "signing-key.pem is secret and can be read by others"),
        "{found}"
    );
    assert!(program.run(&["doctor"]).text().contains("mended: signing-key.pem is secret"));
    assert_eq!(std::fs::metadata(&key).unwrap().permissions().mode() & 0o777, 0o600);
}
