//! Three devices, random edits, changes delivered in any order and more than once: all read the same,
//! and nothing is lost.

use std::collections::{BTreeMap, BTreeSet};

use inspection::Outcome;
use proptest::prelude::*;
use record::{Author, Edit, Hash, Record};

use crate::fixtures::*;

/// One step on one of three devices.
#[derive(Clone, Debug)]
enum Step {
    Reading,
    StrikeOut(usize),
    Photo(u8),
    Finding,
    Weather(u8),
    Note(u8, u8),
    Defect(u8, u8),
    Mark(u8),
    /// Takes in the changes of another device, in an order given by the number.
    Fetch(usize, u64),
}

fn steps() -> impl Strategy<Value = Vec<(usize, Step)>> {
    let step = prop_oneof![
        4 => Just(Step::Reading),
        1 => (0..8_usize).prop_map(Step::StrikeOut),
        2 => (0..4_u8).prop_map(Step::Photo),
        2 => Just(Step::Finding),
        2 => (0..5_u8).prop_map(Step::Weather),
        2 => (0..3_u8, 0..5_u8).prop_map(|(point, note)| Step::Note(point, note)),
        2 => (0..3_u8, 0..4_u8).prop_map(|(point, position)| Step::Defect(point, position)),
        2 => (0..4_u8).prop_map(Step::Mark),
        3 => (0..3_usize, any::<u64>()).prop_map(|(from, order)| Step::Fetch(from, order)),
    ];
    prop::collection::vec((0..3_usize, step), 1..40)
}

/// What was entered anywhere, kept beside the records.
#[derive(Debug, Default)]
struct Entered {
    readings: BTreeSet<String>,
    struck_out: BTreeSet<String>,
    photos: BTreeSet<String>,
    findings: BTreeSet<String>,
    marks: BTreeSet<(String, String)>,
    defects: BTreeSet<(u8, String)>,
    /// For each scalar field: every value with the change that wrote it.
    scalars: BTreeMap<String, Vec<(Hash, String)>>,
}

/// Puts things into an order that depends on the number alone.
fn shuffle<T>(things: &mut [T], mut order: u64) {
    for index in (1..things.len()).rev() {
        order =
            order.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let other = usize::try_from(order >> 33).unwrap() % (index + 1);
        things.swap(index, other);
    }
}

fn step(records: &mut [Record; 3], device: usize, step: &Step, number: i64, entered: &mut Entered) {
    let author = Author::new([u8::try_from(device).unwrap() + 1; 16], format!("Person {device}"));
    let record = &mut records[device];
    let (now, _) = record.inspection();
    let id = record.fresh_id(&author, 0);
    let photo_id = |number: u8| inspection::PhotoId::from(format!("{number}").repeat(64));
    let mut scalar = None;
    let edit = match step {
        Step::Reading => {
            entered.readings.insert(id.clone());
            Edit::AddReading { id: id.into(), reading: reading("battery", "rest", "12.6 V") }
        }
        Step::StrikeOut(index) => {
            let Some(id) = now.readings.keys().nth(*index) else { return };
            entered.struck_out.insert(id.to_string());
            Edit::StrikeOutReading { id: id.clone(), reason: format!("reason {number}") }
        }
        Step::Photo(number) => {
            let id = photo_id(*number);
            if now.photos.contains_key(&id) {
                return;
            }
            entered.photos.insert(id.to_string());
            Edit::AddPhoto { id, photo: Box::new(photo("IMG.jpg")) }
        }
        Step::Finding => {
            entered.findings.insert(id.clone());
            Edit::AddFinding { id: id.into(), finding: Box::new(finding("x")) }
        }
        Step::Weather(words) => {
            let before = Box::new(now.job.clone());
            let mut after = now.job;
            after.weather = format!("weather {words} in step {number}");
            scalar = Some(("job: weather".to_owned(), after.weather.clone()));
            Edit::ChangeJob { before, after: Box::new(after) }
        }
        Step::Note(which, words) => {
            let name = format!("point{which}");
            let before = now.points.get(&name[..]).cloned();
            let mut after = before.clone().unwrap_or_else(|| point(Outcome::Examined));
            after.notes = format!("note {words} in step {number}");
            scalar = Some((format!("point {name}: notes"), after.notes.clone()));
            Edit::SetPoint { point: name.into(), before, after }
        }
        Step::Defect(which, position) => {
            let name = format!("point{which}");
            let before = now.points.get(&name[..]).cloned();
            let mut after = before.clone().unwrap_or_else(|| point(Outcome::Examined));
            let position = format!("position{position}");
            if after.defects.is_empty() {
                after.defects.push(("cut".into(), vec![]));
            }
            if after.defects[0].1.contains(&position) {
                return;
            }
            after.defects[0].1.push(position.clone());
            entered.defects.insert((*which, position));
            Edit::SetPoint { point: name.into(), before, after }
        }
        Step::Mark(number) => {
            let photo = photo_id(*number);
            if !now.photos.contains_key(&photo) {
                return;
            }
            entered.marks.insert((photo.to_string(), id.clone()));
            let mark = inspection::Mark::Words { at: (0.5, 0.5), text: id.clone() };
            Edit::MarkPhoto { id: photo, mark_id: id, mark }
        }
        Step::Fetch(from, order) => {
            let mut changes = records[*from].changes_after(&[]);
            changes.remove(0);
            shuffle(&mut changes, *order);
            // Some never arrive this time, some arrive twice.
            changes.truncate(changes.len() - changes.len() / 4);
            let twice: Vec<_> = changes.iter().step_by(3).cloned().collect();
            for change in changes.iter().chain(&twice) {
                records[device].apply(&change.bytes).unwrap();
            }
            return;
        }
    };
    let change = record.edit(&author, NOON + number, edit).unwrap();
    if let (Some((field, value)), Some(change)) = (scalar, change) {
        entered.scalars.entry(field).or_default().push((change.hash, value));
    }
}

