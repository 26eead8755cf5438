//! Phones, a server, the network and all their disks in one deterministic world: one seed is one run.
//!
//! Messages are dropped, doubled, delayed and overtaken; lines are cut; phones lose power, with
//! whatever was on its way to their disks; disks are full, or fail when they are read, for a while; the server dies before and after a commit, and is at times
//! put back from an old copy; clocks are off by years and run at different speeds. Then everything
//! heals, and a checker compares what was promised with what is there.
//!
//! `SYNC_SEED=17` runs one seed, `SYNC_SEEDS=100000` that many; a failure prints its seed.

mod check;
mod dice;
mod disk;
mod phone;
mod server;
mod world;

use std::{
    sync::atomic::{AtomicU64, Ordering},
    thread,
};

use world::{Counts, Fault, World};

fn from_environment(name: &str) -> Option<u64> {
    std::env::var(name).ok()?.parse().ok()
}

/// Runs the seeds on all processors; the first that fails, with what is wrong.
fn first_failure(seeds: u64, fault: Fault) -> (Option<(u64, String)>, Counts) {
    let next = AtomicU64::new(0);
    let failed = AtomicU64::new(u64::MAX);
    let threads = thread::available_parallelism().map_or(2, usize::from);
    let outcomes = thread::scope(|scope| {
        let threads: Vec<_> = (0..threads)
            .map(|_| {
                scope.spawn(|| {
                    let mut counts = Counts::default();
                    let mut failure = None;
                    loop {
                        let seed = next.fetch_add(1, Ordering::Relaxed);
                        if seed >= seeds || seed > failed.load(Ordering::Relaxed) {
                            return (failure, counts);
                        }
                        if let Err(what) = World::new(seed, fault).run(&mut counts) {
                            failed.fetch_min(seed, Ordering::Relaxed);
                            failure = Some((seed, what));
                        }
                    }
                })
            })
            .collect();
        threads.into_iter().map(|thread| thread.join().unwrap()).collect::<Vec<_>>()
    });
    let mut all = Counts::default();
    for (_, counts) in &outcomes {
        all.add(counts);
    }
    let first = outcomes.into_iter().filter_map(|(failure, _)| failure).min();
    (first, all)
}

#[test]
fn nothing_kept_is_lost_nothing_is_invented_and_all_agree_after_healing() {
    if let Some(seed) = from_environment("SYNC_SEED") {
        let mut counts = Counts::default();
        let outcome = World::new(seed, Fault::None).run(&mut counts);
        println!("{counts:?}");
        assert_eq!(outcome, Ok(()), "seed {seed}");
        return;
    }
    let seeds = from_environment("SYNC_SEEDS").unwrap_or(2_000);
    let (failure, counts) = first_failure(seeds, Fault::None);
    println!("{seeds} seeds: {counts:?}");
    if let Some((seed, what)) = failure {
        panic!("seed {seed}: {what}\nrun it again with SYNC_SEED={seed}");
    }
    // That the bad things did happen.
    assert!(counts.edits > seeds * 5 && counts.photos > seeds, "{counts:?}");
    for happened in [
        counts.dropped,
        counts.doubled,
        counts.partitions,
        counts.power_cuts,
        counts.writes_lost,
        counts.disk_refused,
        counts.reads_failed,
        counts.crashes_before_commit,
        counts.crashes_after_commit,
        counts.pieces_cut,
        counts.resumed,
    ] {
        assert!(happened > seeds / 8, "{counts:?}");
    }
    assert!(counts.put_back > seeds / 20, "{counts:?}");
}

/// Each planted fault must be found, and soon.
fn check_found(fault: Fault) {
    let (failure, _) = first_failure(400, fault);
    let (seed, what) = failure.unwrap_or_else(|| panic!("{fault:?} was not found in 400 seeds"));
    println!("{fault:?}: found with seed {seed}: {what}");
}

#[test]
fn an_acknowledgement_before_the_commit_is_found() {
    check_found(Fault::AcknowledgedBeforeCommit);
}

#[test]
fn a_cursor_written_before_its_changes_is_found() {
    check_found(Fault::CursorBeforeChanges);
}

#[test]
fn a_repeat_answered_without_looking_is_found() {
    check_found(Fault::RepeatTakenOnTrust);
}

#[test]
fn a_number_that_is_read_before_a_lower_one_is_found() {
    check_found(Fault::NumbersOvertake);
}

#[test]
fn a_phone_that_says_kept_before_its_disk_does_is_found() {
    check_found(Fault::KeptBeforeWritten);
}

#[test]
fn a_piece_added_twice_to_a_photo_that_is_not_checked_is_found() {
    check_found(Fault::PhotoUnchecked);
}

#[test]
fn a_photo_called_stored_before_it_is_flushed_is_found() {
    check_found(Fault::PhotoStoredBeforeFlush);
}

#[test]
fn the_same_seed_is_the_same_run() {
    let run = || {
        let mut counts = Counts::default();
        World::new(5, Fault::None).run(&mut counts).unwrap();
        counts
    };
    assert_eq!(run(), run());
}
