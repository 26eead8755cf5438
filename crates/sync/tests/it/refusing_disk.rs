//! A disk that takes nothing for a while, because it is full, say: it is said, tried again by itself, and nothing is called
//! kept, or sent, before it is on the disk.

use sync::{Batch, Effect, Event, Hash, Standing, Write, WriteId};

use crate::jobs::{Begun, pushed};

/// What the disk is asked to write: at most one batch.
fn batch(effects: &[Effect]) -> Option<(WriteId, Batch)> {
    let mut batches = effects.iter().filter_map(|effect| match effect {
        Effect::Write { write, batch } => Some((*write, batch.clone())),
        _ => None,
    });
    let first = batches.next();
    assert!(batches.next().is_none(), "two batches at a time");
    first
}

/// The changes in a batch, in order.
fn changes_in(batch: &Batch) -> Vec<Hash> {
    let changes = batch.writes.iter().filter_map(|write| match write {
        Write::Change { hash, .. } => Some(*hash),
        _ => None,
    });
    changes.collect()
}

/// Whether a change is on its way to the server.
fn is_sent(effects: &[Effect], change: &[u8]) -> bool {
    pushed(effects).concat().iter().any(|one| one == change)
}

#[test]
fn what_a_full_disk_refuses_is_said_tried_again_in_order_and_never_sent_before_it_is_kept() {
    let mut begun = Begun::new();
    let (job, first) = (begun.job.clone(), begun.first.clone());

    // The first entry is kept.
    let effects = begun.phone.handle(0, begun.edited(vec![first.bytes]));
    let (write, _) = batch(&effects).unwrap();
    begun.phone.handle(10, Event::Written { write });
    assert_eq!(begun.phone.change(&job, &first.hash), Some(Standing::Kept));

    // The second is not, again and again.
    let second = begun.enter("121 V");
    let mut effects = begun.phone.handle(20, begun.edited(vec![second.bytes.clone()]));
    let mut now = 20;
    let why = || "the disk is full".to_owned();
    for _ in 0..10 {
        let (write, refused) = batch(&effects).expect("it is tried again");
        assert_eq!(changes_in(&refused), [second.hash]);
        let effects_of_refusal = begun.phone.handle(now, Event::NotWritten { write, why: why() });
        assert!(
            effects_of_refusal.contains(&Effect::Changed { job: job.clone() }),
            "nobody is told"
        );
        assert_eq!(batch(&effects_of_refusal), None, "it is tried again without a pause");
        assert_eq!(begun.phone.change(&job, &second.hash), Some(Standing::NotKept { why: why() }));
        assert_eq!(
            begun.phone.change(&job, &first.hash),
            Some(Standing::Kept),
            "the kept one is not doubted"
        );
        let failed = now;
        loop {
            now = begun.phone.next_tick().expect("it comes back by itself");
            assert!(now > failed && now <= failed + 60_000, "{failed} and then {now}");
            effects = begun.phone.handle(now, Event::Tick);
            assert!(!is_sent(&effects, &second.bytes), "sent before it was kept");
            if batch(&effects).is_some() {
                break;
            }
        }
    }
    // What is entered meanwhile waits behind it; then the disk has room.
    let third = begun.enter("119 V");
    assert_eq!(batch(&begun.phone.handle(now, begun.edited(vec![third.bytes]))), None);
    let (write, _) = batch(&effects).unwrap();
    begun.phone.handle(now, Event::NotWritten { write, why: why() });
    now = now.saturating_add(60_000);
    let (write, both) = batch(&begun.phone.handle(now, Event::Tick)).unwrap();
    assert_eq!(
        changes_in(&both),
        [second.hash, third.hash],
        "in the order in which they were made"
    );
    let effects = begun.phone.handle(now, Event::Written { write });
    for change in [&first.hash, &second.hash, &third.hash] {
        assert_eq!(begun.phone.change(&job, change), Some(Standing::Kept));
    }
    let summary = begun.phone.job(&job).unwrap();
    assert_eq!((summary.writing, summary.only_here), (0, 3));
    // The first push was never answered and has been given up by now; kept, all go.
    let mut sent = is_sent(&effects, &second.bytes);
    for _ in 0..20 {
        now = begun.phone.next_tick().unwrap();
        sent |= is_sent(&begun.phone.handle(now, Event::Tick), &second.bytes);
    }
    assert!(sent, "kept at last, and still not sent");
}
