//! Two writers at once, in one process and in two.

use std::thread;

use store::{JobId, Store};

use crate::child::{Orders, Word, check_kept, chunk};

#[test]
fn two_handles_in_one_process_append_to_one_log_without_losing_or_reordering() {
    let folder = tempfile::tempdir().unwrap();
    let job = JobId::new("job").unwrap();
    thread::scope(|scope| {
        for writer in [1, 2] {
            let (folder, job) = (folder.path(), &job);
            scope.spawn(move || {
                let store = Store::open(folder).unwrap();
                store.create_job(job, "").unwrap();
                for number in 0..30 {
                    let appended = store.append(job, &[chunk(writer, number, 0)]).unwrap();
                    assert_eq!(appended.new, 1);
                }
            });
        }
    });
    check_both(&Store::open(folder.path()).unwrap(), &job, 30);
}

#[test]
fn two_processes_append_200_changes_each_without_losing_or_reordering() {
    let folder = tempfile::tempdir().unwrap();
    let orders = [1, 2].map(|writer| Orders {
        writer,
        count: 200,
        blob_every: 20,
        longest: 800,
        ..Orders::new(&folder.path().join("data"), "job")
    });
    let writers = orders.each_ref().map(|orders| orders.start(""));
    let said = writers.map(|mut writer| writer.rest());

    let store = Store::open(&orders[0].folder).unwrap();
    for (orders, words) in orders.iter().zip(&said) {
        let seqs: Vec<u64> = words
            .iter()
            .filter_map(|word| match word {
                Word::Change { seq, .. } => Some(*seq),
                _ => None,
            })
            .collect();
        assert_eq!(seqs.len(), 200);
        assert!(seqs.is_sorted_by(|before, after| before < after));
        check_kept(&store, orders, words);
    }
    check_both(&store, &JobId::new("job").unwrap(), 200);
    assert_eq!(store.blobs().unwrap().len(), 10);
    assert_eq!(store.verify(&mut |_| {}).unwrap(), []);
}

/// All changes of both are there, numbered without a gap, each writer's in its own order.
fn check_both(store: &Store, job: &JobId, each: u64) {
    let changes = store.changes(job, 0, usize::MAX).unwrap();
    let seqs: Vec<u64> = changes.iter().map(|change| change.seq).collect();
    assert_eq!(seqs, (1..=2 * each).collect::<Vec<_>>());
    for writer in [1_u64, 2] {
        let own: Vec<[u8; 32]> = changes
            .iter()
            .map(|change| change.hash)
            .filter(|hash| hash[..8] == writer.to_be_bytes())
            .collect();
        let expected: Vec<[u8; 32]> =
            (0..each).map(|number| chunk(writer, number, 1).hash).collect();
        assert!(own == expected, "writer {writer}");
    }
}
