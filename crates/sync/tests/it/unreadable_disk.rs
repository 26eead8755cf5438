//! A disk that fails when it is read, or that does not give what it took: it is asked again after a pause, nothing else waits
//! for it, and what is gone is said.

use record::{Link, Record};
use sync::{
    BlobHash, Cursor, Effect, Event, Hash, LocalBlob, LocalChange, LocalJob, LocalState, Rank,
    Replica, Standing, Write,
    wire::{BlobList, Heads, Kept, Page, Pushed, Request, Response, UploadState},
};

use crate::jobs::{Begun, NOON, author, pushed, reading, sent};

/// The changes that the disk is asked for.
fn asked_for(effects: &[Effect]) -> Vec<Vec<Hash>> {
    let asked = effects.iter().filter_map(|effect| match effect {
        Effect::ReadChanges { hashes, .. } => Some(hashes.clone()),
        _ => None,
    });
    asked.collect()
}

/// A phone that starts with these changes kept and not copied, their bytes still on the disk.
fn started(begun: &Begun, changes: &[Hash], blobs: Vec<LocalBlob>) -> Replica {
    let changes = changes.iter().map(|hash| LocalChange {
        hash: *hash,
        copied: false,
        refused: None,
        bytes: None,
    });
    let (job, cursor) = (begun.job.clone(), Cursor::START);
    let job = LocalJob { job, cursor, changes: changes.collect(), blobs };
    Replica::restore(LocalState { jobs: vec![job] }, 7, 0)
}

/// A server and a line that always work.
#[derive(Default)]
struct Server {
    log: Vec<(Hash, Vec<u8>)>,
    opened: usize,
    stored: Vec<BlobHash>,
}

impl Server {
    fn cursor(&self, length: usize) -> Cursor {
        self.log[..length].iter().fold(Cursor::START, |cursor, (hash, _)| cursor.then(hash))
    }

    fn head(&self) -> u64 {
        self.log.len().try_into().unwrap()
    }

    fn answer(&mut self, asked: &Request) -> Response {
        match asked {
            Request::Push { push, .. } => {
                let before = self.cursor(self.log.len()).chain;
                let links = push.changes.iter().flat_map(|bytes| Link::read(bytes).unwrap());
                let kept = links.map(|link| {
                    self.log.push((link.hash, link.bytes));
                    Kept { hash: link.hash, seq: self.log.len().try_into().unwrap() }
                });
                let kept = kept.collect();
                Response::Pushed(Pushed { head: self.head(), before, kept })
            }
            Request::Pull { after, .. } => {
                let from = usize::try_from(after.seq).unwrap();
                let changes = self.log[from..].iter().map(|(_, bytes)| bytes.clone()).collect();
                Response::Page(Page { after: after.seq, head: self.head(), changes })
            }
            Request::Heads => Response::Heads(Heads::default()),
            Request::MissingBlobs { .. } => Response::MissingBlobs(BlobList::default()),
            Request::OpenUpload { .. } => {
                self.opened += 1;
                Response::Upload(UploadState { offset: 0, stored: false })
            }
            Request::Piece { blob, size, .. } => {
                self.stored.push(*blob);
                Response::Upload(UploadState { offset: *size, stored: true })
            }
        }
    }
}

/// Lets a phone work at a server until `until`. What it asks of its disk is answered by `read`, writes succeed.
/// Whatever it wanted.
fn live(
    phone: &mut Replica,
    server: &mut Server,
    (mut now, until): (u64, u64),
    mut read: impl FnMut(&Effect) -> Option<Event>,
) -> Vec<Effect> {
    let mut all = Vec::new();
    let mut events = vec![Event::Tick];
    let mut steps = 0;
    loop {
        steps += 1;
        assert!(steps < 5_000, "it asks without end");
        let Some(event) = events.pop() else {
            match phone.next_tick() {
                Some(next) if next <= until => {
                    now = next.max(now + 1);
                    events.push(Event::Tick);
                    continue;
                }
                _ => return all,
            }
        };
        for effect in phone.handle(now, event) {
            match &effect {
                Effect::Write { write, .. } => events.push(Event::Written { write: *write }),
                Effect::Send { request, message } => {
                    let answer = Ok(server.answer(message));
                    events.push(Event::Answered { request: *request, answer });
                }
                other => events.extend(read(other)),
            }
            all.push(effect);
        }
    }
}

