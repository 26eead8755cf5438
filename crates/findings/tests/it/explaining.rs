//! A verdict explained: every step with the numbers that the engine used.
#![allow(clippy::unwrap_used, reason = "a helper of tests may stop them")]

use findings::{
    Accuracy, Assessment, Budget, Explanation, Fate, How, NoExplanation, Standing, ValueResult,
    assess, explain, explain_assessed, explanation_in_words, inspection_of_example,
};
use inspection::{FindingState, Inspection, Instrument, RecordedFinding};
use limit::Verdict;
use plan::{Files, Plan};
use quantity::UnitSystem::Us;
use testkit::{inspection_of, plan_of};

use crate::DROP;

/// A supply whose voltage under load is held to three limits.
fn supply_point() -> String {
    [SUPPLY_READ, DROP, SUPPLY_JUDGED].concat()
}

const SUPPLY_READ: &str = r#"id = "supply"
title = "Supply"
stop = "outside"
minutes = 2
measure = ["Voltage."]
fitted = ["mains"]
[[reading]]
id = "open"
title = "Voltage without load"
kind = "voltage"
unit = "V"
u = "1 V"
[[reading]]
id = "loaded"
title = "Voltage under load"
kind = "voltage"
unit = "V"
u = "1 V"
"#;

const SUPPLY_JUDGED: &str = r#"[[limit]]
id = "band"
on = "loaded"
between = ["114 V", "126 V"]
source = "code"
section = "1"
basis = "standard"
footing = "in_use"
read = "2026-11-25"
defect = "low"
[[limit]]
id = "old_units"
on = "loaded"
at_least = "100 V"
source = "code"
section = "2"
basis = "law"
footing = "build"
read = "2026-11-25"
built_before = "2000-01-01"
defect = "low"
[[limit]]
id = "with_gas"
on = "loaded"
at_least = "100 V"
source = "code"
section = "3"
basis = "law"
footing = "build"
read = "no"
fitted = ["gas"]
defect = "low"
[[defect]]
id = "low"
title = "Low voltage"
statement = "{loaded} under load; the limit is {limit}."
stops = ["power"]
when = "before use"
who = "licensed electrician"
[[example]]
given = { loaded = "120 V" }
verdicts = { band = "conforms" }
"#;

/// A supply measured with one meter: 1 % of the reading, two counts of 0.1 V.
fn measured(loaded: &str) -> (Plan, Inspection) {
    let mut inspection = inspection_of(&format!(
        "travel_trailer built 2017-05-01 fitted mains\nsupply open = 121.5 V ; loaded = {loaded} ; current = 12 A"
    ));
    let meter = Instrument {
        name: "the meter".to_owned(),
        percent_of_reading: 1.0,
        counts: 2.0,
        resolution: "0.1 V".to_owned(),
        ..Instrument::default()
    };
    inspection.instruments.insert("meter".into(), meter);
    for reading in inspection.readings.values_mut().filter(|reading| reading.name != "current") {
        reading.instrument = Some("meter".into());
    }
    (plan_of(&[&supply_point()]), inspection)
}

fn explained(loaded: &str, name: &str) -> (Explanation, String) {
    let (plan, inspection) = measured(loaded);
    let explanation = explain(&plan, &inspection, "supply", name, None, Us).unwrap();
    let text = explanation_in_words(&plan, &explanation, Us);
    (explanation, text)
}

/// By hand: 1 % of 119.3 V is 1.193 V, two counts are 0.2 V; (1.393² / 3 + 0.1² / 12)^½ = 0.804 77 V, of
/// which 1.193 / √3 = 0.688 78 V is shared.
#[test]
fn the_spec_sheet_is_explained_with_the_figures_of_a_hand_calculation() {
    let (explanation, text) = explained("119.3 V", "loaded");
    let How::Entered(entered) = &explanation.value.how else { panic!("{explanation:?}") };
    assert!(matches!(entered.accuracy, Accuracy::Sheet(_)));
    let findings::Content::Quantity(value) = explanation.value.content else { panic!("{text}") };
    let uncertainty = value.uncertainty.unwrap();
    assert!((uncertainty.standard() - 0.804_767).abs() < 1e-6, "{uncertainty:?}");
    assert!((uncertainty.shared - 0.688_779).abs() < 1e-6, "{uncertainty:?}");
    for part in [
        "typed: `119.3 V`",
        "the spec sheet of the meter, ± (1 % of the reading + 2 counts of 0.1 V)",
        "half-width 1.19 + 0.200 = 1.39 V, a rectangle: / √3 = 0.804",
        "resolution 0.1 V, a rectangle of one digit: / √12 = 0.0289",
        "u = 0.805 V, of which 0.689 V is the gain error",
        "guard band U = 2 u = 1.61 V",
        "verdict: conforms",
        "nothing: no verdict here drafts a finding",
    ] {
        assert!(text.contains(part), "`{part}` is not in\n{text}");
    }
}

