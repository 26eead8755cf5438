//! The unit from above and from its sides: pins where the findings are, and links both ways.

use report::content::{Content, Face, OnFace, Outline, Paper, Place};
use report::drawing::{UnitView, views};
use report::page;

use crate::sample::{photo, sample};
use crate::tools::{File, typeset_sample};

/// The sample with all its findings at one place of a side.
fn on(face: Face, place: Place) -> Content {
    let mut content = sample(Paper::Letter);
    for finding in &mut content.findings {
        finding.place = Some(place);
        finding.side = Some(OnFace { face, height: 0.5 });
    }
    content
}

fn view(content: &Content, name: &str) -> UnitView {
    views(content).drawn.into_iter().find(|view| view.name == name).unwrap()
}

/// How far from the left edge of the drawing the first finding is, as a fraction.
fn across(content: &Content, name: &str) -> f64 {
    let view = view(content, name);
    view.pins[0].at.0 / view.width
}

#[test]
fn each_side_is_drawn_as_one_sees_it_standing_before_it() {
    let at_the_rear = Place { along: 0.95, across: 0.0 };
    assert!(across(&on(Face::Left, at_the_rear), "left") > 0.8);
    assert!(across(&on(Face::Right, at_the_rear), "right") < 0.2);
    let at_the_left = Place { along: 0.0, across: 0.05 };
    assert!(across(&on(Face::Front, at_the_left), "front") > 0.5);
    assert!(across(&on(Face::Rear, at_the_left), "rear") < 0.5);
}

#[test]
fn only_sides_with_a_finding_are_drawn_and_the_others_are_told() {
    let all = views(&sample(Paper::Letter));
    let names: Vec<&str> = all.drawn.iter().map(|view| view.name).collect();
    assert_eq!(names, ["plan", "left", "front"]);
    assert_eq!(all.nowhere, [6]);
    assert_eq!(all.no_side, [3, 4, 5]);
    let text = File::new(&typeset_sample(&sample(Paper::Letter)).pdf).text();
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("Without a place on a drawing: 6."), "{text}");
    assert!(text.contains("the record does not say which: 3, 4, 5."), "{text}");
    assert!(text.contains("does not say where: slide-out."), "{text}");
    assert!(text.contains("schematic, not to scale"), "{text}");
}

#[test]
fn what_the_record_does_not_know_is_not_drawn() {
    let mut content = on(Face::Right, Place { along: 0.5, across: 1.0 });
    let known = view(&content, "right").svg();
    assert!(known.contains(">door<"));
    let outline = content.unit.outline.take().unwrap();
    content.unit.outline = Some(Outline { door_side: None, axles: 0, ..outline });
    let unknown = view(&content, "right");
    assert!(!unknown.svg().contains(">door<"));
    assert!(!view(&content, "plan").svg().contains("door"));
    assert_eq!(unknown.pins.len(), content.findings.len());
    // Ground, drawbar, coupling, body, pins: no wheel.
    assert_eq!(unknown.svg().matches("r=\"9\"").count(), 0);
    content.unit.outline = None;
    assert_eq!(views(&content).drawn, []);
}

#[test]
fn pins_of_the_printed_report_link_to_findings_and_findings_to_pins() {
    let content = sample(Paper::Letter);
    let file = File::new(&typeset_sample(&content).pdf);
    let (objects, read) = file.ask("qpdf", &["--json=2"], &[]);
    assert!(read);
    let pins: usize = views(&content).drawn.iter().map(|view| view.pins.len()).sum();
    assert_eq!(pins, 7);
    let small = 2.0 * 10.0 / 500.0 * (612.0 - 2.0 * 19.0 / 25.4 * 72.0);
    let value: serde_json::Value = serde_json::from_str(&objects).unwrap();
    let mut links = Vec::new();
    collect(&value, &mut links);
    assert!(links.len() > 100, "{}", links.len());
    // A pin's link is a square as large as the pin; no link over words is.
    let squares: Vec<&(f64, f64)> =
        links.iter().filter(|(w, h)| (w - h).abs() < 0.2 && (*w - small).abs() < 4.0).collect();
    assert_eq!(squares.len(), pins, "{links:?}");
    let text = file.text();
    assert!(text.contains("from above, left side"), "{text}");
}

/// Width and height of every link.
fn collect(value: &serde_json::Value, links: &mut Vec<(f64, f64)>) {
    match value {
        serde_json::Value::Object(map) => {
            if map.get("/Subtype").and_then(|it| it.as_str()) == Some("/Link") {
                let at = |index: usize| map["/Rect"][index].as_f64().unwrap();
                links.push((at(2) - at(0), at(3) - at(1)));
            }
            map.values().for_each(|one| collect(one, links));
        }
        serde_json::Value::Array(values) => values.iter().for_each(|one| collect(one, links)),
        _ => {}
    }
}

#[test]
fn pins_of_the_clients_page_link_to_findings_and_findings_to_pins() {
    let page = page(&sample(Paper::Letter), &photo, None).unwrap();
    let index = page.files.iter().find(|file| file.name == "index.html").unwrap();
    let html = String::from_utf8(index.bytes.clone()).unwrap();
    for (view, number) in [("plan", 1), ("front", 1), ("plan", 2), ("left", 2), ("plan", 5)] {
        let pin = format!("<a id=\"pin-{view}-{number}\" href=\"#finding-{number}\"");
        assert!(html.contains(&pin), "{pin}");
        assert!(html.contains(&format!("href=\"#pin-{view}-{number}\"")), "{view} {number}");
    }
    assert!(!html.contains("pin-plan-6"));
}
