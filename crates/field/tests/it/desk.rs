//! The desk's findings and what is missing: what is listed, what may be done, and where one press leads.

use field::view::{FindingKind, FindingStanding, Target};
use field::{
    Act, Answer, Entering, Evidence, FindingChange, FindingWritten, Language, OtherJob, PhotoTaken,
    Texts, UnitSystem::Us, Visit,
};
use findings::Gap;
use inspection::{Inspection, Photo, PhotoId, TimeToAct, Use};
use testkit::{LOCKUP, TAPS};

use crate::visits::{minute, visit_of};

const HIGH: &str = "lockup/high";
const LEAK: &str = "taps/leak";

/// A visit with a lock-up that is too high, a leak, a photo of each, and one of nothing yet.
fn visit() -> Visit {
    let mut visit = visit_of(&[LOCKUP, TAPS]);
    enter(&mut visit, "15.2");
    let leak = Act::See { point: "taps".into(), defect: "leak".into(), position: String::new() };
    visit.act(leak, minute(2)).unwrap();
    for (digit, point) in [("a", Some("lockup")), ("b", Some("taps")), ("c", None)] {
        let taken = PhotoTaken {
            id: photo(digit),
            photo: Box::new(Photo {
                file_name: format!("{digit}.jpg"),
                point: point.map(Into::into),
                ..Photo::default()
            }),
            look: None,
        };
        visit.act(Act::TakePhoto(taken), minute(3)).unwrap();
    }
    visit
}

fn photo(digit: &str) -> PhotoId {
    PhotoId(digit.repeat(64))
}

fn enter(visit: &mut Visit, text: &str) {
    let entering = Entering {
        point: "lockup".into(),
        reading: "pressure".into(),
        text: text.into(),
        ..Entering::default()
    };
    visit.act(Act::Enter(entering), minute(1)).unwrap();
}

fn edit(key: &str, change: FindingChange) -> Act {
    Act::EditFinding { key: key.into(), change }
}

fn merge(key: &str, into: &str) -> Act {
    Act::Merge { key: key.into(), into: into.into() }
}

#[test]
fn findings_are_listed_by_where_they_stand_with_their_count() {
    let mut visit = visit();
    visit.act(Act::Confirm { key: LEAK.into() }, minute(4)).unwrap();
    let written = FindingWritten {
        point: None,
        title: "Wasps".into(),
        statement: String::new(),
        stops: Vec::new(),
        when: TimeToAct::Soon,
        who: String::new(),
        photos: Vec::new(),
    };
    visit.act(Act::WriteFinding(written), minute(5)).unwrap();
    let wasps = visit.findings(Us).into_iter().find(|row| row.title == "Wasps").unwrap().key;
    visit.act(merge(&wasps, LEAK), minute(6)).unwrap();
    let list = visit.finding_list(Us);
    let groups: Vec<_> = list
        .groups
        .iter()
        .map(|group| (group.kind, group.heading.to_string(), group.rows.len()))
        .collect();
    assert_eq!(
        groups,
        [
            (FindingKind::Drafted, "Drafted: 1".to_owned(), 1),
            (FindingKind::Confirmed, "Confirmed: 1".to_owned(), 1),
            (FindingKind::Merged, "Parts of others: 1".to_owned(), 1),
        ]
    );
    assert_eq!(list.standing, 2);
    let card = visit.finding_card(&wasps, &[], Us).unwrap();
    assert_eq!(card.row.standing, FindingStanding::Merged(LEAK.to_owned()));
    assert!(card.may.unmerge && card.may.confirm && !card.may.edit && !card.may.merge);
    let whole = visit.finding_card(LEAK, &[], Us).unwrap();
    assert_eq!(whole.parts, [(wasps.clone(), "Wasps".to_owned())]);
    assert_eq!(
        visit.act(edit(&wasps, FindingChange::Who("x".into())), minute(7)).unwrap_err().key,
        "refusal-merged"
    );
    visit.act(Act::Unmerge { key: wasps.clone() }, minute(8)).unwrap();
    assert_eq!(
        visit.finding_card(&wasps, &[], Us).unwrap().row.standing,
        FindingStanding::Confirmed
    );
    assert_eq!(
        visit.act(Act::Unmerge { key: wasps.clone() }, minute(9)).unwrap_err().key,
        "refusal-not-merged"
    );
    assert_eq!(
        visit.act(merge(&wasps, &wasps), minute(9)).unwrap_err().key,
        "refusal-merge-itself"
    );
}

