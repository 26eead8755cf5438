//! The visit as it was kept: the times of the record in order, beside the walking order of the plan.

use std::collections::BTreeSet;

use inspection::{Moment, Outcome, PointEntry};
use jiff::civil::{Date, Time};
use plan::Phrases;

use crate::content::{Day, Gap, Kept, SiteChange, Step, WaitKept};

use super::{Source, words};

/// Minutes without an entry from which on a gap is named: longer than what a usual point takes.
const GAP: u16 = 15;

/// The visit by its times.
pub(super) fn kept(source: Source<'_>) -> Kept {
    let entered = entered(source);
    let people: BTreeSet<&str> =
        entered.iter().map(|one| one.entry.by.trim()).filter(|by| !by.is_empty()).collect();
    let mut steps: Vec<(Moment, Step)> = Vec::new();
    let mut untimed = Vec::new();
    for one in &entered {
        let id = one.id;
        match one.entry.at {
            None => untimed.push(source.point_title(id)),
            Some(at) => {
                let step = Step {
                    minute: minute(at.local.time()),
                    time: clock(at.local.time()),
                    point: source.point_title(id),
                    stop: source.stop_title(id),
                    planned: one.planned,
                    outcome: source.say(outcome(&one.entry.outcome)),
                    by: if people.len() > 1 { one.entry.by.clone() } else { String::new() },
                };
                steps.push((at, step));
            }
        }
    }
    // What has the same time stands in the plan's order.
    steps.sort_by_key(|(at, step)| (at.local, step.planned));
    let places: Vec<usize> = steps.iter().map(|(_, step)| step.planned).collect();
    let stops = source.plan.stops.iter().map(|stop| stop.title.clone());
    Kept {
        stops: stops.filter(|stop| steps.iter().any(|(_, step)| step.stop == *stop)).collect(),
        order: order(&source.plan.words, &places, untimed.len()),
        days: days(source, &steps),
        untimed,
    }
}

/// A point of the plan that has an entry.
struct Entered<'a> {
    id: &'a str,
    planned: usize,
    entry: &'a PointEntry,
}

fn entered(source: Source<'_>) -> Vec<Entered<'_>> {
    let points = source.assessment.points.iter().enumerate();
    points
        .filter_map(|(at, result)| {
            let entry = source.inspection.points.get(&result.point)?;
            Some(Entered { id: result.point.as_str(), planned: at + 1, entry })
        })
        .collect()
}

fn outcome(outcome: &Outcome) -> &'static str {
    match outcome {
        Outcome::Examined => "",
        Outcome::NotExamined { .. } => "not examined",
        Outcome::NotFitted => "not fitted",
    }
}

fn days(source: Source<'_>, steps: &[(Moment, Step)]) -> Vec<Day> {
    let mut dates: BTreeSet<Date> = steps.iter().map(|(at, _)| at.local.date()).collect();
    let waits = source.inspection.waits.values();
    dates.extend(waits.filter_map(|wait| Some(wait.started?.local.date())));
    dates
        .into_iter()
        .map(|date| {
            let steps: Vec<Step> = steps
                .iter()
                .filter(|(at, _)| at.local.date() == date)
                .map(|(_, step)| step.clone())
                .collect();
            let (waits, changes) = (waits_of(source, date), changes(source, date));
            let gaps = gaps(&source.plan.words, &steps, &waits, &changes);
            Day { day: source.day(date), steps, waits, changes, gaps }
        })
        .collect()
}

