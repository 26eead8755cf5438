//! A data folder with jobs made from a few choices, and edits of them.

use archive::{Archive, Updated};
use inspection::{
    Dwelling, DwellingKind, FindingId, FindingState, Inspection, Job, Outcome, Photo, PhotoId,
    PointEntry, PointId, Reading, RecordedFinding, TimeToAct, Use,
};
use jiff::civil::date;
use plan::Plan;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use record::{Author, Edit, Record};
use store::{Chunk, JobId, Store};
use testkit::{LOCKUP, TAPS};

/// What a job is made of.
#[derive(Clone, Debug)]
pub(crate) struct Made {
    pub(crate) number: u8,
    pub(crate) kind: usize,
    pub(crate) built: Option<i16>,
    pub(crate) visited: Option<i16>,
    pub(crate) region: usize,
    pub(crate) purpose: bool,
    pub(crate) client: String,
    /// For each of the two points what is entered; none for nothing.
    pub(crate) entries: Vec<Option<Entered>>,
    pub(crate) captions: Vec<String>,
}

/// What is entered at a point.
#[derive(Clone, Debug)]
pub(crate) struct Entered {
    pub(crate) outcome: u8,
    pub(crate) reading: Option<f64>,
    pub(crate) finding: Option<(bool, bool, String)>,
    pub(crate) note: String,
}

pub(crate) const ADDRESSES: [&str; 4] =
    ["Some Town, VT 05701", "Some Town, Ontario, Canada", "behind the barn", ""];
const POINTS: [&str; 2] = ["lockup", "taps"];

/// Words with marks, capitals and signs of other scripts among them.
pub(crate) const WORDS: [&str; 14] = [
    "regulator",
    "Regulated",
    "leak",
    "LEAKS",
    "bañera",
    "banana",
    "água",
    "12",
    "V",
    "漢字",
    "Straße",
    "c0",
    "NEAR",
    "does-not",
];

pub(crate) fn words() -> impl Strategy<Value = String> {
    proptest::collection::vec(prop::sample::select(&WORDS[..]), 0..6).prop_map(|it| it.join(" "))
}

fn entered() -> impl Strategy<Value = Entered> {
    let finding = (any::<bool>(), any::<bool>(), words());
    (0..3_u8, proptest::option::of(5.0..25.0), proptest::option::of(finding), words())
        .prop_map(|(outcome, reading, finding, note)| Entered { outcome, reading, finding, note })
}

pub(crate) fn made() -> impl Strategy<Value = Made> {
    let who = (0..9_u8, 0..4_usize, words());
    let when = (proptest::option::of(1990..2027_i16), proptest::option::of(2015..2026_i16));
    let entries = proptest::collection::vec(proptest::option::of(entered()), 2);
    let captions = proptest::collection::vec(words(), 0..3);
    (who, when, 0..4_usize, any::<bool>(), entries, captions).prop_map(
        |((number, kind, client), (built, visited), region, purpose, entries, captions)| Made {
            number,
            kind,
            built,
            visited,
            region,
            purpose,
            client,
            entries,
            captions,
        },
    )
}

/// Some job with this number, always the same one.
pub(crate) fn some(number: u8) -> Made {
    let mut runner = TestRunner::deterministic();
    let mut made = made().new_tree(&mut runner).unwrap().current();
    for _ in 0..number {
        made = self::made().new_tree(&mut runner).unwrap().current();
    }
    Made { number, ..made }
}

/// A store with an archive beside it.
pub(crate) struct World {
    pub(crate) store: Store,
    pub(crate) plan: Plan,
    text: String,
    pub(crate) folder: tempfile::TempDir,
}