#[test]
fn a_card_has_the_draft_beside_the_persons_words() {
    let mut visit = visit();
    visit.act(edit(HIGH, FindingChange::Statement("In my words.".into())), minute(4)).unwrap();
    visit.act(edit(HIGH, FindingChange::Stops(vec![Use::Stay])), minute(5)).unwrap();
    let card = visit.finding_card(HIGH, &[], Us).unwrap();
    assert_eq!(card.row.standing, FindingStanding::Drafted, "worded anew is not confirmed");
    assert_eq!(card.row.statement, "In my words.");
    assert_eq!(card.row.stops, [Use::Stay]);
    let drafted = card.drafted.unwrap();
    assert!(drafted.statement.starts_with("It rose to 15.20 inH2O"), "{}", drafted.statement);
    assert_eq!(drafted.stops, [Use::Gas]);
    // Emptied, the draft's statement stands again and follows the readings.
    visit.act(edit(HIGH, FindingChange::Statement(String::new())), minute(6)).unwrap();
    enter(&mut visit, "16.0");
    let card = visit.finding_card(HIGH, &[], Us).unwrap();
    assert!(card.row.statement.starts_with("It rose to 16.00 inH2O"), "{}", card.row.statement);
    let refused = visit.act(edit(HIGH, FindingChange::Point(None)), minute(7)).unwrap_err();
    assert_eq!(refused.key, "refusal-point-of-draft");
}

#[test]
fn taking_back_a_first_decision_leaves_the_draft_as_nobody_had_decided() {
    let mut visit = visit();
    visit.act(edit(HIGH, FindingChange::Title("Mine".into())), minute(4)).unwrap();
    visit.act(Act::Confirm { key: HIGH.into() }, minute(5)).unwrap();
    visit.undo(minute(6)).unwrap();
    visit.undo(minute(7)).unwrap();
    assert!(visit.inspection().findings.is_empty());
    let card = visit.finding_card(HIGH, &[], Us).unwrap();
    assert_eq!(card.row.title, "Regulator does not lock up");
    visit.redo(minute(8)).unwrap();
    visit.redo(minute(9)).unwrap();
    let card = visit.finding_card(HIGH, &[], Us).unwrap();
    assert_eq!((card.row.title.as_str(), card.row.standing), ("Mine", FindingStanding::Confirmed));
}

#[test]
fn evidence_is_given_and_taken_away_and_comes_back() {
    let mut visit = visit();
    let evidence = |digit: &str| Evidence::Photo(photo(digit));
    let attach = |evidence| Act::Attach { key: HIGH.into(), evidence };
    let detach = |evidence| Act::Detach { key: HIGH.into(), evidence };
    let photos = |visit: &Visit| {
        let card = visit.finding_card(HIGH, &[], Us).unwrap();
        let names = |all: &[field::view::PhotoEvidence]| {
            all.iter().map(|one| one.title.clone()).collect::<Vec<_>>().join(" ")
        };
        (names(&card.photos), names(&card.further_photos))
    };
    assert_eq!(photos(&visit), ("a.jpg".to_owned(), "c.jpg".to_owned()));
    visit.act(attach(evidence("c")), minute(4)).unwrap();
    visit.act(detach(evidence("a")), minute(5)).unwrap();
    assert_eq!(photos(&visit), ("c.jpg".to_owned(), "a.jpg".to_owned()));
    // The photo stays at its point; only this finding is not shown by it.
    assert_eq!(visit.inspection().photos[&photo("a")].point, Some("lockup".into()));
    visit.act(attach(evidence("a")), minute(6)).unwrap();
    assert_eq!(photos(&visit), ("a.jpg c.jpg".to_owned(), String::new()));
    for _ in 0..3 {
        visit.undo(minute(7)).unwrap();
    }
    assert_eq!(photos(&visit), ("a.jpg".to_owned(), "c.jpg".to_owned()));
    assert!(visit.act(attach(evidence("a")), minute(8)).unwrap().is_empty());
    assert_eq!(visit.act(attach(evidence("9")), minute(8)).unwrap_err().key, "refusal-no-photo");
    let reading = visit.inspection().readings.keys().next().unwrap().clone();
    let card = visit.finding_card(HIGH, &[], Us).unwrap();
    assert!(card.readings[0].brought_up && card.readings[0].value.starts_with("15.20 inH2O"));
    let refused = visit.act(detach(Evidence::Reading(reading.clone())), minute(9)).unwrap_err();
    assert_eq!(refused.key, "refusal-reading-brought-up");
    // A reading of another point can show a finding, and be taken away again.
    let on_leak =
        |act: fn(String, Evidence) -> Act| act(LEAK.into(), Evidence::Reading(reading.clone()));
    visit.act(on_leak(|key, evidence| Act::Attach { key, evidence }), minute(10)).unwrap();
    let card = visit.finding_card(LEAK, &[], Us).unwrap();
    assert!(card.readings.len() == 1 && !card.readings[0].brought_up);
    visit.act(on_leak(|key, evidence| Act::Detach { key, evidence }), minute(11)).unwrap();
    assert!(visit.finding_card(LEAK, &[], Us).unwrap().readings.is_empty());
}

