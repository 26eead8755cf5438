//! From a plan and an inspection to the pages: nothing is lost, and nothing is said that was not found.

use findings::{assess, assess_in};
use inspection::{Inspection, Instrument, InstrumentId, Mark, Photo, PhotoId};
use quantity::UnitSystem;
use report::content::{Content, Paper, Trail, UseKind, UseState, Verdict};
use report::{Options, Release, compose, typeset};
use testkit::{LOCKUP, TAPS, inspection_of, plan_of};

use crate::tools::{File, assert_order};

/// What this report says more about the lock-up: what to do at once, and a second limit that only informs.
const AT_ONCE_AND_HABIT: &str = r#"stop_work = "Close the cylinder valves."
[[limit]]
id = "habit"
on = "pressure"
at_most = "13 inH2O"
source = "code"
section = "2"
basis = "practice"
footing = "good_practice"
read = "no"
defect = "high"
[[example]]"#;

const FLOOR: &str = r#"id = "floors"
title = "Floors"
stop = "inside"
minutes = 2
look = ["Every floor."]
essential = ["stay"]
[[defect]]
id = "soft"
title = "Soft floor"
statement = "The floor gives."
stops = []
when = "soon"
who = "workshop"
[[example]]
found = ["soft"]
stops = []
"#;

fn inspected(lines: &str) -> Inspection {
    let head = "travel_trailer built 2019-06-01 visited 2026-06-12 fitted gas water";
    let mut inspection = inspection_of(&format!("{head}\n{lines}"));
    inspection.job.number = "17".into();
    inspection.job.inspector = "A. Sample".into();
    inspection.dwelling.maker = "Sample Coach".into();
    inspection.dwelling.model_year = Some(2019);
    inspection.dwelling.outline.length = "24 ft".into();
    inspection.dwelling.outline.width = "8 ft".into();
    inspection
}

fn content(inspection: &Inspection, options: Options) -> Content {
    let lockup = LOCKUP.replacen("[[example]]", AT_ONCE_AND_HABIT, 1);
    let plan = plan_of(&[&lockup, TAPS, FLOOR]);
    let assessment = match options.units {
        UnitSystem::Us => assess(&plan, inspection),
        UnitSystem::Si => assess_in(&plan, inspection, UnitSystem::Si),
    };
    let release = Release {
        trail: Trail { heads: vec!["ab".repeat(32)], changes: 3, ..Trail::default() },
        program: "Nearside 0".into(),
        ..Release::default()
    };
    compose(&plan, inspection, &assessment, &release, options)
}

const VISIT: &str = "lockup pressure = 15.2 inH2O; photo
taps not examined: winterized
floors examined";

#[test]
fn what_composes_hangs_together_and_can_be_typeset() {
    for lines in ["", VISIT, "lockup not examined:\ntaps found leak\nfloors found soft"] {
        let content = content(&inspected(lines), Options::default());
        assert_eq!(content.problems(), []);
        let made = typeset(&content, crate::sample::RECORD, &|_| None, &|_| {}).unwrap();
        File::new(&made.pdf).assert_sound();
    }
}

#[test]
fn uses_carry_their_findings_and_what_was_not_examined() {
    let content = content(&inspected(VISIT), Options::default());
    let states: Vec<_> = content.uses.iter().map(|one| (one.kind, one.state)).collect();
    assert_eq!(
        states,
        [
            (UseKind::Tow, UseState::NotFitted),
            (UseKind::Power, UseState::NotFitted),
            (UseKind::Gas, UseState::Held),
            (UseKind::Water, UseState::Open),
            (UseKind::Stay, UseState::Clear),
        ]
    );
    assert_eq!(content.uses[2].findings, [1]);
    assert_eq!(content.uses[3].not_examined, [1]);
    assert_eq!(content.not_examined[0].reason, "Winterized");
    assert_eq!(content.not_examined[0].leaves_open, [UseKind::Water]);
    assert_eq!(content.stop_work[0].text, "Close the cylinder valves.");
    assert_eq!(
        content.cautions,
        ["Do not use gas until finding 1 has been dealt with by licensed gas fitter."]
    );
    assert_eq!(content.examined.len(), 1);
    assert_eq!(content.examined[0].points, ["Floors"]);
    assert_eq!(
        content.summary,
        "1 finding, 1 of which stops a use. Gas is held. Water is open. Stay is clear. \
         1 point was not examined, or not in full."
    );
}

