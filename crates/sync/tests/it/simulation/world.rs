//! Time, the network, and what goes wrong.

use std::{
    cmp::Reverse,
    collections::{BTreeMap, BTreeSet, BinaryHeap},
};

use sha2::{Digest, Sha256};
use sync::{
    BlobHash, Event, Hash, JobId, NewBlob, Rank, Refusal, RequestId,
    wire::{Body, Poke, Push, Request, Response},
};

use super::{
    dice::Dice,
    phone::{Phone, Wants},
    server::{Caller, Did, Server},
};
use crate::jobs::{NOON, author, new_record, reading};

/// A fault built into the world on purpose.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Fault {
    #[default]
    None,
    AcknowledgedBeforeCommit,
    CursorBeforeChanges,
    RepeatTakenOnTrust,
    NumbersOvertake,
    KeptBeforeWritten,
    PhotoUnchecked,
    PhotoStoredBeforeFlush,
}

macro_rules! counts {
    ($($name:ident),*) => {
        /// How often things happened.
        #[derive(Debug, Default, Clone, PartialEq, Eq)]
        pub(super) struct Counts { $(pub(super) $name: u64),* }

        impl Counts {
            pub(super) fn add(&mut self, other: &Self) {
                $(self.$name += other.$name;)*
            }
        }
    };
}

counts!(
    edits,
    photos,
    messages,
    dropped,
    doubled,
    partitions,
    power_cuts,
    writes_lost,
    disk_refused,
    reads_failed,
    crashes_before_commit,
    crashes_after_commit,
    put_back,
    pieces_cut,
    resumed,
    simulated_seconds
);

/// What will happen.
enum What {
    ToServer(Caller),
    ToPhone(Caller, u16, Vec<u8>),
    Poke { phone: usize, life: u64, poke: Poke },
    Commit,
    PhoneDisk { phone: usize, life: u64 },
    Tick { phone: usize, life: u64 },
    Edit { phone: usize },
    PowerCut { phone: usize },
    ServerDies,
    Trouble,
}

/// Until then people work and things go wrong.
const TROUBLE_MS: u64 = 400_000;
/// Long enough for every retry that may have been put off.
const HEALED_MS: u64 = 1_500_000;

pub(super) struct World {
    dice: Dice,
    now: u64,
    count: u64,
    queue: BinaryHeap<Reverse<(u64, u64)>>,
    happenings: BTreeMap<u64, What>,
    pub(super) phones: Vec<Phone>,
    pub(super) server: Server,
    /// Every change ever made.
    pub(super) made: BTreeSet<(JobId, Hash)>,
    pub(super) photo_bytes: BTreeMap<BlobHash, Vec<u8>>,
    /// Whether the server was put back from an old copy: then what it once had it may lack.
    pub(super) put_back: bool,
    /// How often, of 1,000.
    drop: u64,
    double: u64,
    /// No line for this phone until then.
    cut_until: Vec<u64>,
    /// No room on this phone's disk until then.
    full_until: Vec<u64>,
    server_up: u64,
    counts: Counts,
}

impl World {
    pub(super) fn new(seed: u64, fault: Fault) -> Self {
        let mut dice = Dice(seed.wrapping_mul(0x2545_f491_4f6c_dd1d) ^ 0x5eed);
        let phones: Vec<Phone> = (0..u8::try_from(dice.within(2, 4)).unwrap())
            .map(|number| {
                let (off, speed) = (dice.within(0, 1 << 40), dice.within(900, 1_100));
                Phone::new(number, off, speed, fault)
            })
            .collect();
        let (drop, double) = (dice.within(0, 400), dice.within(0, 300));
        let (cut_until, full_until) = (vec![0; phones.len()], vec![0; phones.len()]);
        let server = Server::new(fault);
        Self {
            dice,
            now: 0,
            count: 0,
            queue: BinaryHeap::new(),
            happenings: BTreeMap::new(),
            phones,
            server,
            made: BTreeSet::new(),
            photo_bytes: BTreeMap::new(),
            put_back: false,
            drop,
            double,
            cut_until,
            full_until,
            server_up: 0,
            counts: Counts::default(),
        }
    }

