//! Whatever becomes of the archive's own files, the jobs stay and it is worked out again.

use std::fs;
use std::path::PathBuf;

use archive::{ArchiveError, Filter, Question};
use store::{Chunk, JobId};

use crate::world::{Made, World, some};

fn world() -> World {
    let world = World::new();
    for number in 0..4 {
        world.put(&Made { client: "Same Client".into(), ..some(number) });
    }
    world.updated();
    world
}

fn files(world: &World) -> Vec<PathBuf> {
    let archive = world.folder.path().join("archive");
    let mut all = vec![archive.join("index.sqlite")];
    let tables = fs::read_dir(archive.join("tables")).unwrap();
    all.extend(tables.map(|entry| entry.unwrap().path()));
    all
}

#[test]
fn a_deleted_archive_is_worked_out_again() {
    let world = world();
    fs::remove_dir_all(world.folder.path().join("archive")).unwrap();
    let (archive, updated) = world.updated();
    assert_eq!(updated.jobs, 4);
    assert_eq!(archive.search("same", 9, None).unwrap().jobs, 4);
}

#[test]
fn a_file_that_is_no_index_is_replaced() {
    let world = world();
    let archive = world.folder.path().join("archive");
    for name in ["index.sqlite-wal", "index.sqlite-shm"] {
        fs::remove_file(archive.join(name)).ok();
    }
    fs::write(
        archive.join("index.sqlite"),
        b"no database, but long enough to be read as one".repeat(99),
    )
    .unwrap();
    assert_eq!(world.updated().1.jobs, 4);
}

/// Every table file cut off at some places, and with bytes turned over: an error that says what to do, or the same answer.
#[test]
fn a_damaged_table_says_so_and_is_made_again() {
    let whole = world();
    let expected = whole.archive().figures(&Question::default()).unwrap();
    assert!(!expected.is_empty());
    let mut told = 0;
    for (at, file) in files(&whole).iter().enumerate().skip(1) {
        let bytes = fs::read(file).unwrap();
        for place in 0..24 {
            let world = &whole;
            let at_byte = bytes.len() * place / 24;
            let mut broken = bytes.clone();
            if place % 2 == 0 {
                broken.truncate(at_byte);
            } else {
                broken[at_byte] ^= 0x55;
            }
            fs::write(file, &broken).unwrap();
            let figures = world.archive().figures(&Question::default());
            // Whole rows are read another way, which must not panic either.
            let rows =
                world.archive().each_job(&Filter::default(), |_, _| Ok::<(), ArchiveError>(()));
            assert!(matches!(rows, Ok(()) | Err(ArchiveError::Damaged { .. })), "{rows:?}");
            match figures {
                // What nobody reads, such as which program wrote the file.
                Ok(figures) => assert_eq!(figures, expected, "file {at}, byte {at_byte}"),
                Err(error @ ArchiveError::Damaged { .. }) => {
                    told += 1;
                    assert!(error.to_string().contains("archive rebuild"), "{error}");
                }
                Err(error) => panic!("file {at}, byte {at_byte}: {error}"),
            }
        }
        fs::write(file, &bytes).unwrap();
    }
    assert!(told > 20, "{told}");
    fs::remove_file(&files(&whole)[1]).unwrap();
    assert!(matches!(
        whole.archive().figures(&Question::default()),
        Err(ArchiveError::Damaged { .. })
    ));
    let (anew, _) = whole.archive().rebuild(&whole.store, &mut |_| {}).unwrap();
    assert_eq!(anew.figures(&Question::default()).unwrap(), expected);
}

#[test]
fn a_job_that_cannot_be_read_is_listed_with_why_and_the_others_are_counted() {
    let world = world();
    let id = JobId::new("broken").unwrap();
    world.store.create_job(&id, "").unwrap();
    world.store.append(&id, &[Chunk { hash: [3; 32], bytes: b"no change".to_vec() }]).unwrap();
    let (archive, updated) = world.updated();
    assert_eq!(updated.jobs, 1);
    let [(job, why)] = updated.troubled.as_slice() else { panic!("{updated:?}") };
    assert_eq!(job, "broken");
    assert!(why.starts_with("the job's record cannot be read: "), "{why}");
    let jobs = archive.jobs().unwrap();
    let listed = jobs.iter().find(|job| job.row.job == "broken").unwrap();
    assert_eq!(listed.line(), *why);
    assert_eq!(jobs.len(), 5);
    assert_eq!(archive.search("same client", 9, None).unwrap().jobs, 4);
    assert_eq!(world.updated().1.jobs, 0, "it is not tried again until it changes");
}
