//! Records written by released versions load for ever; `tests/golden/README.md` says how to add one.

use record::Record;

use crate::{fixtures::*, golden_record::golden_record};

const SCHEMA_1: &[u8] = include_bytes!("../golden/1.nearside-record");

/// What the record says must stay as it was when the golden document was made.
#[test]
fn the_record_of_schema_1_reads_as_it_did_when_it_was_written() {
    let record = Record::load([SCHEMA_1]).unwrap();
    let (inspection, problems) = record.inspection();
    assert_eq!(problems, []);
    insta::assert_debug_snapshot!("golden-1-inspection", inspection);
    insta::assert_debug_snapshot!("golden-1-trail", record.trail());
    insta::assert_debug_snapshot!("golden-1-conflicts", record.conflicts());
    assert_eq!(record.plan().unwrap(), PLAN);
}

#[test]
fn the_record_of_schema_1_holds_every_kind_of_entry() {
    let (inspection, _) = Record::load([SCHEMA_1]).unwrap().inspection();
    let expected = everything();
    assert_eq!(inspection.points, expected.points);
    assert_eq!(inspection.readings, expected.readings);
    assert_eq!(inspection.findings, expected.findings);
    assert_eq!(inspection.photos, expected.photos);
    assert_eq!(inspection.waits, expected.waits);
    assert_eq!(inspection.site_states, expected.site_states);
    assert_eq!(inspection.instruments, expected.instruments);
    assert_eq!(inspection.dwelling, expected.dwelling);
}

/// While schema 1 is the one written, its golden document is what this version saves: a change of
/// keys without a new schema number shows here.
#[test]
fn this_version_still_writes_schema_1_to_the_byte() {
    assert!(
        golden_record().save() == SCHEMA_1,
        "the saved bytes differ from the golden document; see tests/golden/README.md"
    );
}