/// Whether the later change came after the earlier one was known.
fn follows(deps: &BTreeMap<Hash, Vec<Hash>>, later: Hash, earlier: Hash) -> bool {
    let mut stack = vec![later];
    let mut seen = BTreeSet::new();
    while let Some(hash) = stack.pop() {
        if hash == earlier {
            return true;
        }
        if seen.insert(hash) {
            stack.extend(&deps[&hash]);
        }
    }
    false
}

fn check_that_nothing_is_lost(record: &Record, entered: &Entered) {
    let (inspection, problems) = record.inspection();
    assert_eq!(problems, []);
    for id in &entered.readings {
        assert!(inspection.readings.contains_key(&id[..]), "reading {id}");
    }
    for id in &entered.struck_out {
        assert!(inspection.readings[&id[..]].struck_out.is_some(), "reading {id} is struck out");
    }
    for id in &entered.photos {
        assert!(inspection.photos.contains_key(&id[..]), "photo {id}");
    }
    for id in &entered.findings {
        assert!(inspection.findings.contains_key(&id[..]), "finding {id}");
    }
    for (photo, text) in &entered.marks {
        let there = inspection.photos[&photo[..]].marks.iter().any(
            |mark| matches!(mark, inspection::Mark::Words { text: words, .. } if words == text),
        );
        assert!(there, "mark {text} on {photo}");
    }
    for (which, position) in &entered.defects {
        let point = &inspection.points[&format!("point{which}")[..]];
        assert!(point.defects[0].1.contains(position), "{position} at point {which}");
    }
    let deps = record.trail().into_iter().map(|entry| (entry.hash, entry.deps)).collect();
    let conflicts: BTreeMap<_, _> = record
        .conflicts()
        .into_iter()
        .map(|conflict| (conflict.field.to_string(), conflict.values))
        .collect();
    for (field, values) in &entered.scalars {
        let shown = match field.strip_prefix("point ") {
            None => inspection.job.weather.clone(),
            Some(rest) => {
                let (id, _) = rest.split_once(':').unwrap();
                inspection.points[id].notes.clone()
            }
        };
        for (hash, value) in values {
            let overwritten =
                values.iter().any(|(later, _)| later != hash && follows(&deps, *later, *hash));
            let told = conflicts.get(field).is_some_and(|told| {
                told.iter().any(|one| one.value == *value && one.change == *hash)
            });
            assert!(
                overwritten || *value == shown || told,
                "{field}: `{value}` is neither overwritten, nor shown, nor told"
            );
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn devices_agree_and_nothing_is_lost(steps in steps(), orders in prop::array::uniform3(any::<u64>())) {
        let beginning = new_record();
        let mut records = [beginning.clone(), beginning.clone(), beginning];
        let mut entered = Entered::default();
        for (number, (device, one)) in (0_i64..).zip(&steps) {
            step(&mut records, *device, one, number, &mut entered);
        }
        let all: Vec<_> = records.iter().flat_map(|record| record.changes_after(&[])).collect();
        for (record, order) in records.iter_mut().zip(orders) {
            let mut changes = all.clone();
            shuffle(&mut changes, order);
            for change in changes {
                record.apply(&change.bytes).unwrap();
            }
        }
        let replayed = Record::load(all.iter().rev().map(|change| &change.bytes[..])).unwrap();
        let saved = records[2].save();
        let loaded = Record::load([&saved[..]]).unwrap();
        for record in [&records[1], &records[2], &replayed, &loaded] {
            prop_assert_eq!(record.heads(), records[0].heads());
            prop_assert_eq!(record.inspection(), records[0].inspection());
            prop_assert_eq!(record.conflicts(), records[0].conflicts());
            prop_assert_eq!(record.trail(), records[0].trail());
        }
        check_that_nothing_is_lost(&records[0], &entered);
    }
}
