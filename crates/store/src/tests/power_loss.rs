//! The store's own schema, settings and appends on a disk that loses power at every kind of moment:
//! nothing acknowledged is lost, and nothing is corrupt. With less flushing, the same test must fail.
//!
//! `STORE_CRASH_POINTS=100000` runs that many; without it 20,000, which is a minute of processor time.

use std::{
    path::Path,
    sync::atomic::{AtomicU64, Ordering},
    thread,
};

use rusqlite::{Connection, OpenFlags, Transaction, TransactionBehavior};

use super::forgetful_disk::ForgetfulDisk;
use crate::{
    AppendedAfter, Chunk, JobId, Place, StoreError, change::changes_in, error::During,
    handle::set_up, job::head_seq, log::append_after, schema,
};

/// Commits in one run; each appends to one or several jobs, as the writer does for a group.
const COMMITS: u64 = 14;
const JOBS: u64 = 3;
const WHOLE: &str = "full";

/// Numbers that look random: SplitMix64 (Steele, Lea and Flood, OOPSLA 2014, figure 17).
struct Dice(u64);

impl Dice {
    fn below(&mut self, bound: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ mixed >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ mixed >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
        (mixed ^ mixed >> 31) % bound
    }
}

#[derive(Debug, Default, Clone, Copy, PartialEq, Eq)]
struct Outcome {
    sound: u64,
    /// Sound, but acknowledged changes are gone.
    lost: u64,
    /// Not readable, contradicting itself, or holding what was never written.
    corrupt: u64,
}

/// The changes that commit number `commit` appends, by job.
fn work_of(commit: u64) -> Vec<(JobId, Vec<Chunk>)> {
    (0..JOBS)
        .filter(|job| (commit + job).is_multiple_of(2) || commit.is_multiple_of(5))
        .map(|job| {
            let count = 1 + (commit + job) % 3;
            let chunks = (0..count).map(|number| {
                let seed = commit << 16 | job << 8 | number;
                let mut hash = [7; 32];
                hash[..8].copy_from_slice(&seed.to_be_bytes());
                let length = 20 + usize::try_from(Dice(seed).below(3_000)).unwrap();
                Chunk { hash, bytes: vec![hash[7] ^ hash[6]; length] }
            });
            (JobId::new(&format!("job-{job}")).unwrap(), chunks.collect())
        })
        .collect()
}

fn connect(disk: &ForgetfulDisk, synchronous: &str) -> Result<Connection, StoreError> {
    let doing = "opening the forgetful disk";
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE
        | OpenFlags::SQLITE_OPEN_CREATE
        | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection =
        Connection::open_with_flags_and_vfs("store.sqlite", flags, disk.name.as_c_str())
            .during(doing)?;
    set_up(&connection, doing)?;
    if synchronous != WHOLE {
        connection.pragma_update(None, "synchronous", synchronous).during(doing)?;
    }
    // Small, so that checkpoints and spills to the disk happen within few commits.
    connection.pragma_update(None, "wal_autocheckpoint", 12).during(doing)?;
    connection.pragma_update(None, "cache_size", 20).during(doing)?;
    Ok(connection)
}

/// Writes until the power goes; how many commits were acknowledged.
fn write_until_dark(disk: &ForgetfulDisk, synchronous: &str) -> u64 {
    let mut acknowledged = 0;
    let mut write = || -> Result<(), StoreError> {
        let mut connection = connect(disk, synchronous)?;
        schema::prepare(&connection, schema::STEPS, Path::new("here"))?;
        let mut places = vec![Place { seq: 0, hash: [0; 32] }; usize::try_from(JOBS).unwrap()];
        for commit in 1..=COMMITS {
            // Now and then the program ends and starts again, which checkpoints.
            if commit.is_multiple_of(6) {
                drop(connection);
                connection = connect(disk, synchronous)?;
            }
            let transaction =
                Transaction::new_unchecked(&connection, TransactionBehavior::Immediate)
                    .during("writing")?;
            for (job, chunks) in work_of(commit) {
                let number = usize::from(job.as_str().as_bytes()[4] - b'0');
                let outcome = append_after(&transaction, &job, places[number], &chunks)?;
                let AppendedAfter::Kept { head_seq } = outcome else { panic!("the head moved") };
                places[number] = Place { seq: head_seq, hash: chunks[chunks.len() - 1].hash };
            }
            transaction.commit().during("writing")?;
            acknowledged = commit;
        }
        Ok(())
    };
    // The power has gone, or the work is done.
    let _dark = write();
    acknowledged
}

