//! A whole card at once: one bad file stops no other, and the order stays.

use std::{io, sync::Mutex};

use photo::{Limits, Refusal, Sha256, take_in_each, take_in_many};

use crate::making::{corners, jpeg, scene};

#[test]
fn results_stand_in_the_order_of_the_files_whatever_some_of_them_are() {
    let good: Vec<_> = (0..12).map(|number| jpeg(&scene(200 + 40 * number, 150, number))).collect();
    let mut items: Vec<(&str, &[u8])> = good.iter().map(|file| ("good", &file[..])).collect();
    items[3] = ("empty", b"");
    items[5] = ("text", b"not a picture");
    items[7] = ("half", &good[7][..good[7].len() / 2]);
    let told = Mutex::new(Vec::new());
    let photos = take_in_many(&items, &Limits::default(), |done| told.lock().unwrap().push(done));
    assert_eq!(photos.len(), items.len());
    for (index, (photo, (name, bytes))) in photos.iter().zip(&items).enumerate() {
        match (index, photo) {
            (3, Err(Refusal::Empty { name })) => assert_eq!(name, "empty"),
            (5, Err(Refusal::NotAPicture { name, .. })) => assert_eq!(name, "text"),
            (7, Ok(photo)) => assert!(photo.copies.is_none() && photo.damage.is_some()),
            (_, Ok(photo)) => {
                assert_eq!((&photo.name[..], photo.id), (*name, Sha256::of(bytes)));
                assert!(photo.copies.is_some());
            }
            (_, Err(refusal)) => panic!("{index}: {refusal}"),
        }
    }
    let mut told = told.into_inner().unwrap();
    told.sort_unstable();
    assert_eq!(told, (1..=12).collect::<Vec<_>>());
}

#[test]
fn a_file_that_cannot_be_read_says_so() {
    let read = |name: &&str| match *name {
        "gone" => Err(io::Error::other("the card was pulled out")),
        _ => Ok(jpeg(&corners(64, 48))),
    };
    let name = |name: &&str| (*name).to_owned();
    let photos = take_in_each(&["there", "gone"], name, read, &Limits::default(), |_| ());
    assert!(photos[0].is_ok());
    let sentence = photos[1].as_ref().unwrap_err().to_string();
    assert_eq!(sentence, "\"gone\" could not be read: the card was pulled out");
}

#[test]
fn no_files_give_no_photos() {
    assert!(take_in_many(&[], &Limits::default(), |_| panic!("nothing is done")).is_empty());
}
