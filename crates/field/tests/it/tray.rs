//! The photo tray: where photos likely belong, clocks that are off, photos that are nearly alike, marks.

use std::collections::BTreeSet;

use field::view::{MarkRow, UNDRAWN};
use field::{
    Act, Answer, Exposure, Language, Now, PhotoPlaced, PhotoTaken, Stack, Sure, Texts, TrayRow,
    Visit,
};
use inspection::{Crop, Mark, Moment, Photo, PhotoId, PointId};
use look::{Fingerprint, Look};
use proptest::prelude::*;

use crate::visits::{demo_visit, minute};

/// So many seconds after nine.
fn second(seconds: i64) -> Now {
    let base = minute(0);
    let local = base.moment.local.checked_add(jiff::SignedDuration::from_secs(seconds)).unwrap();
    Now { unix_seconds: base.unix_seconds + seconds, moment: Moment { local, ..base.moment } }
}

fn examine(visit: &mut Visit, point: &PointId, seconds: i64) {
    let act = Act::Answer { point: point.clone(), answer: Answer::Examined };
    visit.act(act, second(seconds)).unwrap();
}

fn photo_id(number: usize) -> PhotoId {
    PhotoId::from(format!("{number:064x}"))
}

/// A photo whose fingerprint is like no other's unless the same is given.
fn photo(number: usize, seconds: i64) -> PhotoTaken {
    let mixed = u64::try_from(number).unwrap().wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    PhotoTaken {
        id: photo_id(number),
        photo: Box::new(Photo {
            file_name: format!("IMG_{number:04}.jpg"),
            taken: Some(second(seconds).moment),
            camera: "Ob F2".to_owned(),
            ..Photo::default()
        }),
        look: Some(Look {
            sharpness: 500.0,
            brightness: 0.5,
            blown: 0.0,
            black: 0.0,
            fingerprint: Fingerprint(mixed),
        }),
    }
}

fn take(visit: &mut Visit, photo: PhotoTaken) {
    visit.act(Act::TakePhoto(photo), second(0)).unwrap();
}

fn stacks(visit: &Visit) -> Vec<Stack> {
    let rows = visit.tray().rows.into_iter();
    rows.filter_map(|row| match row {
        TrayRow::Photos(stack) => Some(*stack),
        TrayRow::Entry { .. } => None,
    })
    .collect()
}

/// Points of the visit, each examined some minutes after the one before; when.
fn walked(visit: &mut Visit, count: usize) -> Vec<(PointId, i64)> {
    let points: Vec<PointId> =
        visit.points().take(count).map(|point| PointId::from(point.id.as_str())).collect();
    let mut at = 0;
    let mut walked = Vec::new();
    for (number, point) in points.into_iter().enumerate() {
        // Not evenly: between one and a half and five minutes.
        at += 90 + i64::try_from(number * 7919 % 211).unwrap();
        examine(visit, &point, at);
        walked.push((point, at));
    }
    walked
}

#[test]
fn what_is_photographed_shortly_before_an_entry_belongs_there() {
    let mut visit = demo_visit();
    let walked = walked(&mut visit, 30);
    for (number, (_, at)) in walked.iter().enumerate() {
        take(&mut visit, photo(number, at - 20));
    }
    let (stacks, mut sure) = (stacks(&visit), 0);
    assert_eq!(stacks.len(), 30);
    for stack in stacks {
        let number =
            walked.iter().position(|(_, at)| second(at - 20).moment == stack.front.taken.unwrap());
        let suggestion = stack.suggestion.unwrap();
        assert_eq!(suggestion.point, walked[number.unwrap()].0, "{suggestion:?}");
        assert!(suggestion.sure >= Sure::Likely, "{suggestion:?}");
        assert_eq!(suggestion.why.to_string(), "Taken 0 min 20 s before an entry there");
        sure += usize::from(suggestion.sure == Sure::Sure);
    }
    assert!(sure >= 25, "{sure} of 30");
}

