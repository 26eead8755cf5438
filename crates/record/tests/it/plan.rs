//! The plan's text stays with the job for ever.

use record::{Record, RecordError};

use crate::fixtures::*;

#[test]
fn the_plan_reads_back_letter_by_letter_from_a_saved_record() {
    let loaded = Record::load([record_of_everything().save().as_slice()]).unwrap();
    assert_eq!(loaded.plan().unwrap(), PLAN);
}

#[test]
fn a_missing_plan_hash_is_filled_in() {
    let mut job = job();
    job.plan_hash.clear();
    let record = Record::create(&phone(), NOON, &job, &dwelling(), PLAN).unwrap();
    assert_eq!(record.inspection().0.job.plan_hash, PLAN_HASH);
}

#[test]
fn a_plan_text_that_is_not_the_jobs_is_refused() {
    let refused = Record::create(&phone(), NOON, &job(), &dwelling(), "other").unwrap_err();
    assert!(matches!(refused, RecordError::Refused(_)));
    assert!(refused.to_string().contains("give the text that belongs to the job"), "{refused}");
}
