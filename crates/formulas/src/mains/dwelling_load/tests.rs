//! Published load calculations, worked again.

use quantity::{Power, Quantity};

use super::range_demand;
use crate::tests::{call, check, check_part, part_of, refuses};
use crate::{Output, Problem};

const NAME: &str = "mains.dwelling_load";

fn home<'a>(length: &'a str, laundry: &'a str, voltage: &'a str) -> Vec<(&'static str, &'a str)> {
    vec![
        ("length", length),
        ("width", "10 ft"),
        ("small_appliance_circuits", "2"),
        ("laundry", laundry),
        ("first_leg", "200 VA"),
        ("second_leg", "400 VA"),
        ("both_legs", "1000 VA"),
        ("largest_motor", "200 VA"),
        ("range", "7000 W"),
        ("voltage", voltage),
    ]
}

/// NFPA 70, Annex D: example D11 (mobile home), the same without laundry, D12 (park trailer), and the
/// example of 675 IAC 15-2-100 at 115/230 V; each worked again from the method.
#[test]
fn published_homes_come_to_their_printed_loads() {
    for (length, laundry, voltage, demand, first, second, rounded) in [
        ("70 ft", "yes", "120 V", 17.75 * 240.0, 47.333, 48.583, Some((47.0, 48.0))),
        ("70 ft", "no", "120 V", 15.562_5 * 240.0, 45.146, 46.396, Some((45.0, 46.0))),
        ("70 ft", "0", "115 V", 3_735.0, 47.109, 48.413, None),
        ("40 ft", "1", "120 V", 16.437_5 * 240.0, 46.021, 47.271, Some((45.0, 46.0))),
    ] {
        let pairs = home(length, laundry, voltage);
        check_part(NAME, &pairs, "general_demand", demand, "VA", 1e-6);
        check_part(NAME, &pairs, "first_leg", first, "A", 6e-4);
        check_part(NAME, &pairs, "second_leg", second, "A", 6e-4);
        check(NAME, &pairs, second, "A", 6e-4);
        if let Some((first, second)) = rounded {
            check_part(NAME, &pairs, "first_leg_rounded", first, "A", 1e-9);
            check_part(NAME, &pairs, "second_leg_rounded", second, "A", 1e-9);
        }
        let outcome = call(NAME, &pairs).unwrap();
        assert_eq!(*part_of(&outcome, "supply"), Output::words("50 A"));
    }
    let d11 = home("70 ft", "yes", "120 V");
    check_part(NAME, &d11, "general_load", 6_600.0, "VA", 1e-6);
    check_part(NAME, &d11, "general_demand", 4_260.0, "VA", 1e-6);
    check_part(NAME, &d11, "range_demand", 5_600.0, "VA", 1e-6);
}

/// NFPA 70 (2005 and 2017), Annex D, example D1(a): 1500 ft², a 12 kW range and a 5500 VA dryer; 18,600 VA,
/// 77.5 A and 78 A; neutral 14,550 VA, 60.6 A and 61 A.
#[test]
fn the_dwelling_of_example_d1_comes_to_its_printed_figures() {
    let pairs = [
        ("length", "50 ft"),
        ("width", "30 ft"),
        ("small_appliance_circuits", "2"),
        ("laundry", "yes"),
        ("appliances", "5500 VA"),
        ("dryer", "5500 VA"),
        ("range", "12 kW"),
    ];
    check(NAME, &pairs, 77.5, "A", 1e-9);
    check_part(NAME, &pairs, "heavier_leg_whole", 78.0, "A", 1e-9);
    check_part(NAME, &pairs, "total", 18_600.0, "VA", 1e-6);
    check_part(NAME, &pairs, "neutral", 14_550.0 / 240.0, "A", 1e-9);
    check_part(NAME, &pairs, "neutral_whole", 61.0, "A", 1e-9);
    check_part(NAME, &pairs, "general_load", 9_000.0, "VA", 1e-6);
    check_part(NAME, &pairs, "general_demand", 5_100.0, "VA", 1e-6);
    check_part(NAME, &pairs, "range_demand", 8_000.0, "VA", 1e-6);
    let outcome = call(NAME, &pairs).unwrap();
    assert_eq!(*part_of(&outcome, "supply"), Output::words("over 50 A"));
}

