//! Files made to break a reader: each is answered, none stops the program.

use exif::Tag;
use photo::{Limits, Photo, Refusal, take_in};
use proptest::prelude::*;

use crate::making::{
    ascii, assert_shows_corners, corners, jpeg, notes, png_rgb, taken_in, with_notes,
};

/// A TIFF structure with one directory of these entries: tag, type, count, value.
fn directory(entries: &[(u16, u16, u32, u32)], next: u32) -> Vec<u8> {
    let mut block = b"MM\0*\0\0\0\x08".to_vec();
    block.extend((entries.len() as u16).to_be_bytes());
    for (tag, kind, count, value) in entries {
        block.extend(tag.to_be_bytes());
        block.extend(kind.to_be_bytes());
        block.extend(count.to_be_bytes());
        block.extend(value.to_be_bytes());
    }
    block.extend(next.to_be_bytes());
    block
}

#[test]
fn hostile_notes_do_not_keep_a_good_picture_from_being_shown() {
    let mut endless = directory(&[(0x0112, 3, 1, 6 << 16)], 8);
    endless[8..10].copy_from_slice(&[0xff, 0xff]);
    let blocks = [
        directory(&[(0x8769, 4, 1, 8)], 0),
        directory(&[(0x8825, 4, 1, 8), (0x8769, 4, 1, 8), (0xa005, 4, 1, 8)], 8),
        directory(&[(0x010f, 2, u32::MAX, 8)], 0),
        directory(&[(0x010f, 5, 0x2000_0001, 8)], 0),
        directory(&[(0x010f, 2, 8, u32::MAX)], 0),
        directory(&[(0x010f, 999, 4, 0)], u32::MAX),
        endless,
        b"MM\0*".to_vec(),
        b"II*\0\xff\xff\xff\xff".to_vec(),
        vec![],
    ];
    let file = jpeg(&corners(64, 48));
    for block in blocks {
        let photo = taken_in(&with_notes(&file, &block));
        assert_shows_corners(&photo.copies.unwrap().display);
        assert_eq!(photo.shot.make, None);
    }
}

#[test]
fn what_stands_before_the_loop_is_still_read() {
    let block = directory(&[(0x0112, 3, 1, 3 << 16)], 8);
    assert_eq!(taken_in(&with_notes(&jpeg(&corners(64, 48)), &block)).shot.orientation.number(), 3);
}

/// Directories that overlap: followed blindly, these 60 KB list eleven million entries.
#[test]
fn overlapping_directories_are_not_followed() {
    let mut entries = vec![(0x0112, 3, 1, 3 << 16)];
    entries.extend((0..5_000).map(|index| (0x8769, 4, 1, 8 + 12 * index)));
    let photo = taken_in(&with_notes(&jpeg(&corners(64, 48)), &directory(&entries, 0)));
    // Such notes are no camera's: not even their first entry is believed.
    assert_eq!(photo.shot.orientation.number(), 1);
    assert_shows_corners(&photo.copies.unwrap().display);
}

#[test]
fn segments_without_length_are_answered() {
    let file = jpeg(&corners(64, 48));
    for marker in [0xe0, 0xe1, 0xfe] {
        for length in [0_u8, 1] {
            let mut broken = file[..2].to_vec();
            broken.extend([0xff, marker, 0, length]);
            broken.extend(&file[2..]);
            let photo = taken_in(&broken);
            assert_eq!(photo.copies.is_none(), photo.damage.is_some());
            // The decoder may step over it; then what it shows must be the picture.
            if let Some(copies) = photo.copies {
                assert_shows_corners(&copies.display);
            }
        }
        let mut shortest = file[..2].to_vec();
        shortest.extend([0xff, marker, 0, 2]);
        shortest.extend(&file[2..]);
        assert_shows_corners(&taken_in(&shortest).copies.unwrap().display);
    }
}

#[test]
fn notes_behind_an_empty_segment_are_found() {
    let block = notes(&[ascii(Tag::Model, "Field 3")], false);
    let mut file = with_notes(&jpeg(&corners(16, 16)), &block);
    file.splice(2..2, [0xff, 0xff, 0xfe, 0, 2]);
    assert_eq!(taken_in(&file).shot.model.as_deref(), Some("Field 3"));
}

#[test]
fn a_png_chunk_longer_than_the_file_is_damage() {
    let mut file = png_rgb(&corners(16, 16));
    file[33..37].copy_from_slice(&[0xff; 4]);
    let photo = taken_in(&file);
    assert!(photo.copies.is_none() && photo.damage.is_some());
}

#[test]
fn a_png_of_no_pixels_is_damage() {
    let mut file = png_rgb(&corners(16, 16));
    file[16..24].fill(0);
    let photo = taken_in(&file);
    assert!(photo.copies.is_none() && photo.damage.is_some());
}

fn consistent(answer: Result<Photo, Refusal>) {
    match answer {
        Ok(photo) => assert_eq!(photo.copies.is_none(), photo.damage.is_some()),
        Err(refusal) => assert!(refusal.to_string().starts_with("\"any\"")),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_are_answered(bytes in proptest::collection::vec(any::<u8>(), 0..2_000)) {
        consistent(take_in("any", &bytes, &Limits::default()));
    }

    #[test]
    fn any_bytes_behind_a_true_beginning_are_answered(
        png in any::<bool>(),
        bytes in proptest::collection::vec(any::<u8>(), 0..2_000),
        keep in 2_usize..400,
    ) {
        let painting = corners(40, 30);
        let mut file = if png { png_rgb(&painting) } else { jpeg(&painting) };
        file.truncate(keep);
        file.extend(bytes);
        consistent(take_in("any", &file, &Limits::default()));
    }

    #[test]
    fn any_notes_are_answered(bytes in proptest::collection::vec(any::<u8>(), 0..2_000)) {
        let mut block = b"II*\0\x08\0\0\0".to_vec();
        block.extend(bytes);
        let photo = taken_in(&with_notes(&jpeg(&corners(16, 16)), &block));
        prop_assert!(photo.copies.is_some());
    }
}
