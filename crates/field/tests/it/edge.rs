//! Sentences that come from below in English are said by the interface in its own words.

use field::view::LeftRow;
use field::{Act, Entering, FindingWritten, Language, Said, Texts, UnitSystem};
use inspection::{Instrument, TimeToAct};

use crate::visits::{minute, visit_of};

const DOOR: &str = r#"
id = "door"
title = "Door"
stop = "outside"
minutes = 5
look = ["The door."]
[[reading]]
id = "width"
title = "Clear width"
kind = "length"
unit = "in"
u = "0.1 in"
[[limit]]
id = "width"
on = "width"
at_least = "28 in"
source = "code"
section = "3280.105"
basis = "law"
footing = "build"
read = "2026-01-02"
built_from = "1976-06-15"
defect = "narrow"
[[defect]]
id = "narrow"
title = "Narrow"
statement = "The door is {width} wide; the limit is {limit}."
stops = []
when = "soon"
who = "owner"
[[example]]
title = "Wide"
built = "2017-03-01"
given = { width = "30 in" }
stops = []
"#;

fn width(text: &str, instrument: Option<&str>) -> Act {
    Act::Enter(Entering {
        point: "door".into(),
        reading: "width".into(),
        text: text.into(),
        instrument: instrument.map(Into::into),
        ..Entering::default()
    })
}

#[test]
fn a_limit_that_waits_for_the_build_date_says_so_in_both_languages() {
    let mut visit = visit_of(&[DOOR]);
    visit.act(width("30 in", None), minute(0)).unwrap();
    visit.act(width("31 in", None), minute(1)).unwrap();
    let point = visit.point(&"door".into(), UnitSystem::Us).unwrap();
    let entered = point.readings[0].pads[0].entered.as_ref().unwrap();
    // That it was read twice, the screen says from the count.
    assert_eq!(entered.times, 2);
    let notes = &entered.value.as_ref().unwrap().notes;
    assert_eq!(*notes, [Said::new("note-build-date").with("section", "3280.105")]);
    let words = Texts::new(Language::Spanish).of(&notes[0]);
    assert!(words.starts_with("No se aplica 3280.105"), "{words}");
    // With the date it is held to it, and the bound is said too.
    let mut dwelling = visit.inspection().dwelling.clone();
    dwelling.built = Some("2017-03-01".parse().unwrap());
    visit.act(Act::ChangeUnit { after: Box::new(dwelling) }, minute(2)).unwrap();
    let point = visit.point(&"door".into(), UnitSystem::Us).unwrap();
    let value = point.readings[0].pads[0].entered.as_ref().unwrap().value.clone().unwrap();
    assert_eq!(value.notes, []);
    let bound = &value.judged[0].bound;
    assert_eq!(Texts::new(Language::English).of(bound), "at least 28 in");
    assert_eq!(Texts::new(Language::Spanish).of(bound), "como mínimo 28 in");
}

#[test]
fn a_gap_of_no_point_says_what_it_is_about_and_what_is_missing() {
    let mut visit = visit_of(&[DOOR]);
    let instrument = |name: &str, due: Option<&str>| Instrument {
        name: name.into(),
        calibration_due: due.map(|due| due.parse().unwrap()),
        ..Instrument::default()
    };
    for (id, after) in
        [("tape", instrument("Tape", None)), ("rule", instrument("Rule", Some("2026-01-31")))]
    {
        visit.act(Act::SetInstrument { id: id.into(), after }, minute(0)).unwrap();
        visit.act(width("30 in", Some(id)), minute(1)).unwrap();
    }
    for title in ["Step is loose", "Smell of mice"] {
        let written = FindingWritten {
            point: None,
            title: title.into(),
            statement: String::new(),
            stops: Vec::new(),
            when: TimeToAct::Soon,
            who: String::new(),
            photos: Vec::new(),
        };
        visit.act(Act::WriteFinding(written), minute(2)).unwrap();
    }
    let left = visit.left(UnitSystem::Us);
    let rows: Vec<&LeftRow> = left.other.iter().filter(|row| row.point.is_none()).collect();
    let english = Texts::new(Language::English);
    let mut said: Vec<String> =
        rows.iter().map(|row| format!("{}: {}", row.title, english.of(&row.what))).collect();
    said.sort();
    assert_eq!(
        said,
        [
            "Rule: its calibration ran out on 2026-01-31, before the visit",
            "Smell of mice: a finding without reading or photo",
            "Step is loose: a finding without reading or photo",
            "Tape: no calibration is recorded",
        ]
    );
}
