//! Laws of taking back: whatever was done, undone and done again.

use std::collections::{BTreeMap, BTreeSet};

use field::{
    Act, Answer, Entering, Evidence, FindingChange, FindingWritten, MemoSpoken, PhotoTaken,
    UnitSystem, Visit, view::FindingStanding,
};
use inspection::{Inspection, MemoId, Photo, PhotoId, PointId, TimeToAct, Use};
use proptest::prelude::*;

use crate::visits::{minute, visit_of};

const LOCKUP: &str = r#"
id = "lockup"
title = "Lock-up"
stop = "outside"
minutes = 5
look = ["The vent."]
fitted = ["gas"]
needs = ["gas_on"]
essential = ["gas"]
[wait]
minutes = 10
at_most = 30
what = "the gas stands still"
untouched = ["the valves"]
[[reading]]
id = "lockup"
title = "Lock-up pressure"
kind = "pressure"
unit = "inH2O"
u = "0.1 inH2O"
[[reading]]
id = "age"
title = "Seen"
kind = "choice"
choices = ["yes", "no"]
optional = true
[[limit]]
id = "ceiling"
on = "lockup"
at_most = "14 inH2O"
source = "code"
section = "1"
basis = "law"
footing = "in_use"
read = "2026-01-02"
defect = "high"
[[defect]]
id = "high"
title = "Too high"
statement = "It rose to {lockup}; the limit is {limit}."
stops = ["gas"]
when = "before use"
who = "gas fitter"
[[example]]
title = "High"
given = { lockup = "15.2 inH2O" }
verdicts = { ceiling = "does not conform" }
drafts = ["high"]
"#;

const OUTLETS: &str = r#"
id = "outlets"
title = "Outlets"
stop = "inside"
minutes = 5
look = ["Each outlet."]
fitted = ["mains"]
[[reading]]
id = "volts"
title = "Volts"
kind = "voltage"
unit = "V"
positions = "any"
[[defect]]
id = "loose"
title = "Loose outlet"
statement = "The outlet at {position} is loose."
stops = []
when = "soon"
who = "electrician"
[[example]]
title = "One"
given = { "volts@galley" = "119 V" }
stops = []
"#;

/// What an act is about, before it is filled in with what is there.
#[derive(Clone, Debug)]
enum Doing {
    Answer(usize, u8),
    TakeBack(usize),
    See(u8, bool),
    Unsee(u8),
    Note(usize, u8),
    Enter(u16),
    EnterVolts(u8, u16),
    Correct(u8, u16),
    Strike(u8),
    Photo(u8, usize),
    Place(u8, Option<usize>),
    Speak(u8, usize),
    Unsay(u8),
    Write(u8),
    Rewrite(u8, u8),
    Confirm(u8),
    Withdraw(u8),
    Edit(u8, u8),
    Attach(u8, u8),
    Detach(u8, u8),
    Merge(u8, u8),
    Unmerge(u8),
    Fit(u8, bool),
    StartWait,
    EndWait,
    Gas(bool),
}

fn doing() -> impl Strategy<Value = Doing> {
    prop_oneof![
        (0..2usize, 0..3u8).prop_map(|(point, answer)| Doing::Answer(point, answer)),
        (0..2usize).prop_map(Doing::TakeBack),
        (0..3u8, any::<bool>()).prop_map(|(place, loose)| Doing::See(place, loose)),
        (0..3u8).prop_map(Doing::Unsee),
        (0..2usize, 0..3u8).prop_map(|(point, text)| Doing::Note(point, text)),
        (100..180u16).prop_map(Doing::Enter),
        (0..3u8, 100..125u16).prop_map(|(place, volts)| Doing::EnterVolts(place, volts)),
        (any::<u8>(), 100..180u16).prop_map(|(which, value)| Doing::Correct(which, value)),
        any::<u8>().prop_map(Doing::Strike),
        (0..4u8, 0..2usize).prop_map(|(photo, point)| Doing::Photo(photo, point)),
        (0..4u8, prop::option::of(0..2usize)).prop_map(|(photo, point)| Doing::Place(photo, point)),
        (0..4u8, 0..2usize).prop_map(|(memo, point)| Doing::Speak(memo, point)),
        any::<u8>().prop_map(Doing::Unsay),
        (0..3u8).prop_map(Doing::Write),
        (any::<u8>(), 0..3u8).prop_map(|(which, text)| Doing::Rewrite(which, text)),
        any::<u8>().prop_map(Doing::Confirm),
        any::<u8>().prop_map(Doing::Withdraw),
        (any::<u8>(), 0..5u8).prop_map(|(which, what)| Doing::Edit(which, what)),
        (any::<u8>(), 0..5u8).prop_map(|(which, what)| Doing::Attach(which, what)),
        (any::<u8>(), 0..5u8).prop_map(|(which, what)| Doing::Detach(which, what)),
        (any::<u8>(), any::<u8>()).prop_map(|(which, into)| Doing::Merge(which, into)),
        any::<u8>().prop_map(Doing::Unmerge),
        (0..3u8, any::<bool>()).prop_map(|(which, fitted)| Doing::Fit(which, fitted)),
        Just(Doing::StartWait),
        Just(Doing::EndWait),
        any::<bool>().prop_map(Doing::Gas),
    ]
}

