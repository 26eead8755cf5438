//! However the camera was held, the copies stand upright.

use exif::Tag;
use photo::Orientation;
use turbojpeg::Subsamp;

use crate::making::{
    Painting, assert_shows_corners, corners, jpeg, jpeg_with, notes, paint, png_of, short,
    taken_in, with_notes,
};

/// What the standard says of each value: the side of the scene that the first row shows, and the
/// side that the first column shows (CIPA DC-008, section 4.6.4, tag Orientation).
const SIDES: [(&str, &str); 8] = [
    ("top", "left"),
    ("top", "right"),
    ("bottom", "right"),
    ("bottom", "left"),
    ("left", "top"),
    ("right", "top"),
    ("right", "bottom"),
    ("left", "bottom"),
];

/// The scene as a camera held so stores it.
fn stored(scene: &Painting, (first_row, first_column): (&str, &str)) -> Painting {
    let across = matches!(first_row, "left" | "right");
    let (width, height) =
        if across { (scene.height, scene.width) } else { (scene.width, scene.height) };
    paint(width, height, |column, row| {
        let (mut x, mut y) = (0, 0);
        for (side, index) in [(first_row, row), (first_column, column)] {
            match side {
                "top" => y = index,
                "bottom" => y = scene.height - 1 - index,
                "left" => x = index,
                _ => x = scene.width - 1 - index,
            }
        }
        scene.at(x, y)
    })
}

fn held(number: u16) -> Vec<u8> {
    notes(&[short(Tag::Orientation, number)], number.is_multiple_of(2))
}

#[test]
fn all_eight_orientations_come_out_upright() {
    let scene = corners(400, 300);
    for (number, sides) in (1..).zip(SIDES) {
        let file = with_notes(&jpeg(&stored(&scene, sides)), &held(number));
        let photo = taken_in(&file);
        assert_eq!(u16::from(photo.shot.orientation.number()), number);
        let copies = photo.copies.unwrap();
        assert_eq!((copies.display.width, copies.display.height), (400, 300), "{number}");
        assert_eq!((copies.thumbnail.width, copies.thumbnail.height), (320, 240), "{number}");
        assert_shows_corners(&copies.display);
        assert_shows_corners(&copies.thumbnail);
    }
}

#[test]
fn a_large_photo_is_shrunk_and_turned() {
    let file = with_notes(&jpeg(&stored(&corners(2100, 3001), SIDES[5])), &held(6));
    let photo = taken_in(&file);
    let size = photo.size.unwrap();
    assert_eq!((size.width, size.height), (3001, 2100));
    let copies = photo.copies.unwrap();
    assert_eq!((copies.display.width, copies.display.height), (1120, 1600));
    assert_eq!((copies.thumbnail.width, copies.thumbnail.height), (224, 320));
    assert_shows_corners(&copies.display);
    assert_shows_corners(&copies.thumbnail);
}

#[test]
fn odd_sides_turn_at_every_sampling_of_colour() {
    let scene = corners(201, 133);
    let samplings =
        [Subsamp::None, Subsamp::Sub2x1, Subsamp::Sub2x2, Subsamp::Sub1x2, Subsamp::Sub4x1];
    for sampling in samplings {
        for (number, sides) in (1..).zip(SIDES) {
            let file = jpeg_with(&stored(&scene, sides), sampling, |_| ());
            let copies = taken_in(&with_notes(&file, &held(number))).copies.unwrap();
            assert_eq!((copies.display.width, copies.display.height), (201, 133));
            assert_shows_corners(&copies.display);
        }
    }
}

#[test]
fn a_png_with_notes_is_turned_too() {
    let painting = stored(&corners(60, 40), SIDES[7]);
    let (colour, depth) = (png::ColorType::Rgb, png::BitDepth::Eight);
    let plain = png_of(&painting, colour, depth, &painting.pixels, |_| ());
    let block = held(8);
    let mut chunk = b"eXIf".to_vec();
    chunk.extend(&block);
    let mut file = plain[..33].to_vec();
    file.extend((block.len() as u32).to_be_bytes());
    file.extend(&chunk);
    file.extend(check_sum(&chunk).to_be_bytes());
    file.extend(&plain[33..]);
    let photo = taken_in(&file);
    assert_eq!(photo.shot.orientation.number(), 8);
    let copies = photo.copies.unwrap();
    assert_eq!((copies.display.width, copies.display.height), (60, 40));
    assert_shows_corners(&copies.display);
}

/// The cyclic redundancy check of a PNG chunk (W3C Portable Network Graphics, annex D).
fn check_sum(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, &byte| {
        (0..8).fold(sum ^ u32::from(byte), |sum, _| {
            if sum & 1 == 1 { 0xedb8_8320 ^ (sum >> 1) } else { sum >> 1 }
        })
    })
}

#[test]
fn an_orientation_that_does_not_exist_counts_as_upright() {
    for number in [0, 9, 65_535] {
        let photo = taken_in(&with_notes(&jpeg(&corners(64, 48)), &held(number)));
        assert_eq!(photo.shot.orientation, Orientation::UPRIGHT);
        assert_shows_corners(&photo.copies.unwrap().display);
    }
    assert_eq!(Orientation::from_exif(0), None);
    assert_eq!(Orientation::from_exif(9), None);
}