#[test]
fn far_from_every_entry_nothing_is_suggested_and_between_two_it_is_a_guess() {
    let mut visit = demo_visit();
    let points: Vec<PointId> =
        visit.points().take(2).map(|point| PointId::from(point.id.as_str())).collect();
    examine(&mut visit, &points[0], 0);
    examine(&mut visit, &points[1], 400);
    take(&mut visit, photo(1, 7200));
    take(&mut visit, photo(2, 95));
    let stacks = stacks(&visit);
    assert_eq!(stacks[1].suggestion, None);
    let between = stacks[0].suggestion.clone().unwrap();
    assert_eq!(between.sure, Sure::Guess, "{between:?}");
    assert!(between.why.to_string().starts_with("Taken between two points; it may as well be "));
}

#[test]
fn photos_taken_one_right_after_the_other_belong_together() {
    let mut visit = demo_visit();
    let points: Vec<PointId> =
        visit.points().take(2).map(|point| PointId::from(point.id.as_str())).collect();
    examine(&mut visit, &points[0], 0);
    examine(&mut visit, &points[1], 300);
    for number in 0..6 {
        take(&mut visit, photo(number, 40 + 10 * i64::try_from(number).unwrap()));
    }
    let suggested: BTreeSet<PointId> =
        stacks(&visit).into_iter().map(|stack| stack.suggestion.unwrap().point).collect();
    assert_eq!(suggested.len(), 1);
    // An entry in between parts them.
    let answer = Answer::NotExamined { reason: "wet".to_owned() };
    visit.act(Act::Answer { point: points[0].clone(), answer }, second(62)).unwrap();
    let suggested: Vec<PointId> =
        stacks(&visit).into_iter().map(|stack| stack.suggestion.unwrap().point).collect();
    assert_eq!(suggested[..3], [points[0].clone(), points[0].clone(), points[0].clone()]);
}

#[test]
fn a_camera_whose_clock_is_off_is_found_corrected_and_taken_back() {
    for off in [3_600, -4 * 3_600 - 1_120, 700, 86_400] {
        let mut visit = demo_visit();
        let walked = walked(&mut visit, 40);
        let mut right = Vec::new();
        for (number, (point, at)) in walked.iter().enumerate() {
            for extra in 0..3_usize {
                let id = 3 * number + extra;
                let taken = at - 12 - 9 * i64::try_from(extra).unwrap();
                take(&mut visit, photo(id, taken - off));
                right.push((photo_id(id), point.clone()));
            }
        }
        let clocks = visit.tray().clocks;
        assert_eq!(clocks.len(), 1, "{off}");
        let clock = &clocks[0];
        assert!((clock.add_seconds - off).abs() <= 40, "{off}: {}", clock.add_seconds);
        assert!(
            clock.beside_then > clock.beside_now + 40,
            "{off}: {} to {}",
            clock.beside_now,
            clock.beside_then
        );
        assert_eq!((clock.photos.len(), clock.camera.as_str()), (120, "Ob F2"));
        let before = visit.inspection().clone();
        let act =
            Act::CorrectPhotoTimes { photos: clock.photos.clone(), add_seconds: clock.add_seconds };
        visit.act(act, second(20_000)).unwrap();
        assert_eq!(visit.tray().clocks, []);
        let good = stacks(&visit).into_iter().filter(|stack| {
            let suggested = stack.suggestion.as_ref().map(|it| &it.point);
            suggested == right.iter().find(|(id, _)| *id == stack.front.id).map(|(_, point)| point)
        });
        let (good, all) = (good.count(), stacks(&visit).len());
        assert!(good * 10 >= all * 9, "{off}: {good} of {all}");
        visit.undo(second(20_001)).unwrap();
        assert_eq!(*visit.inspection(), before);
    }
}

#[test]
fn a_clock_that_is_right_is_left_alone() {
    let mut visit = demo_visit();
    let walked = walked(&mut visit, 40);
    for (number, (_, at)) in walked.iter().enumerate() {
        take(&mut visit, photo(number, at - 15 - i64::try_from(number % 5 * 8).unwrap()));
    }
    assert_eq!(visit.tray().clocks, []);
    // A few photos prove nothing.
    let mut visit = demo_visit();
    self::walked(&mut visit, 40);
    for number in 0..5 {
        take(&mut visit, photo(number, 50_000 + i64::try_from(number).unwrap()));
    }
    assert_eq!(visit.tray().clocks, []);
}

