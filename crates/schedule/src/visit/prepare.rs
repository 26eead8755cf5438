//! A plan and a record become a problem: which points, in which places, with which waits and needs.

use std::collections::{BTreeMap, BTreeSet};

use inspection::{Inspection, Moment, Outcome, PointEntry};
use jiff::civil::DateTime;
use plan::{Plan, Point, Stop};

use super::site::{SITES, Site, WORDS};
use super::{Circumstances, Visit, policy, ticks_between, walking, window};
use crate::Ticks;
use crate::problem::{
    Act, Change, Fault, Need, Order, Problem, Progress, SiteState, Span, Wait, Why, Window, check,
};
use crate::schedule::Task;
use crate::ticks::TICKS_PER_MINUTE;

/// Minutes for a change of a site state that no table knows.
const UNKNOWN_CHANGE: Ticks = 2;

/// Makes a visit of a plan and what is recorded. Points that were examined are done, points that were not
/// examined are left out with their reasons, waits run since they were started, and site states are as the
/// record has them last.
///
/// # Errors
/// Every fault that keeps the visit from being planned.
pub fn prepare(
    plan: &Plan,
    inspection: &Inspection,
    circumstances: &Circumstances,
) -> Result<Visit, Vec<Fault>> {
    let dwelling = &inspection.dwelling;
    let points: Vec<&Point> = plan
        .points_for(dwelling.kind, &dwelling.equipment)
        .filter(|point| {
            let entry = inspection.points.get(point.id.as_str());
            entry.is_none_or(|entry| entry.outcome != Outcome::NotFitted)
        })
        .collect();
    let mut builder = Builder { plan, circumstances, points, visit: empty(circumstances) };
    builder.places(inspection);
    builder.acts();
    builder.orders();
    builder.states();
    builder.progress(inspection);
    let faults = check(&builder.visit.problem);
    if faults.is_empty() { Ok(builder.visit) } else { Err(faults) }
}

fn empty(circumstances: &Circumstances) -> Visit {
    Visit {
        problem: Problem { people: circumstances.people.clone(), ..Problem::default() },
        progress: Progress::default(),
        start: circumstances.start,
        titles: BTreeMap::new(),
        cautions: BTreeMap::new(),
        waits: BTreeMap::new(),
        walking_order: Vec::new(),
    }
}

/// The id of the act that returns after a wait; the first act has the point's own.
fn return_id(point: &str) -> String {
    format!("{point}.return")
}

struct Builder<'a> {
    plan: &'a Plan,
    circumstances: &'a Circumstances,
    points: Vec<&'a Point>,
    visit: Visit,
}

