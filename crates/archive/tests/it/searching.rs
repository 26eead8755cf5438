//! What a search finds is what reading every text would find.

use archive::{ArchiveError, PlaceKind};
use inspection::{
    Agreement, ChargeLine, FindingState, Inspection, Mark, Outcome, Reading, ReadingId,
    RecordedFinding, Taxed,
};
use plan::Plan;
use proptest::prelude::*;
use record::{Author, Edit};
use store::{Chunk, InvoiceId, JobId, NewInvoice};
use testkit::HOSTILE;

use crate::world::{Made, WORDS, World, made, some, words};

/// Every text of a job that is searched, collected apart from the archive's own code.
fn texts(plan: &Plan, inspection: &Inspection) -> Vec<String> {
    let (job, unit) = (&inspection.job, &inspection.dwelling);
    let mut all = vec![
        format!("{} {} {} {}", unit.kind.title(), unit.maker, unit.model, unit.identification),
        job.number.clone(),
        job.purpose.clone(),
        job.client.name.clone(),
        job.site.address.clone(),
    ];
    all.extend(
        findings::assess(plan, inspection)
            .findings
            .iter()
            .map(|finding| format!("{}. {}", finding.title, finding.statement)),
    );
    for entry in inspection.points.values() {
        all.push(entry.notes.clone());
        if let Outcome::NotExamined { reason } = &entry.outcome {
            all.push(reason.clone());
        }
    }
    for photo in inspection.photos.values() {
        all.push(photo.caption.clone());
        for mark in &photo.marks {
            if let Mark::Words { text, .. } = mark {
                all.push(text.clone());
            }
        }
    }
    for point in &plan.points {
        let here = inspection.points.keys().any(|id| id.as_str() == point.id);
        for reading in &point.readings {
            let taken = |it: &&inspection::Reading| {
                it.point.as_str() == point.id && it.name == reading.id && it.struck_out.is_none()
            };
            if inspection.readings.values().any(|it| taken(&it)) {
                all.push(reading.title.clone());
                all.push(point.title.clone());
            }
        }
        if here {
            all.push(point.title.clone());
        }
    }
    all
}

