//! One job with every kind of entry, and what must be read from it.

use std::collections::BTreeMap;

use inspection::{
    Client, Dwelling, DwellingKind, Engagement, FindingState, Inspection, Instrument, Job, Mark,
    Moment, Outcome, Outline, Photo, PlaceOnUnit, PointEntry, Reading, RecordedFinding, Site,
    SiteStateChange, StruckOut, TimeToAct, Use, Wait,
};
use record::{Author, Edit, Record};

/// The plan's text of all test jobs.
pub(crate) const PLAN: &str = "id = \"purchase\"\ntitle = \"Before a purchase\"\n";
/// Its SHA-256, from `printf 'id = "purchase"\ntitle = "Before a purchase"\n' | sha256sum`.
pub(crate) const PLAN_HASH: &str =
    "7c412d28a1bb3ab4a56f36a6aa03ee97eb3c02c516de2d0f85e000e3fdac7c2a";

/// 12 June 2026, 12:00 UTC.
pub(crate) const NOON: i64 = 1_781_265_600;

pub(crate) fn phone() -> Author {
    Author::new([0x11; 16], "Rosa Field")
}

pub(crate) fn laptop() -> Author {
    Author::new([0x22; 16], "Jan Desk")
}

pub(crate) fn tablet() -> Author {
    Author::new([0x33; 16], "Rosa Field")
}

pub(crate) fn moment(text: &str) -> Moment {
    Moment::parse(text).unwrap()
}

pub(crate) fn job() -> Job {
    Job {
        number: "2026-041".into(),
        purpose: "purchase".into(),
        inspector: "Rosa Field".into(),
        credentials: "licence 1234".into(),
        client: Client {
            name: "Ada Buyer".into(),
            contact: "+1 555 0100".into(),
            role: "buyer".into(),
        },
        site: Site {
            address: "Pitch 7 / row B, 100 % shade".into(),
            position: Some((44.052_07, -121.315_31)),
            altitude_metres: Some(1_104.5),
        },
        visits: vec!["2026-06-12".parse().unwrap(), "2026-06-19".parse().unwrap()],
        weather: "dry, 21 °C".into(),
        engagement: Engagement {
            scope: "all accessible parts".into(),
            limits: "no roof access".into(),
            fee: "450 USD".into(),
            consent: "by letter of 1 June".into(),
            ..Engagement::default()
        },
        plan: "purchase".into(),
        plan_hash: PLAN_HASH.into(),
        earlier: None,
    }
}

pub(crate) fn dwelling() -> Dwelling {
    Dwelling {
        kind: DwellingKind::FifthWheel,
        maker: "Example Coach".into(),
        model: "Long 30".into(),
        model_year: Some(2019),
        built: Some("2018-11-01".parse().unwrap()),
        identification: "1EX000000K0000001".into(),
        equipment: ["furnace", "slide_out"].map(String::from).into(),
        ratings: BTreeMap::from([
            ("gross_rating".into(), "11200 lb".into()),
            ("rear/axle".into(), "5200 lb".into()),
        ]),
        outline: Outline {
            length: "30 ft".into(),
            width: "8 ft".into(),
            door_side: "right".into(),
            axles: 2,
        },
    }
}

pub(crate) fn new_record() -> Record {
    Record::create(&phone(), NOON, &job(), &dwelling(), PLAN).unwrap()
}

pub(crate) fn point(outcome: Outcome) -> PointEntry {
    PointEntry {
        outcome,
        defects: Vec::new(),
        notes: String::new(),
        by: "Rosa Field".into(),
        at: Some(moment("2026-06-12T09:14:00-07:00")),
    }
}

pub(crate) fn reading(point: &str, name: &str, entry: &str) -> Reading {
    Reading {
        point: point.into(),
        name: name.into(),
        entry: entry.into(),
        position: String::new(),
        instrument: None,
        at: Some(moment("2026-06-12T09:20:05-07:00")),
        by: "Rosa Field".into(),
        struck_out: None,
    }
}

pub(crate) fn finding(title: &str) -> RecordedFinding {
    RecordedFinding {
        point: Some("regulator_lockup".into()),
        draft: None,
        title: title.into(),
        statement: "Pressure without flow is above the limit.".into(),
        readings: vec![],
        photos: vec![],
        photos_out: vec![],
        stops: vec![],
        when: TimeToAct::Soon,
        who: "gas fitter".into(),
        state: FindingState::Draft,
        by: "Rosa Field".into(),
        at: Some(moment("2026-06-12T11:00:00-07:00")),
        carried: None,
    }
}

pub(crate) fn photo(file_name: &str) -> Photo {
    Photo { file_name: file_name.into(), size: (1600, 1200), ..Photo::default() }
}

pub(crate) fn instrument() -> Instrument {
    Instrument {
        kind: "manometer".into(),
        name: "blue one".into(),
        serial: "M-77".into(),
        percent_of_reading: 0.5,
        counts: 2.0,
        resolution: "0.01 inH2O".into(),
        calibrated: Some("2026-01-10".parse().unwrap()),
        calibration_due: Some("2027-01-10".parse().unwrap()),
    }
}