#[test]
fn a_disk_that_fails_is_asked_again_after_a_pause() {
    let begun = Begun::new();
    let (job, first) = (begun.job.clone(), begun.first.clone());
    let mut phone = started(&begun, &[first.hash], Vec::new());
    let mut server = Server::default();
    let fails = |effect: &Effect| match effect {
        Effect::ReadChanges { job, .. } => Some(Event::ChangesNotRead { job: job.clone() }),
        _ => None,
    };
    let effects = live(&mut phone, &mut server, (0, 300_000), fails);
    let times = asked_for(&effects).len();
    assert!((5..=20).contains(&times), "asked {times} times in five minutes");
    let summary = phone.job(&job).unwrap();
    assert_eq!((summary.only_here, summary.gone), (1, 0), "a failure says nothing of the change");
    let works = |effect: &Effect| match effect {
        Effect::ReadChanges { job, .. } => {
            Some(Event::ChangesRead { job: job.clone(), changes: vec![first.bytes.clone()] })
        }
        _ => None,
    };
    live(&mut phone, &mut server, (300_001, 400_000), works);
    assert_eq!(server.log, [(first.hash, first.bytes)]);
    assert_eq!(phone.change(&job, &first.hash), Some(Standing::Copied));
}

#[test]
fn a_change_that_is_gone_is_said_looked_for_now_and_then_and_holds_up_no_other() {
    let mut begun = Begun::new();
    let (job, first) = (begun.job.clone(), begun.first.clone());
    // Two people go on from the same state: neither change builds on the other.
    let other = author(2);
    let mut fork = Record::load([first.bytes.as_slice()]).unwrap();
    let theirs = fork.edit(&other, NOON, reading(&fork, &other, "118 V")).unwrap().unwrap();
    let lost = begun.enter("121 V");
    let after_it = begun.enter("122 V");
    let all = [&first, &lost, &after_it, &theirs];
    let mut phone = started(&begun, &all.map(|change| change.hash), Vec::new());
    let mut server = Server::default();
    let disk = |lacks: Option<Hash>| {
        move |effect: &Effect| match effect {
            Effect::ReadChanges { job, hashes } => {
                let there = all
                    .iter()
                    .filter(|change| hashes.contains(&change.hash) && Some(change.hash) != lacks);
                let changes = there.map(|change| change.bytes.clone()).collect();
                Some(Event::ChangesRead { job: job.clone(), changes })
            }
            _ => None,
        }
    };

    let effects = live(&mut phone, &mut server, (0, 60_000), disk(Some(lost.hash)));
    assert!(effects.contains(&Effect::Changed { job: job.clone() }), "nobody is told");
    assert_eq!(phone.change(&job, &lost.hash), Some(Standing::Gone));
    let summary = phone.job(&job).unwrap();
    assert_eq!((summary.gone, summary.only_here, summary.copied), (1, 1, 2));
    assert!(!summary.all_copied());
    // What does not build on it went; what does would be refused.
    assert_eq!(pushed(&effects), [[first.bytes.clone(), theirs.bytes.clone()]]);

    // In half a day it was asked for now and then.
    let half_a_day = 43_200_000;
    let effects = live(&mut phone, &mut server, (60_001, half_a_day), disk(Some(lost.hash)));
    let times = asked_for(&effects).len();
    assert!((12..=100).contains(&times), "asked {times} times in half a day");
    assert_eq!(pushed(&effects), Vec::<Vec<Vec<u8>>>::new());

    // It is there again.
    live(&mut phone, &mut server, (half_a_day + 1, half_a_day + 1_300_000), disk(None));
    let logged: Vec<Hash> = server.log.iter().map(|(hash, _)| *hash).collect();
    assert_eq!(logged, [first.hash, theirs.hash, lost.hash, after_it.hash]);
    assert!(phone.job(&job).unwrap().all_copied());
}

