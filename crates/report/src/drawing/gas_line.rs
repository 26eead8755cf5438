//! The gas system as a line, from the cylinders to the burners: what was read at each place.

use plan::Phrases;

use crate::content::{Picture, Shown};

use super::words::{plain, signed, told};
use super::{Drawn, INK, SOFT, Svg, number};

const WIDTH: f64 = 500.0;
const SIZE: f64 = 9.0;
/// The height of the main line.
const MAIN: f64 = 20.0;
/// Where the cylinders' lines come together, the regulator stands, and the appliances branch off.
const GATHER: f64 = 142.0;
const REGULATOR: f64 = 172.0;
const BRANCH: f64 = 356.0;
/// Left edge and width of the words at each place.
const CYLINDER_WORDS: (f64, f64) = (44.0, 94.0);
const REGULATOR_WORDS: (f64, f64) = (154.0, 92.0);
const PIPE_WORDS: (f64, f64) = (256.0, 92.0);
const APPLIANCE_WORDS: (f64, f64) = (382.0, 116.0);
const SHELL: (f64, f64) = (26.0, 40.0);
const GAS: &str = "#b9c7d6";

const CYLINDER: [(&str, &str); 4] = [
    ("contents", "of gas"),
    ("filled", "of what it may hold"),
    ("cylinder_temperature", "at its shell"),
    ("cylinder_pressure", "in it, by that"),
];
const APPLIANCE: [(&str, &str); 2] = [("at_appliance", "at its inlet"), ("flame", FLAME)];
const FLAME: &str = "flame";

/// A value with the words around it.
type Line<'a> = (&'static str, &'a Shown);

/// Draws the line; none where neither lock-up nor working pressure was read.
pub(super) fn draw(picture: &Picture, say: &Phrases) -> Option<Drawn> {
    if picture.one("lockup").is_none() && picture.one("working").is_none() {
        return None;
    }
    let mut svg = Svg::new(WIDTH, 0.0).in_words(say);
    let mut alt = Vec::new();
    let cylinders = places(picture, &CYLINDER);
    let appliances = places(picture, &APPLIANCE);

    let mut below = MAIN;
    let mut last = MAIN;
    for (at, (position, lines)) in cylinders.iter().enumerate() {
        last = if at == 0 { MAIN } else { below + 8.0 };
        let share = lines
            .iter()
            .find(|(words, _)| *words == CYLINDER[1].1)
            .and_then(|(_, shown)| share(shown));
        cylinder(&mut svg, last, share);
        let name = if position.is_empty() {
            "Cylinder".to_owned()
        } else {
            format!("Cylinder {position}")
        };
        let y = entry(&mut svg, last, CYLINDER_WORDS, &name, lines);
        below = y.max(last + SHELL.1 + 12.0);
        alt.push(sentence(&name, lines));
    }
    if cylinders.is_empty() {
        cylinder(&mut svg, MAIN, None);
        below = entry(&mut svg, MAIN, CYLINDER_WORDS, "Cylinder", &[]).max(MAIN + SHELL.1 + 12.0);
    }
    pipe(&mut svg, &format!("M{GATHER} {MAIN}V{}", number(last)));

    let regulator: Vec<Line<'_>> =
        picture.one("lockup").map(|shown| ("no gas flowing", shown)).into_iter().collect();
    below = below.max(entry(&mut svg, MAIN + 8.0, REGULATOR_WORDS, "Regulator", &regulator));
    alt.push(sentence("Regulator", &regulator));

    let piping: Vec<Line<'_>> =
        [("seen", "leak check"), ("working", "about half lit"), ("all_on", "all lit")]
            .into_iter()
            .filter_map(|(role, words)| Some((words, picture.one(role)?)))
            .collect();
    below = below.max(entry(&mut svg, MAIN + 8.0, PIPE_WORDS, "Piping", &piping));
    alt.push(sentence("Piping", &piping));

    let end = if appliances.is_empty() { BRANCH + 16.0 } else { BRANCH };
    pipe(
        &mut svg,
        &format!("M{GATHER} {MAIN}H{}M{} {MAIN}H{end}", REGULATOR - 11.0, REGULATOR + 11.0),
    );
    dial(&mut svg);
    let mut y = MAIN;
    for (at, (position, lines)) in appliances.iter().enumerate() {
        let here = if at == 0 { MAIN } else { y + 4.0 };
        pipe(&mut svg, &format!("M{BRANCH} {MAIN}V{h}H{}", BRANCH + 10.0, h = number(here)));
        svg.circle(
            BRANCH + 15.0,
            here,
            5.0,
            &[("fill", "#ffffff"), ("stroke", INK), ("stroke-width", "1.4")],
        );
        y = entry(&mut svg, here - 9.0, APPLIANCE_WORDS, position, lines);
        alt.push(sentence(position, lines));
    }
    below = below.max(y);
    if appliances.is_empty() {
        svg.circle(end, MAIN, 3.0, &[("fill", INK)]);
    }
    let alt = format!("The gas system from the cylinders to the burners: {}.", alt.join("; "));
    Some(Drawn { svg: svg.finish_at(WIDTH, below), alt })
}

