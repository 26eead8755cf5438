//! What people decide stands over what was drafted.

use findings::assess;
use inspection::{FindingId, FindingState, Inspection, RecordedFinding, Use};
use testkit::{inspection_of, plan_of};

const STEP: &str = r#"id = "step"
title = "Step"
stop = "outside"
minutes = 2
look = ["The step."]
essential = ["stay"]
[[defect]]
id = "loose"
title = "Loose step"
statement = "The step is loose."
stops = ["stay"]
when = "before use"
who = "dealer"
[[example]]
found = ["loose"]
stops = ["stay"]
"#;

fn decided(draft: Option<&str>, state: FindingState) -> Inspection {
    let mut inspection = inspection_of("travel_trailer\nstep found loose; photo");
    let recorded = RecordedFinding {
        point: Some("step".into()),
        draft: draft.map(str::to_owned),
        title: "Loose step, one bolt".to_owned(),
        state,
        ..RecordedFinding::blank("", None)
    };
    inspection.findings.insert(FindingId::from("f1"), recorded);
    inspection
}

#[test]
fn a_confirmed_draft_keeps_what_the_person_left_empty() {
    let inspection = decided(Some("step/loose"), FindingState::Confirmed);
    let assessment = assess(&plan_of(&[STEP]), &inspection);
    assert_eq!(assessment.findings.len(), 1);
    let finding = &assessment.findings[0];
    assert!(finding.confirmed);
    assert_eq!(finding.title, "Loose step, one bolt");
    assert_eq!(finding.statement, "The step is loose.");
    assert_eq!(finding.who, "dealer");
    assert!(finding.stops.is_empty());
    assert!(assessment.uses.iter().all(|one| one.held_by.is_empty()));
}

#[test]
fn a_withdrawn_draft_is_gone_and_a_persons_own_finding_is_added() {
    let withdrawn = FindingState::Withdrawn { reason: "tightened on the spot".to_owned() };
    let plan = plan_of(&[STEP]);
    assert!(assess(&plan, &decided(Some("step/loose"), withdrawn)).findings.is_empty());
    let added = assess(&plan, &decided(None, FindingState::Draft));
    assert_eq!(added.findings.len(), 2);
    // What stops a use comes first.
    assert_eq!(added.findings[0].stops, [Use::Stay]);
    assert_eq!(added.findings[1].key, "f1");
}
