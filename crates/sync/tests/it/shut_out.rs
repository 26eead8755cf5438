//! A device that the server removes: it says so, sends nothing more, keeps everything, and goes on once it is paired again.

use sync::{Connection, Effect, Event, Refusal, Replica, RequestId, Standing};

use crate::jobs::{Begun, pushed, sent};

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

#[test]
fn a_removed_device_says_so_keeps_what_it_has_and_sends_it_once_it_is_paired_again() {
    let mut begun = Begun::new();
    let (job, first) = (begun.job.clone(), begun.first.clone());
    let event = begun.edited(vec![first.bytes]);
    let effects = handle(&mut begun.phone, 0, event);

    // Whatever was asked is refused.
    let asked: Vec<RequestId> = sent(&effects).iter().map(|(request, _)| *request).collect();
    assert!(!asked.is_empty());
    let mut told = 0;
    for request in asked {
        let answer = Err(Refusal::DeviceRemoved);
        let effects = handle(&mut begun.phone, 10, Event::Answered { request, answer });
        let shut = Effect::ShutOut { refusal: Refusal::DeviceRemoved };
        told += effects.iter().filter(|effect| **effect == shut).count();
        assert_eq!(sent(&effects), []);
    }
    assert_eq!(told, 1, "it is said once");
    assert_eq!(begun.phone.connection(), Connection::ShutOut { refusal: Refusal::DeviceRemoved });

    // It can be worked with; nothing leaves it, however long it takes and whatever line comes back.
    let more = begun.enter("121 V");
    let event = begun.edited(vec![more.bytes]);
    let mut effects = handle(&mut begun.phone, 20, event);
    effects.extend(handle(&mut begun.phone, 30, Event::Online));
    for hour in 1..30 {
        effects.extend(handle(&mut begun.phone, hour * 3_600_000, Event::Tick));
    }
    assert_eq!(sent(&effects), []);
    for hash in [&first.hash, &more.hash] {
        assert_eq!(begun.phone.change(&job, hash), Some(Standing::Kept));
    }
    assert_eq!(begun.phone.job(&job).unwrap().only_here, 2);

    // Paired again: all of it is on its way.
    let effects = handle(&mut begun.phone, 40 * 3_600_000, Event::Paired);
    let pushes: Vec<usize> = pushed(&effects).iter().map(Vec::len).collect();
    assert_eq!(pushes, [2]);
    assert_eq!(begun.phone.connection(), Connection::Working);
}