fn point(at: usize) -> PointId {
    PointId::from(["lockup", "outlets"][at])
}

fn pick<T>(all: &[T], which: u8) -> Option<&T> {
    all.get(usize::from(which) % all.len().max(1))
}

/// One of the photos, or a reading.
fn evidence(readings: &[(inspection::ReadingId, PointId)], which: u8) -> Option<Evidence> {
    if which < 3 {
        return Some(Evidence::Photo(PhotoId(format!("{which:064}"))));
    }
    pick(readings, which).map(|(id, _)| Evidence::Reading(id.clone()))
}

/// The act, filled in; none where there is nothing that it could be about.
fn act(visit: &Visit, doing: &Doing) -> Option<Act> {
    let inspection = visit.inspection();
    let readings: Vec<_> = inspection
        .readings
        .iter()
        .filter(|(_, one)| one.struck_out.is_none())
        .map(|(id, one)| (id.clone(), one.point.clone()))
        .collect();
    let keys: Vec<String> = visit.findings(UnitSystem::Us).into_iter().map(|row| row.key).collect();
    let place = |which: u8| ["", "galley", "bath"][usize::from(which)].to_owned();
    let photo = |which: u8| PhotoId(format!("{which:064}"));
    Some(match doing.clone() {
        Doing::Answer(at, 0) => Act::Answer { point: point(at), answer: Answer::Examined },
        Doing::Answer(at, 1) => Act::Answer { point: point(at), answer: Answer::NotFitted },
        Doing::Answer(at, _) => {
            Act::Answer { point: point(at), answer: Answer::NotExamined { reason: "dark".into() } }
        }
        Doing::TakeBack(at) => Act::TakeBackAnswer { point: point(at) },
        Doing::See(at, true) => {
            Act::See { point: point(1), defect: "loose".into(), position: place(at) }
        }
        Doing::See(..) => {
            Act::See { point: point(0), defect: "high".into(), position: String::new() }
        }
        Doing::Unsee(at) => {
            Act::Unsee { point: point(1), defect: "loose".into(), position: place(at) }
        }
        Doing::Note(at, text) => Act::Note { point: point(at), text: "note ".repeat(text.into()) },
        Doing::Enter(tenths) => Act::Enter(Entering {
            point: point(0),
            reading: "lockup".into(),
            text: format!("{}.{}", tenths / 10, tenths % 10),
            ..Entering::default()
        }),
        Doing::EnterVolts(at, volts) => Act::Enter(Entering {
            point: point(1),
            reading: "volts".into(),
            position: place(at),
            text: format!("{volts} V"),
            ..Entering::default()
        }),
        Doing::Correct(which, value) => Act::Correct {
            reading: pick(&readings, which)?.0.clone(),
            text: value.to_string(),
            unit: String::new(),
            instrument: None,
        },
        Doing::Strike(which) => {
            Act::Strike { reading: pick(&readings, which)?.0.clone(), reason: "wrong".into() }
        }
        Doing::Photo(which, at) => Act::TakePhoto(PhotoTaken {
            id: photo(which),
            photo: Box::new(Photo { point: Some(point(at)), ..Photo::default() }),
            look: None,
        }),
        Doing::Place(which, at) => Act::PlacePhoto {
            photo: photo(which),
            point: at.map(point),
            position: String::new(),
            caption: at.map(|at| format!("caption {at}")),
        },
        Doing::Speak(which, at) => Act::AddMemo(MemoSpoken {
            id: MemoId(format!("{which:064}")),
            point: point(at),
            media_type: "audio/webm".into(),
            milliseconds: 1_000,
            began: None,
        }),
        Doing::Unsay(which) => {
            let all: Vec<&MemoId> = inspection.memos.keys().collect();
            Act::StrikeMemo { memo: (*pick(&all, which)?).clone(), reason: "no".into() }
        }
        Doing::Write(which) => Act::WriteFinding(FindingWritten {
            point: (which > 0).then(|| point(usize::from(which) - 1)),
            title: format!("Finding {which}"),
            statement: String::new(),
            stops: vec![Use::Stay],
            when: TimeToAct::Soon,
            who: String::new(),
            photos: Vec::new(),
        }),
        Doing::Rewrite(which, text) => {
            let all: Vec<_> = inspection.findings.iter().collect();
            let (id, before) = pick(&all, which)?;
            let mut after = Box::new((*before).clone());
            after.title = format!("Rewritten {text}");
            Act::ChangeFinding { finding: (*id).clone(), after }
        }
        Doing::Confirm(which) => Act::Confirm { key: pick(&keys, which)?.clone() },
        Doing::Withdraw(which) => {
            Act::Withdraw { key: pick(&keys, which)?.clone(), reason: "no".into() }
        }
        Doing::Edit(which, what) => {
            let key = pick(&keys, which)?.clone();
            let change = match what {
                0 => FindingChange::Title("Another heading".into()),
                1 => FindingChange::Statement("In my words.".into()),
                2 => FindingChange::Stops(vec![Use::Tow, Use::Water]),
                3 => FindingChange::When(TimeToAct::InTime),
                _ => FindingChange::Who("somebody".into()),
            };
            Act::EditFinding { key, change }
        }
        Doing::Attach(which, what) => {
            Act::Attach { key: pick(&keys, which)?.clone(), evidence: evidence(&readings, what)? }
        }
        Doing::Detach(which, what) => {
            Act::Detach { key: pick(&keys, which)?.clone(), evidence: evidence(&readings, what)? }
        }
        Doing::Merge(which, into) => {
            Act::Merge { key: pick(&keys, which)?.clone(), into: pick(&keys, into)?.clone() }
        }
        Doing::Unmerge(which) => Act::Unmerge { key: pick(&keys, which)?.clone() },
        Doing::Fit(which, fitted) => {
            let equipment = ["gas", "mains", "water"][usize::from(which)].to_owned();
            if fitted { Act::Fit { equipment } } else { Act::Unfit { equipment } }
        }
        Doing::StartWait => Act::StartWait { point: point(0) },
        Doing::EndWait => {
            let (id, _) = inspection.waits.iter().find(|(_, wait)| wait.ended.is_none())?;
            Act::EndWait { wait: id.clone() }
        }
        Doing::Gas(true) => Act::SetState { state: "gas_on".into() },
        Doing::Gas(false) => Act::UnsetState { state: "gas_on".into() },
    })
}