    fn at(&mut self, time: u64, what: What) {
        self.count += 1;
        self.queue.push(Reverse((time, self.count)));
        self.happenings.insert(self.count, what);
    }

    fn troubled(&self) -> bool {
        self.now < TROUBLE_MS
    }

    pub(super) fn run(mut self, counts: &mut Counts) -> Result<(), String> {
        let outcome = self.live();
        self.counts.simulated_seconds = self.now / 1_000;
        self.counts.reads_failed = self.phones.iter().map(|phone| phone.reads_failed).sum();
        counts.add(&self.counts);
        outcome
    }

    fn live(&mut self) -> Result<(), String> {
        let jobs = if self.dice.often(300) { 2 } else { 1 };
        for number in 0..jobs {
            self.make_job(number)?;
        }
        for phone in 0..self.phones.len() {
            let first = self.dice.within(0, 20_000);
            self.at(first, What::Edit { phone });
            self.step(phone, Event::Tick)?;
        }
        let trouble = self.dice.within(5_000, 40_000);
        self.at(trouble, What::Trouble);
        let mut healed = false;
        while let Some(Reverse((time, count))) = self.queue.pop() {
            self.now = time;
            if !healed && !self.troubled() {
                healed = true;
                for phone in 0..self.phones.len() {
                    self.step(phone, Event::Online)?;
                }
            }
            if time > HEALED_MS || healed && self.is_quiet() {
                break;
            }
            let Some(what) = self.happenings.remove(&count) else { continue };
            self.happen(what)?;
        }
        self.check_end()
    }

    fn make_job(&mut self, number: usize) -> Result<(), String> {
        let phone = &mut self.phones[number];
        let record = new_record(&author(phone.number), &format!("job-{number}"));
        let job = JobId::new(&format!("job-{number}")).unwrap();
        let changes: Vec<_> = record.changes_after(&[]);
        phone.records.insert(job.clone(), record);
        self.made.insert((job.clone(), changes[0].hash));
        phone.watched.insert((job.clone(), changes[0].hash));
        let changes = changes.into_iter().map(|change| change.bytes).collect();
        self.step(number, Event::Edited { job, changes, blobs: Vec::new() })
    }

    /// Hands an event to a phone and carries out what it wants.
    fn step(&mut self, phone: usize, event: Event) -> Result<(), String> {
        let wants = self.phones[phone].handle(self.now, event)?;
        self.carry_out(phone, wants)
    }

    fn carry_out(&mut self, phone: usize, wants: Vec<Wants>) -> Result<(), String> {
        let life = self.phones[phone].life;
        for want in wants {
            match want {
                Wants::Send(request, message) => self.send(phone, request, message),
                Wants::DiskTime => {
                    let time = self.now + self.dice.within(5, 400);
                    self.at(time, What::PhoneDisk { phone, life });
                    if self.troubled() && self.dice.often(40) {
                        let time = self.now + self.dice.within(0, 400);
                        self.at(time, What::PowerCut { phone });
                    }
                }
            }
        }
        let this = &mut self.phones[phone];
        if let Some(due) = this.replica.next_tick() {
            // From the phone's clock to the world's, and a little later.
            let due = due.saturating_sub(this.clock_off).saturating_mul(1_000) / this.clock_speed;
            let due = due.max(self.now) + 20;
            if this.tick_at.is_none_or(|waiting| due < waiting || waiting <= self.now) {
                this.tick_at = Some(due);
                self.at(due, What::Tick { phone, life });
            }
        }
        self.check_sayings(phone)
    }