/// Whether the disk holds whole commits only, in order, and how many; `None` if it is corrupt.
fn commits_on(disk: &ForgetfulDisk) -> Option<u64> {
    let read = || -> Result<Option<u64>, StoreError> {
        let connection = connect(disk, WHOLE)?;
        let sound: String = connection
            .query_row("pragma integrity_check", [], |row| row.get(0))
            .during("checking")?;
        if sound != "ok" {
            return Ok(None);
        }
        schema::prepare(&connection, schema::STEPS, Path::new("here"))?;
        let transaction = Transaction::new_unchecked(&connection, TransactionBehavior::Deferred)
            .during("reading")?;
        let mut there = Vec::new();
        for job in 0..JOBS {
            let job = JobId::new(&format!("job-{job}")).unwrap();
            let head = match head_seq(&transaction, &job) {
                Err(StoreError::NoSuchJob { .. }) => 0,
                other => other?,
            };
            if head > 0 {
                // Checks every seal on the way.
                let changes = changes_in(&transaction, &job, head, 0, usize::MAX, usize::MAX)?;
                there.extend(changes.into_iter().map(|change| (job.clone(), change)));
            }
        }
        // The state after some number of whole commits, and nothing else.
        let mut expected = 0;
        for commit in 0..=COMMITS {
            if commit > 0 {
                expected += work_of(commit).iter().map(|(_, chunks)| chunks.len()).sum::<usize>();
            }
            if expected == there.len() {
                let mut given: Vec<_> = (1..=commit)
                    .flat_map(work_of)
                    .flat_map(|(job, chunks)| chunks.into_iter().map(move |c| (job.clone(), c)))
                    .collect();
                given.sort_by(|one, other| one.0.cmp(&other.0));
                let same = given.iter().zip(&there).all(|((job, chunk), (kept_in, kept))| {
                    job == kept_in && chunk.hash == kept.hash && chunk.bytes == kept.bytes
                });
                return Ok(same.then_some(commit));
            }
        }
        Ok(None)
    };
    read().ok().flatten()
}

/// Cuts the power at `points` moments spread over the whole of a run.
fn cut(points: u64, synchronous: &'static str) -> Outcome {
    static NAMES: AtomicU64 = AtomicU64::new(0);
    let next = AtomicU64::new(0);
    let threads = thread::available_parallelism().map_or(2, usize::from);
    let outcomes: Vec<Outcome> = thread::scope(|scope| {
        let threads: Vec<_> = (0..threads)
            .map(|_| {
                scope.spawn(|| {
                    let name = format!("forgetful-{}", NAMES.fetch_add(1, Ordering::Relaxed));
                    let disk = ForgetfulDisk::new(&name);
                    disk.begin(0);
                    assert_eq!(write_until_dark(&disk, synchronous), COMMITS);
                    assert_eq!(commits_on(&disk), Some(COMMITS));
                    let operations = disk.operations();
                    let mut outcome = Outcome::default();
                    loop {
                        let point = next.fetch_add(1, Ordering::Relaxed);
                        if point >= points {
                            return outcome;
                        }
                        let mut dice = Dice(point.wrapping_mul(7_919) + 13);
                        disk.begin(1 + dice.below(operations + 3));
                        let acknowledged = write_until_dark(&disk, synchronous);
                        disk.power_on(&mut |bound| dice.below(bound));
                        match commits_on(&disk) {
                            None => outcome.corrupt += 1,
                            Some(there) if there < acknowledged => outcome.lost += 1,
                            Some(there) if there > acknowledged + 1 => outcome.corrupt += 1,
                            Some(_) => outcome.sound += 1,
                        }
                    }
                })
            })
            .collect();
        threads.into_iter().map(|thread| thread.join().unwrap()).collect()
    });
    let mut all = Outcome::default();
    for outcome in outcomes {
        all.sound += outcome.sound;
        all.lost += outcome.lost;
        all.corrupt += outcome.corrupt;
    }
    all
}

#[test]
#[allow(clippy::print_stdout, reason = "how many were run is worth reading")]
fn no_power_cut_loses_what_was_acknowledged_or_leaves_a_corrupt_store() {
    let points = std::env::var("STORE_CRASH_POINTS")
        .ok()
        .and_then(|text| text.parse().ok())
        .unwrap_or(20_000);
    let begun = std::time::Instant::now();
    let outcome = cut(points, WHOLE);
    println!("{points} power cuts in {:.0?}: {outcome:?}", begun.elapsed());
    assert_eq!(outcome, Outcome { sound: points, lost: 0, corrupt: 0 });
}

/// The same disk and the same work with fewer flushes: the test above would notice.
#[test]
fn with_fewer_flushes_power_cuts_lose_commits_and_corrupt() {
    let normal = cut(600, "normal");
    assert!(normal.lost > 20 && normal.corrupt == 0, "{normal:?}");
    let off = cut(600, "off");
    assert!(off.corrupt > 20, "{off:?}");
}
