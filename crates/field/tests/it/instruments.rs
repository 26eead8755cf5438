//! The job's instruments: what is typed, what is to be seen to before the visit, what is taken out and taken over.

use field::view::{Target, kinds_of_instruments};
use field::{Act, EngagementChange, Entering, InstrumentTyped, UnitSystem::Us, Visit};
use inspection::{Instrument, InstrumentId};
use jiff::civil::date;
use testkit::{LOCKUP, TAPS};

use crate::visits::{demo_visit, minute, visit_of};

/// A day before the visit of these jobs, which is on 2026-06-11.
const BEFORE: jiff::civil::Date = date(2026, 6, 1);

fn typed(name: &str, calibrated: &str, due: &str) -> InstrumentTyped {
    InstrumentTyped {
        name: name.into(),
        calibrated: calibrated.into(),
        due: due.into(),
        ..InstrumentTyped::default()
    }
}

/// Enters it as the screen does.
fn enter(visit: &mut Visit, typed: &InstrumentTyped) -> InstrumentId {
    let after = typed.read().unwrap();
    let id = visit.instrument_id(&after.name);
    visit.act(Act::SetInstrument { id: id.clone(), after }, minute(1)).unwrap();
    id
}

fn read_with(visit: &mut Visit, id: &InstrumentId) {
    let entering = Entering {
        point: "lockup".into(),
        reading: "pressure".into(),
        text: "11".into(),
        instrument: Some(id.clone()),
        ..Entering::default()
    };
    visit.act(Act::Enter(entering), minute(2)).unwrap();
}

/// Each instrument with what is said of its calibration, and whether that is to be seen to.
fn said(visit: &Visit, today: jiff::civil::Date) -> Vec<(String, String, bool)> {
    let rows = visit.instrument_list(today).rows.into_iter();
    rows.map(|row| (row.name, row.calibration.to_string(), row.see_to)).collect()
}

#[test]
fn a_calibration_must_last_until_the_visit() {
    let mut visit = visit_of(&[LOCKUP]);
    enter(&mut visit, &typed("A holds", "2026-01-02", "2026-06-11"));
    enter(&mut visit, &typed("B runs out", "", "2026-06-10"));
    enter(&mut visit, &typed("C ran out", "", "2026-05-01"));
    enter(&mut visit, &typed("D without an end", "2026-01-02", ""));
    enter(&mut visit, &typed("E unknown", "", ""));
    let lines = [
        ("A holds", "calibration valid until 2026-06-11", false),
        (
            "B runs out",
            "Its calibration runs out on 2026-06-10, before the visit on 2026-06-11: calibrate it, or take another.",
            true,
        ),
        (
            "C ran out",
            "Its calibration ran out on 2026-05-01, before the visit on 2026-06-11: calibrate it, or take another.",
            true,
        ),
        ("D without an end", "calibrated on 2026-01-02, without an end", false),
        (
            "E unknown",
            "No calibration is recorded: enter when it was calibrated, or until when that is valid.",
            true,
        ),
    ];
    let lines = lines.map(|(name, words, see_to)| (name.to_owned(), words.to_owned(), see_to));
    assert_eq!(said(&visit, BEFORE), lines);
    assert_eq!(visit.instrument_list(BEFORE).to_see_to().count(), 3);
    // After the visit nothing has changed: that day counts.
    assert!(!said(&visit, date(2027, 1, 1))[0].2);
    // Another day was agreed with the client: calibrations must last until then.
    let put = Act::PutAgreement { language: "en".into(), terms: vec!["First.".into()] };
    visit.act(put, minute(3)).unwrap();
    let later = Act::ChangeEngagement(EngagementChange::Day("2026-07-01".into()));
    visit.act(later, minute(4)).unwrap();
    assert_eq!(visit.instrument_list(BEFORE).visit, Some(date(2026, 7, 1)));
    assert!(said(&visit, BEFORE)[0].1.contains("before the visit on 2026-07-01"));
}

