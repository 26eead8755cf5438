//! Circles, windows that cannot be met, waits that cannot be ended in time.

use std::collections::BTreeMap;

use super::{Fault, FaultKind, Problem, needs::guards};
use crate::Ticks;
use crate::ticks::{NEVER, length_in_words};

/// One act before another, with the least time from the end of the first to the start of the second.
struct Arrow<'a> {
    first: &'a str,
    then: &'a str,
    gap: Ticks,
}

pub(super) fn faults(problem: &Problem) -> Vec<Fault> {
    let arrows = arrows(problem);
    let order = match in_order(problem, &arrows) {
        Ok(order) => order,
        Err(circle) => {
            let written: Vec<String> = circle.iter().map(|act| format!("`{act}`")).collect();
            let sentence = if circle.len() == 1 {
                format!("{} would have to come before itself", written[0])
            } else {
                format!("these must each come before the next, in a circle: {}", written.join(", "))
            };
            return vec![Fault::new(FaultKind::Circle, &circle, sentence)];
        }
    };
    let mut faults = late_windows(problem, &arrows, &order);
    faults.extend(long_waits(problem, &arrows, &order));
    faults
}

/// Everything that puts one act before another: orders, waits, and guards of what it needs.
fn arrows(problem: &Problem) -> Vec<Arrow<'_>> {
    let walks = shortest_walks(problem);
    let place = |id: &str| {
        let act = problem.act(id)?;
        problem.places.iter().position(|place| *place == act.place)
    };
    // Two people need not walk between two acts: each may do one.
    let walk = |first: &str, then: &str| match (place(first), place(then)) {
        (Some(from), Some(to)) if problem.people.len() == 1 => walks[from][to],
        _ => 0,
    };
    let mut arrows: Vec<Arrow<'_>> = problem
        .orders
        .iter()
        .map(|order| (order.first.as_str(), order.then.as_str(), 0))
        .chain(problem.waits.iter().map(|wait| (&*wait.opens, &*wait.closes, wait.at_least)))
        .map(|(first, then, gap)| Arrow { first, then, gap: gap.max(walk(first, then)) })
        .collect();
    for act in &problem.acts {
        let opened = problem.waits.iter().filter(|wait| wait.opens == act.id);
        let needs = act.needs.iter().chain(opened.flat_map(|wait| &wait.keeps));
        for guard in needs.flat_map(|need| guards(problem, need)) {
            arrows.push(Arrow { first: guard, then: &act.id, gap: walk(guard, &act.id) });
        }
    }
    arrows
}

/// Walking times with every short cut through a third place.
fn shortest_walks(problem: &Problem) -> Vec<Vec<Ticks>> {
    let mut walks = problem.walks.clone();
    for through in 0..walks.len() {
        for from in 0..walks.len() {
            for to in 0..walks.len() {
                walks[from][to] = walks[from][to].min(walks[from][through] + walks[through][to]);
            }
        }
    }
    walks
}

/// The acts with every one after those before it, or a circle.
fn in_order<'a>(problem: &'a Problem, arrows: &[Arrow<'a>]) -> Result<Vec<&'a str>, Vec<&'a str>> {
    let mut waiting: Vec<&str> = problem.acts.iter().map(|act| act.id.as_str()).collect();
    let mut before: BTreeMap<&str, usize> = waiting.iter().map(|&id| (id, 0)).collect();
    for arrow in arrows {
        *before.entry(arrow.then).or_default() += 1;
    }
    let mut order = Vec::new();
    while !waiting.is_empty() {
        let Some(free) = waiting.iter().position(|id| before[id] == 0) else {
            return Err(circle(&waiting, arrows));
        };
        let act = waiting.remove(free);
        for arrow in arrows.iter().filter(|arrow| arrow.first == act) {
            *before.entry(arrow.then).or_default() -= 1;
        }
        order.push(act);
    }
    Ok(order)
}

