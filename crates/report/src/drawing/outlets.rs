//! The outlet survey: one line an outlet, the worst first, its voltages on one scale.

use plan::Phrases;

use crate::content::{Picture, Shown, Verdict};

use super::axis::Axis;
use super::lettering::{shortened, wrapped};
use super::words::{gravity, told};
use super::{Drawn, INK, SOFT, Sign, Svg, number, sign};

const WIDTH: f64 = 500.0;
const SIZE: f64 = 9.0;
const LINE: f64 = 11.5;
/// The columns of voltages: role, head, left edge.
const VOLTAGES: [(&str, &str, f64); 4] = [
    ("hot_neutral", "hot–neutral", 124.0),
    ("hot_ground", "hot–ground", 188.0),
    ("neutral_ground", "neutral–ground", 252.0),
    ("loaded", "under load", 322.0),
];
/// Length of a bar that reaches the end of the scale.
const BAR: f64 = 54.0;
const NAME: (f64, f64) = (14.0, 104.0);
/// Left edge of the words, without and with a column of loaded voltages.
const SAYS: (f64, f64) = (324.0, 386.0);
const TRACK: &str = "#e7eaee";
/// More lines than these would not fit on a page; outlets without a finding are then named in a sentence.
const MOST_LINES: usize = 46;

/// All that was read at one outlet.
struct Outlet<'a> {
    position: &'a str,
    voltages: [Option<&'a Shown>; 4],
    /// The wiring by its voltages; none where they do not tell it.
    pattern: Option<&'a Shown>,
    ground_fault: Option<&'a Shown>,
    /// How it stands, and why.
    says: Vec<&'a Shown>,
    /// The verdict that its sign shows.
    verdict: Verdict,
    /// The worst are the highest.
    rank: f64,
}

impl<'a> Outlet<'a> {
    fn at(picture: &'a Picture, position: &'a str) -> Self {
        let at = |role: &str| picture.at(role, position);
        let (pattern, ground_fault) = (at("pattern"), at("ground_fault"));
        let says: Vec<&Shown> = ["state", "reasons"].into_iter().filter_map(at).collect();
        let voltages = VOLTAGES.map(|(role, _, _)| at(role));
        let all = voltages.into_iter().chain([pattern, ground_fault]).flatten();
        let all = all.chain(says.iter().copied());
        let verdict = all
            .map(|shown| shown.verdict)
            .max_by_key(|verdict| gravity(*verdict))
            .unwrap_or(Verdict::NoLimit);
        let rank = picture.at("rank", position).and_then(|shown| shown.number).unwrap_or(0.0);
        Self { position, voltages, pattern, ground_fault, says, verdict, rank }
    }

    /// What the voltages say, in words; each thing once.
    fn words(&self) -> String {
        let pattern =
            self.pattern.map_or("not told by these voltages", |shown| shown.text.as_str());
        let mut texts = vec![pattern.to_owned()];
        // The reasons name the pattern again.
        for text in self.says.iter().flat_map(|shown| shown.text.split(", ")) {
            if !text.is_empty() && !texts.iter().any(|said| said == text) {
                texts.push(text.to_owned());
            }
        }
        let told = texts.iter().any(|text| text.contains("ground-fault device"));
        let ground_fault = self.ground_fault.filter(|_| !told);
        texts.extend(ground_fault.and_then(|shown| match shown.text.as_str() {
            "not tried" => None,
            "not protected" => Some("no ground-fault device".to_owned()),
            text => Some(format!("ground-fault device {text}")),
        }));
        texts.join("; ")
    }

    fn alt(&self) -> String {
        let voltages = VOLTAGES.iter().zip(self.voltages).filter_map(|((_, head, _), shown)| {
            shown.map(|shown| format!("{head} {}", told(shown)))
        });
        let verdict = match Sign::of(self.verdict) {
            Sign::NoLimit => String::new(),
            sign => format!(" ({})", sign.words()),
        };
        let voltages: Vec<String> = voltages.collect();
        format!("{}: {}{verdict}, {}", self.position, self.words(), voltages.join(", "))
            .trim_end_matches([',', ' '])
            .to_owned()
    }
}

