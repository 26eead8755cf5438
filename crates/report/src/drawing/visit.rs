//! A day of the visit over time: a row a stop in the plan's walking order, a mark for each point when it was settled,
//! and what ran unattended beneath.
//!
//! Who follows the plan goes down the rows; each step back up is a deviation that one can see.

use plan::Phrases;

use crate::content::{Day, Step};

use super::lettering::shortened;
use super::{Drawn, INK, SOFT, Svg, number};

const WIDTH: f64 = 500.0;
const LEFT: f64 = 132.0;
const RIGHT: f64 = 490.0;
const TOP: f64 = 26.0;
const ROW: f64 = 12.5;
const BAND: &str = "#eef0f3";
const RAN: &str = "#0b5a6b";

/// Draws a day; `stops` are the rows, of which only those are drawn where something was settled. None where nothing has a
/// time.
#[must_use]
pub fn visit(day: &Day, stops: &[String], say: &Phrases) -> Option<Drawn> {
    let clock = Clock::of(day)?;
    let rows: Vec<&str> = stops
        .iter()
        .map(String::as_str)
        .filter(|stop| day.steps.iter().any(|step| step.stop == *stop))
        .collect();
    let waits_top = TOP + row_count(rows.len()) + 10.0;
    let bottom = waits_top + row_count(day.waits.len());
    let mut svg = Svg::new(WIDTH, 0.0).in_words(say);
    for gap in &day.gaps {
        let (from, to) = (clock.x(gap.from), clock.x(gap.to));
        svg.element(
            "rect",
            &[
                ("x", &number(from)),
                ("y", &number(TOP)),
                ("width", &number(to - from)),
                ("height", &number(bottom - TOP)),
                ("fill", BAND),
            ],
        );
    }
    clock.draw(&mut svg, bottom);
    for (at, stop) in rows.iter().enumerate() {
        label(&mut svg, TOP + row_count(at), stop);
    }
    steps(&mut svg, &day.steps, &rows, &clock);
    for (at, wait) in day.waits.iter().enumerate() {
        let top = waits_top + row_count(at);
        label(&mut svg, top, &wait.point);
        let (from, to) = (clock.x(wait.from), wait.to.map_or(RIGHT, |to| clock.x(to)));
        let mut bar = vec![
            ("fill", if wait.to.is_some() { RAN } else { "#ffffff" }),
            ("stroke", RAN),
            ("stroke-width", "1"),
        ];
        // One whose end nobody entered is not drawn as if it had one.
        if wait.to.is_none() {
            bar.push(("stroke-dasharray", "3 2"));
        }
        let (x, y, width) = (number(from), number(top + 2.5), number((to - from).max(1.5)));
        let mut all = vec![("x", x.as_str()), ("y", &y), ("width", &width), ("height", "7")];
        all.extend(bar);
        svg.element("rect", &all);
    }
    Some(Drawn { svg: svg.finish_at(WIDTH, bottom + 6.0), alt: alt(day, say) })
}

fn alt(day: &Day, say: &Phrases) -> String {
    let over_time = say.say_with("{day} over time", &[("day", &day.day)]);
    let mut parts = vec![format!("{over_time}: ")];
    if let Some((first, last)) = day.steps.first().zip(day.steps.last()) {
        let count = day.steps.len().to_string();
        let with = [("count", count.as_str()), ("from", &first.time), ("to", &last.time)];
        parts.push(format!("{}. ", say.say_with("{count} points from {from} to {to}", &with)));
    }
    if !day.waits.is_empty() {
        let waits: Vec<String> =
            day.waits.iter().map(|wait| format!("{} {}", wait.point, wait.words)).collect();
        parts.push(format!("{}: {}. ", say.say("Unattended"), waits.join("; ")));
    }
    if !day.gaps.is_empty() {
        let gaps: Vec<&str> = day.gaps.iter().map(|gap| gap.words.as_str()).collect();
        parts.push(format!("{}: {}.", say.say("Gaps"), gaps.join("; ")));
    }
    parts.concat().trim_end().to_owned()
}

fn row_count(rows: usize) -> f64 {
    f64::from(u16::try_from(rows).unwrap_or(u16::MAX)) * ROW
}

fn label(svg: &mut Svg, top: f64, text: &str) {
    let text = shortened(text, 8.0, LEFT - 12.0);
    svg.words(
        (LEFT - 8.0, top + 8.8),
        &text,
        &[("font-size", "8"), ("fill", INK), ("text-anchor", "end")],
    );
}

