//! What is blurred is gone from the copy that is handed out.

use crate::making::{Painting, decoded, jpeg, paint};
use photo::{Cut, Part, blurred};

const PART: Part = Part { from: (0.25, 0.25), to: (0.5, 0.5) };

/// A slope of greys; inside the part a fine chequer, one way or the other.
fn with_secret(secret: bool) -> Painting {
    paint(256, 256, |x, y| {
        let inside = (64..128).contains(&x) && (64..128).contains(&y);
        let shade = if !inside {
            u8::try_from(x / 2 + y / 4).unwrap()
        } else if ((x / 2 + y / 2) % 2 == 0) == secret {
            230
        } else {
            20
        };
        [shade; 3]
    })
}

fn handed_out(secret: bool, parts: &[Part]) -> Painting {
    let original = jpeg(&with_secret(secret));
    decoded(&blurred("a photo", &original, parts).unwrap())
}

fn furthest(a: &Painting, b: &Painting) -> u8 {
    a.pixels.iter().zip(&b.pixels).map(|(one, other)| one.abs_diff(*other)).max().unwrap()
}

#[test]
fn two_photos_that_differ_only_in_a_blurred_part_are_handed_out_alike() {
    let apart = furthest(&handed_out(true, &[]), &handed_out(false, &[]));
    assert!(apart > 150, "without the blur they differ: {apart}");
    let alike = furthest(&handed_out(true, &[PART]), &handed_out(false, &[PART]));
    // Not nought: the first compression carries a little of the chequer over the part's edge.
    assert!(alike <= 8, "{alike}");
}

#[test]
fn the_rest_of_the_picture_stays() {
    let (before, after) = (handed_out(true, &[]), handed_out(true, &[PART]));
    for y in 0..256 {
        for x in 0..256 {
            let near = (56..136).contains(&x) && (56..136).contains(&y);
            let apart = before.at(x, y)[0].abs_diff(after.at(x, y)[0]);
            assert!(near || apart <= 6, "{x}, {y}: {apart}");
        }
    }
}

#[test]
fn without_parts_the_copy_is_given_back_and_a_damaged_one_is_refused() {
    let whole = jpeg(&with_secret(true));
    assert_eq!(blurred("a photo", &whole, &[]).unwrap(), whole);
    let refused = blurred("a photo", &whole[..whole.len() / 3], &[PART]).unwrap_err();
    assert!(refused.to_string().contains("a photo"), "{refused}");
}

/// A slope of greys that tells every place apart: lighter to the right, and darker below.
fn slope(width: usize, height: usize) -> Painting {
    paint(width, height, |x, y| [u8::try_from(60 + x / 2 - y / 4).unwrap(); 3])
}

#[test]
fn of_a_cut_only_the_part_is_left_turned_clockwise() {
    let original = jpeg(&slope(256, 200));
    let part = Part { from: (0.5, 0.25), to: (1.0, 0.75) };
    for turns in 0..4_u8 {
        let cut = Cut { part, turns };
        let left = decoded(&photo::handed_out("a photo", &original, &[], Some(cut)).unwrap());
        let (wide, high) = if turns % 2 == 0 { (128, 100) } else { (100, 128) };
        assert_eq!((left.width, left.height), (wide, high), "{turns}");
        for (x, y) in [(10, 10), (wide - 10, 10), (wide / 2, high - 10)] {
            // The same place of the part, before it was turned.
            let (across, down) = match turns {
                0 => (x, y),
                1 => (y, 99 - x),
                2 => (127 - x, 99 - y),
                _ => (127 - y, x),
            };
            let expected = 60 + (128 + across) / 2 - (50 + down) / 4;
            let apart = usize::from(left.at(x, y)[0]).abs_diff(expected);
            assert!(apart <= 4, "{turns}: {x}, {y}: {apart}");
        }
    }
}

#[test]
fn a_blurred_part_stays_where_it_is_when_the_photo_is_cut() {
    let cut = Cut { part: Part { from: (0.25, 0.25), to: (1.0, 1.0) }, turns: 2 };
    let out = |secret| {
        let original = jpeg(&with_secret(secret));
        decoded(&photo::handed_out("a photo", &original, &[PART], Some(cut)).unwrap())
    };
    let (one, other) = (out(true), out(false));
    assert_eq!((one.width, one.height), (192, 192));
    assert!(furthest(&one, &other) <= 8);
}
