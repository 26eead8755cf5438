//! Content that no page can show is refused with sentences; photos that cannot be shown are named.

use report::content::{Content, Issued, Paper, Place};
use report::{ReportError, typeset};

use crate::sample::{self, sample};
use crate::tools::{File, typeset_sample};

fn refusal(content: &Content) -> String {
    typeset(content, sample::RECORD, &sample::photo, &|_| {}).unwrap_err().to_string()
}

#[test]
fn numbers_that_lead_nowhere_are_all_told_at_once() {
    let mut content = sample(Paper::Letter);
    content.findings[1].photos.push(99);
    content.systems[0].readings[0].judged[0].sources = vec![0];
    content.unit.photo = Some(20);
    content.stop_work[0].finding = Some(7);
    let said = refusal(&content);
    for sentence in [
        "finding 2 refers to number 99 of the photos, of which there are 13",
        "reading 1 refers to number 0 of the sources, of which there are 4",
        "the front page refers to number 20 of the photos",
        "stop-work matter 1 refers to number 7 of the findings",
    ] {
        assert!(said.contains(sentence), "{sentence}: {said}");
    }
}

#[test]
fn a_missing_or_doubled_use_is_refused() {
    let mut content = sample(Paper::Letter);
    content.uses.swap(0, 1);
    assert!(refusal(&content).contains("tow, power, gas, water, stay"));
    content.uses.clear();
    assert!(refusal(&content).contains("tow, power, gas, water, stay"));
}

#[test]
fn places_outside_the_unit_are_refused() {
    let mut content = sample(Paper::Letter);
    content.findings[0].place = Some(Place { along: f64::NAN, across: 0.5 });
    assert!(refusal(&content).contains("both must be from -0.15 to 1.15"));
    content.findings[0].place = None;
    content.unit.outline.as_mut().unwrap().length_metres = 0.0;
    assert!(refusal(&content).contains("between 0.5 m and 50 m"));
}

#[test]
fn a_day_that_is_not_in_the_calendar_is_refused() {
    let mut content = sample(Paper::Letter);
    content.issued = Issued { month: 2, day: 30, ..content.issued };
    let error = typeset(&content, sample::RECORD, &sample::photo, &|_| {}).unwrap_err();
    assert!(matches!(error, ReportError::Issued(_)), "{error}");
}

#[test]
fn a_missing_photo_leaves_a_panel_and_a_remark() {
    let content = sample(Paper::Letter);
    let photos = |id: &str| if id.starts_with("0002") { None } else { sample::photo(id) };
    let made = typeset(&content, sample::RECORD, &photos, &|_| {}).unwrap();
    assert_eq!(
        made.remarks,
        ["Photo 2 is not shown: its file was not at hand when the report was made."]
    );
    let file = File::new(&made.pdf);
    file.assert_sound();
    assert!(file.text().contains("Photo 2 is not shown"));
}

#[test]
fn damaged_photos_leave_panels_and_remarks() {
    let content = sample(Paper::Letter);
    let photos = |id: &str| {
        let mut bytes = sample::photo(id)?;
        match id.get(..4)? {
            "0001" => bytes.truncate(bytes.len() / 2),
            "0002" => bytes = b"no picture at all".to_vec(),
            "0003" => bytes.clear(),
            _ => {}
        }
        Some(bytes)
    };
    let made = typeset(&content, sample::RECORD, &photos, &|_| {}).unwrap();
    assert_eq!(
        made.remarks,
        [
            "Photo 1 is not shown: its file is damaged or cut off.",
            "Photo 2 is not shown: its file is not a JPEG.",
            "Photo 3 is not shown: its file is not a JPEG.",
        ]
    );
    File::new(&made.pdf).assert_sound();
}

#[test]
fn many_reports_in_one_process_stay_sound() {
    let content = sample(Paper::Letter);
    let first = typeset_sample(&content);
    for _ in 0..5 {
        assert!(typeset_sample(&content).pdf == first.pdf);
    }
}
