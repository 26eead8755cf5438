//! What a change's bytes say by themselves, without the document.

use record::{Edit, Link, RecordError};

use crate::fixtures::*;

#[test]
fn a_change_alone_tells_its_name_its_device_and_what_it_hangs_on() {
    let mut record = new_record();
    let beginning = record.beginning();
    let edit = |name: &str| Edit::AddReading { id: name.into(), reading: reading("a", "b", "1 V") };
    let first = record.edit(&laptop(), NOON, edit("x")).unwrap().unwrap();
    let second = record.edit(&laptop(), NOON, edit("y")).unwrap().unwrap();
    let all: Vec<u8> =
        record.changes_after(&[]).iter().flat_map(|change| change.bytes.clone()).collect();
    let links = Link::read(&all).unwrap();
    assert_eq!(links.len(), 3);
    assert_eq!((links[0].hash, links[0].deps.len(), links[0].device_seq), (beginning, 0, 1));
    assert_eq!(links[0].first_operation, 1);
    assert_eq!(links[0].device, phone().device);
    assert_eq!((links[1].hash, &links[1].deps), (first.hash, &vec![beginning]));
    assert_eq!(links[1].first_operation, links[0].last_operation + 1);
    assert_eq!((links[2].hash, &links[2].deps), (second.hash, &vec![first.hash]));
    assert_eq!((&links[2].device[..], links[2].device_seq), (&laptop().device[..], 2));
    assert_eq!(links[2].bytes, second.bytes);
}

#[test]
fn bytes_that_are_no_sound_change_have_no_links() {
    let record = new_record();
    let mut change = record.changes_after(&[]).remove(0).bytes;
    assert!(matches!(Link::read(&record.save()), Err(RecordError::Refused(_))));
    let middle = change.len() / 2;
    change[middle] ^= 1;
    assert!(matches!(Link::read(&change), Err(RecordError::Damaged { .. })));
    assert!(matches!(Link::read(&change[..middle]), Err(RecordError::Damaged { .. })));
    assert!(matches!(Link::read(b"hello"), Err(RecordError::NotARecord { .. })));
    assert_eq!(Link::read(b"").unwrap(), []);
}
