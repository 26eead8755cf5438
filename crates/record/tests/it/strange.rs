//! Documents that are sound but hold what no version wrote: what can be read is read, the rest is told.

use automerge::{
    ActorId, Automerge, AutomergeError, ObjType, ROOT, ReadDoc, transaction::Transactable,
};
use inspection::{FindingState, TimeToAct};
use record::{Edit, Record, RecordError};

use crate::fixtures::*;

/// Alters a record of everything behind the crate's back.
fn altered(
    alter: impl FnOnce(&mut automerge::transaction::Transaction<'_>) -> Result<(), AutomergeError>,
) -> Vec<u8> {
    let mut doc = Automerge::load(&record_of_everything().save()).unwrap();
    doc.set_actor(ActorId::from([0x99; 16]));
    doc.transact(alter).map_err(|failure| failure.error).unwrap();
    doc.save()
}

fn section(doc: &automerge::transaction::Transaction<'_>, key: &str) -> automerge::ObjId {
    doc.get(ROOT, key).unwrap().unwrap().1
}

#[test]
fn values_of_the_wrong_type_are_told_and_the_rest_is_read() {
    let bytes = altered(|doc| {
        let readings = section(doc, "readings");
        doc.put(&readings, "r1/entry", 14.2)?;
        doc.put(&readings, "r3/at", "yesterday")?;
        doc.put(&readings, "r3/mood", "fine")?;
        doc.put(&readings, "loose", "x")?;
        doc.put(&readings, "r4/name", "only a name")?;
        let job = section(doc, "job");
        doc.put(&job, "number", 41)?;
        doc.put(&job, "site/position", "here")?;
        doc.put(&job, "site/altitude_metres", f64::INFINITY)?;
        doc.put(&job, "visits/someday", true)?;
        doc.put_object(&job, "weather", ObjType::Map)?;
        let dwelling = section(doc, "dwelling");
        doc.put(&dwelling, "kind", "boat")?;
        doc.put(&dwelling, "outline/axles", 300)?;
        doc.put(&dwelling, "model_year", "2019")?;
        let findings = section(doc, "findings");
        doc.put(&findings, "f1/when", "whenever")?;
        doc.put(&findings, "f1/state", automerge::ScalarValue::counter(1))?;
        doc.put(&findings, "f1/stops/fly", 5)?;
        let photos = section(doc, "photos");
        doc.put(&photos, format!("{}/mark/0000", "a".repeat(64)), "circle 1 2")?;
        doc.put(&photos, format!("{}/likeness", "a".repeat(64)), vec![1_u8])?;
        let points = section(doc, "points");
        doc.put(&points, "generator/outcome", "exploded")?;
        let states = section(doc, "site_states");
        doc.put(&states, "s0/on", "yes")
    });
    let record = Record::load([&bytes[..]]).unwrap();
    let (read, problems) = record.inspection();
    let told: Vec<_> = problems.iter().map(ToString::to_string).collect();
    insta::assert_snapshot!(told.join("\n"));

    let mut expected = everything();
    expected.readings.remove("r1");
    expected.job.number = String::new();
    expected.job.site.position = None;
    expected.job.site.altitude_metres = None;
    expected.job.weather = String::new();
    expected.dwelling.kind = inspection::DwellingKind::TravelTrailer;
    expected.dwelling.outline.axles = 0;
    expected.dwelling.model_year = None;
    let finding = expected.findings.get_mut("f1").unwrap();
    finding.when = TimeToAct::BeforeUse;
    finding.state = FindingState::Draft;
    let photo = expected.photos.get_mut(&"a".repeat(64)[..]).unwrap();
    photo.marks.remove(0);
    photo.likeness = 0;
    expected.points.remove("generator");
    expected.site_states.remove(0);
    assert_eq!(read, expected);
}

#[test]
fn a_newer_schema_is_refused_with_what_to_do() {
    let bytes = altered(|doc| doc.put(ROOT, "schema", 2_u64));
    let error = Record::load([&bytes[..]]).unwrap_err();
    assert_eq!(error, RecordError::NewerSchema { found: 2, known: 1 });
    assert_eq!(
        error.to_string(),
        "the record has schema 2, written by a newer version; this version knows schemas up to 1\nhint: update Nearside on this device"
    );
}

#[test]
fn a_change_to_a_newer_schema_is_kept_told_and_not_edited_over() {
    let mut record = record_of_everything();
    let mut doc = Automerge::load(&record.save()).unwrap();
    doc.set_actor(ActorId::from([0x99; 16]));
    doc.transact(|doc| doc.put(ROOT, "schema", 2_u64)).map_err(|failure| failure.error).unwrap();
    let raise = doc.get_last_local_change().unwrap();
    record.apply(raise.raw_bytes()).unwrap();
    let (inspection, problems) = record.inspection();
    assert_eq!(inspection, everything());
    assert!(problems[0].trouble.contains("newer version (schema 2"), "{problems:?}");
    let edit = Edit::EndWait { id: "w2".into(), ended: moment("2026-06-12T10:00") };
    let refused = record.edit(&phone(), NOON, edit);
    assert_eq!(refused, Err(RecordError::NewerSchema { found: 2, known: 1 }));
}

#[test]
fn a_document_that_is_not_ours_is_called_that() {
    let mut doc = Automerge::new().with_actor(ActorId::from([0x99; 16]));
    let empty = Record::load([&doc.save()[..]]).unwrap_err();
    assert!(matches!(empty, RecordError::NotARecord { .. }), "{empty}");
    doc.transact(|doc| doc.put(ROOT, "title", "shopping"))
        .map_err(|failure| failure.error)
        .unwrap();
    let other = Record::load([&doc.save()[..]]).unwrap_err();
    assert!(other.to_string().contains("does not say that it is a `nearside-record`"), "{other}");
    doc.transact(|doc| doc.put(ROOT, "kind", "list")).map_err(|failure| failure.error).unwrap();
    let other = Record::load([&doc.save()[..]]).unwrap_err();
    assert!(other.to_string().contains("it says that it is \"list\""), "{other}");
}

#[test]
fn a_missing_section_is_told_and_cannot_be_written_into() {
    let bytes = altered(|doc| doc.delete(ROOT, "waits"));
    let mut record = Record::load([&bytes[..]]).unwrap();
    let (inspection, problems) = record.inspection();
    assert!(inspection.waits.is_empty());
    assert_eq!(inspection.readings, everything().readings);
    assert_eq!(problems[0].to_string(), "record: the section `waits` is missing");
    let wait = everything().waits.remove("w1").unwrap();
    let before = record.save();
    let refused =
        record.edit(&phone(), NOON, Edit::StartWait { id: "w3".into(), wait }).unwrap_err();
    assert!(matches!(refused, RecordError::Damaged { .. }), "{refused}");
    assert_eq!(record.save(), before);
}

#[test]
fn a_plan_text_altered_later_is_not_passed_off_as_the_jobs() {
    let bytes = altered(|doc| {
        let plan = section(doc, "plan");
        doc.put(&plan, "text", "id = \"other\"\n")
    });
    let error = Record::load([&bytes[..]]).unwrap().plan().unwrap_err();
    assert!(error.to_string().contains("the job's plan is damaged"), "{error}");
}
