//! Two findings that a person made one, evidence that a person took away, and what a written finding begins with.

use findings::{Assessment, assess, defaults_at};
use inspection::{FindingState, Inspection, PhotoId, RecordedFinding, TimeToAct, Use};
use testkit::{LOCKUP, TAPS, inspection_of, plan_of};

fn found() -> Inspection {
    inspection_of(
        "travel_trailer fitted gas water\nlockup pressure = 15.2 inH2O ; photo\ntaps found leak; found drip; photo",
    )
}

fn assessed(inspection: &Inspection) -> Assessment {
    assess(&plan_of(&[LOCKUP, TAPS]), inspection)
}

fn merged(inspection: &mut Inspection, id: &str, draft: Option<&str>, into: &str) {
    let recorded = RecordedFinding {
        draft: draft.map(str::to_owned),
        title: "Part".to_owned(),
        statement: "It drips onto the floor.".to_owned(),
        stops: vec![Use::Gas],
        state: FindingState::Merged { into: into.to_owned() },
        ..RecordedFinding::blank("", None)
    };
    inspection.findings.insert(id.into(), recorded);
}

fn keys(assessment: &Assessment) -> Vec<&str> {
    assessment.findings.iter().map(|finding| finding.key.as_str()).collect()
}

#[test]
fn a_merged_finding_gives_its_evidence_places_and_uses_to_the_other() {
    let mut inspection = found();
    assert_eq!(keys(&assessed(&inspection)), ["lockup/high", "taps/leak", "taps/drip"]);
    merged(&mut inspection, "f1", Some("lockup/high"), "taps/leak");
    let assessment = assessed(&inspection);
    assert_eq!(keys(&assessment), ["taps/leak", "taps/drip"]);
    let whole = &assessment.findings[0];
    assert_eq!(whole.merged, ["lockup/high"]);
    assert_eq!(whole.stops, [Use::Water, Use::Gas]);
    assert_eq!((whole.readings.len(), whole.photos.len()), (1, 2));
    assert!(whole.statement.starts_with("A tap leaks. It "), "{}", whole.statement);
}

#[test]
fn what_a_person_decided_on_the_whole_stays_and_evidence_is_united_all_the_same() {
    let mut inspection = found();
    merged(&mut inspection, "f1", Some("lockup/high"), "taps/leak");
    let decided = RecordedFinding {
        draft: Some("taps/leak".to_owned()),
        statement: "My words.".to_owned(),
        when: TimeToAct::InTime,
        state: FindingState::Confirmed,
        ..RecordedFinding::blank("", None)
    };
    inspection.findings.insert("f2".into(), decided);
    let assessment = assessed(&inspection);
    let whole = assessment.findings.iter().find(|one| one.key == "taps/leak").unwrap();
    assert_eq!(whole.statement, "My words.");
    assert_eq!((whole.when, whole.stops.len()), (TimeToAct::InTime, 0));
    assert_eq!((whole.readings.len(), whole.photos.len(), whole.confirmed), (1, 2, true));
}

#[test]
fn what_was_merged_is_never_lost() {
    // A chain ends at what stands.
    let mut inspection = found();
    merged(&mut inspection, "f1", None, "taps/drip");
    merged(&mut inspection, "f2", Some("taps/drip"), "taps/leak");
    let assessment = assessed(&inspection);
    assert_eq!(keys(&assessment), ["lockup/high", "taps/leak"]);
    assert_eq!(assessment.findings[1].merged, ["taps/drip", "f1"]);

    // What it belonged to is not brought up any more: it stands again, and holds what it held.
    let mut inspection = found();
    merged(&mut inspection, "f1", Some("lockup/high"), "taps/leak");
    inspection.points.remove("taps");
    let assessment = assessed(&inspection);
    assert_eq!(keys(&assessment), ["lockup/high"]);
    assert!(!assessment.findings[0].confirmed);

    // Two that were merged into each other at once both stand.
    let mut inspection = found();
    merged(&mut inspection, "f1", Some("lockup/high"), "taps/leak");
    merged(&mut inspection, "f2", Some("taps/leak"), "lockup/high");
    assert_eq!(keys(&assessed(&inspection)).len(), 3);

    // A draft that its readings bring up no more is gone, merged or not.
    let mut inspection = found();
    merged(&mut inspection, "f1", Some("lockup/high"), "taps/leak");
    inspection.readings.clear();
    assert_eq!(keys(&assessed(&inspection)), ["taps/leak", "taps/drip"]);
    assert!(assessed(&inspection).findings[0].merged.is_empty());
}

#[test]
fn who_withdraws_the_whole_withdraws_its_parts() {
    let mut inspection = found();
    merged(&mut inspection, "f1", Some("lockup/high"), "taps/leak");
    let withdrawn = RecordedFinding {
        draft: Some("taps/leak".to_owned()),
        state: FindingState::Withdrawn { reason: "both are mended".to_owned() },
        ..RecordedFinding::blank("", None)
    };
    inspection.findings.insert("f2".into(), withdrawn);
    assert_eq!(keys(&assessed(&inspection)), ["taps/drip"]);
}

#[test]
fn a_photo_of_the_point_can_be_said_not_to_show_the_finding() {
    let mut inspection = found();
    let photos = assessed(&inspection).findings[0].photos.clone();
    assert_eq!(photos.len(), 1);
    let decided = RecordedFinding {
        draft: Some("lockup/high".to_owned()),
        photos_out: photos,
        photos: vec![PhotoId("elsewhere".to_owned())],
        ..RecordedFinding::blank("", None)
    };
    inspection.findings.insert("f1".into(), decided);
    let assessment = assessed(&inspection);
    let finding = assessment.findings.iter().find(|one| one.key == "lockup/high").unwrap();
    assert_eq!(finding.photos, [PhotoId("elsewhere".to_owned())]);
}

#[test]
fn a_written_finding_begins_with_what_most_defects_of_its_point_say() {
    let plan = plan_of(&[LOCKUP, TAPS]);
    let lockup = defaults_at(plan.point("lockup").unwrap());
    assert_eq!(lockup.stops, [Use::Gas]);
    assert_eq!((lockup.when, lockup.who.as_str()), (TimeToAct::BeforeUse, "licensed gas fitter"));
    // One of two defects stops the water; of two that say different things the sooner and the first count.
    let taps = defaults_at(plan.point("taps").unwrap());
    assert_eq!(taps.stops, [Use::Water]);
    assert_eq!((taps.when, taps.who.as_str()), (TimeToAct::BeforeUse, "plumber"));
}
