//! A writer killed without warning: what it acknowledged is kept.
//!
//! A kill leaves the system's memory of the files as it was, so this shows that no acknowledged
//! change depends on the writer living on; what a power cut takes is the subject of `power_cut`.

use std::time::{Duration, Instant};

use store::Store;

use crate::child::{Dice, Orders, Word, check_kept};

#[test]
fn everything_a_writer_acknowledged_before_it_was_killed_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    let mut dice = Dice(2026);
    let mut acknowledged = Vec::new();
    let mut from = 0;
    for round in 0..24 {
        let orders =
            Orders { from, count: 1_000_000, blob_every: 3, ..Orders::new(folder.path(), "job") };
        let mut writer = orders.start("");
        let mut words: Vec<Word> =
            std::iter::from_fn(|| writer.next()).take(1 + dice.up_to(12)).collect();
        // Anywhere within the few milliseconds of the next steps.
        let until = Instant::now() + Duration::from_micros(dice.next() % 12_000);
        while Instant::now() < until {
            std::hint::spin_loop();
        }
        writer.child.kill().unwrap();
        words.extend(writer.rest());
        assert!(!words.is_empty());
        acknowledged.extend(words);

        let store = Store::open(folder.path()).unwrap();
        check_kept(&store, &orders, &acknowledged);
        let losses: Vec<_> =
            store.verify(&mut |_| {}).unwrap().into_iter().filter(store::Fault::is_loss).collect();
        assert_eq!(losses, [], "round {round}");
        let head = store.jobs().unwrap()[0].head_seq;
        let last = acknowledged.iter().filter_map(|word| match word {
            Word::Change { seq, .. } => Some(*seq),
            _ => None,
        });
        let last = last.max().unwrap();
        assert!(head == last || head == last + 1, "round {round}: {head}, {last} acknowledged");
        from = head;
    }
}
