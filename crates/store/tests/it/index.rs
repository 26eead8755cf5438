//! The index beside the jobs: words found, parts that count, and nothing that its loss would cost.

use std::io::Read;

use store::index::{COLUMNS, Entry, Index, NewPart, Term};
use store::{BackupOrder, JobId, LogHead, Store, StoreError};

const EVEN: [f64; COLUMNS] = [1.0; COLUMNS];

fn id(job: &str) -> JobId {
    JobId::new(job).unwrap()
}

fn entry(job: &str, words: &str) -> Entry {
    Entry {
        head: LogHead { job: id(job), seq: 1, hash: [1; 32] },
        row: format!("row of {job}"),
        texts: format!("texts of {job}"),
        words: std::array::from_fn(
            |column| if column == 2 { words.to_owned() } else { String::new() },
        ),
    }
}

fn part(bytes: &[u8]) -> NewPart {
    NewPart { files: vec![("table", bytes.to_vec())] }
}

fn beginning(word: &str) -> Term {
    Term::Beginning(word.into())
}

fn found(index: &Index, terms: &[Term]) -> Vec<String> {
    let found = index.find(terms, EVEN).unwrap();
    let jobs = found.iter().map(|one| index.indexed(one.number).unwrap().unwrap().job.to_string());
    let mut jobs: Vec<String> = jobs.collect();
    jobs.sort();
    jobs
}

#[test]
fn words_are_found_by_their_beginning_and_phrases_as_they_stand() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let index = Index::open(&store, "1").unwrap();
    let entries = [entry("a", "lock up pressure"), entry("b", "pressed up lock 漢字")];
    index.replace(&entries, &[], &[("key".into(), "value".into())], &part(b"x")).unwrap();
    let phrase = |words: &[&str]| Term::Phrase(words.iter().map(|it| (*it).to_owned()).collect());
    assert_eq!(found(&index, &[beginning("press")]), ["a", "b"]);
    assert_eq!(found(&index, &[beginning("pressu")]), ["a"]);
    assert_eq!(found(&index, &[phrase(&["lock", "up"])]), ["a"]);
    assert_eq!(found(&index, &[phrase(&["up"]), beginning("lock")]), ["a", "b"]);
    assert_eq!(found(&index, &[beginning("漢")]), ["b"]);
    assert_eq!(found(&index, &[]), Vec::<String>::new());
    assert_eq!(index.setting("key").unwrap().as_deref(), Some("value"));
    let indexed = index.indexed(index.number_of(&id("b")).unwrap().unwrap()).unwrap().unwrap();
    assert_eq!((indexed.row.as_str(), indexed.texts.as_str()), ("row of b", "texts of b"));
}

#[test]
fn no_word_is_an_instruction() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let index = Index::open(&store, "1").unwrap();
    index.replace(&[entry("a", "near and or not c2")], &[], &[], &part(b"x")).unwrap();
    for word in [
        "\"",
        "a\" OR \"near",
        "near(",
        "c2:near",
        "*",
        "^near",
        "-near",
        "near + or",
        "{c2}",
        "\0",
        "AND",
    ] {
        for term in [beginning(word), Term::Phrase(vec![word.into(), "x".into()])] {
            index.find(&[term], EVEN).unwrap();
        }
    }
    assert_eq!(
        found(&index, &[beginning("c2:near")]),
        Vec::<String>::new(),
        "`c2near` is one word"
    );
    assert_eq!(found(&index, &[beginning("NEAR")]), ["a"]);
}

