//! A damaged picture is kept, with its hash and its notes, and says that it is damaged.

use exif::Tag;
use photo::{Format, Limits, Photo, Sha256, take_in};
use turbojpeg::Subsamp;

use crate::making::{
    Numbers, ascii, corners, jpeg, jpeg_with, notes, png_rgb, scene, segment, taken_in, with_notes,
};

#[track_caller]
fn assert_kept_as_damaged(file: &[u8], format: Format) -> Photo {
    let photo = taken_in(file);
    assert_eq!(photo.copies, None);
    assert_eq!(photo.candidate(), None);
    assert_eq!((photo.id, photo.bytes, photo.format), (Sha256::of(file), file.len(), format));
    let sentence = photo.damage.clone().unwrap();
    assert!(sentence.starts_with(&format!("\"photo\" is a damaged {format} (")), "{sentence}");
    assert!(sentence.contains("the original is kept"), "{sentence}");
    photo
}

#[test]
fn half_a_jpeg_keeps_its_hash_and_its_notes() {
    let block = notes(&[ascii(Tag::DateTimeOriginal, "2026:05:04 09:15:00")], true);
    let file = with_notes(&jpeg(&scene(640, 480, 1)), &block);
    let photo = assert_kept_as_damaged(&file[..file.len() / 2], Format::Jpeg);
    assert_eq!(photo.shot.taken.unwrap().local, jiff::civil::date(2026, 5, 4).at(9, 15, 0, 0));
    assert_eq!(photo.size.unwrap().width, 640);
}

#[test]
fn a_picture_cut_anywhere_is_damaged() {
    let painting = scene(160, 120, 2);
    let cut_of = |file: &[u8], format| {
        for part in 1..40 {
            let length = (file.len() * part / 40).max(8);
            assert_kept_as_damaged(&file[..length], format);
        }
    };
    cut_of(&jpeg(&painting), Format::Jpeg);
    cut_of(&png_rgb(&painting), Format::Png);
    let progressive = jpeg_with(&painting, Subsamp::None, |compressor| {
        compressor.set_progressive(true).unwrap();
    });
    cut_of(&progressive, Format::Jpeg);
}

#[test]
fn a_few_bytes_that_claim_a_hundred_megapixels_are_damaged() {
    let mut file = jpeg(&corners(64, 48));
    let frame = segment(&file, &[0xc0]);
    file[frame + 5..frame + 9].copy_from_slice(&[0x27, 0x10, 0x27, 0x10]);
    let photo = assert_kept_as_damaged(&file, Format::Jpeg);
    assert!(photo.damage.unwrap().contains("cannot hold 10000 × 10000 pixels"));
}

/// A baseline JPEG of one colour is the emptiest there is: the check above must let it pass.
#[test]
fn the_emptiest_of_large_pictures_is_whole() {
    let file = jpeg(&crate::making::paint(4000, 3000, |_, _| [128; 3]));
    assert_eq!(taken_in(&file).damage, None);
    let optimized = jpeg_with(
        &crate::making::paint(4000, 3000, |_, _| [128; 3]),
        Subsamp::Gray,
        |compressor| compressor.set_progressive(true).unwrap(),
    );
    assert_eq!(taken_in(&optimized).damage, None);
}

#[test]
fn changed_bytes_never_stop_the_program_and_are_never_shown_as_whole_without_a_look() {
    let mut numbers = Numbers(88_172_645_463_325_252);
    let painting = scene(320, 240, 3);
    let (mut damaged, mut refused) = (0, 0);
    for whole in [jpeg(&painting), png_rgb(&painting)] {
        for _ in 0..40 {
            let mut file = whole.clone();
            for _ in 0..20 {
                let place = numbers.next_below(file.len());
                file[place] = numbers.next_below(256) as u8;
            }
            match take_in("changed", &file, &Limits::default()) {
                Ok(photo) => {
                    assert_eq!(photo.copies.is_none(), photo.damage.is_some());
                    damaged += usize::from(photo.damage.is_some());
                }
                Err(_) => refused += 1,
            }
        }
    }
    // A changed byte may happen to be a table that still makes a picture; most are not.
    assert!(damaged + refused >= 70, "damaged {damaged}, refused {refused} of 80");
    assert!(damaged >= 50, "damaged {damaged}, refused {refused} of 80");
}