impl Builder<'_> {
    fn has(&self, point: &str) -> bool {
        self.points.iter().any(|one| one.id == point)
    }

    /// Stops that are used, and the walks between them.
    fn places(&mut self, inspection: &Inspection) {
        let words: BTreeSet<&str> =
            self.points.iter().flat_map(|point| &point.needs).map(String::as_str).collect();
        let changes = SITES.iter().flat_map(|site| site.changes);
        let of_changes: BTreeSet<&str> =
            if words.is_empty() { BTreeSet::new() } else { changes.map(|one| one.stop).collect() };
        let used = |stop: &Stop| {
            of_changes.contains(stop.id.as_str())
                || self.points.iter().any(|point| point.stop == stop.id)
        };
        let mut stops: Vec<&Stop> = self.plan.stops.iter().filter(|stop| used(stop)).collect();
        if stops.is_empty() {
            stops = self.plan.stops.iter().take(1).collect();
        }
        let problem = &mut self.visit.problem;
        problem.name.clone_from(&self.plan.id);
        problem.walks = walking::walks(&stops, &inspection.dwelling.outline);
        problem.places = stops.iter().map(|stop| stop.id.clone()).collect();
        problem.start = problem.places.first().cloned().unwrap_or_default();
        problem.end = problem.start.clone();
        for stop in stops {
            self.visit.titles.insert(stop.id.clone(), stop.title.clone());
        }
    }

    /// When a point may be examined, wholly inside one span; empty for any time.
    fn windows(&self, point: &Point) -> Vec<Window> {
        let day = self.circumstances;
        let stop = self.plan.stop(&point.stop);
        let spans = [
            day.light.filter(|_| stop.is_some_and(walking::is_outdoors)),
            day.dry.filter(|_| point.stop == "roof"),
            day.owner.filter(|_| point.stop == "papers"),
        ];
        let spans = spans.into_iter().flatten().map(|span| window(day.start, span));
        let common = spans.reduce(|one, other| Window {
            from: one.from.max(other.from),
            to: one.to.min(other.to).max(one.from.max(other.from)),
        });
        common.into_iter().collect()
    }

    /// One act a point; two where something runs unattended between them.
    fn acts(&mut self) {
        for point in self.points.clone() {
            // A tick is half a minute, and so is the least that a point's time is told in.
            let whole = Ticks::try_from(point.minutes.0).unwrap_or(Ticks::MAX / 4).max(1);
            let act = |id: &str, ticks: Ticks| Act {
                id: id.to_owned(),
                place: point.stop.clone(),
                ticks,
                needs: needs(&point.needs),
                stirs: policy::stirs(point).into_iter().map(str::to_owned).collect(),
                windows: self.windows(point),
                ..Act::default()
            };
            let mut acts = Vec::new();
            if let Some(wait) = &point.wait {
                let first = whole - whole / 2;
                let back = return_id(&point.id);
                acts.push(act(&point.id, first));
                acts.push(act(&back, (whole / 2).max(1)));
                let minutes = |minutes: u32| {
                    Ticks::try_from(minutes)
                        .unwrap_or(Ticks::MAX / 4)
                        .saturating_mul(TICKS_PER_MINUTE)
                };
                let quiet = policy::quiet(&wait.untouched);
                self.visit.problem.waits.push(Wait {
                    opens: point.id.clone(),
                    closes: back.clone(),
                    at_least: minutes(wait.minutes),
                    at_most: wait.at_most.map(minutes),
                    keeps: needs(&point.needs),
                    quiet: quiet.into_iter().map(str::to_owned).collect(),
                    claims: Vec::new(),
                });
                self.visit.waits.insert(back.clone(), (wait.what.clone(), wait.untouched.clone()));
                self.visit.titles.insert(back, format!("{}, reading", point.title));
            } else {
                acts.push(act(&point.id, whole));
            }
            self.visit.titles.insert(point.id.clone(), point.title.clone());
            for act in acts {
                if !point.caution.is_empty() {
                    self.visit.cautions.insert(act.id.clone(), point.caution.clone());
                }
                self.visit.walking_order.push(Task::Act(act.id.clone()));
                self.visit.problem.acts.push(act);
            }
        }
    }

    /// The last act of a point: what comes after the point comes after it.
    fn last_act(&self, point: &str) -> String {
        let back = return_id(point);
        if self.visit.waits.contains_key(&back) { back } else { point.to_owned() }
    }

    fn orders(&mut self) {
        let mut orders: Vec<Order> = Vec::new();
        for point in &self.points {
            let first_uses = policy::FIRST_USE
                .iter()
                .filter(|(word, first)| {
                    *first != point.id && point.needs.iter().any(|need| need == word)
                })
                .map(|&(_, first)| first);
            let away = policy::AWAY.contains(&point.stop.as_str());
            let before_all = policy::BEFORE_ALL.iter().copied();
            let before_all = before_all.take_while(|&one| one != point.id && !away);
            let all =
                point.after.iter().map(String::as_str).chain(first_uses).map(|one| (one, true));
            for (earlier, named) in all.chain(before_all.map(|one| (one, false))) {
                if !self.has(earlier) || earlier == point.id {
                    continue;
                }
                let there =
                    |order: &Order| order.then == point.id && order.first == self.last_act(earlier);
                if !named && orders.iter().any(there) {
                    continue;
                }
                let safety = named && policy::PROTECTIVE.contains(&earlier);
                let order = Order {
                    first: self.last_act(earlier),
                    then: point.id.clone(),
                    why: if safety { Why::Safety } else { Why::Sequence },
                };
                // The other way round it would be a circle: what the first use itself waits for goes first.
                let circle = leads_to(&self.points, earlier, &point.id);
                if !orders.contains(&order) && !circle {
                    orders.push(order);
                }
            }
        }
        self.visit.problem.orders = orders;
    }

    /// The states that acts need, and those that their changes need.
    fn states(&mut self) {
        let mut wanted: BTreeSet<String> = self
            .visit
            .problem
            .acts
            .iter()
            .flat_map(|act| &act.needs)
            .map(|need| need.state.clone())
            .collect();
        for _ in 0..SITES.len() {
            let needed = SITES
                .iter()
                .filter(|site| wanted.contains(site.state))
                .flat_map(|site| site.changes)
                .flat_map(|change| change.needs)
                .map(|word| state_and_value(word).0);
            let needed: Vec<String> = needed.collect();
            wanted.extend(needed);
        }
        for id in wanted {
            let state = match SITES.iter().find(|site| site.state == id) {
                Some(site) => self.known_state(site),
                None => self.unknown_state(&id),
            };
            self.visit.problem.states.push(state);
        }
    }

    fn known_state(&mut self, site: &Site) -> SiteState {
        let visit = &mut self.visit;
        visit.titles.insert(site.state.to_owned(), site.title.to_owned());
        let changes = site.changes.iter().map(|change| {
            if !change.caution.is_empty() {
                let key = format!("{} {}", site.state, change.to);
                visit.cautions.insert(key, change.caution.to_owned());
            }
            let there = visit.problem.places.iter().any(|place| place == change.stop);
            // What guards a change must not need what the change brings.
            let guards = change.after.iter().filter(|&&guard| {
                let point = self.points.iter().find(|point| point.id == guard);
                let brought = |word: &String| state_and_value(word).0 == site.state;
                point.is_some_and(|point| !point.needs.iter().any(brought))
                    || point.is_some_and(|point| {
                        let mut needs = point.needs.iter().filter(|word| brought(word));
                        needs.all(|word| state_and_value(word).1 == site.found)
                    })
            });
            Change {
                to: change.to.to_owned(),
                place: if there { change.stop.to_owned() } else { visit.problem.start.clone() },
                ticks: change.minutes * TICKS_PER_MINUTE,
                needs: needs(change.needs),
                after: guards.map(|&guard| guard.to_owned()).collect(),
                clears: change.clears.iter().map(|&one| one.to_owned()).collect(),
                skill: None,
            }
        });
        let changes: Vec<Change> = changes.collect();
        SiteState {
            id: site.state.to_owned(),
            found: site.found.to_owned(),
            leave: site.restored.then(|| site.found.to_owned()),
            changes,
        }
    }

    fn unknown_state(&mut self, id: &str) -> SiteState {
        let named = self.plan.site_states.iter().find(|named| named.id == id);
        let title = named.map_or_else(|| id.replace('_', " "), |named| named.title.clone());
        self.visit.titles.insert(id.to_owned(), title);
        let change = |to: &str| Change {
            to: to.to_owned(),
            place: self.visit.problem.start.clone(),
            ticks: UNKNOWN_CHANGE * TICKS_PER_MINUTE,
            ..Change::default()
        };
        SiteState {
            id: id.to_owned(),
            found: "no".to_owned(),
            leave: Some("no".to_owned()),
            changes: vec![change("yes"), change("no")],
        }
    }

    /// Where the visit stands by the record.
    fn progress(&mut self, inspection: &Inspection) {
        let start = self.circumstances.start;
        let at = |moment: Option<Moment>, usual: DateTime| {
            ticks_between(start, moment.map_or(usual, |moment| moment.local))
        };
        let mut progress = Progress {
            now: ticks_between(start, self.circumstances.now).max(0),
            ..Progress::default()
        };
        let mut last: Option<(Ticks, String)> = None;
        for point in &self.points {
            let Some(entry) = inspection.points.get(point.id.as_str()) else { continue };
            self.enter(point, entry, at(entry.at, start), &mut progress, &mut last);
        }
        for wait in inspection.waits.values() {
            let id = wait.point.as_str();
            let Some(point) = self.points.iter().find(|point| point.id == id) else { continue };
            let Some(started) = wait.started else { continue };
            let end = at(Some(started), start);
            progress.done.entry(point.id.clone()).or_insert(past(end));
            progress.skipped.remove(&point.id);
            if wait.ended.is_some() {
                let end = at(wait.ended, start);
                progress.done.insert(self.last_act(&point.id), past(end));
            }
        }
        for change in &inspection.site_states {
            let (state, value) = state_and_value(&change.state);
            let Some(known) = self.visit.problem.state(&state) else { continue };
            let now = if change.on { value } else { opposite(known, &value) };
            progress.states.insert(state, now);
        }
        if let Some((_, stop)) = last {
            progress.at = vec![stop];
        }
        self.visit.progress = progress;
    }

    /// One point of the record.
    fn enter(
        &self,
        point: &Point,
        entry: &PointEntry,
        at: Ticks,
        progress: &mut Progress,
        last: &mut Option<(Ticks, String)>,
    ) {
        let ids = BTreeSet::from([point.id.clone(), self.last_act(&point.id)]);
        match &entry.outcome {
            Outcome::Examined => {
                for id in ids {
                    progress.done.insert(id, past(at.min(progress.now)));
                }
                if last.as_ref().is_none_or(|(time, _)| at >= *time) {
                    *last = Some((at, point.stop.clone()));
                }
            }
            Outcome::NotExamined { reason } => {
                for id in ids {
                    progress.skipped.insert(id, reason.clone());
                }
            }
            Outcome::NotFitted => {}
        }
    }
}