#[test]
fn a_reading_keeps_unit_uncertainty_limits_sources_and_instrument() {
    let mut inspection = inspected(VISIT);
    let meter = InstrumentId::from("m1");
    inspection.instruments.insert(
        meter.clone(),
        Instrument {
            name: "M".into(),
            calibration_due: "2026-01-01".parse().ok(),
            ..Instrument::default()
        },
    );
    for reading in inspection.readings.values_mut() {
        reading.instrument = Some(meter.clone());
    }
    let content = content(&inspection, Options::default());
    let reading = &content.systems[0].readings[0];
    assert_eq!((reading.value.as_str(), reading.unit.as_str()), ("15.20", "inH2O"));
    assert_eq!(reading.uncertainty, "0.20");
    assert_eq!(reading.instruments, [1]);
    let verdicts: Vec<_> = reading
        .judged
        .iter()
        .map(|one| (one.verdict, one.words.as_str(), one.sources[0]))
        .collect();
    assert_eq!(
        verdicts,
        [
            (Verdict::DoesNotConform, "does not conform", 1),
            (Verdict::BeyondGuidance, "beyond common practice", 2),
        ]
    );
    assert_eq!(reading.judged[0].limit, "at most 14 inH2O");
    assert_eq!(content.sources[0].section, "1");
    assert!(!content.sources[1].read);
    assert_eq!(content.findings[0].readings, [1]);
    assert_eq!(content.findings[0].sources, [1, 2]);
    assert_eq!(content.instruments[0].calibration, report::content::CalibrationState::Overdue);
}

#[test]
fn values_and_days_follow_the_units_asked_for() {
    let options = Options { paper: Paper::A4, units: UnitSystem::Si, ..Options::default() };
    let content = content(&inspected(VISIT), options);
    assert_eq!(content.job.visits, ["12 June 2026"]);
    let reading = &content.systems[0].readings[0];
    assert_ne!(reading.unit, "inH2O");
    assert!(!reading.judged[0].limit.contains("inH2O"), "{}", reading.judged[0].limit);
}

#[test]
fn a_finding_nobody_confirmed_says_so() {
    let content = content(&inspected(VISIT), Options::default());
    assert!(content.findings[0].basis.contains("has not confirmed it"));
}

#[test]
fn photos_come_in_time_with_marks_and_the_first_free_one_in_front() {
    let mut inspection = inspected(VISIT);
    let photo = |taken: &str, marks| Photo {
        taken: inspection::Moment::parse(taken).ok(),
        caption: taken.into(),
        marks,
        ..Photo::default()
    };
    let beyond = Mark::Words { at: (1.5, 0.5), text: "x".into() };
    inspection.photos.insert(PhotoId::from("a"), photo("2026-06-12T10:00", vec![beyond]));
    inspection.photos.insert(PhotoId::from("b"), photo("2026-06-12T09:00", vec![]));
    let content = content(&inspection, Options::default());
    let ids: Vec<&str> = content.photos.iter().map(|photo| photo.id.as_str()).collect();
    assert_eq!(&ids[..2], ["b", "a"]);
    assert_eq!(content.photos[0].taken, "June 12, 2026, 9:00");
    assert_eq!(content.unit.photo, Some(1));
    assert_eq!(content.findings[0].photos, [3]);
    assert_eq!(content.unused, ["photo 2 has marks beyond its edges; they are not drawn"]);
}