/// The positions of these roles, each with its values.
fn places<'a>(
    picture: &'a Picture,
    roles: &[(&'static str, &'static str)],
) -> Vec<(&'a str, Vec<Line<'a>>)> {
    let names: Vec<&str> = roles.iter().map(|(role, _)| *role).collect();
    picture
        .positions(&names)
        .into_iter()
        .map(|position| {
            let lines = roles
                .iter()
                .filter_map(|(role, words)| Some((*words, picture.at(role, position)?)))
                .collect();
            (position, lines)
        })
        .collect()
}

/// A value in percent, or a plain ratio, as a share of one.
fn share(shown: &Shown) -> Option<f64> {
    let number = shown.number.filter(|it| it.is_finite())?;
    match shown.unit.as_str() {
        "%" => Some(number / 100.0),
        "" => Some(number),
        _ => None,
    }
}

fn pipe(svg: &mut Svg, path: &str) {
    svg.path(path, &[("fill", "none"), ("stroke", INK), ("stroke-width", "1.8")]);
}

/// A cylinder that hangs at its line, filled as far as it is. The drawn level ends at the top; the words do not.
fn cylinder(svg: &mut Svg, line: f64, share: Option<f64>) {
    let (left, top) = (8.0, line + 7.0);
    let middle = left + SHELL.0 / 2.0;
    let rect = |svg: &mut Svg, y: f64, height: f64, fill: &str, stroke: &str| {
        svg.element(
            "rect",
            &[
                ("x", &number(left)),
                ("y", &number(y)),
                ("width", &number(SHELL.0)),
                ("height", &number(height)),
                ("rx", "6"),
                ("fill", fill),
                ("stroke", stroke),
                ("stroke-width", "1.6"),
            ],
        );
    };
    rect(svg, top, SHELL.1, "#ffffff", "none");
    if let Some(share) = share.filter(|share| *share > 0.0) {
        let height = SHELL.1 * share.min(1.0);
        rect(svg, top + SHELL.1 - height, height, GAS, "none");
    }
    rect(svg, top, SHELL.1, "none", INK);
    pipe(svg, &format!("M{middle} {}V{line}H{GATHER}", number(top)));
}

/// The regulator: a ring with its spring.
fn dial(svg: &mut Svg) {
    svg.circle(
        REGULATOR,
        MAIN,
        11.0,
        &[("fill", "#ffffff"), ("stroke", INK), ("stroke-width", "1.8")],
    );
    svg.path(
        &format!("M{} {MAIN}l2.5 -4l4 8l4 -8l2.5 4", REGULATOR - 6.5),
        &[("fill", "none"), ("stroke", INK), ("stroke-width", "1.2")],
    );
}