#[test]
fn what_is_typed_comes_back_as_it_was_typed() {
    let all = InstrumentTyped {
        name: "Dial 12".into(),
        kind: "manometer".into(),
        serial: "007-B".into(),
        calibrated: "2026-01-02".into(),
        due: "2027-01-02".into(),
        percent: "0.5".into(),
        counts: "2".into(),
        resolution: "0.1 inH2O".into(),
    };
    let read = all.read().unwrap();
    assert_eq!((read.percent_of_reading, read.counts), (0.5, 2.0));
    assert_eq!(InstrumentTyped::of(&read), all);
    assert_eq!(InstrumentTyped::of(&Instrument::default()), InstrumentTyped::default());
    // As some write numbers.
    let comma = InstrumentTyped { percent: "0,5".into(), resolution: "0,1 V".into(), ..all };
    let comma = comma.read().unwrap();
    assert_eq!((comma.percent_of_reading, comma.resolution.as_str()), (0.5, "0.1 V"));
}

#[test]
fn what_cannot_be_is_refused_in_a_sentence() {
    let base = typed("Dial 12", "", "");
    let with = |change: fn(&mut InstrumentTyped)| {
        let mut typed = base.clone();
        change(&mut typed);
        typed.read().unwrap_err().to_string()
    };
    assert_eq!(with(|it| it.name = "  ".into()), "Give the instrument a name.");
    assert_eq!(
        with(|it| it.due = "next June".into()),
        "“next June” is no day. Write it like 2026-06-11."
    );
    let parts: [fn(&mut InstrumentTyped); 2] =
        [|it| it.percent = "-1".into(), |it| it.counts = "two".into()];
    for wrong in parts {
        assert!(with(wrong).contains("is no part of an accuracy"), "{}", with(wrong));
    }
    let steps: [fn(&mut InstrumentTyped); 3] = [
        |it| it.resolution = "0.1 furlongs".into(),
        |it| it.resolution = "0 V".into(),
        |it| it.resolution = "V".into(),
    ];
    for wrong in steps {
        assert!(with(wrong).contains("is no smallest step"), "{}", with(wrong));
    }
    // What is read without a unit, such as the weight of a battery's acid, has a step without one.
    let acid = InstrumentTyped { resolution: "0.001".into(), ..base.clone() };
    assert_eq!(acid.read().unwrap().resolution, "0.001");
    let days = with(|it| {
        it.calibrated = "2026-05-02".into();
        it.due = "2026-05-01".into();
    });
    assert!(days.starts_with("The calibration runs out before"), "{days}");
}

#[test]
fn each_has_an_id_of_its_own_made_of_its_name() {
    let mut visit = visit_of(&[LOCKUP]);
    let ids = ["Dial 12", "dial-12", "Manómetro", "表", &"long ".repeat(90)]
        .map(|name| enter(&mut visit, &typed(name, "", "")).to_string());
    assert_eq!(ids[..4], ["dial_12", "dial_12_2", "man_metro", "instrument"]);
    assert_eq!(ids[4].len(), 60);
    assert_eq!(visit.inspection().instruments.len(), 5);
}

#[test]
fn one_that_readings_were_taken_with_stays_and_any_other_goes_and_comes_back() {
    let mut visit = visit_of(&[LOCKUP, TAPS]);
    let (used, spare) = (
        enter(&mut visit, &typed("Dial 12", "", "2026-12-01")),
        enter(&mut visit, &typed("Spare", "", "2026-12-01")),
    );
    read_with(&mut visit, &used);
    assert_eq!(visit.instrument_list(BEFORE).rows[0].readings, 1);
    let refused = visit.act(Act::TakeOutInstrument { id: used.clone() }, minute(3)).unwrap_err();
    assert!(refused.to_string().starts_with("Dial 12 stays in the list: one reading"), "{refused}");
    visit.act(Act::TakeOutInstrument { id: spare.clone() }, minute(4)).unwrap();
    assert_eq!(visit.inspection().instruments.keys().collect::<Vec<_>>(), [&used]);
    assert_eq!(visit.undo_label().unwrap().to_string(), "instrument, Spare");
    visit.undo(minute(5)).unwrap();
    assert!(visit.inspection().instruments.contains_key(&spare));
    visit.redo(minute(6)).unwrap();
    assert!(!visit.inspection().instruments.contains_key(&spare));
    let gone = visit.act(Act::TakeOutInstrument { id: spare }, minute(7)).unwrap_err();
    assert_eq!(gone.key, "refusal-no-instrument");
}

