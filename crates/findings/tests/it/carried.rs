//! Findings carried from an earlier job: they hold until they are said to be corrected.

use findings::{About, Assessment, CarriedState, Gap, UseState, assess};
use inspection::{
    Carried, EarlierJob, FindingState, Inspection, Photo, PhotoId, Recheck, RecheckMark,
    RecordedFinding, Use,
};
use testkit::{LOCKUP, TAPS, inspection_of, plan_of};

const THEN: &str = "It rose to 16.00 inH2O; the limit is at most 14 inH2O.";

fn photo(digit: &str) -> PhotoId {
    PhotoId(digit.repeat(64))
}

/// A re-inspection with the regulator's finding carried, and today's reading.
fn again(today: &str, recheck: Option<Recheck>) -> Inspection {
    let mut inspection =
        inspection_of(&format!("travel_trailer fitted gas water\ntaps examined\n{today}"));
    inspection.job.earlier =
        Some(EarlierJob { number: "2026-001".to_owned(), ..EarlierJob::default() });
    inspection
        .photos
        .insert(photo("e"), Photo { earlier: "2026-001".to_owned(), ..Photo::default() });
    let mark = recheck.map(|recheck| RecheckMark {
        recheck,
        note: String::new(),
        by: "B.".to_owned(),
        at: None,
    });
    let carried = Carried {
        number: 3,
        key: "lockup/high".to_owned(),
        position: String::new(),
        title: "Regulator does not lock up".to_owned(),
        statement: THEN.to_owned(),
        photos: vec![photo("e")],
        mark,
    };
    let recorded = RecordedFinding {
        point: Some("lockup".into()),
        title: carried.title.clone(),
        stops: vec![Use::Gas],
        who: "licensed gas fitter".to_owned(),
        state: FindingState::Confirmed,
        carried: Some(carried),
        ..RecordedFinding::blank("A.", None)
    };
    inspection.findings.insert("carried-3".into(), recorded);
    inspection
}

fn assessed(inspection: &Inspection) -> Assessment {
    assess(&plan_of(&[LOCKUP, TAPS]), inspection)
}

fn gas(assessment: &Assessment) -> UseState {
    assessment.uses.iter().find(|one| one.which == Use::Gas).unwrap().state
}

fn gaps(assessment: &Assessment) -> Vec<Gap> {
    assessment.missing.iter().map(|gap| gap.what).collect()
}

const FINE: &str = "lockup pressure = 11 inH2O ; photo";
const HIGH: &str = "lockup pressure = 15.2 inH2O ; photo";

#[test]
fn a_carried_finding_holds_its_use_until_it_is_said_to_be_corrected() {
    let not_seen = Recheck::NotSeen { reason: "the cover was locked".to_owned() };
    for (recheck, state, held, words) in [
        (None, CarriedState::Open, true, "Nobody has looked at it again yet."),
        (
            Some(Recheck::NotCorrected),
            CarriedState::NotCorrected,
            true,
            "Seen again, and not corrected.",
        ),
        (Some(not_seen), CarriedState::NotSeen, true, "Not seen again: the cover was locked."),
        (Some(Recheck::Corrected), CarriedState::Corrected, false, ""),
    ] {
        // Today's reading is fine: that alone corrects nothing.
        let assessment = assessed(&again(FINE, recheck));
        assert_eq!(gas(&assessment) == UseState::Held, held, "{state:?}");
        let result = &assessment.carried[0];
        assert_eq!(
            (result.state, result.number_then, result.number),
            (state, 3, held.then_some(1))
        );
        assert_eq!(
            (result.statement.as_str(), result.photos_then.as_slice()),
            (THEN, &[photo("e")][..])
        );
        assert_eq!(result.photos_now.len(), 1, "today's photo of the point");
        let missing = gaps(&assessment).contains(&Gap::NotRechecked);
        assert_eq!(missing, state == CarriedState::Open);
        match assessment.findings.first() {
            Some(finding) => {
                assert_eq!(finding.carried, Some(state));
                assert_eq!(finding.statement, format!("Found in job 2026-001: {THEN} {words}"));
            }
            None => assert!(!held),
        }
    }
}

