//! No byte of a bag changes unseen, and no file comes, goes or moves unseen.

use std::collections::BTreeMap;
use std::io::Cursor;

use bag::{Standing, Verification, ZipContainer, verify};
use proptest::prelude::*;

use crate::sample::{in_memory, released};

fn verified(files: &BTreeMap<String, Vec<u8>>) -> Verification {
    verify(&mut files.clone(), &mut |_, _| {}).unwrap()
}

fn names(verification: &Verification, file: &str) -> bool {
    verification.standing() == Standing::Differs
        && verification.faults.iter().any(|fault| fault.file == file)
}

#[test]
fn a_bag_as_it_was_packed_is_intact_and_signed() {
    let files = in_memory(&released());
    let verification = verified(&files);
    assert_eq!(verification.faults, []);
    assert_eq!(verification.standing(), Standing::Signed);
    assert_eq!((verification.files, verification.signed.len()), (files.len(), 2));
}

/// Every file, the first and last twelve of its bytes, every bit.
#[test]
fn any_changed_bit_is_laid_to_its_file() {
    let files = in_memory(&released());
    for (path, bytes) in &files {
        let ends = (0..bytes.len()).filter(|at| *at < 12 || bytes.len() - at <= 12);
        for at in ends {
            for bit in 0..8 {
                let mut changed = files.clone();
                changed.get_mut(path).unwrap()[at] ^= 1 << bit;
                assert!(names(&verified(&changed), path), "{path}, byte {at}, bit {bit}");
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn any_changed_byte_anywhere_is_laid_to_its_file(
        file in any::<prop::sample::Index>(), at in any::<prop::sample::Index>(), by in 1_u8..
    ) {
        let mut files = in_memory(&released());
        let path = files.keys().nth(file.index(files.len())).unwrap().clone();
        let bytes = files.get_mut(&path).unwrap();
        let at = at.index(bytes.len());
        bytes[at] = bytes[at].wrapping_add(by);
        let verification = verified(&files);
        prop_assert!(names(&verification, &path), "{path} at {at}: {verification:?}");
    }

    #[test]
    fn any_file_that_comes_goes_moves_or_ends_early_is_named(
        file in any::<prop::sample::Index>(), what in 0..5, cut in any::<prop::sample::Index>()
    ) {
        let mut files = in_memory(&released());
        let path = files.keys().nth(file.index(files.len())).unwrap().clone();
        // Who countersigned is in the countersignature alone: without it the bag is what it was before.
        prop_assume!(!path.starts_with("signatures/countersigner"));
        let bytes = files[&path].clone();
        let named = match what {
            0 => {
                files.remove(&path);
                path
            }
            1 => {
                files.insert(format!("{path}2"), bytes);
                format!("{path}2")
            }
            2 => {
                files.remove(&path);
                files.insert(format!("data/{path}"), bytes);
                path
            }
            3 => {
                let kept = cut.index(bytes.len());
                files.insert(path.clone(), bytes[..kept].to_vec());
                path
            }
            _ => {
                files.insert(path.clone(), [&bytes[..], b"\n"].concat());
                path
            }
        };
        let verification = verified(&files);
        prop_assert!(names(&verification, &named), "{named}: {verification:?}");
    }

    /// In the zip file a change is laid to a file inside, or the file cannot be opened as a bag at all.
    #[test]
    fn any_changed_byte_of_the_zip_file_is_noticed(at in any::<prop::sample::Index>(), by in 1_u8..) {
        let bag = released();
        let mut packed = Vec::new();
        bag::write_zip("2026-001-release-1", &bag.files, &mut packed, &mut |file| Ok(file.bytes.clone().unwrap())).unwrap();
        let at = at.index(packed.len());
        packed[at] = packed[at].wrapping_add(by);
        if let Ok(mut container) = ZipContainer::open(Cursor::new(packed)) {
            let verification = verify(&mut container, &mut |_, _| {}).unwrap();
            prop_assert_eq!(verification.standing(), Standing::Differs);
        }
    }
}

#[test]
fn a_stray_file_of_an_operating_system_is_named() {
    for stray in [
        ".DS_Store",
        "data/Thumbs.db",
        "data/photos/original/new.jpg",
        "signatures/x.jws",
        "notes.txt",
    ] {
        let mut files = in_memory(&released());
        files.insert(stray.to_owned(), b"x".to_vec());
        assert!(names(&verified(&files), stray), "{stray}");
    }
}

#[test]
fn nothing_and_nonsense_are_no_bag() {
    let nothing = verified(&BTreeMap::new());
    assert_eq!(nothing.standing(), Standing::Differs);
    assert!(names(&nothing, "bagit.txt"));
    let noise: BTreeMap<String, Vec<u8>> =
        in_memory(&released()).into_keys().map(|path| (path, b"\x00\xff{".to_vec())).collect();
    assert_eq!(verified(&noise).standing(), Standing::Differs);
}
