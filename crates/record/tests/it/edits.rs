//! Every edit reads back through saving, loading and the exchange of changes.

use inspection::{
    Crop, FindingState, Inspection, Mark, Outcome, Photo, PlaceOnUnit, PointEntry, StruckOut,
};
use record::{Edit, Record, RecordError, RefusalKind};

use crate::fixtures::*;

/// Makes the edit and checks what is read: at once, after save and load, and from changes alone.
#[track_caller]
fn check(record: &mut Record, edit: Edit, expected: &Inspection) {
    let change = record.edit(&laptop(), NOON, edit).unwrap().unwrap();
    let saved = record.save();
    let loaded = Record::load([saved.as_slice()]).unwrap();
    let pieces: Vec<_> = record.changes_after(&[]).into_iter().map(|change| change.bytes).collect();
    let replayed = Record::load(pieces.iter().map(Vec::as_slice)).unwrap();
    let last = record.changes_after(&change.deps);
    assert_eq!(last, [change], "the edit is exactly one change");
    for read in [&*record, &loaded, &replayed] {
        let (inspection, problems) = read.inspection();
        assert_eq!(problems, []);
        assert_eq!(&inspection, expected);
        assert_eq!(read.heads(), record.heads());
    }
    assert_eq!(loaded.save(), saved);
}

#[test]
fn a_new_record_says_what_it_was_made_with() {
    let (inspection, problems) = new_record().inspection();
    assert_eq!(problems, []);
    assert_eq!(
        inspection,
        Inspection { job: job(), dwelling: dwelling(), ..Inspection::default() }
    );
}

#[test]
fn the_same_arguments_make_the_same_bytes() {
    assert_eq!(record_of_everything().save(), record_of_everything().save());
    assert_eq!(new_record().changes_after(&[])[0].bytes, new_record().changes_after(&[])[0].bytes);
}

#[test]
fn every_kind_of_entry_reads_back_as_it_was_entered() {
    let (inspection, problems) = record_of_everything().inspection();
    assert_eq!(problems, []);
    assert_eq!(inspection, everything());
}

#[test]
fn every_adding_edit_alone_reads_back_through_bytes() {
    let mut record = new_record();
    for edit in edits_of_everything() {
        record.edit(&phone(), NOON, edit).unwrap().unwrap();
        let (expected, _) = record.inspection();
        let loaded = Record::load([record.save().as_slice()]).unwrap();
        assert_eq!(loaded.inspection(), (expected, vec![]));
    }
    assert_eq!(record.inspection().0, everything());
}

