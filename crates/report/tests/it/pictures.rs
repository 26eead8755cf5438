//! The pictures of values: which the report shows, from the readings to the tagged page.

use findings::assess;
use inspection::Inspection;
use quantity::UnitSystem;
use report::content::{Content, Picture};
use report::drawing::{Drawn, picture};
use report::{Options, Release, compose, typeset};
use testkit::inspection_of;

use crate::tools::File;

/// A trailer that was weighed, levelled and tried with water, as a visit would leave it.
const TRAILER: &str = "travel_trailer built 2017-03-01 visited 2026-06-12 fitted wheels coupling water
load_labels gross_rating = 7600 lb ; axle_rating = 4400 lb
tongue_weight alone_front = 2940 lb ; alone_rear = 2480 lb ; coupled_front = 2740 lb ; coupled_rear = 3300 lb ; gross = 6180 lb
wheel_loads axle@front = 2760 lb ; axle@rear = 4600 lb ; load@left_front = 1360 lb ; load@right_front = 1400 lb
tyre_loads sidewall_load@left_front = 2540 lb ; sidewall_load@right_front = 2540 lb
frame_rails at@1 = 0 ft ; at@2 = 10 ft ; at@3 = 20 ft ; gap@1 = 2 in ; gap@2 = 1.6 in ; gap@3 = 2 in
level_of_unit place_along@nose = 0 ft ; place_along@tail = 22 ft ; place_along@door = 10 ft ; place_across@nose = 0 ft ; place_across@tail = 0 ft ; place_across@door = 7 ft ; height@nose = 0 in ; height@tail = -0.9 in ; height@door = 0.4 in
tank_level_sensors shown@grey = 67 % ; contents@grey = 0 gal ; tank@grey = 37 gal
water_pressure static = 52 psi ; flowing = 38 psi ; setting = 50 psi
water_flow filled@galley = 1 gal ; time@galley = 36 s ; fixture@galley = kitchen_sink";

const HOME: &str = "manufactured_home built 1998-03-01 visited 2026-06-12 fitted piers
piers roof_load = 20 psf ; eave = 12 in ; spacing@left 1 = 8 ft ; spacing@left 2 = 8 ft ; rated@left 1 = 8000 lbf ; rated@left 2 = 5000 lbf
footings soil = 1500 psf ; width@left 1 = 24 in ; length@left 1 = 24 in ; thickness@left 1 = 4 in
pier_levels left_rail@1 = 0 in ; left_rail@2 = -0.45 in ; left_rail@3 = -0.55 in";

fn content(inspection: &Inspection, units: UnitSystem) -> Content {
    let plan = plan::load(&plan::Files::embedded()).unwrap().plan("purchase").unwrap();
    let assessment = assess(&plan, inspection);
    let options = Options { units, ..Options::default() };
    compose(&plan, inspection, &assessment, &Release::default(), options)
}

fn trailer() -> Inspection {
    inspection_of(TRAILER)
}

fn home() -> Inspection {
    let mut home = inspection_of(HOME);
    home.dwelling.outline.width = "15 ft".into();
    home.dwelling.outline.length = "60 ft".into();
    home
}

fn shown<'a>(content: &'a Content, kind: &str) -> Option<&'a Picture> {
    content.pictures.iter().find(|picture| picture.kind == kind)
}

fn drawn(content: &Content, kind: &str) -> Drawn {
    let shown = shown(content, kind).unwrap_or_else(|| panic!("no picture of kind {kind}"));
    picture(shown, &content.unit, &content.drawn).unwrap_or_else(|| panic!("{kind} was not drawn"))
}

#[test]
fn readings_become_pictures_with_their_verdicts() {
    let content = content(&trailer(), UnitSystem::Us);
    assert_eq!(content.problems(), []);
    for (kind, words) in [
        ("loads", "whole unit 6180 lb of 7600 lb"),
        ("loads", "1420 lb left"),
        ("loads", "rear axle 4600 lb of 4400 lb (does not conform), 200 lb over"),
        ("loads", "limits 10"),
        ("levels", "2 door at 10.00 ft along and 7.00 ft across: 0.40 in"),
        ("rail", "at 10 ft 1.6"),
        ("tanks", "grey: truly"),
        ("tanks", "(beyond what informs) off"),
        ("water_flow", "standing 52"),
        ("water_flow", "regulator set to 50"),
        ("water_flow", "galley 1.667 gpm"),
        ("water_flow", "sized for 1.75 gpm"),
    ] {
        let alt = drawn(&content, kind).alt;
        assert!(alt.contains(words), "{kind}: {words} in {alt}");
    }
}