/// Draws the survey; none where no outlet was read.
pub(super) fn draw(picture: &Picture, say: &Phrases) -> Option<Drawn> {
    let roles: Vec<&str> =
        ["pattern"].into_iter().chain(VOLTAGES.iter().map(|(role, _, _)| *role)).collect();
    let mut outlets: Vec<Outlet<'_>> = picture
        .positions(&roles)
        .into_iter()
        .map(|position| Outlet::at(picture, position))
        .collect();
    if outlets.is_empty() {
        return None;
    }
    // The order of the round decides between equals.
    outlets.sort_by(|one, other| {
        (other.rank.total_cmp(&one.rank)).then(gravity(other.verdict).cmp(&gravity(one.verdict)))
    });
    let numbers = outlets.iter().flat_map(|outlet| outlet.voltages).flatten();
    let scale = Axis::covering(numbers.filter_map(|shown| shown.number).chain([0.0]), 3.0)?;
    let loaded = outlets.iter().any(|outlet| outlet.voltages[3].is_some());
    let mut svg = Svg::new(WIDTH, 0.0).in_words(say);
    heads(&mut svg, loaded);
    let mut y = 30.0;
    let mut lines = 0;
    let mut left: Vec<&str> = Vec::new();
    for outlet in &outlets {
        let rows = Rows::of(&svg, outlet, loaded);
        lines += rows.count();
        if lines > MOST_LINES {
            left.push(outlet.position);
            continue;
        }
        rows.draw(&mut svg, outlet, &scale, y);
        y += rows.height();
    }
    if !left.is_empty() {
        let text = format!("Further outlets, in the table: {}", left.join(", "));
        for line in wrapped(&svg.say(&text), SIZE, WIDTH - 16.0) {
            svg.words((8.0, y + 4.0), &line, &[("font-size", "9"), ("fill", INK)]);
            y += LINE;
        }
    }
    let unit = outlets.iter().flat_map(|outlet| outlet.voltages).flatten().next();
    let unit = unit.map_or("", |shown| shown.unit.as_str());
    let ends = [scale.from, scale.to].map(|end| scale.label(end));
    svg.words(
        (VOLTAGES[0].2, y + 1.0),
        &format!("Bars: {} to {} {unit}", ends[0], ends[1]),
        &[("font-size", "8.5"), ("fill", SOFT)],
    );
    y += 6.0;
    let alt: Vec<String> = outlets.iter().map(Outlet::alt).collect();
    let alt = format!("The outlets, the worst first: {}.", alt.join("; "));
    Some(Drawn { svg: svg.finish_at(WIDTH, y + 2.0), alt })
}

fn heads(svg: &mut Svg, loaded: bool) {
    let quiet = [("font-size", "8.5"), ("fill", SOFT), ("font-weight", "600")];
    svg.words((NAME.0, 12.0), "Outlet", &quiet);
    let shown = VOLTAGES.len() - usize::from(!loaded);
    for (_, head, x) in VOLTAGES.iter().take(shown) {
        svg.words((*x, 12.0), head, &quiet);
    }
    svg.words((if loaded { SAYS.1 } else { SAYS.0 }, 12.0), "Wiring and state", &quiet);
    svg.line((2.0, 17.0), (WIDTH - 2.0, 17.0), &[("stroke", SOFT), ("stroke-width", "0.8")]);
}

/// An outlet's lines on the page.
struct Rows {
    name: Vec<String>,
    says: Vec<String>,
    says_at: f64,
}

impl Rows {
    fn of(svg: &Svg, outlet: &Outlet<'_>, loaded: bool) -> Self {
        let says_at = if loaded { SAYS.1 } else { SAYS.0 };
        let mut name = wrapped(&svg.say(outlet.position), SIZE, NAME.1);
        if name.len() > 2 {
            let rest = name.split_off(1).join(" ");
            name.push(shortened(&rest, SIZE, NAME.1));
        }
        let says = wrapped(&svg.say(&outlet.words()), SIZE, WIDTH - 4.0 - says_at);
        Self { name, says, says_at }
    }