#[test]
fn a_job_is_replaced_whole_and_its_rows_count_in_the_last_part_alone() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let index = Index::open(&store, "1").unwrap();
    index.replace(&[entry("a", "old"), entry("b", "old")], &[], &[], &part(b"first")).unwrap();
    index.replace(&[entry("a", "new")], &[id("b"), id("never")], &[], &part(b"second")).unwrap();
    assert_eq!(found(&index, &[beginning("old")]), Vec::<String>::new());
    assert_eq!(found(&index, &[beginning("new")]), ["a"]);
    assert_eq!(index.heads().unwrap().len(), 1);
    let parts = index.parts().unwrap();
    let [first, second] = parts.as_slice() else { panic!("{parts:?}") };
    assert_eq!((first.jobs, first.gone.len(), second.jobs, second.gone.len()), (2, 2, 1, 0));

    index.merge_parts(&[first.number, second.number], &part(b"both")).unwrap();
    let parts = index.parts().unwrap();
    let [merged] = parts.as_slice() else { panic!("{parts:?}") };
    assert_eq!((merged.jobs, merged.gone.len()), (1, 0));
    let mut text = String::new();
    index.part_file(merged.number, "table").unwrap().read_to_string(&mut text).unwrap();
    assert_eq!(text, "both");
    let files = std::fs::read_dir(store.folder().join("archive/tables")).unwrap().count();
    assert_eq!(files, 1, "what was merged is gone");
    // A later replacement is held against the merged part.
    index.replace(&[entry("a", "newer")], &[], &[], &part(b"third")).unwrap();
    assert_eq!(index.parts().unwrap()[0].gone.iter().collect::<Vec<_>>(), [&id("a")]);
}

/// One bit turned over, a byte too few or too many, or another part's bytes: none is handed out.
#[test]
fn a_part_that_is_not_what_was_written_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let index = Index::open(&store, "1").unwrap();
    index.replace(&[entry("a", "word")], &[], &[], &part(b"what was written")).unwrap();
    let number = index.parts().unwrap()[0].number;
    let tables = store.folder().join("archive/tables");
    let path = std::fs::read_dir(&tables).unwrap().next().unwrap().unwrap().path();
    for bytes in [&b"what was vritten"[..], b"what was writte", b"what was written\0", b""] {
        std::fs::write(&path, bytes).unwrap();
        let refused = index.part_file(number, "table");
        assert!(matches!(refused, Err(StoreError::Damaged { .. })), "{bytes:?}: {refused:?}");
    }
    std::fs::write(&path, b"what was written").unwrap();
    assert!(index.part_file(number, "table").is_ok());
    assert!(matches!(index.part_file(number + 1, "table"), Err(StoreError::Io { .. })));
}

#[test]
fn another_stamp_begins_with_an_empty_index_and_the_same_goes_on() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let index = Index::open(&store, "1").unwrap();
    index.replace(&[entry("a", "word")], &[], &[], &part(b"x")).unwrap();
    assert_eq!(Index::open(&store, "1").unwrap().heads().unwrap().len(), 1);
    drop(index);
    let index = Index::open(&store, "2").unwrap();
    assert!(index.heads().unwrap().is_empty() && index.parts().unwrap().is_empty());
    let files = std::fs::read_dir(store.folder().join("archive/tables")).unwrap().count();
    assert_eq!(files, 0);
}

#[test]
fn a_log_head_tells_that_something_was_added() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    store.create_job(&id("a"), "").unwrap();
    assert_eq!(store.log_heads().unwrap(), [LogHead { job: id("a"), seq: 0, hash: [0; 32] }]);
    let chunk = store::Chunk { hash: [7; 32], bytes: vec![1] };
    store.append(&id("a"), &[chunk]).unwrap();
    assert_eq!(store.log_heads().unwrap(), [LogHead { job: id("a"), seq: 1, hash: [7; 32] }]);
}

/// The folder is no part of the store: a backup leaves it, and the store opens without it.
#[test]
fn the_store_does_without_its_index() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("data");
    let store = Store::open(&data).unwrap();
    store.create_job(&id("a"), "").unwrap();
    drop(Index::open(&store, "1").unwrap());
    let copy = folder.path().join("copy");
    store.back_up(&copy, &BackupOrder::default(), &mut |_| {}).unwrap();
    assert!(!copy.join("archive").exists());
    drop(store);
    std::fs::remove_dir_all(data.join("archive")).unwrap();
    assert_eq!(Store::open(&data).unwrap().jobs().unwrap().len(), 1);
}