/// The waits that ran on a day, by their starts.
fn waits_of(source: Source<'_>, date: Date) -> Vec<WaitKept> {
    let on_day = |moment: Option<Moment>| moment.filter(|it| it.local.date() == date);
    let mut kept: Vec<WaitKept> = source
        .inspection
        .waits
        .values()
        .filter(|wait| on_day(wait.started).is_some() || on_day(wait.ended).is_some())
        .map(|wait| {
            let (started, ended) = (on_day(wait.started), on_day(wait.ended));
            let id = wait.point.as_str();
            let planned = source.plan.point(id).and_then(|point| point.wait.as_ref());
            let (from, to) = (started.map(time), ended.map(time));
            let span = match (from, to) {
                (Some(from), Some(to)) => {
                    let long = minute(to).saturating_sub(minute(from));
                    let with = [("from", clock(from)), ("to", clock(to)), ("length", length(long))];
                    said(source, "{from} to {to} ({length})", &with)
                }
                (Some(from), None) => {
                    said(source, "from {from}, no end on that day", &[("from", clock(from))])
                }
                (None, Some(to)) => {
                    said(source, "until {to}, begun on an earlier day", &[("to", clock(to))])
                }
                (None, None) => String::new(),
            };
            let what = planned.map_or(String::new(), |planned| {
                let long = |minutes: u32| length(minutes.try_into().unwrap_or(u16::MAX));
                let mut with =
                    vec![("least", long(planned.minutes)), ("what", planned.what.clone())];
                let form = match planned.at_most {
                    None => "planned: {least} at least, {what}",
                    Some(most) => {
                        with.push(("most", long(most)));
                        "planned: {least} at least and at most {most}, {what}"
                    }
                };
                format!("; {}", said(source, form, &with))
            });
            WaitKept {
                point: source.point_title(id),
                from: from.map_or(0, minute),
                to: to.map(minute),
                words: format!("{span}{what}"),
            }
        })
        .collect();
    kept.sort_by(|one, other| (one.from, &one.point).cmp(&(other.from, &other.point)));
    kept
}

fn changes(source: Source<'_>, date: Date) -> Vec<SiteChange> {
    let mut changes: Vec<SiteChange> = source
        .inspection
        .site_states
        .iter()
        .filter_map(|change| {
            let at = change.at.filter(|at| at.local.date() == date)?;
            let known = source.plan.site_states.iter().find(|state| state.id == change.state);
            let title = known.map_or_else(|| words::plain(&change.state), |one| one.title.clone());
            let now = source.say(if change.on { "yes" } else { "no" });
            let words = format!("{} {title}: {now}", clock(time(at)));
            Some(SiteChange { minute: minute(time(at)), words })
        })
        .collect();
    changes.sort_by_key(|change| change.minute);
    changes
}

/// Spans without an entry, each with what ran meanwhile.
fn gaps(say: &Phrases, steps: &[Step], waits: &[WaitKept], changes: &[SiteChange]) -> Vec<Gap> {
    let mut times: Vec<u16> = steps.iter().map(|step| step.minute).collect();
    times.extend(waits.iter().map(|wait| wait.from).filter(|from| *from > 0));
    times.extend(waits.iter().filter_map(|wait| wait.to));
    times.extend(changes.iter().map(|change| change.minute));
    times.sort_unstable();
    times
        .windows(2)
        .filter_map(|pair| {
            let &[from, to] = pair else { return None };
            if to - from < GAP {
                return None;
            }
            let ran: Vec<&str> = waits
                .iter()
                .filter(|wait| wait.from <= from && wait.to.is_none_or(|end| end >= to))
                .map(|wait| wait.point.as_str())
                .collect();
            let ran = if ran.is_empty() {
                say.say("nothing ran unattended")
            } else {
                say.say_with("meanwhile: {points}", &[("points", &ran.join(", "))])
            };
            let words = say.say_with(
                "{from} to {to} ({length}), no entry; {ran}",
                &[
                    ("from", &clock_of(from)),
                    ("to", &clock_of(to)),
                    ("length", &length(to - from)),
                    ("ran", &ran),
                ],
            );
            Some(Gap { from, to, words })
        })
        .collect()
}

