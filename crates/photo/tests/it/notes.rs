//! What the camera wrote is read as it stands, and nothing is made up.

use exif::{Field, Tag};
use photo::{Orientation, Shot};

use crate::making::{angle, ascii, corners, jpeg, notes, png_rgb, short, taken_in, with_notes};

fn shot(fields: &[Field]) -> Shot {
    let file = jpeg(&corners(16, 16));
    let [little, big] =
        [true, false].map(|order| taken_in(&with_notes(&file, &notes(fields, order))).shot);
    assert_eq!(little, big);
    little
}

#[test]
fn a_file_without_notes_says_nothing() {
    for file in [jpeg(&corners(16, 16)), png_rgb(&corners(16, 16))] {
        let shot = taken_in(&file).shot;
        assert_eq!((shot.taken, shot.position, shot.make, shot.model), (None, None, None, None));
        assert_eq!(shot.orientation, Orientation::UPRIGHT);
    }
}

#[test]
fn everything_a_camera_notes_is_read() {
    let shot = shot(&[
        ascii(Tag::Make, "Example Optics  "),
        ascii(Tag::Model, "Field 3"),
        short(Tag::Orientation, 6),
        ascii(Tag::DateTimeOriginal, "2026:05:04 09:15:07"),
        ascii(Tag::OffsetTimeOriginal, "-07:00"),
        ascii(Tag::SubSecTimeOriginal, "250"),
        angle(Tag::GPSLatitude, [(38, 1), (34, 1), (1_200, 100)]),
        ascii(Tag::GPSLatitudeRef, "N"),
        angle(Tag::GPSLongitude, [(109, 1), (33, 1), (0, 1)]),
        ascii(Tag::GPSLongitudeRef, "W"),
    ]);
    assert_eq!(shot.make.as_deref(), Some("Example Optics"));
    assert_eq!(shot.model.as_deref(), Some("Field 3"));
    assert_eq!(shot.orientation.number(), 6);
    let taken = shot.taken.unwrap();
    assert_eq!(taken.local.to_string(), "2026-05-04T09:15:07.25");
    assert_eq!(taken.offset_minutes, Some(-420));
    let position = shot.position.unwrap();
    assert!((position.latitude - 38.57).abs() < 1e-9, "{position:?}");
    assert!((position.longitude + 109.55).abs() < 1e-9, "{position:?}");
}

#[test]
fn a_time_without_a_zone_stays_without_one() {
    let taken = shot(&[ascii(Tag::DateTimeOriginal, "2026:05:04 09:15:07")]).taken.unwrap();
    assert_eq!(taken.offset_minutes, None);
    assert_eq!(taken.local.to_string(), "2026-05-04T09:15:07");
}

#[test]
fn the_time_taken_comes_before_the_time_changed() {
    let fields = [
        ascii(Tag::DateTime, "2027:01:01 00:00:00"),
        ascii(Tag::DateTimeOriginal, "2026:05:04 09:15:07"),
    ];
    assert_eq!(shot(&fields).taken.unwrap().local.year(), 2026);
    assert_eq!(shot(&fields[..1]).taken.unwrap().local.year(), 2027);
}

#[test]
fn a_time_that_is_none_is_left_out() {
    for text in [
        "0000:00:00 00:00:00",
        "    :  :     :  :  ",
        "2026:13:04 09:15:07",
        "2026:02:30 09:15:07",
        "2026:05:04 25:15:07",
        "2026-05-04 09:15:07",
        "yesterday",
        "",
    ] {
        assert_eq!(shot(&[ascii(Tag::DateTimeOriginal, text)]).taken, None, "{text:?}");
    }
}

#[test]
fn an_offset_that_is_none_leaves_the_time() {
    for text in ["   :  ", "+99:99", "07:00", "Z", ""] {
        let fields = [
            ascii(Tag::DateTimeOriginal, "2026:05:04 09:15:07"),
            ascii(Tag::OffsetTimeOriginal, text),
        ];
        let taken = shot(&fields).taken.unwrap();
        assert_eq!((taken.local.minute(), taken.offset_minutes), (15, None), "{text:?}");
    }
}

#[test]
fn half_a_position_is_none() {
    let whole = [
        angle(Tag::GPSLatitude, [(38, 1), (34, 1), (12, 1)]),
        ascii(Tag::GPSLatitudeRef, "S"),
        angle(Tag::GPSLongitude, [(109, 1), (33, 1), (0, 1)]),
        ascii(Tag::GPSLongitudeRef, "E"),
    ];
    let position = shot(&whole).position.unwrap();
    assert!(position.latitude < 0.0 && position.longitude > 0.0);
    for missing in 0..whole.len() {
        let mut fields = whole.to_vec();
        fields.remove(missing);
        assert_eq!(shot(&fields).position, None, "without field {missing}");
    }
    for wrong in [[(38, 0), (34, 1), (12, 1)], [(91, 1), (0, 1), (0, 1)], [(0, 0), (0, 0), (0, 0)]]
    {
        let mut fields = whole.to_vec();
        fields[0] = angle(Tag::GPSLatitude, wrong);
        assert_eq!(shot(&fields).position, None, "{wrong:?}");
    }
}

#[test]
fn a_name_of_blanks_is_none_and_control_characters_go() {
    let shot = shot(&[ascii(Tag::Make, "   "), ascii(Tag::Model, "Field\u{7} 3\n")]);
    assert_eq!(shot.make, None);
    assert_eq!(shot.model.as_deref(), Some("Field 3"));
}
