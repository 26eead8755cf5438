//! Schedules of six invented visits: how good after two and after ten seconds of one processor, beside a general
//! constraint solver on the same visits in the same run.

use std::hint::black_box;
use std::path::Path;

use schedule::{
    Budget, Preference, Problem, Progress, Schedule, lower_bound, plan, read_problem, validate,
};
use serde_json::Value as Json;

use super::results::{Goal, Measured, Results};
use super::{Outcome, processor_seconds};

/// A visit, the finish in half minutes that ten seconds should come to, and the lower bound that `lower_bound` proved
/// before, to its end, with up to six million states in twenty seconds; this run proves what it can with fewer.
struct Case {
    ids: [&'static str; 2],
    text: &'static str,
    within_ten_seconds: f64,
    proved_before: i32,
}

const CASES: [Case; 6] = [
    Case {
        ids: ["visit_60_a_2_s", "visit_60_a_10_s"],
        text: include_str!("../../../schedule/tests/visits/sixty_acts_a.json"),
        within_ten_seconds: 322.0,
        proved_before: 318,
    },
    Case {
        ids: ["visit_60_b_2_s", "visit_60_b_10_s"],
        text: include_str!("../../../schedule/tests/visits/sixty_acts_b.json"),
        within_ten_seconds: 319.0,
        proved_before: 315,
    },
    Case {
        ids: ["visit_150_a_2_s", "visit_150_a_10_s"],
        text: include_str!("../../../schedule/tests/visits/hundred_fifty_acts_a.json"),
        within_ten_seconds: 741.0,
        proved_before: 736,
    },
    Case {
        ids: ["visit_150_b_2_s", "visit_150_b_10_s"],
        text: include_str!("../../../schedule/tests/visits/hundred_fifty_acts_b.json"),
        within_ten_seconds: 742.0,
        proved_before: 726,
    },
    Case {
        ids: ["visit_200_2_s", "visit_200_10_s"],
        text: include_str!("../../../schedule/tests/visits/two_hundred_acts.json"),
        within_ten_seconds: 953.0,
        proved_before: 943,
    },
    Case {
        ids: ["visit_220_2_s", "visit_220_10_s"],
        text: include_str!("../../../schedule/tests/visits/two_hundred_twenty_acts.json"),
        within_ten_seconds: 972.0,
        proved_before: 963,
    },
];

/// States that each proof of this run looks at.
const STATES: usize = 400_000;
/// Seconds of a processor.
const SHORT: f64 = 2.0;
const LONG: f64 = 10.0;

/// Measures all six. `peers` is the answer of `visit_peers.py`.
pub(super) fn measure(results: &mut Results, peers: Option<&Path>) -> Outcome {
    let peers = peers.map(read_peers).transpose()?;
    for case in &CASES {
        let problem = read_problem(case.text)?;
        let speed = decodes_a_second(&problem)?;
        let (short, short_seconds) = best_within(&problem, SHORT, speed)?;
        let (long, long_seconds) = best_within(&problem, LONG, speed)?;
        let proof = lower_bound(&problem, &Progress::default(), Some(&long), STATES);
        let bound = proof.finish.max(case.proved_before);
        if bound > long.finish {
            return Err(format!(
                "{}: a schedule of {} below its bound {bound}",
                problem.name, long.finish
            ));
        }
        let gap = 100.0 * (f64::from(short.finish) / f64::from(bound) - 1.0);
        let name = &problem.name;
        results.push(Measured {
            id: case.ids[0],
            what: format!("{name}: above the bound after 2 s"),
            best: gap,
            median: gap,
            unit: "%",
            goal: Some(Goal::Under(4.0)),
            note: format!(
                "finish {} in {short_seconds:.1} s, bound {bound} (this run proves {})",
                short.finish, proof.finish
            ),
        });
        let beside = peers.as_ref().map_or_else(String::new, |peers| beside(peers, name));
        results.push(Measured {
            id: case.ids[1],
            what: format!("{name}: half minutes after 10 s"),
            best: f64::from(long.finish),
            median: f64::from(long.finish),
            unit: "half minutes",
            goal: Some(Goal::Under(case.within_ten_seconds + 0.5)),
            note: format!("in {long_seconds:.1} s of a processor{beside}"),
        });
    }
    if peers.is_none() {
        results.skip("the constraint solver beside the six visits: needs its Python package");
    }
    Ok(())
}

/// How many orders this machine replays in a second. So many that the search goes as it does in the long run: a short
/// one only cools, and its replays are quicker.
fn decodes_a_second(problem: &Problem) -> Outcome<f64> {
    let decodes = 600_000;
    let before = processor_seconds();
    let budget = Budget { decodes, seed: 99 };
    black_box(plan(problem, &Progress::default(), Preference::FinishSoonest, budget));
    let after = processor_seconds();
    let took = before.zip(after).map(|(before, after)| after - before);
    let took = took.ok_or("this system does not tell a thread's time on a processor")?;
    Ok(f64::from(decodes) / took.max(1e-3))
}

/// The schedule of a search that takes about so many seconds of a processor, and what it took.
fn best_within(problem: &Problem, seconds: f64, speed: f64) -> Outcome<(Schedule, f64)> {
    // A little less, for the machine may slow down.
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "some millions; a cast of a float saturates"
    )]
    let decodes = (0.93 * seconds * speed) as u32;
    let before = processor_seconds();
    let budget = Budget { decodes, seed: 1 };
    let found = plan(problem, &Progress::default(), Preference::FinishSoonest, budget);
    let took = before.zip(processor_seconds()).map_or(0.0, |(before, after)| after - before);
    let broken = validate(problem, &Progress::default(), &found);
    match broken.first() {
        Some(broken) => Err(format!("{}: {}", problem.name, broken.sentence)),
        None => Ok((found, took)),
    }
}

fn read_peers(path: &Path) -> Outcome<Json> {
    let said = |error: &dyn std::fmt::Display| format!("{}: {error}", path.display());
    let text = std::fs::read_to_string(path).map_err(|error| said(&error))?;
    serde_json::from_str(&text).map_err(|error| said(&error))
}

/// What the constraint solver came to.
fn beside(peers: &Json, name: &str) -> String {
    let Some(peer) = peers.get(name) else { return String::new() };
    let found = peer["finish"].as_i64();
    let found = found.map_or_else(|| "no schedule".to_owned(), |finish| finish.to_string());
    let (version, seconds) = (peer["version"].as_str().unwrap_or(""), &peer["seconds"]);
    format!("; CP-SAT {version}: {found}, bound {}, in {seconds} s", peer["bound"])
}
