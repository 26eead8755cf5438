//! Water pressure standing and flowing, and the flow of each fixture.

use plan::Phrases;

use crate::content::{Picture, Shown};

use super::bars::{Row, rows};
use super::words::told;
use super::{Drawn, SOFT, Svg};

const PRESSURES: [(&str, &str); 3] =
    [("setting", "regulator set to"), ("standing", "standing"), ("flowing", "flowing")];

/// Draws the bars; none where no pressure is a number.
pub(super) fn draw(picture: &Picture, say: &Phrases) -> Option<Drawn> {
    let mut told_of = Vec::new();
    let mut pressures = Vec::new();
    for (role, name) in PRESSURES {
        for shown in picture.role(role) {
            let name = named(name, &shown.position);
            told_of.push(with_limits(&name, shown));
            pressures.push(Row::of(&name, shown));
        }
    }
    let unit = |role: &str| picture.one(role).map_or("", |shown| shown.unit.as_str());
    let mut svg = Svg::new(500.0, 0.0).in_words(say);
    let heading = heading("Pressure", unit("standing"));
    let mut y = rows(&mut svg, 0.0, &heading, &pressures, &[])?;

    let mut designed_for = false;
    let mut flows = Vec::new();
    for shown in picture.role("flow") {
        let name = if shown.position.is_empty() { "fixture" } else { &shown.position };
        let mut row = Row::of(name, shown);
        let mut words = with_limits(name, shown);
        let designed = picture.at("designed", &shown.position);
        if let Some(designed) = designed.filter(|designed| designed.unit == shown.unit) {
            row.mark = designed.number;
            row.below = joined(&[&format!("sized for {}", designed.text), &row.below]);
            words = format!("{words}, sized for {}", designed.text);
            designed_for |= row.mark.is_some();
        }
        told_of.push(words);
        flows.push(row);
    }
    if !flows.is_empty() {
        let heading = self::heading("Flow", unit("flow"));
        y = rows(&mut svg, y + 8.0, &heading, &flows, &[])?;
    }
    let mut legend = "Green strokes: limits, the foot on the side they allow.".to_owned();
    if designed_for {
        legend.push_str(" Diamond: the flow that a plumbing code sizes such a fixture for.");
    }
    svg.words((8.0, y + 10.0), &legend, &[("font-size", "8"), ("fill", SOFT)]);
    let alt = format!("Water pressure and flow: {}.", told_of.join("; "));
    Some(Drawn { svg: svg.finish_at(500.0, y + 15.0), alt })
}

fn named(name: &str, position: &str) -> String {
    if position.is_empty() { name.to_owned() } else { format!("{name}, {position}") }
}

fn heading(what: &str, unit: &str) -> String {
    if unit.is_empty() { what.to_owned() } else { format!("{what}, {unit}") }
}

fn joined(texts: &[&str]) -> String {
    texts.iter().filter(|text| !text.is_empty()).copied().collect::<Vec<_>>().join("; ")
}

/// The value with its verdict and what limits it.
fn with_limits(name: &str, shown: &Shown) -> String {
    let limits: Vec<&str> = shown.bounds.iter().map(|bounds| bounds.text.as_str()).collect();
    let limits = if limits.is_empty() {
        String::new()
    } else {
        format!(", limits {}", limits.join(" and "))
    };
    format!("{name} {}{limits}", told(shown))
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use crate::content::{Bounds, Verdict};

    use super::super::checks::{assert_tidy, value};
    use super::*;

    fn picture() -> Picture {
        let mut standing = value("", 52.0, "psi", Verdict::WithinGuidance);
        standing.bounds =
            vec![Bounds { from: Some(40.0), to: Some(60.0), text: "40 psi to 60 psi".to_owned() }];
        let flow = |position: &str, number| value(position, number, "gpm", Verdict::BeyondGuidance);
        let shown = [
            ("standing", vec![standing]),
            ("flowing", vec![value("", 38.0, "psi", Verdict::NoLimit)]),
            ("flow", vec![flow("galley", 1.5), flow("basin", 1.0)]),
            ("designed", vec![value("galley", 1.75, "gpm", Verdict::NoLimit)]),
        ];
        let shown: BTreeMap<_, _> =
            shown.into_iter().map(|(role, list)| (role.to_owned(), list)).collect();
        Picture { shown, ..Picture::default() }
    }

    #[test]
    fn every_value_is_drawn_and_told_with_its_verdict_and_limits() {
        let drawn = draw(&picture(), &Phrases::default()).unwrap();
        assert_tidy(&drawn.svg);
        for words in [
            "standing 52 psi (within what informs), limits 40 psi to 60 psi",
            "flowing 38 psi",
            "galley 1.5 gpm (beyond what informs), sized for 1.75 gpm",
            "basin 1 gpm (beyond what informs)",
        ] {
            assert!(drawn.alt.contains(words), "{words} in {}", drawn.alt);
        }
        for words in ["Pressure, psi", "Flow, gpm", "sized for 1.75 gpm"] {
            assert!(drawn.svg.contains(words), "{words}");
        }
    }

    /// The scale of flows runs from 0 to 2 over 164 from 116: 1.75 stands at 259.5.
    #[test]
    fn the_flow_a_fixture_is_sized_for_is_marked_on_the_scale() {
        let drawn = draw(&picture(), &Phrases::default()).unwrap();
        assert!(drawn.svg.contains("M259.5 "), "{}", drawn.svg);
    }

    #[test]
    fn pressures_alone_are_drawn_and_nothing_gives_nothing() {
        let mut picture = picture();
        picture.shown.remove("flow");
        let drawn = draw(&picture, &Phrases::default()).unwrap();
        assert!(!drawn.svg.contains("Flow") && !drawn.svg.contains("Diamond"));
        picture.shown.clear();
        assert_eq!(draw(&picture, &Phrases::default()), None);
    }
}