    fn send(&mut self, phone: usize, request: RequestId, message: Request) {
        self.counts.messages += 1;
        let life = self.phones[phone].life;
        // Through the wire's own words.
        let asked = match (&message, message.to_http().body) {
            (Request::Push { job, .. }, Body::Bytes(body)) => {
                Request::Push { job: job.clone(), push: Push::from_json(&body).unwrap() }
            }
            _ => message,
        };
        if let Request::Piece { offset, .. } = asked
            && offset > 0
        {
            self.counts.resumed += 1;
        }
        let caller = Caller { phone, life, request, asked };
        if self.troubled() {
            if self.now < self.cut_until[phone] || self.dice.often(self.drop) {
                self.counts.dropped += 1;
                if self.now >= self.cut_until[phone] && self.dice.often(500) {
                    self.server.half_a_piece(&caller.asked, &mut self.dice);
                    if matches!(caller.asked, Request::Piece { .. }) {
                        self.counts.pieces_cut += 1;
                        // Something in between tries again by itself.
                        if self.dice.often(500) {
                            let time = self.now + self.dice.within(10, 30_000);
                            self.at(time, What::ToServer(caller));
                        }
                    }
                }
                return;
            }
            if self.dice.often(self.double) {
                self.counts.doubled += 1;
                let time = self.now + self.dice.within(10, 30_000);
                self.at(time, What::ToServer(caller.clone()));
            }
        }
        let time = self.now + self.delay();
        self.at(time, What::ToServer(caller));
    }

    fn delay(&mut self) -> u64 {
        if self.troubled() && self.dice.often(100) {
            self.dice.within(1_000, 60_000)
        } else {
            self.dice.within(20, 900)
        }
    }

    fn happen(&mut self, what: What) -> Result<(), String> {
        match what {
            What::ToServer(caller) => {
                if self.now < self.server_up {
                    return Ok(());
                }
                let did = self.server.handle(caller);
                self.server_did(did);
                Ok(())
            }
            What::ToPhone(caller, status, body) => {
                if self.phones[caller.phone].life != caller.life {
                    return Ok(());
                }
                let answer = Response::from_http(&caller.asked, status, &body);
                self.step(caller.phone, Event::Answered { request: caller.request, answer })
            }
            What::Poke { phone, life, poke } if self.phones[phone].life == life => {
                self.step(phone, Event::Poked { poke })
            }
            What::Commit => {
                if self.now < self.server_up {
                    return Ok(());
                }
                let did = self.server.commit_one();
                self.server_did(did);
                Ok(())
            }
            What::PhoneDisk { phone, life } if self.phones[phone].life == life => {
                // A full disk refuses for a while, so that batches fail several times in a row.
                let full = self.troubled() && self.now < self.full_until[phone];
                let wants = if full && !self.phones[phone].writing.is_empty() {
                    self.counts.disk_refused += 1;
                    self.phones[phone].not_written(self.now)?
                } else {
                    self.phones[phone].written(self.now)?
                };
                self.carry_out(phone, wants)
            }
            What::Tick { phone, life } if self.phones[phone].life == life => {
                if self.phones[phone].tick_at.is_some_and(|due| due <= self.now) {
                    self.phones[phone].tick_at = None;
                }
                self.step(phone, Event::Tick)
            }
            What::Edit { phone } => self.edit(phone),
            What::PowerCut { phone } => self.power_cut(phone),
            What::ServerDies => {
                self.server_dies();
                Ok(())
            }
            What::Trouble => self.trouble(),
            What::Poke { .. } | What::PhoneDisk { .. } | What::Tick { .. } => Ok(()),
        }
    }

    fn server_did(&mut self, did: Vec<Did>) {
        for did in did {
            match did {
                Did::Began => {
                    let time = self.now + self.dice.within(5, 300);
                    self.at(time, What::Commit);
                    if self.troubled() && self.dice.often(60) {
                        let time = self.now + self.dice.within(0, 300);
                        self.at(time, What::ServerDies);
                    }
                }
                Did::Answered(caller, answer) => {
                    if self.troubled()
                        && (self.now < self.cut_until[caller.phone] || self.dice.often(self.drop))
                    {
                        self.counts.dropped += 1;
                        continue;
                    }
                    let (status, body) = match answer {
                        Ok(response) => (200, response.to_json()),
                        Err(refusal) => (refusal.status(), Refusal::to_json(&refusal)),
                    };
                    let time = self.now + self.delay();
                    self.at(time, What::ToPhone(caller, status, body));
                }
                Did::Poked(job, head) => {
                    for phone in 0..self.phones.len() {
                        if self.dice.often(600) && self.now >= self.cut_until[phone] {
                            let life = self.phones[phone].life;
                            let poke = Poke { job: job.clone(), head };
                            let time = self.now + self.delay();
                            self.at(time, What::Poke { phone, life, poke });
                        }
                    }
                }
            }
        }
    }