#[test]
fn nearly_alike_photos_lie_behind_the_sharpest() {
    let mut visit = demo_visit();
    let like = |number: usize, seconds: i64, sharpness: f64, bits: u64| {
        let mut taken = photo(number, seconds);
        let look = taken.look.as_mut().unwrap();
        (look.sharpness, look.fingerprint) = (sharpness, Fingerprint(0xf0f0_f0f0 ^ bits));
        taken
    };
    take(&mut visit, like(1, 0, 90.0, 0));
    take(&mut visit, like(2, 4, 420.0, 0b11));
    take(&mut visit, like(3, 9, 300.0, 0b1_0000));
    // As like, but much later: the same place after a repair.
    take(&mut visit, like(4, 700, 300.0, 0));
    take(&mut visit, photo(5, 12));
    let found: Vec<(String, usize)> = stacks(&visit)
        .into_iter()
        .map(|stack| (stack.front.file_name, stack.behind.len()))
        .collect();
    let expected = [("IMG_0002.jpg", 2), ("IMG_0005.jpg", 0), ("IMG_0004.jpg", 0)];
    assert_eq!(found, expected.map(|(name, count)| (name.to_owned(), count)));
    let stack = &stacks(&visit)[0];
    let behind: Vec<(&str, bool)> =
        stack.behind.iter().map(|photo| (photo.file_name.as_str(), photo.unsharp)).collect();
    assert_eq!(behind, [("IMG_0001.jpg", false), ("IMG_0003.jpg", false)]);
    // Placed elsewhere, one is in no stack of the others.
    let point = visit.points().next().map(|point| PointId::from(point.id.as_str()));
    let placed = vec![PhotoPlaced { photo: photo_id(3), point, position: String::new() }];
    visit.act(Act::PlacePhotos(placed), second(800)).unwrap();
    assert_eq!(stacks(&visit)[0].behind.len(), 1);
}

#[test]
fn blurred_dark_and_unmeasured_photos_are_told() {
    let mut visit = demo_visit();
    for number in 0..5 {
        take(&mut visit, photo(number, 300 * i64::try_from(number).unwrap()));
    }
    let mut blurred = photo(6, 5_000);
    blurred.look.as_mut().unwrap().sharpness = 30.0;
    let mut dark = photo(7, 6_000);
    dark.look.as_mut().unwrap().brightness = 0.05;
    let bare = |number, seconds| PhotoTaken { look: None, ..photo(number, seconds) };
    for taken in [blurred, dark, bare(8, 7_000), bare(9, 7_001), bare(10, 7_009)] {
        take(&mut visit, taken);
    }
    let tray = visit.tray();
    assert_eq!((tray.photos, tray.to_place, tray.unmeasured), (10, 10, 3));
    let stacks = stacks(&visit);
    let of = |name: &str| stacks.iter().find(|stack| stack.front.file_name == name).unwrap();
    assert!(of("IMG_0006.jpg").front.unsharp && !of("IMG_0007.jpg").front.unsharp);
    assert_eq!(of("IMG_0007.jpg").front.exposure, Some(Exposure::Dark));
    // Without figures two of one moment are one shot; nothing is said of their sharpness.
    assert_eq!(of("IMG_0008.jpg").behind.len(), 1);
    assert!(of("IMG_0010.jpg").behind.is_empty() && !of("IMG_0010.jpg").front.unsharp);
}

#[test]
fn several_photos_are_placed_in_one_act_and_taken_back_in_one() {
    let mut visit = demo_visit();
    let point = visit.points().next().map(|point| PointId::from(point.id.as_str())).unwrap();
    for number in 0..3 {
        take(&mut visit, photo(number, 10));
    }
    let place = |point: &PointId| {
        let all = (0..3).map(|number| PhotoPlaced {
            photo: photo_id(number),
            point: Some(point.clone()),
            position: String::new(),
        });
        Act::PlacePhotos(all.collect())
    };
    assert_eq!(visit.act(place(&point), second(20)).unwrap().len(), 1);
    assert_eq!(visit.tray().to_place, 0);
    assert_eq!(visit.undo_label().unwrap().to_string(), "3 photos");
    assert!(visit.act(place(&point), second(21)).unwrap().is_empty());
    assert_eq!(visit.act(place(&"wings".into()), second(22)).unwrap_err().key, "refusal-no-point");
    visit.undo(second(23)).unwrap();
    assert_eq!(visit.tray().to_place, 3);
}

