//! What an inspector mistypes on a visit gets one sentence: what, where, and what is accepted.

use crate::program::Nearside;

/// Asks for a formula that must be refused as an input error; the one line that it says.
fn refused(arguments: &[&str]) -> String {
    let run = Nearside::new().run(&[&["formula"], arguments].concat());
    assert_eq!(run.status, 2, "{run:?}");
    assert_eq!(run.out, "", "nothing is printed as if it were valid");
    assert_eq!(run.err.lines().count(), 1, "{}", run.err);
    run.err
}

#[test]
fn letters_that_stand_in_no_identification_number_are_named_with_their_position() {
    for (number, words) in [
        (
            "1G4AH59H45G11834O",
            "position 17 is the letter O, which never stands in a number; it looks like 0",
        ),
        (
            "IG4AH59H45G118341",
            "position 1 is the letter I, which never stands in a number; it looks like 1",
        ),
        ("1G4AH59H45GQ18341", "position 12 is the letter Q"),
    ] {
        let said = refused(&["identity.check_vin", &format!("number={number}")]);
        assert!(said.starts_with("error: number: ") && said.contains(words), "{said}");
        assert!(said.contains("accepted: A to Z without I, O and Q"), "{said}");
    }
}

#[test]
fn a_number_of_sixteen_characters_says_how_many_there_are_and_should_be() {
    for formula in ["identity.check_vin", "identity.repair_vin"] {
        let said = refused(&[formula, "number=1G4AH59H45G11834"]);
        assert!(said.contains("number: has 16 characters; accepted: 17"), "{said}");
    }
}

#[test]
fn a_week_that_does_not_exist_says_which_weeks_do() {
    for code in ["5421", "5324", "0021"] {
        let said = refused(&["tyres.date_code", &format!("code={code}"), "on=2026-06-12"]);
        assert!(said.contains(&format!("code: {code} names a week that does not exist")), "{said}");
        assert!(said.contains("accepted: 01 to 52, and 53"), "{said}");
    }
}

#[test]
fn a_negative_weight_says_what_is_possible() {
    let said = refused(&["weights.tongue_percent", "tongue=-800 lb", "gross=7000 lb"]);
    assert!(said.contains("tongue: -800 lb is not possible; accepted: at least 0 lb"), "{said}");
    let said = refused(&["weights.side_imbalance", "left=3300 lb", "right=-1 lb"]);
    assert!(said.contains("right: -1 lb is not possible"), "{said}");
}

#[test]
fn a_tongue_heavier_than_its_trailer_is_refused() {
    let said = refused(&["weights.tongue_percent", "tongue=7100 lb", "gross=7000 lb"]);
    assert!(said.contains("tongue: is heavier than the whole trailer; accepted"), "{said}");
    // Weighed: the tow vehicle came out lighter coupled than alone.
    let said = refused(&[
        "weights.tongue",
        "alone_front=3000 lb",
        "alone_rear=2400 lb",
        "coupled_front=2700 lb",
        "coupled_rear=2600 lb",
    ]);
    assert!(said.contains("negative tongue weight") && said.contains("re-weigh"), "{said}");
}

#[test]
fn level_points_on_one_line_fix_no_plane() {
    let said = refused(&["support.plane", "x=0, 10, 20 ft", "y=0, 4, 8 ft", "z=0, 1, 3 in"]);
    assert!(said.contains("on one line"), "{said}");
    let said = refused(&["support.plane", "x=0, 10 ft", "y=0, 4 ft", "z=0, 1 in"]);
    assert!(said.contains("three or more"), "{said}");
}

#[test]
fn a_device_from_the_future_is_read_again() {
    let said =
        refused(&["life_safety.alarm_life", "device=smoke_alarm", "made=2027-01", "on=2026-06-12"]);
    assert!(said.contains("made: 2027-01 lies after the day of the inspection"), "{said}");
}

/// Possible, but nothing can be said of it: status 3 and no number.
#[test]
fn what_lies_outside_a_table_has_another_status() {
    for arguments in [
        ["formula", "tyres.load_index", "index=120"],
        ["formula", "support.soil_bearing", "blows=5"],
    ] {
        let run = Nearside::new().run(&arguments);
        assert_eq!((run.status, run.out.as_str()), (3, ""), "{run:?}");
        assert_eq!(run.err.lines().count(), 1, "{}", run.err);
    }
}
