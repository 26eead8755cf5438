//! What is blurred is gone from the copy that is handed out.

use crate::making::{Painting, decoded, jpeg, paint};
use photo::{Part, blurred};

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