/// A finding's heading, its photos, what its readings say, and its parts.
type Shown = (String, Vec<PhotoId>, Vec<String>, Vec<String>);

/// What an inspection means: what counts, whatever was struck out, withdrawn or ended on the way.
#[derive(Debug, PartialEq)]
struct Meaning {
    points: BTreeMap<PointId, inspection::PointEntry>,
    dwelling: inspection::Dwelling,
    counting: BTreeSet<(String, String, String, String)>,
    standing: BTreeSet<(String, String, bool, Vec<Use>)>,
    evidence: BTreeSet<Shown>,
    photos: BTreeSet<(String, String, String)>,
    memos: BTreeSet<(String, String)>,
    running: BTreeSet<String>,
    gas_on: bool,
    values: Vec<String>,
}

fn meaning(visit: &Visit) -> Meaning {
    let inspection: &Inspection = visit.inspection();
    let counting = inspection
        .readings
        .values()
        .filter_map(|one| visit.counting(&one.point, &one.name, &one.position))
        .map(|(_, one)| {
            let at = format!("{:?}", one.at);
            (one.point.to_string() + &one.name, one.position.clone(), one.entry.clone(), at)
        })
        .collect();
    // A withdrawn decision on a draft hides it; one that was taken back is a draft as before.
    let standing = visit
        .findings(UnitSystem::Us)
        .into_iter()
        .filter(|row| !matches!(row.standing, FindingStanding::Withdrawn(_)))
        .map(|row| {
            let confirmed = row.standing == FindingStanding::Confirmed;
            (row.title, row.statement, confirmed, row.stops)
        })
        .collect();
    // A reading that came back has another id: what it says is compared.
    let said = |id: &inspection::ReadingId| {
        inspection.readings.get(id).map_or_else(String::new, |reading| reading.entry.clone())
    };
    let evidence = visit
        .assessment(UnitSystem::Us)
        .findings
        .iter()
        .map(|finding| {
            let photos: BTreeSet<PhotoId> = finding.photos.iter().cloned().collect();
            let readings: BTreeSet<String> = finding.readings.iter().map(said).collect();
            let merged = finding.merged.clone();
            (
                finding.title.clone(),
                photos.into_iter().collect(),
                readings.into_iter().collect(),
                merged,
            )
        })
        .collect();
    let values = visit
        .assessment(UnitSystem::Us)
        .points
        .iter()
        .flat_map(|point| point.values.iter())
        .map(|value| format!("{} {} {:?}", value.name, value.position, value.content))
        .collect();
    Meaning {
        points: inspection.points.clone(),
        dwelling: inspection.dwelling.clone(),
        counting,
        standing,
        evidence,
        photos: inspection
            .photos
            .iter()
            .filter_map(|(id, photo)| Some((id.to_string(), photo.point.clone()?, photo)))
            .map(|(id, point, photo)| (id, point.to_string(), photo.caption.clone()))
            .collect(),
        memos: inspection
            .memos
            .iter()
            .filter(|(_, memo)| memo.struck_out.is_none())
            .map(|(id, memo)| (id.to_string(), memo.point.to_string()))
            .collect(),
        running: inspection
            .waits
            .values()
            .filter(|wait| wait.ended.is_none())
            .map(|wait| format!("{} {:?}", wait.point, wait.started))
            .collect(),
        gas_on: visit.states().iter().any(|row| row.holds == Some(true)),
        values,
    }
}