    fn count(&self) -> usize {
        self.name.len().max(self.says.len()).max(1)
    }

    fn height(&self) -> f64 {
        LINE * f64::from(u8::try_from(self.count()).unwrap_or(u8::MAX)) + 8.5
    }

    fn draw(&self, svg: &mut Svg, outlet: &Outlet<'_>, scale: &Axis, y: f64) {
        let ink = [("font-size", "9"), ("fill", INK)];
        svg.inset((2.0, y - 7.4), 8.5, &sign(Sign::of(outlet.verdict)));
        for (x, lines) in [(NAME.0, &self.name), (self.says_at, &self.says)] {
            let mut baseline = y;
            for line in lines {
                svg.words((x, baseline), line, &ink);
                baseline += LINE;
            }
        }
        for ((_, _, x), shown) in VOLTAGES.iter().zip(outlet.voltages) {
            let Some(shown) = shown else { continue };
            svg.words((*x, y), &shortened(&shown.text, SIZE, BAR + 4.0), &ink);
            let Some(volts) = shown.number.filter(|volts| volts.is_finite()) else { continue };
            let length = scale.place(volts, (0.0, BAR)) - scale.place(0.0, (0.0, BAR));
            let bar = |svg: &mut Svg, width: f64, fill: &str| {
                svg.element(
                    "rect",
                    &[
                        ("x", &number(*x)),
                        ("y", &number(y + 3.0)),
                        ("width", &number(width)),
                        ("height", "3"),
                        ("fill", fill),
                    ],
                );
            };
            bar(svg, BAR, TRACK);
            if length > 0.0 {
                bar(svg, length, SOFT);
            }
        }
        let below = y + self.height() - 12.0;
        svg.line((2.0, below), (WIDTH - 2.0, below), &[("stroke", TRACK), ("stroke-width", "0.7")]);
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::super::checks::{assert_tidy, said, value};
    use super::*;

    fn survey(outlets: &[(&str, [f64; 3], &str, Verdict, f64)]) -> Picture {
        let mut shown: BTreeMap<String, Vec<Shown>> = BTreeMap::new();
        let mut put = |role: &str, one: Shown| shown.entry(role.to_owned()).or_default().push(one);
        for (position, volts, pattern, verdict, rank) in outlets {
            for ((role, _, _), volts) in VOLTAGES.iter().zip(volts) {
                put(role, value(position, *volts, "V", Verdict::NoLimit));
            }
            if !pattern.is_empty() {
                put("pattern", said(position, pattern, *verdict));
                put("rank", value(position, *rank, "", Verdict::NoLimit));
            }
        }
        Picture { kind: "outlets".to_owned(), shown, ..Picture::default() }
    }

    const RIGHT: (&str, [f64; 3], &str, Verdict, f64) =
        ("galley", [118.2, 118.3, 0.2], "correct", Verdict::Conforms, 0.0);

    #[test]
    fn the_worst_outlet_stands_first() {
        let drawn = draw(
            &survey(&[
                RIGHT,
                ("outside", [0.2, 0.0, 0.1], "open hot", Verdict::DoesNotConform, 2.0),
                ("bath", [118.0, 1.8, 0.3], "open ground", Verdict::DoesNotConform, 3.0),
                ("bunk", [118.0, 66.0, 40.0], "", Verdict::NoLimit, 0.0),
            ]),
            &Phrases::default(),
        )
        .unwrap();
        let place = |name: &str| drawn.svg.find(&format!(">{name}<")).unwrap();
        assert!(
            place("bath") < place("outside") && place("outside") < place("galley"),
            "{}",
            drawn.svg
        );
        let told = |name: &str| drawn.alt.find(&format!("{name}: ")).unwrap();
        assert!(
            told("bath") < told("outside") && told("outside") < told("galley"),
            "{}",
            drawn.alt
        );
        assert!(drawn.alt.contains("bunk: not told by these voltages"), "{}", drawn.alt);
        assert!(
            drawn.alt.contains("bath: open ground (does not conform), hot–neutral 118 V"),
            "{}",
            drawn.alt
        );
        assert_tidy(&drawn.svg);
    }

    #[test]
    fn what_is_said_of_an_outlet_is_said_once() {
        let mut picture =
            survey(&[("bath", [118.0, 1.8, 0.3], "open ground", Verdict::BeyondGuidance, 3.0)]);
        let told = |picture: &mut Picture, texts: &[(&str, &str)]| {
            for (role, text) in texts {
                picture
                    .shown
                    .insert((*role).to_owned(), vec![said("bath", text, Verdict::NoLimit)]);
            }
            draw(picture, &Phrases::default()).unwrap().alt
        };
        let reasons = "open ground, ground-fault device does not trip";
        let texts =
            [("state", "do not use"), ("reasons", reasons), ("ground_fault", "does not trip")];
        let alt = told(&mut picture, &texts);
        let words = "bath: open ground; do not use; ground-fault device does not trip (beyond";
        assert!(alt.contains(words), "{alt}");
        let alt = told(&mut picture, &[("reasons", ""), ("ground_fault", "trips")]);
        let words = "bath: open ground; do not use; ground-fault device trips (beyond";
        assert!(alt.contains(words), "{alt}");
    }

    #[test]
    fn without_a_rank_the_verdict_decides_and_equals_keep_their_order() {
        let mut picture = survey(&[
            RIGHT,
            ("sofa", RIGHT.1, "correct", Verdict::Conforms, 0.0),
            ("bath", [118.0, 1.8, 0.3], "open ground", Verdict::DoesNotConform, 0.0),
        ]);
        picture.shown.remove("rank");
        let alt = draw(&picture, &Phrases::default()).unwrap().alt;
        let told = |name: &str| alt.find(&format!("{name}: ")).unwrap();
        assert!(told("bath") < told("galley") && told("galley") < told("sofa"), "{alt}");
    }

    /// The scale ends at 150 V for 118 V.
    #[test]
    fn a_bar_is_as_long_as_its_voltage() {
        let drawn = draw(
            &survey(&[("bath", [120.0, 75.0, 0.0], "", Verdict::NoLimit, 0.0)]),
            &Phrases::default(),
        )
        .unwrap();
        for (x, volts) in [(124.0, 120.0), (188.0, 75.0)] {
            let length = number(BAR * volts / 150.0);
            let bar = format!("x=\"{x}\" y=\"33\" width=\"{length}\" height=\"3\" fill=\"{SOFT}\"");
            assert!(drawn.svg.contains(&bar), "{bar} in {}", drawn.svg);
        }
        let none = format!("x=\"252\" y=\"33\" width=\"0\" height=\"3\" fill=\"{SOFT}\"");
        assert!(!drawn.svg.contains(&none));
    }

    #[test]
    fn many_outlets_with_long_names_stay_tidy_and_all_are_told() {
        let names: Vec<String> = (0..60)
            .map(|at| format!("bedroom {at}, behind the headboard and under the overhead cabinet"))
            .collect();
        let outlets: Vec<(&str, [f64; 3], &str, Verdict, f64)> = names
            .iter()
            .map(|name| (name.as_str(), RIGHT.1, "correct", Verdict::Conforms, 0.0))
            .collect();
        let drawn = draw(&survey(&outlets), &Phrases::default()).unwrap();
        assert_tidy(&drawn.svg);
        for name in &names {
            assert!(drawn.alt.contains(name.as_str()), "{name}");
        }
        assert!(drawn.svg.contains("Further outlets"), "{}", drawn.svg);
        assert_eq!(draw(&Picture::default(), &Phrases::default()), None);
    }
}
