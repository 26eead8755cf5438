//! A visit shown in another language: the words change, and nothing that is recorded or judged does.

use field::view::{ReadingInput, reason_read};
use field::{Act, Answer, Entering, Language, Plans, Texts, UnitSystem, Visit};
use inspection::PointId;

use crate::visits::{author, demo_visit, minute};

pub(crate) fn spanish() -> plan::Texts {
    let library = plan::load(&plan::Files::embedded()).unwrap();
    let files = plan::Files::of_language("es").unwrap();
    let loaded = plan::load_texts("es", &files, &library);
    assert_eq!(loaded.problems, []);
    // As they come to the app.
    plan::Texts::from_text(&loaded.texts.to_text())
}

/// Some acts that write what a plan says into the record, if anything does.
fn work(visit: &mut Visit) {
    let lockup = PointId::from("regulator_lockup");
    let entering = Entering {
        point: lockup.clone(),
        reading: "lockup".to_owned(),
        position: String::new(),
        text: "16".to_owned(),
        unit: "inH2O".to_owned(),
        instrument: None,
    };
    visit.act(Act::Enter(entering), minute(1)).unwrap();
    visit.act(Act::Answer { point: lockup, answer: Answer::Examined }, minute(2)).unwrap();
    let findings = visit.findings(UnitSystem::Us);
    let draft = findings.iter().find(|row| row.point == Some("regulator_lockup".into())).unwrap();
    visit.act(Act::Confirm { key: draft.key.clone() }, minute(3)).unwrap();
    let reason = "no access".to_owned();
    let answer = Answer::NotExamined { reason };
    visit.act(Act::Answer { point: "tyres".into(), answer }, minute(4)).unwrap();
}

#[test]
fn a_visit_in_spanish_records_and_judges_what_one_in_english_does() {
    let changes = |visit: &Visit| -> Vec<Vec<u8>> {
        visit.record().changes_after(&[]).into_iter().map(|change| change.bytes).collect()
    };
    let mut english = demo_visit();
    work(&mut english);
    let mut visit = demo_visit();
    visit.speak(Some(&spanish()));
    work(&mut visit);
    assert_eq!(changes(&visit), changes(&english));

    let units = UnitSystem::Us;
    let verdicts = |visit: &Visit| {
        let lockup = visit.point(&"regulator_lockup".into(), units).unwrap();
        let pads = lockup.readings.into_iter().flat_map(|reading| reading.pads);
        let values = pads.filter_map(|pad| pad.entered?.value);
        values.map(|value| (value.value.clone(), value.verdict())).collect::<Vec<_>>()
    };
    assert_eq!(verdicts(&visit), verdicts(&english));
    assert!(!verdicts(&visit).is_empty());

    // A second device without the texts reads what was recorded in English, and the first says it in Spanish.
    let other = Visit::open(&changes(&visit), author()).unwrap();
    let title = |visit: &Visit| visit.findings(units)[0].title.clone();
    assert_eq!(title(&other), title(&english));
    assert_ne!(title(&visit), title(&english));
    visit.speak(None);
    assert_eq!(visit.findings(units), english.findings(units));
}

#[test]
fn what_a_plan_says_is_shown_in_spanish() {
    let mut visit = demo_visit();
    let english = visit.point(&"tyres".into(), UnitSystem::Us).unwrap();
    visit.speak(Some(&spanish()));
    let shown = visit.point(&"tyres".into(), UnitSystem::Us).unwrap();
    assert_ne!(shown.title, english.title);
    assert_ne!(shown.stop.1, english.stop.1);
    assert_ne!(shown.caution, english.caution);
    for (shown, english) in [
        (&shown.look, &english.look),
        (&shown.operate, &english.operate),
        (&shown.measure, &english.measure),
    ] {
        assert_eq!(shown.len(), english.len());
        assert!(shown.iter().all(|act| !english.contains(act)), "{shown:?}");
    }
    let pads = |view: &field::view::PointView| -> Vec<(String, String)> {
        let pads = view.readings.iter().flat_map(|reading| &reading.pads);
        pads.map(|pad| (pad.position.clone(), pad.label.clone())).collect()
    };
    for ((place, label), (same, in_english)) in pads(&shown).into_iter().zip(pads(&english)) {
        assert_eq!(place, same);
        assert!(label != in_english || label.is_empty(), "{label}");
    }
    let opening = visit.opening(jiff::civil::date(2026, 6, 11), UnitSystem::Us);
    assert!(opening.cautions.iter().all(|caution| !caution.contains(" the ")), "{opening:?}");
    assert!(opening.equipment.iter().all(|row| !row.title.contains("water ")), "{opening:?}");
}

#[test]
fn every_choice_keeps_its_word_and_is_read_in_spanish() {
    let mut visit = demo_visit();
    visit.speak(Some(&spanish()));
    let points: Vec<PointId> = visit.points().map(|point| point.id.as_str().into()).collect();
    let english = demo_visit();
    let mut same = Vec::new();
    for id in &points {
        let (shown, plain) = (visit.point(id, UnitSystem::Us), english.point(id, UnitSystem::Us));
        let (shown, plain) = (shown.unwrap(), plain.unwrap());
        for (shown, plain) in shown.readings.iter().zip(&plain.readings) {
            let (ReadingInput::Choice(shown), ReadingInput::Choice(plain)) =
                (&shown.input, &plain.input)
            else {
                continue;
            };
            for ((word, read), (recorded, _)) in shown.iter().zip(plain) {
                assert_eq!(word, recorded);
                // Sizes and letters read the same.
                let letters = |run: &str| run.len() > 3 && run.chars().all(char::is_alphabetic);
                if read == word && word.split(' ').any(letters) {
                    same.push(word.clone());
                }
            }
        }
    }
    assert_eq!(same, ["radial"]);
}

#[test]
fn a_plan_and_a_reason_have_a_name_in_spanish() {
    let plans = Plans::read(&plan::Files::embedded()).unwrap();
    let texts = spanish();
    for ((id, title), (same, in_english)) in
        plans.titles(Some(&texts)).into_iter().zip(plans.titles(None))
    {
        assert_eq!(id, same);
        assert_ne!(title, in_english);
    }
    let (english, spanish) = (Texts::new(Language::English), Texts::new(Language::Spanish));
    assert_eq!(reason_read(&english, "no access"), "no access");
    assert_eq!(reason_read(&spanish, "no access"), "Sin acceso");
    assert_eq!(reason_read(&spanish, "el perro"), "el perro");
}