#[test]
fn a_change_that_is_gone_and_comes_from_the_server_is_written_again() {
    let begun = Begun::new();
    let (job, first) = (begun.job.clone(), begun.first.clone());
    let mut phone = started(&begun, &[first.hash], Vec::new());
    let mut server = Server { log: vec![(first.hash, first.bytes.clone())], ..Server::default() };
    // The disk lacks it, and is asked before the server's answer is there.
    let asked = phone.handle(0, Event::Tick);
    phone.handle(1, Event::ChangesRead { job: job.clone(), changes: Vec::new() });
    assert_eq!(phone.change(&job, &first.hash), Some(Standing::Gone));
    let mut written = Vec::new();
    for (request, message) in sent(&asked) {
        let answer = Ok(server.answer(message));
        for effect in phone.handle(2, Event::Answered { request, answer }) {
            if let Effect::Write { batch, .. } = effect {
                written.extend(batch.writes);
            }
        }
    }
    let (hash, bytes) = (first.hash, first.bytes);
    assert!(written.contains(&Write::Change { job: job.clone(), hash, bytes, copied: true }));
    assert_eq!(phone.change(&job, &hash), Some(Standing::Copied));
}

fn photo(blob: BlobHash) -> LocalBlob {
    LocalBlob { blob, size: 100, rank: Rank::Photo, copied: false, refused: None }
}

#[test]
fn a_photo_at_which_the_disk_fails_lets_others_go_first_and_one_that_is_gone_is_said() {
    let begun = Begun::new();
    let [fails, good, gone] = [1, 2, 3].map(|number| BlobHash([number; 32]));
    let blobs = [fails, good, gone].map(photo);
    let mut phone = started(&begun, &[], blobs.to_vec());
    let mut server = Server::default();
    let mut failures = 0;
    live(&mut phone, &mut server, (0, 500_000), |effect| match effect {
        Effect::ReadBlob { request, blob, .. } if *blob == fails && failures < 5 => {
            failures += 1;
            Some(Event::BlobNotRead { request: *request })
        }
        Effect::ReadBlob { request, blob, length, .. } => {
            let whole = vec![0; usize::try_from(*length).unwrap()];
            Some(Event::BlobRead { request: *request, bytes: (*blob != gone).then_some(whole) })
        }
        _ => None,
    });
    assert_eq!((server.stored.as_slice(), failures), ([good, fails].as_slice(), 5));
    let standing = |blob| phone.blob(&begun.job, blob).unwrap().standing;
    assert_eq!(
        [fails, good, gone].map(standing),
        [Standing::Copied, Standing::Copied, Standing::Gone]
    );
    let summary = phone.job(&begun.job).unwrap();
    assert_eq!((summary.blobs_copied, summary.blobs_only_here, summary.gone), (2, 0, 1));
    assert!(!summary.all_copied());
}

#[test]
fn a_photo_that_the_disk_never_gives_is_tried_for_ever_and_ever_more_seldom() {
    let begun = Begun::new();
    let blob = BlobHash([1; 32]);
    let mut phone = started(&begun, &[], vec![photo(blob)]);
    let mut server = Server::default();
    let mut failures = 0;
    live(&mut phone, &mut server, (0, 3_600_000), |effect| match effect {
        Effect::ReadBlob { request, .. } => {
            failures += 1;
            Some(Event::BlobNotRead { request: *request })
        }
        _ => None,
    });
    assert!((30..=150).contains(&failures), "read {failures} times in an hour");
    assert_eq!(server.opened, 1, "the server is asked again and again how far it is");
    assert_eq!(phone.blob(&begun.job, blob).unwrap().standing, Standing::Kept);
}