#[test]
fn piers_of_a_home_are_shown_with_what_bears_them() {
    let content = content(&home(), UnitSystem::Us);
    let piers = drawn(&content, "piers").alt;
    assert!(piers.contains("left 1 carries 5500 lbf (conforms), rated 8000 lbf"), "{piers}");
    assert!(
        piers.contains("left 2 carries 5500 lbf (does not conform), rated 5000 lbf"),
        "{piers}"
    );
    assert!(piers.contains("which bears 1500 psf"), "{piers}");
    let rail = drawn(&content, "rail").alt;
    assert!(rail.contains("largest step between neighbours 0.45"), "{rail}");
    assert!(rail.contains("(does not conform)"), "{rail}");
}

#[test]
fn the_same_visit_in_metric_units_is_drawn_to_the_same_shape() {
    let metric = content(&trailer(), UnitSystem::Si);
    let us = content(&trailer(), UnitSystem::Us);
    for kind in ["loads", "levels", "rail", "tanks", "water_flow"] {
        let words = drawn(&metric, kind).alt;
        let mut said = words.split(|it: char| !it.is_alphanumeric());
        let unit = said.find(|word| ["lb", "ft", "in", "psi", "gal", "gpm"].contains(word));
        assert_eq!(unit, None, "{words}");
    }
    // Shares of the rating have no unit: their bars are the same bars.
    let bars = |content: &Content| -> Vec<String> {
        let svg = drawn(content, "loads").svg;
        svg.split("<rect").filter(|it| it.contains("height=\"7\"")).map(str::to_owned).collect()
    };
    assert!(bars(&us).len() >= 5, "{}", bars(&us).len());
    let widths = |bars: Vec<String>| -> Vec<f64> {
        let width = |bar: &String| bar.split("width=\"").nth(1)?.split('"').next()?.parse().ok();
        bars.iter().filter_map(width).collect()
    };
    for (one, other) in widths(bars(&us)).into_iter().zip(widths(bars(&metric))) {
        assert!((one - other).abs() < 0.02, "{one} {other}");
    }
}

#[test]
fn a_picture_without_what_it_needs_is_left_out() {
    let complete = trailer();
    for (kind, point, name) in [
        ("loads", "tongue_weight", "gross"),
        ("levels", "level_of_unit", "place_across"),
        ("rail", "frame_rails", "gap"),
        ("tanks", "tank_level_sensors", "contents"),
        ("water_flow", "water_pressure", "static"),
    ] {
        assert!(shown(&content(&complete, UnitSystem::Us), kind).is_some(), "{kind}");
        let mut without = complete.clone();
        without
            .readings
            .retain(|_, reading| reading.point.as_str() != point || reading.name != name);
        let content = content(&without, UnitSystem::Us);
        assert!(shown(&content, kind).is_none(), "{kind} without {point}.{name}");
    }
    let nothing = inspection_of("travel_trailer built 2017-03-01 visited 2026-06-12 fitted water");
    assert_eq!(content(&nothing, UnitSystem::Us).pictures, []);
}

#[test]
fn what_is_too_little_to_draw_leaves_the_page_and_its_readings() {
    // Two places fix no plane: the values are complete, the picture is not drawn.
    let mut two = trailer();
    two.readings.retain(|_, reading| reading.position != "door");
    let content = content(&two, UnitSystem::Us);
    assert!(picture(shown(&content, "levels").unwrap(), &content.unit, &content.drawn).is_none());
    let text =
        File::new(&typeset(&content, crate::sample::RECORD, &|_| None, &|_| {}).unwrap().pdf)
            .text();
    assert!(!text.contains("Level of the floor"), "the picture's heading stands without it");
    assert!(text.contains("Place along the unit"), "{text}");
}

#[test]
fn each_picture_is_a_tagged_figure_that_says_what_it_shows() {
    let content = content(&trailer(), UnitSystem::Us);
    let typeset = typeset(&content, crate::sample::RECORD, &|_| None, &|_| {}).unwrap();
    assert_eq!(typeset.remarks, Vec::<String>::new());
    let file = File::new(&typeset.pdf);
    file.assert_sound();
    let (json, read) = file.ask("qpdf", &["--json=1", "--json-key=objects"], &[]);
    assert!(read);
    let value: serde_json::Value = serde_json::from_str(&json).unwrap();
    let objects = value["objects"].as_object().unwrap();
    let told: Vec<&str> = objects
        .values()
        .filter(|object| object["/S"] == "/Figure")
        .filter_map(|figure| figure["/Alt"].as_str())
        .collect();
    let text = file.text().split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(content.pictures.len() >= 5, "{} pictures", content.pictures.len());
    for shown in &content.pictures {
        let alt = picture(shown, &content.unit, &content.drawn).unwrap().alt;
        assert!(told.iter().any(|told| told.contains(&alt)), "{alt} in {told:?}");
        assert!(text.contains(&shown.title), "{}", shown.title);
    }
}
