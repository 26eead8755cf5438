//! What a power cut can leave of the database, made from copies of a store that is being written.
//!
//! A writer in another process appends, one change a commit. It is stopped at many moments; while
//! it stands still, its database and write-ahead file are copied: that is exactly what a kill at
//! that moment leaves. From each copy more states are made that a power cut could leave, since
//! only what was flushed is sure to be on the disk:
//!
//! - the write-ahead file cut off at every 512-byte sector of its last frames and between all
//!   frames before them, once short and once followed by zeros;
//! - any one sector of the last commits lost;
//! - a checkpoint torn: any mixture, sector by sector, of the database's old pages and the ones
//!   that the write-ahead file holds for them.
//!
//! Each state must open, be sound throughout, and hold exactly the changes whose commits are whole
//! in the write-ahead file by a reader of our own (`write_ahead`): a commit is there or not, none
//! is missing before another, and all that was acknowledged is there as long as what the
//! acknowledgement flushed is.
//!
//! What this does not show: that the flushes are asked for in the right order, and files that were
//! made, renamed or removed but whose folder was not flushed. The unit test `power_loss` shows both
//! for the database, on a disk that forgets by itself. That a drive really flushes, nothing here shows.

use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
    thread,
    time::{Duration, Instant},
};

use store::{JobId, Store};
use tempfile::TempDir;

use crate::{
    child::{Dice, Orders, Word, Writer},
    write_ahead::{FRAME_HEADER, Frame, PAGE, committed, committed_after},
};

/// A drive writes a sector whole or not at all.
const SECTOR: usize = 512;

/// The two files of a database, as copied from a writer that stood still.
struct Copied {
    database: Vec<u8>,
    write_ahead: Vec<u8>,
    frames: Vec<Frame>,
    /// How many changes the writer had acknowledged, at least.
    acknowledged: u64,
    /// How many changes are there when nothing is lost.
    head: u64,
}

#[test]
fn whatever_a_power_cut_leaves_is_a_sound_store_with_every_whole_commit() {
    let folder = quick_folder();
    let orders = Orders {
        count: 1_000_000,
        blob_every: 0,
        longest: 5_000,
        width: 4_000,
        ..Orders::new(&folder.path().join("data"), "job")
    };
    let mut dice = Dice(99);
    let mut writer = orders.start("");
    let (mut acknowledged, mut copies) = (0, Vec::new());
    let (mut states, mut checkpoints) = (0, 0);
    // About 160 changes fill the write-ahead file, which then begins anew.
    for stop in [3, 40, 100, 200, 250, 340] {
        while acknowledged < stop {
            let Some(Word::Change { seq, .. }) = writer.next() else { panic!("the writer ended") };
            acknowledged = seq;
        }
        let until = Instant::now() + Duration::from_micros(dice.next() % 3_000);
        while Instant::now() < until {
            std::hint::spin_loop();
        }
        copies.push(copy(&writer, &orders, acknowledged));
    }
    drop(writer);
    for copied in copies {
        assert!(copied.head >= copied.acknowledged, "{} of {}", copied.head, copied.acknowledged);
        states += check_cuts(&orders, &copied, states == 0);
        states += check_lost_sectors(&orders, &copied, &mut dice);
        states += check_torn_checkpoints(&orders, &copied, &mut dice);
        let in_the_file = u64::try_from(commits(&copied.frames)).unwrap();
        checkpoints += u32::from(in_the_file < copied.head);
    }
    assert!(checkpoints >= 2, "the copies are from before and after a checkpoint: {checkpoints}");
    assert!(states > 600, "{states}");
}

/// The file ends at every sector of the last six frames, and between all frames before.
fn check_cuts(orders: &Orders, copied: &Copied, from_the_start: bool) -> usize {
    let frames = &copied.frames;
    let end = frames.last().map_or(0, |frame| frame.end);
    let last = frames.len().saturating_sub(6);
    let begin_of_last = frames.get(last).map_or(0, |frame| frame.begin);
    let mut cuts: Vec<usize> =
        (begin_of_last.div_ceil(SECTOR)..=end / SECTOR).map(|sector| sector * SECTOR).collect();
    let earlier = if from_the_start { 0 } else { last.saturating_sub(8) };
    cuts.extend(frames[earlier..last].iter().map(|frame| frame.begin));
    if from_the_start {
        cuts.extend([0, 16, 32]);
    }
    for cut in &cuts {
        let short = copied.write_ahead[..*cut].to_vec();
        let mut followed_by_zeros = short.clone();
        followed_by_zeros.resize(end.max(*cut), 0);
        check(orders, copied, &copied.database, &short, *cut);
        check(orders, copied, &copied.database, &followed_by_zeros, *cut);
    }
    2 * cuts.len()
}