#[test]
fn a_photo_without_a_time_goes_with_its_neighbours_by_name() {
    let mut visit = demo_visit();
    let point = visit.points().next().map(|point| PointId::from(point.id.as_str())).unwrap();
    examine(&mut visit, &point, 100);
    examine(&mut visit, &point, 200);
    take(&mut visit, photo(1, 120));
    take(&mut visit, photo(3, 180));
    // An entry of an older program, or a scan: the record says no time.
    let untimed =
        inspection::Photo { file_name: "IMG_0002.jpg".to_owned(), ..inspection::Photo::default() };
    let edit = record::Edit::AddPhoto { id: photo_id(2), photo: Box::new(untimed) };
    let other = record::Author::new([9; 16], "A. Helper");
    let mut record = record::Record::load(
        visit.record().changes_after(&[]).iter().map(|change| change.bytes.as_slice()),
    )
    .unwrap();
    let change = record.edit(&other, second(300).unix_seconds, edit).unwrap().unwrap();
    assert!(visit.arrived(&[change.bytes]).is_empty());
    let last = stacks(&visit).pop().unwrap();
    assert_eq!((last.front.file_name.as_str(), last.front.taken), ("IMG_0002.jpg", None));
    assert_eq!(last.suggestion.map(|it| (it.point, it.sure)), Some((point, Sure::Likely)));
}

#[test]
fn marks_are_drawn_redrawn_taken_off_and_taken_back() {
    let mut visit = demo_visit();
    take(&mut visit, photo(1, 0));
    let arrow = Mark::Arrow { from: (0.1, 0.1), to: (0.5, 0.4) };
    let shown = |visit: &Visit| visit.photo(&photo_id(1)).unwrap().marks;
    let mark = |mark_id: Option<String>, mark: &Mark| Act::MarkPhoto {
        photo: photo_id(1),
        mark_id,
        mark: mark.clone(),
    };
    visit.act(mark(None, &arrow), second(1)).unwrap();
    let [MarkRow { id, mark: drawn }] = shown(&visit).try_into().unwrap();
    assert_eq!(drawn, arrow);
    let longer = Mark::Arrow { from: (0.1, 0.1), to: (0.9, 0.9) };
    visit.act(mark(Some(id.clone()), &longer), second(2)).unwrap();
    assert_eq!(shown(&visit)[0].mark, longer);
    visit.undo(second(3)).unwrap();
    assert_eq!(shown(&visit)[0].mark, arrow);
    visit.act(Act::EraseMark { photo: photo_id(1), mark_id: id.clone() }, second(4)).unwrap();
    assert!(shown(&visit).is_empty());
    visit.undo(second(5)).unwrap();
    assert_eq!(shown(&visit), [MarkRow { id, mark: arrow.clone() }]);
    for (wrong, key) in [
        (Mark::Arrow { from: (0.5, 0.5), to: (0.501, 0.5) }, "refusal-mark-small"),
        (Mark::Box { from: (0.1, 0.1), to: (0.1, 0.9) }, "refusal-mark-small"),
        (Mark::Circle { from: (0.1, 0.1), to: (1.1, 0.9) }, "refusal-mark-beyond"),
        (Mark::Blur { from: (f64::NAN, 0.1), to: (0.5, 0.9) }, "refusal-mark-beyond"),
        (Mark::Words { at: (0.5, 0.5), text: "  ".to_owned() }, "refusal-mark-no-words"),
    ] {
        assert_eq!(visit.act(mark(None, &wrong), second(6)).unwrap_err().key, key);
    }
    let gone = mark(Some("none".to_owned()), &arrow);
    assert_eq!(visit.act(gone, second(7)).unwrap_err().key, "refusal-no-mark");
}

