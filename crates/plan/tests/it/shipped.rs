//! What the shipped data holds.

use std::collections::BTreeSet;

use inspection::{DwellingKind, Use};
use plan::{Files, load};

#[test]
fn every_source_is_used_by_some_limit() {
    let library = load(&Files::embedded()).unwrap();
    let plan = library.plan("purchase").unwrap();
    let used: BTreeSet<&str> = plan.sources.iter().map(|source| source.key.as_str()).collect();
    let text = Files::embedded().text("sources.toml").unwrap().to_owned();
    let defined = text.lines().filter_map(|line| line.strip_prefix("key = \"")?.strip_suffix('"'));
    let unused: Vec<&str> = defined.filter(|key| !used.contains(key)).collect();
    assert!(unused.is_empty(), "no limit refers to {unused:?}");
}

#[test]
fn the_purchase_plan_covers_every_system_with_at_least_sixty_points() {
    let plan = load(&Files::embedded()).unwrap().plan("purchase").unwrap();
    assert!(plan.points.len() >= 60, "{}", plan.points.len());
    let systems: BTreeSet<&str> = plan.points.iter().map(|point| point.system.as_str()).collect();
    for system in [
        "papers",
        "site",
        "coupling",
        "running_gear",
        "shell",
        "openings",
        "awnings_slides",
        "gas",
        "mains",
        "battery_sun",
        "water",
        "waste",
        "hot_water",
        "climate",
        "kitchen",
        "interior",
        "life_safety",
    ] {
        assert!(systems.contains(system), "no point of {system}");
    }
}

#[test]
fn every_kind_of_unit_has_essential_points_for_its_uses() {
    let library = load(&Files::embedded()).unwrap();
    let plan = library.plan("purchase").unwrap();
    let everything: BTreeSet<String> =
        plan.equipment.iter().map(|word| word.id.clone()).filter(|id| id != "winterised").collect();
    for kind in DwellingKind::ALL {
        for which in Use::ALL {
            let any =
                plan.points_for(kind, &everything).any(|point| point.essential.contains(&which));
            assert!(any, "{} has no essential point for {}", kind.word(), which.word());
        }
    }
}

#[test]
fn what_must_come_first_comes_first_within_a_stop() {
    let plan = load(&Files::embedded()).unwrap().plan("purchase").unwrap();
    for (at, point) in plan.points.iter().enumerate() {
        for earlier in &point.after {
            let before = plan.points.iter().position(|other| other.id == *earlier);
            if let Some(before) = before.filter(|before| plan.points[*before].stop == point.stop) {
                assert!(before < at, "{} comes before {earlier}", point.id);
            }
        }
    }
}

/// Between a visit as it usually is, two to four hours by common practice, and that with everything weighed and
/// measured.
#[test]
fn all_points_of_a_usual_unit_take_hours_and_no_day() {
    let library = load(&Files::embedded()).unwrap();
    let plan = library.plan("purchase").unwrap();
    for kind in DwellingKind::ALL {
        let typical = library.typical(kind);
        let points = plan.points_for(kind, &typical);
        let time: plan::HalfMinutes = points.map(|point| point.minutes).sum();
        let hours = time.to_minutes() / 60.0;
        println!("{}: {hours:.1} h", kind.word());
        assert!((2.0..=5.0).contains(&hours), "{}: {hours:.1} h", kind.word());
    }
}
