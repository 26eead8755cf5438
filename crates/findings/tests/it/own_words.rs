//! Remarks on a person's own texts: promises, and what is left over from another job.
#![allow(clippy::unwrap_used, reason = "a helper of tests may stop them")]

use findings::{OtherJob, TextPlace, left_over, promises};
use inspection::{Inspection, Photo, PhotoId, RecordedFinding};
use testkit::{HOSTILE, LOCKUP, TAPS, inspection_of, plan_of};

fn with_note(text: &str) -> Inspection {
    let mut inspection = inspection_of("travel_trailer fitted gas water\ntaps examined");
    inspection.job.number = "2026-002".to_owned();
    inspection.points.get_mut("taps").unwrap().notes = text.to_owned();
    inspection
}

fn other() -> Inspection {
    let mut other = Inspection::default();
    other.job.number = "2026-001".to_owned();
    other.job.client.name = "Maria Quillfeather".to_owned();
    other.job.client.contact = "maria@post.example, +1 555 010 4477".to_owned();
    other.job.site.address = "Larkspur Meadow Park, pitch 14, Oldbridge".to_owned();
    other.dwelling.identification = "1ZX9T2222KB000417".to_owned();
    other.dwelling.maker = "Wayfarer".to_owned();
    other.dwelling.model = "Heron 240 RL".to_owned();
    other
}

/// What of the other job is found in a note, as it is written.
fn left(text: &str) -> Vec<String> {
    let plan = plan_of(&[LOCKUP, TAPS]);
    let inspection = with_note(text);
    let others = [OtherJob::of(&other())];
    left_over(&plan, &inspection, &others).into_iter().map(|one| one.word).collect()
}

#[test]
fn facts_of_another_job_are_found_as_people_write_them() {
    assert_eq!(left("Mrs. Quillfeather was there."), ["Quillfeather"]);
    assert_eq!(left("As maria quillfeather said, it leaks."), ["maria quillfeather"]);
    assert_eq!(left("Ask maria@post.example for the key."), ["maria@post.example"]);
    assert_eq!(left("Called +1 555 010 4477."), ["1 555 010 4477"]);
    assert_eq!(left("Water stands at Larkspur Meadow Park again."), ["Larkspur Meadow Park"]);
    assert_eq!(left("The number ends in 000417."), ["000417"]);
    assert_eq!(left("The plate says 1ZX9T2222KB000417."), ["1ZX9T2222KB000417"]);
    assert_eq!(left("The Wayfarer has two axles."), ["Wayfarer"]);
    assert_eq!(left("A HERON 240 RL leaks here."), ["HERON 240 RL"]);
}

#[test]
fn short_and_common_words_are_left_alone() {
    assert!(left("The pitch 14 is level; the park is quiet, 240 of it.").is_empty());
    assert!(left("A wayfarer came by.").is_empty());
    assert!(left("Reading 417 and 0417 were fine.").is_empty());
    assert!(left("").is_empty());
    let plan = plan_of(&[LOCKUP, TAPS]);
    // A client who is called as the trade calls things, or as everybody calls a colour.
    for name in ["Pat Leak", "Jo Brown", "Al Li", "Regulator Gas"] {
        let mut other = other();
        name.clone_into(&mut other.job.client.name);
        let inspection = with_note("Leak at the regulator. Brown stain, al. Li-ion battery.");
        assert!(left_over(&plan, &inspection, &[OtherJob::of(&other)]).is_empty(), "{name}");
    }
}

#[test]
fn what_this_job_has_too_is_not_left_over_and_no_job_is_compared_with_itself() {
    let plan = plan_of(&[LOCKUP, TAPS]);
    let mut inspection = with_note("The Wayfarer of Mrs. Quillfeather.");
    inspection.dwelling.maker = "Wayfarer".to_owned();
    let found = left_over(&plan, &inspection, &[OtherJob::of(&other())]);
    assert_eq!(found.iter().map(|one| one.word.as_str()).collect::<Vec<_>>(), ["Quillfeather"]);
    let mut itself = other();
    itself.job.number.clone_from(&inspection.job.number);
    assert!(left_over(&plan, &inspection, &[OtherJob::of(&itself)]).is_empty());
}

#[test]
fn where_it_stands_and_from_which_job_is_said() {
    let plan = plan_of(&[LOCKUP, TAPS]);
    let mut inspection = with_note("");
    let photo = PhotoId("a".repeat(64));
    inspection.photos.insert(
        photo.clone(),
        Photo {
            file_name: "a.jpg".to_owned(),
            caption: "Heron 240 RL".to_owned(),
            ..Photo::default()
        },
    );
    let mut third = other();
    third.job.number = "2026-009".to_owned();
    let found = left_over(&plan, &inspection, &[OtherJob::of(&other()), OtherJob::of(&third)]);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].place, TextPlace::Caption(&photo));
    assert_eq!(
        found[0].sentence(&plan, &inspection),
        "photo a.jpg, caption: “Heron 240 RL” is the model of job 2026-001 and of one more job; is it left over?"
    );
}

#[test]
fn promises_in_a_persons_own_texts_are_found_and_the_plans_are_not_theirs() {
    let plan = plan_of(&[LOCKUP, TAPS]);
    let mut inspection = with_note("The taps are safe.");
    let own = RecordedFinding {
        title: "Worn hose".to_owned(),
        statement: "I guarantee that it is not safe to use.".to_owned(),
        ..RecordedFinding::blank("", None)
    };
    inspection.findings.insert("f1".into(), own);
    let found: Vec<String> =
        promises(&plan, &inspection).iter().map(|one| one.sentence(&plan, &inspection)).collect();
    assert_eq!(
        found,
        [
            "note at Taps: “safe” promises that it is safe, and no inspection can",
            "finding “Worn hose”, statement: “guarantee” promises a guarantee, and no inspection can",
        ]
    );
}

#[test]
fn no_text_makes_it_fail() {
    let plan = plan_of(&[LOCKUP, TAPS]);
    for text in HOSTILE {
        let inspection = with_note(text);
        let mut other = other();
        for fact in [
            &mut other.job.client.name,
            &mut other.job.client.contact,
            &mut other.job.site.address,
            &mut other.dwelling.identification,
            &mut other.dwelling.maker,
            &mut other.dwelling.model,
        ] {
            text.clone_into(fact);
        }
        let _ = left_over(&plan, &inspection, &[OtherJob::of(&other)]).len();
        let _ = promises(&plan, &inspection).len();
    }
}