#[test]
fn every_changing_edit_reads_back_through_bytes() {
    let mut record = record_of_everything();
    let mut expected = everything();

    let before = Box::new(expected.job.clone());
    expected.job.weather = String::new();
    expected.job.site.position = None;
    expected.job.visits = vec!["2026-06-19".parse().unwrap(), "2026-07-01".parse().unwrap()];
    expected.job.client.name = "Ada B. Buyer".into();
    let after = Box::new(expected.job.clone());
    check(&mut record, Edit::ChangeJob { before, after }, &expected);

    let before = Box::new(expected.dwelling.clone());
    expected.dwelling.model_year = None;
    expected.dwelling.built = Some("2018-12-01".parse().unwrap());
    expected.dwelling.equipment = ["slide_out", "awning"].map(String::from).into();
    expected.dwelling.ratings.remove("rear/axle");
    expected.dwelling.outline.axles = 0;
    let after = Box::new(expected.dwelling.clone());
    check(&mut record, Edit::ChangeDwelling { before, after }, &expected);

    let before = expected.points.get("tire_condition").cloned();
    let after = PointEntry {
        defects: vec![("cut".into(), vec!["left_front".into()])],
        notes: String::new(),
        ..point(Outcome::NotExamined { reason: String::new() })
    };
    expected.points.insert("tire_condition".into(), after.clone());
    check(&mut record, Edit::SetPoint { point: "tire_condition".into(), before, after }, &expected);

    let before = expected.points.remove("tire_condition").unwrap();
    check(&mut record, Edit::ClearPoint { point: "tire_condition".into(), before }, &expected);

    let struck_out = StruckOut { reason: "valve was open".into(), by: "Jan Desk".into() };
    expected.readings.get_mut("r1").unwrap().struck_out = Some(struck_out);
    let reason = "valve was open".into();
    check(&mut record, Edit::StrikeOutReading { id: "r1".into(), reason }, &expected);

    let changed = expected.findings.get_mut("f1").unwrap();
    let before = Box::new(changed.clone());
    changed.statement = "14.2 inH2O without flow.".into();
    changed.photos.swap(0, 1);
    changed.stops.remove(0);
    changed.draft = None;
    let after = Box::new(changed.clone());
    check(&mut record, Edit::ChangeFinding { id: "f1".into(), before, after }, &expected);

    expected.findings.get_mut("f1").unwrap().state =
        FindingState::Withdrawn { reason: "measured again".into() };
    let reason = "measured again".into();
    check(&mut record, Edit::WithdrawFinding { id: "f1".into(), reason }, &expected);

    let id = inspection::PhotoId::from("b".repeat(64));
    let photo = |expected: &mut Inspection, change: &dyn Fn(&mut Photo)| {
        change(expected.photos.get_mut(&id).unwrap());
    };
    let before = Box::new(expected.photos[&id].clone());
    photo(&mut expected, &|photo| {
        photo.copy = "e".repeat(64);
        photo.damage = String::new();
        photo.size = (800, 600);
        photo.crop = Some(Crop { from: (0.1, 1.0), to: (1.0 / 3.0, 0.25), turns: 3 });
    });
    let after = Box::new(expected.photos[&id].clone());
    check(&mut record, Edit::ChangePhoto { id: id.clone(), before, after }, &expected);
    let before = Box::new(expected.photos[&id].clone());
    for crop in [
        Crop { from: (0.1, 0.1), to: (0.1, 0.9), turns: 0 },
        Crop { from: (0.1, 0.1), to: (1.5, 0.9), turns: 0 },
        Crop { turns: 4, ..Crop::WHOLE },
    ] {
        let after = Box::new(Photo { crop: Some(crop), ..(*before).clone() });
        let edit = Edit::ChangePhoto { id: id.clone(), before: before.clone(), after };
        let refused = record.edit(&phone(), NOON, edit).unwrap_err().to_string();
        assert!(refused.contains("two corners on the photo"), "{refused}");
    }

    photo(&mut expected, &|photo| {
        photo.point = Some("roof_membrane".into());
        photo.position = "front".into();
        photo.caption = "A patch".into();
    });
    let edit = Edit::PlacePhoto {
        id: id.clone(),
        point: Some("roof_membrane".into()),
        position: "front".into(),
        caption: Some("A patch".into()),
    };
    check(&mut record, edit, &expected);

    let place = PlaceOnUnit { along: 0.75, across: 0.5 };
    photo(&mut expected, &|photo| photo.place = Some(place));
    check(&mut record, Edit::PlacePhotoOnUnit { id: id.clone(), place: Some(place) }, &expected);

    let (from, to) = ((0.25, -0.5), (1.0 / 3.0, 1.5));
    for mark in [
        Mark::Words { at: (0.0, 0.0), text: "patch / old".into() },
        Mark::Arrow { from, to },
        Mark::Box { from, to },
        Mark::Circle { from, to },
        Mark::Blur { from, to },
    ] {
        photo(&mut expected, &|photo| photo.marks.push(mark.clone()));
        let mark_id = record.fresh_id(&laptop(), 0);
        check(&mut record, Edit::MarkPhoto { id: id.clone(), mark_id, mark }, &expected);

        photo(&mut expected, &|photo| photo.marks.clear());
        let mark_id = record.mark_ids(&id).remove(0);
        check(&mut record, Edit::EraseMark { id: id.clone(), mark_id }, &expected);
    }

    photo(&mut expected, &|photo| {
        photo.point = None;
        photo.position = String::new();
    });
    let edit =
        Edit::PlacePhoto { id: id.clone(), point: None, position: String::new(), caption: None };
    check(&mut record, edit, &expected);

    let ended = moment("2026-06-12T10:00:00-07:00");
    expected.waits.get_mut("w2").unwrap().ended = Some(ended);
    check(&mut record, Edit::EndWait { id: "w2".into(), ended }, &expected);

    let before = Some(instrument());
    let after = inspection::Instrument { counts: 3.5, calibration_due: None, ..instrument() };
    expected.instruments.insert("m/1".into(), after.clone());
    check(&mut record, Edit::SetInstrument { id: "m/1".into(), before, after }, &expected);

    let before = expected.instruments.remove("m/1").unwrap();
    check(&mut record, Edit::ClearInstrument { id: "m/1".into(), before }, &expected);
}

