//! Small jobs for tests.

use inspection::{Dwelling, DwellingKind, Job, Reading};
use record::{Author, Change, Edit, Record};

const NOON: i64 = 1_781_265_600;

/// A device's author; `number` tells devices apart.
pub(crate) fn author(number: u8) -> Author {
    Author::new([number.wrapping_add(1); 16], format!("Person {number}"))
}

/// A new job's record.
pub(crate) fn new_record(author: &Author, number: &str) -> Record {
    let job = Job { number: number.into(), purpose: "purchase".into(), ..Job::default() };
    let dwelling = Dwelling { kind: DwellingKind::TravelTrailer, ..Dwelling::default() };
    Record::create(author, NOON, &job, &dwelling, "id = \"purchase\"\n").unwrap()
}

/// Adds one more reading.
pub(crate) fn one_more(record: &mut Record, author: &Author) -> Change {
    let edit = Edit::AddReading {
        id: record.fresh_id(author, 0).into(),
        reading: Reading {
            point: "shore_power".into(),
            name: "voltage".into(),
            entry: "121 V".into(),
            position: String::new(),
            instrument: None,
            at: None,
            by: author.person.clone(),
            struck_out: None,
        },
    };
    record.edit(author, NOON, edit).unwrap().unwrap()
}