#[test]
fn what_was_seen_of_it_is_said_beside_what_became_of_it() {
    for (recheck, ends) in [
        (Recheck::NotCorrected, Some("Seen again, and not corrected. The lock-nut is new.")),
        (Recheck::Corrected, None),
    ] {
        let mut inspection = again(FINE, Some(recheck));
        let carried = inspection.findings.values_mut().next().unwrap().carried.as_mut().unwrap();
        carried.mark.as_mut().unwrap().note = "The lock-nut is new".to_owned();
        let assessment = assessed(&inspection);
        assert_eq!(assessment.carried[0].reason, "The lock-nut is new");
        let statement = assessment.findings.first().map(|one| one.statement.as_str());
        assert_eq!(statement.is_some(), ends.is_some());
        assert!(statement.unwrap_or_default().ends_with(ends.unwrap_or_default()), "{statement:?}");
    }
}

#[test]
fn what_todays_readings_bring_up_again_is_the_same_finding() {
    let assessment = assessed(&again(HIGH, Some(Recheck::NotCorrected)));
    assert_eq!(assessment.findings.len(), 1);
    let finding = &assessment.findings[0];
    assert_eq!(
        (finding.key.as_str(), finding.merged.as_slice()),
        ("carried-3", &["lockup/high".to_owned()][..])
    );
    assert!(finding.statement.starts_with("It rose to 15.20 inH2O"), "{}", finding.statement);
    assert_eq!((finding.readings.len(), finding.photos.len()), (1, 1));
    assert!(!gaps(&assessment).contains(&Gap::NoEvidence));
}

#[test]
fn what_is_said_to_be_corrected_and_found_again_stands_and_is_told() {
    let assessment = assessed(&again(HIGH, Some(Recheck::Corrected)));
    assert_eq!(assessment.findings[0].key, "lockup/high");
    assert_eq!(gas(&assessment), UseState::Held);
    let told = assessment.missing.iter().find(|gap| gap.what == Gap::CorrectedButFound).unwrap();
    assert_eq!(told.about, About::Finding("lockup/high".to_owned()));
    assert!(told.sentence.contains("finding 3 of job 2026-001"), "{}", told.sentence);
}

#[test]
fn a_photo_of_then_is_no_evidence_of_today() {
    let mut inspection = again("lockup pressure = 11 inH2O", Some(Recheck::NotCorrected));
    inspection.photos.get_mut(&photo("e")).unwrap().point = Some("lockup".into());
    let assessment = assessed(&inspection);
    assert!(assessment.findings[0].photos.is_empty());
    let missing = gaps(&assessment);
    assert!(missing.contains(&Gap::NoEvidence), "seen again, and nothing of today shows it");
    assert!(missing.contains(&Gap::NoPhoto) && !missing.contains(&Gap::PhotoNotPlaced));
}

#[test]
fn a_carried_finding_that_is_withdrawn_or_merged_keeps_its_place_in_the_list() {
    let mut inspection = again(HIGH, None);
    let recorded = inspection.findings.get_mut("carried-3").unwrap();
    recorded.state = FindingState::Withdrawn { reason: "read off the wrong gauge".to_owned() };
    let assessment = assessed(&inspection);
    assert_eq!(assessment.carried[0].state, CarriedState::Withdrawn);
    assert_eq!(assessment.carried[0].reason, "read off the wrong gauge");
    // What today's reading says is not withdrawn with it.
    assert_eq!(
        (assessment.findings[0].key.as_str(), gas(&assessment)),
        ("lockup/high", UseState::Held)
    );

    let mut inspection = again(FINE, Some(Recheck::NotCorrected));
    inspection.points.get_mut("taps").unwrap().defects.push(("leak".to_owned(), Vec::new()));
    let recorded = inspection.findings.get_mut("carried-3").unwrap();
    recorded.state = FindingState::Merged { into: "taps/leak".to_owned() };
    let assessment = assessed(&inspection);
    assert_eq!(assessment.findings.len(), 1);
    assert_eq!(assessment.carried[0].number, Some(1));
    assert_eq!(gas(&assessment), UseState::Held);
}