/// How the order in which points were settled compares with the plan's.
fn order(say: &Phrases, places: &[usize], untimed: usize) -> String {
    if places.is_empty() {
        return String::new();
    }
    let moved = places.len() - longest_in_order(places);
    let counted = |count: usize, one: &str, several: &str| {
        say.say_with(if count == 1 { one } else { several }, &[("count", &count.to_string())])
    };
    let first = counted(
        places.len(),
        "{count} point was settled at a known time.",
        "{count} points were settled at a known time.",
    );
    let then = match (moved, places.len()) {
        (0, 1) => say.say("It follows the plan's walking order."),
        (0, _) => say.say("They follow the plan's walking order."),
        (moved, _) => counted(
            moved,
            "{count} stands at another place than in the plan's walking order.",
            "{count} stand at another place than in the plan's walking order.",
        ),
    };
    let rest = if untimed == 0 {
        String::new()
    } else {
        let more = "Of {count} more the record does not say when.";
        format!(" {}", counted(untimed, more, more))
    };
    format!("{first} {then}{rest}")
}

/// A phrase with its gaps filled, in the report's language.
fn said(source: Source<'_>, english: &str, with: &[(&str, String)]) -> String {
    let with: Vec<(&str, &str)> =
        with.iter().map(|(name, value)| (*name, value.as_str())).collect();
    source.say_with(english, &with)
}

/// How many places at most follow each other in rising order: the rest was moved.
fn longest_in_order(places: &[usize]) -> usize {
    // For each length, the least place on which a row of that length can end.
    let mut ends: Vec<usize> = Vec::new();
    for place in places {
        let at = ends.partition_point(|end| end < place);
        match ends.get_mut(at) {
            Some(end) => *end = *place,
            None => ends.push(*place),
        }
    }
    ends.len()
}

fn time(moment: Moment) -> Time {
    moment.local.time()
}

fn minute(time: Time) -> u16 {
    let part = |number: i8| u16::try_from(number).unwrap_or(0);
    part(time.hour()) * 60 + part(time.minute())
}

fn clock(time: Time) -> String {
    clock_of(minute(time))
}

fn clock_of(minute: u16) -> String {
    format!("{}:{:02}", minute / 60, minute % 60)
}

/// A length of time: `12 min`, `1 h 5 min`.
fn length(minutes: u16) -> String {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn step(minute: u16) -> Step {
        Step { minute, ..Step::default() }
    }

    #[test]
    fn as_few_points_as_possible_count_as_moved() {
        assert_eq!(longest_in_order(&[1, 2, 3]), 3);
        assert_eq!(longest_in_order(&[5, 1, 2, 3, 4]), 4);
        assert_eq!(longest_in_order(&[3, 2, 1]), 1);
        assert_eq!(
            order(&Phrases::default(), &[5, 1, 2, 3, 4], 0),
            "5 points were settled at a known time. 1 stands at another place than in the plan's walking order."
        );
        assert_eq!(
            order(&Phrases::default(), &[1], 2),
            "1 point was settled at a known time. It follows the plan's walking order. Of 2 more the record does not say when."
        );
        assert_eq!(order(&Phrases::default(), &[], 9), "");
    }

    #[test]
    fn a_gap_is_named_with_what_ran_meanwhile() {
        let wait =
            WaitKept { point: "Tank".into(), from: 540, to: Some(600), ..WaitKept::default() };
        let steps = [step(545), step(559), step(575), step(600)];
        let gaps = gaps(&Phrases::default(), &steps, &[wait], &[]);
        let told: Vec<&str> = gaps.iter().map(|gap| gap.words.as_str()).collect();
        assert_eq!(
            told,
            [
                "9:19 to 9:35 (16 min), no entry; meanwhile: Tank",
                "9:35 to 10:00 (25 min), no entry; meanwhile: Tank"
            ]
        );
        assert_eq!(
            super::gaps(&Phrases::default(), &[step(10), step(30)], &[], &[])[0].words,
            "0:10 to 0:30 (20 min), no entry; nothing ran unattended"
        );
    }

    #[test]
    fn lengths_read_as_people_say_them() {
        assert_eq!(
            [length(0), length(59), length(60), length(125)],
            ["0 min", "59 min", "1 h", "2 h 5 min"]
        );
    }
}