/// By hand: the drop is 1 − 117.3/121.5 = 3.457 %. Its slope along the loaded voltage is −1/121.5, along the open
/// one 117.3/121.5²; the gain error is common to both and cancels.
#[test]
fn a_computed_values_uncertainty_is_split_among_its_inputs_and_a_shared_gain_cancels() {
    let (explanation, text) = explained("117.3 V", "drop");
    let How::Computed(computation) = &explanation.value.how else { panic!("{explanation:?}") };
    let Budget::FirstOrder { parts, standard } = &computation.budget else { panic!("{text}") };
    let own = |volts: f64| {
        let gain = 0.01 * volts;
        let half_width = gain + 0.2;
        ((half_width * half_width - gain * gain) / 3.0 + 0.01 / 12.0).sqrt()
    };
    let from_loaded = own(117.3) / 121.5;
    let from_open = own(121.5) * 117.3 / (121.5 * 121.5);
    let part = |input: &str| {
        parts.iter().find(|part| part.inputs == [input] && part.shared_by.is_none()).unwrap()
    };
    assert!((part("loaded").standard - from_loaded).abs() < 1e-6, "{parts:?}");
    assert!((part("open").standard - from_open).abs() < 1e-6, "{parts:?}");
    let shared = parts.iter().find(|part| part.shared_by.is_some()).unwrap();
    assert_eq!(shared.inputs, ["loaded", "open"]);
    assert!(shared.standard < 1e-5, "{shared:?}");
    let want = (from_loaded * from_loaded + from_open * from_open).sqrt();
    assert!((standard - want).abs() < 1e-6, "{standard} {want}");
    assert!((parts.iter().map(|part| part.share).sum::<f64>() - 1.0).abs() < 1e-12);
    assert_eq!(computation.inputs.len(), 3);
    assert!(text.contains("the gain error of meter that they share"), "{text}");
    assert!(text.contains("typed: `117.3 V`"), "the inputs are explained too:\n{text}");
}

#[test]
fn what_the_limits_ask_for_and_the_unit_is_not_is_said() {
    let (explanation, text) = explained("119.3 V", "loaded");
    let fates: Vec<bool> =
        explanation.limits.iter().map(|step| matches!(step.fate, Fate::Judged(_))).collect();
    assert_eq!(fates, [true, false, false]);
    assert!(text.contains("built before 2000-01-01; this one was built on 2017-05-01"), "{text}");
    assert!(text.contains("it is for units with gas, which this one has not"), "{text}");
}

#[test]
fn a_broken_limit_leads_to_its_sentence_and_the_uses_it_stops() {
    let (explanation, text) = explained("110.0 V", "loaded");
    let consequence = explanation.limits[0].consequence.as_ref().unwrap();
    assert_eq!(consequence.key, "supply/low");
    assert!(matches!(&consequence.standing, Standing::Stands { number: 1, confirmed: false, .. }));
    assert!(text.contains("verdict: does not conform"), "{text}");
    assert!(text.contains("under load; the limit is 114 V to 126 V."), "{text}");
    assert!(text.contains("as finding 1, not confirmed yet; it stops power"), "{text}");
}

#[test]
fn a_withdrawn_draft_is_explained_with_the_persons_reason() {
    let (plan, mut inspection) = measured("110.0 V");
    let withdrawn = RecordedFinding {
        draft: Some("supply/low".to_owned()),
        state: FindingState::Withdrawn { reason: "the neighbour was welding".to_owned() },
        ..RecordedFinding::blank("", None)
    };
    inspection.findings.insert("f1".into(), withdrawn);
    let explanation = explain(&plan, &inspection, "supply", "loaded", None, Us).unwrap();
    let text = explanation_in_words(&plan, &explanation, Us);
    assert!(text.contains("a person withdrew it: the neighbour was welding"), "{text}");
}

