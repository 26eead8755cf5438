//! Two devices at once: both keep their work, and differing values stay readable until settled.

use inspection::Outcome;
use record::{Edit, RecordError};

use crate::fixtures::*;

fn weather(words: &str) -> Edit {
    let mut after = job();
    after.weather = words.into();
    Edit::ChangeJob { before: Box::new(job()), after: Box::new(after) }
}

#[test]
fn different_values_of_one_field_are_both_told_with_who_wrote_them() {
    let mut one = new_record();
    let mut other = one.clone();
    let rain = one.edit(&laptop(), NOON + 1, weather("rain")).unwrap().unwrap();
    let sleet = other.edit(&tablet(), NOON + 2, weather("sleet")).unwrap().unwrap();
    one.apply(&sleet.bytes).unwrap();
    other.apply(&rain.bytes).unwrap();
    assert_eq!(one.conflicts(), other.conflicts());
    let [conflict] = &one.conflicts()[..] else { panic!("one conflict") };
    assert_eq!(conflict.field.to_string(), "job: weather");
    let told: Vec<_> = conflict
        .values
        .iter()
        .map(|value| (value.value.as_str(), value.person.as_str(), value.at_unix_seconds - NOON))
        .collect();
    assert_eq!(told, [("rain", "Jan Desk", 1), ("sleet", "Rosa Field", 2)]);
    let shown: Vec<_> = conflict.values.iter().filter(|value| value.shown).collect();
    assert_eq!(shown.len(), 1);
    assert_eq!(shown[0].value, one.inspection().0.job.weather);

    let kept = conflict.values.iter().find(|value| !value.shown).unwrap();
    let edit = Edit::Settle { field: conflict.field.clone(), keep: kept.change };
    let settled = one.edit(&laptop(), NOON + 3, edit).unwrap().unwrap();
    assert_eq!(settled.message, format!("settled job: weather as: {}", kept.value));
    other.apply(&settled.bytes).unwrap();
    for record in [&one, &other] {
        assert_eq!(record.conflicts(), []);
        assert_eq!(record.inspection().0.job.weather, kept.value);
    }
}

#[test]
fn keeping_the_shown_value_settles_too() {
    let mut one = new_record();
    let mut other = one.clone();
    one.edit(&laptop(), NOON, weather("rain")).unwrap();
    other.edit(&tablet(), NOON, weather("sleet")).unwrap();
    one.merge(&other).unwrap();
    let conflict = one.conflicts().remove(0);
    let shown = conflict.values.iter().find(|value| value.shown).unwrap();
    let edit = Edit::Settle { field: conflict.field.clone(), keep: shown.change };
    one.edit(&laptop(), NOON, edit.clone()).unwrap().unwrap();
    assert_eq!(one.conflicts(), []);
    assert_eq!(one.inspection().0.job.weather, shown.value);
    assert_eq!(one.edit(&laptop(), NOON, edit), Ok(None), "it is settled already");
    let lost = conflict.values.iter().find(|value| !value.shown).unwrap();
    let edit = Edit::Settle { field: conflict.field.clone(), keep: lost.change };
    let gone = one.edit(&laptop(), NOON, edit).unwrap_err();
    assert!(gone.to_string().contains("look at the conflict again"), "{gone}");
}

#[test]
fn the_same_value_written_twice_is_no_conflict() {
    let mut one = new_record();
    let mut other = one.clone();
    one.edit(&laptop(), NOON, weather("rain")).unwrap();
    other.edit(&tablet(), NOON, weather("rain")).unwrap();
    one.merge(&other).unwrap();
    assert_eq!(one.conflicts(), []);
}

#[test]
fn different_fields_of_one_thing_do_not_collide() {
    let mut one = new_record();
    let mut other = one.clone();
    let mut site = job();
    site.site.address = "Gate 3".into();
    one.edit(&laptop(), NOON, weather("rain")).unwrap();
    let edit = Edit::ChangeJob { before: Box::new(job()), after: Box::new(site) };
    other.edit(&tablet(), NOON, edit).unwrap();
    one.merge(&other).unwrap();
    let (inspection, _) = one.inspection();
    assert_eq!(inspection.job.weather, "rain");
    assert_eq!(inspection.job.site.address, "Gate 3");
    assert_eq!(one.conflicts(), []);
}

