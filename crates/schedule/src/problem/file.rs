//! A problem as JSON: to keep one, to send one to another program, to write one by hand.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{Act, Change, Need, Order, Person, Problem, SiteState, Wait, Why, Window};
use crate::Ticks;

/// Needs as they are written: state to values.
type Needs = BTreeMap<String, Vec<String>>;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ProblemFile {
    name: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    note: String,
    places: Vec<String>,
    walks: Vec<Vec<Ticks>>,
    start: String,
    end: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    people: Vec<PersonFile>,
    #[serde(default)]
    states: Vec<StateFile>,
    acts: Vec<ActFile>,
    #[serde(default)]
    waits: Vec<WaitFile>,
    #[serde(default)]
    orders: Vec<(String, String)>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    safety: Vec<(String, String)>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PersonFile {
    name: String,
    #[serde(default)]
    skills: Vec<String>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StateFile {
    id: String,
    found: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    leave: Option<String>,
    changes: Vec<ChangeFile>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ChangeFile {
    to: String,
    place: String,
    ticks: Ticks,
    #[serde(default, skip_serializing_if = "Needs::is_empty")]
    needs: Needs,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    after: Vec<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    clears: Vec<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    skill: Option<String>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ActFile {
    id: String,
    place: String,
    ticks: Ticks,
    #[serde(default, skip_serializing_if = "Needs::is_empty")]
    needs: Needs,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    stirs: Vec<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    windows: Vec<(Ticks, Ticks)>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    skill: Option<String>,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    together: bool,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WaitFile {
    opens: String,
    closes: String,
    at_least: Ticks,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    at_most: Option<Ticks>,
    #[serde(default, skip_serializing_if = "Needs::is_empty")]
    keeps: Needs,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    quiet: Vec<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    claims: Vec<String>,
}

/// Reads a problem from JSON. Without `people` there is one inspector. What it says is not yet
/// checked: see [`check`](super::check()).
///
/// # Errors
/// A sentence with line and column.
pub fn read_problem(text: &str) -> Result<Problem, String> {
    let file: ProblemFile =
        serde_json::from_str(text).map_err(|error| format!("this is no visit: {error}"))?;
    let orders = |list: Vec<(String, String)>, why: Why| {
        list.into_iter().map(move |(first, then)| Order { first, then, why })
    };
    let people = if file.people.is_empty() {
        vec![Person { name: "inspector".to_owned(), skills: Vec::new() }]
    } else {
        let person = |one: PersonFile| Person { name: one.name, skills: one.skills };
        file.people.into_iter().map(person).collect()
    };
    Ok(Problem {
        name: file.name,
        places: file.places,
        walks: file.walks,
        start: file.start,
        end: file.end,
        people,
        states: file.states.into_iter().map(state).collect(),
        acts: file.acts.into_iter().map(act).collect(),
        waits: file.waits.into_iter().map(wait).collect(),
        orders: orders(file.orders, Why::Sequence)
            .chain(orders(file.safety, Why::Safety))
            .collect(),
    })
}

/// Writes a problem as JSON, so that [`read_problem`] gives an equal one.
#[must_use]
pub fn write_problem(problem: &Problem) -> String {
    let orders = |why: Why| {
        let of_it = problem.orders.iter().filter(|order| order.why == why);
        of_it.map(|order| (order.first.clone(), order.then.clone())).collect()
    };
    let file = ProblemFile {
        name: problem.name.clone(),
        note: String::new(),
        places: problem.places.clone(),
        walks: problem.walks.clone(),
        start: problem.start.clone(),
        end: problem.end.clone(),
        people: problem
            .people
            .iter()
            .map(|person| PersonFile { name: person.name.clone(), skills: person.skills.clone() })
            .collect(),
        states: problem.states.iter().map(state_file).collect(),
        acts: problem.acts.iter().map(act_file).collect(),
        waits: problem.waits.iter().map(wait_file).collect(),
        orders: orders(Why::Sequence),
        safety: orders(Why::Safety),
    };
    serde_json::to_string_pretty(&file).unwrap_or_default()
}

fn needs(written: Needs) -> Vec<Need> {
    written.into_iter().map(|(state, any_of)| Need { state, any_of }).collect()
}

fn needs_file(needs: &[Need]) -> Needs {
    needs.iter().map(|need| (need.state.clone(), need.any_of.clone())).collect()
}

fn state(file: StateFile) -> SiteState {
    let change = |one: ChangeFile| Change {
        to: one.to,
        place: one.place,
        ticks: one.ticks,
        needs: needs(one.needs),
        after: one.after,
        clears: one.clears,
        skill: one.skill,
    };
    SiteState {
        id: file.id,
        found: file.found,
        leave: file.leave,
        changes: file.changes.into_iter().map(change).collect(),
    }
}

fn state_file(state: &SiteState) -> StateFile {
    let change = |one: &Change| ChangeFile {
        to: one.to.clone(),
        place: one.place.clone(),
        ticks: one.ticks,
        needs: needs_file(&one.needs),
        after: one.after.clone(),
        clears: one.clears.clone(),
        skill: one.skill.clone(),
    };
    StateFile {
        id: state.id.clone(),
        found: state.found.clone(),
        leave: state.leave.clone(),
        changes: state.changes.iter().map(change).collect(),
    }
}

fn act(file: ActFile) -> Act {
    Act {
        id: file.id,
        place: file.place,
        ticks: file.ticks,
        needs: needs(file.needs),
        stirs: file.stirs,
        windows: file.windows.into_iter().map(|(from, to)| Window { from, to }).collect(),
        skill: file.skill,
        together: file.together,
    }
}

fn act_file(act: &Act) -> ActFile {
    ActFile {
        id: act.id.clone(),
        place: act.place.clone(),
        ticks: act.ticks,
        needs: needs_file(&act.needs),
        stirs: act.stirs.clone(),
        windows: act.windows.iter().map(|window| (window.from, window.to)).collect(),
        skill: act.skill.clone(),
        together: act.together,
    }
}

fn wait(file: WaitFile) -> Wait {
    Wait {
        opens: file.opens,
        closes: file.closes,
        at_least: file.at_least,
        at_most: file.at_most,
        keeps: needs(file.keeps),
        quiet: file.quiet,
        claims: file.claims,
    }
}

fn wait_file(wait: &Wait) -> WaitFile {
    WaitFile {
        opens: wait.opens.clone(),
        closes: wait.closes.clone(),
        at_least: wait.at_least,
        at_most: wait.at_most,
        keeps: needs_file(&wait.keeps),
        quiet: wait.quiet.clone(),
        claims: wait.claims.clone(),
    }
}