    /// A person enters something.
    fn edit(&mut self, phone: usize) -> Result<(), String> {
        if !self.troubled() {
            return Ok(());
        }
        let next = self.now + self.dice.within(3_000, 110_000);
        self.at(next, What::Edit { phone });
        let jobs: Vec<JobId> = self.phones[phone].records.keys().cloned().collect();
        if jobs.is_empty() {
            return Ok(());
        }
        let job = jobs[self.dice.index(jobs.len())].clone();
        let this = &mut self.phones[phone];
        let author = author(this.number);
        // A clock that is years off, as the phone shows it.
        let time = NOON + i64::try_from(this.clock(self.now) / 1_000).unwrap();
        let record = this.records.get_mut(&job).unwrap();
        let edit = reading(record, &author, &format!("{} V", self.dice.within(100, 130)));
        let change = record.edit(&author, time, edit).map_err(|error| error.to_string())?;
        let change = change.ok_or("no change was made")?;
        self.counts.edits += 1;
        self.made.insert((job.clone(), change.hash));
        this.watched.insert((job.clone(), change.hash));
        let mut blobs = Vec::new();
        if self.dice.often(250) {
            self.counts.photos += 1;
            let bytes: Vec<u8> = (0..self.dice.within(1, 2_500))
                .flat_map(|_| self.dice.next().to_le_bytes())
                .collect();
            let blob = BlobHash(Sha256::digest(&bytes).into());
            let size = u64::try_from(bytes.len()).unwrap();
            let rank = Rank::from_number(u8::try_from(self.dice.within(0, 3)).unwrap()).unwrap();
            this.photos.insert(blob, bytes.clone());
            self.photo_bytes.insert(blob, bytes);
            this.photos_watched.insert((job.clone(), blob));
            blobs.push(NewBlob { blob, size, rank });
        }
        self.step(phone, Event::Edited { job, changes: vec![change.bytes], blobs })
    }

    /// Something goes wrong.
    fn trouble(&mut self) -> Result<(), String> {
        if !self.troubled() {
            return Ok(());
        }
        let next = self.now + self.dice.within(2_000, 40_000);
        self.at(next, What::Trouble);
        let phone = self.dice.index(self.phones.len());
        match self.dice.within(0, 25) {
            22..=25 => {
                let until = self.now + self.dice.within(2_000, 60_000);
                self.phones[phone].unreadable_until = until.min(TROUBLE_MS);
            }
            20..=21 => self.full_until[phone] = self.now + self.dice.within(2_000, 60_000),
            0..=4 => {
                self.counts.partitions += 1;
                self.cut_until[phone] = self.now + self.dice.within(5_000, 90_000);
            }
            5..=10 => self.power_cut(phone)?,
            11..=17 => self.server_dies(),
            18 => {
                if self.server.backup.is_none() {
                    self.server.backup = Some(self.server.disk.clone());
                }
            }
            _ => {
                if self.server.put_back() {
                    self.counts.put_back += 1;
                    self.put_back = true;
                }
            }
        }
        Ok(())
    }

    fn power_cut(&mut self, phone: usize) -> Result<(), String> {
        if !self.troubled() {
            return Ok(());
        }
        self.counts.power_cuts += 1;
        let reached = self.dice.often(500);
        self.counts.writes_lost += u64::from(!self.phones[phone].writing.is_empty() && !reached);
        self.phones[phone].power_cut(self.now, reached)?;
        self.step(phone, Event::Tick)
    }

    fn server_dies(&mut self) {
        if !self.troubled() {
            return;
        }
        let under_way = self.server.appends.len();
        let committed = self.dice.index(under_way + 1);
        self.counts.crashes_before_commit += u64::from(committed < under_way);
        self.counts.crashes_after_commit += u64::from(committed > 0);
        self.server.crash(committed);
        self.server_up = self.now + self.dice.within(100, 8_000);
    }
}