/// A place's name and values under its line; gives the room it takes from the top.
fn entry(svg: &mut Svg, line: f64, (x, most): (f64, f64), name: &str, lines: &[Line<'_>]) -> f64 {
    let mut y = line + 12.0;
    for part in super::lettering::wrapped(&svg.say(name), SIZE * 1.06, most) {
        svg.words((x, y), &part, &[("font-size", "9"), ("fill", INK), ("font-weight", "600")]);
        y += SIZE + 2.5;
    }
    if lines.is_empty() {
        y = plain(svg, (x, y), "not read", (SIZE, most), SOFT);
    }
    for (words, shown) in lines {
        if follows(words) {
            let text = format!("{} {words}", shown.text);
            y = signed(svg, (x, y), shown.verdict, &text, (SIZE, most));
            continue;
        }
        if *words != FLAME {
            y = plain(svg, (x, y), words, (8.5, most), SOFT);
        }
        y = signed(svg, (x, y), shown.verdict, &shown.text, (SIZE, most));
    }
    y + 4.0
}

/// Whether words stand behind their value: `16.3 lb of gas`.
fn follows(words: &str) -> bool {
    CYLINDER.iter().chain(&APPLIANCE).any(|(_, known)| *known == words && words != FLAME)
}

fn sentence(name: &str, lines: &[Line<'_>]) -> String {
    let values: Vec<String> = lines
        .iter()
        .map(|(words, shown)| match follows(words) {
            true => format!("{} {words}", told(shown)),
            false => format!("{words} {}", told(shown)),
        })
        .collect();
    let values = if values.is_empty() { "not read".to_owned() } else { values.join(", ") };
    format!("{name}: {values}")
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use crate::content::Verdict;

    use super::super::checks::{assert_tidy, said, value};
    use super::*;

    fn picture(roles: &[(&str, Vec<Shown>)]) -> Picture {
        let shown = roles.iter().map(|(role, shown)| ((*role).to_owned(), shown.clone()));
        Picture {
            kind: "gas_line".to_owned(),
            shown: BTreeMap::from_iter(shown),
            ..Picture::default()
        }
    }

    fn full() -> Picture {
        picture(&[
            (
                "contents",
                vec![
                    value("left", 16.3, "lb", Verdict::NoLimit),
                    value("right", 22.1, "lb", Verdict::NoLimit),
                ],
            ),
            (
                "filled",
                vec![
                    value("left", 75.0, "%", Verdict::Conforms),
                    value("right", 110.0, "%", Verdict::DoesNotConform),
                ],
            ),
            ("cylinder_temperature", vec![value("left", 71.0, "°F", Verdict::NoLimit)]),
            ("cylinder_pressure", vec![value("left", 111.0, "psi", Verdict::NoLimit)]),
            ("lockup", vec![value("", 12.7, "inH2O", Verdict::WithinGuidance)]),
            ("seen", vec![said("", "no perceptible drop", Verdict::Conforms)]),
            ("working", vec![value("", 10.9, "inH2O", Verdict::Conforms)]),
            ("at_appliance", vec![value("range", 10.8, "inH2O", Verdict::NoLimit)]),
            (
                "flame",
                vec![
                    said("furnace", "cannot be seen, runs clean", Verdict::Conforms),
                    said("range", "yellow tips", Verdict::DoesNotConform),
                ],
            ),
        ])
    }

    #[test]
    fn what_was_read_at_each_place_is_said_with_its_verdict() {
        let drawn = draw(&full(), &Phrases::default()).unwrap();
        for words in [
            "Cylinder right: 22.1 lb of gas, 110 % (does not conform) of what it may hold",
            "Regulator: no gas flowing 12.7 inH2O (within what informs)",
            "Piping: leak check no perceptible drop (conforms), about half lit 10.9 inH2O (conforms)",
            "range: 10.8 inH2O at its inlet, flame yellow tips (does not conform)",
            "furnace: flame cannot be seen, runs clean (conforms)",
        ] {
            assert!(drawn.alt.contains(words), "{words} in {}", drawn.alt);
        }
        for text in ["16.3 lb of gas", "12.7 inH2O", "10.9 inH2O", "10.8 inH2O at its inlet"] {
            assert!(drawn.svg.contains(text), "{text}");
        }
        assert_tidy(&drawn.svg);
    }

    /// Forty high: three quarters are thirty; an overfilled one is full to the top, and its words say by how much.
    #[test]
    fn a_cylinder_is_drawn_as_full_as_it_is() {
        let drawn = draw(&full(), &Phrases::default()).unwrap();
        let gas = |y: f64, height: f64| {
            format!(
                "<rect x=\"8\" y=\"{}\" width=\"26\" height=\"{}\" rx=\"6\" fill=\"{GAS}\"",
                number(y),
                number(height)
            )
        };
        assert!(drawn.svg.contains(&gas(MAIN + 7.0 + 10.0, 30.0)), "{}", drawn.svg);
        assert!(drawn.svg.contains(&format!("height=\"40\" rx=\"6\" fill=\"{GAS}\"")));
        let unknown = draw(
            &picture(&[("lockup", vec![value("", 12.0, "inH2O", Verdict::NoLimit)])]),
            &Phrases::default(),
        );
        let unknown = unknown.unwrap();
        assert!(
            !unknown.svg.contains(GAS) && unknown.alt.contains("Piping: not read"),
            "{}",
            unknown.alt
        );
        assert_tidy(&unknown.svg);
        assert_eq!(draw(&Picture::default(), &Phrases::default()), None);
    }

    #[test]
    fn long_names_and_many_appliances_stay_tidy() {
        let mut picture = full();
        let long = "outside kitchen's two-burner cooktop behind the rear hatch";
        picture.shown.insert(
            "flame".to_owned(),
            (0..12)
                .map(|at| said(&format!("{long} {at}"), "lifts off", Verdict::DoesNotConform))
                .collect(),
        );
        picture.shown.insert(
            "filled".to_owned(),
            (0..4).map(|at| value(&format!("{long} {at}"), 80.0, "%", Verdict::Conforms)).collect(),
        );
        let drawn = draw(&picture, &Phrases::default()).unwrap();
        assert_tidy(&drawn.svg);
        assert!(drawn.alt.contains(&format!("{long} 11: flame lifts off (does not conform)")));
    }
}
