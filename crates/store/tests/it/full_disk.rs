//! No room: the writer is told, and nothing acknowledged is lost.
//!
//! The room is bounded by the shell's limit on the size of any file (`ulimit -f`, in KiB), which
//! needs no privileges. A write beyond it fails as on a full disk, if the signal that goes with it
//! is ignored; otherwise the signal ends the writer in the middle of its write.

use store::{JobId, Store};

use crate::{
    blobs::incoming,
    child::{Orders, Word, check_kept},
};

const NO_ROOM: &str = "ulimit -f 1000";

fn orders(folder: &std::path::Path) -> Orders {
    Orders { count: 10_000, blob_every: 7, longest: 6_000, ..Orders::new(folder, "job") }
}

fn goes_on(orders: &Orders, words: &[Word]) {
    let store = Store::open(&orders.folder).unwrap();
    check_kept(&store, orders, words);
    assert_eq!(incoming(&store), 0);
    let losses = store.verify(&mut |_| {}).unwrap().into_iter().find(store::Fault::is_loss);
    assert_eq!(losses, None);
    let job = JobId::new("job").unwrap();
    let head = store.jobs().unwrap()[0].head_seq;
    let appended = store.append(&job, &[orders.chunk(1_000_000)]).unwrap();
    assert_eq!(appended.head_seq, head + 1);
    store.put_blob(&vec![7; 2_000_000]).unwrap();
    drop(store);
    check_kept(&Store::open(&orders.folder).unwrap(), orders, words);
}

#[test]
fn a_writer_without_room_is_told_so_and_all_it_acknowledged_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    let orders = orders(folder.path());
    let mut writer = orders.start(&format!("trap '' XFSZ; {NO_ROOM}"));
    let words = writer.rest();
    let changes = words.iter().filter(|word| matches!(word, Word::Change { .. })).count();
    assert!(changes > 20, "{changes}");
    // SQLite has one code for a disk without room and another for any other failed write, as this.
    let [
        ..,
        Word::Failed { sentence },
        Word::Readable { changes: readable },
        Word::Failed { sentence: of_blob },
    ] = &words[..]
    else {
        panic!("{:?}", words.last());
    };
    assert_eq!(sentence, "appending to job \"job\" did not work");
    assert_eq!(*readable, changes, "all of them can still be read from the same handle");
    assert!(of_blob.starts_with("the disk is full while writing blob "), "{of_blob}");
    goes_on(&orders, &words);
}

#[test]
fn a_writer_ended_in_the_middle_of_a_write_has_lost_nothing_it_acknowledged() {
    let folder = tempfile::tempdir().unwrap();
    let orders = orders(folder.path());
    let mut writer = orders.start(NO_ROOM);
    let words = writer.rest();
    assert!(!writer.child.wait().unwrap().success());
    assert!(words.len() > 20, "{}", words.len());
    assert!(words.iter().all(|word| !matches!(word, Word::Failed { .. })), "{:?}", words.last());
    goes_on(&orders, &words);
}
