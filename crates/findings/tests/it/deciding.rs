//! What would decide an undecided verdict, and where each gap sends a person.

use findings::{About, Deciding, Gap, assess, deciding};
use inspection::{Inspection, Instrument, Photo, PhotoId, RecordedFinding};
use limit::Verdict;
use quantity::UnitSystem::Us;
use testkit::{LOCKUP, inspection_of, plan_of};

use crate::DROP;

/// A supply under load: the drop is computed from two readings and held to a limit.
fn supply_point() -> String {
    [SUPPLY_READ, DROP, SUPPLY_JUDGED].concat()
}

const SUPPLY_READ: &str = r#"id = "supply"
title = "Supply"
stop = "outside"
minutes = 2
measure = ["Volts."]
[[reading]]
id = "open"
title = "Volts before"
kind = "voltage"
unit = "V"
u = "0.1 V"
[[reading]]
id = "loaded"
title = "Volts under load"
kind = "voltage"
unit = "V"
u = "0.4 V"
"#;

const SUPPLY_JUDGED: &str = r#"[[limit]]
id = "most"
on = "drop"
at_most = "5 %"
source = "code"
section = "1"
basis = "law"
footing = "in_use"
read = "2026-11-25"
defect = "much"
[[defect]]
id = "much"
title = "Much drop"
statement = "It drops by {drop}."
stops = ["power"]
when = "soon"
who = "electrician"
[[example]]
given = { open = "120 V", loaded = "119 V", current = "12 A" }
verdicts = { most = "conforms" }
"#;

fn only(point: &str, inspection: &Inspection) -> Deciding {
    let plan = plan_of(&[point]);
    let mut all = deciding(&plan, inspection, &assess(&plan, inspection), Us);
    assert_eq!(all.len(), 1, "{all:?}");
    all.remove(0)
}

fn lockup(entry: &str) -> Inspection {
    inspection_of(&format!("travel_trailer fitted gas\nlockup pressure = {entry} ; photo"))
}

/// The verdict of the lock-up with this entry.
fn verdict(entry: &str) -> Verdict {
    let assessment = assess(&plan_of(&[LOCKUP]), &lockup(entry));
    assessment.points[0].values[0].judgements[0].judgement.verdict
}

#[test]
fn the_uncertainty_that_would_decide_a_reading_does_decide_it() {
    for (entry, decided) in
        [("14.1 inH2O", Verdict::DoesNotConform), ("13.85 inH2O", Verdict::Conforms)]
    {
        let one = only(LOCKUP, &lockup(entry));
        assert_eq!(one.verdict, decided);
        assert!(one.better.is_none());
        let needed = one.needed_in_words().unwrap();
        // What is written decides; a little more does not. A person types the standard uncertainty, half of it.
        let number = entry.trim_end_matches(" inH2O");
        let half = needed.trim_end_matches(" inH2O").parse::<f64>().unwrap() / 2.0;
        assert_eq!(verdict(&format!("{number} ± {half} inH2O")), decided, "{needed}");
        let more = half * 1.08;
        assert_eq!(verdict(&format!("{number} ± {more} inH2O")), Verdict::Undecided, "{more}");
    }
    let one = only(LOCKUP, &lockup("14.1 inH2O"));
    assert_eq!(
        one.sentence,
        "Lock-up pressure: 14.10 inH2O ± 0.20 inH2O against at most 14 inH2O; known to ± 0.099 inH2O or better it would not \
         conform (now ± 0.20 inH2O)"
    );
}

#[test]
fn on_the_limit_itself_only_another_value_decides() {
    let one = only(LOCKUP, &lockup("14 inH2O"));
    assert!(one.needed.is_none() && one.needed_in_words().is_none());
    assert!(one.sentence.ends_with("only another value"), "{}", one.sentence);
}

#[test]
fn instruments_of_the_job_that_would_do_are_named_and_others_are_not() {
    let mut inspection = lockup("14.1 inH2O");
    for (id, counts, resolution) in [
        ("fine", 2.0, "0.01 inH2O"),
        ("coarse", 5.0, "0.1 inH2O"),
        ("meter", 1.0, "0.1 V"),
        ("bare", 0.0, ""),
    ] {
        let instrument = Instrument {
            name: format!("the {id} one"),
            counts,
            resolution: resolution.to_owned(),
            ..Instrument::default()
        };
        inspection.instruments.insert(id.into(), instrument);
    }
    let one = only(LOCKUP, &inspection);
    assert_eq!(one.instruments, ["fine".into()]);
    assert!(one.sentence.ends_with("the fine one would do"), "{}", one.sentence);
}

#[test]
fn of_a_computed_value_the_reading_that_counts_most_is_named_and_does_decide() {
    let supply = |loaded: &str| {
        inspection_of(&format!(
            "travel_trailer\nsupply open = 120 V ; current = 12 A ; loaded = {loaded}"
        ))
    };
    let inspection = supply("114.4 V");
    let one = only(&supply_point(), &inspection);
    assert_eq!(one.verdict, Verdict::Conforms);
    let better = one.better.as_ref().unwrap();
    assert_eq!((better.name.as_str(), better.title.as_str()), ("loaded", "Volts under load"));
    assert!(better.needed < better.now);
    let bare = better.needed_in_words();
    let half = bare.trim_end_matches(" V").parse::<f64>().unwrap() / 2.0;
    let plan = plan_of(&[&supply_point()]);
    let verdict = |entry: &str| {
        let assessment = assess(&plan, &supply(entry));
        let drop = assessment.points[0].values.iter().find(|value| value.name == "drop").unwrap();
        drop.judgements[0].judgement.verdict
    };
    assert_eq!(verdict("114.4 V"), Verdict::Undecided);
    assert_eq!(verdict(&format!("114.4 V ± {half} V")), Verdict::Conforms, "{bare}");
    // Where the other reading alone is too uncertain, no better one is promised.
    let near = only(&supply_point(), &supply("114.05 V"));
    assert!(near.needed.is_some() && near.better.is_none(), "{near:?}");
}

#[test]
fn every_gap_says_where_to_go() {
    let mut inspection = lockup("14.1 inH2O");
    inspection.photos.insert(
        PhotoId("p".repeat(64)),
        Photo { file_name: "a.jpg".to_owned(), ..Photo::default() },
    );
    let shown = PhotoId("q".repeat(64));
    inspection.photos.insert(shown.clone(), Photo::default());
    let own = RecordedFinding { photos: vec![shown], ..RecordedFinding::blank("", None) };
    inspection.findings.insert("f1".into(), own);
    inspection.findings.insert("f2".into(), RecordedFinding::blank("", None));
    let missing = assess(&plan_of(&[LOCKUP]), &inspection).missing;
    let about = |gap| {
        missing
            .iter()
            .filter(|one| one.what == gap)
            .map(|one| one.about.clone())
            .collect::<Vec<_>>()
    };
    let value = About::Value {
        name: "pressure".to_owned(),
        position: String::new(),
        limit: "ceiling".to_owned(),
    };
    assert_eq!(about(Gap::Undecided), [value]);
    assert_eq!(about(Gap::NoEvidence), [About::Finding("f2".to_owned())]);
    // A photo that a finding shows is placed well enough.
    assert_eq!(about(Gap::PhotoNotPlaced), [About::Photo(PhotoId("p".repeat(64)))]);
}