/// One sector of the last twelve frames still holds what was there before, here zeros.
fn check_lost_sectors(orders: &Orders, copied: &Copied, dice: &mut Dice) -> usize {
    let frames = &copied.frames;
    let Some(end) = frames.last().map(|frame| frame.end) else { return 0 };
    let begin = frames[frames.len().saturating_sub(12)].begin;
    let sectors = begin.div_ceil(SECTOR)..end / SECTOR;
    for _ in 0..16 {
        let at = (sectors.start + dice.up_to(sectors.len())) * SECTOR;
        let mut write_ahead = copied.write_ahead.clone();
        write_ahead[at..at + SECTOR].fill(0);
        check(orders, copied, &copied.database, &write_ahead, at);
    }
    16
}

/// The database's pages are being overwritten from the write-ahead file.
fn check_torn_checkpoints(orders: &Orders, copied: &Copied, dice: &mut Dice) -> usize {
    let frames = &copied.frames;
    for share in [1, 3, 6] {
        let mut database = copied.database.clone();
        for frame in frames {
            let to = (frame.page - 1) * PAGE;
            if database.len() < to + PAGE {
                database.resize(to + PAGE, 0);
            }
            for sector in (0..PAGE).step_by(SECTOR) {
                if dice.up_to(7) < share {
                    let from = frame.begin + FRAME_HEADER + sector;
                    database[to + sector..to + sector + SECTOR]
                        .copy_from_slice(&copied.write_ahead[from..from + SECTOR]);
                }
            }
        }
        check(orders, copied, &database, &copied.write_ahead, usize::MAX);
    }
    3
}

/// Opens one state, whose write-ahead file differs from the copy's from `changed` on, and compares
/// it with what the write-ahead file holds.
fn check(orders: &Orders, copied: &Copied, database: &[u8], write_ahead: &[u8], changed: usize) {
    let unchanged = copied.frames.partition_point(|frame| frame.end <= changed);
    let frames = committed_after(write_ahead, &copied.frames[..unchanged]);
    let lost = commits(&copied.frames) - commits(&frames);
    let expected = copied.head.checked_sub(u64::try_from(lost).unwrap());
    if lost == 0 {
        assert!(expected >= Some(copied.acknowledged));
    }
    let (_folder, store) = open(database, write_ahead);
    let job = JobId::new(&orders.job).unwrap();
    let Some(expected) = expected else {
        // Even the job's own commit was cut off.
        assert!(!store.job_exists(&job).unwrap());
        return;
    };
    assert_eq!(store.verify(&mut |_| {}).unwrap(), []);
    let head = store.jobs().unwrap()[0].head_seq;
    assert_eq!(head, expected, "{lost} commits lost of {}", copied.head);
    // That each is what was kept under its hash has just been verified; the last few are compared.
    for change in store.changes(&job, head.saturating_sub(5), 5).unwrap() {
        let chunk = orders.chunk(change.seq - 1);
        assert!(change.hash == chunk.hash && change.bytes == chunk.bytes, "change {}", change.seq);
    }
}

fn commits(frames: &[Frame]) -> usize {
    frames.iter().filter(|frame| frame.commit).count()
}

fn open(database: &[u8], write_ahead: &[u8]) -> (TempDir, Store) {
    let folder = quick_folder();
    fs::write(folder.path().join("store.sqlite"), database).unwrap();
    fs::write(folder.path().join("store.sqlite-wal"), write_ahead).unwrap();
    let store = Store::open(folder.path()).unwrap();
    (folder, store)
}

/// Copies the files while the writer stands still. They are read from this process, which never
/// has that store open: closing a file drops the locks that its own process has on it.
fn copy(writer: &Writer, orders: &Orders, acknowledged: u64) -> Copied {
    signal(writer, "STOP");
    let tasks = PathBuf::from(format!("/proc/{}/task", writer.child.id()));
    let deadline = Instant::now() + Duration::from_secs(10);
    while !all_stopped(&tasks) {
        assert!(Instant::now() < deadline, "the writer does not stop");
        thread::yield_now();
    }
    let database = fs::read(orders.folder.join("store.sqlite")).unwrap();
    let mut write_ahead = fs::read(orders.folder.join("store.sqlite-wal")).unwrap();
    signal(writer, "CONT");
    let (_folder, store) = open(&database, &write_ahead);
    let head = store.jobs().unwrap()[0].head_seq;
    let frames = committed(&write_ahead);
    // As it is, it has just been opened; what is left of an earlier round is shortened from here on.
    write_ahead.truncate(frames.last().map_or(0, |frame| frame.end) + 3 * PAGE);
    Copied { database, write_ahead, frames, acknowledged, head }
}

/// Whether every thread is in state "T", stopped by a signal (Linux manual page proc_pid_stat(5)).
fn all_stopped(tasks: &Path) -> bool {
    fs::read_dir(tasks).unwrap().all(|task| {
        let stat = fs::read_to_string(task.unwrap().path().join("stat")).unwrap();
        stat.rsplit_once(") ").unwrap().1.starts_with('T')
    })
}

fn signal(writer: &Writer, name: &str) {
    let kill = format!("kill -{name} {}", writer.child.id());
    assert!(Command::new("bash").args(["-c", &kill]).status().unwrap().success());
}

/// In memory where there is such a place: nothing here depends on the drive.
fn quick_folder() -> TempDir {
    tempfile::tempdir_in("/dev/shm").or_else(|_| tempfile::tempdir()).unwrap()
}