#[test]
fn several_edits_of_one_act_are_one_change() {
    let mut record = new_record();
    let author = phone();
    let [first, second] = [0, 1].map(|nth| record.fresh_id(&author, nth));
    let edits = [
        Edit::AddReading { id: first.into(), reading: reading("battery", "rest", "12.6 V") },
        Edit::AddReading { id: second.into(), reading: reading("battery", "load", "11.9 V") },
    ];
    record.edit_together(&author, NOON, edits).unwrap().unwrap();
    assert_eq!(record.trail().len(), 2);
    assert_eq!(record.inspection().0.readings.len(), 2);
}

#[test]
fn an_edit_that_says_nothing_new_makes_no_change() {
    let mut record = record_of_everything();
    let heads = record.heads();
    let (before, after) = (Box::new(job()), Box::new(job()));
    assert_eq!(record.edit(&phone(), NOON, Edit::ChangeJob { before, after }), Ok(None));
    let entry = everything().points["generator"].clone();
    let edit = Edit::SetPoint { point: "generator".into(), before: None, after: entry };
    assert_eq!(record.edit(&phone(), NOON, edit), Ok(None));
    assert_eq!(record.heads(), heads);
    assert_eq!(record.save(), record_of_everything().save());
}

#[test]
fn ids_of_two_devices_and_of_later_changes_differ() {
    let mut record = new_record();
    let mut ids = vec![record.fresh_id(&phone(), 0), record.fresh_id(&phone(), 1)];
    ids.push(record.fresh_id(&laptop(), 0));
    let id = ids[0].clone().into();
    record
        .edit(&phone(), NOON, Edit::AddReading { id, reading: reading("a", "b", "1 V") })
        .unwrap();
    ids.push(record.fresh_id(&phone(), 0));
    let distinct: std::collections::BTreeSet<_> = ids.iter().collect();
    assert_eq!(distinct.len(), 4, "{ids:?}");
}

