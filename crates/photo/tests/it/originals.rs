//! The original is evidence: its bytes stay, its hash is its name, its notes do not leak.

use exif::Tag;
use photo::{Format, Sha256, take_in_many};
use sha2::Digest;

use crate::making::{ascii, corners, jpeg, notes, png_rgb, taken_in, with_notes};

#[test]
fn the_name_is_the_sha_256_of_the_bytes() {
    let file = jpeg(&corners(64, 48));
    let before = file.clone();
    let photo = taken_in(&file);
    assert_eq!(file, before);
    assert_eq!(photo.id.0[..], sha2::Sha256::digest(&file)[..]);
    assert_eq!((photo.bytes, photo.format), (file.len(), Format::Jpeg));
    assert_eq!(photo.damage, None);
}

/// Published example: FIPS 180-4's "abc", in the NIST example file for SHA-256.
#[test]
fn the_hash_of_abc_is_as_published() {
    let text = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    assert_eq!(Sha256::of(b"abc").to_string(), text);
    assert_eq!(text.parse(), Ok(Sha256::of(b"abc")));
}

#[test]
fn a_hash_has_one_spelling() {
    let text = Sha256::of(b"abc").to_string();
    for wrong in [text.to_uppercase(), text[..63].to_owned(), format!("{text}0"), "é".repeat(32)] {
        assert!(wrong.parse::<Sha256>().is_err(), "{wrong}");
    }
}

#[test]
fn the_copies_carry_no_notes() {
    let block = notes(&[ascii(Tag::Make, "Privatissimo")], false);
    let copies = taken_in(&with_notes(&jpeg(&corners(64, 48)), &block)).copies.unwrap();
    for copy in [&copies.display, &copies.thumbnail] {
        assert!(!copy.jpeg.windows(12).any(|part| part == b"Privatissimo"));
        assert!(!copy.jpeg.windows(4).any(|part| part == b"Exif"));
    }
}

#[test]
fn the_same_file_gives_the_same_photo_every_time() {
    let (jpeg, png) = (jpeg(&corners(1700, 900)), png_rgb(&corners(333, 222)));
    let items: Vec<(&str, &[u8])> = vec![("a", &jpeg), ("b", &png), ("a", &jpeg), ("b", &png)];
    let photos = take_in_many(&items, &photo::Limits::default(), |_| ());
    assert_eq!(photos[0], photos[2]);
    assert_eq!(photos[1], photos[3]);
}