#[test]
fn merging_unites_and_taking_it_back_parts_as_it_was() {
    let mut visit = visit();
    visit.act(Act::Confirm { key: LEAK.into() }, minute(4)).unwrap();
    let before = visit.findings(Us);
    visit.act(merge(HIGH, LEAK), minute(5)).unwrap();
    let card = visit.finding_card(LEAK, &[], Us).unwrap();
    assert_eq!(card.row.stops, [Use::Water, Use::Gas]);
    assert_eq!((card.readings.len(), card.photos.len()), (1, 2));
    assert_eq!(
        visit.undo_label().unwrap().to_string(),
        "two findings as one, Regulator does not lock up"
    );
    // A photo of the part can be taken away from the whole.
    let detach = Act::Detach { key: LEAK.into(), evidence: Evidence::Photo(photo("a")) };
    visit.act(detach, minute(6)).unwrap();
    assert_eq!(visit.finding_card(LEAK, &[], Us).unwrap().photos.len(), 1);
    visit.undo(minute(7)).unwrap();
    visit.undo(minute(8)).unwrap();
    assert_eq!(visit.findings(Us), before);
}

#[test]
fn what_is_missing_is_listed_by_kind_with_the_place_to_go() {
    let mut visit = visit();
    enter(&mut visit, "14.1");
    let examined = Act::Answer { point: "lockup".into(), answer: Answer::Examined };
    visit.act(examined, minute(4)).unwrap();
    let list = visit.missing(Us);
    let rows: Vec<_> = list
        .groups
        .iter()
        .flat_map(|group| {
            group.rows.iter().map(|row| (group.gap, row.title.as_str(), row.target.clone()))
        })
        .collect();
    let reading = Target::Reading {
        point: "lockup".into(),
        name: "pressure".into(),
        position: String::new(),
    };
    assert_eq!(
        rows,
        [
            (Gap::Undecided, "Regulator lock-up", reading),
            (Gap::PhotoNotPlaced, "c.jpg", Target::Photo(photo("c"))),
        ]
    );
    assert_eq!(list.count, 2);
    let decides: Vec<String> =
        list.groups[0].rows[0].decides.iter().map(ToString::to_string).collect();
    assert_eq!(
        decides,
        [
            "14.10 inH2O ± 0.20 inH2O, limit at most 14 inH2O",
            "known to ± 0.099 inH2O or better it would not conform (now ± 0.20 inH2O)",
        ]
    );
    let spanish = Texts::new(Language::Spanish);
    for group in &list.groups {
        assert_ne!(spanish.of(&group.what), group.what.to_string());
    }
    let answer = Act::TakeBackAnswer { point: "taps".into() };
    visit.act(answer, minute(5)).unwrap();
    let list = visit.missing(Us);
    assert_eq!(list.groups[0].gap, Gap::NotSettled);
    assert_eq!(list.groups[0].rows[0].target, Target::Point("taps".into()));
    assert_eq!(list.groups[0].rows[0].keeps_open, [Use::Water]);
}