#[test]
fn what_is_shown_of_a_photo_is_chosen_turned_and_taken_back() {
    let mut visit = demo_visit();
    take(&mut visit, photo(1, 0));
    let shown = |visit: &Visit| visit.photo(&photo_id(1)).unwrap().crop;
    let crop = |crop| Act::CropPhoto { photo: photo_id(1), crop };
    let part = Crop { from: (0.9, 0.8), to: (0.1, 0.2), turns: 0 };
    visit.act(crop(Some(part)), second(1)).unwrap();
    assert_eq!(shown(&visit), Some(part));
    visit.act(crop(Some(Crop { turns: 5, ..part })), second(2)).unwrap();
    assert_eq!(shown(&visit), Some(Crop { turns: 1, ..part }));
    assert_eq!(visit.undo_label().unwrap().to_string(), "shown part of a photo");
    visit.undo(second(3)).unwrap();
    assert_eq!(shown(&visit), Some(part));
    // All of it as it stands is no part.
    visit.act(crop(Some(Crop::WHOLE)), second(4)).unwrap();
    assert_eq!(shown(&visit), None);
    assert!(visit.act(crop(None), second(5)).unwrap().is_empty());
    for (wrong, key) in [
        (Crop { from: (0.1, 0.1), to: (0.11, 0.9), turns: 0 }, "refusal-crop-small"),
        (Crop { from: (0.1, 0.1), to: (1.01, 0.9), turns: 0 }, "refusal-mark-beyond"),
        (Crop { from: (f64::NAN, 0.1), to: (1.0, 0.9), turns: 0 }, "refusal-mark-beyond"),
    ] {
        assert_eq!(visit.act(crop(Some(wrong)), second(6)).unwrap_err().key, key);
    }
    let nobody = Act::CropPhoto { photo: photo_id(9), crop: None };
    assert_eq!(visit.act(nobody, second(7)).unwrap_err().key, "refusal-no-photo");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(8))]

    /// Whatever was entered and photographed when: each photo stands in one stack, and a suggestion is a point of the unit.
    #[test]
    fn every_photo_is_in_one_stack(
        entries in prop::collection::vec((0_usize..60, 0_i64..20_000), 0..12),
        photos in prop::collection::vec((-90_000_i64..90_000, any::<bool>(), 0_u64..4), 0..24),
    ) {
        let mut visit = demo_visit();
        let points: Vec<PointId> = visit.points().map(|point| PointId::from(point.id.as_str())).collect();
        for (point, at) in entries {
            let answer = Answer::NotExamined { reason: format!("at {at}") };
            visit.act(Act::Answer { point: points[point % points.len()].clone(), answer }, second(at)).unwrap();
        }
        for (number, (at, measured, bits)) in photos.iter().enumerate() {
            let mut taken = photo(number, *at);
            taken.look = taken.look.filter(|_| *measured).map(|look| Look { fingerprint: Fingerprint(1 << bits), ..look });
            take(&mut visit, taken);
        }
        let mut seen = BTreeSet::new();
        for stack in stacks(&visit) {
            for photo in std::iter::once(&stack.front).chain(&stack.behind) {
                prop_assert!(seen.insert(photo.id.clone()));
            }
            if let Some(suggestion) = stack.suggestion {
                prop_assert!(points.contains(&suggestion.point));
            }
        }
        prop_assert_eq!(seen.len(), photos.len());
    }
}

#[test]
fn a_picture_that_no_browser_draws_says_what_to_do() {
    let mut visit = demo_visit();
    let mut heic = photo(1, 0);
    heic.look = None;
    heic.photo.damage = UNDRAWN.to_owned();
    take(&mut visit, heic);
    take(&mut visit, photo(2, 9));
    let trouble = |number| visit.photo(&photo_id(number)).unwrap().trouble();
    assert_eq!(trouble(2), None);
    for language in Language::ALL {
        let said = Texts::new(language).of(&trouble(1).unwrap());
        assert!(said.contains("JPEG") && !said.contains(UNDRAWN), "{said}");
    }
}
