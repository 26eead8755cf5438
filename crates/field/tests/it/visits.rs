//! Visits to test with.
#![allow(clippy::disallowed_methods, reason = "a test reads the demo's sheet")]

use field::{NewJob, Now, Plans, Visit, new_job};
use inspection::{Dwelling, DwellingKind, Job, Moment};
use record::{Author, Record};

pub(crate) fn author() -> Author {
    Author::new([7; 16], "Dane Hollworth")
}

/// A moment of the visit, so many minutes after nine.
pub(crate) fn minute(minutes: i64) -> Now {
    let nine = Moment::parse("2026-06-11T09:00:00-04:00").unwrap();
    let local = nine.local.checked_add(jiff::SignedDuration::from_mins(minutes)).unwrap();
    Now { unix_seconds: 1_781_182_800 + 60 * minutes, moment: Moment { local, ..nine } }
}

/// The filled sheet of the invented job, as `demo` has it.
pub(crate) fn demo_sheet() -> String {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../demo/src/scenario.toml");
    std::fs::read_to_string(path).unwrap()
}

/// The invented job before its visit.
pub(crate) fn demo_visit() -> Visit {
    let job = Job {
        number: "DEMO-2026".to_owned(),
        plan: "purchase".to_owned(),
        visits: vec!["2026-06-11".parse().unwrap()],
        ..Job::default()
    };
    let dwelling = Dwelling {
        kind: DwellingKind::TravelTrailer,
        maker: "Quillhaven Coach Works".to_owned(),
        model: "Plover 26RB".to_owned(),
        model_year: Some(2017),
        ..Dwelling::default()
    };
    let plans = Plans::read(&plan::Files::embedded()).unwrap();
    let changes = new_job(&author(), minute(-600), &NewJob { job, dwelling }, &plans).unwrap();
    Visit::open(&changes, author()).unwrap()
}

/// A visit by a plan of these points, on a travel trailer with gas, mains and water.
pub(crate) fn visit_of(points: &[&str]) -> Visit {
    let library = plan::load(&testkit::files_of(points)).unwrap();
    let job = Job {
        number: "1".to_owned(),
        plan: "test".to_owned(),
        visits: vec!["2026-06-11".parse().unwrap()],
        ..Job::default()
    };
    let dwelling = Dwelling {
        kind: DwellingKind::TravelTrailer,
        equipment: ["gas", "mains", "water"].map(str::to_owned).into(),
        ..Dwelling::default()
    };
    let text = library.frozen("test").unwrap();
    let record =
        Record::create(&author(), minute(-600).unix_seconds, &job, &dwelling, &text).unwrap();
    Visit::of(record, author()).unwrap()
}