#[test]
fn an_undecided_verdict_shows_its_probability() {
    let (explanation, text) = explained("114.5 V", "loaded");
    let Fate::Judged(judgement) = &explanation.limits[0].fate else { panic!("{text}") };
    assert_eq!(judgement.verdict, Verdict::Undecided);
    // (114.5 − 114) / u with u = ((1.145 + 0.2)² / 3 + 0.1² / 12)^½ = 0.777 07: Φ(0.643 44) = 74.0 %.
    assert!(text.contains("JCGM 106:2012, 7): 74.0 %"), "{text}");
}

#[test]
fn names_that_lead_nowhere_are_answered_with_those_that_would() {
    let (plan, inspection) = measured("119.3 V");
    let refused = |point, name, at| explain(&plan, &inspection, point, name, at, Us).unwrap_err();
    assert_eq!(
        refused("suply", "loaded", None),
        NoExplanation::Point { known: vec!["supply".to_owned()] }
    );
    let NoExplanation::Value { known } = refused("supply", "load", None) else { panic!() };
    assert_eq!(known, ["open", "loaded", "current", "drop"]);
    let NoExplanation::Position { known } = refused("supply", "loaded", Some("galley")) else {
        panic!()
    };
    assert_eq!(known, [""]);
    let empty = inspection_of("travel_trailer fitted mains");
    assert!(matches!(
        explain(&plan, &empty, "supply", "loaded", None, Us),
        Err(NoExplanation::NotRead { .. })
    ));
    let none = inspection_of("travel_trailer fitted gas");
    assert!(matches!(
        explain(&plan, &none, "supply", "loaded", None, Us),
        Err(NoExplanation::NotOnUnit { .. })
    ));
}

/// Every value of every worked example of the shipped data: what the explanation judges is what the assessment judges.
#[test]
fn an_explanation_judges_as_the_assessment_does() {
    let library = plan::load(&Files::embedded()).unwrap();
    let mut compared = 0;
    for (id, _) in library.plans() {
        let plan = library.plan(id).unwrap();
        for point in &plan.points {
            for example in &point.examples {
                let inspection = inspection_of_example(point, example);
                compared += compare(&plan, &inspection, &assess(&plan, &inspection));
            }
        }
    }
    assert!(compared > 200, "{compared}");
}

/// Compares every value; the number of judgements that were.
fn compare(plan: &Plan, inspection: &Inspection, assessment: &Assessment) -> usize {
    let mut compared = 0;
    for result in &assessment.points {
        for value in &result.values {
            let at = Some(value.position.as_str());
            let point = result.point.as_str();
            let explanation =
                explain_assessed(plan, inspection, assessment, point, &value.name, at, Us)
                    .unwrap_or_else(|why| panic!("{point}/{}: {why:?}", value.name));
            assert_eq!(explanation.value.content, value.content, "{point}/{}", value.name);
            assert_eq!(judged(&explanation), judged_in(value), "{point}/{}", value.name);
            compared += value.judgements.len();
            let text = explanation_in_words(plan, &explanation, Us);
            assert!(!text.contains("NaN"), "{text}");
            carries_its_uncertainty(&explanation);
        }
    }
    compared
}

/// The budget's sum is the uncertainty that was judged.
fn carries_its_uncertainty(explanation: &Explanation) {
    let findings::Content::Quantity(value) = &explanation.value.content else { return };
    let How::Computed(computation) = &explanation.value.how else { return };
    let judged = value.standard_uncertainty().unwrap_or(0.0);
    match &computation.budget {
        Budget::FirstOrder { standard, .. } => {
            assert!((standard - judged).abs() <= 1e-12 * judged, "{explanation:?}");
        }
        Budget::Simulated { simulated, .. } => {
            assert!((simulated.standard - judged).abs() <= 1e-12 * judged, "{explanation:?}");
        }
        Budget::Nothing | Budget::Untold => {
            assert!(judged <= 0.0, "{explanation:?}");
        }
    }
}

fn judged(explanation: &Explanation) -> Vec<(String, Verdict)> {
    let judged = explanation.limits.iter().filter_map(|step| match &step.fate {
        Fate::Judged(judgement) => Some((step.limit.id.clone(), judgement.verdict)),
        Fate::NotHeld(_) => None,
    });
    judged.collect()
}

fn judged_in(value: &ValueResult) -> Vec<(String, Verdict)> {
    value.judgements.iter().map(|one| (one.limit.id.clone(), one.judgement.verdict)).collect()
}
