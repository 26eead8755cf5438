//! Figures that sort a tray of photos: alike or not, sharp or not, light or dark.

use jiff::civil::date;
use photo::{Candidate, Fingerprint, Look, NEARLY_ALIKE_BITS, Sha256, Taken, near_duplicates};

use crate::making::{Painting, blurred, jpeg, paint, scene, taken_in};

fn look(painting: &Painting) -> Look {
    taken_in(&jpeg(painting)).copies.unwrap().look
}

/// The scene, shifted by a few pixels and a little lighter, as a second press of the button
/// gives.
fn again(painting: &Painting) -> Painting {
    paint(painting.width, painting.height, |x, y| {
        painting.at((x + 4).min(painting.width - 1), y).map(|colour| colour.saturating_add(12))
    })
}

#[test]
fn a_second_shot_is_nearly_alike_and_another_scene_is_not() {
    let scenes: Vec<_> = (0..6).map(|number| scene(640, 480, number)).collect();
    let prints: Vec<_> = scenes.iter().map(|scene| look(scene).fingerprint).collect();
    for (index, print) in prints.iter().enumerate() {
        for changed in [again(&scenes[index]), blurred(&scenes[index], 3)] {
            let distance = print.distance(look(&changed).fingerprint);
            assert!(distance <= NEARLY_ALIKE_BITS, "scene {index}: {distance} bits");
        }
        for (other, another) in prints.iter().enumerate().skip(index + 1) {
            let distance = print.distance(*another);
            assert!(distance >= 16, "scenes {index} and {other}: {distance} bits");
        }
    }
}

#[test]
fn size_does_not_change_the_fingerprint() {
    let large = scene(2400, 1800, 4);
    let small = paint(600, 450, |x, y| large.at(x * 4 + 1, y * 4 + 1));
    assert!(look(&large).fingerprint.distance(look(&small).fingerprint) <= 4);
}

#[test]
fn the_more_it_is_blurred_the_less_it_is_sharp() {
    for number in 0..3 {
        let sharp = scene(640, 480, number);
        let sharpness = [0, 1, 3, 6].map(|reach| look(&blurred(&sharp, reach)).sharpness);
        assert!(sharpness.windows(2).all(|pair| pair[0] > pair[1] * 1.2), "{sharpness:?}");
    }
    assert!(look(&paint(640, 480, |_, _| [128; 3])).sharpness < 0.01);
}

#[test]
fn exposure_shows_in_brightness_and_in_the_ends() {
    let right = scene(640, 480, 1);
    let under = paint(640, 480, |x, y| right.at(x, y).map(|colour| colour / 32));
    let over = paint(640, 480, |x, y| right.at(x, y).map(|colour| colour.saturating_mul(6)));
    let [right, under, over] = [&right, &under, &over].map(look);
    assert!(under.brightness < 0.05 && under.black > 0.5 && under.blown < 0.01, "{under:?}");
    assert!(over.brightness > 0.9 && over.blown > 0.5 && over.black < 0.1, "{over:?}");
    assert!((0.2..0.8).contains(&right.brightness), "{right:?}");
    assert!(right.black < 0.2 && right.blown < 0.1, "{right:?}");
    let middle = look(&paint(64, 64, |_, _| [128; 3]));
    assert!((middle.brightness - 128.0 / 255.0).abs() < 0.005, "{middle:?}");
}

#[test]
fn a_fingerprint_survives_being_written() {
    let print = look(&scene(640, 480, 5)).fingerprint;
    assert_eq!(print.to_string().parse(), Ok(print));
    for wrong in ["", "12", "+00000000000000f", "00000000000000g0"] {
        assert!(wrong.parse::<Fingerprint>().is_err(), "{wrong}");
    }
}

fn candidate(number: u8, bits: u64, sharpness: f64, minute: Option<i8>) -> Candidate {
    let local = minute.map(|minute| date(2026, 5, 4).at(9, minute, 0, 0));
    Candidate {
        id: Sha256::of(&[number]),
        fingerprint: Fingerprint(bits),
        sharpness,
        taken: local.map(|local| Taken { local, offset_minutes: None }),
    }
}

fn ids(numbers: &[u8]) -> Vec<Sha256> {
    numbers.iter().map(|&number| Sha256::of(&[number])).collect()
}

#[test]
fn the_sharpest_of_a_group_comes_first() {
    let photos = [
        candidate(1, 0, 10.0, Some(0)),
        candidate(2, u64::MAX, 50.0, Some(0)),
        candidate(3, 0b11, 30.0, Some(1)),
        candidate(4, 0b1, 20.0, None),
        candidate(5, u64::MAX, 50.0, Some(30)),
    ];
    assert_eq!(near_duplicates(&photos), [ids(&[3, 4, 1])]);
}

#[test]
fn the_same_place_before_and_after_a_repair_is_no_duplicate() {
    let pair = |minute| [candidate(1, 7, 1.0, Some(0)), candidate(2, 7, 2.0, Some(minute))];
    assert_eq!(near_duplicates(&pair(2)), [ids(&[2, 1])]);
    assert!(near_duplicates(&pair(3)).is_empty());
}

#[test]
fn clocks_in_two_zones_are_compared_by_the_moment() {
    let mut east = candidate(1, 7, 1.0, Some(0));
    let mut west = candidate(2, 7, 2.0, Some(0));
    let set = |photo: &mut Candidate, offset, hour| {
        let local = date(2026, 5, 4).at(hour, 0, 0, 0);
        photo.taken = Some(Taken { local, offset_minutes: Some(offset) });
    };
    set(&mut east, -360, 10);
    set(&mut west, -420, 9);
    assert_eq!(near_duplicates(&[east, west]), [ids(&[2, 1])]);
    set(&mut west, -420, 10);
    assert!(near_duplicates(&[east, west]).is_empty());
}

#[test]
fn a_group_does_not_wander_from_one_thing_to_another() {
    // Each differs from the next by 8 bits; the first from the last by 16.
    let photos = [
        candidate(1, 0, 3.0, None),
        candidate(2, 0xff, 2.0, None),
        candidate(3, 0xffff, 1.0, None),
    ];
    assert_eq!(near_duplicates(&photos), [ids(&[1, 2])]);
}

#[test]
fn the_order_given_changes_no_group_and_a_photo_given_twice_counts_once() {
    let mut photos: Vec<_> = (0..40)
        .map(|number| candidate(number, 0xffff << (16 * (number % 4)), f64::from(number % 7), None))
        .collect();
    let mut groups = near_duplicates(&photos);
    assert_eq!(groups.len(), 4);
    assert_eq!(groups.concat().len(), 40);
    photos.reverse();
    photos.extend_from_within(..10);
    let mut reversed = near_duplicates(&photos);
    groups.sort();
    reversed.sort();
    assert_eq!(groups, reversed);
    assert!(near_duplicates(&[photos[0], photos[0]]).is_empty());
}

#[test]
fn blurred_twins_follow_their_sharp_one_from_end_to_end() {
    let sharp = scene(640, 480, 2);
    let files = [jpeg(&blurred(&sharp, 2)), jpeg(&sharp), jpeg(&scene(640, 480, 3))];
    let photos: Vec<_> = files.iter().map(|file| taken_in(file).candidate().unwrap()).collect();
    assert_eq!(near_duplicates(&photos), [vec![photos[1].id, photos[0].id]]);
}
