//! The server's process killed again and again while phones copy to it: nothing that a phone was told is copied
//! may be missing, and in the end all have everything.

use std::{
    collections::BTreeSet,
    sync::{
        Mutex,
        atomic::{AtomicBool, Ordering},
    },
    time::{Duration, Instant},
};

use store::{JobId, Store};

use crate::{
    child::{Process, let_in},
    line::Line,
    phone::Phone,
};

/// So many kills; `SERVER_KILLS=500` for more.
const KILLS: usize = 50;
const PHONES: u8 = 3;

/// A small sequence without order, the same in each run (Numerical Recipes' linear congruence).
struct Dice(u64);

impl Dice {
    fn up_to(&mut self, most: u64) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }
}

#[test]
fn nothing_called_copied_is_missing_after_the_server_was_killed_many_times() {
    let kills =
        std::env::var("SERVER_KILLS").ok().and_then(|text| text.parse().ok()).unwrap_or(KILLS);
    let folder = tempfile::tempdir().unwrap();
    let keys: Vec<String> =
        (0..PHONES).map(|number| let_in(folder.path(), number.into())).collect();
    let mut server = Process::start(folder.path(), "127.0.0.1:0".parse().unwrap());
    let at = server.at;
    let mut phones: Vec<Phone> = (0..PHONES)
        .zip(keys)
        .map(|(number, key)| Phone::new(number, "2026-041", Line::new(at, Some(key))))
        .collect();
    phones[0].begin();
    let phones: Vec<Mutex<Phone>> = phones.into_iter().map(Mutex::new).collect();

    let (over, up) = (AtomicBool::new(false), AtomicBool::new(true));
    let mut acknowledged = 0;
    std::thread::scope(|scope| {
        for phone in &phones {
            let (over, up) = (&over, &up);
            scope.spawn(move || {
                let mut turn = 0_u32;
                while !over.load(Ordering::Relaxed) {
                    let mut phone = phone.lock().unwrap();
                    if up.load(Ordering::Relaxed) {
                        phone.online();
                    }
                    if phone.waiting() < 30 {
                        phone.read_instrument();
                        if turn.is_multiple_of(5) {
                            phone.take_photo(300_000);
                        }
                    }
                    turn += 1;
                    phone.tick();
                    drop(phone);
                    std::thread::sleep(Duration::from_millis(2));
                }
            });
        }
        let mut dice = Dice(2026);
        for round in 0..kills {
            std::thread::sleep(Duration::from_millis(20 + dice.up_to(180)));
            up.store(false, Ordering::Relaxed);
            server.kill();
            // What the phones were told by now, held against what is there.
            let said: Vec<(BTreeSet<_>, BTreeSet<_>)> = phones
                .iter()
                .map(|phone| {
                    let phone = phone.lock().unwrap();
                    (phone.copied.clone(), phone.copied_photos.clone())
                })
                .collect();
            acknowledged = check(folder.path(), &said, round);
            server = Process::start(folder.path(), at);
            up.store(true, Ordering::Relaxed);
        }
        over.store(true, Ordering::Relaxed);
    });
    assert!(
        acknowledged > kills,
        "{acknowledged} acknowledged: the server got nothing done between the kills"
    );

    // The line stays up: everything arrives everywhere.
    let deadline = Instant::now() + Duration::from_secs(120);
    loop {
        for phone in &phones {
            let mut phone = phone.lock().unwrap();
            phone.online();
        }
        // A phone that came to rest first learns of what the others sent after it in the next round.
        if phones.iter().all(|phone| phone.lock().unwrap().is_quiet()) && are_equal(&phones) {
            break;
        }
        assert!(Instant::now() < deadline, "the phones do not come to rest with the same record");
        std::thread::sleep(Duration::from_millis(20));
    }
    let inspection = phones[0].lock().unwrap().record.as_ref().unwrap().inspection();
    server.kill();
    let store = Store::open(folder.path()).unwrap();
    let changes = store.changes(&JobId::new("2026-041").unwrap(), 0, usize::MAX).unwrap();
    let record =
        record::Record::load(changes.iter().map(|change| change.bytes.as_slice())).unwrap();
    assert_eq!(record.inspection(), inspection, "the server differs from the phones");
    let losses: Vec<_> =
        store.verify(&mut |_| {}).unwrap().into_iter().filter(store::Fault::is_loss).collect();
    assert_eq!(losses, []);
    println!(
        "{kills} kills, {} changes and {} photos copied, none missing",
        changes.len(),
        store.blobs().unwrap().len()
    );
}

fn are_equal(phones: &[Mutex<Phone>]) -> bool {
    let inspection = |phone: &Mutex<Phone>| {
        phone.lock().unwrap().record.as_ref().map(record::Record::inspection)
    };
    phones.windows(2).all(|two| inspection(&two[0]) == inspection(&two[1]))
}

/// Everything that was called copied is there; how much that is.
fn check(
    folder: &std::path::Path,
    said: &[(BTreeSet<sync::Hash>, BTreeSet<sync::BlobHash>)],
    round: usize,
) -> usize {
    let store = Store::open(folder).unwrap();
    let there: BTreeSet<[u8; 32]> =
        match store.changes(&JobId::new("2026-041").unwrap(), 0, usize::MAX) {
            Ok(changes) => changes.into_iter().map(|change| change.hash).collect(),
            Err(store::StoreError::NoSuchJob { job: _ }) => BTreeSet::new(),
            Err(error) => panic!("round {round}: {error}"),
        };
    let mut count = 0;
    for (changes, photos) in said {
        for hash in changes {
            assert!(
                there.contains(&hash.0),
                "round {round}: change {hash} was called copied and is not there"
            );
        }
        for blob in photos {
            let name = store::Sha256Hex::new(&blob.to_string()).unwrap();
            assert!(
                store.has_blob(&name).unwrap(),
                "round {round}: photo {blob} was called copied and is not there"
            );
        }
        count += changes.len() + photos.len();
    }
    count
}
