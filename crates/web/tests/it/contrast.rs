//! Contrast of each text on each ground, and of rims, by WCAG 2.2 (relative luminance, contrast ratio). No size of text is
//! excused: the sun does not ask how large it is.

use std::collections::{BTreeMap, BTreeSet};

const STYLES: [&str; 6] = [
    include_str!("../../style/00-themes.css"),
    include_str!("../../style/10-frame.css"),
    include_str!("../../style/50-screens.css"),
    include_str!("../../style/60-desk.css"),
    include_str!("../../style/70-engagement.css"),
    include_str!("../../style/80-archive.css"),
];

/// What text is written in, and what it may stand on.
const TEXTS: [&str; 6] = ["ink", "quiet", "accent", "warn", "bad", "good"];
const GROUNDS: [&str; 5] = ["ground", "raised", "note", "warn-ground", "bad-ground"];
/// Text on what is chosen, text on a count.
const TURNED: [(&str, &str); 2] = [("accent-ink", "accent"), ("ground", "ink")];
/// What is no text and must be seen: rims, the keyboard's ring.
const RIMS: [&str; 2] = ["line", "focus"];

type Theme = BTreeMap<String, [u8; 3]>;

/// The colours of each theme by name.
fn themes() -> BTreeMap<String, Theme> {
    let mut themes = BTreeMap::new();
    for rule in STYLES[0].split(":root[data-theme=\"").skip(1) {
        let (name, rest) = rule.split_once('"').unwrap();
        let (_, body) = rest.split_once('{').unwrap();
        let (body, _) = body.split_once('}').unwrap();
        let colours = body.split(';').filter_map(|line| {
            let (name, value) = line.trim().strip_prefix("--")?.split_once(": ")?;
            Some((name.to_owned(), colour(value)?))
        });
        themes.insert(name.to_owned(), colours.collect());
    }
    themes
}

fn colour(text: &str) -> Option<[u8; 3]> {
    let digits = text.strip_prefix('#').filter(|digits| digits.len() == 6)?;
    let part = |at: usize| u8::from_str_radix(digits.get(at..at + 2)?, 16).ok();
    Some([part(0)?, part(2)?, part(4)?])
}

fn luminance(colour: [u8; 3]) -> f64 {
    let [red, green, blue] = colour.map(|part| {
        let part = f64::from(part) / 255.0;
        if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
    });
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

fn contrast(one: [u8; 3], other: [u8; 3]) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

/// The values that a property has anywhere: `color`, `background`.
fn values(property: &str) -> BTreeSet<&'static str> {
    let declarations = STYLES.iter().flat_map(|style| style.split(['{', ';', '}']));
    declarations
        .filter_map(|one| {
            let (name, value) = one.trim().split_once(':')?;
            (name.trim() == property).then_some(value.trim())
        })
        .collect()
}

#[test]
fn black_on_white_is_twenty_one_to_one() {
    let [black, white] = ["#000000", "#ffffff"].map(|text| colour(text).unwrap());
    assert!((contrast(black, white) - 21.0).abs() < 1e-9);
    // The example of WCAG's own technique G18 that just passes at AA.
    let grey = contrast(colour("#767676").unwrap(), white);
    assert!((4.5..4.6).contains(&grey), "{grey}");
}

#[test]
fn every_text_is_seven_to_one_on_every_ground_and_twelve_in_sunlight() {
    let themes = themes();
    assert_eq!(themes.keys().collect::<Vec<_>>(), ["dark", "light", "sunlight"]);
    let mut weak = Vec::new();
    for (name, theme) in &themes {
        let mut check = |front: &str, ground: &str, least: f64| {
            let ratio = contrast(theme[front], theme[ground]);
            if ratio < least {
                weak.push(format!("{name}: {front} on {ground} is {ratio:.2}:1, not {least}:1"));
            }
        };
        let text = if name == "sunlight" { 12.0 } else { 7.0 };
        for ground in GROUNDS {
            TEXTS.iter().for_each(|front| check(front, ground, text));
            RIMS.iter().for_each(|front| check(front, ground, 3.0));
        }
        TURNED.iter().for_each(|(front, ground)| check(front, ground, text));
    }
    assert!(weak.is_empty(), "{weak:#?}");
}

#[test]
fn no_style_writes_in_a_colour_that_is_not_judged() {
    let of = |names: &[&str]| names.iter().map(|name| format!("var(--{name})")).collect::<Vec<_>>();
    let mut texts = of(&TEXTS);
    texts.extend(of(&TURNED.map(|(front, _)| front)));
    let mut grounds = of(&GROUNDS);
    grounds.extend(of(&TURNED.map(|(_, ground)| ground)));
    // A switch's knob, and what nothing is written on: nothing at all, the dark over what a photo's cut leaves out.
    grounds.extend(["var(--accent-ink)", "transparent", "rgb(0 0 0 / 55%)"].map(str::to_owned));
    // A word that was found, and the sheets of the live pages: the same in each theme, dark on light.
    let (ink, papers) = ("#14201e", ["#ffe27a", "#ffffff"]);
    for paper in papers {
        assert!(contrast(colour(ink).unwrap(), colour(paper).unwrap()) >= 12.0, "{paper}");
    }
    texts.push(ink.to_owned());
    grounds.extend(papers.map(str::to_owned));
    for (property, known) in [("color", texts), ("background", grounds)] {
        let unknown: Vec<&str> = values(property)
            .into_iter()
            .filter(|value| !known.iter().any(|one| one == value))
            .collect();
        assert!(unknown.is_empty(), "{property}: not judged: {unknown:?}");
    }
    // What is seen through is lighter than its colour says: a scale's marks, and pages that are older than the work.
    assert_eq!(values("opacity"), ["0", "0.4", "0.55", "0.75", "1"].into());
}