/// A circle among acts each of which waits for another of them: from any of them always to the
/// first that it waits for, until one comes again.
fn circle<'a>(waiting: &[&'a str], arrows: &[Arrow<'a>]) -> Vec<&'a str> {
    let mut path: Vec<&str> = vec![waiting[0]];
    loop {
        let last = path[path.len() - 1];
        let earlier = arrows
            .iter()
            .find(|arrow| arrow.then == last && waiting.contains(&arrow.first))
            .map_or(last, |arrow| arrow.first);
        if let Some(seen) = path.iter().position(|&act| act == earlier) {
            let mut circle = path.split_off(seen);
            circle.reverse();
            return circle;
        }
        path.push(earlier);
    }
}

/// Each act's earliest start when only what comes before it counts, and the act that decides it.
fn earliest<'a>(
    problem: &Problem,
    arrows: &[Arrow<'a>],
    order: &[&'a str],
    from: &BTreeMap<&'a str, Ticks>,
    windows: bool,
) -> BTreeMap<&'a str, (Ticks, Option<&'a str>)> {
    let mut starts: BTreeMap<&str, (Ticks, Option<&str>)> = BTreeMap::new();
    for &id in order {
        let mut best = from.get(id).map(|&start| (start, None));
        for arrow in arrows.iter().filter(|arrow| arrow.then == id) {
            let Some(&(start, _)) = starts.get(arrow.first) else { continue };
            let length = problem.act(arrow.first).map_or(0, |act| act.ticks);
            let start = start + length + arrow.gap;
            if best.is_none_or(|(other, _)| start > other) {
                best = Some((start, Some(arrow.first)));
            }
        }
        let Some((mut start, by)) = best else { continue };
        if let Some(act) = problem.act(id)
            && windows
        {
            let fits = act.windows.iter().filter(|window| start + act.ticks <= window.to);
            start = fits.map(|window| window.from.max(start)).min().unwrap_or(start);
        }
        starts.insert(id, (start, by));
    }
    starts
}

/// Acts whose window is over before what comes before them can be done.
fn late_windows<'a>(problem: &'a Problem, arrows: &[Arrow<'a>], order: &[&'a str]) -> Vec<Fault> {
    let from: BTreeMap<&str, Ticks> = order.iter().map(|&id| (id, 0)).collect();
    let starts = earliest(problem, arrows, order, &from, true);
    let mut faults = Vec::new();
    for act in problem.acts.iter().filter(|act| !act.windows.is_empty()) {
        let Some(&(start, _)) = starts.get(act.id.as_str()) else { continue };
        if act.windows.iter().any(|window| start.max(window.from) + act.ticks <= window.to) {
            continue;
        }
        let mut chain = vec![act.id.as_str()];
        while let Some((_, Some(earlier))) = starts.get(chain[chain.len() - 1]) {
            chain.push(earlier);
        }
        chain.reverse();
        let last = act.windows.iter().map(|window| window.to).max().unwrap_or(NEVER);
        let longest = act.windows.iter().map(|window| window.to - window.from).max().unwrap_or(0);
        let sentence = if longest < act.ticks {
            format!(
                "`{}` takes {}, longer than any of its windows",
                act.id,
                length_in_words(act.ticks)
            )
        } else if chain.len() == 1 {
            format!("`{}` has no window that it fits into", act.id)
        } else {
            format!(
                "`{}` must end within {} of the start, and after {} it ends {} after the start at \
                 the earliest",
                act.id,
                length_in_words(last),
                chain[..chain.len() - 1]
                    .iter()
                    .map(|id| format!("`{id}`"))
                    .collect::<Vec<_>>()
                    .join(", "),
                length_in_words(start + act.ticks)
            )
        };
        faults.push(Fault::new(FaultKind::Window, &chain, sentence));
    }
    faults
}

/// Waits that must end before what has to be done meanwhile can be.
fn long_waits<'a>(problem: &'a Problem, arrows: &[Arrow<'a>], order: &[&'a str]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for wait in &problem.waits {
        let Some(at_most) = wait.at_most else { continue };
        let opening = problem.act(&wait.opens).map_or(0, |act| act.ticks);
        let from = BTreeMap::from([(wait.opens.as_str(), -opening)]);
        let starts = earliest(problem, arrows, order, &from, false);
        let Some(&(gap, _)) = starts.get(wait.closes.as_str()) else { continue };
        if gap <= at_most {
            continue;
        }
        let mut chain = vec![wait.closes.as_str()];
        while let Some((_, Some(earlier))) = starts.get(chain[chain.len() - 1]) {
            chain.push(earlier);
        }
        chain.reverse();
        let sentence = if wait.at_least > at_most {
            format!(
                "the wait from `{}` to `{}` has a latest return before its earliest",
                wait.opens, wait.closes
            )
        } else {
            format!(
                "`{}` must start within {} after `{}`, and what comes between takes {}: {}",
                wait.closes,
                length_in_words(at_most),
                wait.opens,
                length_in_words(gap),
                chain.iter().map(|id| format!("`{id}`")).collect::<Vec<_>>().join(", ")
            )
        };
        faults.push(Fault::new(FaultKind::Wait, &chain, sentence));
    }
    faults
}
