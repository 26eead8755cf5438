//! Where dots, ground and words of the map stand.

use std::collections::BTreeMap;

use crate::content::Verdict;

use super::super::checks::{assert_tidy, said, value};
use super::field::lines;
use super::panel::Frame;
use super::*;

fn percent(position: &str, number: f64) -> Shown {
    let verdict = if number > 20.0 { Verdict::BeyondGuidance } else { Verdict::WithinGuidance };
    value(position, number, "%", verdict)
}

fn picture(readings: Vec<Shown>) -> Picture {
    Picture {
        kind: "moisture_map".to_owned(),
        shown: BTreeMap::from([("reading".to_owned(), readings)]),
        ..Picture::default()
    }
}

fn wall() -> Vec<Shown> {
    [
        ("left wall at 0, 0 ft", 10.0),
        ("left wall at 20, 0 ft", 12.0),
        ("left wall at 20, 5 ft", 11.0),
        ("left wall at 0, 5 ft", 9.0),
        ("left wall at 12, 2 ft", 27.0),
        ("left wall at 13, 2 ft", 27.0),
    ]
    .into_iter()
    .map(|(position, number)| percent(position, number))
    .collect()
}

#[test]
fn no_place_of_the_map_lies_outside_the_readings_range() {
    let readings = wall();
    let panels = Panel::all(&readings);
    let panel = &panels[0];
    let frame = Frame::around(&panel.dots, (0.0, 0.0), (500.0, 190.0)).unwrap();
    let surface = panel.surface().unwrap();
    let unit = quantity::units::find("ft").unwrap();
    let hull = [(0.0, 0.0), (20.0, 0.0), (20.0, 5.0), (0.0, 5.0)].map(|(x, y)| frame.place(x, y));
    let lines = lines(&surface, unit, &frame, &hull);
    let values: Vec<f64> =
        lines.iter().flat_map(|line| &line.samples).map(|(_, value)| *value).collect();
    assert!(values.len() > 1_000, "{}", values.len());
    assert!(values.iter().all(|value| (9.0..=27.0).contains(value)));
    assert!(values.iter().any(|value| *value > 26.0), "the wet place is drawn");
}

/// Readings on a triangle: nothing is coloured beyond its corners, and the first path is the hull itself.
#[test]
fn nothing_is_coloured_outside_the_hull_of_the_readings() {
    let drawn = draw(
        &picture(vec![
            percent("roof at 0, 0 m", 10.0),
            percent("roof at 6, 0 m", 24.0),
            percent("roof at 0, 3 m", 13.0),
        ]),
        &Phrases::default(),
    )
    .unwrap();
    let dry = value("", 1.0, "%", Verdict::NoLimit);
    let dots = [(10.0, 0.0, 0.0), (24.0, 6.0, 0.0), (13.0, 0.0, 3.0)]
        .map(|(value, along, up)| panel::Dot { along, up, value, shown: &dry });
    let frame = Frame::around(&dots, (0.0, 0.0), (500.0, 190.0)).unwrap();
    let corner = |along, up| frame.place(along, up);
    let ((left, bottom), (right, _), (_, top)) =
        (corner(0.0, 0.0), corner(6.0, 0.0), corner(0.0, 3.0));
    let mut seen = 0;
    for path in drawn.svg.split("<path d=\"").filter(|path| path.contains("scale(.1)")) {
        let outlines = path.split_once('"').unwrap().0.split('z').filter(|it| !it.is_empty());
        for outline in outlines {
            let (mut x, mut y) = (0.0, 0.0);
            for step in outline.split(['M', 'l']).filter(|it| !it.is_empty()) {
                let (across, down) = step.split_once(' ').unwrap();
                x += across.parse::<f64>().unwrap() / 10.0;
                y += down.parse::<f64>().unwrap() / 10.0;
                seen += 1;
                let slope = (x - left) / (right - left) + (bottom - y) / (bottom - top);
                assert!(
                    x >= left - 0.1 && y <= bottom + 0.1 && slope <= 1.0 + 1e-3,
                    "{x}, {y} lies outside by {slope}"
                );
            }
        }
    }
    assert!(seen > 50, "{seen} corners of the field");
}