/// Whether one point has to come before another by the plan, through others too.
fn leads_to(points: &[&Point], point: &str, earlier: &str) -> bool {
    let mut open = vec![point];
    let mut seen = BTreeSet::new();
    while let Some(id) = open.pop() {
        if !seen.insert(id) {
            continue;
        }
        if let Some(point) = points.iter().find(|point| point.id == id) {
            if point.after.iter().any(|one| one == earlier) {
                return true;
            }
            open.extend(point.after.iter().map(String::as_str));
        }
    }
    false
}

/// What is over; nobody is kept busy by it.
fn past(end: Ticks) -> Span {
    Span { start: end, end, person: usize::MAX }
}

/// The value that a state has when a word for one of its values is not so.
fn opposite(state: &SiteState, value: &str) -> String {
    if state.found != value {
        return state.found.clone();
    }
    let other = state.changes.iter().find(|change| change.to != value);
    other.map_or_else(|| state.found.clone(), |change| change.to.clone())
}

fn state_and_value(word: &str) -> (String, String) {
    match WORDS.iter().find(|known| known.word == word) {
        Some(known) => (known.state.to_owned(), known.value.to_owned()),
        None => (word.to_owned(), "yes".to_owned()),
    }
}

fn needs(words: &[impl AsRef<str>]) -> Vec<Need> {
    let need = |word: &str| {
        let (state, value) = state_and_value(word);
        Need { state, any_of: vec![value] }
    };
    words.iter().map(|word| need(word.as_ref())).collect()
}
