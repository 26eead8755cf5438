//! What the desk shows of other jobs: findings carried from an earlier one, words found in any, and what is left over.

use field::view::Remark;
use field::{Act, Evidence, FindingChange, JobTexts, OtherJob, PhotoTaken, UnitSystem::Us, Visit};
use findings::CarriedState;
use inspection::{
    Carried, EarlierJob, FindingState, Inspection, Job, Photo, PhotoId, Recheck, RecordedFinding,
    Use,
};
use testkit::{LOCKUP, TAPS};

use crate::visits::{minute, visit_of};

fn photo(digit: &str) -> PhotoId {
    PhotoId(digit.repeat(64))
}

/// A unit inspected again: two findings carried, one at the lock-up; a photo there and one at no point.
fn again() -> Visit {
    let visit = visit_of(&[LOCKUP, TAPS]);
    let mut record = visit.record().clone();
    let finding = |number: u32, point: Option<&str>| RecordedFinding {
        point: point.map(Into::into),
        title: format!("Finding {number}"),
        stops: vec![Use::Gas],
        state: FindingState::Confirmed,
        carried: Some(Carried {
            number,
            key: format!("then/{number}"),
            title: format!("Finding {number}"),
            statement: format!("It was wrong, {number}."),
            ..Carried::default()
        }),
        ..RecordedFinding::blank("A.", None)
    };
    for (number, point) in [(7, Some("lockup")), (2, None)] {
        let edit = record::Edit::AddFinding {
            id: format!("carried-{number}").into(),
            finding: Box::new(finding(number, point)),
        };
        record.edit(visit.author(), 1_781_265_600, edit).unwrap();
    }
    let before = Box::new(record.inspection().0.job);
    let earlier = EarlierJob { number: "2026-001".into(), ..EarlierJob::default() };
    let after = Box::new(Job { earlier: Some(earlier), ..(*before).clone() });
    record.edit(visit.author(), 1_781_265_600, record::Edit::ChangeJob { before, after }).unwrap();
    let mut visit = Visit::of(record, visit.author().clone()).unwrap();
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

fn mark(key: &str, recheck: Option<Recheck>, note: &str) -> Act {
    Act::Recheck { key: key.into(), recheck, note: note.into() }
}

#[test]
fn the_findings_of_then_stand_in_their_order_with_what_is_left_to_say() {
    assert_eq!(visit_of(&[LOCKUP]).again(Us), None);
    let mut visit = again();
    let list = visit.again(Us).unwrap();
    assert_eq!((list.job.as_str(), list.left), ("2026-001", 2));
    let of_none = &list.rows[0];
    assert_eq!((of_none.number, of_none.statement.as_str()), (2, "It was wrong, 2."));
    assert_eq!(of_none.now, []);
    let further: Vec<_> = of_none.further.iter().map(|one| one.id.clone()).collect();
    assert_eq!(further, [photo("c")], "photos of other points show something else");
    let at_lockup = &list.rows[1];
    assert_eq!(at_lockup.now, [photo("a")], "today's photo of its point");
    assert_eq!(at_lockup.point.as_ref().unwrap().as_str(), "lockup");

    let attach = Act::Attach { key: "carried-2".into(), evidence: Evidence::Photo(photo("c")) };
    visit.act(attach, minute(4)).unwrap();
    visit.act(mark("carried-2", Some(Recheck::Corrected), "new"), minute(5)).unwrap();
    let not_seen = Recheck::NotSeen { reason: "locked".into() };
    visit.act(mark("carried-7", Some(not_seen), ""), minute(6)).unwrap();
    let list = visit.again(Us).unwrap();
    let said: Vec<_> = list.rows.iter().map(|row| (row.state, row.note.as_str())).collect();
    assert_eq!(said, [(CarriedState::Corrected, "new"), (CarriedState::NotSeen, "locked")]);
    assert_eq!((list.left, list.rows[0].now.as_slice()), (0, &[photo("c")][..]));
    // What is typed anew does not take in what is said by itself.
    let row =
        |visit: &Visit| visit.findings(Us).into_iter().find(|row| row.key == "carried-7").unwrap();
    let own = row(&visit).own_words().to_owned();
    assert_eq!(own, "Found in job 2026-001: It was wrong, 7.");
    let change = FindingChange::Statement(format!("{own} Twice."));
    visit.act(Act::EditFinding { key: "carried-7".into(), change }, minute(7)).unwrap();
    let ends = "It was wrong, 7. Twice. Not seen again: locked.";
    assert!(row(&visit).statement.ends_with(ends), "{}", row(&visit).statement);
    visit.act(mark("carried-2", None, ""), minute(7)).unwrap();
    assert_eq!(visit.again(Us).unwrap().left, 1);
    visit
        .act(Act::Withdraw { key: "carried-2".into(), reason: "never was".into() }, minute(8))
        .unwrap();
    assert!(!visit.again(Us).unwrap().rows[0].open_to_marks);
}

#[test]
fn words_are_found_where_they_stand_in_a_job_of_this_device() {
    let mut visit = again();
    let note = Act::Note { point: "taps".into(), text: "The washer drips at night.".into() };
    visit.act(note, minute(4)).unwrap();
    let texts = JobTexts::of(&visit, Us);
    let places = |typed: &str| -> Vec<(String, String, String)> {
        let found = texts.find(typed).map(|found| found.places).unwrap_or_default();
        found.into_iter().map(|place| (place.kind, place.point, place.reference)).collect()
    };
    let place = |kind: &str, point: &str, reference: &str| {
        (kind.to_owned(), point.to_owned(), reference.to_owned())
    };
    assert_eq!(places("washer drip"), [place("note", "taps", "")]);
    assert_eq!(places("\"finding 7\""), [place("finding", "lockup", "carried-7")]);
    assert_eq!(places("washer nowhere"), []);
    assert_eq!(texts.find("washer").unwrap().line, visit.title());
}

#[test]
fn what_is_left_over_travels_and_arrives_as_it_was() {
    let mut visit = again();
    let note = Act::Note { point: "taps".into(), text: "As Quillfeather said.".into() };
    visit.act(note, minute(4)).unwrap();
    let mut other = Inspection::default();
    other.job.number = "0".to_owned();
    other.job.client.name = "Ann Quillfeather".to_owned();
    let remarks = visit.left_over(&[OtherJob::of(&other)]);
    assert_eq!(remarks.len(), 1);
    let json = remarks[0].left_over_to_json().unwrap();
    assert_eq!(
        (&json["about"], &json["id"], &json["job"]),
        (&"point".into(), &"taps".into(), &"0".into())
    );
    assert_eq!(Remark::left_over_from_json(&json).as_ref(), Some(&remarks[0]));
    // What a newer server says and this program does not know is left out.
    let mut newer = json;
    newer["fact"] = "fact-licence".into();
    assert_eq!(Remark::left_over_from_json(&newer), None);
    let note = Act::Note { point: "taps".into(), text: "It is safe.".into() };
    visit.act(note, minute(5)).unwrap();
    assert_eq!(visit.remarks(&[])[0].left_over_to_json(), None);
}
