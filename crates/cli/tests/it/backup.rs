//! Backup, restore and doctor from the command line.

use crate::program::Nearside;

#[test]
fn a_backup_is_put_back_whole_and_mends_what_was_damaged() {
    let program = Nearside::with_job();
    let shot = demo::photos::draw(&demo::shots()[0].1).unwrap();
    let file = program.write("one.jpg", &shot);
    program.run(&["photo", "2026-001", &file]).text();
    let tls = program.data().join("tls");
    std::fs::create_dir_all(&tls).unwrap();
    std::fs::write(tls.join("authority.key"), "a key").unwrap();

    let backup = program.path("backup").to_str().unwrap().to_owned();
    let done = program.run(&["backup", &backup, "--json"]).json();
    assert_eq!(done["jobs"], 1);
    assert_eq!(done["files"], done["copied"]);
    assert!(done["files"].as_u64().unwrap() >= 3, "original, copy, thumbnail: {done}");
    assert_eq!(program.run(&["backup", &backup, "--json"]).json()["copied"], 0);
    assert!(program.run(&["doctor"]).text().contains("as it was kept"));

    let blobs = program.data().join("blobs");
    let folder = std::fs::read_dir(&blobs).unwrap().next().unwrap().unwrap().path();
    let photo = std::fs::read_dir(folder).unwrap().next().unwrap().unwrap().path();
    std::fs::write(&photo, "rotten").unwrap();
    let seen = program.run(&["doctor", "--look-only"]);
    assert_eq!(seen.status, 1);
    assert!(seen.out.contains("is not what was kept"), "{seen:?}");
    let mended = program.run(&["doctor", "--from", &backup, "--json"]).json();
    assert_eq!((mended["mended"].as_array().unwrap().len(), &mended["damaged"]), (1, &0.into()));

    let moved = program.path("moved").to_str().unwrap().to_owned();
    let run = |arguments: &[&str]| program.run(&[&["--data", &moved], arguments].concat());
    assert_eq!(run(&["restore", &backup, "--json"]).json()["changes"], done["changes"]);
    assert_eq!(std::fs::read(program.path("moved/tls/authority.key")).unwrap(), b"a key");
    assert_eq!(
        run(&["assess", "2026-001", "--json"]).text(),
        program.run(&["assess", "2026-001", "--json"]).text()
    );
    let again = run(&["restore", &backup]).refused();
    assert!(again.contains("is not empty"), "{again}");
    let nowhere = program.run(&["doctor", "--from", "nowhere"]).refused();
    assert!(nowhere.contains("nowhere is no data folder"), "{nowhere}");
}