#[test]
fn dots_stand_at_their_places_with_their_numbers() {
    let readings = wall();
    let drawn = draw(&picture(readings.clone()), &Phrases::default()).unwrap();
    let panels = Panel::all(&readings);
    let frame = Frame::around(&panels[0].dots, (0.0, 0.0), (500.0, 190.0)).unwrap();
    for (along, up) in [(0.0, 0.0), (20.0, 5.0), (12.0, 2.0)] {
        let (x, y) = frame.place(along, up);
        let dot = format!("<circle cx=\"{}\" cy=\"{}\" r=\"2.6\"", number(x), number(y));
        assert!(drawn.svg.contains(&dot), "{dot}");
    }
    // 20 ft take 450 and the height follows in proportion.
    let ((left, bottom), (right, top)) = (frame.place(0.0, 0.0), frame.place(20.0, 5.0));
    assert!(((right - left) / 20.0 - (bottom - top) / 5.0).abs() < 1e-9);
    assert!(drawn.svg.contains(">27<") && drawn.svg.contains(">9<"), "{}", drawn.svg);
    assert_tidy(&drawn.svg);
}

#[test]
fn sources_are_asked_for_and_never_concluded() {
    let mut picture = picture(wall());
    picture
        .shown
        .insert("near".to_owned(), vec![said("left wall at 12, 2 ft", "window", Verdict::NoLimit)]);
    let drawn = draw(&picture, &Phrases::default()).unwrap();
    for question in [
        "Left wall at 12, 2 ft, 27 %; near it: window. Is that the source?",
        "Left wall at 13, 2 ft: is there a seam, a window or a pipe near?",
    ] {
        assert!(drawn.svg.contains(question) && drawn.alt.contains(question), "{}", drawn.alt);
    }
}

#[test]
fn numbers_of_another_scale_are_kept_out() {
    let mut readings = wall();
    readings.push(value("left wall at 5, 3 ft", 640.0, "", Verdict::NoLimit));
    let drawn = draw(&picture(readings), &Phrases::default()).unwrap();
    assert!(!drawn.svg.contains(">640<"), "{}", drawn.svg);
    let relative = vec![
        value("left wall at 5, 3 ft", 640.0, "", Verdict::NoLimit),
        value("left wall at 9, 3 ft", 180.0, "", Verdict::NoLimit),
    ];
    let drawn = draw(&picture(relative), &Phrases::default()).unwrap();
    assert!(drawn.svg.contains("is no percent") && !drawn.svg.contains("Moisture, %"));
}

#[test]
fn readings_without_a_place_are_told_but_not_drawn() {
    let mut readings = wall();
    readings.push(percent("front left corner", 14.3));
    let drawn = draw(&picture(readings), &Phrases::default()).unwrap();
    assert!(drawn.alt.contains("front left corner: 14.3 %"), "{}", drawn.alt);
    assert!(!drawn.svg.contains(">14.3<") && drawn.svg.contains("Without a place on a panel"));
    assert_eq!(draw(&picture(vec![percent("front left corner", 14.0)]), &Phrases::default()), None);
    assert_eq!(draw(&Picture::default(), &Phrases::default()), None);
}

#[test]
fn few_many_and_equal_readings_stay_tidy_and_small() {
    let one = vec![percent("roof at 3, 2 ft", 34.0)];
    let row: Vec<Shown> = (0..12).map(|at| percent(&format!("floor at {at}, 1 m"), 11.0)).collect();
    let mut many = Vec::new();
    for panel in [
        "left wall",
        "right wall",
        "roof",
        "floor",
        "rear wall",
        "front wall",
        "slide",
        "bath",
        "loft",
    ] {
        for at in 0..16_i32 {
            let (along, up) = (f64::from(at % 8) * 2.6, f64::from(at / 8) * 3.0 + 0.5);
            let moisture = 8.0 + f64::from(at * 7 % 23);
            many.push(percent(&format!("{panel} at {along}, {up} ft"), moisture));
        }
    }
    for readings in [one, row, many] {
        let drawn = draw(&picture(readings), &Phrases::default()).unwrap();
        assert_tidy(&drawn.svg);
        assert!(drawn.svg.len() < 60_000, "{}", drawn.svg.len());
    }
}