#[test]
fn remarks_lead_to_the_text_they_are_about() {
    let mut visit = visit();
    visit
        .act(
            edit(HIGH, FindingChange::Statement("It is safe, says Quillfeather.".into())),
            minute(4),
        )
        .unwrap();
    let note = Act::Note { point: "taps".into(), text: "No warranty.".into() };
    visit.act(note, minute(5)).unwrap();
    visit.act(Act::Answer { point: "taps".into(), answer: Answer::Examined }, minute(5)).unwrap();
    let mut other = Inspection::default();
    other.job.number = "0".to_owned();
    other.job.client.name = "Ann Quillfeather".to_owned();
    let others = [OtherJob::of(&other)];
    let remarks: Vec<_> = visit
        .remarks(&others)
        .into_iter()
        .map(|one| (one.place.to_string(), one.what.to_string(), one.target))
        .collect();
    let target = Target::Finding(HIGH.to_owned());
    assert_eq!(
        remarks,
        [
            (
                "statement".to_owned(),
                "“safe” promises that it is safe, and no inspection can".to_owned(),
                target.clone()
            ),
            (
                "statement".to_owned(),
                "“Quillfeather” is the client of job 0; is it left over?".to_owned(),
                target
            ),
        ]
    );
    assert_eq!(visit.finding_card(HIGH, &others, Us).unwrap().remarks.len(), 2);
    assert!(visit.finding_card(LEAK, &others, Us).unwrap().remarks.is_empty());
}

#[test]
fn what_became_of_a_carried_finding_is_said_and_taken_back() {
    let mut visit = visit();
    assert_eq!(
        visit
            .act(Act::Recheck { key: HIGH.into(), recheck: None, note: String::new() }, minute(4))
            .unwrap_err()
            .key,
        "refusal-no-finding"
    );
    visit.act(Act::Confirm { key: LEAK.into() }, minute(4)).unwrap();
    let key = visit.finding_card(LEAK, &[], Us).unwrap().row.recorded.unwrap();
    assert_eq!(
        visit
            .act(Act::Recheck { key: LEAK.into(), recheck: None, note: String::new() }, minute(4))
            .unwrap_err()
            .key,
        "refusal-not-carried"
    );
    let before = visit.inspection().findings[&key].clone();
    let carried = inspection::Carried {
        number: 4,
        key: "taps/drip".into(),
        title: "Leak".into(),
        ..inspection::Carried::default()
    };
    let after = inspection::RecordedFinding { draft: None, carried: Some(carried), ..before };
    visit
        .act(Act::ChangeFinding { finding: key.clone(), after: Box::new(after) }, minute(5))
        .unwrap();
    let key = key.to_string();
    let recheck = |recheck| Act::Recheck {
        key: key.clone(),
        recheck: Some(recheck),
        note: " Dry today ".into(),
    };
    let kind = |visit: &Visit| {
        let card = visit.finding_card(&key, &[], Us).unwrap();
        assert!(card.may.recheck);
        (card.row.standing.kind(), card.row.carried.unwrap().words.to_string())
    };
    assert_eq!(kind(&visit), (FindingKind::Confirmed, "not yet said".to_owned()));
    let gap =
        visit.missing(Us).groups.into_iter().find(|group| group.gap == Gap::NotRechecked).unwrap();
    assert_eq!(gap.rows[0].target, Target::Finding(key.clone()));
    visit.act(recheck(inspection::Recheck::Corrected), minute(6)).unwrap();
    assert_eq!(kind(&visit), (FindingKind::Corrected, "corrected".to_owned()));
    let row = visit.finding_card(&key, &[], Us).unwrap().row.carried.unwrap();
    assert_eq!(row.reason, "Dry today");
    assert_eq!(visit.undo_label().unwrap().to_string(), "carried finding, Leak");
    visit.undo(minute(7)).unwrap();
    assert_eq!(kind(&visit), (FindingKind::Confirmed, "not yet said".to_owned()));
    let unreasoned = inspection::Recheck::NotSeen { reason: " ".into() };
    assert_eq!(visit.act(recheck(unreasoned), minute(8)).unwrap_err().key, "refusal-no-reason");
    let not_seen = inspection::Recheck::NotSeen { reason: "locked".into() };
    visit.act(recheck(not_seen), minute(9)).unwrap();
    assert_eq!(kind(&visit), (FindingKind::Confirmed, "not seen".to_owned()));
}
