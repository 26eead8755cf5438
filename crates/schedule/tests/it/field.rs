//! In the field: what is mended, what is kept, and what clashes.

use schedule::{
    Budget, Preference, Problem, Progress, Reason, Requirement, Schedule, Span, Task, Window,
    check, clash, plan, reasons, replan, running_waits, validate, what_now,
};

use crate::visits::visit;

/// The visit after the first steps of a schedule, as they were planned.
fn after(problem: &Problem, planned: &Schedule, steps: usize) -> Progress {
    let mut progress = Progress::default();
    for step in &planned.steps[..steps] {
        match &step.task {
            Task::Act(id) => {
                let span = Span { start: step.start, end: step.end, person: 0 };
                progress.done.insert(id.clone(), span);
            }
            Task::Change { state, to } => {
                progress.states.insert(state.clone(), to.clone());
            }
        }
        progress.now = step.end;
        progress.at = vec![step.place.clone()];
    }
    assert!(problem.act("arrive_photo").is_some());
    progress
}

/// Somebody does first what was planned for later.
fn deviate(planned: &Schedule, done: usize, ahead: usize) -> Vec<Task> {
    let mut rest: Vec<Task> = planned.order().split_off(done);
    let ahead = rest.remove(ahead);
    rest.insert(0, ahead);
    rest
}

#[test]
fn a_deviation_is_mended_to_within_three_percent_of_planning_anew() {
    let problem = visit("hundred_fifty_acts_a");
    let budget = Budget { decodes: 100_000, seed: 1 };
    let planned = plan(&problem, &Progress::default(), Preference::FinishSoonest, budget);
    for (done, ahead) in [(10, 30), (40, 25), (80, 40), (110, 20)] {
        let progress = after(&problem, &planned, done);
        let order = deviate(&planned, done, ahead);
        let small = Budget { decodes: 3_000, seed: 1 };
        let mended = replan(&problem, &progress, &order, Preference::FinishSoonest, small).schedule;
        assert_eq!(validate(&problem, &progress, &mended), [], "{done} {ahead}");
        let anew = plan(&problem, &progress, Preference::FinishSoonest, budget);
        assert!(
            100 * mended.finish <= 103 * anew.finish,
            "{done} {ahead}: {} against {}",
            mended.finish,
            anew.finish
        );
    }
}

#[test]
fn an_order_that_is_still_good_stays_as_it_is() {
    let problem = visit("sixty_acts_a");
    let budget = Budget { decodes: 100_000, seed: 1 };
    let planned = plan(&problem, &Progress::default(), Preference::FinishSoonest, budget);
    let progress = after(&problem, &planned, 20);
    let order = planned.order();
    let mended = replan(
        &problem,
        &progress,
        &order,
        Preference::FinishSoonest,
        Budget { decodes: 1_000, seed: 1 },
    );
    assert!(!mended.reordered);
    assert_eq!(mended.schedule.order(), order[20..]);
    assert_eq!(mended.schedule.finish, planned.finish);
}

#[test]
fn running_waits_have_their_clocks_and_the_next_step_its_reasons() {
    let problem = visit("sixty_acts_a");
    let budget = Budget { decodes: 20_000, seed: 1 };
    let planned = plan(&problem, &Progress::default(), Preference::FinishSoonest, budget);
    let started = planned
        .steps
        .iter()
        .position(|step| step.task == Task::Act("fridge_start".to_owned()))
        .unwrap();
    let progress = after(&problem, &planned, started + 1);
    let running = running_waits(&problem, &progress);
    let fridge = running.iter().find(|one| one.wait.closes == "fridge_temp").unwrap();
    assert_eq!(fridge.earliest, planned.steps[started].end + 90);
    assert_eq!(fridge.latest, None);

    let all = reasons(&problem, &Progress::default(), &planned, started);
    let starts = Reason::StartsWait { closes: "fridge_temp".to_owned(), at_least: 90 };
    assert!(all.contains(&starts), "{all:?}");
    assert_eq!(
        starts.in_words(&|id| id.replace('_', " ")),
        "starts a wait of 45 min until fridge temp"
    );
    let mended = replan(
        &problem,
        &progress,
        &planned.order(),
        Preference::FinishSoonest,
        Budget { decodes: 0, seed: 1 },
    );
    let (index, next) = what_now(&mended.schedule, 0).unwrap();
    assert_eq!(next.task, planned.steps[started + 1].task);
    assert!(!reasons(&problem, &progress, &mended.schedule, index).is_empty());
}

#[test]
fn two_requirements_that_clash_are_found_among_a_hundred() {
    let mut problem = visit("sixty_acts_a");
    for act in &mut problem.acts {
        if act.id == "roof_walk" || act.id == "frame" {
            act.windows = vec![Window { from: 100, to: 112 }];
        }
    }
    // Each alone can be met; nothing shows before trying.
    assert_eq!(check(&problem), []);
    let found = clash(&problem, &Progress::default(), Budget { decodes: 1_500, seed: 1 });
    let mut names: Vec<String> = found
        .iter()
        .map(|one| match one {
            Requirement::Windows(act) => act.clone(),
            other => panic!("{other:?} has nothing to do with it: {found:?}"),
        })
        .collect();
    names.sort();
    assert_eq!(names, ["frame", "roof_walk"]);
}