/// Two devices meet a point for the first time at once: neither hides the other's work.
#[test]
fn an_entry_begun_twice_at_once_keeps_both_sides_work() {
    let mut one = new_record();
    let mut other = one.clone();
    let mut left = point(Outcome::Examined);
    left.defects = vec![("cut".into(), vec!["left_front".into()])];
    let mut right = point(Outcome::NotExamined { reason: "covered".into() });
    right.defects = vec![("cut".into(), vec!["right_rear".into()]), ("bald".into(), vec![])];
    right.notes = "under the cover".into();
    let set = |after| Edit::SetPoint { point: "tire_condition".into(), before: None, after };
    one.edit(&laptop(), NOON, set(left)).unwrap();
    other.edit(&tablet(), NOON, set(right)).unwrap();
    one.merge(&other).unwrap();
    let (inspection, problems) = one.inspection();
    assert_eq!(problems, []);
    let entry = &inspection.points["tire_condition"];
    let mut positions = entry.defects[0].1.clone();
    positions.sort();
    assert_eq!(entry.defects.len(), 2);
    assert_eq!(positions, ["left_front", "right_rear"]);
    assert_eq!(entry.notes, "under the cover");
    let [conflict] = &one.conflicts()[..] else { panic!("one conflict") };
    assert_eq!(conflict.field.to_string(), "point tire_condition: outcome");
    let values: Vec<_> = conflict.values.iter().map(|value| value.value.as_str()).collect();
    assert!(values.contains(&"examined, 2026-06-12T09:14:00-07:00, Rosa Field"), "{values:?}");
    assert!(
        values.contains(&"not_examined, 2026-06-12T09:14:00-07:00, Rosa Field, covered"),
        "{values:?}"
    );
}

#[test]
fn a_point_taken_back_while_noted_elsewhere_keeps_the_note_readable() {
    let mut one = new_record();
    let entry = point(Outcome::Examined);
    let set = |before, after| Edit::SetPoint { point: "step".into(), before, after };
    one.edit(&laptop(), NOON, set(None, entry.clone())).unwrap();
    let mut other = one.clone();
    let clear = Edit::ClearPoint { point: "step".into(), before: entry.clone() };
    one.edit(&laptop(), NOON, clear).unwrap();
    let mut noted = entry.clone();
    noted.notes = "wobbles".into();
    other.edit(&tablet(), NOON, set(Some(entry), noted)).unwrap();
    one.merge(&other).unwrap();
    let (inspection, problems) = one.inspection();
    assert!(inspection.points.is_empty());
    assert_eq!(
        problems[0].to_string(),
        "point step: nobody says whether it was examined, so it is not shown; it has no defects; notes: wobbles"
    );
}

#[test]
fn the_same_photo_added_on_two_devices_is_one_photo_with_both_sides_facts() {
    let mut one = new_record();
    let mut other = one.clone();
    let id = inspection::PhotoId::from("a".repeat(64));
    let mut placed = photo("IMG_1.jpg");
    placed.point = Some("step".into());
    let mut captioned = photo("IMG_1.jpg");
    captioned.caption = "The step".into();
    let add = |photo| Edit::AddPhoto { id: id.clone(), photo: Box::new(photo) };
    one.edit(&laptop(), NOON, add(placed)).unwrap();
    other.edit(&tablet(), NOON, add(captioned)).unwrap();
    one.merge(&other).unwrap();
    let (inspection, problems) = one.inspection();
    assert_eq!(problems, []);
    assert_eq!(inspection.photos[&id].point, Some("step".into()));
    assert_eq!(inspection.photos[&id].caption, "The step");
    assert_eq!(one.conflicts(), []);
}

#[test]
fn another_jobs_record_is_refused() {
    let mut one = new_record();
    let mut job = job();
    job.number = "2026-042".into();
    let other = record::Record::create(&laptop(), NOON, &job, &dwelling(), PLAN).unwrap();
    let expected = RecordError::OtherJob { change: other.beginning(), beginning: one.beginning() };
    assert_eq!(one.merge(&other), Err(expected.clone()));
    assert_eq!(one.apply(&other.changes_after(&[])[0].bytes), Err(expected));
    let saves = [one.save(), other.save()];
    let both = record::Record::load(saves.iter().map(Vec::as_slice)).unwrap_err();
    assert!(both.to_string().contains("begins another job's record"), "{both}");
}

#[test]
fn one_device_id_used_twice_is_told_and_nothing_is_taken_in() {
    let mut one = new_record();
    let mut copy = one.clone();
    one.edit(&laptop(), NOON, weather("rain")).unwrap();
    let twin = copy.edit(&laptop(), NOON, weather("sleet")).unwrap().unwrap();
    let before = one.save();
    let refused = one.apply(&twin.bytes).unwrap_err();
    assert!(matches!(refused, RecordError::DeviceTwice { sequence: 1, .. }), "{refused}");
    assert!(refused.to_string().contains("give the device a new id"), "{refused}");
    assert_eq!(one.save(), before);
}