#[test]
fn adding_one_can_be_taken_back_until_something_is_read_with_it() {
    let mut visit = visit_of(&[LOCKUP]);
    let id = enter(&mut visit, &typed("Dial 12", "", "2026-12-01"));
    visit.undo(minute(2)).unwrap();
    assert!(visit.inspection().instruments.is_empty());
    visit.redo(minute(3)).unwrap();
    assert!(visit.inspection().instruments.contains_key(&id));
    read_with(&mut visit, &id);
    // The reading first, then the instrument.
    visit.undo(minute(4)).unwrap();
    visit.undo(minute(5)).unwrap();
    assert!(visit.inspection().instruments.is_empty());
}

#[test]
fn instruments_of_another_job_come_in_as_they_are_in_one_act() {
    let mut other = visit_of(&[LOCKUP]);
    enter(&mut other, &typed("Dial 12", "2026-01-02", "2027-01-02"));
    enter(&mut other, &typed("Spare", "", ""));
    let theirs = other.inspection().instruments.clone();
    let mut visit = visit_of(&[LOCKUP]);
    let own = enter(&mut visit, &typed("Spare", "", "2026-12-01"));
    let kept = visit.inspection().instruments[&own].clone();
    let all: Vec<_> = theirs.clone().into_iter().collect();
    visit.act(Act::TakeOverInstruments(all.clone()), minute(2)).unwrap();
    let here = &visit.inspection().instruments;
    assert_eq!(here.len(), 2);
    assert_eq!(here[&own], kept, "what is listed already stays as it is");
    assert_eq!(here["dial_12"], theirs["dial_12"]);
    // Nothing is left to take over.
    assert_eq!(visit.act(Act::TakeOverInstruments(all), minute(3)).unwrap(), Vec::<Vec<u8>>::new());
    visit.undo(minute(4)).unwrap();
    assert_eq!(visit.inspection().instruments.keys().collect::<Vec<_>>(), [&own]);
}

#[test]
fn what_is_missing_of_an_instrument_leads_to_it_at_the_desk_and_on_a_phone() {
    let mut visit = visit_of(&[LOCKUP]);
    let id = enter(&mut visit, &typed("Dial 12", "", "2026-05-01"));
    read_with(&mut visit, &id);
    let target = Target::Instrument(id);
    let groups = visit.missing(Us).groups;
    let rows: Vec<_> = groups.iter().flat_map(|group| &group.rows).collect();
    assert!(rows.iter().any(|row| row.target == target && row.title == "Dial 12"));
    let left = visit.left(Us).other;
    assert!(left.iter().any(|row| row.target == target && row.point.is_none()));
}

#[test]
fn what_an_instrument_is_called_finds_it_again_among_what_to_bring() {
    let mut visit = demo_visit();
    let kinds: Vec<_> = kinds_of_instruments().collect();
    for (_, words) in &kinds {
        let kind = InstrumentTyped { kind: words.clone(), ..typed(words, "", "2026-12-01") };
        enter(&mut visit, &kind);
    }
    let kit = visit.kit(BEFORE);
    assert!(kit.len() > 8, "{}", kit.len());
    for item in kit {
        let (_, words) = kinds.iter().find(|(key, _)| *key == item.key).unwrap();
        assert!(item.instruments.iter().any(|row| row.kind == *words), "{words}");
    }
}
