//! Readings become values, values meet limits, limits draft findings.

use findings::{Content, Gap, Ground, assess};
use limit::{DecisionRule, Verdict};
use testkit::{LOCKUP, inspection_of, plan_of};

fn verdict(text: &str) -> Verdict {
    let assessment = assess(&plan_of(&[LOCKUP]), &inspection_of(text));
    assessment.points[0].values[0].judgements[0].judgement.verdict
}

#[test]
fn the_usual_uncertainty_decides_where_no_instrument_is_named() {
    for (reading, expected) in [
        ("13.7 inH2O", Verdict::Conforms),
        ("13.9 inH2O", Verdict::Undecided),
        ("14.1 inH2O", Verdict::Undecided),
        ("14.3 inH2O", Verdict::DoesNotConform),
        ("3.6 kPa", Verdict::DoesNotConform),
        ("14.1 inH2O ± 0.01", Verdict::DoesNotConform),
    ] {
        let text = format!("travel_trailer fitted gas\nlockup pressure = {reading}");
        assert_eq!(verdict(&text), expected, "{reading}");
    }
}

const RATED: &str = r#"id = "load"
title = "Load"
stop = "outside"
minutes = 2
measure = ["Weight."]
[[reading]]
id = "weight"
title = "Weight"
kind = "mass"
unit = "lb"
u = "20 lb"
[[reading]]
id = "plate"
title = "Rating on the plate"
kind = "mass"
unit = "lb"
u = "50 lb"
[[reading]]
id = "share"
title = "Share that it may carry"
kind = "ratio"
unit = "%"
u = "1 %"
[[derive]]
id = "carried"
title = "Share carried"
formula = "weights.tongue_percent"
unit = "%"
from = { tongue = "weight", gross = "plate" }
[[limit]]
id = "rating"
on = "weight"
at_most = "from plate"
source = "code"
section = "1"
basis = "law"
footing = "in_use"
read = "2026-11-25"
defect = "over"
[[limit]]
id = "allowed"
on = "share"
at_least = "from carried"
source = "code"
section = "1"
basis = "law"
footing = "in_use"
read = "2026-11-25"
defect = "over"
[[defect]]
id = "over"
title = "Too heavy"
statement = "It weighs {weight}; the plate says {plate}."
stops = []
when = "soon"
who = "repair shop"
[[example]]
given = { weight = "900 lb", plate = "1000 lb" }
verdicts = { rating = "conforms" }
"#;

/// A plate says what it says; a computed bound is as uncertain as what went into it. 955 lb ± 40 lb is within 1000 lb, and
/// would not be told from 1000 lb ± 100 lb. 99 % ± 2 % is told from 95.5 % alone, and not from 95.5 % ± 10 %.
#[test]
fn a_bound_that_was_read_is_exact_and_one_that_was_computed_is_not() {
    let inspection = inspection_of(
        "travel_trailer\nload weight = 955 lb\nload plate = 1000 lb\nload share = 99 %",
    );
    let assessment = assess(&plan_of(&[RATED]), &inspection);
    let judged = |name: &str| {
        let value = assessment.points[0].values.iter().find(|value| value.name == name).unwrap();
        value.judgements[0].judgement.verdict
    };
    assert_eq!(judged("weight"), Verdict::Conforms);
    assert_eq!(judged("share"), Verdict::Undecided);
}

#[test]
fn a_broken_limit_drafts_its_defect_with_the_figures() {
    let inspection =
        inspection_of("travel_trailer fitted gas\nlockup pressure = 15.2 inH2O ; photo");
    let assessment = assess(&plan_of(&[LOCKUP]), &inspection);
    let finding = &assessment.findings[0];
    assert_eq!(finding.key, "lockup/high");
    assert_eq!(finding.ground, Ground::Limit);
    assert_eq!(
        finding.statement,
        "It rose to 15.20 inH2O ± 0.20 inH2O; the limit is at most 14 inH2O."
    );
    assert_eq!((finding.readings.len(), finding.photos.len()), (1, 1));
    assert!(assessment.missing.is_empty(), "{:?}", assessment.missing);
}

#[test]
fn an_undecided_verdict_asks_for_a_better_reading_and_holds_nothing() {
    let inspection =
        inspection_of("travel_trailer fitted gas\nlockup pressure = 14.1 inH2O ; photo");
    let assessment = assess(&plan_of(&[LOCKUP]), &inspection);
    assert_eq!(assessment.findings[0].ground, Ground::Undecided);
    assert!(
        assessment.findings[0].statement.contains("Measure again"),
        "{:?}",
        assessment.findings
    );
    assert!(assessment.findings[0].stops.is_empty());
    assert!(assessment.missing.iter().any(|gap| gap.what == Gap::Undecided));
}