/// The way through the rows, and a mark for each point.
fn steps(svg: &mut Svg, steps: &[Step], rows: &[&str], clock: &Clock) {
    let at = |step: &Step| {
        let row = rows.iter().position(|row| *row == step.stop)?;
        Some((clock.x(step.minute), TOP + row_count(row) + ROW / 2.0))
    };
    let places: Vec<(f64, f64)> = steps.iter().filter_map(at).collect();
    if let Some((first, rest)) = places.split_first() {
        let mut path = format!("M{} {}", number(first.0), number(first.1));
        for (x, y) in rest {
            path.push_str(&format!("L{} {}", number(*x), number(*y)));
        }
        svg.path(
            &path,
            &[
                ("fill", "none"),
                ("stroke", SOFT),
                ("stroke-width", "0.6"),
                ("stroke-linejoin", "round"),
            ],
        );
    }
    for step in steps {
        let Some((x, y)) = at(step) else { continue };
        let examined = step.outcome.is_empty();
        let fill = if examined { INK } else { "#ffffff" };
        svg.circle(x, y, 2.2, &[("fill", fill), ("stroke", INK), ("stroke-width", "0.8")]);
    }
}

/// The time axis of a day: whole hours or parts of them.
struct Clock {
    from: u16,
    to: u16,
    step: u16,
}

impl Clock {
    fn of(day: &Day) -> Option<Self> {
        let steps = day.steps.iter().map(|step| step.minute);
        let waits = day.waits.iter().flat_map(|wait| [Some(wait.from), wait.to]).flatten();
        let all: Vec<u16> = steps.chain(waits).collect();
        let (first, last) = (*all.iter().min()?, *all.iter().max()?);
        let step = match last - first {
            0..=90 => 15,
            91..=240 => 30,
            241..=600 => 60,
            _ => 120,
        };
        let from = first / step * step;
        Some(Self { from, to: (last / step + 1) * step, step })
    }

    fn x(&self, minute: u16) -> f64 {
        let share = (f64::from(minute) - f64::from(self.from)) / f64::from(self.to - self.from);
        LEFT + share.clamp(0.0, 1.0) * (RIGHT - LEFT)
    }

    fn draw(&self, svg: &mut Svg, bottom: f64) {
        let mut tick = self.from;
        while tick <= self.to {
            let x = self.x(tick);
            svg.line(
                (x, TOP - 4.0),
                (x, bottom),
                &[("stroke", "#c5cbd3"), ("stroke-width", "0.5")],
            );
            let words = format!("{}:{:02}", tick / 60, tick % 60);
            svg.words(
                (x, TOP - 9.0),
                &words,
                &[("font-size", "8"), ("fill", SOFT), ("text-anchor", "middle")],
            );
            tick += self.step;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::content::{Gap, WaitKept};

    fn day() -> Day {
        let step = |minute: u16, stop: &str| Step {
            minute,
            time: format!("{}:{:02}", minute / 60, minute % 60),
            stop: stop.into(),
            ..Step::default()
        };
        Day {
            day: "June 12, 2026".into(),
            steps: vec![step(545, "Front"), step(560, "Rear"), step(600, "Front")],
            waits: vec![
                WaitKept {
                    point: "Tank".into(),
                    from: 550,
                    to: Some(590),
                    words: "9:10 to 9:50".into(),
                },
                WaitKept { point: "Cold".into(), from: 555, to: None, words: "from 9:15".into() },
            ],
            changes: Vec::new(),
            gaps: vec![Gap { from: 560, to: 600, words: "9:20 to 10:00, no entry".into() }],
        }
    }

    #[test]
    fn each_point_stands_at_its_time_in_the_row_of_its_stop() {
        let stops = ["Front".to_owned(), "Elsewhere".to_owned(), "Rear".to_owned()];
        let drawn = visit(&day(), &stops, &Phrases::default()).unwrap();
        // From 9:00 to 10:15 over 358 units: 9:05 is a fifteenth of the way.
        let x = number(LEFT + 5.0 / 75.0 * (RIGHT - LEFT));
        assert!(drawn.svg.contains(&format!("cx=\"{x}\" cy=\"{}\"", number(TOP + ROW / 2.0))));
        let x = number(LEFT + 20.0 / 75.0 * (RIGHT - LEFT));
        assert!(drawn.svg.contains(&format!("cx=\"{x}\" cy=\"{}\"", number(TOP + 1.5 * ROW))));
        assert!(!drawn.svg.contains("Elsewhere"));
        assert!(drawn.alt.contains("3 points from 9:05 to 10:00"), "{}", drawn.alt);
        assert!(drawn.alt.contains("Gaps: 9:20 to 10:00, no entry."), "{}", drawn.alt);
    }

    #[test]
    fn a_wait_without_an_end_is_not_drawn_as_if_it_had_one() {
        let drawn = visit(&day(), &["Front".to_owned()], &Phrases::default()).unwrap();
        assert_eq!(drawn.svg.matches("stroke-dasharray").count(), 1);
        assert_eq!(visit(&Day::default(), &[], &Phrases::default()), None);
    }
}