/// What must be read from [`edits_of_everything`].
pub(crate) fn everything() -> Inspection {
    let mut points = BTreeMap::new();
    points.insert(
        "tire_condition".into(),
        PointEntry {
            defects: vec![
                ("cut".into(), vec!["right_rear".into(), "left_front".into()]),
                ("bald".into(), vec![]),
            ],
            notes: "all four worn alike\nask for the invoice".into(),
            ..point(Outcome::Examined)
        },
    );
    points.insert(
        "roof_membrane".into(),
        point(Outcome::NotExamined { reason: "no safe access\nwet ladder".into() }),
    );
    points.insert("generator".into(), PointEntry { at: None, ..point(Outcome::NotFitted) });

    let mut readings = BTreeMap::new();
    readings.insert(
        "r1".into(),
        Reading {
            instrument: Some("m/1".into()),
            ..reading("regulator_lockup", "lockup", "14.2 inH2O")
        },
    );
    readings.insert(
        "r2".into(),
        Reading {
            position: "left_front".into(),
            struck_out: Some(StruckOut { reason: "wrong tyre".into(), by: "Jan Desk".into() }),
            ..reading("tire_condition", "date_code", "2319")
        },
    );
    readings.insert(
        "r3".into(),
        Reading { at: None, by: String::new(), ..reading("receptacle", "wiring", "correct") },
    );

    let mut findings = BTreeMap::new();
    findings.insert(
        "f1".into(),
        RecordedFinding {
            draft: Some("regulator_lockup/too_high".into()),
            readings: vec!["r1".into()],
            photos: vec!["b".repeat(64).into(), "a".repeat(64).into()],
            stops: vec![Use::Stay, Use::Gas],
            when: TimeToAct::BeforeUse,
            state: FindingState::Confirmed,
            ..finding("Lock-up pressure too high")
        },
    );
    findings.insert(
        "f2".into(),
        RecordedFinding {
            point: None,
            who: String::new(),
            state: FindingState::Withdrawn { reason: "seen again, fine".into() },
            at: None,
            ..finding("Loose step")
        },
    );

    let mut photos = BTreeMap::new();
    photos.insert(
        "a".repeat(64).into(),
        Photo {
            file_name: "IMG_0001.jpg".into(),
            taken: Some(moment("2026-06-12T09:30:01")),
            point: Some("regulator_lockup".into()),
            position: "curb side".into(),
            caption: "The gauge at lock-up".into(),
            copy: "c".repeat(64),
            thumbnail: "d".repeat(64),
            size: (1600, 1200),
            damage: String::new(),
            camera: "Example Cam 1".into(),
            sharpness: 123.456_789,
            brightness: 0.1 + 0.2,
            likeness: u64::MAX - 1,
            marks: vec![
                Mark::Arrow { from: (0.1, 0.2), to: (0.3, 1.0 / 3.0) },
                Mark::Box { from: (0.0, 0.0), to: (1.0, 1.0) },
                Mark::Words { at: (0.5, 0.25), text: "14.2  here ".into() },
            ],
            crop: None,
            place: Some(PlaceOnUnit { along: 0.25, across: 1.0 / 7.0 }),
            earlier: String::new(),
        },
    );
    photos.insert("b".repeat(64).into(), Photo { damage: "cut off".into(), ..Photo::default() });

    let mut waits = BTreeMap::new();
    waits.insert(
        "w1".into(),
        Wait {
            point: "refrigerator".into(),
            started: Some(moment("2026-06-12T09:00:00-07:00")),
            ended: Some(moment("2026-06-12T09:45:00-07:00")),
            by: "Rosa Field".into(),
        },
    );
    waits.insert(
        "w2".into(),
        Wait { point: "gas_leak_test".into(), started: None, ended: None, by: String::new() },
    );

    Inspection {
        job: job(),
        dwelling: dwelling(),
        points,
        readings,
        findings,
        photos,
        // The golden document is older than memos; `memos.rs` has theirs.
        memos: BTreeMap::new(),
        waits,
        site_states: vec![
            SiteStateChange {
                state: "shore_power".into(),
                on: true,
                at: Some(moment("2026-06-12T08:55:00-07:00")),
                by: "Rosa Field".into(),
            },
            SiteStateChange {
                state: "gas".into(),
                on: false,
                at: Some(moment("2026-06-12T12:00:00-07:00")),
                by: "Jan Desk".into(),
            },
        ],
        instruments: BTreeMap::from([("m/1".into(), instrument())]),
    }
}

/// Adds every kind of entry to a new record with every kind of edit that adds.
pub(crate) fn edits_of_everything() -> Vec<Edit> {
    let all = everything();
    let mut edits = Vec::new();
    for (id, after) in all.instruments {
        edits.push(Edit::SetInstrument { id, before: None, after });
    }
    for (point, after) in all.points {
        edits.push(Edit::SetPoint { point, before: None, after });
    }
    for (id, reading) in all.readings {
        edits.push(Edit::AddReading { id, reading });
    }
    for (id, photo) in all.photos {
        edits.push(Edit::AddPhoto { id, photo: Box::new(photo) });
    }
    for (id, finding) in all.findings {
        edits.push(Edit::AddFinding { id, finding: Box::new(finding) });
    }
    for (id, wait) in all.waits {
        edits.push(Edit::StartWait { id, wait });
    }
    for (number, change) in all.site_states.into_iter().enumerate() {
        edits.push(Edit::ChangeSiteState { id: format!("s{number}"), change });
    }
    edits
}

/// A record of everything, entered in turn on two devices.
pub(crate) fn record_of_everything() -> Record {
    let mut record = new_record();
    for (number, edit) in (0_i64..).zip(edits_of_everything()) {
        let author = if number % 2 == 0 { phone() } else { laptop() };
        record.edit(&author, NOON + 60 * number, edit).unwrap().unwrap();
    }
    record
}
