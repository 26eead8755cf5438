//! A device that the server removes: it says so, sends nothing more, keeps everything, and goes on once it is paired again.

use sync::{
    Connection, Effect, Event, Hash, JobId, LocalState, Refusal, Replica, RequestId, Standing,
    wire::Request,
};

use crate::jobs::{NOON, author, new_record, reading};

/// Hands an event in, lets the disk take everything at once, and answers all that was wanted.
fn handle(phone: &mut Replica, now: u64, event: Event) -> Vec<Effect> {
    let mut all = Vec::new();
    let mut events = vec![event];
    while let Some(event) = events.pop() {
        for effect in phone.handle(now, event) {
            if let Effect::Write { write, .. } = &effect {
                events.push(Event::Written { write: *write });
            }
            all.push(effect);
        }
    }
    all
}

fn sent(effects: &[Effect]) -> Vec<(RequestId, &Request)> {
    let sent = effects.iter().filter_map(|effect| match effect {
        Effect::Send { request, message } => Some((*request, message)),
        _ => None,
    });
    sent.collect()
}

#[test]
fn a_removed_device_says_so_keeps_what_it_has_and_sends_it_once_it_is_paired_again() {
    let job = JobId::new("2026-041").unwrap();
    let author = author(1);
    let mut record = new_record(&author, "2026-041");
    let mut phone = Replica::restore(LocalState::default(), 7, 0);
    let edited = |changes| Event::Edited { job: job.clone(), changes, blobs: Vec::new() };
    let begun = record.changes_after(&[]).remove(0);
    let effects = handle(&mut phone, 0, edited(vec![begun.bytes]));

    // Whatever was asked is refused.
    let asked: Vec<RequestId> = sent(&effects).iter().map(|(request, _)| *request).collect();
    assert!(!asked.is_empty());
    let mut told = 0;
    for request in asked {
        let answer = Err(Refusal::DeviceRemoved);
        let effects = handle(&mut phone, 10, Event::Answered { request, answer });
        let shut = Effect::ShutOut { refusal: Refusal::DeviceRemoved };
        told += effects.iter().filter(|effect| **effect == shut).count();
        assert_eq!(sent(&effects), []);
    }
    assert_eq!(told, 1, "it is said once");
    assert_eq!(phone.connection(), Connection::ShutOut { refusal: Refusal::DeviceRemoved });

    // It can be worked with; nothing leaves it, however long it takes and whatever line comes back.
    let edit = reading(&record, &author, "121 V");
    let more = record.edit(&author, NOON, edit).unwrap().unwrap();
    let mut effects = handle(&mut phone, 20, edited(vec![more.bytes]));
    effects.extend(handle(&mut phone, 30, Event::Online));
    for hour in 1..30 {
        effects.extend(handle(&mut phone, hour * 3_600_000, Event::Tick));
    }
    assert_eq!(sent(&effects), []);
    let standing = |phone: &Replica, hash: &Hash| phone.change(&job, hash);
    for hash in [&begun.hash, &more.hash] {
        assert_eq!(standing(&phone, hash), Some(Standing::Kept));
    }
    assert_eq!(phone.job(&job).unwrap().only_here, 2);

    // Paired again: all of it is on its way.
    let effects = handle(&mut phone, 40 * 3_600_000, Event::Paired);
    let pushed: Vec<usize> = sent(&effects)
        .iter()
        .filter_map(|(_, message)| match message {
            Request::Push { push, .. } => Some(push.changes.len()),
            _ => None,
        })
        .collect();
    assert_eq!(pushed, [2]);
    assert_eq!(phone.connection(), Connection::Working);
}