/// 675 IAC 15-2-100, the steps of the range; they meet at 10,000 W.
#[test]
fn ranges_follow_the_published_steps() {
    for (watts, demand) in [
        (7_000.0, 5_600.0),
        (10_000.0, 8_000.0),
        (10_001.0, 8_000.0),
        (12_500.0, 8_000.0),
        (12_501.0, 8_400.0),
        (14_500.0, 8_800.0),
        (15_500.0, 9_200.0),
        (16_500.0, 9_600.0),
        (17_500.0, 10_000.0),
    ] {
        let got = range_demand(Power::from_base(watts)).unwrap().base();
        assert!((got - demand).abs() < 1e-9, "{watts}: {got}");
    }
    let problem = range_demand(Power::from_base(17_501.0)).unwrap_err();
    assert!(matches!(problem, Problem::OutOfRange { .. }));
}

/// Nameplates in amperes and in volt-amperes mean the same.
#[test]
fn nameplates_may_be_in_amperes() {
    let pairs = [
        ("length", "70 ft"),
        ("width", "10 ft"),
        ("small_appliance_circuits", "2"),
        ("laundry", "yes"),
        ("first_leg", "1.6666666667 A"),
        ("second_leg", "400 VA, 0 A"),
        ("both_legs", "4.1666666667 A"),
        ("largest_motor", "1.6666666667 A"),
        ("range", "7000 W"),
    ];
    check_part(NAME, &pairs, "first_leg", 47.333, "A", 6e-4);
    check_part(NAME, &pairs, "second_leg", 48.583, "A", 6e-4);
}

/// Four appliances of 4800 VA: 75 % of 80 A.
#[test]
fn more_than_three_appliances_count_at_three_quarters() {
    let of = |appliances| {
        [
            ("length", "40 ft"),
            ("width", "10 ft"),
            ("small_appliance_circuits", "2"),
            ("appliances", appliances),
        ]
    };
    let general = (3_000.0 + 0.35 * 1_200.0) / 240.0;
    check(NAME, &of("4800 VA, 4800 VA, 4800 VA"), general + 60.0, "A", 1e-9);
    check(NAME, &of("4800 VA, 4800 VA, 4800 VA, 4800 VA"), general + 60.0, "A", 1e-9);
}

/// D11 without its dishwasher is 45.25 A, 45 A rounded; 2.45 A twice more is 50.15 A, 49 A rounded.
#[test]
fn rounding_that_crosses_the_cord_is_said() {
    let mut pairs = home("70 ft", "yes", "120 V");
    pairs.retain(|(name, _)| *name != "second_leg");
    pairs.push(("second_leg", "2.5 A, 2.5 A"));
    let outcome = call(NAME, &pairs).unwrap();
    let crosses = |notes: &[String]| notes.iter().any(|note| note.contains("crosses 50 A"));
    assert!(!crosses(&outcome.notes), "{outcome:?}");
    pairs.retain(|(name, _)| *name != "second_leg");
    pairs.push(("second_leg", "2.45 A, 2.45 A"));
    let outcome = call(NAME, &pairs).unwrap();
    check(NAME, &pairs, 50.15, "A", 1e-9);
    assert!(crosses(&outcome.notes), "{outcome:?}");
    assert_eq!(*part_of(&outcome, "supply"), Output::words("over 50 A"));
}

#[test]
fn impossible_counts_and_motors_are_input_errors() {
    for (name, text, words) in [
        ("small_appliance_circuits", "1.5", "whole number"),
        ("laundry", "maybe", "accepted: yes, no"),
        ("largest_motor", "333 VA", "stands in no list"),
        ("dryer", "5500 VA", "does not stand among the appliances"),
        ("first_leg", "200 V", "accepted: nameplates in A"),
        ("second_leg", "-4 A", "below zero"),
        ("length", "-70 ft", "more than 0 ft"),
    ] {
        let mut pairs = home("70 ft", "yes", "120 V");
        pairs.retain(|(other, _)| *other != name);
        pairs.push((name, text));
        let problem = refuses(NAME, &pairs, words);
        assert!(matches!(problem, Problem::Input { .. }), "{name}");
    }
    let mut pairs = home("70 ft", "yes", "120 V");
    pairs.retain(|(other, _)| *other != "range");
    pairs.push(("range", "18 kW"));
    assert!(matches!(refuses(NAME, &pairs, "up to 17,500 W"), Problem::OutOfRange { .. }));
}