/// Edits that cannot be made say why, and leave the record as it is.
#[test]
fn what_cannot_be_kept_is_refused_with_a_sentence_and_changes_nothing() {
    let mut record = record_of_everything();
    let saved = record.save();
    let photo_id = inspection::PhotoId::from("a".repeat(64));
    let mut other_plan = job();
    other_plan.plan_hash = "0".repeat(64);
    let mut too_sharp = everything().photos[&photo_id].clone();
    too_sharp.sharpness = f64::NAN;
    let twice = PointEntry {
        defects: vec![("cut".into(), vec![]), ("cut".into(), vec!["rear".into()])],
        ..point(Outcome::Examined)
    };
    let two_lines = PointEntry { by: "Rosa\nField".into(), ..point(Outcome::Examined) };
    let mut evidence_twice = finding("x");
    evidence_twice.readings = vec!["r1".into(), "r1".into()];
    let cases = [
        (
            Edit::AddReading { id: "r1".into(), reading: reading("a", "b", "1 V") },
            RefusalKind::There,
            "there already is a reading r1",
        ),
        (
            Edit::AddReading { id: "".into(), reading: reading("a", "b", "1 V") },
            RefusalKind::Unfit,
            "\"\" is no id; 1 to 200 bytes without control characters are accepted",
        ),
        (
            Edit::StrikeOutReading { id: "r9".into(), reason: "slip".into() },
            RefusalKind::Gone,
            "there is no reading r9",
        ),
        (
            Edit::StrikeOutReading { id: "r1".into(), reason: "  ".into() },
            RefusalKind::NoWords,
            "say why the reading is struck out; the reason given is empty",
        ),
        (
            Edit::ChangeJob { before: Box::new(job()), after: Box::new(other_plan) },
            RefusalKind::Fixed,
            "a job keeps the plan it was made with; make a new job for another plan",
        ),
        (
            Edit::AddPhoto { id: "e".repeat(64).into(), photo: Box::new(too_sharp) },
            RefusalKind::Number,
            "sharpness is NaN; only finite numbers are accepted",
        ),
        (
            Edit::SetPoint { point: "tires".into(), before: None, after: twice },
            RefusalKind::Twice,
            "the defect `cut` is named twice; name it once with all positions",
        ),
        (
            Edit::SetPoint { point: "tires".into(), before: None, after: two_lines },
            RefusalKind::LineBreak,
            "the name \"Rosa\\nField\" has a line break; write it on one line",
        ),
        (
            Edit::AddFinding { id: "f9".into(), finding: Box::new(evidence_twice) },
            RefusalKind::Twice,
            "`r1` is named twice; name it once",
        ),
        (
            Edit::EraseMark { id: photo_id.clone(), mark_id: "none".into() },
            RefusalKind::Gone,
            &format!("photo {photo_id} has no mark none"),
        ),
    ];
    for (edit, kind, sentence) in cases {
        let refused = record.edit(&phone(), NOON, edit).unwrap_err();
        let RecordError::Refused(refusal) = refused else { panic!("{refused:?}") };
        assert_eq!((refusal.kind, refusal.to_string().as_str()), (kind, sentence));
    }
    let nobody = record::Author::new([1; 16], " ");
    let edit = Edit::EndWait { id: "w2".into(), ended: moment("2026-06-12T10:00") };
    let refused = record.edit(&nobody, NOON, edit).unwrap_err().to_string();
    assert!(refused.contains("a person's name is needed"), "{refused}");
    assert_eq!(record.save(), saved);
}

fn photos(count: usize) -> Vec<Edit> {
    let id = |number: usize| format!("{number:064x}").into();
    (0..count).map(|number| Edit::AddPhoto { id: id(number), photo: Box::default() }).collect()
}

/// Photos by the hundred come in as if each had come alone.
#[test]
fn many_acts_at_once_are_the_same_changes_as_one_by_one() {
    let (mut together, mut alone) = (new_record(), new_record());
    let acts = photos(40).into_iter().map(|edit| [edit]);
    let changes = together.edit_each(&phone(), NOON, acts).unwrap();
    assert_eq!(changes.len(), 40);
    for (edit, change) in photos(40).into_iter().zip(&changes) {
        assert_eq!(alone.edit(&phone(), NOON, edit).unwrap().as_ref(), Some(change));
    }
    assert_eq!(together.save(), alone.save());
    let nothing: [[Edit; 0]; 2] = [[], []];
    assert_eq!(together.edit_each(&phone(), NOON, nothing).unwrap(), []);
}

#[test]
fn where_one_of_many_acts_is_refused_none_was_made() {
    let mut record = new_record();
    let untouched = record.clone();
    let mut acts = photos(5);
    acts.push(acts[2].clone());
    let refused = record.edit_each(&phone(), NOON, acts.into_iter().map(|edit| [edit]));
    assert!(matches!(refused, Err(RecordError::Refused(it)) if it.kind == RefusalKind::There));
    assert_eq!(record.save(), untouched.save());
    assert_eq!(record.fresh_id(&phone(), 0), untouched.fresh_id(&phone(), 0));
    // The device goes on where it was, and others take that in.
    let [edit] = photos(1).try_into().unwrap();
    let change = record.edit(&phone(), NOON, edit).unwrap().unwrap();
    let mut other = untouched;
    other.apply(&change.bytes).unwrap();
    assert_eq!(other.save(), record.save());
}
