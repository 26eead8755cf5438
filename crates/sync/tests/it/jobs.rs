//! Small jobs for tests.

use inspection::{Dwelling, DwellingKind, Job, Outline, Reading};
use record::{Author, Change, Edit, Record};
use sync::{Effect, Event, JobId, LocalState, Replica, RequestId, wire::Request};

pub(crate) const NOON: i64 = 1_781_265_600;

/// A device's author; `number` tells devices apart.
pub(crate) fn author(number: u8) -> Author {
    Author::new([number + 1; 16], format!("Person {number}"))
}

/// A new job's record.
pub(crate) fn new_record(author: &Author, number: &str) -> Record {
    let job = Job { number: number.into(), purpose: "purchase".into(), ..Job::default() };
    let dwelling = Dwelling {
        kind: DwellingKind::TravelTrailer,
        outline: Outline::default(),
        ..Dwelling::default()
    };
    Record::create(author, NOON, &job, &dwelling, "id = \"purchase\"\n").unwrap()
}

/// A phone that knows nothing yet, and a job on it whose first change it has not been told of.
pub(crate) struct Begun {
    pub(crate) job: JobId,
    pub(crate) author: Author,
    pub(crate) record: Record,
    pub(crate) first: Change,
    pub(crate) phone: Replica,
}

impl Begun {
    pub(crate) fn new() -> Self {
        let author = author(1);
        let record = new_record(&author, "2026-041");
        let first = record.changes_after(&[]).remove(0);
        let phone = Replica::restore(LocalState::default(), 7, 0);
        Self { job: JobId::new("2026-041").unwrap(), author, record, first, phone }
    }

    /// One more reading, as a change that the phone has not been told of.
    pub(crate) fn enter(&mut self, entry: &str) -> Change {
        let edit = reading(&self.record, &self.author, entry);
        self.record.edit(&self.author, NOON, edit).unwrap().unwrap()
    }

    /// The phone is told that this was entered.
    pub(crate) fn edited(&self, changes: Vec<Vec<u8>>) -> Event {
        Event::Edited { job: self.job.clone(), changes, blobs: Vec::new() }
    }
}

/// What is sent to the server.
pub(crate) fn sent(effects: &[Effect]) -> Vec<(RequestId, &Request)> {
    let sent = effects.iter().filter_map(|effect| match effect {
        Effect::Send { request, message } => Some((*request, message)),
        _ => None,
    });
    sent.collect()
}

/// The changes in the pushes that are sent.
pub(crate) fn pushed(effects: &[Effect]) -> Vec<Vec<Vec<u8>>> {
    let pushes = sent(effects).into_iter().filter_map(|(_, message)| match message {
        Request::Push { push, .. } => Some(push.changes.clone()),
        _ => None,
    });
    pushes.collect()
}

/// One more reading.
pub(crate) fn reading(record: &Record, author: &Author, entry: &str) -> Edit {
    Edit::AddReading {
        id: record.fresh_id(author, 0).into(),
        reading: Reading {
            point: "shore_power".into(),
            name: "voltage".into(),
            entry: entry.into(),
            position: String::new(),
            instrument: None,
            at: None,
            by: author.person.clone(),
            struck_out: None,
        },
    }
}