/// Lower-case words without the few marks that the tests' words have.
fn plain(text: &str) -> Vec<String> {
    let text: String = text.to_lowercase().replace('ñ', "n").replace('á', "a").replace('ß', "ss");
    text.split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

/// Whether a text has a word that begins so, or for a short one that word; or words one after the other.
fn has(text: &str, term: &str, phrase: bool) -> bool {
    let (words, wanted) = (plain(text), plain(term));
    if phrase {
        return words.windows(wanted.len()).any(|window| window == wanted);
    }
    let short = term.chars().count() < 3;
    words.iter().any(|word| if short { *word == wanted[0] } else { word.starts_with(&wanted[0]) })
}

#[derive(Clone, Debug)]
enum Asked {
    Word(String),
    Phrase(String),
}

fn asked() -> impl Strategy<Value = Asked> {
    let word = prop::sample::select(&WORDS[..WORDS.len() - 1]);
    let word = (word, 1..9_usize)
        .prop_map(|(word, letters)| Asked::Word(word.chars().take(letters.max(1)).collect()));
    let phrase = words().prop_map(|text| Asked::Phrase(text.replace("does-not", "does not")));
    prop_oneof![3 => word, 1 => phrase.prop_filter("has a word", |it| matches!(it, Asked::Phrase(text) if !text.is_empty()))]
}

fn check(jobs: &[Made], searches: &[Vec<Asked>]) {
    let world = World::new();
    for job in jobs {
        world.put(job);
    }
    let (archive, _) = world.updated();
    let inspections = world.inspections();
    for search in searches {
        let typed: Vec<String> = search
            .iter()
            .map(|asked| match asked {
                Asked::Word(word) => word.clone(),
                Asked::Phrase(text) => format!("\"{text}\""),
            })
            .collect();
        let found = archive.search(&typed.join(" "), 100, None).unwrap();
        let mut numbers: Vec<&str> =
            found.hits.iter().map(|hit| hit.job.row.job.as_str()).collect();
        numbers.sort_unstable();
        let expected: Vec<&str> = inspections
            .iter()
            .filter(|inspection| {
                let texts = texts(&world.plan, inspection);
                search.iter().all(|asked| match asked {
                    Asked::Word(word) => texts.iter().any(|text| has(text, word, false)),
                    Asked::Phrase(phrase) => texts.iter().any(|text| has(text, phrase, true)),
                })
            })
            .map(|inspection| inspection.job.number.as_str())
            .collect();
        assert_eq!(numbers, expected, "{typed:?}");
        assert_eq!(found.jobs, expected.len());
        for hit in &found.hits {
            assert!(!hit.places.is_empty(), "{typed:?}: found, and nowhere in the job");
            for place in &hit.places {
                assert!(place.snippet.parts.iter().any(|(_, found)| *found), "{place:?}");
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn a_search_finds_what_reading_everything_finds(
        jobs in proptest::collection::vec(made(), 0..8),
        searches in proptest::collection::vec(proptest::collection::vec(asked(), 1..4), 20),
    ) {
        check(&jobs, &searches);
    }

    /// Whatever is typed is either searched for or has no word; never is it an error of syntax.
    #[test]
    fn nothing_that_can_be_typed_is_a_mistake(typed in "\\PC{0,60}|[\"'*():^+\\-{}A-Z ]{0,40}") {
        thread_local! {
            static WORLD: World = {
                let world = World::new();
                world.put(&some(1));
                world
            };
        }
        WORLD.with(|world| match world.updated().0.search(&typed, 5, None) {
            Ok(_) | Err(ArchiveError::NoWords | ArchiveError::TooManyWords { .. }) => {}
            Err(error) => panic!("{typed:?}: {error}"),
        });
    }
}

fn world_with(jobs: &[(u8, &str, &str)]) -> World {
    let world = World::new();
    for (number, client, note) in jobs {
        let mut made = some(*number);
        made.client = (*client).to_owned();
        made.captions.clear();
        let entered = |note: &str, finding: Option<&str>| crate::world::Entered {
            outcome: 0,
            reading: None,
            finding: finding.map(|text| (true, false, text.to_owned())),
            note: note.to_owned(),
        };
        let (note, finding) =
            note.split_once(" | ").map_or((*note, None), |(note, it)| (note, Some(it)));
        made.entries = vec![Some(entered(note, finding)), None];
        world.put(&made);
    }
    world
}

#[test]
fn a_finding_comes_before_a_note_and_a_note_before_the_plans_own_words() {
    let world = world_with(&[
        (1, "One", "dull | the valve hums"),
        (2, "Two", "the valve is new"),
        (3, "Three", "nothing"),
    ]);
    let (archive, _) = world.updated();
    let order = |typed: &str| -> Vec<String> {
        let found = archive.search(typed, 9, None).unwrap();
        found.hits.iter().map(|hit| hit.job.row.job.clone()).collect()
    };
    assert_eq!(order("valve"), ["J-1", "J-2"]);
    // All three have the point's title; words in different texts of a job count together.
    assert_eq!(order("lock-up").len(), 3);
    assert_eq!(order("two valve lock"), ["J-2"]);
    assert_eq!(order("one two"), Vec::<String>::new());
    let hit = &archive.search("hums", 9, None).unwrap().hits[0];
    let place = &hit.places[0];
    assert_eq!(
        (place.kind, place.point.as_str(), place.title.as_str()),
        (PlaceKind::Finding, "lockup", "Regulator lock-up")
    );
    assert_eq!(place.snippet.text(), "Found. the valve hums");
}

/// Puts a job there that was agreed on, charged for, and in which things were taken back.
fn taken_back() -> World {
    let world = World::new();
    world.put(&Made {
        client: "One".into(),
        captions: Vec::new(),
        entries: vec![None; 2],
        ..some(1)
    });
    let id = JobId::new("J-1").unwrap();
    let author = Author::new([1; 16], "A. Person");
    let mut record = world.record(&id);
    let mut agreement = Agreement {
        unit: "the green caravan".into(),
        payment: "due at handover".into(),
        terms: vec!["First clause.".into(), "Nothing is dismantled.".into()],
        ..Agreement::default()
    };
    let text = "Moisture survey".to_owned();
    agreement.charges.lines.push(ChargeLine { text, amount: 41_700, taxed: Taxed::All });
    let reading = ReadingId::from("r1");
    let finding = RecordedFinding {
        point: Some("lockup".into()),
        title: "Found".into(),
        statement: "the hose is brittle".into(),
        who: "gasfitter".into(),
        state: FindingState::Withdrawn { reason: "mistaken for its sleeve".into() },
        ..RecordedFinding::blank("", None)
    };
    let edits = vec![
        Edit::SetAgreement { before: None, after: Box::new(agreement) },
        Edit::AddReading {
            id: reading.clone(),
            reading: Reading {
                point: "lockup".into(),
                name: "pressure".into(),
                entry: "11.2 inH2O".into(),
                position: String::new(),
                instrument: None,
                at: None,
                by: String::new(),
                struck_out: None,
            },
        },
        Edit::AddFinding { id: "f1".into(), finding: Box::new(finding) },
    ];
    record.edit_together(&author, 3, edits).unwrap();
    let strike = Edit::StrikeOutReading { id: reading, reason: "gauge slipped".into() };
    record.edit(&author, 4, strike).unwrap();
    let chunks: Vec<Chunk> = record
        .changes_after(&[])
        .into_iter()
        .map(|change| Chunk { hash: change.hash.0, bytes: change.bytes })
        .collect();
    world.store.append(&id, &chunks).unwrap();
    world
}

#[test]
fn what_was_taken_back_agreed_and_charged_is_found_where_it_stands() {
    let world = taken_back();
    let (archive, _) = world.updated();
    let check = |typed: &str, kind: PlaceKind, point: &str, reference: &str| {
        let found = archive.search(typed, 9, None).unwrap();
        assert_eq!(found.jobs, 1, "{typed}");
        let place = &found.hits[0].places[0];
        let there = (place.kind, place.point.as_str(), place.reference.as_str());
        assert_eq!(there, (kind, point, reference), "{typed}");
    };
    check("mistaken sleeve", PlaceKind::Finding, "lockup", "f1");
    check("gasfitter brittle", PlaceKind::Finding, "lockup", "f1");
    check("slipped", PlaceKind::Note, "lockup", "");
    check("\"green caravan\"", PlaceKind::Agreement, "", "");
    check("handover", PlaceKind::Agreement, "", "");
    check("moisture 417", PlaceKind::Agreement, "", "");
    check("dismantled", PlaceKind::Terms, "", "");

    // Invoices and payments are no part of a record: each is a reason of its own to look again.
    let id = JobId::new("J-1").unwrap();
    let body = r#"{"number": "2026-0007", "currency": "USD", "total": 41700, "seller": {"name": "Everywhere"},
        "lines": [{"text": "Moisture survey", "amount": 41700}], "because": "wrong address"}"#;
    let add = |cancels: Option<&InvoiceId>| {
        let write = |_: &InvoiceId| Ok(NewInvoice { body: body.into(), due: 41_700 });
        world.store.add_invoice("2026-", &id, cancels, write).unwrap()
    };
    let first = add(None);
    assert_eq!(archive.behind(&world.store, None).unwrap(), 1);
    assert_eq!(world.updated().1.jobs, 1);
    check("\"2026 0007\"", PlaceKind::Invoice, "", "2026-0007");
    check("\"wrong address\"", PlaceKind::Invoice, "", "2026-0007");
    assert_eq!(archive.search("everywhere", 9, None).unwrap().jobs, 0, "who charges is on all");
    world.store.add_payment(&first, "2026-06-12", 41_700, "bank draft").unwrap();
    assert_eq!(world.updated().1.jobs, 1);
    check("\"bank draft\"", PlaceKind::Invoice, "", "2026-0007");
    assert_eq!(world.updated().1.jobs, 0, "nothing was added since");
}

#[test]
fn a_phrase_does_not_reach_from_one_text_into_the_next() {
    let world = world_with(&[(1, "Anna", "red | green")]);
    // Two captions stand in one column of the index, one after the other.
    let captions = vec!["red end".to_owned(), "green start".to_owned()];
    world.put(&Made { captions, entries: vec![None, None], ..some(2) });
    let (archive, _) = world.updated();
    let jobs = |typed: &str| archive.search(typed, 9, None).unwrap().jobs;
    assert_eq!((jobs("\"red end\""), jobs("\"green start\"")), (1, 1));
    assert_eq!((jobs("\"end green\""), jobs("\"start red\"")), (0, 0));
    assert_eq!((jobs("\"red green\""), jobs("red green")), (0, 2));
}

#[test]
fn hostile_texts_are_found_and_shown_as_they_are() {
    let jobs: Vec<(u8, &str, &str)> =
        (1..).zip(HOSTILE).map(|(number, text)| (number, text, "")).collect();
    let world = world_with(&jobs);
    let (archive, _) = world.updated();
    for (number, text) in (1..).zip(HOSTILE) {
        let found = archive.search(text, 50, None).unwrap();
        let here = found.hits.iter().find(|hit| hit.job.row.job == format!("J-{number}"));
        let here = here.unwrap_or_else(|| panic!("{text} is not found"));
        assert_eq!(here.job.client, *text);
    }
}
