//! A hundred phones at once: no change is lost, and nobody waits long.

use std::time::{Duration, Instant};

use store::{JobId, Store};
use sync::wire::{Push, Pushed};

use crate::{
    child::{Process, let_in},
    line::Line,
    records,
};

const PHONES: u8 = 100;
/// So many phones work on one job.
const TOGETHER: u8 = 4;
const CHANGES: usize = 4;

#[test]
fn a_hundred_phones_at_once_lose_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let server = Process::start(folder.path(), "127.0.0.1:0".parse().unwrap());
    let at = server.at;
    let mut work = Vec::new();
    for group in 0..PHONES / TOGETHER {
        let job = format!("job-{group}");
        let beginner = records::author(group * TOGETHER);
        let beginning = records::new_record(&beginner, &job);
        let first: Vec<u8> = beginning.changes_after(&[]).remove(0).bytes;
        for member in 0..TOGETHER {
            let author = records::author(group * TOGETHER + member);
            let mut record = record::Record::load([first.as_slice()]).unwrap();
            let mut changes = vec![first.clone()];
            changes.extend((0..CHANGES).map(|_| records::one_more(&mut record, &author).bytes));
            let key = let_in(folder.path(), (group * TOGETHER + member).into());
            work.push((job.clone(), key, changes));
        }
    }
    let slowest = std::thread::scope(|scope| {
        let phones: Vec<_> = work
            .into_iter()
            .map(|(job, key, changes)| {
                scope.spawn(move || {
                    let mut line = Line::new(at, Some(key));
                    let mut slowest = Duration::ZERO;
                    for change in changes {
                        let body = Push { changes: vec![change] }.to_json();
                        let path = format!("/v1/jobs/{job}/changes");
                        let start = Instant::now();
                        let answer = line
                            .ask("POST", &path, &[("content-type", "application/json")], &body)
                            .unwrap();
                        slowest = slowest.max(start.elapsed());
                        assert_eq!(answer.status, 200, "{}", String::from_utf8_lossy(&answer.body));
                        assert_eq!(Pushed::from_json(&answer.body).unwrap().kept.len(), 1);
                    }
                    slowest
                })
            })
            .collect();
        phones.into_iter().map(|phone| phone.join().unwrap()).max().unwrap()
    });
    drop(server);
    let store = Store::open(folder.path()).unwrap();
    for group in 0..PHONES / TOGETHER {
        let job = JobId::new(&format!("job-{group}")).unwrap();
        let changes = store.changes(&job, 0, usize::MAX).unwrap();
        assert_eq!(changes.len(), 1 + usize::from(TOGETHER) * CHANGES, "{job}");
        let record =
            record::Record::load(changes.iter().map(|change| change.bytes.as_slice())).unwrap();
        assert_eq!(record.inspection().0.readings.len(), usize::from(TOGETHER) * CHANGES);
    }
    println!("slowest round trip of {PHONES} phones: {slowest:?}");
}