#[test]
fn a_reading_names_the_photos_of_its_point_and_not_those_of_another_position() {
    let mut inspection = inspection_of(
        "travel_trailer built 2017-03-01 visited 2026-06-12 fitted wheels coupling\n\
         wheel_loads load@left_front = 1360 lb ; load@right_front = 1400 lb",
    );
    let photo = |point: &str, position: &str, earlier: &str| Photo {
        point: Some(point.into()),
        position: position.into(),
        earlier: earlier.into(),
        ..Photo::default()
    };
    for (id, photo) in [
        ("a", photo("wheel_loads", "left_front", "")),
        ("b", photo("wheel_loads", "", "")),
        // No reading was taken there: it may show any of them.
        ("c", photo("wheel_loads", "left_rear", "")),
        ("d", photo("tongue_weight", "", "")),
        ("e", photo("wheel_loads", "left_front", "2025-003")),
    ] {
        inspection.photos.insert(PhotoId::from(id), photo);
    }
    let plan = plan::load(&plan::Files::embedded()).unwrap().plan("purchase").unwrap();
    let assessment = assess(&plan, &inspection);
    let content = compose(&plan, &inspection, &assessment, &Release::default(), Options::default());
    assert_eq!(content.problems(), []);
    let at = |position: &str| {
        let mut readings = content.systems.iter().flat_map(|system| &system.readings);
        readings.find(|it| it.position == position).map(|it| it.photos.clone())
    };
    assert_eq!(at("left front"), Some(vec![1, 2, 3]));
    assert_eq!(at("right front"), Some(vec![2, 3]));
}

#[test]
fn an_entry_that_could_not_be_used_is_printed() {
    let inspection = inspected("lockup pressure = a lot\nroof examined");
    let content = content(&inspection, Options::default());
    assert!(!content.unused.is_empty());
    let made = typeset(&content, crate::sample::RECORD, &|_| None, &|_| {}).unwrap();
    let text = File::new(&made.pdf).text();
    assert_order(&text, &["Entries of the record that could not be used", "`roof`"]);
}

#[test]
fn an_outline_that_cannot_be_drawn_is_left_out() {
    for length in ["", "long", "900 ft"] {
        let mut inspection = inspected("");
        inspection.dwelling.outline.length = length.into();
        assert_eq!(content(&inspection, Options::default()).unit.outline, None, "{length}");
    }
    assert!(content(&inspected(""), Options::default()).unit.outline.is_some());
}

#[test]
fn the_visit_is_told_by_its_times_beside_the_plans_order() {
    let mut inspection = inspected(VISIT);
    let at = |text: &str| inspection::Moment::parse(text).ok();
    for (point, time) in [("taps", "2026-06-12T09:10"), ("lockup", "2026-06-12T09:30")] {
        inspection.points.get_mut(point).unwrap().at = at(time);
    }
    let wait = inspection::Wait {
        point: "lockup".into(),
        started: at("2026-06-12T09:05"),
        ended: at("2026-06-12T09:31"),
        by: String::new(),
    };
    inspection.waits.insert(inspection::WaitId::from("1"), wait);
    let visit = content(&inspection, Options::default()).visit;
    assert_eq!(visit.days.len(), 1);
    let told: Vec<String> = visit.days[0]
        .steps
        .iter()
        .map(|step| format!("{} {} {} {}", step.time, step.point, step.planned, step.outcome))
        .collect();
    assert_eq!(told, ["9:10 Taps 3 not examined", "9:30 Regulator lock-up 1 "]);
    assert_eq!(visit.untimed, ["Floors"]);
    assert_eq!(
        visit.order,
        "2 points were settled at a known time. 1 stands at another place than in the plan's walking order. \
         Of 1 more the record does not say when."
    );
    assert_eq!(visit.days[0].waits[0].words, "9:05 to 9:31 (26 min)");
    let gaps: Vec<&str> = visit.days[0].gaps.iter().map(|gap| gap.words.as_str()).collect();
    assert_eq!(gaps, ["9:10 to 9:30 (20 min), no entry; meanwhile: Regulator lock-up"]);
}
