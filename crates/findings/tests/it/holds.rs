//! The five uses: clear, held, open, or not fitted.

use findings::{Gap, UseState, assess};
use inspection::Use;
use testkit::{TAPS, inspection_of, plan_of};

fn water(text: &str) -> UseState {
    let assessment = assess(&plan_of(&[TAPS]), &inspection_of(text));
    assessment
        .uses
        .iter()
        .find(|one| one.which == Use::Water)
        .expect("all five uses are there")
        .state
}

#[test]
fn a_use_is_clear_held_open_or_not_fitted() {
    assert_eq!(water("travel_trailer fitted water\ntaps examined"), UseState::Clear);
    assert_eq!(water("travel_trailer fitted water\ntaps found drip"), UseState::Clear);
    assert_eq!(water("travel_trailer fitted water\ntaps found leak"), UseState::Held);
    assert_eq!(water("travel_trailer fitted water\ntaps not examined: winterised"), UseState::Open);
    assert_eq!(water("travel_trailer fitted water"), UseState::Open);
    assert_eq!(water("travel_trailer fitted water\ntaps not fitted"), UseState::NotFitted);
    assert_eq!(water("travel_trailer"), UseState::NotFitted);
}

#[test]
fn held_says_by_which_findings_and_open_for_which_points() {
    let assessment = assess(
        &plan_of(&[TAPS]),
        &inspection_of("travel_trailer fitted water\ntaps found drip; found leak"),
    );
    let water = assessment.uses.iter().find(|one| one.which == Use::Water).unwrap();
    assert_eq!(assessment.findings[water.held_by[0] - 1].key, "taps/leak");
    let open = assess(&plan_of(&[TAPS]), &inspection_of("travel_trailer fitted water"));
    let water = open.uses.iter().find(|one| one.which == Use::Water).unwrap();
    assert_eq!(water.open_for[0].as_str(), "taps");
}

#[test]
fn what_is_missing_is_said_with_what_closes_it() {
    let gaps = |text: &str| -> Vec<Gap> {
        assess(&plan_of(&[TAPS]), &inspection_of(text)).missing.iter().map(|gap| gap.what).collect()
    };
    assert_eq!(gaps("travel_trailer fitted water"), [Gap::NotSettled]);
    assert_eq!(gaps("travel_trailer fitted water\ntaps not examined:"), [Gap::NoReason]);
    assert_eq!(gaps("travel_trailer fitted water\ntaps not examined: frozen"), []);
    assert_eq!(gaps("travel_trailer fitted water\ntaps found leak"), [Gap::NoEvidence]);
    assert_eq!(gaps("travel_trailer fitted water\ntaps found leak; photo"), []);
}
