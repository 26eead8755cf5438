//! An archive that was kept up to date says the same as one that is worked out anew.

use archive::{ArchiveError, By, Filter, JobRow, PointRow, Question};
use proptest::prelude::*;

use crate::world::{Made, WORDS, World, made, some};

type Rows = Vec<(JobRow, Vec<PointRow>)>;

/// All that an archive says: lists, rows, figures, and what is found by every word.
fn said(archive: &archive::Archive) -> impl PartialEq + std::fmt::Debug + use<> {
    let mut rows: Rows = Vec::new();
    archive
        .each_job(&Filter::default(), |job, points| -> Result<(), ArchiveError> {
            rows.push((job.clone(), points.to_vec()));
            Ok(())
        })
        .unwrap();
    let by = vec![By::Kind, By::Age, By::Region];
    let figures = archive.figures(&Question { by, ..Question::default() }).unwrap();
    let found: Vec<_> = WORDS
        .iter()
        .map(|word| {
            let mut found = archive.search(word, 100, None).unwrap();
            // Jobs of the same rank come as they were taken in.
            found.hits.sort_by(|one, other| one.job.row.job.cmp(&other.job.row.job));
            found
        })
        .collect();
    (archive.jobs().unwrap(), rows, figures, found, archive.titles().unwrap())
}

fn check(steps: &[Vec<Made>]) {
    let world = World::new();
    for step in steps {
        for job in step {
            world.put(job);
        }
        let (archive, updated) = world.updated();
        let distinct = step.iter().map(|it| it.number).collect::<std::collections::BTreeSet<_>>();
        assert!(updated.jobs <= distinct.len(), "{updated:?}: more than was changed");
        assert_eq!(archive.behind(&world.store, None).unwrap(), 0);
    }
    let kept = said(&world.archive());
    let (anew, _) = world.archive().rebuild(&world.store, &mut |_| {}).unwrap();
    assert_eq!(kept, said(&anew));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]
    #[test]
    fn kept_up_to_date_or_worked_out_anew_makes_no_difference(
        steps in proptest::collection::vec(proptest::collection::vec(made(), 0..4), 0..9),
    ) {
        check(&steps);
    }
}

#[test]
fn only_what_changed_is_worked_out_and_progress_is_told() {
    let world = World::new();
    (0..5).for_each(|number| world.put(&some(number)));
    let mut told = Vec::new();
    let archive = world.archive();
    assert_eq!(archive.behind(&world.store, None).unwrap(), 5);
    let updated = archive.update(&world.store, &mut |at| told.push((at.done, at.total))).unwrap();
    assert_eq!(updated.jobs, 5);
    assert_eq!((told.first(), told.last()), (Some(&(0, 5)), Some(&(5, 5))));
    assert_eq!(world.updated().1.jobs, 0);
    world.put(&Made { client: "Somebody Else".into(), ..some(3) });
    assert_eq!(archive.behind(&world.store, None).unwrap(), 1);
    assert_eq!(world.updated().1.jobs, 1);
    assert_eq!(archive.search("somebody", 9, None).unwrap().jobs, 1);
    let only = store::JobId::new("J-2").unwrap();
    assert_eq!(archive.search("somebody", 9, Some(&only)).unwrap().jobs, 0);
    let only = store::JobId::new("J-3").unwrap();
    assert_eq!(archive.search("somebody", 9, Some(&only)).unwrap().jobs, 1);
}

#[test]
fn what_one_handle_takes_in_another_finds() {
    let world = World::new();
    let (one, _) = world.updated();
    world.put(&Made { client: "Newly Added".into(), ..some(1) });
    world.updated();
    assert_eq!(one.search("newly", 9, None).unwrap().jobs, 1);
    assert_eq!(one.jobs().unwrap().len(), 1);
}