#[test]
fn a_limit_that_only_informs_never_holds_a_use() {
    let practice = LOCKUP.replace("basis = \"law\"", "basis = \"practice\"");
    let inspection =
        inspection_of("travel_trailer fitted gas\nlockup pressure = 15.2 inH2O ; photo");
    let assessment = assess(&plan_of(&[&practice]), &inspection);
    assert_eq!(assessment.findings[0].ground, Ground::Guidance);
    assert!(assessment.findings[0].stops.is_empty());
    // A stop-work precaution is taken even on guidance, until a person decides.
    let precaution =
        practice.replace("who = \"licensed", "stop_work = \"Shut the gas off.\"\nwho = \"licensed");
    let assessment = assess(&plan_of(&[&precaution]), &inspection);
    assert_eq!(assessment.findings[0].stops.len(), 1);
}

#[test]
fn the_last_of_several_readings_counts_and_struck_ones_do_not() {
    let mut inspection = inspection_of(
        "travel_trailer fitted gas\nlockup pressure = 15.2 inH2O ; pressure = 12.0 inH2O ; photo",
    );
    let plan = plan_of(&[LOCKUP]);
    let assessment = assess(&plan, &inspection);
    assert!(assessment.findings.is_empty());
    assert_eq!(assessment.points[0].values[0].notes, ["read 2 times; the last one counts"]);
    let last = inspection.readings.values_mut().next_back().unwrap();
    last.struck_out = Some(inspection::StruckOut { reason: "slip".to_owned(), by: String::new() });
    assert_eq!(assess(&plan, &inspection).findings.len(), 1);
}

const DROP: &str = r#"id = "share"
title = "Tongue share"
stop = "outside"
minutes = 2
measure = ["Weights."]
[[reading]]
id = "tongue"
title = "Tongue"
kind = "mass"
unit = "lb"
positions = ["first", "second"]
[[reading]]
id = "gross"
title = "Gross"
kind = "mass"
unit = "lb"
positions = ["first", "second"]
optional = true
[[derive]]
id = "percent"
title = "Share"
formula = "weights.tongue_percent"
from = { tongue = "tongue", gross = "gross" }
[[limit]]
id = "band"
on = "percent"
between = ["10 %", "15 %"]
source = "code"
section = "2"
basis = "maker"
footing = "in_use"
read = "2026-11-25"
defect = "off"
[[defect]]
id = "off"
title = "Outside the band"
statement = "At {position} it is {percent}."
stops = ["tow"]
when = "before use"
who = "dealer"
[[example]]
given = { "tongue@first" = "800 lb", "gross@first" = "7000 lb" }
values = { percent = "11.43 %" }
"#;

#[test]
fn values_are_computed_at_each_position_and_merged_into_one_finding() {
    let inspection = inspection_of(
        "travel_trailer\nshare tongue@first = 400 lb; gross@first = 7000 lb; tongue@second = 2000 lb; gross@second = 7000 lb",
    );
    let assessment = assess(&plan_of(&[DROP]), &inspection);
    let shares: Vec<_> =
        assessment.points[0].values.iter().filter(|value| value.name == "percent").collect();
    assert_eq!(shares.len(), 2);
    assert_eq!(shares[0].judgements[0].judgement.rule, DecisionRule::Simple);
    assert_eq!(assessment.findings.len(), 1);
    assert_eq!(assessment.findings[0].position, "first, second");
    assert_eq!(
        assessment.findings[0].statement,
        "At first it is 5.7143 %. At second it is 28.571 %."
    );
}

#[test]
fn a_missing_or_impossible_input_becomes_a_sentence() {
    let plan = plan_of(&[DROP]);
    let half = assess(&plan, &inspection_of("travel_trailer\nshare tongue@first = 400 lb"));
    let content =
        &half.points[0].values.iter().find(|value| value.name == "percent").unwrap().content;
    assert_eq!(*content, Content::None("not computed: Gross was not read".to_owned()));
    let odd = assess(
        &plan,
        &inspection_of("travel_trailer\nshare tongue@first = 9 lb; gross@first = 7 lb"),
    );
    let content =
        &odd.points[0].values.iter().find(|value| value.name == "percent").unwrap().content;
    assert!(
        matches!(content, Content::None(why) if why.contains("heavier than the whole trailer")),
        "{content:?}"
    );
    let unreadable = assess(&plan, &inspection_of("travel_trailer\nshare tongue@first = heavy"));
    assert!(
        unreadable.problems[0].contains("does not begin with a number"),
        "{:?}",
        unreadable.problems
    );
}

#[test]
fn entries_that_belong_nowhere_are_kept_and_said() {
    let inspection = inspection_of(
        "travel_trailer\nlockup pressure = 12 inH2O\nnowhere examined\nshare weight = 3 lb ; found rust",
    );
    let assessment = assess(&plan_of(&[LOCKUP, DROP]), &inspection);
    for part in [
        "Regulator lock-up does not belong to this unit by its kind and equipment",
        "the plan has no point `nowhere`",
        "share has no reading `weight`",
        "Tongue share has no defect `rust`",
    ] {
        assert!(
            assessment.problems.iter().any(|problem| problem.contains(part)),
            "{part}: {:?}",
            assessment.problems
        );
    }
}
