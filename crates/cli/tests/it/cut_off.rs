//! Backups and restores that are killed midway, or find no room: what is there is the earlier one or the new one, whole.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use store::{Companion, Store};

use crate::program::{Nearside, text};

/// How often each is killed.
const KILLS: u32 = 14;
/// Blobs of the first state; each later one has another.
const BLOBS: u32 = 40;

/// When: at moments from its start to a little after its usual end; then, where the machine has become slower meanwhile,
/// later and later.
fn delays(usual: Duration) -> impl Iterator<Item = Duration> {
    let within = (0..KILLS).map(move |kill| usual * kill / (KILLS - 3));
    within.chain((1..7).map(move |doubled| usual * (1 << doubled)))
}

/// Writes state `number` into everything: the store, a photo of its own, a key's file, sentences, a text.
fn write_state(program: &Nearside, number: u32) {
    let store = Store::open(&program.data()).unwrap();
    store.set_setting("state", &number.to_string()).unwrap();
    let fresh = if number == 0 { 0..BLOBS } else { BLOBS + number - 1..BLOBS + number };
    for blob in fresh {
        let mut bytes = vec![7; 60_000];
        bytes[..4].copy_from_slice(&blob.to_be_bytes());
        store.put_blob(&bytes).unwrap();
    }
    let sentences = format!(r#"{{"sentences": [{{"name": "state", "text": "{number}"}}]}}"#);
    for (name, bytes, secret) in [
        ("sentences.json", sentences, false),
        ("tls/authority-key.pem", format!("key {number}"), true),
    ] {
        let name = name.to_owned();
        store.put_file(&Companion { name, bytes: bytes.into_bytes(), secret }).unwrap();
    }
    // The last state has a text that the one before it had not, and the other way round.
    let texts = program.data().join("texts/en");
    std::fs::create_dir_all(&texts).unwrap();
    for file in std::fs::read_dir(&texts).unwrap() {
        std::fs::remove_file(file.unwrap().path()).unwrap();
    }
    std::fs::write(texts.join(format!("{number}.toml")), number.to_string()).unwrap();
}

/// Which state a data folder holds; stops where it is a mixture of two.
fn state_of(data: &Path) -> u32 {
    let store = Store::open_existing(data).unwrap();
    let number: u32 = store.setting("state").unwrap().unwrap().parse().unwrap();
    let read = |name: &str| std::fs::read_to_string(data.join(name)).unwrap();
    assert!(read("sentences.json").contains(&format!("\"text\": \"{number}\"")));
    assert_eq!(read("tls/authority-key.pem"), format!("key {number}"));
    assert_eq!(read(&format!("texts/en/{number}.toml")), number.to_string());
    assert_eq!(std::fs::read_dir(data.join("texts/en")).unwrap().count(), 1);
    let faults: Vec<_> =
        store.verify(&mut |_| {}).unwrap().into_iter().filter(store::Fault::is_loss).collect();
    assert_eq!(faults, []);
    assert_eq!(store.blobs().unwrap().len(), usize::try_from(BLOBS + number).unwrap());
    number
}

/// Runs to its end, and says how long that took.
fn timed(program: &Nearside, arguments: &[&str]) -> Duration {
    let begun = Instant::now();
    program.run(arguments).text();
    begun.elapsed()
}

/// Runs and is killed after a while, or has ended by then.
fn killed(program: &Nearside, arguments: &[&str], after: Duration) {
    let until = Instant::now() + after;
    let mut child =
        program.command(arguments).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
    while Instant::now() < until {
        std::hint::spin_loop();
    }
    child.kill().unwrap();
    child.wait().unwrap();
}

#[test]
fn a_killed_backup_leaves_the_earlier_one_or_the_new_one_whole() {
    let program = Nearside::new();
    let path = program.path("backup");
    let backup = text(&path);
    write_state(&program, 0);
    timed(&program, &["backup", &backup]);
    write_state(&program, 1);
    let usual = timed(&program, &["backup", &backup]);
    assert_eq!(state_of(&path), 1);
    let mut earlier = 1;
    let (mut stayed, mut came) = (0, 0);
    let mut new = 1;
    for delay in delays(usual) {
        if new > KILLS && came > 0 {
            break;
        }
        new += 1;
        write_state(&program, new);
        killed(&program, &["backup", &backup], delay);
        let restored = program.path(&format!("restored-{new}"));
        program.run(&["--data", &text(&restored), "restore", &backup]).text();
        let found = state_of(&restored);
        assert!(found == earlier || found == new, "{found} after {earlier}, writing {new}");
        assert_eq!(state_of(&path), found, "the backup itself opens as the same");
        if found == new {
            came += 1;
        } else {
            stayed += 1;
        }
        earlier = found;
    }
    assert!(stayed >= 1 && came >= 1, "{stayed} stayed, {came} came");
    program.run(&["backup", &backup]).text();
    assert_eq!(state_of(&path), new);
}

#[test]
fn a_killed_restore_is_no_data_folder_until_it_is_whole() {
    let program = Nearside::new();
    let backup = text(&program.path("backup"));
    write_state(&program, 0);
    program.run(&["backup", &backup]).text();
    let usual = timed(&program, &["--data", &text(&program.path("first")), "restore", &backup]);
    let (mut half, mut whole) = (0, 0);
    for (kill, delay) in (0..).zip(delays(usual)) {
        if kill >= KILLS && whole > 0 {
            break;
        }
        let path = program.path(&format!("new-{kill}"));
        let new = text(&path);
        let restore = ["--data", &new, "restore", &backup];
        killed(&program, &restore, delay);
        if path.join("store.sqlite").exists() || path.join("arrived").exists() {
            whole += 1;
            assert_eq!(state_of(&path), 0);
            continue;
        }
        half += 1;
        if path.join("arriving").exists() {
            let refused = program.run(&["--data", &new, "job", "list"]).refused();
            assert!(refused.contains("cut off before it was whole"), "{refused}");
        }
        program.run(&restore).text();
        assert_eq!(state_of(&path), 0);
    }
    assert!(half >= 1 && whole >= 1, "{half} half, {whole} whole");
    assert_eq!(state_of(&program.path("backup")), 0);
}

/// The room is bounded by the shell's limit on the size of any file, in KiB.
#[cfg(unix)]
#[test]
fn a_backup_without_room_says_so_and_the_earlier_one_stays_whole() {
    let program = Nearside::new();
    let path = program.path("backup");
    let backup = text(&path);
    write_state(&program, 0);
    program.run(&["backup", &backup]).text();
    write_state(&program, 1);
    let store = Store::open(&program.data()).unwrap();
    store.put_blob(&vec![7; 3_000_000]).unwrap();
    drop(store);
    // Too little for the database; for the large photo.
    for room in [20, 2_000] {
        let mut limited = Command::new("bash");
        limited
            .arg("-c")
            .arg(format!("trap '' XFSZ; ulimit -f {room}; exec \"$@\""))
            .arg("bash")
            .arg(env!("CARGO_BIN_EXE_nearside"))
            .args(["backup", &backup])
            .env("NEARSIDE_DATA", program.data());
        let run = crate::program::Run::of(&limited.output().unwrap());
        assert_eq!(run.status, 1, "{room} KiB: {run:?}");
        assert!(run.err.starts_with("error: "), "{run:?}");
        assert_eq!(state_of(&path), 0, "{room} KiB");
        assert!(!path.join("arriving").exists(), "{room} KiB: the room was not given back");
    }
    program.run(&["backup", &backup, "--json"]).json();
    assert_eq!(Store::open(&path).unwrap().setting("state").unwrap().as_deref(), Some("1"));
}
