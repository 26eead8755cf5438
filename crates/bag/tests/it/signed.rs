//! What signatures show, and what they do not.

use bag::{File, Role, SigningKey, Standing, place, verify};

use crate::sample::{assembled, in_memory, record, release, released, sign, state};

fn standing(bag: &bag::Bag) -> bag::Verification {
    verify(&mut in_memory(bag), &mut |_, _| {}).unwrap()
}

#[test]
fn a_working_copy_is_intact_and_nobodys() {
    let record = record();
    let bag = assembled(&record, &state(&record, None));
    let verification = standing(&bag);
    assert_eq!(verification.faults, []);
    assert_eq!(verification.standing(), Standing::Unsigned);
}

#[test]
fn the_demonstration_key_counts_for_nothing() {
    let key = SigningKey::demonstration();
    let record = record();
    let state = state(&record, Some(release(&key)));
    let mut bag = assembled(&record, &state);
    sign(&mut bag, &state, &key, Role::Inspector);
    assert_eq!(standing(&bag).standing(), Standing::Demonstration);
}

#[test]
fn a_release_without_its_signature_or_with_another_key_s_differs() {
    let (key, other) = (SigningKey::from_seed([3; 32]), SigningKey::from_seed([5; 32]));
    let record = record();
    let state = state(&record, Some(release(&key)));
    let mut bag = assembled(&record, &state);
    assert_eq!(standing(&bag).standing(), Standing::Differs);
    sign(&mut bag, &state, &other, Role::Inspector);
    assert_eq!(standing(&bag).standing(), Standing::Differs);
    bag.files.retain(|file| !file.path.contains(&other.public().thumbprint()));
    sign(&mut bag, &state, &key, Role::Inspector);
    assert_eq!(standing(&bag).standing(), Standing::Signed);
}

#[test]
fn an_awaited_countersignature_is_said_until_it_is_there() {
    let (key, second) = (SigningKey::from_seed([3; 32]), SigningKey::from_seed([4; 32]));
    let record = record();
    let mut release = release(&key);
    release.countersigner = Some("C. Reviewer".to_owned());
    let state = state(&record, Some(release));
    let mut bag = assembled(&record, &state);
    sign(&mut bag, &state, &key, Role::Inspector);
    let before = standing(&bag);
    assert_eq!((before.standing(), before.awaited.as_str()), (Standing::Awaited, "C. Reviewer"));
    sign(&mut bag, &state, &second, Role::Countersigner);
    assert_eq!(standing(&bag).standing(), Standing::Signed);
}

/// Somebody who changes a photo and writes both manifests anew still lacks the key.
#[test]
fn manifests_written_anew_do_not_fit_the_signature() {
    let bag = released();
    let payload: Vec<File> = bag
        .files
        .iter()
        .filter(|file| file.path.starts_with("data/"))
        .map(|file| {
            if file.path.ends_with("readings.csv") {
                File::new(file.path.clone(), "forged")
            } else {
                file.clone()
            }
        })
        .collect();
    let mut forged = bag::Bag::assemble(
        payload,
        &bag::BagInfo { identifier: "2026-001".to_owned(), ..bag::BagInfo::default() },
    )
    .unwrap();
    forged
        .files
        .extend(bag.files.iter().filter(|file| file.path.starts_with("signatures/")).cloned());
    let verification = standing(&forged);
    assert_eq!(verification.standing(), Standing::Differs);
    assert!(
        verification.faults.iter().any(|fault| fault.file == place::TAG_MANIFEST),
        "{verification:?}"
    );
}

/// A signature of one release beside the files of another.
#[test]
fn a_sound_signature_from_elsewhere_does_not_fit() {
    let key = SigningKey::from_seed([3; 32]);
    let record = record();
    let (one, mut second) = (state(&record, Some(release(&key))), release(&key));
    second.number = 2;
    let two = state(&record, Some(second));
    let (mut first, mut other) = (assembled(&record, &one), assembled(&record, &two));
    sign(&mut first, &one, &key, Role::Inspector);
    let token = first.files.iter().find(|file| file.path.starts_with("signatures/")).unwrap();
    other.files.push(token.clone());
    assert_eq!(standing(&other).standing(), Standing::Differs);
}