impl World {
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let library = plan::load(&testkit::files_of(&[LOCKUP, TAPS])).unwrap();
        Self {
            store: Store::open(folder.path()).unwrap(),
            plan: library.plan("test").unwrap(),
            text: library.frozen("test").unwrap(),
            folder,
        }
    }

    /// Makes a job, or changes the one with this number to what is given.
    pub(crate) fn put(&self, made: &Made) {
        let id = JobId::new(&format!("J-{}", made.number)).unwrap();
        let author = Author::new([1; 16], "A. Person");
        let (job, dwelling) = (job(made), dwelling(made));
        let mut record = if self.store.job_exists(&id).unwrap() {
            let mut record = self.record(&id);
            let (old, _) = record.inspection();
            let edits = vec![
                Edit::ChangeJob {
                    before: Box::new(old.job.clone()),
                    after: Box::new(Job { plan_hash: old.job.plan_hash.clone(), ..job }),
                },
                Edit::ChangeDwelling { before: Box::new(old.dwelling), after: Box::new(dwelling) },
            ];
            record.edit_together(&author, 1, edits).unwrap();
            record
        } else {
            self.store.create_job(&id, "").unwrap();
            Record::create(&author, 0, &job, &dwelling, &self.text).unwrap()
        };
        let edits = edits(&record, &author, made);
        if !edits.is_empty() {
            record.edit_together(&author, 2, edits).unwrap();
        }
        let chunks: Vec<Chunk> = record
            .changes_after(&[])
            .into_iter()
            .map(|change| Chunk { hash: change.hash.0, bytes: change.bytes })
            .collect();
        self.store.append(&id, &chunks).unwrap();
    }

    pub(crate) fn record(&self, id: &JobId) -> Record {
        let changes = self.store.changes(id, 0, usize::MAX).unwrap();
        Record::load(changes.iter().map(|change| change.bytes.as_slice())).unwrap()
    }

    /// Every job as it is recorded.
    pub(crate) fn inspections(&self) -> Vec<Inspection> {
        let jobs = self.store.jobs().unwrap();
        jobs.iter().map(|job| self.record(&job.id).inspection().0).collect()
    }

    pub(crate) fn archive(&self) -> Archive {
        Archive::open(&self.store).unwrap()
    }

    /// The archive, brought up to date.
    pub(crate) fn updated(&self) -> (Archive, Updated) {
        let archive = self.archive();
        let updated = archive.update(&self.store, &mut |_| {}).unwrap();
        (archive, updated)
    }
}

fn job(made: &Made) -> Job {
    let mut job = Job {
        number: format!("J-{}", made.number),
        purpose: if made.purpose { "purchase" } else { "insurance" }.to_owned(),
        plan: "test".to_owned(),
        ..Job::default()
    };
    job.client.name = made.client.clone();
    job.site.address = ADDRESSES[made.region].to_owned();
    job.visits = made.visited.map(|year| date(year, 6, 12)).into_iter().collect();
    job
}

fn dwelling(made: &Made) -> Dwelling {
    Dwelling {
        kind: DwellingKind::ALL[made.kind],
        built: made.built.map(|year| date(year, 7, 1)),
        maker: "Maker".to_owned(),
        equipment: ["gas", "water"].map(str::to_owned).into(),
        ..Dwelling::default()
    }
}

fn edits(record: &Record, author: &Author, made: &Made) -> Vec<Edit> {
    let (old, _) = record.inspection();
    let mut edits = Vec::new();
    let mut nth = 0;
    let mut fresh = || {
        nth += 1;
        record.fresh_id(author, nth)
    };
    for (point, entered) in POINTS.iter().zip(&made.entries) {
        let id = PointId::from(*point);
        let Some(entered) = entered else { continue };
        edits.push(Edit::SetPoint {
            before: old.points.get(&id).cloned(),
            after: PointEntry {
                outcome: match entered.outcome {
                    0 => Outcome::Examined,
                    1 => Outcome::NotExamined { reason: entered.note.clone() },
                    _ => Outcome::NotFitted,
                },
                defects: Vec::new(),
                notes: entered.note.clone(),
                by: "A. Person".to_owned(),
                at: None,
            },
            point: id.clone(),
        });
        if let Some(pressure) = entered.reading.filter(|_| *point == "lockup") {
            edits.push(Edit::AddReading {
                id: fresh().into(),
                reading: Reading {
                    point: id.clone(),
                    name: "pressure".to_owned(),
                    entry: format!("{pressure:.1} inH2O"),
                    position: String::new(),
                    instrument: None,
                    at: None,
                    by: String::new(),
                    struck_out: None,
                },
            });
        }
        if let Some((confirmed, stops, statement)) = &entered.finding {
            let finding = RecordedFinding {
                point: Some(id.clone()),
                title: "Found".to_owned(),
                statement: statement.clone(),
                stops: if *stops { vec![Use::Gas, Use::Stay] } else { Vec::new() },
                when: TimeToAct::Soon,
                state: if *confirmed { FindingState::Confirmed } else { FindingState::Draft },
                ..RecordedFinding::blank("", None)
            };
            edits.push(Edit::AddFinding {
                id: FindingId::from(fresh()),
                finding: Box::new(finding),
            });
        }
    }
    for (at, caption) in made.captions.iter().enumerate() {
        let id = PhotoId(format!("{:062}{at:02}", made.number));
        if !old.photos.contains_key(&id) {
            let photo = Photo { caption: caption.clone(), ..Photo::default() };
            edits.push(Edit::AddPhoto { id, photo: Box::new(photo) });
        }
    }
    edits
}