fn undo_all(visit: &mut Visit, clock: &mut i64, times: usize) {
    for _ in 0..times {
        *clock += 1;
        visit.undo(minute(*clock)).unwrap();
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    /// Each act taken back gives what was before it, done again what was behind it, and nothing is ever deleted.
    #[test]
    fn what_is_taken_back_is_as_before_and_what_is_done_again_as_behind(
        doings in prop::collection::vec(doing(), 1..24)
    ) {
        let mut visit = visit_of(&[LOCKUP, OUTLETS]);
        let mut meanings = vec![meaning(&visit)];
        let mut clock = 0;
        for doing in &doings {
            clock += 1;
            let Some(act) = act(&visit, doing) else { continue };
            let before = visit.inspection().clone();
            let undoable = visit.undo_label().cloned();
            match visit.act(act, minute(clock)) {
                Ok(changes) if changes.is_empty() => {
                    prop_assert_eq!(&before, visit.inspection());
                    prop_assert_eq!(undoable.as_ref(), visit.undo_label());
                }
                Ok(changes) => {
                    prop_assert_eq!(changes.len(), 1);
                    meanings.push(meaning(&visit));
                }
                Err(said) => {
                    prop_assert_eq!(&before, visit.inspection(), "{}", said);
                }
            }
        }
        let entered = visit.inspection().clone();
        let acts = meanings.len() - 1;
        for behind in (0..acts).rev() {
            undo_all(&mut visit, &mut clock, 1);
            prop_assert_eq!(&meaning(&visit), &meanings[behind], "taking back act {}", behind);
        }
        prop_assert!(visit.undo(minute(clock)).is_err());
        for (ahead, wanted) in meanings.iter().enumerate().skip(1) {
            clock += 1;
            visit.redo(minute(clock)).unwrap();
            prop_assert_eq!(&meaning(&visit), wanted, "doing act {} again", ahead);
        }
        prop_assert!(visit.redo(minute(clock)).is_err());
        // Everything that was ever entered is still in the record.
        let now = visit.inspection();
        for (id, reading) in &entered.readings {
            prop_assert_eq!(&now.readings[id].entry, &reading.entry);
        }
        for id in entered.findings.keys() {
            prop_assert!(now.findings.contains_key(id));
        }
        for id in entered.photos.keys() {
            prop_assert!(now.photos.contains_key(id));
        }
        for id in entered.memos.keys() {
            prop_assert!(now.memos.contains_key(id));
        }
        // And another device reads the same.
        let changes: Vec<Vec<u8>> =
            visit.record().changes_after(&[]).into_iter().map(|change| change.bytes).collect();
        let other = Visit::open(&changes, record::Author::new([9; 16], "Another")).unwrap();
        prop_assert_eq!(other.inspection(), now);
    }
}

#[test]
fn what_somebody_else_changed_since_is_not_overwritten() {
    let mut here = visit_of(&[LOCKUP, OUTLETS]);
    let answer = |answer| Act::Answer { point: point(0), answer };
    here.act(answer(Answer::Examined), minute(1)).unwrap();
    let changes: Vec<Vec<u8>> =
        here.record().changes_after(&[]).into_iter().map(|change| change.bytes).collect();
    let mut there = Visit::open(&changes, record::Author::new([9; 16], "Another")).unwrap();
    let theirs =
        there.act(answer(Answer::NotExamined { reason: "dark".into() }), minute(2)).unwrap();
    assert_eq!(here.arrived(&theirs), []);
    let said = here.undo(minute(3)).unwrap_err();
    assert_eq!(said.key, "refusal-changed-since");
    assert_eq!(here.inspection(), there.inspection());
}
