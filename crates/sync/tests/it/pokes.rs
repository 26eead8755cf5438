//! What a device does when the server says that there is something new.

use sync::{
    Effect, Event, JobId, LocalState, Replica, RequestId,
    wire::{Head, Heads, Poke, Request, Response},
};

fn poke(job: &str) -> Event {
    Event::Poked { poke: Poke { job: JobId::new(job).unwrap(), head: 1 } }
}

/// The questions after the list of jobs among what is to be done.
fn lists(effects: &[Effect]) -> Vec<RequestId> {
    let asked = effects.iter().filter_map(|effect| match effect {
        Effect::Send { request, message: Request::Heads } => Some(*request),
        _ => None,
    });
    asked.collect()
}

fn answer(request: RequestId, jobs: &[&str]) -> Event {
    let head = |id: &&str| Head { job: JobId::new(id).unwrap(), head: 1, summary: String::new() };
    let jobs = jobs.iter().map(head).collect();
    Event::Answered { request, answer: Ok(Response::Heads(Heads { jobs })) }
}

/// A device that knows that the server has no jobs, at time 0.
fn device() -> Replica {
    let mut replica = Replica::restore(LocalState::default(), 7, 0);
    let first = lists(&replica.handle(0, Event::Tick));
    assert_eq!(first.len(), 1);
    assert_eq!(replica.handle(10, answer(first[0], &[])), []);
    replica
}

#[test]
fn a_poke_of_a_job_that_is_not_known_brings_it_into_the_list_at_once() {
    let mut replica = device();
    let asked = lists(&replica.handle(20, poke("2026-041")));
    assert_eq!(asked.len(), 1, "it waited for its next round");
    let effects = replica.handle(30, answer(asked[0], &["2026-041"]));
    let job = JobId::new("2026-041").unwrap();
    assert_eq!(effects, [Effect::Discovered { job, summary: String::new() }]);
    // Known now, and not on this device: more of it is no news.
    assert_eq!(replica.handle(40, poke("2026-041")), []);
}

#[test]
fn a_poke_while_the_list_is_on_its_way_asks_once_more() {
    let mut replica = device();
    let asked = lists(&replica.handle(20, Event::Online));
    assert_eq!(asked.len(), 1);
    // Three new jobs, one question under way.
    for job in ["2026-041", "2026-042", "2026-043"] {
        assert_eq!(replica.handle(25, poke(job)), []);
    }
    // The answer was made before them.
    let again = lists(&replica.handle(30, answer(asked[0], &[])));
    assert_eq!(again.len(), 1);
    let effects = replica.handle(40, answer(again[0], &["2026-041", "2026-042", "2026-043"]));
    assert_eq!(effects.len(), 3);
    assert_eq!(lists(&effects), []);
}

#[test]
fn what_was_said_before_the_line_of_pokes_was_open_is_asked_for() {
    let mut replica = device();
    assert_eq!(lists(&replica.handle(20, Event::Listening)).len(), 1);
}
