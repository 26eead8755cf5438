//! The log as a server uses it: appends that say where it ends, pages, and a writer for many.

use std::{sync::mpsc, time::Instant};

use sha2::{Digest, Sha256};
use store::{AppendedAfter, Chunk, JobId, LogPage, Place, Store, StoreError, Writer};

use crate::child::chunk;

const START: Place = Place { seq: 0, hash: [0; 32] };

fn job(text: &str) -> JobId {
    JobId::new(text).unwrap()
}

#[test]
fn an_append_happens_only_where_the_log_ends_as_expected() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let job = job("new");
    let chunks: Vec<Chunk> = (0..3).map(|number| chunk(1, number, 0)).collect();
    let kept = |head_seq| AppendedAfter::Kept { head_seq };
    assert_eq!(store.append_after(&job, START, &chunks[..2]).unwrap(), kept(2));
    let at_2 = Place { seq: 2, hash: chunks[1].hash };
    for elsewhere in
        [START, Place { seq: 1, hash: chunks[0].hash }, Place { hash: [9; 32], ..at_2 }]
    {
        assert_eq!(
            store.append_after(&job, elsewhere, &chunks[2..]).unwrap(),
            AppendedAfter::HeadMoved
        );
    }
    assert_eq!(store.append_after(&job, at_2, &chunks[2..]).unwrap(), kept(3));
    assert_eq!(store.job_head(&job).unwrap(), Some(3));
    assert_eq!(store.verify(&mut |_| {}).unwrap(), []);
}

#[test]
fn a_job_that_is_not_there_begins_only_at_the_start() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let late = Place { seq: 1, hash: [1; 32] };
    let error = store.append_after(&job("none"), late, &[chunk(1, 1, 0)]).unwrap_err();
    assert!(matches!(error, StoreError::NoSuchJob { .. }), "{error:?}");
    assert_eq!(store.job_head(&job("none")).unwrap(), None);
}

#[test]
fn pages_follow_each_other_and_another_log_shows_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let job = job("pages");
    let chunks: Vec<Chunk> = (0..10).map(|number| chunk(1, number, 1_000)).collect();
    store.append_after(&job, START, &chunks).unwrap();
    let (mut seq, mut chain) = (0, [0; 32]);
    let mut read = Vec::new();
    let mut pages = 0;
    while let LogPage::Page { head_seq: 10, changes } =
        store.page(&job, seq, chain, 4, 2_500).unwrap()
    {
        let Some(last) = changes.last() else { break };
        assert!(changes.len() <= 2, "a page of 2,500 bytes");
        seq = last.seq;
        for change in &changes {
            chain = then(chain, change.hash);
        }
        read.extend(changes.into_iter().map(|change| change.hash));
        pages += 1;
    }
    assert_eq!(pages, 5);
    assert_eq!(read, chunks.iter().map(|chunk| chunk.hash).collect::<Vec<_>>());
    assert!(
        matches!(store.page(&job, 0, [0; 32], 4, 1).unwrap(), LogPage::Page { changes, .. } if changes.len() == 1),
        "one change is given whatever its size"
    );
    for elsewhere in [11, 9, 3, 0, u64::MAX] {
        let page = store.page(&job, elsewhere, chain, 4, 1_000).unwrap();
        assert_eq!(page, LogPage::OtherLog { head_seq: 10 }, "{elsewhere:?}");
    }
    let other_order = then(then([0; 32], chunks[1].hash), chunks[0].hash);
    let page = store.page(&job, 2, other_order, 4, 1_000).unwrap();
    assert_eq!(page, LogPage::OtherLog { head_seq: 10 });
}

fn then(chain: [u8; 32], hash: [u8; 32]) -> [u8; 32] {
    Sha256::new().chain_update(chain).chain_update(hash).finalize().into()
}

#[test]
fn a_writer_keeps_the_order_it_was_given_and_one_failure_hurts_nobody_else() {
    let folder = tempfile::tempdir().unwrap();
    let writer = Writer::start(folder.path()).unwrap();
    let (told, answers) = mpsc::channel();
    let append = |job: &JobId, after: Place, chunks: Vec<Chunk>, name: &'static str| {
        let told = told.clone();
        let say = Box::new(move |outcome| told.send((name, outcome)).unwrap());
        writer.append_after(job.clone(), after, chunks, say);
    };
    let (one, two) = (job("one"), job("two"));
    let [a, b, c] = [1, 2, 3].map(|number| chunk(1, number, 0));
    let at_a = Place { seq: 1, hash: a.hash };
    append(&one, START, vec![a], "a");
    append(&one, at_a, vec![b], "b");
    append(&one, at_a, vec![c.clone()], "c, where b is");
    // The same change twice breaks the log's own rule half way through the append.
    append(&two, START, vec![c.clone(), c.clone()], "broken");
    append(&two, START, vec![c], "c");
    drop(writer);
    let answers: Vec<_> = answers.try_iter().collect();
    let names: Vec<_> = answers.iter().map(|(name, _)| *name).collect();
    assert_eq!(names, ["a", "b", "c, where b is", "broken", "c"]);
    let heads: Vec<_> = answers.into_iter().map(|(_, outcome)| outcome.ok()).collect();
    let kept = |head_seq| Some(AppendedAfter::Kept { head_seq });
    assert_eq!(heads, [kept(1), kept(2), Some(AppendedAfter::HeadMoved), None, kept(1)]);
    let store = Store::open(folder.path()).unwrap();
    assert_eq!(store.changes(&one, 0, 9).unwrap().len(), 2);
    assert_eq!(store.changes(&two, 0, 9).unwrap().len(), 1);
    assert_eq!(store.verify(&mut |_| {}).unwrap(), []);
}

/// How many durable changes a second; printed, since it is the machine's drive that is measured.
#[test]
fn sixty_four_devices_appending_at_once_lose_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let writer = Writer::start(folder.path()).unwrap();
    let rounds: u64 =
        std::env::var("STORE_WRITER_ROUNDS").ok().and_then(|text| text.parse().ok()).unwrap_or(5);
    let begun = Instant::now();
    std::thread::scope(|scope| {
        for device in 0..64_u64 {
            let writer = &writer;
            scope.spawn(move || {
                let job = job(&format!("job-{device}"));
                let mut after = START;
                for round in 0..rounds {
                    let chunks: Vec<Chunk> =
                        (0..4).map(|n| chunk(device, round * 4 + n, 150)).collect();
                    let last = chunks[3].hash;
                    let (told, answer) = mpsc::channel();
                    let say = Box::new(move |outcome| told.send(outcome).unwrap());
                    writer.append_after(job.clone(), after, chunks, say);
                    let outcome = answer.recv().unwrap().unwrap();
                    after = Place { seq: after.seq + 4, hash: last };
                    assert_eq!(outcome, AppendedAfter::Kept { head_seq: after.seq });
                }
            });
        }
    });
    let changes = u32::try_from(64 * 4 * rounds).unwrap();
    println!("{:.0} durable changes/s", f64::from(changes) / begun.elapsed().as_secs_f64());
    drop(writer);
    let store = Store::open(folder.path()).unwrap();
    assert!(store.jobs().unwrap().iter().all(|job| job.head_seq == 4 * rounds));
    assert_eq!(store.verify(&mut |_| {}).unwrap(), []);
}
