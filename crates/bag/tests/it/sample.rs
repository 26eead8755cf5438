//! A small job in a bag: a record with two photos and two voice memos, a plan, tables, a stand-in for the report.

use std::collections::BTreeMap;

use bag::{
    Bag, BagInfo, Description, File, Release, ReportFile, Role, Sha256, SigningKey, State,
    Statement, place,
};
use inspection::{Dwelling, Job, Memo, MemoId, Photo, PhotoId};
use record::{Author, Edit, Record};

pub(crate) const PLAN: &str = "the plan's text\n";

/// The bytes of a photo, as far as anybody here looks.
fn photo(letter: u8) -> Vec<u8> {
    [b"\xff\xd8\xff\xe0".as_slice(), &[letter; 40]].concat()
}

/// The bytes of a voice memo, as far as anybody here looks.
pub(crate) fn memo(letter: u8) -> Vec<u8> {
    [b"\x1a\x45\xdf\xa3".as_slice(), &[letter; 30]].concat()
}

pub(crate) fn memo_id(letter: u8) -> MemoId {
    MemoId(Sha256::of(&memo(letter)).to_string())
}

pub(crate) fn record() -> Record {
    let author = Author::new([1; 16], "B. Inspector");
    let job =
        Job { number: "2026-001".to_owned(), inspector: author.person.clone(), ..Job::default() };
    let mut record =
        Record::create(&author, 1_781_000_000, &job, &Dwelling::default(), PLAN).unwrap();
    for letter in [b'a', b'b'] {
        let id = PhotoId::from(Sha256::of(&photo(letter)).to_string());
        let edit = Edit::AddPhoto { id, photo: Box::new(Photo::default()) };
        record.edit_together(&author, 1_781_000_001, vec![edit]).unwrap();
    }
    // Two were spoken, and the second one was struck out.
    for letter in [b'm', b'n'] {
        let memo = Memo {
            point: "tyres".into(),
            media_type: "audio/webm".to_owned(),
            seconds: 12,
            by: author.person.clone(),
            ..Memo::default()
        };
        let edit = Edit::AddMemo { id: memo_id(letter), memo };
        record.edit(&author, 1_781_000_002, edit).unwrap();
    }
    let (point, id) = ("tyres".into(), memo_id(b'n'));
    let edit = Edit::StrikeOutMemo { point, id, reason: "spoken by mistake".to_owned() };
    record.edit(&author, 1_781_000_003, edit).unwrap();
    record
}

pub(crate) fn state(record: &Record, release: Option<Release>) -> State {
    State {
        format: State::FORMAT,
        job: "2026-001".to_owned(),
        record_beginning: record.beginning().to_string(),
        record_heads: record.heads().iter().map(ToString::to_string).collect(),
        record_changes: 6,
        record_sha256: Sha256::of(&bag::record_bytes(record).unwrap()),
        plan_sha256: Sha256::of(PLAN.as_bytes()),
        data_revision: "revision".to_owned(),
        program: "Nearside 0".to_owned(),
        assessment_sha256: Sha256::of(b"{}"),
        report: ReportFile {
            sha256: Sha256::of(b"%PDF-1.7"),
            content_sha256: None,
            pages: 1,
            paper: "letter".to_owned(),
            units: "us".to_owned(),
            language: None,
            texts_sha256: None,
        },
        absent_photos: Vec::new(),
        absent_memos: Vec::new(),
        release,
    }
}

pub(crate) fn release(key: &SigningKey) -> Release {
    Release {
        number: 1,
        released_at: "2026-06-12T18:00:00Z".to_owned(),
        released_by: "B. Inspector".to_owned(),
        key: key.public().thumbprint(),
        accepted: Vec::new(),
        corrects: None,
        countersigner: None,
    }
}

/// The bag of a state, not signed.
pub(crate) fn assembled(record: &Record, state: &State) -> Bag {
    let (inspection, problems) = record.inspection();
    assert_eq!(problems, []);
    let mut files = vec![
        File::new(place::STATE, state.to_json()),
        File::new(place::RECORD, bag::record_bytes(record).unwrap()),
        File::new(place::RECORD_JSON, bag::record_json(&inspection, &record.trail()).to_string()),
        File::new(place::PLAN, PLAN),
        File::new(place::ASSESSMENT, "{}"),
        File::new(place::REPORT, "%PDF-1.7"),
        File::new("data/tables/readings.csv", bag::readings_table(&inspection)),
    ];
    for letter in [b'a', b'b'] {
        let bytes = photo(letter);
        files.push(File::new(bag::original_path(&Sha256::of(&bytes), &bytes), bytes));
    }
    let bytes = memo(b'm');
    files.push(File::new(bag::memo_path(&Sha256::of(&bytes), "audio/webm"), bytes));
    let about = Description { name: "Job 2026-001".to_owned(), ..Description::default() };
    files.push(File::new(place::CRATE, bag::crate_metadata(&files, &about)));
    let info = BagInfo { identifier: "2026-001".to_owned(), ..BagInfo::default() };
    Bag::assemble(files, &info).unwrap()
}

pub(crate) fn sign(bag: &mut Bag, state: &State, key: &SigningKey, role: Role) {
    let statement = Statement {
        role,
        name: "B. Inspector".to_owned(),
        signed_at: "2026-06-12T18:00:00Z".to_owned(),
        job: state.job.clone(),
        release: 1,
        heads: state.record_heads.clone(),
        tag_manifest_sha256: bag.tag_manifest_sha256(),
    };
    bag.add_signature(role, &key.public(), &bag::sign(key, &statement));
}

/// A released job's bag, signed by the inspector and a second person.
pub(crate) fn released() -> Bag {
    let (key, second) = (SigningKey::from_seed([3; 32]), SigningKey::from_seed([4; 32]));
    let record = record();
    let state = state(&record, Some(release(&key)));
    let mut bag = assembled(&record, &state);
    sign(&mut bag, &state, &key, Role::Inspector);
    sign(&mut bag, &state, &second, Role::Countersigner);
    bag
}

pub(crate) fn in_memory(bag: &Bag) -> BTreeMap<String, Vec<u8>> {
    bag.files.iter().map(|file| (file.path.clone(), file.bytes.clone().unwrap())).collect()
}
